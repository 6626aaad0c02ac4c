//! An assignment: which cases which learners get, and the rules they work under.
//!
//! One file holds all of it, the rubric's text too, so that it names no other file and no path in
//! it can lead anywhere. Text in, text out: nothing here opens a file, asks for the time or knows
//! what an attempt scored.

mod load;
mod progress;
mod seeds;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use tracebay_core::attempt::content_sha256;
use tracebay_core::scenario::{Case, Catalogue, DrawError, Scenario};
use tracebay_core::session::{Action, Refusal};
use tracebay_core::source::Problem;
use tracebay_core::tools::ToolKind;

use crate::rubric::Rubric;
use crate::safety::Rules;

pub use load::AssignmentError;
pub use progress::{KeptAttempt, Next, Progress};
pub use seeds::{NEIGHBOURS, Sequence, derived_seed};

/// The file format this program writes and reads.
pub const FORMAT: u32 = 1;

/// Largest accepted assignment file in bytes: ten thousand learners fit well.
pub const MAX_BYTES: usize = 16 * 1024 * 1024;

/// Most attempts an assignment may allow at each case.
pub const MAX_ATTEMPTS: u32 = 20;

/// An assignment as it stands in its file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Assignment {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// What every learner works under.
    pub terms: Terms,
    /// Who gets which seeds. A learner's own file holds their row only.
    pub learners: Vec<Learner>,
}

/// What every learner works under.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Terms {
    /// Short name: letters, digits, `-`, `_` and `.`.
    pub id: String,
    /// Title shown to people.
    pub title: String,
    /// When work may begin, `YYYY-MM-DDTHH:MM:SSZ`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opens: Option<String>,
    /// When work is due, `YYYY-MM-DDTHH:MM:SSZ`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<String>,
    /// Attempts allowed at each task; each has a seed of its own.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 20)))]
    pub attempts: u32,
    /// Which of a learner's attempts counts.
    pub counts: Counts,
    /// Hints may be asked for.
    pub hints: bool,
    /// The cases.
    pub tasks: Vec<Task>,
    /// The rubric, as text in the rubric's own format.
    pub rubric: String,
}

/// Which of several attempts at a task counts.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Counts {
    /// The one with most points.
    #[default]
    Best,
    /// The first.
    First,
    /// The last.
    Last,
}

/// One case that everybody gets, each with seeds of their own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Task {
    /// Scenario id.
    pub scenario: String,
    /// Version of the scenario when it was assigned.
    pub version: u32,
    /// Hash of scenario and vehicle under the rules of this task, as attempts carry it.
    pub sha256: String,
    /// Tools in the roll: those of the scenario, or fewer.
    pub tools: Vec<ToolKind>,
    /// Job minutes a customer would accept here.
    pub budget_minutes: f64,
}

/// A learner and the seeds they get.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Learner {
    /// Id of the roster.
    pub id: String,
    /// Name of the roster.
    pub name: String,
    /// For each task, in order, a seed for each attempt allowed.
    pub seeds: Vec<Vec<u64>>,
}

/// A case out of an assignment that a learner may work on.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Slot {
    /// Index of the learner.
    pub learner: usize,
    /// Index of the task.
    pub task: usize,
    /// Index of the attempt.
    pub attempt: usize,
}

/// Why a task cannot be worked on with the scenarios at hand.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TaskError {
    /// The scenario cannot be drawn.
    #[error(transparent)]
    Draw(#[from] DrawError),
    /// The scenario is there in another version.
    #[error(
        "the assignment was made with version {assigned} of `{scenario}`, here is version {here}: \
         use the program and the data folder that the assignment was made with"
    )]
    OtherVersion {
        /// Scenario.
        scenario: String,
        /// Version when it was assigned.
        assigned: u32,
        /// Version at hand.
        here: u32,
    },
    /// Same version, other content.
    #[error(
        "`{scenario}` or its vehicle was changed since it was assigned: use the program and the \
         data folder that the assignment was made with"
    )]
    OtherContent {
        /// Scenario.
        scenario: String,
    },
}

impl Terms {
    /// What the header of an attempt under this assignment says in `rules`: the id and a digest of
    /// the terms, so that work under altered terms is found.
    pub fn rules(&self) -> String {
        // Derived types with text keys only: serialisation to a string cannot fail.
        let json = serde_json::to_string(self).unwrap_or_default();
        let digest = Sha256::digest(json.as_bytes());
        let hex: String = digest[..8].iter().map(|b| format!("{b:02x}")).collect();
        format!("{}#{hex}", self.id)
    }

    /// The rubric.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn rubric(&self, rules: &Rules) -> Result<Rubric, Vec<Problem>> {
        let file = tracebay_core::scenario::SourceFile {
            name: format!("rubric of {}", self.id),
            text: self.rubric.clone(),
        };
        Rubric::load(&file, rules)
    }

    /// Why the rules forbid an action that the car itself would allow. The tools need no rule:
    /// those that are not allowed are not in the case's roll.
    pub fn forbids(&self, action: &Action) -> Option<Refusal> {
        match action {
            Action::Hint(_) if !self.hints => Some(Refusal::Forbidden {
                rule: "hints".to_owned(),
            }),
            _ => None,
        }
    }
}

/// The assignment's id in what a header's `rules` says; none where it is no assignment's.
pub fn assignment_of(rules: &str) -> Option<&str> {
    rules.split_once('#').map(|(id, _)| id)
}

impl Task {
    /// The scenario as this task has it: with its tools and its budget.
    fn narrowed(&self, scenario: &Scenario) -> Scenario {
        Scenario {
            tools: self.tools.clone(),
            budget_minutes: self.budget_minutes,
            ..scenario.clone()
        }
    }

    /// A task of a scenario: with fewer tools, or another budget, where these are given.
    ///
    /// # Errors
    /// No such scenario.
    pub fn of(
        catalogue: &Catalogue,
        scenario: &str,
        tools: Option<&[ToolKind]>,
        budget_minutes: Option<f64>,
    ) -> Result<Task, DrawError> {
        let case = catalogue.draw(scenario, 1)?;
        let own = &case.scenario;
        let mut task = Task {
            scenario: own.id.clone(),
            version: own.version,
            sha256: String::new(),
            tools: own.tools.clone(),
            budget_minutes: budget_minutes.unwrap_or(own.budget_minutes),
        };
        if let Some(tools) = tools {
            task.tools.retain(|tool| tools.contains(tool));
        }
        task.sha256 = content_sha256(&task.narrowed(own), &case.vehicle);
        Ok(task)
    }

    /// Draws the case of a seed as this task has it.
    ///
    /// # Errors
    /// The scenario is not at hand, or not as it was when it was assigned.
    pub fn case(&self, catalogue: &Catalogue, seed: u64) -> Result<Case, TaskError> {
        let mut case = catalogue.draw(&self.scenario, seed)?;
        if case.scenario.version != self.version {
            return Err(TaskError::OtherVersion {
                scenario: self.scenario.clone(),
                assigned: self.version,
                here: case.scenario.version,
            });
        }
        case.scenario = Arc::new(self.narrowed(&case.scenario));
        Ok(case)
    }

    /// Whether scenario and vehicle are as they were when the task was assigned.
    ///
    /// # Errors
    /// They are not.
    pub fn check(&self, catalogue: &Catalogue) -> Result<(), TaskError> {
        let case = self.case(catalogue, 1)?;
        if content_sha256(&case.scenario, &case.vehicle) == self.sha256 {
            Ok(())
        } else {
            Err(TaskError::OtherContent {
                scenario: self.scenario.clone(),
            })
        }
    }
}

impl Assignment {
    /// The learner of an id.
    pub fn learner(&self, id: &str) -> Option<(usize, &Learner)> {
        self.learners.iter().enumerate().find(|(_, l)| l.id == id)
    }

    /// The file for one learner: the same terms, their row only.
    #[must_use]
    pub fn only(&self, learner: usize) -> Assignment {
        Assignment {
            format: self.format,
            terms: self.terms.clone(),
            learners: self.learners.get(learner).cloned().into_iter().collect(),
        }
    }

    /// Whose seed of which task a seed is.
    pub fn slots(&self) -> BTreeMap<(usize, u64), Vec<Slot>> {
        let mut slots: BTreeMap<(usize, u64), Vec<Slot>> = BTreeMap::new();
        for (learner, row) in self.learners.iter().enumerate() {
            for (task, seeds) in row.seeds.iter().enumerate() {
                for (attempt, seed) in seeds.iter().enumerate() {
                    slots.entry((task, *seed)).or_default().push(Slot {
                        learner,
                        task,
                        attempt,
                    });
                }
            }
        }
        slots
    }
}
