//! A course: lessons in an order, each one idea with the scenarios that practise it.
//!
//! Says what belongs together and why; knows nothing of learners, scores or progress.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::Catalogue;
use crate::source::{Check, Path, Told};

/// The file format this program reads.
pub const FORMAT: u32 = 1;
/// Longest idea in characters: a page.
pub const MAX_IDEA: usize = 4_000;

/// A course, as written in `scenarios/courses/*.ron`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Short name, letters, digits and `-`.
    pub id: String,
    /// Title shown to people.
    pub title: Told,
    /// One line that says whom it is for.
    pub about: Told,
    /// Lessons in their order.
    pub lessons: Vec<Lesson>,
}

/// One idea and what practises it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// Short name, letters, digits and `-`; one in the course.
    pub id: String,
    /// Title shown to people.
    pub title: Told,
    /// The idea on one page, in plain text; an empty line between paragraphs.
    pub idea: Told,
    /// What to try for oneself in each of the scenarios, in a line or two.
    pub task: Told,
    /// Scenario ids, easiest first.
    pub scenarios: Vec<String>,
    /// Seeds to give out, so that a class meets the same cases; any, if empty.
    #[serde(default)]
    pub seeds: Vec<u64>,
}

/// Checks a course read from a text against the scenarios of a catalogue.
pub fn check(course: &Course, catalogue: &Catalogue, check: &mut Check<'_>) {
    let root = Path::root();
    if course.format != FORMAT {
        check.refuse(
            &root.clone().field("format"),
            format!("format {} is not known to this version", course.format),
            format!("this version reads format {FORMAT}"),
        );
    }
    if course.lessons.is_empty() {
        check.refuse(
            &root.clone().field("lessons"),
            "a course without lessons",
            "write at least one lesson",
        );
    }
    let mut ids = BTreeSet::new();
    for (i, lesson) in course.lessons.iter().enumerate() {
        let path = root.clone().field("lessons").index(i);
        if !ids.insert(&lesson.id) {
            check.refuse(
                &path.clone().field("id"),
                format!("`{}` names two lessons", lesson.id),
                "give each its own id",
            );
        }
        let long = lesson.idea.chars().count();
        if long == 0 || long > MAX_IDEA {
            check.refuse(
                &path.clone().field("idea"),
                format!("{long} characters"),
                format!("the idea is one page: 1 to {MAX_IDEA} characters"),
            );
        }
        if lesson.scenarios.is_empty() {
            check.refuse(
                &path.clone().field("scenarios"),
                "a lesson without practice",
                "name at least one scenario",
            );
        }
        for (j, id) in lesson.scenarios.iter().enumerate() {
            check.known(
                &path.clone().field("scenarios").index(j),
                id,
                catalogue.scenarios.keys().map(String::as_str),
                "scenario",
            );
        }
        for (j, seed) in lesson.seeds.iter().enumerate() {
            if *seed > super::MAX_SEED {
                check.refuse(
                    &path.clone().field("seeds").index(j),
                    format!("{seed} is out of range"),
                    format!("give 0 to {}", super::MAX_SEED),
                );
            }
        }
    }
}
