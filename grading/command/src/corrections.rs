//! The instructor's own corrections of scores, with reasons. They stand beside what was computed,
//! never in its place.

use std::path::Path;

use serde::{Deserialize, Serialize};

/// One correction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Correction {
    /// Learner's id.
    pub learner: String,
    /// Scenario of the task.
    pub scenario: String,
    /// Points of 100.
    pub points: f64,
    /// Why.
    pub reason: String,
}

/// Reads corrections: a CSV file with the columns learner, scenario, points, reason.
///
/// # Errors
/// What is wrong, with its line.
pub fn read(path: &Path) -> Result<Vec<Correction>, String> {
    let named = path.display();
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_path(path)
        .map_err(|error| format!("{named}: {error}"))?;
    let mut found: Vec<Correction> = Vec::new();
    for row in reader.deserialize() {
        let correction: Correction = row.map_err(|error| {
            format!("{named}: {error}; the columns are learner, scenario, points, reason")
        })?;
        let at = format!("{named}: {}, {}", correction.learner, correction.scenario);
        if !(0.0..=100.0).contains(&correction.points) {
            return Err(format!("{at}: points must be from 0 to 100"));
        }
        if correction.reason.is_empty() {
            return Err(format!("{at}: a correction needs a reason"));
        }
        let twice = found
            .iter()
            .any(|c| c.learner == correction.learner && c.scenario == correction.scenario);
        if twice {
            return Err(format!("{at}: corrected twice"));
        }
        found.push(correction);
    }
    Ok(found)
}
