//! Scenario, vehicle, course, translation and rubric files: those built in, and a folder laid over them.

use std::collections::BTreeMap;

use include_dir::{Dir, include_dir};
use tracebay_core::scenario::{Catalogue, SourceFile};
use tracebay_core::source::Problem;

static SCENARIOS: Dir = include_dir!("$CARGO_MANIFEST_DIR/../../scenarios");
static RUBRICS: Dir = include_dir!("$CARGO_MANIFEST_DIR/../../grading/rubrics");

/// Largest file that is read at all, in bytes. Reading RON has its own, smaller limit with a
/// better message; this one keeps a device file or a film from filling the memory.
pub const MAX_FILE_BYTES: u64 = 16 * 1024 * 1024;

/// All data files, by their path below the data folder (`scenarios/vehicles/….ron`,
/// `grading/rubrics/….ron`).
#[derive(Clone, Debug, Default)]
pub struct Data {
    files: BTreeMap<String, SourceFile>,
}

impl Data {
    /// What the program was built with.
    pub fn built_in() -> Data {
        let mut files = BTreeMap::new();
        collect(&SCENARIOS, "scenarios", &mut files);
        collect(&RUBRICS, "grading/rubrics", &mut files);
        Data { files }
    }

    /// What the program was built with, and over it the files of a folder laid out the same way:
    /// a file of the same path replaces the built-in one, others are added.
    #[cfg(not(target_arch = "wasm32"))]
    pub fn with_folder(folder: Option<&std::path::Path>) -> Result<Data, crate::ShelfError> {
        let mut data = Data::built_in();
        if let Some(folder) = folder {
            disk::overlay(folder, &mut data.files)?;
        }
        Ok(data)
    }

    /// Vehicle files.
    pub fn vehicles(&self) -> impl Iterator<Item = &SourceFile> {
        self.directly_in("scenarios/vehicles/")
    }

    /// Scenario files.
    pub fn scenarios(&self) -> impl Iterator<Item = &SourceFile> {
        self.directly_in("scenarios/")
    }

    /// Course files.
    pub fn courses(&self) -> impl Iterator<Item = &SourceFile> {
        self.directly_in("scenarios/courses/")
    }

    /// Files of skills, as a shop signs them off.
    pub fn skills(&self) -> impl Iterator<Item = &SourceFile> {
        self.directly_in("scenarios/skills/")
    }

    /// Rubric files.
    pub fn rubrics(&self) -> impl Iterator<Item = &SourceFile> {
        self.directly_in("grading/rubrics/")
    }

    /// Paths of all files below the data folder.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// One file by its path below the data folder.
    pub fn file(&self, path: &str) -> Option<&SourceFile> {
        self.files.get(path)
    }

    /// Reads and checks all vehicles, scenarios and courses. What is wrong is left out and told.
    pub fn catalogue(&self) -> (Catalogue, Vec<Problem>) {
        let vehicles: Vec<_> = self.vehicles().cloned().collect();
        let scenarios: Vec<_> = self.scenarios().cloned().collect();
        let (mut catalogue, mut problems) = Catalogue::load(&vehicles, &scenarios);
        let courses: Vec<_> = self.courses().cloned().collect();
        problems.extend(catalogue.load_courses(&courses));
        (catalogue, problems)
    }

    /// Vehicles, scenarios and courses that share their id with another file of their kind.
    pub fn same_ids(&self) -> Vec<Problem> {
        use tracebay_core::scenario::{Course, Scenario, load::same_ids};
        use tracebay_core::vehicle::Vehicle;
        let vehicles: Vec<_> = self.vehicles().cloned().collect();
        let scenarios: Vec<_> = self.scenarios().cloned().collect();
        let courses: Vec<_> = self.courses().cloned().collect();
        let mut problems = same_ids(&vehicles, |it: &Vehicle| it.id.as_str());
        problems.extend(same_ids(&scenarios, |it: &Scenario| it.id.as_str()));
        problems.extend(same_ids(&courses, |it: &Course| it.id.as_str()));
        problems
    }

    /// Whether the program was built with this one of its files: such a file has its path below the
    /// data folder for a name, one that was laid over them the name it has on disk.
    pub(crate) fn is_built_in(&self, file: &SourceFile) -> bool {
        self.files.contains_key(&file.name)
    }

    /// Whether anything was laid over what the program was built with.
    pub(crate) fn is_laid_over(&self) -> bool {
        self.files.values().any(|file| !self.is_built_in(file))
    }

    pub(crate) fn directly_in<'a>(
        &'a self,
        folder: &'a str,
    ) -> impl Iterator<Item = &'a SourceFile> {
        self.files
            .iter()
            .filter(move |(path, _)| {
                path.strip_prefix(folder)
                    .is_some_and(|name| !name.contains('/') && name.ends_with(".ron"))
            })
            .map(|(_, file)| file)
    }
}

fn collect(dir: &'static Dir, prefix: &str, files: &mut BTreeMap<String, SourceFile>) {
    for file in dir.files() {
        // The path is made with `/` on every system, so that keys agree.
        let below: Vec<_> = file.path().iter().map(|s| s.to_string_lossy()).collect();
        let path = format!("{prefix}/{}", below.join("/"));
        if let (true, Some(text)) = (path.ends_with(".ron"), file.contents_utf8()) {
            let file = SourceFile {
                name: path.clone(),
                text: text.to_owned(),
            };
            files.insert(path, file);
        }
    }
    for dir in dir.dirs() {
        collect(dir, prefix, files);
    }
}

/// Reads any file by its path.
///
/// # Errors
/// The file cannot be read, is far too large or no text.
#[cfg(not(target_arch = "wasm32"))]
pub fn read_source(path: &std::path::Path) -> Result<SourceFile, crate::ShelfError> {
    disk::read(path)
}

#[cfg(not(target_arch = "wasm32"))]
mod disk {
    //! The folder laid over the built-in files.

    use std::fs;
    use std::path::Path;

    use super::*;
    use crate::{Doing, ShelfError};

    pub(super) fn overlay(
        folder: &Path,
        files: &mut BTreeMap<String, SourceFile>,
    ) -> Result<(), ShelfError> {
        // A wrong `--data` must not silently mean "built-in only".
        fs::read_dir(folder).map_err(|error| ShelfError::system(Doing::List, folder, &error))?;
        for below in [
            "scenarios",
            "scenarios/vehicles",
            "scenarios/courses",
            "scenarios/skills",
            "scenarios/words",
            "grading/rubrics",
        ] {
            let path = folder.join(below);
            if !path.is_dir() {
                continue;
            }
            let entries = fs::read_dir(&path)
                .map_err(|error| ShelfError::system(Doing::List, &path, &error))?;
            for entry in entries {
                let entry =
                    entry.map_err(|error| ShelfError::system(Doing::List, &path, &error))?;
                let name = entry.file_name().to_string_lossy().into_owned();
                let file = entry.path();
                if name.ends_with(".ron") && file.is_file() {
                    files.insert(format!("{below}/{name}"), read(&file)?);
                }
            }
        }
        Ok(())
    }

    /// Reads any file by its path, as `check` does.
    pub(super) fn read(path: &Path) -> Result<SourceFile, ShelfError> {
        Ok(SourceFile {
            name: path.display().to_string(),
            text: read_text(path)?,
        })
    }

    fn read_text(path: &Path) -> Result<String, ShelfError> {
        let bytes = crate::attempt_file::read_at_most(path, MAX_FILE_BYTES)?;
        String::from_utf8(bytes).map_err(|_| ShelfError::NotText {
            path: path.display().to_string(),
        })
    }
}
