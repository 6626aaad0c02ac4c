//! Whether files were saved since they were looked at last: by their times and lengths, asked now and then.
//!
//! Reads no content, and knows no file's meaning. A file that is still being written counts once it rests.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// When each file was last written, and how long it is.
type Stamps = BTreeMap<PathBuf, (Option<SystemTime>, u64)>;

/// Folders of a data folder that hold files.
const BELOW: [&str; 6] = [
    "scenarios",
    "scenarios/vehicles",
    "scenarios/courses",
    "scenarios/skills",
    "scenarios/words",
    "grading/rubrics",
];

/// Watches files and data folders for changes, when asked.
#[derive(Debug)]
pub struct Changes {
    what: Vec<PathBuf>,
    told: Stamps,
    /// Seen at the last look and not told yet.
    moving: Option<Stamps>,
}

impl Changes {
    /// Watches these files, and all data files of these folders, from now on.
    pub fn of(what: Vec<PathBuf>) -> Changes {
        Changes {
            told: stamps(&what),
            what,
            moving: None,
        }
    }

    /// Whether anything was saved, added or removed since the last time this was true. True once the
    /// files have rested from one look to the next.
    pub fn any(&mut self) -> bool {
        let now = stamps(&self.what);
        if now == self.told {
            self.moving = None;
            return false;
        }
        if self.moving.as_ref() == Some(&now) {
            self.told = now;
            self.moving = None;
            return true;
        }
        self.moving = Some(now);
        false
    }
}

fn stamps(what: &[PathBuf]) -> Stamps {
    let mut found = Stamps::new();
    for path in what {
        if path.is_dir() {
            for below in BELOW {
                let files = std::fs::read_dir(path.join(below)).into_iter().flatten();
                for file in files.flatten().map(|entry| entry.path()) {
                    if file.extension().is_some_and(|e| e == "ron") {
                        stamp(&file, &mut found);
                    }
                }
            }
        } else {
            stamp(path, &mut found);
        }
    }
    found
}

fn stamp(file: &Path, found: &mut Stamps) {
    if let Ok(meta) = std::fs::metadata(file) {
        found.insert(file.to_owned(), (meta.modified().ok(), meta.len()));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A look, and the next one.
    fn after_rest(changes: &mut Changes) -> bool {
        let first = changes.any();
        changes.any() || first
    }

    #[test]
    fn saved_added_and_removed_files_are_told_once_each() {
        let folder = tempfile::tempdir().unwrap();
        let scenarios = folder.path().join("scenarios");
        std::fs::create_dir_all(&scenarios).unwrap();
        let mut changes = Changes::of(vec![folder.path().to_owned()]);
        assert!(!after_rest(&mut changes));
        let file = scenarios.join("a.ron");
        std::fs::write(&file, "1").unwrap();
        assert!(!changes.any(), "it may still be written");
        assert!(changes.any());
        assert!(!after_rest(&mut changes), "told once");
        std::fs::write(&file, "22").unwrap();
        assert!(after_rest(&mut changes));
        std::fs::write(scenarios.join("notes.txt"), "x").unwrap();
        assert!(!after_rest(&mut changes), "no data file");
        std::fs::remove_file(&file).unwrap();
        assert!(after_rest(&mut changes));
    }
}
