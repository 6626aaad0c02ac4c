//! The attempt file: a session as JSON Lines, a header and then one line an action.
//!
//! Text in, text out: nothing here opens a file, asks for the time or knows what a score is. A
//! file is believed only as far as its actions go. Each line carries a hash over everything
//! before it and over what the action showed, so that an edit, a swapped line or a replay that
//! drifts is found at its line.

mod chain;
mod decode;
mod error;
mod format;
mod record;
mod replay;

pub use chain::{Chain, content_sha256};
pub use decode::{Decoded, TornLine, decode};
pub use error::{AttemptError, Damage};
pub use format::{
    ENGINE_REVISION, FORMAT, HOME_RULES, Header, Line, MAX_BYTES, MAX_LINE_BYTES, MAX_LINES,
    encode_header, encode_line,
};
pub use record::Recorder;
pub use replay::{HeaderCheck, ReplayError, ReplayErrorKind, check_header, replay};

#[cfg(test)]
mod tests;
