//! Why something could not be read or kept.

use tracebay_core::attempt::AttemptError;

/// What was being done with a file or folder when it failed.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Doing {
    /// Reading a file.
    Read,
    /// Listing a folder.
    List,
    /// Making a folder or a new file.
    Create,
    /// Adding to a file.
    Write,
}

/// Why something could not be read or kept. Faces show the message [`ShelfError::key`] with
/// [`ShelfError::args`]; the English here is for programmers and logs.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ShelfError {
    /// The system refused.
    #[error("{doing:?} {path}: {detail}")]
    System {
        /// What was being done.
        doing: Doing,
        /// File or folder.
        path: String,
        /// What the system said.
        detail: String,
    },
    /// No such file.
    #[error("{path}: no such file")]
    NotFound {
        /// File.
        path: String,
    },
    /// No folder for saving can be told on this system.
    #[error("no home folder")]
    NoHome,
    /// The file is larger than any honest one.
    #[error("{path}: larger than {most_bytes} bytes")]
    TooLarge {
        /// File.
        path: String,
        /// Largest accepted size in bytes.
        most_bytes: u64,
    },
    /// The file is no text.
    #[error("{path}: not UTF-8 text")]
    NotText {
        /// File.
        path: String,
    },
    /// Another running program holds the attempt open.
    #[error("{path}: open in another program")]
    InUse {
        /// File.
        path: String,
    },
    /// Somebody else added to the attempt since it was opened here.
    #[error("{path}: added to elsewhere")]
    Elsewhere {
        /// Name.
        path: String,
    },
    /// Not an attempt, or a damaged one.
    #[error("{path}: {error}")]
    Attempt {
        /// File.
        path: String,
        /// What is wrong with it.
        error: AttemptError,
    },
}

impl ShelfError {
    /// Key of the message in the words files.
    pub fn key(&self) -> &'static str {
        match self {
            ShelfError::System { doing, .. } => match doing {
                Doing::Read => "shelf-cannot-read",
                Doing::List => "shelf-cannot-list",
                Doing::Create => "shelf-cannot-create",
                Doing::Write => "shelf-cannot-write",
            },
            ShelfError::NotFound { .. } => "shelf-not-found",
            ShelfError::NoHome => "shelf-no-home",
            ShelfError::TooLarge { .. } => "shelf-too-large",
            ShelfError::NotText { .. } => "shelf-not-text",
            ShelfError::InUse { .. } => "shelf-in-use",
            ShelfError::Elsewhere { .. } => "shelf-elsewhere",
            ShelfError::Attempt { .. } => "shelf-attempt",
        }
    }

    /// Arguments of the message. For [`ShelfError::Attempt`] the face adds `why` from the
    /// attempt error.
    pub fn args(&self) -> Vec<(&'static str, String)> {
        match self {
            ShelfError::System { path, detail, .. } => {
                vec![("path", path.clone()), ("detail", detail.clone())]
            }
            ShelfError::NotFound { path }
            | ShelfError::NotText { path }
            | ShelfError::InUse { path }
            | ShelfError::Elsewhere { path }
            | ShelfError::Attempt { path, .. } => vec![("path", path.clone())],
            ShelfError::TooLarge { path, most_bytes } => {
                vec![("path", path.clone()), ("most", most_bytes.to_string())]
            }
            ShelfError::NoHome => Vec::new(),
        }
    }

    /// A system error on a path.
    #[cfg(not(target_arch = "wasm32"))]
    pub(crate) fn system(doing: Doing, path: &std::path::Path, error: &std::io::Error) -> Self {
        let path = path.display().to_string();
        if error.kind() == std::io::ErrorKind::NotFound && doing == Doing::Read {
            return ShelfError::NotFound { path };
        }
        ShelfError::System {
            doing,
            path,
            detail: plain_detail(error),
        }
    }
}

/// The system's words without the error number, which tells a person nothing.
#[cfg(not(target_arch = "wasm32"))]
fn plain_detail(error: &std::io::Error) -> String {
    let told = error.to_string();
    match told.split_once(" (os error") {
        Some((words, _)) => words.to_owned(),
        None => told,
    }
}
