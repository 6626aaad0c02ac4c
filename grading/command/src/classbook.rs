//! The class's results put together: who did what, what counts, what is missing.
//!
//! Everything the reports show is in here; the reports only lay it out.

use std::collections::BTreeMap;

use serde::Serialize;
use tracebay_core::attempt::ENGINE_REVISION;
use tracebay_core::source::Told;
use tracebay_grading::assign::{Assignment, Counts};
use tracebay_grading::rubric::Rubric;
use tracebay_words::Words;

use crate::checking::Checked;
use crate::corrections::Correction;
use crate::flags::{Flag, Gravity};
use crate::handed::FileRow;
use crate::items::{self, Item};
use crate::judging::Scored;
use crate::times;

/// The class's results.
#[derive(Clone, Debug, Serialize)]
pub struct Classbook {
    /// Version of the program.
    pub program: &'static str,
    /// Revision of the engine.
    pub engine_revision: u32,
    /// Assignment id.
    pub assignment: String,
    /// Its title.
    pub title: String,
    /// When it was due.
    pub due: Option<String>,
    /// Which attempt counts.
    pub counts: Counts,
    /// Rubric and version.
    pub rubric: RubricName,
    /// A second rubric shown beside it.
    pub other_rubric: Option<RubricName>,
    /// Scenario titles and topics, by task.
    pub tasks: Vec<TaskName>,
    /// Learners, in the assignment's order.
    pub learners: Vec<LearnerResult>,
    /// All attempts, in the order of their files.
    pub attempts: Vec<AttemptResult>,
    /// Files that are no attempts.
    pub files: Vec<FileRow>,
    /// How often each flag was raised.
    pub flags: BTreeMap<&'static str, usize>,
    /// Analysis of each task.
    pub items: Vec<Item>,
    /// Corrections that fit no learner and task.
    pub stray_corrections: Vec<String>,
}

/// A rubric by name.
#[derive(Clone, Debug, Serialize)]
pub struct RubricName {
    /// Id.
    pub id: String,
    /// Version.
    pub version: u32,
    /// Title.
    pub title: String,
    /// Points to pass.
    pub pass_mark: f64,
}

impl RubricName {
    /// Of a rubric.
    pub fn of(rubric: &Rubric) -> RubricName {
        RubricName {
            id: rubric.id.clone(),
            version: rubric.version,
            title: rubric.title.clone(),
            pass_mark: rubric.gates.pass_mark,
        }
    }
}

/// A task by name.
#[derive(Clone, Debug, Serialize)]
pub struct TaskName {
    /// Scenario.
    pub scenario: String,
    /// Title; pages show it in their language, files for machines have it as it was written.
    pub title: Told,
    /// Topic, likewise.
    pub topic: Told,
    /// Version.
    pub version: u32,
}

/// A learner's results.
#[derive(Clone, Debug, Serialize)]
pub struct LearnerResult {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Results by task.
    pub tasks: Vec<TaskResult>,
    /// Mean of the tasks' points; missing work counts nothing.
    pub points: f64,
    /// Tasks passed.
    pub passed: usize,
    /// Files of theirs that are not part of the assignment (practice).
    pub practice: Vec<String>,
}

/// A learner's result at a task.
#[derive(Clone, Debug, Serialize)]
pub struct TaskResult {
    /// Attempts handed in, by index, the void ones too.
    pub attempts: Vec<usize>,
    /// The one that counts.
    pub counted: Option<usize>,
    /// Computed points of the one that counts.
    pub computed: Option<f64>,
    /// The instructor's correction.
    pub correction: Option<Correction>,
    /// Points that count: corrected, else computed.
    pub points: Option<f64>,
    /// Passed, as computed; a correction decides by the pass mark.
    pub passed: bool,
    /// Nothing that counts was handed in.
    pub missing: bool,
}

/// An attempt and what is to be said of it.
#[derive(Clone, Debug, Serialize)]
pub struct AttemptResult {
    /// File.
    pub file: String,
    /// SHA-256 of the file.
    pub sha256: String,
    /// Learner's index, if known.
    pub learner: Option<usize>,
    /// Learner's id as the file says.
    pub learner_id: Option<String>,
    /// Task's index, if it is one.
    pub task: Option<usize>,
    /// Scenario.
    pub scenario: String,
    /// Seed.
    pub seed: u64,
    /// Which of the allowed attempts, from 1.
    pub number: Option<usize>,
    /// It is work for an assignment, not practice.
    pub assigned: bool,
    /// Actions.
    pub actions: usize,
    /// When it was begun and ended, UTC.
    pub started: Option<String>,
    /// When it was ended.
    pub ended: Option<String>,
    /// How long it took by the clock, milliseconds.
    pub wall_ms: Option<i64>,
    /// The car was given back.
    pub given_back: bool,
    /// What can be said against it.
    pub flags: Vec<Flag>,
    /// The score, where one is given.
    pub scored: Option<Scored>,
}

impl AttemptResult {
    /// The gravest of its flags.
    pub fn gravity(&self) -> Option<Gravity> {
        self.flags.iter().map(Flag::gravity).max()
    }
}

/// Everything the class's results are put together from.
pub struct Parts<'a> {
    /// The assignment.
    pub assignment: &'a Assignment,
    /// Titles and topics of the tasks.
    pub tasks: Vec<TaskName>,
    /// The rubric.
    pub rubric: &'a Rubric,
    /// A second rubric.
    pub other: Option<&'a Rubric>,
    /// Attempts that were looked at.
    pub checked: Vec<Checked>,
    /// Their scores, in the same order.
    pub scored: Vec<Option<Result<Scored, String>>>,
    /// Other files.
    pub files: Vec<FileRow>,
    /// Corrections.
    pub corrections: Vec<Correction>,
}

/// Name under which missing work is counted among the flags.
pub const MISSING: &str = "missing work";

impl Classbook {
    /// Puts the results together.
    pub fn new(parts: Parts) -> Classbook {
        let terms = &parts.assignment.terms;
        let attempts: Vec<AttemptResult> = parts
            .checked
            .into_iter()
            .zip(parts.scored)
            .map(|(checked, scored)| attempt(checked, scored))
            .collect();
        let mut flags: BTreeMap<&'static str, usize> = BTreeMap::new();
        for flag in attempts.iter().flat_map(|a| &a.flags) {
            *flags.entry(flag.name()).or_insert(0) += 1;
        }
        let pass_mark = parts.rubric.gates.pass_mark;
        let mut used = vec![false; parts.corrections.len()];
        let learners: Vec<LearnerResult> = parts
            .assignment
            .learners
            .iter()
            .enumerate()
            .map(|(l, learner)| {
                let tasks: Vec<TaskResult> = terms
                    .tasks
                    .iter()
                    .enumerate()
                    .map(|(t, task)| {
                        let fits = parts
                            .corrections
                            .iter()
                            .position(|c| c.learner == learner.id && c.scenario == task.scenario);
                        if let Some(fits) = fits {
                            used[fits] = true;
                        }
                        let correction = fits.map(|fits| parts.corrections[fits].clone());
                        result(&attempts, l, t, terms.counts, correction, pass_mark)
                    })
                    .collect();
                let sum: f64 = tasks.iter().filter_map(|task| task.points).sum();
                LearnerResult {
                    id: learner.id.clone(),
                    name: learner.name.clone(),
                    points: tenth(sum / tasks.len().max(1) as f64),
                    passed: tasks.iter().filter(|task| task.passed).count(),
                    practice: attempts
                        .iter()
                        .filter(|a| !a.assigned && a.learner == Some(l))
                        .map(|a| a.file.clone())
                        .collect(),
                    tasks,
                }
            })
            .collect();
        let missing: usize = learners
            .iter()
            .flat_map(|l| &l.tasks)
            .filter(|task| task.missing)
            .count();
        if missing > 0 {
            flags.insert(MISSING, missing);
        }
        let stray = parts
            .corrections
            .iter()
            .zip(used)
            .filter(|(_, used)| !used)
            .map(|(c, _)| format!("{}, {}: {}", c.learner, c.scenario, c.reason))
            .collect();
        let items = items::analyse(&parts.tasks, &learners, &attempts);
        Classbook {
            program: env!("CARGO_PKG_VERSION"),
            engine_revision: ENGINE_REVISION,
            assignment: terms.id.clone(),
            title: terms.title.clone(),
            due: terms.due.clone(),
            counts: terms.counts,
            rubric: RubricName::of(parts.rubric),
            other_rubric: parts.other.map(RubricName::of),
            tasks: parts.tasks,
            learners,
            attempts,
            files: parts.files,
            flags,
            items,
            stray_corrections: stray,
        }
    }

    /// Leaves names, ids and file names out: learners become numbers in the roster's order.
    pub fn without_names(&mut self, words: &Words) {
        let said = |key: &str, n: usize| words.get(key, &[("n", (n + 1).to_string().into())]);
        let numbers: BTreeMap<String, String> = self
            .attempts
            .iter()
            .enumerate()
            .map(|(i, a)| (a.file.clone(), said("report-anonymous-file", i)))
            .collect();
        let number = |file: &mut String| {
            *file = numbers
                .get(file)
                .cloned()
                .unwrap_or_else(|| words.text("report-anonymous-some-file"));
        };
        for (i, learner) in self.learners.iter_mut().enumerate() {
            learner.id = format!("{}", i + 1);
            learner.name = said("report-anonymous-learner", i);
            learner.practice.iter_mut().for_each(number);
        }
        for attempt in &mut self.attempts {
            number(&mut attempt.file);
            attempt.learner_id = attempt.learner.map(|l| format!("{}", l + 1));
            for flag in &mut attempt.flags {
                match flag {
                    Flag::SameFile { first: file }
                    | Flag::Again { first: file }
                    | Flag::SeenBefore { file } => number(file),
                    Flag::SameActions { others } => others.iter_mut().for_each(number),
                    Flag::UnknownLearner { id: Some(id) } => {
                        *id = words.text("report-anonymous-id")
                    }
                    Flag::WrongSeed { whose: Some(whose) } => {
                        *whose = words.text("report-anonymous-other");
                    }
                    _ => {}
                }
            }
        }
        for (i, row) in self.files.iter_mut().enumerate() {
            row.file = said("report-anonymous-other-file", i);
        }
        for (i, stray) in self.stray_corrections.iter_mut().enumerate() {
            *stray = said("report-anonymous-correction", i);
        }
    }
}

fn attempt(checked: Checked, scored: Option<Result<Scored, String>>) -> AttemptResult {
    let mut flags = checked.handed.flags.clone();
    let scored = match scored {
        Some(Ok(scored)) => Some(scored),
        Some(Err(why)) => {
            flags.push(Flag::NotJudged { why });
            flags.sort();
            None
        }
        None => None,
    };
    let times = checked.times_ms;
    AttemptResult {
        given_back: checked.handed.given_back(),
        actions: checked.handed.lines.len(),
        started: times.and_then(|t| times::utc(t.0)),
        ended: times.and_then(|t| times::utc(t.1)),
        wall_ms: times.map(|t| t.1 - t.0),
        file: checked.handed.file,
        sha256: checked.handed.sha256,
        learner: checked.learner,
        learner_id: checked.handed.header.learner,
        task: checked.task.filter(|_| checked.assigned),
        scenario: checked.handed.header.scenario,
        seed: checked.handed.header.seed,
        number: checked.slot.map(|slot| slot.attempt + 1),
        assigned: checked.assigned,
        flags,
        scored,
    }
}

fn result(
    attempts: &[AttemptResult],
    learner: usize,
    task: usize,
    counts: Counts,
    correction: Option<Correction>,
    pass_mark: f64,
) -> TaskResult {
    let own: Vec<usize> = (0..attempts.len())
        .filter(|i| {
            let a = &attempts[*i];
            a.assigned && a.learner == Some(learner) && a.task == Some(task)
        })
        .collect();
    let mut scored: Vec<(usize, f64)> = own
        .iter()
        .filter_map(|i| attempts[*i].scored.as_ref().map(|s| (*i, s.points)))
        .collect();
    scored.sort_by_key(|(i, _)| (attempts[*i].number, *i));
    let counted = match counts {
        Counts::First => scored.first(),
        Counts::Last => scored.last(),
        // Of equals the first.
        Counts::Best => scored.iter().rev().max_by(|a, b| a.1.total_cmp(&b.1)),
    }
    .copied();
    let computed = counted.map(|(_, points)| points);
    let points = correction.as_ref().map(|c| c.points).or(computed);
    let passed = match (&correction, counted) {
        (Some(correction), _) => correction.points >= pass_mark,
        (None, Some((i, _))) => attempts[i].scored.as_ref().is_some_and(|s| s.passed),
        (None, None) => false,
    };
    TaskResult {
        missing: counted.is_none(),
        attempts: own,
        counted: counted.map(|(i, _)| i),
        computed,
        points,
        passed,
        correction,
    }
}

/// Rounds to a tenth of a point, as shown.
fn tenth(points: f64) -> f64 {
    (points * 10.0).round() / 10.0
}
