//! What a sound car does, against facts of the trade.

use std::collections::BTreeSet;
use std::sync::Arc;

use tracebay_core::scenario::{Case, Shows, Step};
use tracebay_core::session::{
    Action, Finding, MeterDisplay, Observation, PointKind, Session, Sound,
};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::{Kind, Station};

use crate::load;

fn sound_car(scenario: &str, seed: u64) -> Session {
    let (scenario, vehicle) = load::scenarios()
        .into_iter()
        .find(|(s, _)| s.id == scenario)
        .unwrap_or_else(|| panic!("no scenario {scenario}"));
    let case = Case::draw(scenario, vehicle, seed).sound();
    Session::new(Arc::new(case)).expect("an operating point")
}

fn set(control: &str, to: &str) -> Step {
    Step::Set(control.into(), to.into())
}

fn to_the_bay(car: &mut Session) {
    car.perform(&Action::Go(Station::Bay))
        .expect("one can walk to the bay");
    for cover in car.covers().map(str::to_owned).collect::<Vec<_>>() {
        let _ = car.perform(&Action::Uncover(cover));
    }
}

fn clutch_in(car: &mut Session) -> bool {
    car.view().motion.clutch_engaged
}

/// Volts from `black` to `red` on a good meter.
fn volts(car: &mut Session, black: &str, red: &str) -> f64 {
    let meter = ToolKind::Meter;
    let _ = car.perform(&Action::Dial(Dial::Volts));
    car.perform(&Action::Put {
        tool: meter,
        lead: Lead::Black,
        point: black.into(),
    })
    .unwrap_or_else(|e| panic!("{black}: {e:?}"));
    let seen = car
        .perform(&Action::Touch {
            tool: meter,
            point: red.into(),
        })
        .unwrap_or_else(|e| panic!("{red}: {e:?}"));
    car.perform(&Action::Lift {
        tool: meter,
        lead: Lead::Black,
    })
    .expect("a lead can be lifted");
    seen.iter()
        .find_map(|o| match o {
            Observation::Meter {
                display: MeterDisplay::Value { value, .. },
                ..
            } => Some(*value),
            _ => None,
        })
        .unwrap_or_else(|| panic!("no reading at {red}: {seen:?}"))
}

#[test]
fn the_clutch_waits_for_its_conditions_and_its_delay() {
    // Permission and a delay of several seconds: common practice, no source.
    let mut car = sound_car("no-cold-air", 1);
    car.drive(&[
        set("key", "on"),
        set("blower", "3"),
        set("ac", "on"),
        Step::Wait(10.0),
    ]);
    assert!(!clutch_in(&mut car), "engine off");
    car.drive(&[set("ac", "off"), set("key", "start"), Step::Wait(5.0)]);
    assert!(car.engine_running() && !clutch_in(&mut car), "no request");
    car.drive(&[set("blower", "off"), set("ac", "on"), Step::Wait(10.0)]);
    assert!(!clutch_in(&mut car), "no blower");
    car.drive(&[set("blower", "3"), Step::Wait(3.0)]);
    assert!(!clutch_in(&mut car), "delay not over");
    car.drive(&[Step::Wait(1.5)]);
    assert!(clutch_in(&mut car), "everything asked for");
    car.drive(&[set("ac", "off"), Step::Wait(0.2)]);
    assert!(!clutch_in(&mut car), "request gone");
}

#[test]
fn the_starter_is_interlocked() {
    for (gear, starts) in [
        ("park", true),
        ("reverse", false),
        ("neutral", true),
        ("drive", false),
    ] {
        let mut car = sound_car("no-start", 1);
        car.drive(&[set("gear", gear), set("key", "start"), Step::Wait(1.0)]);
        assert_eq!(car.engine_running(), starts, "{gear}");
    }
}

#[test]
fn the_pump_primes_and_stops() {
    // Two seconds; common practice, no source.
    let mut car = sound_car("no-start", 2);
    let hums = |car: &mut Session| car.view().sounds.iter().any(|(s, _)| *s == Sound::Pump);
    assert!(!hums(&mut car), "key off");
    car.drive(&[set("key", "on"), Step::Wait(1.0)]);
    assert!(hums(&mut car), "one second after key on");
    car.drive(&[Step::Wait(2.0)]);
    assert!(!hums(&mut car), "three seconds after key on");
    car.drive(&[set("key", "start"), Step::Wait(1.0)]);
    assert!(hums(&mut car), "engine running");
}

#[test]
fn drops_stay_within_the_trade_s_limits() {
    // At working current: at most 0.5 V over a whole feed, 0.2 V over a ground side, and a resting
    // battery from 12.4 V, a charging system from 13.5 V to 14.8 V: common practice, no source.
    for seed in [1, 2, 3] {
        let mut car = sound_car("no-cold-air", seed);
        to_the_bay(&mut car);
        let rest = volts(&mut car, "bat:neg", "bat:pos");
        assert!((12.4..=12.9).contains(&rest), "resting battery {rest} V");
        car.drive(&[
            set("key", "start"),
            Step::Wait(3.0),
            set("blower", "3"),
            set("ac", "on"),
            Step::Wait(8.0),
        ]);
        assert!(clutch_in(&mut car));
        let _ = car.perform(&Action::Go(Station::Bay));
        let charging = volts(&mut car, "bat:neg", "bat:pos");
        assert!((13.5..=14.8).contains(&charging), "charging {charging} V");
        for (load, plus, minus) in [
            ("clutch", "clutch_coil.1", "clutch_coil.2"),
            ("condenser fan", "fan_con_motor.1", "fan_con_motor.2"),
        ] {
            let feed = volts(&mut car, plus, "bat:pos");
            assert!(
                (0.0..=0.5).contains(&feed),
                "feed of the {load} loses {feed} V"
            );
            // The engine block lies a little below the battery's post while the alternator charges.
            let ground = volts(&mut car, "bat:neg", minus);
            assert!(
                (-0.05..=0.2).contains(&ground),
                "ground of the {load} loses {ground} V"
            );
        }
        let five = volts(&mut car, "pressure_sensor.ground", "pressure_sensor.supply");
        assert!((4.9..=5.1).contains(&five), "sensor supply {five} V");
    }
}

#[test]
fn no_fuse_blows_with_everything_on() {
    let mut car = sound_car("no-cold-air", 5);
    car.drive(&[
        set("key", "start"),
        Step::Wait(3.0),
        set("blower", "4"),
        set("ac", "on"),
        set("lights", "dip"),
        set("rear_heater", "on"),
        set("brake", "down"),
        set("horn", "pressed"),
        Step::Wait(300.0),
        set("lights", "main"),
        Step::Wait(120.0),
    ]);
    assert!(car.engine_running());
    assert_eq!(car.blown_in_place(), Vec::<&str>::new());
}

#[test]
fn sockets_differ_in_what_is_live() {
    // With each relay out in turn: which terminals of its socket light a lamp, key off and key on.
    let (scenario, vehicle) = load::scenarios().remove(0);
    let case = Arc::new(Case::draw(scenario.clone(), vehicle.clone(), 3).sound());
    let mut patterns = BTreeSet::new();
    let boxed: Vec<&String> = vehicle
        .boxes
        .values()
        .flat_map(|b| &b.slots)
        .map(|s| &s.part)
        .collect();
    for id in boxed
        .into_iter()
        .filter(|p| matches!(vehicle.parts[*p].kind, Kind::Relay(_)))
    {
        let mut pattern = Vec::new();
        for key in ["off", "on"] {
            let mut car = Session::new(case.clone()).expect("an operating point");
            car.drive(&[Step::Pull(id.clone()), set("key", key), Step::Wait(4.0)]);
            to_the_bay(&mut car);
            let light = ToolKind::TestLight;
            car.perform(&Action::Put {
                tool: light,
                lead: Lead::Clip,
                point: "bat:neg".into(),
            })
            .expect("the clip reaches the battery");
            let cavities: Vec<String> = car
                .points()
                .iter()
                .filter(|p| p.part == *id && p.kind == PointKind::Cavity)
                .map(|p| p.id.clone())
                .collect();
            for (cavity, terminal) in cavities.iter().zip(&case.arrangements[id]) {
                let shown = car.would_show(light, cavity);
                if let Some(Observation::Light {
                    glow: Glow::Bright, ..
                }) = shown
                {
                    pattern.push((key, terminal.clone()));
                }
            }
        }
        pattern.sort();
        patterns.insert(pattern);
    }
    assert!(
        patterns.len() >= 4,
        "sockets look alike to a test light: {patterns:?}"
    );
}

/// What one sees of a lamp that is the complaint's, driven as the complaint says.
fn lamp_seen(case: Arc<Case>, lamp: &str) -> Option<Finding> {
    let mut car = Session::new(case.clone()).expect("an operating point");
    car.drive(&case.scenario.symptom.steps);
    let place = case.vehicle.parts[lamp].place.clone();
    let station = case.vehicle.places[&place].station;
    if car.view().station != station {
        car.perform(&Action::Go(station))
            .expect("one can walk there");
    }
    let seen = car.perform(&Action::Look(place)).expect("one can look");
    seen.into_iter().find_map(|o| match o {
        Observation::Seen {
            finding: finding @ (Finding::Lit | Finding::Dull | Finding::Unlit),
            lamp: which,
            ..
        } if which.as_deref().is_none_or(|l| l == lamp) => Some(finding),
        _ => None,
    })
}

#[test]
fn who_complains_of_a_dull_lamp_is_right_to_the_eye() {
    // Common practice, no source: a lamp that gets a tenth less than its volts is seen to be dull.
    let mut dull = 0;
    for (scenario, vehicle) in load::scenarios() {
        let Shows::Weak { part, below } = scenario.symptom.shows.clone() else {
            continue;
        };
        if !matches!(vehicle.parts[&part].kind, Kind::Lamp { .. }) || below < 0.55 {
            continue;
        }
        let case = Case::draw(scenario, vehicle, 4);
        let id = &case.scenario.id;
        let sound = lamp_seen(Arc::new(case.sound()), &part);
        assert_eq!(sound, Some(Finding::Lit), "{id}, nothing wrong");
        for (i, candidate) in case.scenario.candidates.iter().enumerate() {
            let seen = lamp_seen(Arc::new(case.with_candidate(i)), &part);
            match seen {
                Some(Finding::Dull) => dull += 1,
                Some(Finding::Unlit) => {}
                _ => panic!("{id}, {}: {seen:?}", candidate.id),
            }
        }
    }
    assert!(dull > 10, "only {dull} are seen to be dull");
}
