//! What lies in a folder of handed-in work: every file, in an order that does not depend on the
//! system, and nothing outside the folder.

use std::fs;
use std::path::{Path, PathBuf};

/// Deepest nesting that is looked into.
const MAX_DEPTH: usize = 64;

/// Something found in the folder.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// Path below the folder, with `/`.
    pub name: String,
    /// Where it is.
    pub path: PathBuf,
    /// What it is.
    pub kind: EntryKind,
}

/// What something found is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EntryKind {
    /// A plain file.
    File {
        /// Size in bytes.
        bytes: u64,
    },
    /// A link; links are not followed, since they may lead outside.
    Link,
    /// A device, pipe or socket.
    NotPlain,
    /// It could not be looked at.
    Unreadable {
        /// What the system said.
        why: String,
    },
    /// Nested deeper than is looked into.
    TooDeep,
}

/// Everything below a folder, by name. `without` is left out: a report inside the folder must not
/// become part of the next.
///
/// # Errors
/// The folder itself cannot be read.
pub fn list(folder: &Path, without: Option<&Path>) -> Result<Vec<Entry>, String> {
    fs::read_dir(folder).map_err(|error| crate::library::file_error(folder, &error))?;
    let without = without.and_then(|path| fs::canonicalize(path).ok());
    let mut found = Vec::new();
    let mut open = vec![(folder.to_owned(), String::new(), 0)];
    while let Some((path, prefix, depth)) = open.pop() {
        if without.is_some() && fs::canonicalize(&path).ok() == without {
            continue;
        }
        let entries = match fs::read_dir(&path) {
            Ok(entries) => entries,
            Err(error) => {
                found.push(Entry {
                    name: prefix.trim_end_matches('/').to_owned(),
                    path,
                    kind: EntryKind::Unreadable {
                        why: error.to_string(),
                    },
                });
                continue;
            }
        };
        for entry in entries {
            let entry = match entry {
                Ok(entry) => entry,
                Err(error) => {
                    found.push(Entry {
                        name: format!("{prefix}?"),
                        path: path.clone(),
                        kind: EntryKind::Unreadable {
                            why: error.to_string(),
                        },
                    });
                    continue;
                }
            };
            let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
            let path = entry.path();
            // Of the entry itself, not of what a link leads to.
            let kind = match fs::symlink_metadata(&path) {
                Err(error) => EntryKind::Unreadable {
                    why: error.to_string(),
                },
                Ok(data) if data.file_type().is_symlink() => EntryKind::Link,
                Ok(data) if data.is_dir() && depth >= MAX_DEPTH => EntryKind::TooDeep,
                Ok(data) if data.is_dir() => {
                    open.push((path, format!("{name}/"), depth + 1));
                    continue;
                }
                Ok(data) if data.is_file() => EntryKind::File { bytes: data.len() },
                Ok(_) => EntryKind::NotPlain,
            };
            found.push(Entry { name, path, kind });
        }
    }
    found.sort();
    Ok(found)
}
