//! Attempts that were found sound, scored, and what of it the reports tell.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Serialize;
use tracebay_core::scenario::Case;
use tracebay_core::session::Action;
use tracebay_grading::plan::PoorCheck;
use tracebay_grading::rubric::Rubric;
use tracebay_grading::safety::{Rules, Severity};
use tracebay_grading::scorecard::{Gate, Line, Part, Scorecard, score_in, under};
use tracebay_grading::survey::Survey;
use tracebay_grading::worlds::Worlds;
use tracebay_words::{WalkStep, Words};

use crate::checking::{Checked, Checker};
use crate::handed::Handed;
use crate::parallel::{Progress, in_order};

/// Probability from which a repair counts as proven, where the rubric does not say otherwise.
const PROVEN: f64 = 0.95;

/// What an attempt is scored with.
pub struct Terms<'a> {
    /// Rubric.
    pub rubric: &'a Rubric,
    /// Another rubric, to be shown beside it.
    pub other: Option<&'a Rubric>,
    /// Safety rules.
    pub rules: &'a Rules,
    /// Words of the reports.
    pub words: &'a Words,
}

/// What the reports tell of a scored attempt.
#[derive(Clone, Debug, Serialize)]
pub struct Scored {
    /// Points of 100.
    pub points: f64,
    /// Passed.
    pub passed: bool,
    /// What stood in the way.
    pub gates: Vec<Gate>,
    /// Points of the parts.
    pub parts: Vec<PartPoints>,
    /// The same attempt under another rubric.
    pub other: Option<Other>,
    /// Candidate behind the complaint.
    pub fault: String,
    /// The same in words.
    pub fault_text: String,
    /// The last call.
    pub called: Option<Called>,
    /// Job minutes in all.
    pub minutes: f64,
    /// Minutes of tests.
    pub testing_minutes: f64,
    /// Minutes of the best plan on this car.
    pub best_minutes: f64,
    /// The best plan is known exactly.
    pub best_exact: bool,
    /// Tests made.
    pub tests: usize,
    /// Minutes of tests after the fault was proven already.
    pub after_proof_minutes: f64,
    /// Tests that were poor.
    pub poor: Vec<Poor>,
    /// Safety rules broken.
    pub breaches: Vec<Broken>,
    /// Hints asked for.
    pub hints: usize,
    /// Job minutes and uncertainty in bits after each step that changed it.
    pub curve: Vec<(f64, f64)>,
    /// Where the points of each part come from, in the order of `parts`; hints come last.
    pub card: Vec<Vec<CardLine>>,
    /// The walk-back; only in the learner's page.
    #[serde(skip)]
    pub walk: Vec<WalkStep>,
}

/// Points of a part.
#[derive(Clone, Debug, Serialize)]
pub struct PartPoints {
    /// Part.
    pub part: Part,
    /// Points.
    pub points: f64,
    /// Most points.
    pub most: f64,
}

/// A line of the card.
#[derive(Clone, Debug, Serialize)]
pub struct CardLine {
    /// Points earned or lost.
    pub points: f64,
    /// The action and why, in words.
    pub text: String,
}

/// Points under another rubric.
#[derive(Clone, Debug, Serialize)]
pub struct Other {
    /// Rubric.
    pub rubric: String,
    /// Its version.
    pub version: u32,
    /// Points of 100.
    pub points: f64,
    /// Passed.
    pub passed: bool,
}

/// The last call.
#[derive(Clone, Debug, Serialize)]
pub struct Called {
    /// In words.
    pub text: String,
    /// How right, 0 to 1.
    pub right: f64,
    /// How sure one could be, 0 to 1.
    pub posterior: f64,
    /// It was right and the only explanation left.
    pub proven: bool,
}

/// A poor test.
#[derive(Clone, Debug, Serialize)]
pub struct Poor {
    /// Number of the action, from 1.
    pub n: usize,
    /// What was done.
    pub action: String,
    /// What was poor about it; none where it only gave minutes away.
    pub kind: Option<PoorCheck>,
    /// Minutes given away.
    pub minutes: f64,
}

/// A broken safety rule.
#[derive(Clone, Debug, Serialize)]
pub struct Broken {
    /// Number of the action, from 1.
    pub n: usize,
    /// Rule.
    pub rule: String,
    /// Its sentence.
    pub says: String,
    /// It stops the work.
    pub stop_work: bool,
}

/// Scores the attempts of a list that are not void, case by case, so that what a case needs is
/// worked out once and then let go. `walks` keeps the walk-backs, which take memory.
pub fn judge(
    checker: &Checker,
    all: &[Checked],
    terms: &Terms,
    threads: usize,
    progress: &Progress,
    walks: bool,
) -> Vec<Option<Result<Scored, String>>> {
    let mut cases: BTreeMap<(usize, u64), Vec<usize>> = BTreeMap::new();
    for (i, checked) in all.iter().enumerate() {
        if let (Some(task), false) = (checked.task, checked.void()) {
            let seed = checked.handed.header.seed;
            cases.entry((task, seed)).or_default().push(i);
        }
    }
    let cases: Vec<Vec<usize>> = cases.into_values().collect();
    let done = in_order(cases.len(), threads, progress, |c| {
        judge_case(checker, all, &cases[c], terms, walks)
    });
    let mut scored: Vec<Option<Result<Scored, String>>> = all.iter().map(|_| None).collect();
    for (case, results) in cases.iter().zip(done) {
        match results {
            Some(results) => {
                for (i, result) in case.iter().zip(results) {
                    scored[*i] = Some(result);
                }
            }
            None => {
                for i in case {
                    scored[*i] = Some(Err("the program failed on this case".to_owned()));
                }
            }
        }
    }
    scored
}

fn judge_case(
    checker: &Checker,
    all: &[Checked],
    members: &[usize],
    terms: &Terms,
    walks: bool,
) -> Vec<Result<Scored, String>> {
    let failed = |why: String| members.iter().map(|_| Err(why.clone())).collect();
    let Some(case) = members.first().and_then(|i| checker.case(&all[*i])) else {
        return failed("its case cannot be drawn".to_owned());
    };
    let worlds = match Worlds::new(&case) {
        Ok(worlds) => worlds,
        Err(error) => return failed(error.to_string()),
    };
    // The cases are spread over the threads already.
    let survey = tracebay_shelf::survey_in(&case, &worlds, 1);
    members
        .iter()
        .map(|i| score_one(&worlds, &survey, &all[*i].handed, terms, walks))
        .collect()
}

/// Scores one attempt on its case, in worlds in which nothing was done yet.
///
/// # Errors
/// It cannot be judged.
pub fn score_one(
    worlds: &Worlds,
    survey: &Survey,
    handed: &Handed,
    terms: &Terms,
    walks: bool,
) -> Result<Scored, String> {
    let actions: Vec<Action> = handed
        .lines
        .iter()
        .map(|line| line.action.clone())
        .collect();
    let case = worlds.case();
    let card = score_in(worlds.clone(), survey, &actions, terms.rubric, terms.rules)
        .map_err(|error| error.to_string())?;
    Ok(told(case, survey, &card, terms, walks))
}

fn told(case: &Arc<Case>, survey: &Survey, card: &Scorecard, terms: &Terms, walks: bool) -> Scored {
    let words = terms.words;
    let judged = &card.judged;
    let full_from = terms.rubric.proof.full_from;
    let called = judged.calls.last().map(|call| Called {
        text: format!(
            "{}: {}",
            words.label(case, &call.target),
            words.failure(&case.vehicle, &call.target, call.failure)
        ),
        right: call.right,
        posterior: call.fair_posterior,
        proven: call.right >= 1.0 && call.fair_posterior >= full_from,
    });
    let poor = judged
        .steps
        .iter()
        .filter(|step| {
            step.poor.is_some()
                || step
                    .regret
                    .is_some_and(|m| m > terms.rubric.order.tolerance_minutes)
        })
        .map(|step| Poor {
            n: step.n + 1,
            action: words.action(&case.vehicle, &step.action),
            kind: step.poor,
            minutes: step.regret.unwrap_or(0.0),
        })
        .collect();
    let breaches = card
        .breaches
        .iter()
        .map(|breach| Broken {
            n: breach.step + 1,
            rule: breach.rule.clone(),
            says: words.safety_rule(terms.rules, &breach.rule),
            stop_work: terms.rubric.severity(&breach.rule, breach.severity) == Severity::StopWork,
        })
        .collect();
    let other = terms.other.map(|rubric| {
        let again = under(card, case, rubric);
        Other {
            rubric: again.rubric,
            version: again.rubric_version,
            points: again.points,
            passed: again.passed,
        }
    });
    let culprit = case.culprit();
    Scored {
        points: card.points,
        passed: card.passed,
        gates: card.gates.clone(),
        parts: card
            .parts
            .iter()
            .map(|part| PartPoints {
                part: part.part,
                points: part.points,
                most: part.most,
            })
            .collect(),
        other,
        fault: culprit.map_or(String::new(), |c| c.id.clone()),
        fault_text: culprit.map_or(String::new(), |c| words.candidate(case, c)),
        called,
        minutes: judged.minutes,
        testing_minutes: judged.testing_minutes,
        best_minutes: judged.best_minutes,
        best_exact: judged.best_exact,
        tests: judged.steps.iter().filter(|s| s.regret.is_some()).count(),
        after_proof_minutes: after_proof(survey, card),
        poor,
        breaches,
        hints: card.hints.len(),
        curve: curve(card),
        card: card
            .parts
            .iter()
            .map(|part| &part.lines)
            .chain([&card.hints])
            .map(|lines| card_lines(case, terms, card, lines))
            .collect(),
        walk: if walks {
            words.walk_back(case, survey, card)
        } else {
            Vec::new()
        },
    }
}

fn card_lines(case: &Case, terms: &Terms, card: &Scorecard, lines: &[Line]) -> Vec<CardLine> {
    lines
        .iter()
        .map(|line| CardLine {
            points: line.points,
            text: terms.words.score_told(case, terms.rules, card, line),
        })
        .collect()
}

/// Minutes of tests made although one repair was all but certain already, up to the call.
fn after_proof(survey: &Survey, card: &Scorecard) -> f64 {
    let steps = &card.judged.steps;
    let last = card.judged.calls.last().map_or(steps.len(), |call| call.n);
    let mut proven = false;
    let mut before = 0.0;
    let mut minutes = 0.0;
    for step in steps.iter().take(last) {
        if proven && step.regret.is_some() {
            minutes += step.minutes - before;
        }
        before = step.minutes;
        let mut groups: BTreeMap<u32, f64> = BTreeMap::new();
        for (share, group) in step.posterior.iter().zip(&survey.groups) {
            *groups.entry(*group).or_insert(0.0) += share;
        }
        proven |= groups.values().any(|share| *share >= PROVEN);
    }
    minutes
}

/// Uncertainty against job minutes, up to the last call.
fn curve(card: &Scorecard) -> Vec<(f64, f64)> {
    let steps = &card.judged.steps;
    let last = card.judged.calls.last().map_or(steps.len(), |call| call.n);
    let mut points: Vec<(f64, f64)> = steps.first().map(|s| (0.0, s.bits.0)).into_iter().collect();
    for step in steps.iter().take(last) {
        if (step.bits.0 - step.bits.1).abs() > 1e-9 {
            points.push((step.minutes, step.bits.1));
        }
    }
    if let (Some(end), Some(bits)) = (steps.get(last), points.last().map(|p| p.1)) {
        points.push((end.minutes, bits));
    }
    points
}
