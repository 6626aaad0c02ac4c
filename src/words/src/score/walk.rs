//! The walk-back: an attempt again, step by step, with what each could tell and did tell.

use std::sync::Arc;

use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Observation, Session, View};
use tracebay_core::tools::{Glow, Lead};
use tracebay_core::vehicle::Role;
use tracebay_grading::judge::{Kind, Step};
use tracebay_grading::plan::PoorCheck;
use tracebay_grading::scorecard::Scorecard;
use tracebay_grading::survey::Survey;

use super::poor_key;
use crate::Words;

/// Candidates that are listed at a step.
const MOST_LISTED: usize = 6;
/// Candidates less likely than this are not listed.
const LISTED_FROM: f64 = 0.005;
/// Minutes below which giving some away is not worth a word.
const WORTH_A_WORD: f64 = 0.5;

/// One step of the walk-back, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct WalkStep {
    /// Number of the action, from 1.
    pub n: usize,
    /// It asked the car something and was judged for it.
    pub tested: bool,
    /// What was done.
    pub action: String,
    /// Job minutes after it.
    pub minutes: f64,
    /// What was perceived.
    pub seen: Vec<String>,
    /// What it could tell.
    pub could: String,
    /// What it told.
    pub told: String,
    /// Uncertainty before and after, bits.
    pub bits: (f64, f64),
    /// Faults still possible, most likely first, with their probability from 0 to 1.
    pub possible: Vec<(String, f64)>,
    /// Expected minutes given away, if it was judged.
    pub regret_minutes: Option<f64>,
    /// What would have been better.
    pub better: Option<String>,
    /// Name of what was poor about it.
    pub poor: Option<String>,
    /// Why, in one plain sentence.
    pub why: Option<String>,
}

impl WalkStep {
    /// The step as plain lines.
    pub fn lines(&self, words: &Words) -> Vec<String> {
        let mut lines = vec![words.get(
            "score-walk-action",
            &[
                ("n", self.n.to_string().into()),
                ("action", self.action.as_str().into()),
                ("minutes", words.minutes(self.minutes).into()),
            ],
        )];
        lines.extend(self.seen.iter().cloned());
        if !self.tested && self.bits.0 - self.bits.1 < 0.005 {
            return lines;
        }
        lines.push(self.could.clone());
        lines.push(self.told.clone());
        for (candidate, share) in &self.possible {
            let args = [
                ("candidate", candidate.as_str().into()),
                ("percent", words.percent(*share).into()),
            ];
            lines.push(words.get("score-walk-possible", &args));
        }
        lines.extend(self.poor.clone());
        lines.extend(self.why.clone());
        lines.extend(self.better.clone());
        lines
    }
}

impl Words {
    /// The walk-back of a card. Replays its actions once, to say what state the car was in.
    pub fn walk_back(&self, case: &Case, survey: &Survey, card: &Scorecard) -> Vec<WalkStep> {
        let mut session = Session::new(Arc::new(case.clone())).ok();
        card.judged
            .steps
            .iter()
            .map(|step| {
                let view = session.as_mut().and_then(|session| {
                    session.perform(&step.action).ok()?;
                    Some(session.view())
                });
                self.walk_step(case, survey, step, view.as_ref())
            })
            .collect()
    }

    fn walk_step(
        &self,
        case: &Case,
        survey: &Survey,
        step: &Step,
        view: Option<&View>,
    ) -> WalkStep {
        let mut ranked: Vec<(usize, f64)> = step.posterior.iter().copied().enumerate().collect();
        ranked.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let candidates = &case.scenario.candidates;
        let possible = ranked
            .iter()
            .take(MOST_LISTED)
            .filter(|(_, share)| *share >= LISTED_FROM)
            .filter_map(|(i, share)| {
                let candidate = candidates.get(*i)?;
                Some((self.candidate(case, candidate), *share))
            })
            .collect();
        let left = step.posterior.iter().filter(|p| **p >= LISTED_FROM).count();
        let could = if step.open_outcomes > 1 {
            let count = step.open_outcomes.to_string();
            self.get("score-walk-open", &[("count", count.into())])
        } else {
            self.text("score-walk-certain")
        };
        let told = self.get(
            "score-walk-told",
            &[
                ("before", self.number(step.bits.0, 2).into()),
                ("after", self.number(step.bits.1, 2).into()),
                ("left", left.to_string().into()),
            ],
        );
        let seen = &step.seen;
        WalkStep {
            n: step.n + 1,
            tested: step.kind == Kind::Test,
            action: self.action(&case.vehicle, &step.action),
            minutes: step.minutes,
            seen: seen
                .iter()
                .map(|seen| self.observation(&case.vehicle, seen))
                .collect(),
            could,
            told,
            bits: step.bits,
            possible,
            regret_minutes: step.fair_regret,
            better: self.better(case, survey, step),
            poor: step.poor.map(|poor| self.text(poor_key(poor))),
            why: view.and_then(|view| self.why(case, survey, step, view)),
        }
    }

    fn better(&self, case: &Case, survey: &Survey, step: &Step) -> Option<String> {
        let better = step.better.as_ref()?;
        let given = step.regret.filter(|minutes| *minutes >= WORTH_A_WORD)?;
        let args = [
            ("test", self.probe(case, &better.probe).into()),
            ("state", state_label(survey, better.state).into()),
            ("minutes", self.minutes(better.expected_minutes).into()),
            ("given", self.minutes(given).into()),
        ];
        // What is good under another honest view of what usually fails is not called poor.
        let sound = step.fair_regret.is_some_and(|fair| fair < WORTH_A_WORD);
        Some(self.get(
            if sound {
                "score-walk-also-sound"
            } else {
                "score-walk-better"
            },
            &args,
        ))
    }

    /// The best plan from the first test on, as it goes on this very car.
    pub fn best_route(&self, case: &Case, survey: &Survey, card: &Scorecard) -> Vec<String> {
        let route = &card.judged.best_route;
        if route.is_empty() {
            return Vec::new();
        }
        let title = if card.judged.best_exact {
            "score-route-title"
        } else {
            "score-route-title-known"
        };
        let steps = route.iter().enumerate().map(|(i, step)| {
            let args = [
                ("n", (i + 1).to_string().into()),
                ("test", self.probe(case, &step.probe).into()),
                ("state", state_label(survey, step.state).into()),
                ("minutes", self.minutes(step.minutes).into()),
                ("bits", self.number(step.bits, 2).into()),
            ];
            self.get("score-route-step", &args)
        });
        std::iter::once(self.text(title)).chain(steps).collect()
    }

    /// Why a step told little, from the state the car was in.
    fn why(&self, case: &Case, survey: &Survey, step: &Step, view: &View) -> Option<String> {
        let poor = step.poor?;
        let state = self.car_state(case, view);
        let mut args = vec![("state", state.into())];
        let key = match poor {
            PoorCheck::Premature => {
                let other = step.tells_in.map_or("", |i| state_label(survey, i));
                args.push(("other", other.into()));
                match dark_light(step, view) {
                    Some(false) => "score-why-nothing-feeds",
                    Some(true) => "score-why-nothing-grounds",
                    None => "score-why-premature",
                }
            }
            PoorCheck::Redundant => "score-why-redundant",
            PoorCheck::Irrelevant => "score-why-irrelevant",
        };
        Some(self.get(key, &args))
    }

    /// The state the car is in: the key, other controls that are not at rest, and what is out.
    pub fn car_state(&self, case: &Case, view: &View) -> String {
        let vehicle = &case.vehicle;
        let mut told = Vec::new();
        for (id, control) in &vehicle.controls {
            let at = view.controls.get(id);
            let rest = control.positions.first();
            let minor = matches!(control.role, Role::ExhaustHose | Role::ParkBrake);
            if control.role == Role::Key || (at != rest && !minor) {
                let args = [
                    ("control", control.label.as_str().into()),
                    ("at", at.cloned().unwrap_or_default().into()),
                ];
                told.push(self.get("score-state-control", &args));
            }
        }
        if view.engine_running {
            told.push(self.text("score-state-running"));
        }
        for out in view.pulled.iter().chain(&view.unplugged) {
            let args = [("part", self.label(case, out).into())];
            told.push(self.get("score-state-out", &args));
        }
        told.join(", ")
    }
}

fn state_label(survey: &Survey, state: usize) -> &str {
    survey.states.get(state).map_or("", |s| s.label.as_str())
}

/// A light that stayed dark: whether its clip was on the positive post.
fn dark_light(step: &Step, view: &View) -> Option<bool> {
    let Action::Touch { tool, .. } = &step.action else {
        return None;
    };
    let dark = step.seen.iter().any(|seen| {
        matches!(
            seen,
            Observation::Light {
                glow: Glow::Dark,
                ..
            }
        )
    });
    let clip = view.leads.get(tool)?.get(&Lead::Clip)?;
    dark.then(|| clip.ends_with(":pos"))
}
