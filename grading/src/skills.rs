//! A course of skills, as written in `scenarios/skills/*.ron`: what shows each, and the level needed.
//!
//! The file's types only; reading, checking and using it is the instructor's command.

use serde::{Deserialize, Serialize};
use tracebay_core::scenario::Tells;
use tracebay_core::source::Told;

use crate::scorecard::Part;

/// The file format this program reads.
pub const FORMAT: u32 = 1;

/// A course.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Short name.
    pub id: String,
    /// Raised whenever the same record may show other skills than before.
    pub version: u32,
    /// Title shown to people.
    pub title: Told,
    /// Rubric that attempts are scored under: its name or file.
    pub rubric: String,
    /// Skills, in the order they are best learned.
    pub skills: Vec<Skill>,
}

/// A skill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Skill {
    /// Short name.
    pub id: String,
    /// Title shown to people.
    pub title: Told,
    /// Number in the local competency list, if there is one.
    #[serde(default)]
    pub code: Option<String>,
    /// Cases that show it.
    pub shown_by: Vec<ShownBy>,
    /// Least share of the points of parts of the card, 0 to 1.
    pub least: Vec<(Part, f64)>,
    /// Different cases that must have shown it.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1000)))]
    pub times: u32,
    /// The live task that goes with it: a bench board, then an observed car.
    pub live: Told,
}

/// Cases that show a skill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ShownBy {
    /// Scenario.
    pub scenario: String,
    /// Candidate faults; all of the scenario's, if empty.
    #[serde(default)]
    pub faults: Vec<String>,
}

impl Tells for Course {
    fn told_mut(&mut self) -> Vec<&mut Told> {
        let mut all = vec![&mut self.title];
        for skill in &mut self.skills {
            all.extend([&mut skill.title, &mut skill.live]);
        }
        all
    }
}

impl Skill {
    /// A case of this scenario and fault can show it.
    pub fn covers(&self, scenario: &str, fault: &str) -> bool {
        self.shown_by.iter().any(|by| {
            by.scenario == scenario
                && (by.faults.is_empty() || by.faults.iter().any(|f| f == fault))
        })
    }
}
