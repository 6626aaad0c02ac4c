//! Every probe worth planning for, tried in one world: the car with one candidate fault.
//!
//! Knows sessions and what a person can reach; sorts no outcomes and plans nothing.

use std::collections::BTreeSet;

use tracebay_core::scenario::{CarState, Case};
use tracebay_core::session::{Action, Item, Observation, PointKind, Refusal, Session};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::{Kind, Station, Vehicle, split_pin};

use super::{Outcome, Probe, posts, socket};

/// A probe in a state by its index, and what it tells.
pub(super) type Told = ((usize, Probe), Outcome);

/// What to try that is the same in all worlds and states.
pub(super) struct Plan {
    sensor_lines: BTreeSet<String>,
    looked_at: BTreeSet<String>,
}

impl Plan {
    pub(super) fn new(case: &Case) -> Plan {
        Plan {
            sensor_lines: sensor_lines(&case.vehicle),
            looked_at: looked_at(case),
        }
    }
}

/// Every probe in every state in the world of one candidate, in which nothing was done yet.
pub(super) fn world_outcomes(
    case: &Case,
    plan: &Plan,
    candidate: usize,
    world: &Session,
) -> Vec<Told> {
    let states = &case.scenario.states;
    let mut found = Vec::new();
    let all: Vec<usize> = (0..states.len()).collect();
    drive_to(
        world.with_sound_tools(),
        states,
        &all,
        0,
        &mut |i, mut session| {
            in_state(
                &mut session,
                case,
                plan,
                candidate,
                i == 0,
                &mut |probe, outcome| found.push(((i, probe), outcome)),
            );
        },
    );
    found
}

/// Drives a car that has done the first `done` steps of some states into each of them; what several have
/// in common is driven once. `arrived` gets each state's index and car, in no certain order.
fn drive_to(
    mut session: Session,
    states: &[CarState],
    to: &[usize],
    mut done: usize,
    arrived: &mut dyn FnMut(usize, Session),
) {
    let next = |state: &usize, done: usize| states[*state].steps.get(done);
    loop {
        let Some(first) = to.first() else { return };
        let step = next(first, done);
        if to.iter().any(|state| next(state, done) != step) {
            break;
        }
        match step {
            Some(step) => session.drive(std::slice::from_ref(step)),
            // All are the same from beginning to end.
            None => {
                for state in to {
                    arrived(*state, session.clone());
                }
                return;
            }
        }
        done += 1;
    }
    let mut left: Vec<usize> = to.to_vec();
    while let Some(first) = left.first() {
        let step = next(first, done);
        let (alike, others) = left.iter().partition(|state| next(state, done) == step);
        let alike: Vec<usize> = alike;
        drive_to(session.clone(), states, &alike, done, arrived);
        left = others;
    }
}

/// Does some things one after the other, for their last sight; the session is of no use afterwards if one
/// of them cannot be done.
pub(super) fn attempt(mut session: Session, actions: &[Action]) -> Option<Vec<Observation>> {
    look(&mut session, actions)
}

/// As [`attempt`], going on from what was done before.
fn look(session: &mut Session, actions: &[Action]) -> Option<Vec<Observation>> {
    let mut last = Vec::new();
    for action in actions {
        if let Some(seen) = step(session, action)? {
            last = seen;
        }
    }
    Some(last)
}

/// Does one thing, from the other station if need be. None inside, if it is so already; none at all,
/// if it cannot be done.
pub(super) fn step(session: &mut Session, action: &Action) -> Option<Option<Vec<Observation>>> {
    match session.try_out(action) {
        Ok(seen) => Some(Some(seen)),
        Err(Refusal::AlreadySo) => Some(None),
        // Some of the car is only within reach from the other station.
        Err(Refusal::GoFirst { station }) => {
            session.try_out(&Action::Go(station)).ok()?;
            match session.try_out(action) {
                Ok(seen) => Some(Some(seen)),
                Err(Refusal::AlreadySo) => Some(None),
                Err(_) => None,
            }
        }
        Err(_) => None,
    }
}

/// Whether somebody would suspect this part or plug.
pub(super) fn suspected(case: &Case, id: &String) -> bool {
    case.scenario.suspects.is_empty() || case.scenario.suspects.contains(id)
}

fn in_state(
    session: &mut Session,
    case: &Case,
    plan: &Plan,
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
    let socket_name = case.scenario.socket.as_ref();
    let cavities: Vec<String> = session
        .points()
        .iter()
        .filter(|p| Some(&p.part) == socket_name && p.kind == PointKind::Cavity)
        .map(|p| p.id.clone())
        .collect();
    // A clip on the battery stays there while one probes under the dash: leads are long enough.
    let in_reach = |p: &String| {
        session.reach(p).is_ok()
            || case.vehicle.has_station(Station::Seat)
                && session.reach_from(Station::Seat, p).is_ok()
    };
    let points: Vec<&String> = cavities
        .iter()
        .chain(&case.scenario.probes)
        .filter(|p| in_reach(p) && !in_moving_parts(session, p))
        .collect();
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
        if s.try_out(&clip).is_err() {
            continue;
        }
        let mut swept = Vec::new();
        // A filament light asks more of a sensor's line than it can give: nobody is advised to.
        for &point in points.iter().filter(|p| !plan.sensor_lines.contains(**p)) {
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
        if let Some(socket) = socket_name
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
        let dialled = s.try_out(&Action::Dial(Dial::Volts)).is_ok();
        let clip = Action::Put {
            tool: ToolKind::Meter,
            lead: Lead::Black,
            point: neg.clone(),
        };
        if dialled && s.try_out(&clip).is_ok() {
            for &point in &points {
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
    // Looking, feeling and reading a gauge change nothing of the car, so that one copy serves for all.
    let mut eyes = session.clone();
    for place in &plan.looked_at {
        let actions = [
            Action::Light(Some(place.clone())),
            Action::Look(place.clone()),
        ];
        if let Some(seen) = look(&mut eyes, &actions) {
            let place = place.clone();
            tell(Probe::Look { place }, Outcome::Seen(seen));
        }
    }
    if let Some(ac) = &case.vehicle.air_conditioning
        && let Some(part) = case.vehicle.parts.get(&ac.blower)
    {
        let actions = [Action::Go(Station::Seat), Action::Feel(part.place.clone())];
        if let Some(seen) = look(&mut eyes, &actions) {
            tell(
                Probe::Feel {
                    place: part.place.clone(),
                },
                Outcome::Seen(seen),
            );
        }
    }
    if has(ToolKind::Gauge)
        && let Some(seen) = look(&mut eyes, &[Action::Gauge(true)])
    {
        tell(Probe::Gauge, Outcome::Seen(seen));
    }
    socket::bridge(session, case, tell);
    // Taking things apart tells the same in every state with the key off, so it is planned for in
    // the car as found only.
    if as_found {
        hands_on(session, case, candidate, tell);
        socket::ohms(session, case, &cavities, &neg, tell);
    }
}

/// A hand at this point would be among belts and fans with the engine running: no plan sends one
/// there.
fn in_moving_parts(session: &Session, point: &str) -> bool {
    session.engine_running()
        && session
            .point(point)
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
    let suspects = |id: &String| suspected(case, id);
    for (id, _) in case
        .vehicle
        .connectors
        .iter()
        .filter(|(id, c)| suspects(id) && !c.off_limits)
    {
        if let Some(seen) = attempt(session.clone(), &[Action::Plug(id.clone())]) {
            tell(
                Probe::Press {
                    connector: id.clone(),
                },
                Outcome::Seen(seen),
            );
        }
        let actions = [Action::Unplug(id.clone()), Action::Inspect(id.clone())];
        if let Some(seen) = attempt(session.clone(), &actions) {
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
        if let Some(seen) = attempt(session.clone(), &actions) {
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
