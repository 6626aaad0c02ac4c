//! What can be said against an attempt, and how grave it is.

use serde::Serialize;
use tracebay_words::Words;

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

    /// A short name, for counting and for what machines read: the same in every language.
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

    /// The short name in the words' language.
    pub fn told_name(&self, words: &Words) -> String {
        let name = self.name().replace(' ', "-");
        words.text(&format!("report-flag-{name}"))
    }

    /// The whole sentence.
    pub fn sentence(&self, words: &Words) -> String {
        let one = |key: &str, name: &str, text: &str| words.get(key, &[(name, text.into())]);
        let plain = |key: &str| words.text(key);
        match self {
            Flag::Damaged { why } => one("report-said-damaged", "why", why),
            Flag::Edited { line } => one("report-said-edited", "line", &line.to_string()),
            Flag::DoesNotReplay { why } => one("report-said-does-not-replay", "why", why),
            Flag::OtherVersion { why } => one("report-said-other-version", "why", why),
            Flag::OtherAssignment { rules } => one("report-said-other-assignment", "rules", rules),
            Flag::OtherTerms => plain("report-said-changed-rules"),
            Flag::UnknownLearner { id: Some(id) } => one("report-said-unknown-learner", "id", id),
            Flag::UnknownLearner { id: None } => plain("report-said-nobodys"),
            Flag::NoTask { scenario } => one("report-said-not-a-task", "scenario", scenario),
            Flag::WrongSeed { whose: Some(whose) } => {
                one("report-said-wrong-seed-of", "whose", whose)
            }
            Flag::WrongSeed { whose: None } => plain("report-said-wrong-seed"),
            Flag::Again { first } => one("report-said-same-case-again", "file", first),
            Flag::SameFile { first } => one("report-said-same-file", "file", first),
            Flag::SameActions { others } => {
                one("report-said-same-actions", "files", &others.join(", "))
            }
            Flag::SeenBefore { file } => one("report-said-seen-before", "file", file),
            Flag::ImpossibleTimes { why } => one("report-said-impossible-times", "why", why),
            Flag::NoTimes => plain("report-said-no-times"),
            Flag::Late { by_ms } => {
                let time = crate::times::plain_duration(*by_ms);
                one("report-said-late", "time", &time)
            }
            Flag::AgainstRules { n, what } => words.get(
                "report-said-against-the-rules",
                &[("n", n.to_string().into()), ("what", what.as_str().into())],
            ),
            Flag::NotGivenBack => plain("report-said-not-given-back"),
            Flag::Torn => plain("report-said-last-line-cut-off"),
            Flag::ContentChanged => plain("report-said-files-changed"),
            Flag::NotJudged { why } => one("report-said-not-judged", "why", why),
        }
    }
}
