//! The climate unit: delays, every cut-out, the latched refusal, the shared reference, and what it
//! makes of a signal that is open, shorted or out of range.
//!
//! The shipped car has no ambient, second coolant or throttle input, so the unit is given them here:
//! a file can.

use std::sync::Arc;

use tracebay_core::fault::{Fault, Wrong};
use tracebay_core::scenario::Step;
use tracebay_core::session::{Action, Session};
use tracebay_core::tools::Dial;
use tracebay_core::vehicle::unit_file::{
    Asserted, Bias, ClutchRule, ControlUnit, Input, Rule, Temperature,
};
use tracebay_core::vehicle::{
    Control, Feels, Kind, LoopSide, Part, Role, Station, Vehicle, Way, Wire,
};

use crate::car::{act, asking, bay, case, clutch_in, fault, go, reads, set};

fn unit(v: &mut Vehicle) -> &mut ControlUnit {
    match &mut v.parts.get_mut("climate_unit").expect("there").kind {
        Kind::ControlUnit(unit) => unit,
        _ => panic!("a control unit"),
    }
}

fn rule(v: &mut Vehicle) -> &mut ClutchRule {
    unit(v)
        .rules
        .iter_mut()
        .find_map(|r| match r {
            Rule::Clutch(c) => Some(c),
            _ => None,
        })
        .expect("it permits the clutch")
}

fn wire(v: &mut Vehicle, id: &str, from: &str, to: &str) {
    v.wires.insert(
        id.into(),
        Wire {
            from: from.into(),
            to: to.into(),
            mm2: 0.5,
            awg: None,
            length_m: 1.0,
            colour: "GY".into(),
        },
    );
}

fn part(v: &mut Vehicle, id: &str, kind: Kind) {
    let place = "front_panel".into();
    v.parts.insert(
        id.into(),
        Part {
            label: id.into(),
            place,
            kind,
            replace_minutes: 10.0,
            price: 1.0,
        },
    );
}

/// A thermistor of 2.2 kilohms on an input with a pull-up to the reference.
fn thermistor(v: &mut Vehicle, input: &str, feels: Feels, limit_c: f64) -> Temperature {
    unit(v).inputs.insert(
        input.into(),
        Input {
            pin: input.into(),
            bias: Bias::PullUp5(2_200.0),
        },
    );
    let sensor = format!("{input}_probe");
    part(
        v,
        &sensor,
        Kind::Thermistor {
            ohms_25c: 2_200.0,
            beta_k: 3_500.0,
            feels,
        },
    );
    wire(
        v,
        &format!("w_{input}_1"),
        &format!("{sensor}.1"),
        &format!("climate_unit.{input}"),
    );
    wire(
        v,
        &format!("w_{input}_2"),
        &format!("{sensor}.2"),
        "climate_unit.sgnd",
    );
    Temperature {
        input: input.into(),
        ohms_25c: 2_200.0,
        beta_k: 3_500.0,
        limit_c,
    }
}

/// The car with everything a climate unit may be asked to watch.
fn full(v: &mut Vehicle) {
    let ambient = thermistor(v, "outside", Feels::Ambient, 5.0);
    let coolant = thermistor(v, "engine_heat", Feels::Coolant, 112.0);
    unit(v).inputs.insert(
        "throttle".into(),
        Input {
            pin: "throttle".into(),
            bias: Bias::PullUp5(10_000.0),
        },
    );
    part(
        v,
        "throttle_switch",
        Kind::Switch {
            control: "accelerator".into(),
            ways: vec![Way {
                from: "1".into(),
                to: "2".into(),
                closed_in: vec!["floored".into()],
            }],
        },
    );
    v.controls.insert(
        "accelerator".into(),
        Control {
            label: "Accelerator".into(),
            role: Role::Plain,
            station: Station::Seat,
            positions: vec!["released".into(), "floored".into()],
        },
    );
    wire(
        v,
        "w_throttle_1",
        "throttle_switch.1",
        "climate_unit.throttle",
    );
    wire(v, "w_throttle_2", "throttle_switch.2", "climate_unit.sgnd");
    let rule = rule(v);
    rule.ambient = Some(ambient);
    rule.coolant = Some(coolant);
    rule.when.push(Asserted {
        input: "throttle".into(),
        volts: 2.5,
        below: false,
    });
}

/// Session on the full car; the outside temperature and more edits at will.
fn car(faults: Vec<Fault>, ambient_c: f64, more: impl FnOnce(&mut Vehicle)) -> Session {
    let mut case = case(faults, |v| {
        full(v);
        more(v);
    });
    case.ambient_c = ambient_c;
    Session::new(Arc::new(case)).expect("an operating point")
}

fn engages(faults: Vec<Fault>, ambient_c: f64, more: impl FnOnce(&mut Vehicle)) -> bool {
    let mut s = car(faults, ambient_c, more);
    asking(&mut s);
    clutch_in(&mut s)
}

#[test]
fn a_sound_car_is_permitted() {
    assert!(engages(vec![], 25.0, |_| ()));
}

#[test]
fn it_waits_before_it_engages_again() {
    let mut s = car(vec![], 25.0, |v| {
        let rule = rule(v);
        (rule.delay_s, rule.restart_delay_s) = (0.5, 6.0);
    });
    asking(&mut s);
    assert!(clutch_in(&mut s));
    s.drive(&[
        set("ac", "off"),
        Step::Wait(0.3),
        set("ac", "on"),
        Step::Wait(4.0),
    ]);
    assert!(!clutch_in(&mut s), "not yet");
    s.drive(&[Step::Wait(2.5)]);
    assert!(clutch_in(&mut s), "now");
}

#[test]
fn pressure_cuts_out_low_and_high() {
    let off = |kpa| vec![fault("pressure_sensor", Wrong::ReadingOff(kpa))];
    assert!(!engages(off(-600.0), 25.0, |_| ()), "low: under 200 kPa");
    assert!(!engages(off(2_400.0), 25.0, |_| ()), "high: over 2800 kPa");
    assert!(engages(off(100.0), 25.0, |_| ()));
    assert!(!engages(
        vec![fault("refrigerant", Wrong::Charge(0.02))],
        25.0,
        |_| ()
    ));
}

#[test]
fn a_cold_evaporator_cuts_out() {
    let off = |kelvin| vec![fault("evap_sensor", Wrong::ReadingOff(kelvin))];
    assert!(!engages(off(-30.0), 25.0, |_| ()));
    assert!(engages(off(-5.0), 25.0, |_| ()));
    // An open sensor reads as very cold: refused.
    assert!(!engages(
        vec![fault("evap_sensor", Wrong::Open)],
        25.0,
        |_| ()
    ));
}

#[test]
fn cold_weather_cuts_out() {
    // The evaporator's own limit is taken away, so that only the outside sensor speaks.
    let alone = |v: &mut Vehicle| rule(v).evaporator = None;
    assert!(!engages(vec![], 3.0, alone));
    assert!(engages(vec![], 8.0, alone));
    let open = vec![fault("outside_probe", Wrong::Open)];
    assert!(
        !engages(open, 25.0, |_| ()),
        "an open outside sensor reads as very cold"
    );
}

#[test]
fn an_overheated_engine_cuts_out() {
    let off = |kelvin| vec![fault("engine_heat_probe", Wrong::ReadingOff(kelvin))];
    assert!(!engages(off(70.0), 25.0, |_| ()));
    assert!(engages(off(20.0), 25.0, |_| ()));
    let open = vec![fault("engine_heat_probe", Wrong::Open)];
    assert!(engages(open, 25.0, |_| ()), "an open one says nothing");
}

#[test]
fn full_throttle_cuts_out_and_comes_back_after_the_delay() {
    let mut s = car(vec![], 25.0, |_| ());
    asking(&mut s);
    s.drive(&[set("accelerator", "floored"), Step::Wait(0.2)]);
    assert!(!clutch_in(&mut s));
    s.drive(&[set("accelerator", "released"), Step::Wait(1.0)]);
    assert!(!clutch_in(&mut s));
    s.drive(&[Step::Wait(5.0)]);
    assert!(clutch_in(&mut s));
}

#[test]
fn a_low_supply_cuts_out() {
    // Without the alternator the battery alone holds about 12 V; the limit is put just above.
    let strict = |v: &mut Vehicle| rule(v).low_supply_v = 12.8;
    assert!(engages(vec![], 25.0, strict));
    assert!(!engages(vec![fault("alt", Wrong::Open)], 25.0, strict));
    assert!(engages(vec![fault("alt", Wrong::Open)], 25.0, |_| ()));
}

#[test]
fn a_refusal_that_latches_stays_until_the_key_is_turned_off() {
    for latches in [true, false] {
        let off = vec![fault("psensor", Wrong::NotSeated)];
        let mut s = car(off, 25.0, |v| rule(v).latches = latches);
        asking(&mut s);
        assert!(!clutch_in(&mut s), "no signal");
        bay(&mut s);
        act(&mut s, Action::Plug("psensor".into()));
        act(&mut s, Action::Wait(300));
        assert_eq!(clutch_in(&mut s), !latches, "latches: {latches}");
        s.drive(&[set("key", "off"), Step::Wait(2.0)]);
        asking(&mut s);
        assert!(clutch_in(&mut s), "after the key was off");
    }
}

#[test]
fn a_signal_that_is_open_shorted_or_out_of_range_is_refused() {
    let at_unit = |faults: Vec<Fault>| {
        let mut s = car(faults, 25.0, |_| ());
        asking(&mut s);
        let refused = !clutch_in(&mut s);
        go(&mut s, Station::Seat);
        let volts = reads(&mut s, Dial::Volts, "G3.1", "climate_unit.pressure");
        (refused, volts)
    };
    let (refused, sound) = at_unit(vec![]);
    assert!(!refused && (0.6..4.4).contains(&sound), "{sound}");
    let (refused, volts) = at_unit(vec![fault("pressure_sensor.signal", Wrong::PushedBack)]);
    assert!(refused && volts < 0.2, "open: {volts}");
    let (refused, volts) = at_unit(vec![fault("w_signal", Wrong::ShortToGround(0.5))]);
    assert!(refused && volts < 0.2, "to ground: {volts}");
    let (refused, volts) = at_unit(vec![fault("w_signal", Wrong::ShortToSupply(0.5))]);
    assert!(refused && volts > 4.8, "to supply: {volts}");
    let (refused, volts) = at_unit(vec![fault("pressure_sensor", Wrong::ReadingOff(-2_000.0))]);
    // The sensor stops short of its rails: a plausible signal that says no pressure.
    assert!(
        refused && (0.2..0.5).contains(&volts),
        "below its range: {volts}"
    );
}

#[test]
fn one_short_pulls_the_reference_down_for_both_sensors() {
    let second = |v: &mut Vehicle| {
        part(
            v,
            "low_sensor",
            Kind::PressureSensor {
                low_kpa: 0.0,
                high_kpa: 1_000.0,
                side: LoopSide::Low,
            },
        );
        wire(v, "w_low_5", "climate_unit.ref5", "low_sensor.supply");
        wire(v, "w_low_g", "climate_unit.sgnd", "low_sensor.ground");
    };
    let at = |faults: Vec<Fault>| {
        let mut s = car(faults, 25.0, second);
        asking(&mut s);
        let refused = !clutch_in(&mut s);
        bay(&mut s);
        let high = reads(&mut s, Dial::Volts, "G2.1", "pressure_sensor.supply");
        let low = reads(&mut s, Dial::Volts, "G2.1", "low_sensor.supply");
        (refused, high, low)
    };
    let (refused, high, low) = at(vec![]);
    assert!(
        !refused && (4.8..5.2).contains(&high) && (4.8..5.2).contains(&low),
        "{high} {low}"
    );
    // The other sensor's wire is through: 50 mA is all the reference gives.
    let (refused, high, low) = at(vec![fault("w_low_5", Wrong::ShortToGround(0.5))]);
    assert!(refused && high < 0.5 && low < 0.5, "{high} {low}");
}
