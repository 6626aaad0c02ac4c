//! Attempts as files in a folder.

use std::fs;
use std::path::{Path, PathBuf};

use tracebay_core::attempt::Header;

use crate::name::{ENDING, file_name};
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

    fn remove(&mut self, name: &str) -> Result<(), ShelfError> {
        let path = self.path_of(name);
        fs::remove_file(&path).map_err(|error| ShelfError::system(Doing::Write, &path, &error))
    }
}
