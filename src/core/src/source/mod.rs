//! Reading the files people write, with errors that people can act on.
//!
//! [`parse`] turns RON text into a value. What it refuses comes back as a
//! [`Problem`]: the file, the line and column, the field's path, what is wrong
//! and what would be accepted. [`Check`] does the same for the checks that can
//! only be made once the text has become a value, and uses a [`Locator`] to say
//! where in the text the value stood.
//!
//! This module must not know what the files describe (no vehicles, no
//! scenarios) and opens no files: it is given names and text.

mod build;
mod check;
mod explain;
mod lexer;
mod lines;
mod locate;
mod nearest;
mod parse;
mod path;
mod refuse;
mod scene;
#[cfg(test)]
mod tests;
mod told;
mod tree;
mod words;

use std::fmt;

pub use check::Check;
pub use locate::Locator;
pub use nearest::nearest;
pub use parse::{decode, parse};
pub use path::{Path, Step};
pub use told::Told;

/// The largest text that [`parse`] takes, in bytes. The largest files the
/// project ships are some tens of kilobytes; a megabyte leaves room and still
/// keeps the work on a hostile file small.
pub const MAX_BYTES: usize = 1 << 20;

/// The deepest nesting of brackets that [`parse`] takes. Real files need about
/// ten; the limit keeps the parser's recursion far from the end of the stack.
pub const MAX_DEPTH: usize = 64;

/// One thing wrong in a file, told so that its author can put it right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The file's name as it was given.
    pub file: String,
    /// The line, counted from 1.
    pub line: u32,
    /// The column in characters, counted from 1.
    pub column: u32,
    /// The path of the field, as [`Path`] shows it; empty for the whole file.
    pub field: String,
    /// What is wrong.
    pub message: String,
    /// What would be accepted, or what to do; may be empty.
    pub help: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}: ", self.file, self.line, self.column)?;
        if !self.field.is_empty() {
            write!(f, "{}: ", self.field)?;
        }
        f.write_str(&self.message)?;
        if !self.help.is_empty() {
            write!(f, "\n  help: {}", self.help)?;
        }
        Ok(())
    }
}

impl std::error::Error for Problem {}

/// A problem before its byte offset has been turned into a line and column.
#[derive(Clone, Debug)]
struct Finding {
    at: usize,
    path: Path,
    message: String,
    help: String,
}

impl Finding {
    fn new(at: usize, path: Path, message: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            at,
            path,
            message: message.into(),
            help: help.into(),
        }
    }

    fn into_problem(self, file: &str, (line, column): (u32, u32)) -> Problem {
        Problem {
            file: file.to_owned(),
            line,
            column,
            field: self.path.to_string(),
            message: self.message,
            help: self.help,
        }
    }
}
