//! What stands in an attempt file.

use serde::{Deserialize, Serialize};

use crate::session::Action;

/// The attempt format this program writes and reads.
pub const FORMAT: u32 = 1;

/// Raised only when a reading may differ from what an earlier program showed for the same case
/// and actions. Attempts kept as fixtures guard it.
pub const ENGINE_REVISION: u32 = 6;

/// The rules of someone who practises at home, under no assignment.
pub const HOME_RULES: &str = "home";

/// Longest accepted line in bytes. The longest honest line is a hand-back with three full texts.
pub const MAX_LINE_BYTES: usize = 64 * 1024;

/// Most accepted actions. A working day of one action a second stays below it.
pub const MAX_LINES: usize = 50_000;

/// Largest accepted file in bytes.
pub const MAX_BYTES: usize = 64 * 1024 * 1024;

/// First line of an attempt: which case it is, under which rules, by whom.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Header {
    /// Attempt format; this program reads [`FORMAT`].
    pub format: u32,
    /// Scenario id.
    pub scenario: String,
    /// The scenario's version when the attempt was started.
    pub scenario_version: u32,
    /// Hash of scenario and vehicle, see [`super::content_sha256`].
    pub scenario_sha256: String,
    /// Seed.
    pub seed: u64,
    /// Rules it was done under: [`HOME_RULES`] or an assignment's.
    pub rules: String,
    /// [`ENGINE_REVISION`] of the program that started it.
    pub engine_revision: u32,
    /// When it was started (RFC 3339), if the face knows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub started: Option<String>,
    /// Who did it, if they said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub learner: Option<String>,
}

/// One action of an attempt.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// 1 for the first action, and so on without gaps.
    pub n: u32,
    /// What was done.
    pub action: Action,
    /// Wall-clock milliseconds since the start, if the face knows. For the instructor only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<u64>,
    /// Job minutes spent after it. For people who read the file; a replay computes its own.
    pub minutes: f64,
    /// 32 hex digits over everything so far, see [`super::Chain`].
    pub chain: String,
}

/// The header as a line of text with its newline.
pub fn encode_header(header: &Header) -> String {
    json_line(header)
}

/// An action as a line of text with its newline.
pub fn encode_line(line: &Line) -> String {
    json_line(line)
}

/// JSON without spaces, fields in the order of the types: the same value gives the same bytes.
pub(super) fn json<T: Serialize + ?Sized>(value: &T) -> String {
    // Derived types with text keys only: serialisation to a string cannot fail.
    serde_json::to_string(value).unwrap_or_default()
}

fn json_line<T: Serialize>(value: &T) -> String {
    let mut text = json(value);
    text.push('\n');
    text
}
