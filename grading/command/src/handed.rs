//! Handed-in files read: attempts, and rows for everything else.

use std::fs::File;
use std::io::Read;

use serde::Serialize;
use sha2::{Digest, Sha256};
use tracebay_core::attempt::{AttemptError, Header, Line, MAX_BYTES, decode};
use tracebay_core::session::Action;
use tracebay_words::Words;

use crate::flags::Flag;
use crate::folder::{Entry, EntryKind};

/// A file that is no attempt, or could not be read as one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FileRow {
    /// File, below the folder.
    pub file: String,
    /// What it is, or what is wrong with it.
    pub what: String,
}

/// An attempt as it was handed in.
#[derive(Clone, Debug)]
pub struct Handed {
    /// File, below the folder.
    pub file: String,
    /// SHA-256 of the file, hex.
    pub sha256: String,
    /// Header.
    pub header: Header,
    /// Lines.
    pub lines: Vec<Line>,
    /// What was found while reading.
    pub flags: Vec<Flag>,
}

/// What a file turned out to be.
pub enum Found {
    /// An attempt, perhaps a damaged one.
    Attempt(Box<Handed>),
    /// Anything else.
    Row(FileRow),
}

/// Reads what was found. Never more than an attempt may be large.
pub fn read(words: &Words, entry: &Entry) -> Found {
    let plain = |key: &str| words.text(key);
    let cannot = |why: &str| words.get("report-file-unreadable", &[("why", why.into())]);
    let row = |what: String| {
        Found::Row(FileRow {
            file: entry.name.clone(),
            what,
        })
    };
    match &entry.kind {
        EntryKind::Link => row(plain("report-file-link")),
        EntryKind::NotPlain => row(plain("report-file-not-plain")),
        EntryKind::TooDeep => row(plain("report-file-too-deep")),
        EntryKind::Unreadable { why } => row(cannot(why)),
        EntryKind::File { bytes } if *bytes > MAX_BYTES as u64 => row(words.get(
            "report-file-too-large",
            &[
                ("bytes", bytes.to_string().into()),
                ("most", MAX_BYTES.to_string().into()),
            ],
        )),
        EntryKind::File { .. } => match bytes_of(entry) {
            Ok(bytes) => from_bytes(words, &entry.name, &bytes).map_or_else(row, Found::Attempt),
            Err(error) => row(cannot(&error.to_string())),
        },
    }
}

/// What is wrong with a file, without its full stop: it stands within a sentence.
fn told(words: &Words, error: &AttemptError) -> String {
    words.attempt_error(error).trim_end_matches('.').to_owned()
}

fn bytes_of(entry: &Entry) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    // It may have grown since it was listed.
    File::open(&entry.path)?
        .take(MAX_BYTES as u64)
        .read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Reads the bytes of a file as an attempt.
///
/// # Errors
/// Why it is none, for the list of files.
pub fn from_bytes(words: &Words, name: &str, bytes: &[u8]) -> Result<Box<Handed>, String> {
    let sha256 = hex(&Sha256::digest(bytes));
    let handed = |header: Header, lines: Vec<Line>, flags: Vec<Flag>| {
        Box::new(Handed {
            file: name.to_owned(),
            sha256: sha256.clone(),
            header,
            lines,
            flags,
        })
    };
    match decode(bytes) {
        Ok(decoded) => {
            let torn = decoded.torn.map(|_| Flag::Torn).into_iter().collect();
            Ok(handed(decoded.header, decoded.lines, torn))
        }
        Err(AttemptError::NoHeader { .. } | AttemptError::Empty) => {
            Err(words.text("report-file-no-attempt"))
        }
        Err(error @ AttemptError::Format { .. }) => {
            let why = told(words, &error);
            Err(words.get("report-file-other-format", &[("why", why.into())]))
        }
        // The header says whose it is: a damaged attempt belongs on the learner's page.
        Err(error) => {
            let first = bytes.split(|b| *b == b'\n').next().unwrap_or_default();
            let header = decode(first).map_err(|_| told(words, &error))?.header;
            let why = told(words, &error);
            Ok(handed(header, Vec::new(), vec![Flag::Damaged { why }]))
        }
    }
}

/// Bytes as hex digits.
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// Fewest actions that make a coincidence incredible.
const MIN_SAME: usize = 12;

impl Handed {
    /// A digest of what was done, leaving out what anybody may put between without doing anything
    /// else; none where so little was done that two people may well have done the same.
    pub fn doing(&self) -> Option<String> {
        let mut hasher = Sha256::new();
        let mut count = 0;
        for line in &self.lines {
            match &line.action {
                Action::Wait(_) | Action::Note(_) => continue,
                // Its texts are easily changed.
                Action::HandBack { .. } => hasher.update(b"hand back"),
                action => {
                    // Derived types with text keys only: serialisation cannot fail.
                    hasher.update(serde_json::to_vec(action).unwrap_or_default());
                }
            }
            hasher.update(b"\n");
            count += 1;
        }
        hasher.update(self.header.scenario.as_bytes());
        (count >= MIN_SAME).then(|| hex(&hasher.finalize()))
    }

    /// The car was given back.
    pub fn given_back(&self) -> bool {
        self.lines
            .last()
            .is_some_and(|line| matches!(line.action, Action::HandBack { .. }))
    }
}
