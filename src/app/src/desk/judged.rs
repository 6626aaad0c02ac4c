//! What the grader says of the session on the desk, asked once and kept: hints on the way, scorecard
//! and walk-back after handing back.
//!
//! Computes nothing itself; the grader replays the actions as kept.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Observation};
use tracebay_grading::assign::Terms;
use tracebay_grading::hint::{Hint, hint};
use tracebay_grading::rubric::Rubric;
use tracebay_grading::safety::Rules;
use tracebay_grading::scorecard::{Scorecard, score};
use tracebay_grading::survey::Survey;
use tracebay_words::{WalkStep, Words};

type Log = [(Action, Vec<Observation>)];

/// The walk-back in words.
pub struct Walk {
    /// The attempt, step by step.
    pub steps: Vec<WalkStep>,
    /// The best plan on this car, line by line.
    pub best: Vec<String>,
    language: &'static str,
}

/// What was asked of the grader so far.
#[derive(Default)]
pub struct Judged {
    /// Terms of the assignment; at home where there are none.
    terms: Option<Terms>,
    walk: Mutex<Option<Arc<Walk>>>,
    survey: OnceLock<Result<Survey, String>>,
    card: OnceLock<Result<(Scorecard, Rules), String>>,
    announced: AtomicBool,
    hints: Mutex<BTreeMap<usize, Result<Hint, String>>>,
}

fn actions(log: &Log) -> Vec<Action> {
    log.iter().map(|(action, _)| action.clone()).collect()
}

/// The rubric, an assignment's or the one for practice at home, and the safety rules.
fn rubric(terms: Option<&Terms>) -> Result<(Rubric, Rules), String> {
    let told = |problems: Vec<tracebay_core::source::Problem>| {
        problems
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    };
    let rules = Rules::load(&Rules::preset()).map_err(told)?;
    let rubric = match terms {
        Some(terms) => terms.rubric(&rules),
        None => {
            let [home, ..] = Rubric::presets();
            Rubric::load(&home, &rules)
        }
    };
    Ok((rubric.map_err(told)?, rules))
}

impl Judged {
    /// Judged under an assignment's terms, or as practice at home.
    pub fn under(terms: Option<Terms>) -> Judged {
        Judged {
            terms,
            ..Judged::default()
        }
    }

    /// The tests worth planning for in this case.
    pub fn survey(&self, case: &Case) -> Result<&Survey, String> {
        self.survey
            .get_or_init(|| tracebay_shelf::survey(case).map_err(|e| e.to_string()))
            .as_ref()
            .map_err(Clone::clone)
    }

    /// Whether the scorecard may be asked for now. The first answer is no: it takes seconds, in which
    /// nothing else is drawn, and a person is to be told so before.
    pub fn may_begin(&self) -> bool {
        self.card.get().is_some() || self.announced.swap(true, Ordering::Relaxed)
    }

    /// The scorecard of a session that was handed back, with the rules its breaches name.
    pub fn card(&self, case: &Arc<Case>, log: &Log) -> Result<&(Scorecard, Rules), String> {
        self.card
            .get_or_init(|| {
                let (rubric, rules) = rubric(self.terms.as_ref())?;
                let survey = self.survey(case)?;
                let card = score(case, survey, &actions(log), &rubric, &rules)
                    .map_err(|e| e.to_string())?;
                Ok((card, rules))
            })
            .as_ref()
            .map_err(Clone::clone)
    }

    /// The walk-back of a session that was handed back, made once a language: it replays the
    /// whole attempt.
    pub fn walk(&self, case: &Arc<Case>, log: &Log, words: &Words) -> Result<Arc<Walk>, String> {
        let mut kept = self.walk.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(walk) = kept.as_ref().filter(|w| w.language == words.language()) {
            return Ok(walk.clone());
        }
        let (card, _) = self.card(case, log)?;
        let survey = self.survey(case)?;
        let walk = Arc::new(Walk {
            steps: words.walk_back(case, survey, card),
            best: words.best_route(case, survey, card),
            language: words.language(),
        });
        *kept = Some(walk.clone());
        Ok(walk)
    }

    /// Hints asked for so far, in order: number of the action and what the grader said.
    pub fn hints(&self, case: &Arc<Case>, log: &Log) -> Vec<Result<Hint, String>> {
        let mut kept = self.hints.lock().unwrap_or_else(PoisonError::into_inner);
        let asked = log
            .iter()
            .enumerate()
            .filter_map(|(n, (action, _))| match action {
                Action::Hint(level) => Some((n, *level)),
                _ => None,
            });
        asked
            .map(|(n, level)| {
                kept.entry(n)
                    .or_insert_with(|| {
                        let survey = self.survey(case)?;
                        hint(case, survey, &actions(&log[..n]), level).map_err(|e| e.to_string())
                    })
                    .clone()
            })
            .collect()
    }
}
