//! The walk along the wires, against what the vehicle file's own comments say of the car; and that it
//! never depends on the fault.

use std::collections::BTreeSet;
use std::sync::Arc;

use tracebay_core::scenario::{Case, Step};
use tracebay_core::session::{Action, Session, View};
use tracebay_core::tools::ToolKind;
use tracebay_core::vehicle::Station;

use super::breaches;
use crate::safety::Net;
use crate::safety::wiring::{Walk, Wiring};
use crate::shop::*;

/// Points whose net is of a kind, among those asked for.
fn of_kind(case: &Arc<Case>, view: &View, kind: Net, points: &[&str]) -> Vec<String> {
    let session = Session::new(case.clone()).unwrap();
    let wiring = Wiring::new(case, session.points());
    let nets = wiring.nets(&case.vehicle, view, Walk::AsIs);
    let closed = wiring.nets(&case.vehicle, view, Walk::SwitchesClosed);
    let wanted: BTreeSet<usize> = nets.of_kind(kind, &closed, view);
    points
        .iter()
        .filter(|p| nets.at(p).is_some_and(|n| wanted.contains(&n)))
        .map(|p| (*p).to_owned())
        .collect()
}

fn view_after(case: &Arc<Case>, actions: &[Action]) -> View {
    let mut session = Session::new(case.clone()).unwrap();
    for action in actions {
        session.perform(action).unwrap();
    }
    session.view()
}

fn cavities(case: &Case, relays: &[&str]) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for relay in relays {
        for terminal in &case.arrangements[*relay] {
            all.push((cavity(case, relay, terminal), format!("{relay}.{terminal}")));
        }
    }
    all
}

/// Terminals, in words, of the cavities that are of a kind.
fn terminals(case: &Arc<Case>, view: &View, kind: Net) -> BTreeSet<String> {
    let relays = [
        "K1", "K2", "K3", "K4", "K5", "K6", "K7", "K8", "K9", "K10", "K11",
    ];
    let named = cavities(case, &relays);
    let points: Vec<&str> = named.iter().map(|(p, _)| p.as_str()).collect();
    let found = of_kind(case, view, kind, &points);
    named
        .into_iter()
        .filter(|(p, _)| found.contains(p))
        .map(|(_, t)| t)
        .collect()
}

fn set_of(names: &[&str]) -> BTreeSet<String> {
    names.iter().map(|n| (*n).to_owned()).collect()
}

/// "The climate unit grounds the clutch relay's coil", the engine control unit the pump relay's; the
/// two fan relays' coils are supplied by their units (the vehicle file's comments).
#[test]
fn outputs_are_found_along_the_wires() {
    let case = sound("no-cold-air");
    let view = view_after(&case, &[]);
    assert_eq!(
        terminals(&case, &view, Net::LowOutput),
        set_of(&["K2.85", "K3.85"])
    );
    assert_eq!(
        terminals(&case, &view, Net::HighOutput),
        set_of(&["K5.86", "K6.86"])
    );
    // Off the bulkhead connector the climate unit's two wires end there.
    let off = view_after(&case, &[bay(), unplug("bulkhead_plug")]);
    assert_eq!(terminals(&case, &off, Net::LowOutput), set_of(&["K2.85"]));
    assert_eq!(terminals(&case, &off, Net::HighOutput), set_of(&["K5.86"]));
}

/// "Clutch, horn, fans and lamps are hot at all times, pump and engine only with the key on" (the
/// vehicle file's comments), with the relays out so that no contact passes anything on.
#[test]
fn live_cavities_follow_the_key() {
    let case = sound("no-cold-air");
    let hot = [
        "K1.30", "K3.30", "K4.30", "K4.86", "K5.30", "K6.30", "K7.30", "K8.30", "K9.30", "K10.30",
        "K11.30",
    ];
    let view = view_after(&case, &[]);
    let resting = set_of(&["K6.87a"]);
    let found: BTreeSet<String> = terminals(&case, &view, Net::Live)
        .difference(&resting)
        .cloned()
        .collect();
    assert_eq!(found, set_of(&hot));
    let on = view_after(&case, &[set("key", "on")]);
    let found = terminals(&case, &on, Net::Live);
    // Coils of main, pump, clutch, blower and window heater relay, and behind the main relay the
    // pump's feed.
    for more in [
        "K1.86", "K2.86", "K3.86", "K7.86", "K10.86", "K1.87", "K2.30", "K7.87",
    ] {
        assert!(found.contains(more), "{more} with the key on");
        assert!(!hot.contains(&more));
    }
    for never in ["K3.87", "K4.87", "K2.87", "K11.86", "K11.87", "K5.87"] {
        assert!(!found.contains(never), "{never} with the key on");
    }
}

#[test]
fn feeds_of_starter_and_clutch() {
    let case = sound("no-start");
    let view = view_after(&case, &[]);
    let points = [
        "starter.1",
        "starter.2",
        "solenoid.30",
        "solenoid.85",
        "solenoid.86",
        "solenoid.87",
        "bat:pos",
    ];
    assert_eq!(
        of_kind(&case, &view, Net::StarterFeed, &points),
        ["starter.1", "solenoid.86", "solenoid.87"]
    );
    // The relay's load side, and its coil's feed through the starter's own fuse; not its return.
    assert_eq!(
        terminals(&case, &view, Net::StarterFeed),
        set_of(&["K11.86", "K11.87"])
    );
    let out = view_after(&case, &[bay(), uncover("box lid"), pull("K11")]);
    assert_eq!(
        terminals(&case, &out, Net::StarterFeed),
        set_of(&["K11.87"])
    );

    assert_eq!(terminals(&case, &view, Net::ClutchFeed), set_of(&["K3.87"]));
    let off = view_after(&case, &[bay(), unplug("clutch")]);
    assert_eq!(terminals(&case, &off, Net::ClutchFeed), set_of(&[]));
    let pins = ["clutch_coil.1", "clutch_coil.2", "engine_joint.1a", "G7.1"];
    assert_eq!(
        of_kind(&case, &view, Net::ClutchFeed, &pins),
        ["clutch_coil.1", "engine_joint.1a"]
    );
}

#[test]
fn sensor_lines_are_told_from_switch_lines() {
    let case = sound("no-cold-air");
    let view = view_after(&case, &[]);
    let points = [
        "pressure_sensor.supply",
        "pressure_sensor.signal",
        "pressure_sensor.ground",
        "evap_sensor.1",
        "climate_unit.pressure",
        "climate_unit.ref5",
        "climate_unit.sgnd",
        "ecu.coolant",
        "climate_unit.request",
        "climate_unit.blower_on",
        "climate_unit.supply",
        "climate_unit.ground",
        "climate_unit.clutch_relay",
        "bat:neg",
    ];
    assert_eq!(of_kind(&case, &view, Net::SensorLine, &points), points[..8]);
}

/// What is safe must not depend on what is broken: nobody may read the fault off the deductions.
#[test]
fn the_fault_changes_no_breach_that_wiring_decides() {
    let drawn = catalogue(car_text()).draw("no-cold-air", 1).unwrap();
    let jumper = ToolKind::FusedJumper;
    let light = ToolKind::TestLight;
    let script = [
        bay(),
        uncover("box lid"),
        uncover("service cap"),
        pull("K3"),
        clip(light, "bat:neg"),
        touch(light, "pressure_sensor.supply"),
        clip(jumper, &cavity(&drawn, "K3", "30")),
        touch(jumper, &cavity(&drawn, "K3", "85")),
        touch(jumper, "pressure_sensor.signal"),
        seat(),
        set("park_brake", "off"),
        set("key", "on"),
        bay(),
        unplug("fan_con_plug"),
        hand_back(),
    ];
    let expected = breaches(&Arc::new(drawn.sound()), &script);
    assert_eq!(expected.len(), 6, "{expected:?}");
    for i in 0..drawn.scenario.candidates.len() {
        let found = breaches(&Arc::new(drawn.with_candidate(i)), &script);
        assert_eq!(found, expected, "{}", drawn.scenario.candidates[i].id);
    }
}

/// The states a scenario plans its tests in are reached without breaking anything: a learner who
/// follows the best plan loses nothing here.
#[test]
fn planned_states_are_reached_safely() {
    let catalogue = catalogue(car_text());
    for (id, scenario) in &catalogue.scenarios {
        let case = Arc::new(catalogue.draw(id, 3).unwrap());
        for state in &scenario.states {
            let script = walked(&case, &state.steps);
            let found = breaches(&case, &script);
            assert!(found.is_empty(), "{id}, {}: {found:?}", state.id);
        }
    }
}

/// Steps with the walking and the covers that a person needs for them.
fn walked(case: &Case, steps: &[Step]) -> Vec<Action> {
    let mut at = Station::Seat;
    let mut done = Vec::new();
    let mut go = |done: &mut Vec<Action>, to: Station| {
        let to = if to == Station::Seat {
            to
        } else {
            Station::Bay
        };
        if to != at {
            done.push(Action::Go(to));
            at = to;
        }
    };
    let vehicle = &case.vehicle;
    for step in steps {
        match step {
            Step::Set(control, to) => {
                go(&mut done, vehicle.controls[control].station);
                done.push(set(control, to));
            }
            Step::Spray(place) => {
                go(&mut done, vehicle.places[place].station);
                done.push(Action::Spray(place.clone()));
            }
            Step::Wait(seconds) => done.push(Action::Wait((10.0 * seconds) as u32)),
            Step::Pull(part) => {
                go(&mut done, Station::Bay);
                let lid = uncover("box lid");
                if !done.contains(&lid) {
                    done.push(lid);
                }
                done.push(pull(part));
            }
            Step::Unplug(connector) => {
                let place = &vehicle.connectors[connector].place;
                go(&mut done, vehicle.places[place].station);
                done.push(unplug(connector));
            }
        }
    }
    done
}

/// Whatever is done, the watch goes along: a fixed pseudo-random walk through all scenarios.
#[test]
fn any_walk_can_be_watched_and_comes_out_the_same() {
    let catalogue = catalogue(car_text());
    for scenario in catalogue.scenarios.keys() {
        let case = Arc::new(catalogue.draw(scenario, 7).unwrap());
        let walk = random_walk(&case, 60);
        assert!(walk.len() > 40, "{scenario}: {}", walk.len());
        assert_eq!(breaches(&case, &walk), breaches(&case, &walk));
        crate::finish::finish(&case, &walk).unwrap();
        crate::parts::replaced(&case, &walk).unwrap();
    }
}

fn random_walk(case: &Arc<Case>, tries: usize) -> Vec<Action> {
    let mut state = 0x9E37_79B9_7F4A_7C15u64;
    let mut next = |n: usize| {
        // Knuth's MMIX constants (The Art of Computer Programming, vol. 2; from memory).
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % n
    };
    let mut session = Session::new(case.clone()).unwrap();
    let points: Vec<String> = session.points().iter().map(|p| p.id.clone()).collect();
    let vehicle = case.vehicle.clone();
    let pick = |of: Vec<&String>, i: usize| of[i % of.len()].clone();
    let mut done = Vec::new();
    for _ in 0..20 * tries {
        let tool = ToolKind::ALL[next(5)];
        let point = points[next(points.len())].clone();
        let action = match next(12) {
            0 => [bay(), seat()][next(2)].clone(),
            1 => {
                let control = pick(vehicle.controls.keys().collect(), next(1000));
                let positions = &vehicle.controls[&control].positions;
                set(&control, &positions[next(positions.len())])
            }
            2 => [
                uncover("box lid"),
                uncover("service cap"),
                cover("service cap"),
            ][next(3)]
            .clone(),
            3 => pull(&pick(case.slots.keys().collect(), next(1000))),
            4 => fit(
                &pick(case.slots.keys().collect(), next(1000)),
                Default::default(),
            ),
            5 => unplug(&pick(vehicle.connectors.keys().collect(), next(1000))),
            6 => plug(&pick(vehicle.connectors.keys().collect(), next(1000))),
            7 | 8 => clip(tool, &point).clone(),
            9 => park(tool, &point),
            10 => touch(tool, &point),
            _ => feel(&pick(vehicle.places.keys().collect(), next(1000))),
        };
        if done.len() < tries && session.perform(&action).is_ok() {
            done.push(action);
        }
    }
    done
}
