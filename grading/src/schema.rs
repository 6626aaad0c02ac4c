//! JSON Schemas (draft 2020-12) of the files people write, made from the very types that read them.
//!
//! Fields, types, defaults and meanings are the types' own; ranges are written beside the fields and a test
//! holds them to what the checks refuse. Nothing here reads a file.

use schemars::{JsonSchema, Schema, generate::SchemaSettings};
use serde_json::Value;

/// Kinds of file somebody writes.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A car.
    Vehicle,
    /// A complaint on a car.
    Scenario,
    /// Lessons.
    Course,
    /// Skills and what shows them.
    Skills,
    /// Texts of the files in another language.
    Texts,
    /// How points are given.
    Rubric,
    /// Safety rules.
    SafetyRules,
    /// An assignment; written by a program, in JSON.
    Assignment,
}

impl FileKind {
    /// All of them.
    pub const ALL: [FileKind; 8] = [
        FileKind::Vehicle,
        FileKind::Scenario,
        FileKind::Course,
        FileKind::Skills,
        FileKind::Texts,
        FileKind::Rubric,
        FileKind::SafetyRules,
        FileKind::Assignment,
    ];

    /// What it is called on a command line.
    pub fn name(self) -> &'static str {
        match self {
            FileKind::Vehicle => "vehicle",
            FileKind::Scenario => "scenario",
            FileKind::Course => "course",
            FileKind::Skills => "skills",
            FileKind::Texts => "texts",
            FileKind::Rubric => "rubric",
            FileKind::SafetyRules => "safety-rules",
            FileKind::Assignment => "assignment",
        }
    }

    /// Where such files lie.
    pub fn lies_in(self) -> &'static str {
        match self {
            FileKind::Vehicle => "scenarios/vehicles/*.ron",
            FileKind::Scenario => "scenarios/*.ron",
            FileKind::Course => "scenarios/courses/*.ron",
            FileKind::Skills => "scenarios/skills/*.ron",
            FileKind::Texts => "scenarios/words/*.ron",
            FileKind::Rubric => "grading/rubrics/*.ron",
            FileKind::SafetyRules => "grading/rubrics/safety.ron",
            FileKind::Assignment => "*.assignment.json",
        }
    }
}

fn of<T: JsonSchema>() -> Schema {
    SchemaSettings::draft2020_12()
        .into_generator()
        .into_root_schema_for::<T>()
}

/// The schema of a kind of file.
pub fn schema(kind: FileKind) -> Value {
    match kind {
        FileKind::Vehicle => of::<tracebay_core::vehicle::Vehicle>(),
        FileKind::Scenario => of::<tracebay_core::scenario::Scenario>(),
        FileKind::Course => of::<tracebay_core::scenario::Course>(),
        FileKind::Skills => of::<crate::skills::Course>(),
        FileKind::Texts => of::<tracebay_core::scenario::Texts>(),
        FileKind::Rubric => of::<crate::rubric::Rubric>(),
        FileKind::SafetyRules => of::<crate::safety::Rules>(),
        FileKind::Assignment => of::<crate::assign::Assignment>(),
    }
    .to_value()
}
