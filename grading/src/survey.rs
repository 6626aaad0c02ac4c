//! Every test worth planning for, tried under every candidate fault: the planning problem of a case.
//!
//! Nothing here is a table of answers: car states come from the scenario, outcomes from sessions.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tracebay_core::circuit::SolveError;
use tracebay_core::fault::Method;
use tracebay_core::scenario::{Candidate, CarState, Case, Shows, Step};
use tracebay_core::session::minutes::STANDARD;
use tracebay_core::session::{Action, Item, Observation, PointKind, Session};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::{Kind, Role, Station, Vehicle, split_pin};

use crate::plan::{Problem, StateInfo, TestInfo};
use crate::signs;

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
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// What is perceived.
    Seen(Vec<Observation>),
    /// Whether the complaint is still there.
    Complaint(bool),
}

/// The planning problem of a case with what its numbers stand for.
#[derive(Clone, Debug)]
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
#[derive(Clone, Debug, Default, PartialEq)]
struct Configuration {
    controls: BTreeMap<String, String>,
    out: BTreeSet<String>,
    running: bool,
    seconds: f64,
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
pub fn groups(candidates: &[Candidate]) -> Vec<u32> {
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
                        .map(|f| (f.at.clone(), crate::judge::method_for(f)))
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
    minutes
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
    /// Surveys a case. Worlds are independent of each other and are spread over the processor's
    /// cores; the result does not depend on how many there are.
    ///
    /// # Errors
    /// A candidate's car has no operating point.
    pub fn of(case: &Case) -> Result<Survey, SolveError> {
        let case = &case.with_sound_tools();
        let candidates = &case.scenario.candidates;
        let states = case.scenario.states.clone();
        // For each state and probe, the outcome under each candidate.
        let mut table: BTreeMap<(usize, Probe), Vec<Option<Outcome>>> = BTreeMap::new();
        for (i, outcomes) in in_parallel(candidates.len(), |i| world_outcomes(case, i))?
            .into_iter()
            .enumerate()
        {
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
        let groups = groups(candidates);
        let problem = Problem {
            priors: candidates.iter().map(|c| c.prior).collect(),
            groups: groups.clone(),
            states: states
                .iter()
                .map(|s| StateInfo {
                    name: s.label.clone(),
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
        Ok(Survey {
            problem,
            probes,
            states,
            groups,
            shown,
            configurations,
        })
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
            let distance = 4 * running + 2 * controls + c.out.symmetric_difference(&out).count();
            if distance < best.0 {
                best = (distance, i);
            }
        }
        best.1
    }
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
        Probe::Ohms { .. } => m("put") + m("touch"),
        Probe::Bridge { .. } => m("put") + m("touch"),
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

/// Works out something for each index, on all cores where the platform has threads; results come in
/// the order of the indices.
fn in_parallel<T: Send, E: Send>(
    count: usize,
    work: impl Fn(usize) -> Result<T, E> + Sync,
) -> Result<Vec<T>, E> {
    #[cfg(not(target_arch = "wasm32"))]
    {
        let cores = std::thread::available_parallelism()
            .map_or(1, usize::from)
            .min(count.max(1));
        let mut results: Vec<(usize, Result<T, E>)> = std::thread::scope(|scope| {
            let handles: Vec<_> = (0..cores)
                .map(|core| {
                    let work = &work;
                    scope.spawn(move || {
                        (core..count)
                            .step_by(cores)
                            .map(|i| (i, work(i)))
                            .collect::<Vec<_>>()
                    })
                })
                .collect();
            handles
                .into_iter()
                .flat_map(|h| h.join().unwrap_or_default())
                .collect()
        });
        results.sort_by_key(|(i, _)| *i);
        results.into_iter().map(|(_, r)| r).collect()
    }
    #[cfg(target_arch = "wasm32")]
    {
        (0..count).map(work).collect()
    }
}

/// A probe in a state by its index, and what it tells.
type Told = ((usize, Probe), Outcome);

/// Every probe in every state in the world of one candidate.
fn world_outcomes(case: &Case, candidate: usize) -> Result<Vec<Told>, SolveError> {
    let fresh = Session::new(Arc::new(case.with_candidate(candidate)))?;
    let mut found = Vec::new();
    for (i, state) in case.scenario.states.iter().enumerate() {
        let mut session = fresh.clone();
        session.drive(&state.steps);
        in_state(
            &mut session,
            case,
            candidate,
            i == 0,
            &mut |probe, outcome| found.push(((i, probe), outcome)),
        );
    }
    Ok(found)
}

fn attempt(session: &Session, actions: &[Action]) -> Option<Vec<Observation>> {
    let mut tried = session.clone();
    let mut last = Vec::new();
    for action in actions {
        match tried.perform(action) {
            Ok(seen) => last = seen,
            Err(tracebay_core::session::Refusal::AlreadySo) => {}
            // Some of the car is only within reach from the other station.
            Err(tracebay_core::session::Refusal::GoFirst { station }) => {
                tried.perform(&Action::Go(station)).ok()?;
                match tried.perform(action) {
                    Ok(seen) => last = seen,
                    Err(tracebay_core::session::Refusal::AlreadySo) => {}
                    Err(_) => return None,
                }
            }
            Err(_) => return None,
        }
    }
    Some(last)
}

fn in_state(
    session: &mut Session,
    case: &Case,
    candidate: usize,
    as_found: bool,
    tell: &mut dyn FnMut(Probe, Outcome),
) {
    let _ = session.perform(&Action::Go(Station::Bay));
    let covers: Vec<String> = session.covers().map(str::to_owned).collect();
    for cover in covers {
        let _ = session.perform(&Action::Uncover(cover));
    }
    let Some((neg, pos)) = posts(session) else {
        return;
    };
    let socket = case.scenario.socket.as_ref();
    let cavities: Vec<String> = session
        .points()
        .iter()
        .filter(|p| Some(&p.part) == socket && p.kind == PointKind::Cavity)
        .map(|p| p.id.clone())
        .collect();
    // A clip on the battery stays there while one probes under the dash: leads are long enough.
    let mut seated = session.clone();
    let _ = seated.perform(&Action::Go(Station::Seat));
    let points: Vec<String> = cavities
        .iter()
        .chain(&case.scenario.probes)
        .filter(|p| session.reach(p).is_ok() || seated.reach(p).is_ok())
        .filter(|p| !in_moving_parts(session, p))
        .cloned()
        .collect();
    let sensor_lines = sensor_lines(&case.vehicle);
    let has = |tool| case.scenario.tools.contains(&tool);
    for (to_positive, post) in [(false, &neg), (true, &pos)] {
        if !has(ToolKind::TestLight) {
            break;
        }
        let mut s = session.clone();
        let clip = Action::Put {
            tool: ToolKind::TestLight,
            lead: Lead::Clip,
            point: post.clone(),
        };
        if s.perform(&clip).is_err() {
            continue;
        }
        let mut swept = Vec::new();
        // A filament light asks more of a sensor's line than it can give: nobody is advised to.
        for point in points.iter().filter(|p| !sensor_lines.contains(*p)) {
            if let Some(seen) = s.would_show(ToolKind::TestLight, point) {
                if cavities.contains(point) {
                    swept.push(seen.clone());
                }
                tell(
                    Probe::Light {
                        to_positive,
                        point: point.clone(),
                    },
                    Outcome::Seen(vec![seen]),
                );
            }
        }
        if let Some(socket) = socket
            && swept.len() > 1
        {
            tell(
                Probe::Sweep {
                    to_positive,
                    socket: socket.clone(),
                },
                Outcome::Seen(swept),
            );
        }
    }
    if has(ToolKind::Meter) {
        let mut s = session.clone();
        let _ = s.perform(&Action::Dial(Dial::Volts));
        let clip = Action::Put {
            tool: ToolKind::Meter,
            lead: Lead::Black,
            point: neg.clone(),
        };
        if s.perform(&clip).is_ok() {
            for point in &points {
                if let Some(seen) = s.would_show(ToolKind::Meter, point) {
                    tell(
                        Probe::Volts {
                            point: point.clone(),
                        },
                        Outcome::Seen(vec![seen]),
                    );
                }
            }
        }
    }
    for place in looked_at(case) {
        let look = [
            Action::Light(Some(place.clone())),
            Action::Look(place.clone()),
        ];
        if let Some(seen) = attempt(session, &look) {
            tell(Probe::Look { place }, Outcome::Seen(seen));
        }
    }
    if let Some(ac) = &case.vehicle.air_conditioning
        && let Some(part) = case.vehicle.parts.get(&ac.blower)
    {
        let actions = [Action::Go(Station::Seat), Action::Feel(part.place.clone())];
        if let Some(seen) = attempt(session, &actions) {
            tell(
                Probe::Feel {
                    place: part.place.clone(),
                },
                Outcome::Seen(seen),
            );
        }
    }
    if has(ToolKind::Gauge)
        && let Some(seen) = attempt(session, &[Action::Gauge(true)])
    {
        tell(Probe::Gauge, Outcome::Seen(seen));
    }
    // Taking things apart tells the same in every state with the key off, so it is planned for in
    // the car as found only.
    if as_found {
        hands_on(session, case, candidate, tell);
    }
}

/// A hand at this point would be among belts and fans with the engine running: no plan sends one
/// there.
fn in_moving_parts(session: &Session, point: &str) -> bool {
    let info = session.points().iter().find(|p| p.id == point);
    session.engine_running()
        && info
            .and_then(|p| session.case().vehicle.places.get(&p.place))
            .is_some_and(|place| place.moving_parts)
}

/// Pins on the lines of sensors: the sensors' own, and what wires and joints carry them to.
fn sensor_lines(vehicle: &Vehicle) -> BTreeSet<String> {
    let part_of = |pin: &str| split_pin(pin).and_then(|(part, _)| vehicle.parts.get(part));
    let mut lines: BTreeSet<String> = BTreeSet::new();
    let mut next: Vec<String> = Vec::new();
    for wire in vehicle.wires.values() {
        for pin in [&wire.from, &wire.to] {
            if part_of(pin).is_some_and(|p| {
                matches!(
                    p.kind,
                    Kind::PressureSensor { .. } | Kind::Thermistor { .. }
                )
            }) {
                next.push(pin.clone());
            }
        }
    }
    while let Some(pin) = next.pop() {
        if !lines.insert(pin.clone()) {
            continue;
        }
        for wire in vehicle.wires.values() {
            if wire.from == pin {
                next.push(wire.to.clone());
            }
            if wire.to == pin {
                next.push(wire.from.clone());
            }
        }
        if let Some((part, name)) = split_pin(&pin)
            && matches!(
                vehicle.parts.get(part).map(|p| &p.kind),
                Some(Kind::Inline { .. })
            )
        {
            // The other half of the same cavity.
            let other = match name.strip_suffix('a') {
                Some(cavity) => format!("{part}.{cavity}b"),
                None => format!("{part}.{}a", name.trim_end_matches('b')),
            };
            next.push(other);
        }
    }
    lines
}

/// Probes that take something apart.
fn hands_on(
    session: &Session,
    case: &Case,
    candidate: usize,
    tell: &mut dyn FnMut(Probe, Outcome),
) {
    let suspects =
        |id: &String| case.scenario.suspects.is_empty() || case.scenario.suspects.contains(id);
    for (id, _) in case
        .vehicle
        .connectors
        .iter()
        .filter(|(id, c)| suspects(id) && !c.off_limits)
    {
        if let Some(seen) = attempt(session, &[Action::Plug(id.clone())]) {
            tell(
                Probe::Press {
                    connector: id.clone(),
                },
                Outcome::Seen(seen),
            );
        }
        let actions = [Action::Unplug(id.clone()), Action::Inspect(id.clone())];
        if let Some(seen) = attempt(session, &actions) {
            tell(Probe::Inspect { what: id.clone() }, Outcome::Seen(seen));
        }
    }
    for (id, _) in case
        .vehicle
        .parts
        .iter()
        .filter(|(id, p)| suspects(id) && matches!(p.kind, Kind::Fuse { .. } | Kind::Relay(_)))
    {
        let actions = [Action::Pull(id.clone()), Action::Inspect(id.clone())];
        if let Some(seen) = attempt(session, &actions) {
            tell(Probe::Inspect { what: id.clone() }, Outcome::Seen(seen));
        }
    }
    for part in &case.scenario.spares {
        // A spare changes nothing where the part in the slot is sound, and every candidate makes
        // the complaint true.
        if !case.scenario.candidates[candidate]
            .faults
            .iter()
            .any(|f| f.at == *part)
        {
            tell(Probe::Swap { part: part.clone() }, Outcome::Complaint(true));
            continue;
        }
        let mut swapped = session.clone();
        // Some boxes are reached from the seat only.
        let place = case.vehicle.parts.get(part).map(|p| &p.place);
        if let Some(place) = place.and_then(|p| case.vehicle.places.get(p)) {
            let _ = swapped.perform(&Action::Go(place.station));
        }
        let _ = swapped.perform(&Action::Pull(part.clone()));
        let fit = Action::Fit {
            part: part.clone(),
            item: Item::Spare,
            turned: false,
        };
        if swapped.perform(&fit).is_err() {
            continue;
        }
        if let Ok(shows) = swapped.complaint_shows() {
            tell(
                Probe::Swap { part: part.clone() },
                Outcome::Complaint(shows),
            );
        }
    }
}

/// Places where something of the scenario's suspects can be seen.
fn looked_at(case: &Case) -> BTreeSet<String> {
    let vehicle = &case.vehicle;
    let mut places = BTreeSet::new();
    for candidate in &case.scenario.candidates {
        for fault in &candidate.faults {
            if let Some(c) = vehicle.connectors.get(&fault.at) {
                places.insert(c.place.clone());
            }
            let part = vehicle.parts.get(&fault.at).or_else(|| {
                let pin = vehicle
                    .wires
                    .get(&fault.at)
                    .map_or(fault.at.as_str(), |w| w.to.as_str());
                tracebay_core::vehicle::split_pin(pin).and_then(|(p, _)| vehicle.parts.get(p))
            });
            if let Some(p) = part {
                places.insert(p.place.clone());
            }
        }
    }
    if let Some(ac) = &vehicle.air_conditioning {
        for id in std::iter::once(&ac.clutch).chain(&ac.fans) {
            if let Some(p) = vehicle.parts.get(id) {
                places.insert(p.place.clone());
            }
        }
    }
    places.retain(|p| {
        vehicle
            .places
            .get(p)
            .is_some_and(|p| p.station != Station::Seat)
    });
    places
}
