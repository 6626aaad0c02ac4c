//! Attempts as files in a folder.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use tracebay_core::attempt::Header;

use crate::name::{ENDING, file_name};
use crate::store::MAX_BESIDE_BYTES;
use crate::{AttemptFile, AttemptLog, Doing, Opened, Recent, ShelfError, Store};

/// Attempts as files in a folder.
#[derive(Clone, Debug)]
pub struct FolderStore {
    folder: PathBuf,
}

impl FolderStore {
    /// A store in this folder, which is made when the first attempt is.
    pub fn new(folder: impl Into<PathBuf>) -> FolderStore {
        FolderStore {
            folder: folder.into(),
        }
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// A path is taken as it is; a bare name is looked for in the folder too.
    fn path_of(&self, name: &str) -> PathBuf {
        let path = PathBuf::from(name);
        let bare = path.components().count() == 1 && !path.exists();
        if bare { self.folder.join(name) } else { path }
    }

    /// `name.jsonl` has `name.notes.json` beside it, which no list of attempts takes for one.
    fn path_beside(&self, name: &str) -> PathBuf {
        self.path_of(name).with_extension("notes.json")
    }
}

/// A file that is not there is gone as well.
fn remove_if_there(path: &Path) -> Result<(), ShelfError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
            Err(ShelfError::system(Doing::Write, path, &error))
        }
        _ => Ok(()),
    }
}

impl Store for FolderStore {
    fn create(&mut self, header: &Header) -> Result<Box<dyn AttemptLog + Send + Sync>, ShelfError> {
        fs::create_dir_all(&self.folder)
            .map_err(|error| ShelfError::system(Doing::Create, &self.folder, &error))?;
        for number in 1..10_000 {
            let path = self.folder.join(file_name(header, number));
            if path.exists() {
                continue;
            }
            // Of an attempt whose file somebody took away: not this one's.
            remove_if_there(&path.with_extension("notes.json"))?;
            return AttemptFile::create(&path, header)
                .map(|file| Box::new(file) as Box<dyn AttemptLog + Send + Sync>);
        }
        Err(ShelfError::System {
            doing: Doing::Create,
            path: self.folder.join(file_name(header, 1)).display().to_string(),
            detail: String::new(),
        })
    }

    fn open(&mut self, name: &str) -> Result<Opened, ShelfError> {
        let (file, decoded) = AttemptFile::open(&self.path_of(name))?;
        Ok(Opened {
            log: Box::new(file),
            decoded,
        })
    }

    fn recent(&self, most: usize) -> Result<Vec<Recent>, ShelfError> {
        if !self.folder.exists() {
            return Ok(Vec::new());
        }
        let fail = |error: &std::io::Error| ShelfError::system(Doing::List, &self.folder, error);
        let mut found = Vec::new();
        for entry in fs::read_dir(&self.folder).map_err(|error| fail(&error))? {
            let entry = entry.map_err(|error| fail(&error))?;
            let path = entry.path();
            if path.extension().is_some_and(|ending| ending == ENDING) {
                let changed = entry.metadata().and_then(|data| data.modified()).ok();
                found.push((changed, path));
            }
        }
        found.sort();
        let newest = found.into_iter().rev().filter_map(|(_, path)| {
            let decoded = AttemptFile::read(&path).ok()?;
            Some(Recent::of(path.display().to_string(), &decoded))
        });
        Ok(newest.take(most).collect())
    }

    fn text(&self, name: &str) -> Result<String, ShelfError> {
        crate::read_source(&self.path_of(name)).map(|file| file.text)
    }

    fn beside(&self, name: &str) -> Result<Option<String>, ShelfError> {
        let path = self.path_beside(name);
        let fail = |error: &std::io::Error| ShelfError::system(Doing::Read, &path, error);
        let bytes = match fs::metadata(&path) {
            Ok(data) => data.len(),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(fail(&error)),
        };
        if bytes > MAX_BESIDE_BYTES {
            return Err(ShelfError::TooLarge {
                path: path.display().to_string(),
                most_bytes: MAX_BESIDE_BYTES,
            });
        }
        let bytes = fs::read(&path).map_err(|error| fail(&error))?;
        let text = String::from_utf8(bytes).map_err(|_| ShelfError::NotText {
            path: path.display().to_string(),
        })?;
        Ok(Some(text))
    }

    fn keep_beside(&mut self, name: &str, text: &str) -> Result<(), ShelfError> {
        let path = self.path_beside(name);
        let new = path.with_extension("new");
        // Written whole beside it, then put in its place: a full disk leaves what was there.
        let written = fs::File::create(&new).and_then(|mut file| {
            file.write_all(text.as_bytes())?;
            file.sync_all()?;
            fs::rename(&new, &path)
        });
        written.map_err(|error| {
            let _ = fs::remove_file(&new);
            ShelfError::system(Doing::Write, &path, &error)
        })
    }

    fn remove(&mut self, name: &str) -> Result<(), ShelfError> {
        remove_if_there(&self.path_beside(name))?;
        let path = self.path_of(name);
        fs::remove_file(&path).map_err(|error| ShelfError::system(Doing::Write, &path, &error))
    }
}
