//! What any place that keeps attempts must do: a folder here, the browser's storage elsewhere.

use tracebay_core::attempt::{Decoded, Header};

use crate::ShelfError;

/// Largest text that is kept beside an attempt, bytes.
pub const MAX_BESIDE_BYTES: u64 = 512 * 1024;

/// One attempt that can be added to.
pub trait AttemptLog {
    /// Adds text that ends with a newline. On return it is safe against a crash of program and
    /// machine. If it fails nothing of it stays, and it may be tried again.
    fn append(&mut self, text: &str) -> Result<(), ShelfError>;

    /// How a person would name it: a path, or a title.
    fn name(&self) -> String;
}

/// An attempt that was opened to go on with.
pub struct Opened {
    /// Where more is added.
    pub log: Box<dyn AttemptLog + Send + Sync>,
    /// What it says so far; a torn last line is already cut off.
    pub decoded: Decoded,
}

/// An attempt in a list.
#[derive(Clone, Debug, PartialEq)]
pub struct Recent {
    /// Name to open it by.
    pub name: String,
    /// Header.
    pub header: Header,
    /// Actions done.
    pub actions: u32,
    /// Job minutes spent, as the file says.
    pub minutes: f64,
    /// Given back: nothing more can be done.
    pub handed_back: bool,
}

/// A place that keeps attempts.
pub trait Store {
    /// Makes a new attempt with this header.
    fn create(&mut self, header: &Header) -> Result<Box<dyn AttemptLog + Send + Sync>, ShelfError>;

    /// Opens one to go on with.
    fn open(&mut self, name: &str) -> Result<Opened, ShelfError>;

    /// The latest attempts, newest first. Files that are no attempts are passed over.
    fn recent(&self, most: usize) -> Result<Vec<Recent>, ShelfError>;

    /// All of one as it is kept, to give to somebody.
    fn text(&self, name: &str) -> Result<String, ShelfError>;

    /// What is kept beside one: a text of the learner's own that is no part of the attempt. None, if there is
    /// nothing. One that is larger than it may be is not read.
    fn beside(&self, name: &str) -> Result<Option<String>, ShelfError>;

    /// Keeps a text beside one, whole or not at all.
    fn keep_beside(&mut self, name: &str, text: &str) -> Result<(), ShelfError>;

    /// Forgets one, and what is beside it.
    fn remove(&mut self, name: &str) -> Result<(), ShelfError>;
}

impl Recent {
    /// The entry for what was read under a name.
    pub fn of(name: String, decoded: &Decoded) -> Recent {
        let last = decoded.lines.last();
        Recent {
            name,
            header: decoded.header.clone(),
            actions: decoded.lines.len() as u32,
            minutes: last.map_or(0.0, |line| line.minutes),
            handed_back: last.is_some_and(|line| {
                matches!(line.action, tracebay_core::session::Action::HandBack { .. })
            }),
        }
    }
}
