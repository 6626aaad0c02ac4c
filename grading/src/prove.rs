//! Whether a scenario is fit to be given to anybody: what can be proved of it by simulation.
//!
//! For its author and for continuous integration. Looks at every candidate fault, so it must never
//! be shown to a learner. Knows no files: what it is asked about has been read and checked.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tracebay_core::circuit::SolveError;
use tracebay_core::scenario::{Case, Scenario, Step};
use tracebay_core::session::Session;
use tracebay_core::source::Told;
use tracebay_core::vehicle::Vehicle;

use crate::belief::Belief;
use crate::plan::{Limits, Planner};
use crate::survey::Survey;

/// Seeds a scenario is tried with: weather, layout and tolerances differ.
pub const SEEDS: [u64; 2] = [1, 2];
/// Search steps for the best plan. Enough for most scenarios to be exact.
const PLAN_STEPS: u64 = 60_000;

/// Something that must be put right before a scenario is given out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "what")]
pub enum Weakness {
    /// The car's circuits have no operating point.
    NoOperatingPoint {
        /// What the solver says.
        why: String,
    },
    /// The complaint is true of a car with nothing wrong.
    SoundCarShowsIt {
        /// Seed it was tried with.
        seed: u64,
    },
    /// The complaint is not true under a candidate.
    ComplaintNotTrue {
        /// Candidate id.
        candidate: String,
        /// Seed it was tried with.
        seed: u64,
    },
    /// No allowed test tells two candidates apart, and they are not declared as one group.
    Alike {
        /// Candidate id.
        a: String,
        /// Candidate id.
        b: String,
        /// Seed it was tried with.
        seed: u64,
    },
    /// The best plan takes longer than the customer's patience.
    OverBudget {
        /// Candidate id.
        candidate: String,
        /// Minutes of the best plan to a proven call on it.
        minutes: f64,
    },
    /// A car state whose steps cannot be taken.
    StateNotReached {
        /// State id.
        state: String,
        /// What is not as its steps say.
        missing: String,
    },
    /// A text that says what kind of thing is wrong, or where.
    Tells {
        /// The text.
        text: String,
        /// The word in it.
        word: String,
    },
    /// The list of suspects is hardly longer than the list of culprits, so it is the answer.
    FewSuspects {
        /// Suspects listed.
        suspects: usize,
        /// Places of faults among the candidates.
        culprits: usize,
    },
}

/// What was proved of a scenario.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Proof {
    /// Scenario id.
    pub scenario: String,
    /// Its version.
    pub version: u32,
    /// Vehicle id.
    pub vehicle: String,
    /// Difficulty as its author sees it, 1 to 5.
    pub difficulty: u8,
    /// Candidate faults.
    pub candidates: usize,
    /// Candidates with another repair: what a call has to tell apart.
    pub repairs: usize,
    /// Tests that tell anything.
    pub tests: usize,
    /// Expected minutes to a proven call under the best known plan.
    pub best_minutes: f64,
    /// No plan can do better than this.
    pub best_minutes_at_least: f64,
    /// The best plan is exact.
    pub exact: bool,
    /// Minutes of that plan on the candidate it takes longest for.
    pub longest_minutes: f64,
    /// Most tests in a row on any way through that plan.
    pub depth: usize,
    /// What the customer would accept, minutes.
    pub budget_minutes: f64,
    /// What must be put right.
    pub weaknesses: Vec<Weakness>,
}

/// Words that would tell what kind of thing is wrong, or where.
pub const TELLING: &[&str] = &[
    "fuse",
    "relay",
    "blown",
    "wire",
    "wiring",
    "corros",
    "sensor",
    "gap",
    "leak",
    "gas",
    "recharge",
    "ground",
    "earth",
    "terminal",
    "connector",
    "loose",
    "burnt",
    "unplugged",
    "socket",
    "coil",
    "contact",
    "short",
    "crossed",
];

/// Proves what can be proved of a scenario on its vehicle.
pub fn prove(scenario: &Arc<Scenario>, vehicle: &Arc<Vehicle>) -> Proof {
    let mut proof = Proof {
        scenario: scenario.id.clone(),
        version: scenario.version,
        vehicle: vehicle.id.clone(),
        difficulty: scenario.difficulty,
        candidates: scenario.candidates.len(),
        repairs: 0,
        tests: 0,
        best_minutes: 0.0,
        best_minutes_at_least: 0.0,
        exact: false,
        longest_minutes: 0.0,
        depth: 0,
        budget_minutes: scenario.budget_minutes,
        weaknesses: Vec::new(),
    };
    texts(scenario, vehicle, &mut proof.weaknesses);
    let solved = states(scenario, vehicle, &mut proof.weaknesses)
        .and_then(|()| complaint(scenario, vehicle, &mut proof.weaknesses))
        .map_err(|e| e.to_string())
        .and_then(|()| plan(scenario, vehicle, &mut proof));
    if let Err(why) = solved {
        proof.weaknesses.push(Weakness::NoOperatingPoint { why });
    }
    proof
}

/// No text a learner reads before the call says what is wrong.
fn texts(scenario: &Scenario, vehicle: &Vehicle, found: &mut Vec<Weakness>) {
    let texts = scenario.complaints.iter().chain([&scenario.title]);
    // The words looked for are English, as the files are.
    for text in texts.map(Told::as_written) {
        let words = text
            .split(|c: char| !c.is_alphanumeric() && c != '_')
            .map(str::to_lowercase);
        for word in words {
            // Slots are named F9, K3: a customer does not know them.
            let slot = vehicle
                .parts
                .iter()
                .any(|(id, p)| p.kind.plugs_in() && id.to_lowercase() == word);
            if slot || TELLING.iter().any(|t| word.starts_with(t)) {
                let text = text.to_owned();
                found.push(Weakness::Tells { text, word });
            }
        }
    }
    let culprits: BTreeSet<&String> = scenario
        .candidates
        .iter()
        .flat_map(|c| &c.faults)
        .map(|f| &f.at)
        .collect();
    let (suspects, culprits) = (scenario.suspects.len(), culprits.len());
    if suspects > 0 && suspects * 2 < culprits * 3 {
        found.push(Weakness::FewSuspects { suspects, culprits });
    }
}

/// The planner's car states are what their steps say, on the sound car.
fn states(
    scenario: &Arc<Scenario>,
    vehicle: &Arc<Vehicle>,
    found: &mut Vec<Weakness>,
) -> Result<(), SolveError> {
    let case = Arc::new(Case::with(
        scenario.clone(),
        vehicle.clone(),
        SEEDS[0],
        None,
    ));
    for state in &scenario.states {
        let mut car = Session::new(case.clone())?;
        car.drive(&state.steps);
        let view = car.view();
        for step in &state.steps {
            let missing = match step {
                Step::Set(control, to) => {
                    let last = state.steps.iter().rev().find_map(|s| match s {
                        Step::Set(c, to) if c == control => Some(to),
                        _ => None,
                    });
                    // A starter key springs back by itself.
                    let sprung = to == "start" && view.controls.contains_key(control);
                    (last == Some(to) && !sprung && view.controls.get(control) != Some(to))
                        .then(|| format!("{control} at {to}"))
                }
                Step::Wait(_) => None,
                Step::Spray(place) => (!view.wet.contains(place)).then(|| format!("{place} wet")),
                Step::Pull(part) => (!view.pulled.contains(part)).then(|| format!("{part} out")),
                Step::Unplug(plug) => {
                    (!view.unplugged.contains(plug)).then(|| format!("{plug} off"))
                }
            };
            if let Some(missing) = missing {
                let state = state.id.clone();
                found.push(Weakness::StateNotReached { state, missing });
            }
        }
    }
    Ok(())
}

/// The complaint is true under every candidate, and only then.
fn complaint(
    scenario: &Arc<Scenario>,
    vehicle: &Arc<Vehicle>,
    found: &mut Vec<Weakness>,
) -> Result<(), SolveError> {
    for seed in SEEDS {
        let shows = |candidate| {
            let case = Case::with(scenario.clone(), vehicle.clone(), seed, candidate);
            Session::new(Arc::new(case))?.complaint_shows()
        };
        if shows(None)? {
            found.push(Weakness::SoundCarShowsIt { seed });
        }
        for (i, candidate) in scenario.candidates.iter().enumerate() {
            if !shows(Some(i))? {
                let candidate = candidate.id.clone();
                found.push(Weakness::ComplaintNotTrue { candidate, seed });
            }
        }
    }
    Ok(())
}

/// Any two candidates can be told apart, and a proven call is reachable in time.
fn plan(scenario: &Arc<Scenario>, vehicle: &Arc<Vehicle>, proof: &mut Proof) -> Result<(), String> {
    let mut told = None;
    for seed in SEEDS {
        let case = Case::with(scenario.clone(), vehicle.clone(), seed, None);
        let survey = Survey::of(&case).map_err(|e| e.to_string())?;
        let everyone: Vec<usize> = (0..scenario.candidates.len()).collect();
        alike(scenario, &survey, seed, &everyone, proof);
        told.get_or_insert(survey);
        // One met in weather of its own must be told from the others in that weather.
        for i in everyone {
            if seed == SEEDS[0] && scenario.candidates[i].weather.is_some() {
                let case = Case::with(scenario.clone(), vehicle.clone(), seed, Some(i));
                let survey = Survey::of(&case).map_err(|e| e.to_string())?;
                alike(scenario, &survey, seed, &[i], proof);
            }
        }
    }
    let Some(survey) = told else { return Ok(()) };
    let limits = Limits {
        steps: PLAN_STEPS,
        ..Limits::default()
    };
    let mut planner = Planner::new(&survey.problem, limits).map_err(|e| e.to_string())?;
    let belief = Belief::of(&survey.problem).map_err(|e| e.to_string())?;
    let best = planner
        .expected_minutes(&belief, 0)
        .map_err(|e| e.to_string())?;
    let tree = planner.plan_tree(&belief, 0).map_err(|e| e.to_string())?;
    let groups: BTreeSet<u32> = survey.groups.iter().copied().collect();
    proof.repairs = groups.len();
    proof.tests = survey.problem.tests.len();
    proof.best_minutes = best.upper;
    proof.best_minutes_at_least = best.lower;
    proof.exact = best.exact;
    proof.depth = tree.depth();
    for (i, candidate) in scenario.candidates.iter().enumerate() {
        let route = tree.route(&survey.problem, i);
        let minutes = route.last().map_or(0.0, |step| step.minutes_so_far);
        if minutes > proof.longest_minutes {
            proof.longest_minutes = minutes;
        }
        if minutes > scenario.budget_minutes {
            let candidate = candidate.id.clone();
            proof
                .weaknesses
                .push(Weakness::OverBudget { candidate, minutes });
        }
    }
    Ok(())
}

/// Notes pairs with one of `of` that no test of the survey tells apart.
fn alike(scenario: &Scenario, survey: &Survey, seed: u64, of: &[usize], proof: &mut Proof) {
    for i in of {
        for j in 0..scenario.candidates.len() {
            let declared = survey.groups[*i] == survey.groups[j];
            let counted = j == *i || (of.contains(&j) && j < *i);
            if counted || declared || survey.problem.separable(*i, j) {
                continue;
            }
            proof.weaknesses.push(Weakness::Alike {
                a: scenario.candidates[*i].id.clone(),
                b: scenario.candidates[j].id.clone(),
                seed,
            });
        }
    }
}
