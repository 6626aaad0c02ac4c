//! A course: skills, what shows each, and the level needed. Read from a RON file.

use std::path::Path;

use serde::{Deserialize, Serialize};
use tracebay_core::source::{Check, Path as Field, Problem, parse};
use tracebay_grading::scorecard::Part;
use tracebay_shelf::read_source;

use crate::library::{Library, told};

/// The file format this program reads.
pub const FORMAT: u32 = 1;

/// A course.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// File format version; this program reads [`FORMAT`].
    pub format: u32,
    /// Short name.
    pub id: String,
    /// Raised whenever the same record may show other skills than before.
    pub version: u32,
    /// Title shown to people.
    pub title: String,
    /// Rubric that attempts are scored under: its name or file.
    pub rubric: String,
    /// Skills, in the order they are best learned.
    pub skills: Vec<Skill>,
}

/// A skill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Skill {
    /// Short name.
    pub id: String,
    /// Title shown to people.
    pub title: String,
    /// Number in the local competency list, if there is one.
    #[serde(default)]
    pub code: Option<String>,
    /// Cases that show it.
    pub shown_by: Vec<ShownBy>,
    /// Least share of the points of parts of the card, 0 to 1.
    pub least: Vec<(Part, f64)>,
    /// Different cases that must have shown it.
    pub times: u32,
    /// The live task that goes with it: a bench board, then an observed car.
    pub live: String,
}

/// Cases that show a skill.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShownBy {
    /// Scenario.
    pub scenario: String,
    /// Candidate faults; all of the scenario's, if empty.
    #[serde(default)]
    pub faults: Vec<String>,
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

impl Course {
    /// Opens a course by its name among the data files, or a file.
    ///
    /// # Errors
    /// It cannot be read, or is not sound: with line and column.
    pub fn open(library: &Library, named: &str) -> Result<Course, String> {
        let file = match library.data.file(&format!("scenarios/skills/{named}.ron")) {
            Some(file) => file.clone(),
            None => read_source(Path::new(named)).map_err(|e| {
                let known: Vec<&str> = library
                    .data
                    .skills()
                    .filter_map(|f| f.name.rsplit('/').next()?.strip_suffix(".ron"))
                    .collect();
                format!(
                    "{e}. Name a course ({}) or a course file.",
                    known.join(", ")
                )
            })?,
        };
        let course: Course = parse(&file.name, &file.text).map_err(|p| told(&[p]))?;
        course
            .check(library, &file.name, &file.text)
            .map_err(|p| told(&p))?;
        Ok(course)
    }

    fn check(&self, library: &Library, name: &str, text: &str) -> Result<(), Vec<Problem>> {
        let mut check = Check::new(name, text);
        let root = Field::root;
        if self.format != FORMAT {
            check.refuse(
                &root().field("format"),
                format!("this program reads format {FORMAT} of courses"),
                "a newer program may read this file",
            );
        }
        let scenarios = &library.catalogue.scenarios;
        for (s, skill) in self.skills.iter().enumerate() {
            let at = || root().field("skills").index(s);
            check.number(
                &at().field("times"),
                f64::from(skill.times),
                1.0..=1000.0,
                "cases",
            );
            if self.skills[..s].iter().any(|other| other.id == skill.id) {
                check.refuse(
                    &at().field("id"),
                    format!("the skill `{}` is there twice", skill.id),
                    "",
                );
            }
            for (i, (_, share)) in skill.least.iter().enumerate() {
                check.number(&at().field("least").index(i), *share, 0.0..=1.0, "");
            }
            for (b, by) in skill.shown_by.iter().enumerate() {
                let by_at = || at().field("shown_by").index(b);
                let ids = scenarios.keys().map(String::as_str);
                if !check.known(&by_at().field("scenario"), &by.scenario, ids, "scenario") {
                    continue;
                }
                for (f, fault) in by.faults.iter().enumerate() {
                    let ids = scenarios[&by.scenario]
                        .candidates
                        .iter()
                        .map(|c| c.id.as_str());
                    check.known(
                        &by_at().field("faults").index(f),
                        fault,
                        ids,
                        "candidate fault",
                    );
                }
            }
        }
        check.finish()
    }
}
