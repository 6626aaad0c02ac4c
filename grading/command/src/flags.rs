//! What can be said against an attempt, and how grave it is.

use serde::Serialize;

/// How grave a flag is.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Gravity {
    /// Only told.
    Note,
    /// The score counts until the instructor decides otherwise.
    Look,
    /// No score is given.
    Void,
}

/// Something that can be said against an attempt.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Flag {
    /// Lines are damaged, missing, doubled or swapped.
    Damaged {
        /// Where and what.
        why: String,
    },
    /// What was recorded does not follow from what was done: something was edited.
    Edited {
        /// Line of the file, from 1.
        line: usize,
    },
    /// The car does not allow a recorded action at that point.
    DoesNotReplay {
        /// Where and what.
        why: String,
    },
    /// Another engine or another version of the scenario.
    OtherVersion {
        /// Which.
        why: String,
    },
    /// Work for another assignment.
    OtherAssignment {
        /// The header's rules.
        rules: String,
    },
    /// Same assignment, but the learner's file was changed.
    OtherTerms,
    /// No learner of this id is in the assignment.
    UnknownLearner {
        /// Id in the header, if any.
        id: Option<String>,
    },
    /// The scenario is no task of the assignment.
    NoTask {
        /// Scenario.
        scenario: String,
    },
    /// A seed that is not the learner's.
    WrongSeed {
        /// Whose it is, if anyone's.
        whose: Option<String>,
    },
    /// The same case was worked on twice; only the first counts.
    Again {
        /// File of the first.
        first: String,
    },
    /// The very same file was handed in twice; it counts once.
    SameFile {
        /// File of the first.
        first: String,
    },
    /// The same actions in the same order were handed in twice.
    SameActions {
        /// The other files.
        others: Vec<String>,
    },
    /// The case had been given back, and its fault shown, in earlier work.
    SeenBefore {
        /// File of the earlier work.
        file: String,
    },
    /// Times that cannot be.
    ImpossibleTimes {
        /// Why not.
        why: String,
    },
    /// No times.
    NoTimes,
    /// Finished after it was due.
    Late {
        /// How late, in milliseconds.
        by_ms: i64,
    },
    /// Something the rules do not allow.
    AgainstRules {
        /// Number of the action, from 1.
        n: usize,
        /// What.
        what: String,
    },
    /// The car was not given back.
    NotGivenBack,
    /// The last line was cut off; it was left out.
    Torn,
    /// Scenario or vehicle differ from those it was recorded on, though the readings agree.
    ContentChanged,
    /// It could not be judged.
    NotJudged {
        /// Why.
        why: String,
    },
}

impl Flag {
    /// How grave it is.
    pub fn gravity(&self) -> Gravity {
        match self {
            Flag::Damaged { .. }
            | Flag::Edited { .. }
            | Flag::DoesNotReplay { .. }
            | Flag::OtherVersion { .. }
            | Flag::OtherAssignment { .. }
            | Flag::OtherTerms
            | Flag::UnknownLearner { .. }
            | Flag::NoTask { .. }
            | Flag::WrongSeed { .. }
            | Flag::Again { .. }
            | Flag::SameFile { .. }
            | Flag::NotJudged { .. } => Gravity::Void,
            Flag::SameActions { .. }
            | Flag::SeenBefore { .. }
            | Flag::ImpossibleTimes { .. }
            | Flag::NoTimes
            | Flag::Late { .. }
            | Flag::AgainstRules { .. } => Gravity::Look,
            Flag::NotGivenBack | Flag::Torn | Flag::ContentChanged => Gravity::Note,
        }
    }

    /// A short name, for tables and counting.
    pub fn name(&self) -> &'static str {
        match self {
            Flag::Damaged { .. } => "damaged",
            Flag::Edited { .. } => "edited",
            Flag::DoesNotReplay { .. } => "does not replay",
            Flag::OtherVersion { .. } => "other version",
            Flag::OtherAssignment { .. } => "other assignment",
            Flag::OtherTerms => "changed rules",
            Flag::UnknownLearner { .. } => "unknown learner",
            Flag::NoTask { .. } => "not a task",
            Flag::WrongSeed { .. } => "wrong seed",
            Flag::Again { .. } => "same case again",
            Flag::SameFile { .. } => "same file",
            Flag::SameActions { .. } => "same actions",
            Flag::SeenBefore { .. } => "seen before",
            Flag::ImpossibleTimes { .. } => "impossible times",
            Flag::NoTimes => "no times",
            Flag::Late { .. } => "late",
            Flag::AgainstRules { .. } => "against the rules",
            Flag::NotGivenBack => "not given back",
            Flag::Torn => "last line cut off",
            Flag::ContentChanged => "files changed",
            Flag::NotJudged { .. } => "not judged",
        }
    }

    /// The whole sentence.
    pub fn sentence(&self) -> String {
        match self {
            Flag::Damaged { why } => {
                format!("The file is damaged or was edited: {why}. No score is given.")
            }
            Flag::Edited { line } => format!(
                "Line {line} or something before it was edited: what is recorded does not follow \
                 from what was done. No score is given."
            ),
            Flag::DoesNotReplay { why } => format!(
                "It does not replay: {why}. Actions were edited, swapped or left out, or it is \
                 another car. No score is given."
            ),
            Flag::OtherVersion { why } => format!("{why}. No score is given."),
            Flag::OtherAssignment { rules } => {
                format!("It was done under other rules (“{rules}”). No score is given.")
            }
            Flag::OtherTerms => "It was done under this assignment's name with other rules: the \
                 assignment file was changed. No score is given."
                .to_owned(),
            Flag::UnknownLearner { id: Some(id) } => {
                format!("There is no learner “{id}” in the assignment. No score is given.")
            }
            Flag::UnknownLearner { id: None } => {
                "It does not say whose it is. No score is given.".to_owned()
            }
            Flag::NoTask { scenario } => {
                format!("“{scenario}” is no task of this assignment. No score is given.")
            }
            Flag::WrongSeed { whose: Some(whose) } => {
                format!("The case is the one of {whose}, not this learner's. No score is given.")
            }
            Flag::WrongSeed { whose: None } => {
                "The case is not the one this learner was given. No score is given.".to_owned()
            }
            Flag::Again { first } => format!(
                "The same case was worked on before ({first}); only the first attempt at a case \
                 counts."
            ),
            Flag::SameFile { first } => {
                format!("The very same file as {first}; it counts once.")
            }
            Flag::SameActions { others } => format!(
                "The same actions in the same order as in {}. Look at both.",
                others.join(", ")
            ),
            Flag::SeenBefore { file } => {
                format!("This very case had been given back before, and its fault shown ({file}).")
            }
            Flag::ImpossibleTimes { why } => format!("Its times cannot be: {why}."),
            Flag::NoTimes => "It has no times, or not for every action.".to_owned(),
            Flag::Late { by_ms } => format!(
                "Finished {} after it was due.",
                crate::times::plain_duration(*by_ms)
            ),
            Flag::AgainstRules { n, what } => {
                format!("Action {n} is against the rules of the assignment: {what}.")
            }
            Flag::NotGivenBack => "The car was not given back.".to_owned(),
            Flag::Torn => "The last line was cut off and left out.".to_owned(),
            Flag::ContentChanged => "Scenario or vehicle file differ from those it was recorded \
                 on; all readings agree."
                .to_owned(),
            Flag::NotJudged { why } => format!("It could not be judged: {why}."),
        }
    }
}
