//! Why an attempt file cannot be used.

/// Why an attempt file cannot be used. The faces have their own words for these; the English
/// here is for programmers and logs.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AttemptError {
    /// Nothing in it.
    #[error("the attempt file is empty")]
    Empty,
    /// The file is larger than any honest attempt.
    #[error("the attempt file is larger than {most_bytes} bytes")]
    TooLarge {
        /// Largest accepted size in bytes.
        most_bytes: usize,
    },
    /// A line is longer than any honest one.
    #[error("line {line} is longer than {most_bytes} bytes")]
    LineTooLong {
        /// Line in the file, from 1.
        line: usize,
        /// Largest accepted length in bytes.
        most_bytes: usize,
    },
    /// More actions than any honest attempt.
    #[error("more than {most} actions")]
    TooManyLines {
        /// Largest accepted number of actions.
        most: usize,
    },
    /// The first line is no header; a crash before anything was recorded leaves this too.
    #[error("line 1 is not an attempt header: {detail}")]
    NoHeader {
        /// What the parser said.
        detail: String,
    },
    /// Written in a format this program does not read.
    #[error("attempt format {found}, this program reads {reads}")]
    Format {
        /// Format of the file.
        found: u32,
        /// Format that is read.
        reads: u32,
    },
    /// A line is damaged.
    #[error("line {line}: {damage}")]
    Damaged {
        /// Line in the file, from 1.
        line: usize,
        /// What is wrong with it.
        damage: Damage,
    },
    /// The attempt belongs to another scenario than the one at hand.
    #[error("attempt of scenario {file}, not {here}")]
    OtherScenario {
        /// Scenario named in the file.
        file: String,
        /// Scenario at hand.
        here: String,
    },
    /// The attempt belongs to another version of the scenario.
    #[error("attempt of {scenario} version {file}, here is version {here}")]
    OtherVersion {
        /// Scenario.
        scenario: String,
        /// Version named in the file.
        file: u32,
        /// Version at hand.
        here: u32,
    },
    /// Readings may differ: another revision of the engine.
    #[error("attempt of engine revision {file}, this program has {here}")]
    OtherEngine {
        /// Revision named in the file.
        file: u32,
        /// Revision of this program.
        here: u32,
    },
    /// The attempt names another seed than the case at hand.
    #[error("attempt of seed {file}, here is seed {here}")]
    OtherSeed {
        /// Seed named in the file.
        file: u64,
        /// Seed at hand.
        here: u64,
    },
}

/// What is wrong with a line.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Damage {
    /// Bytes that are no text.
    #[error("not UTF-8 text")]
    NotText,
    /// Not an action.
    #[error("not an action: {detail}")]
    NotAnAction {
        /// What the parser said, with the column.
        detail: String,
    },
    /// A line is missing, doubled or swapped.
    #[error("action number {found} where {expected} was due")]
    OutOfOrder {
        /// Number in the line.
        found: u32,
        /// Number due.
        expected: u32,
    },
}
