//! An attempt judged step by step: what was still possible, what each choice could tell, what it
//! gave away.
//!
//! Trusts only actions: everything is recomputed by replaying them.

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tracebay_core::fault::{Failure, Method};
use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Observation, Session};
use tracebay_core::tools::ToolKind;

use crate::belief::Belief;
use crate::plan::{Choice, Limits, Planner, PoorCheck, poor_check, proof_at};
use crate::survey::{Probe, Survey};
use crate::worlds::{Showing, Worlds};

mod kinds;
mod plausible;
mod rightness;

pub use plausible::{Plausible, Priors};
pub use rightness::{method_for, rightness};

use plausible::Views;

/// What kind of step an action was.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Prepares something; its minutes are counted with the next test.
    Setup,
    /// Asked the car something.
    Test,
    /// A good habit, never held against anybody: reproducing the complaint, proving a tool, one
    /// confirming reading, the re-test.
    Habit,
    /// Said what is wrong.
    Call,
    /// Put something right.
    Repair,
    /// Anything else.
    Other,
}

/// A better choice than the one made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Better {
    /// What to do.
    pub probe: Probe,
    /// Index of the car state to do it in.
    pub state: usize,
    /// Expected minutes to a proven call by way of it.
    pub expected_minutes: f64,
}

/// One step of an attempt, judged.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Step {
    /// Number of the action, from 0.
    pub n: usize,
    /// What was done.
    pub action: Action,
    /// What was perceived.
    pub seen: Vec<Observation>,
    /// Kind of step.
    pub kind: Kind,
    /// Job minutes after it.
    pub minutes: f64,
    /// Uncertainty over repairs before and after, bits.
    pub bits: (f64, f64),
    /// Probability of each candidate after it.
    pub posterior: Vec<f64>,
    /// How many outcomes a person could tell apart were still open.
    pub open_outcomes: usize,
    /// Expected minutes given away, if it was a test, by what the scenario says usually fails.
    pub regret: Option<f64>,
    /// The least it gave away under any plausible view: what is judged.
    pub fair_regret: Option<f64>,
    /// The regret is exact; otherwise it is between bounds.
    pub exact: bool,
    /// What was poor about it.
    pub poor: Option<PoorCheck>,
    /// A declared car state in which the same probe would have told something, if it was made too
    /// early.
    pub tells_in: Option<usize>,
    /// What would have been better.
    pub better: Option<Better>,
}

/// A test of the best plan on this very car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BestStep {
    /// What it does.
    pub probe: Probe,
    /// Index of the car state it is done in.
    pub state: usize,
    /// Job minutes after it, had it been followed from the first test on.
    pub minutes: f64,
    /// Uncertainty over repairs after it, bits.
    pub bits: f64,
}

/// A call made on the way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CallMade {
    /// Number of the action.
    pub n: usize,
    /// What was called.
    pub target: String,
    /// What was said to be wrong with it.
    pub failure: Failure,
    /// How right it is, 0 to 1.
    pub right: f64,
    /// Probability of what was called, with rivals that no test could split left out.
    pub fair_posterior: f64,
    /// Candidates of other repairs that a test could still have split off.
    pub splittable: Vec<usize>,
}

/// A whole attempt, judged.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Judged {
    /// Steps.
    pub steps: Vec<Step>,
    /// Calls.
    pub calls: Vec<CallMade>,
    /// Minutes the best plan takes to a proven call on this very car, from the first test on, with
    /// what the complaint had told by then.
    pub best_minutes: f64,
    /// The tests of that plan on this very car; empty if no test was ever made.
    pub best_route: Vec<BestStep>,
    /// Expected minutes of the best plan from the start, over all faults it could be.
    pub expected_minutes: f64,
    /// The best plan is exact; otherwise the figure is what the best known plan takes.
    pub best_exact: bool,
    /// Minutes spent on tests and their preparation up to the last call, habits left out.
    pub testing_minutes: f64,
    /// Minutes of all tests and preparations up to the last call.
    pub minutes_to_call: f64,
    /// Job minutes in all.
    pub minutes: f64,
    /// Faults of the case still there at the end, outputs destroyed on the way included.
    pub still_wrong: usize,
    /// The complaint is still true at the end.
    pub complaint_left: bool,
    /// The session was handed back.
    pub handed_back: bool,
}

/// Why an attempt could not be judged.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum JudgeError {
    /// An action that the session refuses.
    #[error("action {n} is not possible at that point of the session: {why}")]
    Refused {
        /// Its number, from 1.
        n: usize,
        /// The refusal, as data.
        why: String,
    },
    /// The car or the plan cannot be computed.
    #[error("{0}")]
    Cannot(String),
}

/// Judges actions on a case.
///
/// # Errors
/// An action that the session refuses, or a scenario that cannot be planned.
pub fn judge(case: &Case, survey: &Survey, actions: &[Action]) -> Result<Judged, JudgeError> {
    let worlds = Worlds::new(case).map_err(cannot)?;
    let plausible = Plausible::default();
    judge_among(worlds, survey, actions, &plausible, 0.0, &mut |_, _, _| {})
}

/// Goes along with the learner's own car: told of every action done, with what it showed.
pub type Along<'a> = &'a mut dyn FnMut(&mut Session, &Action, &[Observation]);

/// As [`judge`], in worlds in which nothing was done yet, with each test's fair regret taken over a set
/// of plausible views; `forgiven` minutes of regret need not be looked into. `along` goes along.
///
/// # Errors
/// As [`judge`].
pub fn judge_among(
    worlds: Worlds,
    survey: &Survey,
    actions: &[Action],
    plausible: &Plausible,
    forgiven: f64,
    along: Along<'_>,
) -> Result<Judged, JudgeError> {
    let mut judge = Judge::new(worlds, survey)?;
    judge.views = Views::new(survey, plausible);
    judge.forgiven = forgiven;
    judge.run(actions, along)
}

/// Where somebody stands after some actions.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Probability of each candidate.
    pub posterior: Vec<f64>,
    /// The best next test and the index of its car state; none once nothing is left to prove.
    pub best: Option<(Probe, usize)>,
}

/// Where somebody stands after these actions, without judging them.
///
/// # Errors
/// As [`judge`].
pub fn standing(case: &Case, survey: &Survey, actions: &[Action]) -> Result<Standing, JudgeError> {
    let mut judge = Judge::new(Worlds::new(case).map_err(cannot)?, survey)?;
    for (n, action) in actions.iter().enumerate() {
        let (seen, showing) = judge.perform(n, action)?;
        let _ = judge.belief.update(&showing.likelihoods(&seen));
    }
    let state = survey.nearest_state(judge.worlds.own());
    let best = judge
        .planner
        .best_tests(&judge.belief, state, 1)
        .map_err(cannot)?
        .first()
        .map(|ranked| {
            let test = &survey.problem.tests[ranked.test];
            (survey.probes[test.probe as usize].clone(), test.state)
        });
    Ok(Standing {
        posterior: judge.belief.posterior(),
        best,
    })
}

struct Judge<'a> {
    case: Arc<Case>,
    survey: &'a Survey,
    worlds: Worlds,
    planner: Planner,
    views: Views<'a>,
    /// Minutes of regret that need not be looked into.
    forgiven: f64,
    belief: Belief,
    /// For each repair that changed the car for good: what was put right, the belief before it, and
    /// whether it ended a fault. Who replaces first and calls afterwards has proved nothing by it.
    at_repair: Vec<(String, Belief, bool)>,
    /// The action at hand puts back a plug that was off.
    puts_plug_back: bool,
    /// The best plan for this car has been timed.
    timed: bool,
    /// Minutes of preparation since the last test.
    pending: f64,
    /// Declared state at the last test.
    state: usize,
    proved: Vec<ToolKind>,
    invaded: bool,
    repaired: bool,
    confirmed: bool,
    /// The last thing done and what it showed.
    last: Option<(Action, Vec<Observation>)>,
    judged: Judged,
}

fn cannot(e: impl std::fmt::Display) -> JudgeError {
    JudgeError::Cannot(e.to_string())
}

impl<'a> Judge<'a> {
    fn new(worlds: Worlds, survey: &'a Survey) -> Result<Judge<'a>, JudgeError> {
        let case = worlds.case().clone();
        let mut planner = Planner::new(&survey.problem, Limits::for_judging()).map_err(cannot)?;
        let mut belief = Belief::of(&survey.problem).map_err(cannot)?;
        belief.mark_start();
        let best = planner.expected_minutes(&belief, 0).map_err(cannot)?;
        Ok(Judge {
            case,
            survey,
            worlds,
            planner,
            views: Views::new(survey, &Plausible::default()),
            forgiven: 0.0,
            belief,
            at_repair: Vec::new(),
            puts_plug_back: false,
            timed: false,
            pending: 0.0,
            state: 0,
            proved: Vec::new(),
            invaded: false,
            repaired: false,
            confirmed: false,
            last: None,
            judged: Judged {
                steps: Vec::new(),
                calls: Vec::new(),
                best_minutes: best.upper,
                best_route: Vec::new(),
                expected_minutes: best.upper,
                best_exact: best.exact,
                testing_minutes: 0.0,
                minutes_to_call: 0.0,
                minutes: 0.0,
                still_wrong: 0,
                complaint_left: true,
                handed_back: false,
            },
        })
    }

    fn run(mut self, actions: &[Action], along: Along<'_>) -> Result<Judged, JudgeError> {
        for (n, action) in actions.iter().enumerate() {
            self.step(n, action, along)?;
        }
        let session = self.worlds.own();
        self.judged.minutes = session.minutes();
        self.judged.still_wrong = session.still_wrong();
        self.judged.complaint_left = session.complaint_shows().map_err(cannot)?;
        self.judged.handed_back = session.handed_back();
        Ok(self.judged)
    }

    fn perform(
        &mut self,
        n: usize,
        action: &Action,
    ) -> Result<(Vec<Observation>, Showing), JudgeError> {
        self.worlds
            .perform(action)
            .map_err(|why| JudgeError::Refused {
                n: n + 1,
                why: format!("{why:?}"),
            })
    }

    fn step(&mut self, n: usize, action: &Action, along: Along<'_>) -> Result<(), JudgeError> {
        let before = self.worlds.own().minutes();
        self.puts_plug_back = match action {
            Action::Plug(plug) => self.worlds.own().view().unplugged.contains(plug),
            _ => false,
        };
        let bits_before = self.belief.group_entropy_bits();
        let wrong_before = self.worlds.own().still_wrong();
        let (seen, showing) = self.perform(n, action)?;
        along(self.worlds.own(), action, &seen);
        let outcomes = showing.classes();
        let possible = self.belief.possible();
        let open = distinct(&outcomes, &possible);
        let kind = self.kind(action, open);
        let spent = self.worlds.own().minutes() - before;
        let mut step = Step {
            n,
            action: action.clone(),
            seen: seen.clone(),
            kind,
            minutes: self.worlds.own().minutes(),
            bits: (bits_before, bits_before),
            posterior: Vec::new(),
            open_outcomes: open,
            regret: None,
            fair_regret: None,
            exact: true,
            poor: None,
            tells_in: None,
            better: None,
        };
        match kind {
            Kind::Test => {
                self.time_best_plan(before - self.pending)?;
                self.judge_test(action, &outcomes, spent, &mut step)?;
                self.judged.testing_minutes += self.pending + spent;
                self.pending = 0.0;
            }
            Kind::Setup => self.pending += spent,
            // What was prepared before a habit still waits for its test.
            Kind::Habit => {}
            Kind::Call => {
                if let Action::Call { target, failure } = action {
                    let call = self.call(n, target, *failure)?;
                    self.judged.calls.push(call);
                    self.judged.minutes_to_call = self.worlds.own().minutes();
                }
            }
            Kind::Repair => {
                // What follows a right repair is re-test; what follows a guess is still search.
                self.repaired = self.worlds.own().still_wrong() == 0 || self.settled();
                // Pressing a plug home is a test as well: where it ends the complaint, it proves.
                let reseat = matches!(
                    action,
                    Action::Repair {
                        method: Method::Reseat,
                        ..
                    }
                );
                if let (false, Action::Repair { target, .. }) = (reseat, action) {
                    let ended = self.worlds.own().still_wrong() < wrong_before;
                    self.at_repair
                        .push((target.clone(), self.belief.clone(), ended));
                }
            }
            Kind::Other => {}
        }
        // What was seen counts, whatever kind of step it was. Evidence that no candidate explains
        // (the learner broke something in a way no world did) leaves the belief as it was.
        // The same look taken again with nothing done in between tells nothing new.
        let again = self
            .last
            .as_ref()
            .is_some_and(|(a, s)| a == action && *s == seen);
        if !again {
            let _ = self.belief.update(&showing.likelihoods(&seen));
        }
        if !matches!(action, Action::Wait(_) | Action::Note(_)) {
            self.last = Some((action.clone(), seen.clone()));
        }
        if kind != Kind::Setup {
            self.state = self.survey.nearest_state(self.worlds.own());
        }
        step.bits.1 = self.belief.group_entropy_bits();
        step.posterior = self.belief.posterior();
        self.judged.steps.push(step);
        Ok(())
    }

    /// What the best plan from here takes on this car. Asked once, at the first test.
    fn time_best_plan(&mut self, from_minutes: f64) -> Result<(), JudgeError> {
        let (false, Some(truth)) = (self.timed, self.case.reveal()) else {
            return Ok(());
        };
        self.timed = true;
        let tree = self
            .planner
            .plan_tree(&self.belief, self.state)
            .map_err(cannot)?;
        let mut belief = self.belief.clone();
        for step in tree.route(&self.survey.problem, truth) {
            let test = &self.survey.problem.tests[step.test];
            let _ = belief.update_class(&test.outcomes, step.class);
            self.judged.best_minutes = step.minutes_so_far;
            self.judged.best_route.push(BestStep {
                probe: self.survey.probes[test.probe as usize].clone(),
                state: test.state,
                minutes: from_minutes + step.minutes_so_far,
                bits: belief.group_entropy_bits(),
            });
        }
        Ok(())
    }

    fn judge_test(
        &mut self,
        action: &Action,
        outcomes: &[u8],
        spent: f64,
        step: &mut Step,
    ) -> Result<(), JudgeError> {
        let state_after = self.survey.nearest_state(self.worlds.own());
        let choice = Choice {
            minutes: self.pending + spent,
            state_after,
            outcomes,
        };
        let regret = self
            .planner
            .regret_of(&choice, &self.belief, self.state)
            .map_err(cannot)?;
        step.regret = Some(regret.lower.max(0.0).min(regret.estimate.max(0.0)));
        let fair = self
            .views
            .least_regret(
                action,
                &choice,
                &self.belief,
                self.state,
                &regret,
                self.forgiven,
            )
            .map_err(cannot)?;
        step.fair_regret = Some(fair);
        step.exact = regret.exact;
        let number = self.probe_of(action).and_then(|probe| {
            self.survey
                .probes
                .iter()
                .position(|p| *p == probe)
                .map(|i| i as u32)
        });
        let elsewhere: Vec<_> = self
            .survey
            .problem
            .tests
            .iter()
            .filter(|t| Some(t.probe) == number && t.state != state_after)
            .collect();
        let shown = elsewhere.iter().map(|t| t.outcomes.as_slice());
        step.poor = poor_check(outcomes, shown, &self.belief).map_err(cannot)?;
        if step.poor == Some(PoorCheck::Premature) {
            let possible = self.belief.possible();
            step.tells_in = elsewhere
                .iter()
                .find(|t| distinct(&t.outcomes, &possible) > 1)
                .map(|t| t.state);
        }
        if regret.estimate > 0.05
            && let Some(best) = self
                .planner
                .best_tests(&self.belief, self.state, 1)
                .map_err(cannot)?
                .first()
        {
            let test = &self.survey.problem.tests[best.test];
            step.better = Some(Better {
                probe: self.survey.probes[test.probe as usize].clone(),
                state: test.state,
                expected_minutes: best.total.upper,
            });
        }
        Ok(())
    }

    fn call(&self, n: usize, target: &str, failure: Failure) -> Result<CallMade, JudgeError> {
        let candidates = &self.case.scenario.candidates;
        let vehicle = &self.case.vehicle;
        let right = self
            .case
            .culprit()
            .map_or(0.0, |c| rightness(vehicle, c, target, failure));
        let rightness: Vec<f64> = candidates
            .iter()
            .map(|c| rightness(vehicle, c, target, failure))
            .collect();
        let best = rightness.iter().copied().fold(0.0, f64::max);
        // Whoever says that the relay is open has said no less than the truth, whether its coil or
        // its contacts are: everything that the words cover counts as one.
        let covered = |i: usize| best > 0.5 && rightness[i] >= best;
        let (fair_posterior, splittable) = match (0..candidates.len()).find(|i| covered(*i)) {
            Some(first) => {
                let group = self.survey.groups[first];
                let members: Vec<u32> = (0..candidates.len())
                    .filter(|i| covered(*i))
                    .map(|i| self.survey.groups[i])
                    .collect();
                let mut problem = self.survey.problem.clone();
                for g in &mut problem.groups {
                    if members.contains(g) {
                        *g = group;
                    }
                }
                let before_repair = self
                    .at_repair
                    .iter()
                    .find(|(repaired, _, ended)| *ended || repaired == target);
                let belief = before_repair.map_or(&self.belief, |(_, belief, _)| belief);
                let belief = belief.regrouped(&problem.groups);
                let proof = proof_at(&problem, &belief, group, self.state).map_err(cannot)?;
                (
                    proof.fair_posterior,
                    proof.splittable.iter().map(|s| s.hypothesis).collect(),
                )
            }
            None => (0.0, Vec::new()),
        };
        Ok(CallMade {
            n,
            target: target.to_owned(),
            failure,
            right,
            fair_posterior,
            splittable,
        })
    }
}

/// Number of different outcomes among the hypotheses still possible.
fn distinct(outcomes: &[u8], possible: &[usize]) -> usize {
    let mut seen: Vec<u8> = possible.iter().map(|i| outcomes[*i]).collect();
    seen.sort_unstable();
    seen.dedup();
    seen.len()
}
