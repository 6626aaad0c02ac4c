//! Reading an attempt file from bytes that may have been cut, edited or never were an attempt.

use serde_json::error::Category;

use super::format::{FORMAT, Header, Line, MAX_BYTES, MAX_LINE_BYTES, MAX_LINES};
use super::{AttemptError, Damage};

/// What an attempt file says.
#[derive(Clone, Debug, PartialEq)]
pub struct Decoded {
    /// Header.
    pub header: Header,
    /// Actions in order.
    pub lines: Vec<Line>,
    /// The last line, if a crash cut it off. It was dropped: its observation was never shown.
    pub torn: Option<TornLine>,
    /// How many bytes from the start hold what was accepted. Before more is appended, the file
    /// is to be cut to this length.
    pub good_bytes: usize,
    /// The accepted part lacks its last newline.
    pub needs_newline: bool,
}

/// A last line that was not written to its end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TornLine {
    /// Line in the file, from 1.
    pub line: usize,
    /// Bytes dropped.
    pub bytes: usize,
}

/// One line of the file without its newline, and where it ends.
struct Raw<'a> {
    number: usize,
    bytes: &'a [u8],
    start: usize,
    end: usize,
    newline: bool,
}

/// Why a line was not taken.
enum Bad {
    /// Cut off or not JSON at all: forgiven in the last line.
    Torn(String),
    /// Complete JSON that says something else: never forgiven.
    Wrong(String),
    NotText,
}

/// Reads an attempt. Never panics, whatever the bytes.
///
/// Only the last line may be incomplete; it is dropped and reported in [`Decoded::torn`]. Damage
/// anywhere else is an error that names the line.
pub fn decode(file: impl AsRef<[u8]>) -> Result<Decoded, AttemptError> {
    let file = file.as_ref();
    if file.len() > MAX_BYTES {
        return Err(AttemptError::TooLarge {
            most_bytes: MAX_BYTES,
        });
    }
    let mut raws = split(file).peekable();
    let Some(first) = raws.next() else {
        return Err(AttemptError::Empty);
    };
    let header = read_header(&first)?;
    let mut decoded = Decoded {
        header,
        lines: Vec::new(),
        torn: None,
        good_bytes: first.end,
        needs_newline: !first.newline,
    };
    while let Some(raw) = raws.next() {
        let last = raws.peek().is_none();
        let line: Line = match parse(&raw) {
            Ok(line) => line,
            Err(Bad::Torn(_) | Bad::NotText) if last => {
                decoded.torn = Some(TornLine {
                    line: raw.number,
                    bytes: file.len() - raw.start,
                });
                break;
            }
            Err(bad) => return Err(damaged(&raw, bad)),
        };
        if raw.bytes.len() > MAX_LINE_BYTES {
            return Err(AttemptError::LineTooLong {
                line: raw.number,
                most_bytes: MAX_LINE_BYTES,
            });
        }
        if decoded.lines.len() == MAX_LINES {
            return Err(AttemptError::TooManyLines { most: MAX_LINES });
        }
        let expected = decoded.lines.len() as u32 + 1;
        if line.n != expected {
            return Err(AttemptError::Damaged {
                line: raw.number,
                damage: Damage::OutOfOrder {
                    found: line.n,
                    expected,
                },
            });
        }
        decoded.lines.push(line);
        decoded.good_bytes = raw.end;
        decoded.needs_newline = !raw.newline;
    }
    Ok(decoded)
}

fn read_header(raw: &Raw) -> Result<Header, AttemptError> {
    // The format is looked at first: another format may well have other fields.
    #[derive(serde::Deserialize)]
    struct Mark {
        format: u32,
    }
    if raw.bytes.len() > MAX_LINE_BYTES {
        return Err(AttemptError::LineTooLong {
            line: raw.number,
            most_bytes: MAX_LINE_BYTES,
        });
    }
    let no_header = |bad| AttemptError::NoHeader {
        detail: detail(bad),
    };
    let mark: Mark = parse(raw).map_err(no_header)?;
    if mark.format != FORMAT {
        return Err(AttemptError::Format {
            found: mark.format,
            reads: FORMAT,
        });
    }
    parse(raw).map_err(no_header)
}

/// Lines with something in them. Blank ones are passed over but counted.
fn split(file: &[u8]) -> impl Iterator<Item = Raw<'_>> {
    let mut start = 0;
    file.split_inclusive(|byte| *byte == b'\n')
        .enumerate()
        .filter_map(move |(index, bytes)| {
            let from = start;
            start += bytes.len();
            let newline = bytes.last() == Some(&b'\n');
            // Zero bytes at the end are what some file systems leave after a power cut.
            if !newline && bytes.iter().all(|byte| *byte == 0) {
                return Some(Raw {
                    number: index + 1,
                    bytes,
                    start: from,
                    end: start,
                    newline,
                });
            }
            let text = bytes.trim_ascii();
            (!text.is_empty()).then_some(Raw {
                number: index + 1,
                bytes: text,
                start: from,
                end: start,
                newline,
            })
        })
}

fn parse<T: serde::de::DeserializeOwned>(raw: &Raw) -> Result<T, Bad> {
    let text = std::str::from_utf8(raw.bytes).map_err(|_| Bad::NotText)?;
    serde_json::from_str(text).map_err(|error| {
        let told = at_column(&error);
        match error.classify() {
            Category::Data => Bad::Wrong(told),
            Category::Syntax | Category::Eof | Category::Io => Bad::Torn(told),
        }
    })
}

/// The parser counts lines within the one line it was given, which would mislead.
fn at_column(error: &serde_json::Error) -> String {
    let told = error.to_string();
    let plain = told.split(" at line ").next().unwrap_or(&told);
    format!("{plain} (column {})", error.column())
}

fn detail(bad: Bad) -> String {
    match bad {
        Bad::Torn(detail) | Bad::Wrong(detail) => detail,
        Bad::NotText => Damage::NotText.to_string(),
    }
}

fn damaged(raw: &Raw, bad: Bad) -> AttemptError {
    let damage = match bad {
        Bad::NotText => Damage::NotText,
        other => Damage::NotAnAction {
            detail: detail(other),
        },
    };
    AttemptError::Damaged {
        line: raw.number,
        damage,
    }
}
