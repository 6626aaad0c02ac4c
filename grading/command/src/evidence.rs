//! A person's attempts, whatever rules they were done under, replayed and scored as evidence of
//! skills.

use std::path::Path;
use std::sync::Arc;

use serde::Serialize;
use tracebay_core::attempt::{check_header, replay};
use tracebay_grading::worlds::Worlds;
use tracebay_words::Words;

use crate::course::{Course, Skill};
use crate::folder;
use crate::handed::{self, FileRow, Found, Handed};
use crate::judging::{Scored, Terms, score_one};
use crate::library::Library;
use crate::parallel::{Progress, in_order, threads};

/// An attempt as evidence.
#[derive(Clone, Debug, Serialize)]
pub struct Evidence {
    /// File.
    pub file: String,
    /// SHA-256 of the file.
    pub sha256: String,
    /// Scenario.
    pub scenario: String,
    /// Seed.
    pub seed: u64,
    /// Date it was begun, `YYYY-MM-DD`, if the file says.
    pub date: Option<String>,
    /// The car was given back.
    pub given_back: bool,
    /// Its score.
    pub scored: Scored,
}

impl Evidence {
    /// Whether it shows a skill; none where its case cannot.
    pub fn shows(&self, skill: &Skill) -> Option<bool> {
        skill.covers(&self.scenario, &self.scored.fault).then(|| {
            let reached = skill.least.iter().all(|(part, share)| {
                self.scored.parts.iter().any(|p| {
                    p.part == *part && (p.most <= 0.0 || p.points + 0.05 >= share * p.most)
                })
            });
            let stopped = self.scored.breaches.iter().any(|b| b.stop_work);
            self.given_back && reached && !stopped
        })
    }
}

/// A person's evidence in a folder, oldest first, and what could not be used.
///
/// # Errors
/// The folder or the course's rubric cannot be read.
pub fn collect(
    library: &Library,
    course: &Course,
    folder: &Path,
    learner: Option<&str>,
    words: &Words,
) -> Result<(Vec<Evidence>, Vec<FileRow>), String> {
    let (_, rubric) = library.rubric(&course.rubric)?;
    let terms = Terms {
        rubric: &rubric,
        other: None,
        rules: &library.rules,
        words,
    };
    let entries = folder::list(folder, None)?;
    let progress = Progress::new("attempts", true);
    let found = in_order(entries.len(), threads(None), &progress, |i| {
        let handed = match handed::read(words, &entries[i]) {
            Found::Attempt(handed) => *handed,
            Found::Row(_) => return None,
        };
        if learner.is_some_and(|id| handed.header.learner.as_deref() != Some(id)) {
            return None;
        }
        Some(one(library, &terms, words, handed))
    });
    let mut evidence = Vec::new();
    let mut rows = Vec::new();
    let mut seen = Vec::new();
    for found in found.into_iter().flatten().flatten() {
        match found {
            // The same file twice is one piece of evidence.
            Ok(found) if seen.contains(&found.sha256) => {}
            Ok(found) => {
                seen.push(found.sha256.clone());
                evidence.push(found);
            }
            Err(row) => rows.push(row),
        }
    }
    evidence.sort_by(|a, b| a.date.cmp(&b.date).then(a.file.cmp(&b.file)));
    Ok((evidence, rows))
}

fn one(
    library: &Library,
    terms: &Terms,
    words: &Words,
    handed: Handed,
) -> Result<Evidence, FileRow> {
    let row = |what: String| FileRow {
        file: handed.file.clone(),
        what,
    };
    if let Some(flag) = handed
        .flags
        .iter()
        .find(|f| f.gravity() == crate::flags::Gravity::Void)
    {
        return Err(row(flag.sentence(words)));
    }
    let header = &handed.header;
    let case = library
        .catalogue
        .draw(&header.scenario, header.seed)
        .map_err(|e| row(words.draw_error(&e)))?;
    check_header(header, &case).map_err(|e| row(words.attempt_error(&e)))?;
    let case = Arc::new(case);
    replay(case.clone(), header, &handed.lines)
        .map_err(|e| row(words.replay_error(&case.vehicle, &e)))?;
    let worlds = Worlds::new(&case).map_err(|e| row(e.to_string()))?;
    // The files are spread over the threads already.
    let survey = tracebay_shelf::survey_in(&case, &worlds, 1);
    let scored = score_one(&worlds, &survey, &handed, terms, false).map_err(row)?;
    Ok(Evidence {
        date: header
            .started
            .as_deref()
            .and_then(|s| s.get(..10))
            .map(str::to_owned),
        scenario: header.scenario.clone(),
        seed: header.seed,
        given_back: handed.given_back(),
        sha256: handed.sha256,
        file: handed.file,
        scored,
    })
}
