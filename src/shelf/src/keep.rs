//! Worked-out things kept between runs: bytes by name, in the user's cache folder. Losing them
//! costs time and nothing else, so that every trouble here is passed over.
//!
//! Knows nothing of what the bytes are. Kept apart for each build of the program: what another one
//! worked out is never taken.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

use etcetera::BaseStrategy;
use sha2::{Digest, Sha256};

/// Environment variable that names the folder; empty keeps nothing.
pub const KEEP_VARIABLE: &str = "TRACEBAY_CACHE";

/// Files kept at most; the oldest go first.
const MOST_FILES: usize = 500;
/// Builds whose things are kept.
const MOST_BUILDS: usize = 4;
/// Largest file that is read back.
const MOST_BYTES: u64 = 64 * 1024 * 1024;
/// Hexadecimal digits of the check in front of the bytes.
const CHECK: usize = 64;

/// A place to keep worked-out things.
#[derive(Clone, Debug, Default)]
pub struct Keep {
    folder: Option<PathBuf>,
}

impl Keep {
    /// The user's, as the variable or the system says (XDG Base Directory on Linux).
    pub fn of_user() -> Keep {
        let base = match std::env::var_os(KEEP_VARIABLE) {
            Some(folder) if folder.is_empty() => None,
            Some(folder) => Some(PathBuf::from(folder)),
            None => etcetera::choose_base_strategy()
                .ok()
                .map(|base| base.cache_dir().join("tracebay")),
        };
        let folder = base.zip(this_build()).map(|(base, build)| base.join(build));
        Keep { folder }
    }

    /// In a folder.
    pub fn in_folder(folder: &Path) -> Keep {
        Keep {
            folder: Some(folder.to_owned()),
        }
    }

    fn path(&self, name: &str) -> Option<PathBuf> {
        let plain = !name.is_empty() && name.chars().all(|c| c.is_ascii_alphanumeric());
        self.folder
            .as_ref()
            .filter(|_| plain)
            .map(|folder| folder.join(name))
    }

    /// What is kept under a name; nothing if it is damaged.
    pub fn get(&self, name: &str) -> Option<Vec<u8>> {
        let path = self.path(name)?;
        let size = fs::metadata(&path).ok()?.len();
        if size > MOST_BYTES {
            return None;
        }
        let mut bytes = fs::read(path).ok()?;
        if bytes.len() < CHECK {
            return None;
        }
        let kept = bytes.split_off(CHECK);
        (bytes == check(&kept).into_bytes()).then_some(kept)
    }

    /// Keeps bytes under a name.
    pub fn put(&self, name: &str, bytes: &[u8]) {
        let (Some(path), Some(folder)) = (self.path(name), &self.folder) else {
            return;
        };
        let first = !folder.exists();
        if fs::create_dir_all(folder).is_err() {
            return;
        }
        if first {
            forget_builds(folder);
        }
        // Written beside it and then moved, so that nobody reads half of it.
        let beside = folder.join(format!("{name}-{}", std::process::id()));
        let whole = [check(bytes).as_bytes(), bytes].concat();
        let kept = fs::write(&beside, whole).and_then(|()| fs::rename(&beside, path));
        if kept.is_err() {
            let _ = fs::remove_file(beside);
        }
        self.tidy(folder);
    }

    fn tidy(&self, folder: &Path) {
        let Ok(entries) = fs::read_dir(folder) else {
            return;
        };
        let mut files: Vec<(SystemTime, PathBuf)> = entries
            .flatten()
            .map(|entry| {
                let made = entry.metadata().and_then(|meta| meta.modified());
                (made.unwrap_or(UNIX_EPOCH), entry.path())
            })
            .collect();
        if files.len() > MOST_FILES {
            files.sort();
            for (_, path) in &files[..files.len() - MOST_FILES] {
                let _ = fs::remove_file(path);
            }
        }
    }
}

/// Removes what builds before the last few kept.
fn forget_builds(folder: &Path) {
    let Some(entries) = folder.parent().and_then(|base| fs::read_dir(base).ok()) else {
        return;
    };
    let of_a_build = |path: &Path| {
        let name = path.file_name().and_then(|name| name.to_str());
        let hex = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_hexdigit());
        path.is_dir()
            && name
                .and_then(|name| name.split_once('-'))
                .is_some_and(|(size, made)| hex(size) && hex(made))
    };
    let mut builds: Vec<(SystemTime, PathBuf)> = entries
        .flatten()
        .filter(|entry| of_a_build(&entry.path()))
        .map(|entry| {
            let made = entry.metadata().and_then(|meta| meta.modified());
            (made.unwrap_or(UNIX_EPOCH), entry.path())
        })
        .collect();
    builds.sort();
    let old = builds.len().saturating_sub(MOST_BUILDS);
    for (_, path) in &builds[..old] {
        let _ = fs::remove_dir_all(path);
    }
}

fn check(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Size and time of the program's file: another build has others.
fn this_build() -> Option<String> {
    let meta = fs::metadata(std::env::current_exe().ok()?).ok()?;
    let made = meta.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    Some(format!("{:x}-{:x}", meta.len(), made.as_nanos()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_comes_back_and_what_is_damaged_does_not() {
        let folder = tempfile::tempdir().unwrap();
        let keep = Keep::in_folder(folder.path());
        assert_eq!(keep.get("abc"), None);
        keep.put("abc", b"some bytes");
        assert_eq!(keep.get("abc").as_deref(), Some(&b"some bytes"[..]));
        let path = folder.path().join("abc");
        let mut bytes = fs::read(&path).unwrap();
        *bytes.last_mut().unwrap() ^= 1;
        fs::write(&path, bytes).unwrap();
        assert_eq!(keep.get("abc"), None);
        fs::write(&path, "short").unwrap();
        assert_eq!(keep.get("abc"), None);
    }

    #[test]
    fn no_name_leads_out_of_the_folder_and_no_folder_keeps_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let keep = Keep::in_folder(&folder.path().join("in"));
        for name in ["", "../abc", "a/b", "a b", "."] {
            keep.put(name, b"x");
            assert_eq!(keep.get(name), None, "{name}");
        }
        assert!(!folder.path().join("abc").exists());
        Keep::default().put("abc", b"x");
        assert_eq!(Keep::default().get("abc"), None);
    }

    #[test]
    fn the_oldest_go_first() {
        let folder = tempfile::tempdir().unwrap();
        let keep = Keep::in_folder(folder.path());
        for n in 0..MOST_FILES + 20 {
            fs::write(folder.path().join(format!("old{n}")), "x").unwrap();
        }
        keep.put("new", b"x");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), MOST_FILES);
        assert!(keep.get("new").is_some());
    }
}
