//! Every test worth planning for, tried under every candidate fault: the planning problem of a case.
//!
//! Nothing here is a table of answers: car states come from the scenario, outcomes from sessions.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use tracebay_core::circuit::SolveError;
use tracebay_core::fault::Method;
use tracebay_core::scenario::{Candidate, CarState, Case, Shows, Step};
use tracebay_core::session::minutes::STANDARD;
use tracebay_core::session::{MeterDisplay, Observation, Session};
use tracebay_core::vehicle::{Kind, Role, Vehicle};

use crate::plan::{Problem, StateInfo, TestInfo};
use crate::signs;
use crate::worlds::Worlds;

mod keep;
mod parallel;
mod socket;
mod trial;

pub use keep::kept_name;

use parallel::in_parallel;
pub(crate) use socket::load_cavities;
use trial::{Plan, world_outcomes};

/// A test a person could make, in words the faces can render.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Probe {
    /// A light clipped to one battery post, touching a point.
    Light {
        /// Clipped to the positive post instead of ground.
        to_positive: bool,
        /// Point touched.
        point: String,
    },
    /// A light clipped to one battery post, touching all cavities of a socket.
    Sweep {
        /// Clipped to the positive post instead of ground.
        to_positive: bool,
        /// Relay whose socket it is.
        socket: String,
    },
    /// Volts from a point to the negative post.
    Volts {
        /// Point touched.
        point: String,
    },
    /// Ohms between two points.
    Ohms {
        /// One point.
        a: String,
        /// The other.
        b: String,
    },
    /// Bridge the load side of a socket.
    Bridge {
        /// Relay whose socket it is.
        socket: String,
    },
    /// Look at a place, with the lamp where it is dark.
    Look {
        /// Place.
        place: String,
    },
    /// Feel at a place.
    Feel {
        /// Place.
        place: String,
    },
    /// Pull and look at a fuse or relay, or unplug and look at a connector's face.
    Inspect {
        /// Fuse, relay or connector.
        what: String,
    },
    /// Press a connector home.
    Press {
        /// Connector.
        connector: String,
    },
    /// Read the low-side gauge.
    Gauge,
    /// Fit a known-good spare and try the complaint again.
    Swap {
        /// Relay or fuse.
        part: String,
    },
}

/// What a probe tells.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Outcome {
    /// What is perceived.
    Seen(Vec<Observation>),
    /// Whether the complaint is still there.
    Complaint(bool),
}

/// The planning problem of a case with what its numbers stand for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Survey {
    /// The problem.
    pub problem: Problem,
    /// What each test's probe number stands for.
    pub probes: Vec<Probe>,
    /// Car states of the scenario.
    pub states: Vec<CarState>,
    /// Candidates' repair groups, by candidate.
    pub groups: Vec<u32>,
    /// For each test, what each of its outcome classes looks like on this car.
    pub shown: Vec<BTreeMap<u8, Outcome>>,
    configurations: Vec<Configuration>,
}

/// What distinguishes car states: control positions and what is pulled or unplugged.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
struct Configuration {
    controls: BTreeMap<String, String>,
    out: BTreeSet<String>,
    running: bool,
    seconds: f64,
    /// Places sprayed.
    wet: BTreeSet<String>,
}

fn standard(case: &Case, key: &str) -> f64 {
    case.scenario
        .minutes
        .get(key)
        .copied()
        .or_else(|| STANDARD.iter().find(|(k, _)| *k == key).map(|(_, m)| *m))
        .unwrap_or(0.0)
}

/// Candidates that are repaired alike: the same declared group, or the same places put right by the
/// same methods. Whether a relay's coil or its contacts failed, it is the relay that is replaced.
pub fn groups(vehicle: &Vehicle, candidates: &[Candidate]) -> Vec<u32> {
    type Repair = (Option<String>, Vec<(String, Method)>);
    let mut known: BTreeMap<Repair, u32> = BTreeMap::new();
    candidates
        .iter()
        .map(|c| {
            let key = match &c.group {
                Some(g) => (Some(g.clone()), Vec::new()),
                None => {
                    let mut what: Vec<(String, Method)> = c
                        .faults
                        .iter()
                        .map(|f| (f.at.clone(), crate::judge::method_for(vehicle, f)))
                        .collect();
                    what.sort();
                    (None, what)
                }
            };
            let next = known.len() as u32;
            *known.entry(key).or_insert(next)
        })
        .collect()
}

fn configuration(case: &Case, state: &CarState) -> Configuration {
    let mut c = Configuration::default();
    for (id, control) in &case.vehicle.controls {
        c.controls.insert(id.clone(), control.positions[0].clone());
    }
    for step in &state.steps {
        match step {
            Step::Set(control, to) => {
                // The starter position springs back; a car that will not start does not run.
                if case
                    .vehicle
                    .controls
                    .get(control)
                    .is_some_and(|c| c.role == Role::Key)
                {
                    let starts = case.scenario.symptom.shows != Shows::NoStart;
                    c.running = (to == "start" && starts) || (c.running && to == "on");
                }
                let to = if to == "start" { "on" } else { to };
                c.controls.insert(control.clone(), to.to_owned());
            }
            Step::Wait(seconds) => c.seconds += seconds,
            Step::Spray(place) => {
                c.wet.insert(place.clone());
            }
            Step::Pull(part) | Step::Unplug(part) => {
                c.out.insert(part.clone());
            }
        }
    }
    c
}

fn change_minutes(case: &Case, from: &Configuration, to: &Configuration) -> f64 {
    let controls = to
        .controls
        .iter()
        .filter(|(k, v)| from.controls.get(*k) != Some(v))
        .count();
    let pulled = to.out.difference(&from.out).count();
    let fitted = from.out.difference(&to.out).count();
    let mut minutes = controls as f64 * standard(case, "set")
        + pulled as f64 * standard(case, "pull")
        + fitted as f64 * standard(case, "fit");
    if controls > 0 {
        minutes += 2.0 * standard(case, "go") + to.seconds / 60.0;
    }
    // What is still wet elsewhere dries by itself while one works.
    let sprayed = to.wet.difference(&from.wet).count();
    if sprayed > 0 && from.running && to.running {
        // Water goes on with the engine stopped: off, sprayed, started again.
        minutes += 2.0 * standard(case, "set") + 2.0 * standard(case, "go") + to.seconds / 60.0;
    }
    minutes + sprayed as f64 * standard(case, "spray")
}

/// The battery's posts as points.
fn posts(session: &Session) -> Option<(String, String)> {
    let battery = session
        .case()
        .vehicle
        .parts
        .iter()
        .find(|(_, p)| matches!(p.kind, Kind::Battery { .. }))
        .map(|(id, _)| id.clone())?;
    Some((format!("{battery}:neg"), format!("{battery}:pos")))
}

impl Survey {
    /// Surveys a case.
    ///
    /// # Errors
    /// A candidate's car has no operating point.
    pub fn of(case: &Case) -> Result<Survey, SolveError> {
        Ok(Survey::in_worlds(&Worlds::new(case)?, None))
    }

    /// Surveys a case in worlds in which nothing was done yet. They are independent of each other and
    /// are spread over so many threads, or one for each core; the result does not depend on how many
    /// there are.
    #[must_use]
    pub fn in_worlds(worlds: &Worlds, threads: Option<usize>) -> Survey {
        let case = &worlds.case().with_sound_tools();
        let worlds = worlds.candidates();
        let candidates = &case.scenario.candidates;
        let states = case.scenario.states.clone();
        let plan = Plan::new(case);
        let told = in_parallel(candidates.len(), threads, |i| {
            world_outcomes(case, &plan, i, &worlds[i])
        });
        // For each state and probe, the outcome under each candidate.
        let mut table: BTreeMap<(usize, Probe), Vec<Option<Outcome>>> = BTreeMap::new();
        for (i, outcomes) in told.into_iter().enumerate() {
            for ((state, probe), outcome) in outcomes {
                table
                    .entry((state, probe))
                    .or_insert_with(|| vec![None; candidates.len()])[i] = Some(outcome);
            }
        }
        let configurations: Vec<Configuration> =
            states.iter().map(|s| configuration(case, s)).collect();
        let mut probes: Vec<Probe> = Vec::new();
        let mut tests = Vec::new();
        let mut shown = Vec::new();
        for ((state, probe), outcomes) in table {
            if outcomes.iter().flatten().any(live) {
                continue;
            }
            let classes = classes(&outcomes);
            if classes.iter().all(|c| *c == classes[0]) {
                continue;
            }
            let mut looks: BTreeMap<u8, Outcome> = BTreeMap::new();
            for (class, outcome) in classes.iter().zip(outcomes) {
                let look = outcome.unwrap_or(Outcome::Seen(Vec::new()));
                looks.entry(*class).or_insert(look);
            }
            shown.push(looks);
            let number = probes.iter().position(|p| *p == probe).unwrap_or_else(|| {
                probes.push(probe.clone());
                probes.len() - 1
            });
            tests.push(TestInfo {
                id: tests.len() as u32,
                probe: number as u32,
                state,
                minutes: probe_minutes(case, &probe),
                outcomes: classes,
            });
        }
        let groups = groups(&case.vehicle, candidates);
        let problem = Problem {
            priors: candidates.iter().map(|c| c.prior).collect(),
            groups: groups.clone(),
            states: states
                .iter()
                .map(|s| StateInfo {
                    name: s.label.as_written().to_owned(),
                })
                .collect(),
            change_minutes: configurations
                .iter()
                .map(|from| {
                    configurations
                        .iter()
                        .map(|to| change_minutes(case, from, to))
                        .collect()
                })
                .collect(),
            tests,
        };
        Survey {
            problem,
            probes,
            states,
            groups,
            shown,
            configurations,
        }
    }

    /// The declared state nearest to what the car is in now, by its controls and empty slots.
    pub fn nearest_state(&self, session: &mut Session) -> usize {
        let case = session.case().clone();
        let view = session.view();
        let mut best = (usize::MAX, 0);
        for (i, c) in self.configurations.iter().enumerate() {
            let controls = c
                .controls
                .iter()
                .filter(|(k, v)| {
                    // The hose is a matter of safety, not of what the car shows.
                    case.vehicle
                        .controls
                        .get(*k)
                        .is_some_and(|c| c.role != Role::ExhaustHose)
                        && view.controls.get(*k) != Some(v)
                })
                .count();
            let out: BTreeSet<String> =
                view.pulled.iter().chain(&view.unplugged).cloned().collect();
            let running = usize::from(c.running != view.engine_running);
            let distance = 4 * running
                + 2 * controls
                + c.out.symmetric_difference(&out).count()
                + c.wet.symmetric_difference(&view.wet).count();
            if distance < best.0 {
                best = (distance, i);
            }
        }
        best.1
    }
}

/// Ohms that would be measured where there may be current: nobody is advised to.
fn live(outcome: &Outcome) -> bool {
    let nonsense = |seen: &Observation| {
        matches!(
            seen,
            Observation::Meter {
                display: MeterDisplay::Nonsense { .. },
                ..
            }
        )
    };
    matches!(outcome, Outcome::Seen(seen) if seen.iter().any(nonsense))
}

/// Outcome classes, one for each candidate. A world in which the probe is not possible shows nothing.
fn classes(outcomes: &[Option<Outcome>]) -> Vec<u8> {
    let complaint = outcomes
        .iter()
        .any(|o| matches!(o, Some(Outcome::Complaint(_))));
    if complaint {
        return outcomes
            .iter()
            .map(|o| u8::from(*o == Some(Outcome::Complaint(false))))
            .collect();
    }
    let seen: Vec<Vec<Observation>> = outcomes
        .iter()
        .map(|o| match o {
            Some(Outcome::Seen(seen)) => seen.clone(),
            _ => Vec::new(),
        })
        .collect();
    signs::classes(&seen)
}

/// Minutes of a probe once the car is in its state.
fn probe_minutes(case: &Case, probe: &Probe) -> f64 {
    let m = |key| standard(case, key);
    match probe {
        // The clip is counted every time, though it often stays where it is: rather too kind to the
        // learner than a plan that nobody's hands could keep up with.
        Probe::Light { .. } | Probe::Volts { .. } => m("put") + m("touch"),
        Probe::Sweep { .. } => m("put") + m("sweep"),
        // What is measured was pulled for it, and goes back.
        Probe::Ohms { .. } => m("pull") + m("dial") + m("put") + m("touch") + m("fit"),
        Probe::Bridge { .. } => 2.0 * m("put"),
        Probe::Look { place } => {
            let dark = case.vehicle.places.get(place).is_some_and(|p| p.dark);
            m("look") + if dark { m("light") } else { 0.0 }
        }
        Probe::Feel { .. } => m("feel"),
        Probe::Inspect { what } => {
            if case.vehicle.connectors.contains_key(what) {
                m("unplug") + m("inspect") + m("plug")
            } else {
                m("pull") + m("inspect") + m("fit")
            }
        }
        Probe::Press { .. } => m("plug"),
        Probe::Gauge => 2.0 * m("gauge") + 2.0 * m("cover") + m("protect"),
        Probe::Swap { .. } => m("pull") + m("fit") + 2.0 * m("go") + 0.5,
    }
}
