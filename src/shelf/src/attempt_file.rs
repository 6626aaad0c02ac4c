//! One attempt on disk.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use tracebay_core::attempt::{Decoded, Header, MAX_BYTES, decode, encode_header};

use crate::{AttemptLog, Doing, ShelfError};

/// One attempt on disk, open for adding. Locked while open, so that two programs cannot mix
/// their lines.
#[derive(Debug)]
pub struct AttemptFile {
    path: PathBuf,
    file: File,
    /// Length up to which every byte is a whole, kept line.
    good_bytes: u64,
}

impl AttemptFile {
    /// Makes a new file, never overwriting one, and writes the header.
    pub fn create(path: &Path, header: &Header) -> Result<AttemptFile, ShelfError> {
        let fail = |error: &std::io::Error| ShelfError::system(Doing::Create, path, error);
        let file = OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(path)
            .map_err(|error| fail(&error))?;
        let mut made = AttemptFile {
            path: path.to_owned(),
            file,
            good_bytes: 0,
        };
        made.lock()?;
        made.append(&encode_header(header))?;
        sync_folder(path).map_err(|error| fail(&error))?;
        Ok(made)
    }

    /// Opens an attempt to go on with. A torn last line is cut off the file.
    pub fn open(path: &Path) -> Result<(AttemptFile, Decoded), ShelfError> {
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .open(path)
            .map_err(|error| ShelfError::system(open_failure(&error), path, &error))?;
        try_lock(&file, path)?;
        let bytes = read_limited(&mut file, path, MAX_BYTES as u64)?;
        let decoded = decoded(path, &bytes)?;
        let mut opened = AttemptFile {
            path: path.to_owned(),
            file,
            good_bytes: decoded.good_bytes as u64,
        };
        if decoded.torn.is_some() {
            opened.cut()?;
        }
        if decoded.needs_newline {
            opened.append("\n")?;
        }
        Ok((opened, decoded))
    }

    /// Reads an attempt without opening it for adding.
    pub fn read(path: &Path) -> Result<Decoded, ShelfError> {
        decoded(path, &read_at_most(path, MAX_BYTES as u64)?)
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    fn lock(&self) -> Result<(), ShelfError> {
        try_lock(&self.file, &self.path)
    }

    fn cut(&mut self) -> Result<(), ShelfError> {
        self.file
            .set_len(self.good_bytes)
            .and_then(|()| self.file.sync_data())
            .map_err(|error| ShelfError::system(Doing::Write, &self.path, &error))
    }

    fn write(&mut self, text: &str) -> std::io::Result<()> {
        self.file.seek(SeekFrom::Start(self.good_bytes))?;
        self.file.write_all(text.as_bytes())?;
        self.file.sync_data()
    }
}

impl AttemptLog for AttemptFile {
    fn append(&mut self, text: &str) -> Result<(), ShelfError> {
        match self.write(text) {
            Ok(()) => {
                self.good_bytes += text.len() as u64;
                Ok(())
            }
            Err(error) => {
                // A disk that is full may have taken half a line. If even cutting fails, the
                // half line is read as torn later.
                let _ = self.cut();
                Err(ShelfError::system(Doing::Write, &self.path, &error))
            }
        }
    }

    fn name(&self) -> String {
        self.path.display().to_string()
    }
}

fn open_failure(error: &std::io::Error) -> Doing {
    match error.kind() {
        std::io::ErrorKind::NotFound => Doing::Read,
        _ => Doing::Write,
    }
}

fn try_lock(file: &File, path: &Path) -> Result<(), ShelfError> {
    match file.try_lock() {
        Ok(()) => Ok(()),
        Err(TryLockError::WouldBlock) => Err(ShelfError::InUse {
            path: path.display().to_string(),
        }),
        // Some network file systems know no locks; a lock is a courtesy, saving is not.
        Err(TryLockError::Error(_)) => Ok(()),
    }
}

fn decoded(path: &Path, bytes: &[u8]) -> Result<Decoded, ShelfError> {
    decode(bytes).map_err(|error| ShelfError::Attempt {
        path: path.display().to_string(),
        error,
    })
}

pub(crate) fn read_at_most(path: &Path, most_bytes: u64) -> Result<Vec<u8>, ShelfError> {
    let mut file =
        File::open(path).map_err(|error| ShelfError::system(Doing::Read, path, &error))?;
    read_limited(&mut file, path, most_bytes)
}

fn read_limited(file: &mut File, path: &Path, most_bytes: u64) -> Result<Vec<u8>, ShelfError> {
    let mut bytes = Vec::new();
    // One byte more than allowed tells that there is more; a device file never ends.
    file.take(most_bytes + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| ShelfError::system(Doing::Read, path, &error))?;
    if bytes.len() as u64 > most_bytes {
        return Err(ShelfError::TooLarge {
            path: path.display().to_string(),
            most_bytes,
        });
    }
    Ok(bytes)
}

/// A new file's name is safe only once its folder is on disk.
fn sync_folder(path: &Path) -> std::io::Result<()> {
    #[cfg(unix)]
    if let Some(folder) = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty())
    {
        return File::open(folder)?.sync_all();
    }
    Ok(())
}
