//! Every name means something, the amounts promised are there, and no text gives an answer away.

use std::collections::BTreeSet;

use std::sync::Arc;

use tracebay_core::scenario::check::point_names;
use tracebay_core::scenario::{Case, Scenario, Shows, Step};
use tracebay_core::session::Session;
use tracebay_core::vehicle::{Blades, Kind, Marks, Role, Vehicle, split_pin};

use crate::load;

/// The trainer board of the relay bench.
const BOARD: &str = "relay-board";

fn pins(vehicle: &Vehicle) -> BTreeSet<String> {
    vehicle
        .parts
        .iter()
        .flat_map(|(id, part)| {
            part.kind
                .pins()
                .into_iter()
                .map(move |pin| format!("{id}.{pin}"))
        })
        .collect()
}

#[test]
fn names_in_vehicles_mean_something() {
    for vehicle in &load::vehicles() {
        let id = &vehicle.id;
        let pins = pins(vehicle);
        for (name, part) in &vehicle.parts {
            assert!(
                vehicle.places.contains_key(&part.place),
                "{id}: place of {name}"
            );
            if let Kind::Switch { control, ways } = &part.kind {
                let control = vehicle
                    .controls
                    .get(control)
                    .unwrap_or_else(|| panic!("{id}: {name} is moved by unknown {control}"));
                for position in ways.iter().flat_map(|w| &w.closed_in) {
                    assert!(
                        control.positions.contains(position),
                        "{id}: {name} {position}"
                    );
                }
            }
        }
        let mut used = BTreeSet::new();
        for (name, wire) in &vehicle.wires {
            for end in [&wire.from, &wire.to] {
                assert!(
                    pins.contains(end),
                    "{id}: wire {name} ends at unknown {end}"
                );
                used.insert(end.clone());
            }
            assert!(wire.mm2 > 0.0 && wire.length_m > 0.0, "{id}: {name}");
            // IEC 60757: two-letter codes, from memory.
            let known = [
                "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR",
            ];
            for colour in wire.colour.split('-') {
                assert!(known.contains(&colour), "{id}: {name} has colour {colour}");
            }
        }
        for (name, connector) in &vehicle.connectors {
            assert!(
                vehicle.places.contains_key(&connector.place),
                "{id}: place of {name}"
            );
            for pin in &connector.pins {
                assert!(pins.contains(pin), "{id}: {name} holds unknown {pin}");
            }
        }
        // A pin without a wire is a slip of the pen, except where none belongs.
        for pin in pins.difference(&used) {
            let spare = pin.ends_with(".87a") || pin.ends_with(".ref5");
            assert!(spare, "{id}: nothing is connected to {pin}");
        }
        // One name, one thing: a fault's place must not be ambiguous.
        let mut names = BTreeSet::new();
        let all = vehicle
            .parts
            .keys()
            .chain(vehicle.wires.keys())
            .chain(vehicle.connectors.keys())
            .chain(vehicle.controls.keys());
        for name in all {
            assert!(names.insert(name), "{id}: {name} names two things");
        }
    }
}

#[test]
fn boxes_hold_every_fuse_and_relay_once() {
    for vehicle in &load::vehicles() {
        let mut relays = 0;
        let mut fuses = 0;
        let mut marks = Vec::<Marks>::new();
        let mut blades = Vec::<Blades>::new();
        for fuse_box in vehicle.boxes.values() {
            let mut taken = BTreeSet::new();
            for slot in &fuse_box.slots {
                assert!(
                    taken.insert(slot.at),
                    "{} sits where another does",
                    slot.part
                );
                assert!(
                    slot.at.0 < fuse_box.grid.0 && slot.at.1 < fuse_box.grid.1,
                    "{}",
                    slot.part
                );
                match &vehicle.parts[&slot.part].kind {
                    Kind::Fuse { .. } => fuses += 1,
                    Kind::Relay(relay) => {
                        relays += 1;
                        // Common practice, no source: coil 50 to 120 ohms, pull-in at most 8 V.
                        assert!((50.0..=120.0).contains(&relay.coil_ohms), "{}", slot.part);
                        assert!(relay.pull_in_v <= 8.0 && relay.drop_out_v < relay.pull_in_v);
                        if !marks.contains(&relay.marks) {
                            marks.push(relay.marks);
                        }
                        if !blades.contains(&relay.blades) {
                            blades.push(relay.blades);
                        }
                        for arrangement in &relay.arrangements {
                            let mut sorted = arrangement.clone();
                            sorted.sort();
                            assert_eq!(sorted, relay.terminals(), "{}", slot.part);
                        }
                        assert!(
                            vehicle.id == BOARD || relay.arrangements.len() >= 2,
                            "{} always looks alike",
                            slot.part
                        );
                    }
                    other => panic!("{} in a slot is {other:?}", slot.part),
                }
            }
        }
        // A board on the bench is no car.
        let board = vehicle.id == BOARD;
        assert!(
            board || relays >= 8 && fuses >= 15,
            "{}: {relays} relays, {fuses} fuses",
            vehicle.id
        );
        // One car prints nothing on any relay; that is its lesson.
        let bare = marks == [Marks::Bare];
        assert!(
            board || (bare || marks.len() >= 3) && blades.len() == 2,
            "{}: sockets must differ",
            vehicle.id
        );
        for part in vehicle.parts.values() {
            if let Kind::ClutchCoil { ohms, .. } = part.kind {
                // Common practice, no source.
                assert!((3.0..=5.0).contains(&ohms));
            }
        }
    }
}

fn known_place(vehicle: &Vehicle, at: &str) -> bool {
    at == "refrigerant"
        || vehicle.parts.contains_key(at)
        || vehicle.wires.contains_key(at)
        || vehicle.connectors.contains_key(at)
        || vehicle.controls.contains_key(at)
        || (split_pin(at).is_some() && pins(vehicle).contains(at))
}

fn check_steps(scenario: &Scenario, vehicle: &Vehicle, steps: &[Step]) {
    for step in steps {
        let fine = match step {
            Step::Set(control, to) => vehicle
                .controls
                .get(control)
                .is_some_and(|c| c.positions.contains(to)),
            Step::Wait(seconds) => *seconds > 0.0,
            Step::Pull(part) => vehicle.parts.get(part).is_some_and(|p| p.kind.plugs_in()),
            Step::Spray(place) => tracebay_core::session::in_the_weather(vehicle, place),
            Step::Unplug(plug) => vehicle.connectors.get(plug).is_some_and(|c| !c.off_limits),
        };
        assert!(fine, "{}: {step:?}", scenario.id);
    }
}

#[test]
fn names_in_scenarios_mean_something() {
    for (scenario, vehicle) in load::scenarios() {
        let id = &scenario.id;
        let least = if id == "no-cold-air" { 16 } else { 4 };
        assert!(
            scenario.candidates.len() >= least,
            "{id} has few candidates"
        );
        assert!(
            scenario.states.len() <= 24 && scenario.states[0].steps.is_empty(),
            "{id}: states"
        );
        assert!(scenario.complaints.len() >= 4, "{id} has few complaints");
        check_steps(&scenario, &vehicle, &scenario.symptom.steps);
        for state in &scenario.states {
            check_steps(&scenario, &vehicle, &state.steps);
        }
        if let Shows::Weak { part, .. } | Shows::Unwanted { part } = &scenario.symptom.shows {
            assert!(vehicle.parts.contains_key(part), "{id}: {part}");
        }
        for name in &scenario.suspects {
            assert!(known_place(&vehicle, name), "{id}: suspect {name}");
        }
        for name in &scenario.spares {
            assert!(vehicle.parts.contains_key(name), "{id}: spare {name}");
        }
        if let Some(socket) = &scenario.socket {
            assert!(
                matches!(vehicle.parts[socket].kind, Kind::Relay(_)),
                "{id}: {socket}"
            );
        }
        let mut seen = BTreeSet::new();
        for candidate in &scenario.candidates {
            assert!(seen.insert(&candidate.id), "{id}: {} twice", candidate.id);
            assert!(
                candidate.prior > 0.0 && !candidate.faults.is_empty(),
                "{id}: {}",
                candidate.id
            );
            for fault in &candidate.faults {
                assert!(
                    known_place(&vehicle, &fault.at),
                    "{id}: fault at {}",
                    fault.at
                );
                assert!(
                    scenario.suspects.is_empty() || scenario.suspects.contains(&fault.at),
                    "{id}: nobody could call {}",
                    fault.at
                );
            }
            for (at, _) in &candidate.also {
                assert!(known_place(&vehicle, at), "{id}: also {at}");
            }
        }
    }
}

#[test]
fn names_of_points_are_those_of_a_session() {
    // A scenario's probes are checked without a case; both lists must name the same points.
    for (scenario, vehicle) in load::scenarios() {
        let names: BTreeSet<String> = point_names(&vehicle).into_iter().collect();
        let case = Case::draw(scenario, vehicle.clone(), 1);
        let session = Session::new(Arc::new(case)).expect("an operating point");
        let points: BTreeSet<String> = session.points().iter().map(|p| p.id.clone()).collect();
        assert_eq!(names, points, "{}", vehicle.id);
    }
}

#[test]
fn controls_have_the_positions_their_role_needs() {
    for vehicle in &load::vehicles() {
        for (id, control) in &vehicle.controls {
            let has = |wanted: &[&str]| {
                wanted
                    .iter()
                    .all(|w| control.positions.iter().any(|p| p == w))
            };
            let fine = match control.role {
                Role::Key => control.positions == ["off", "acc", "on", "start"],
                Role::Gear => has(&["park"]) || has(&["neutral"]),
                Role::ParkBrake | Role::AirConditioning | Role::ExhaustHose => has(&["on", "off"]),
                Role::Pedal => has(&["up", "down"]),
                Role::Blower | Role::Plain => control.positions.len() >= 2,
            };
            assert!(fine, "{}: {id} {:?}", vehicle.id, control.positions);
        }
    }
}
