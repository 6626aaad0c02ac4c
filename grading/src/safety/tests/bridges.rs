//! What jumpers, lights and a meter on amperes may join.

use tracebay_core::scenario::Case;
use tracebay_core::session::Action;
use tracebay_core::tools::{Dial, Lead, ToolKind};

use super::{assert_broken, assert_kept, breaches, broken};
use crate::safety::Severity;
use crate::shop::*;

const FUSED: ToolKind = ToolKind::FusedJumper;
const PLAIN: ToolKind = ToolKind::PlainJumper;

/// At the box with a relay out.
fn out(relay: &str) -> Vec<Action> {
    vec![bay(), uncover("box lid"), pull(relay)]
}

/// One end of a jumper on a terminal's cavity, touching another's.
fn across(case: &Case, tool: ToolKind, relay: &str, from: &str, to: &str) -> Vec<Action> {
    vec![
        clip(tool, &cavity(case, relay, from)),
        touch(tool, &cavity(case, relay, to)),
    ]
}

#[test]
fn a_plain_jumper_is_a_slip_even_behind_a_fuse() {
    let case = sound("no-cold-air");
    let feed = |tool| all([out("K3"), across(&case, tool, "K3", "30", "87")]);
    // Behind the car's 10 A fuse it is only a bad habit.
    assert_eq!(broken(&case, &feed(PLAIN)), ["plain-jumper"]);
    assert_eq!(broken(&case, &feed(FUSED)), [""; 0]);
    // From the battery nothing limits it.
    let bare = |tool| {
        let to = cavity(&case, "K3", "87");
        all([out("K3"), vec![clip(tool, "bat:pos"), touch(tool, &to)]])
    };
    assert_broken(&case, &bare(PLAIN), "plain-jumper-without-any-fuse");
    assert_eq!(broken(&case, &bare(FUSED)), [""; 0]);
    // One end alone joins nothing.
    let one = [bay(), clip(PLAIN, "bat:pos")];
    assert_eq!(broken(&case, &one), [""; 0]);
}

#[test]
fn supply_is_not_joined_to_ground() {
    let case = sound("no-cold-air");
    let short = |tool, from: &str| all([out("K3"), vec![clip(tool, from), touch(tool, "G4:stud")]]);
    let feed = cavity(&case, "K3", "30");
    assert_broken(&case, &short(FUSED, &feed), "supply-shorted");
    assert_kept(&case, &short(FUSED, &feed), "supply-shorted-bare");
    // 86 is fed by the key: with the key off there is nothing to short.
    let coil = cavity(&case, "K3", "86");
    assert_kept(&case, &short(FUSED, &coil), "supply-shorted");
    let key_on = all([vec![set("key", "on")], short(FUSED, &coil)]);
    assert_broken(&case, &key_on, "supply-shorted");
    // Two grounds, and the load's side.
    assert_kept(&case, &short(FUSED, "G2:stud"), "supply-shorted");
    let load = cavity(&case, "K3", "87");
    assert_kept(&case, &short(FUSED, &load), "supply-shorted");
    // A wire across the battery stops the work.
    let bare = short(PLAIN, "bat:pos");
    assert_broken(&case, &bare, "supply-shorted-bare");
    let found = breaches(&case, &bare);
    assert!(found.iter().any(|b| b.severity == Severity::StopWork));
    assert_kept(&case, &short(PLAIN, &feed), "supply-shorted-bare");
}

#[test]
fn a_bridge_left_on_counts_when_it_becomes_one() {
    let case = sound("no-cold-air");
    let rule = "supply-shorted";
    let left = [
        out("K3"),
        vec![
            clip(FUSED, &cavity(&case, "K3", "86")),
            park(FUSED, "G4:stud"),
            seat(),
        ],
    ];
    let quiet = all(left);
    assert_kept(&case, &quiet, rule);
    let then = all([quiet.clone(), vec![set("key", "on")]]);
    assert_broken(&case, &then, rule);
    // It is one mistake however long it stays; the jumper's fuse blows and ends it.
    let long = all([then.clone(), vec![wait_s(2), wait_s(2)]]);
    assert_eq!(super::steps(&case, &long, rule), [then.len() - 1]);
}

#[test]
fn supply_stays_off_a_drivers_wire() {
    let case = sound("no-cold-air");
    let rule = "supply-into-output";
    assert_broken(
        &case,
        &all([out("K3"), across(&case, FUSED, "K3", "30", "85")]),
        rule,
    );
    let pump = all([
        vec![set("key", "on")],
        out("K2"),
        across(&case, FUSED, "K2", "86", "85"),
    ]);
    assert_broken(&case, &pump, rule);
    // The unit's own pin, behind its plug.
    let pin = vec![
        bay(),
        clip(FUSED, "bat:pos"),
        seat(),
        touch(FUSED, "climate_unit.clutch_relay"),
    ];
    assert_broken(&case, &pin, rule);
    // A quarter of an ampere is the proper test.
    let light = all([
        out("K3"),
        vec![
            clip(ToolKind::TestLight, "bat:pos"),
            touch(ToolKind::TestLight, &cavity(&case, "K3", "85")),
            sweep(ToolKind::TestLight, "K3"),
        ],
    ]);
    assert_eq!(broken(&case, &light), [""; 0]);
    // Grounding it only does what the driver does.
    let ground = all([
        out("K3"),
        vec![
            clip(FUSED, "G4:stud"),
            touch(FUSED, &cavity(&case, "K3", "85")),
        ],
    ]);
    assert_eq!(broken(&case, &ground), [""; 0]);
    // With the unit's plug off the wire ends nowhere.
    let unplugged = all([
        vec![unplug("climate_plug")],
        out("K3"),
        across(&case, FUSED, "K3", "30", "85"),
    ]);
    assert_kept(&case, &unplugged, rule);
    // The horn relay's coil is grounded by a button, not by a unit.
    assert_kept(
        &case,
        &all([out("K4"), across(&case, FUSED, "K4", "30", "85")]),
        rule,
    );
}

#[test]
fn a_unit_is_not_fed_through_its_output() {
    let case = sound("fan-still");
    let feed =
        |before: Vec<Action>| all([before, out("K6"), across(&case, FUSED, "K6", "30", "86")]);
    assert_broken(&case, &feed(vec![]), "supply-behind-output");
    assert_kept(
        &case,
        &feed(vec![unplug("climate_plug")]),
        "supply-behind-output",
    );
    let ground = |terminal: &str| {
        let to = cavity(&case, "K6", terminal);
        all([out("K6"), vec![clip(FUSED, "G4:stud"), touch(FUSED, &to)]])
    };
    assert_broken(&case, &ground("86"), "output-shorted");
    assert_kept(&case, &ground("85"), "output-shorted");
    // The load's side is what a jumper is for.
    let load = all([out("K6"), across(&case, FUSED, "K6", "30", "87")]);
    assert_eq!(broken(&case, &load), [""; 0]);
}

#[test]
fn sensor_wires_are_for_the_meter() {
    let case = sound("no-cold-air");
    let light = |tool, point: &str| vec![bay(), clip(tool, "bat:neg"), touch(tool, point)];
    let rule = "filament-light-on-sensor-line";
    for pin in ["supply", "signal", "ground"] {
        let script = light(ToolKind::TestLight, &format!("pressure_sensor.{pin}"));
        assert_broken(&case, &script, rule);
    }
    assert_kept(
        &case,
        &light(ToolKind::LedLight, "pressure_sensor.supply"),
        rule,
    );
    let meter = all([
        vec![dial(Dial::Volts)],
        light(ToolKind::Meter, "pressure_sensor.supply"),
    ]);
    assert_eq!(broken(&case, &meter), [""; 0]);
    // A switch's twelve-volt wire carries it easily.
    let request = [
        bay(),
        clip(ToolKind::TestLight, "bat:neg"),
        seat(),
        touch(ToolKind::TestLight, "climate_unit.request"),
        touch(ToolKind::TestLight, "climate_unit.supply"),
    ];
    assert_kept(&case, &request, rule);

    let rule = "supply-into-sensor-line";
    let jump = |from: &str| {
        vec![
            bay(),
            clip(FUSED, from),
            touch(FUSED, "pressure_sensor.signal"),
        ]
    };
    assert_broken(&case, &jump("bat:pos"), rule);
    // Five volts on the signal is how a sensor's wires are tried.
    assert_kept(&case, &jump("pressure_sensor.supply"), rule);
}

#[test]
fn the_starter_is_not_bridged_with_the_car_free_to_move() {
    let case = sound("no-start");
    let rule = "starter-bridged-unsecured";
    let bridge = |undone: Vec<Action>, from: &str, to: &str| {
        let to = cavity(&case, "K11", to);
        let from = match from {
            "30" => cavity(&case, "K11", "30"),
            other => other.to_owned(),
        };
        all([
            undone,
            out("K11"),
            vec![clip(FUSED, &from), touch(FUSED, &to)],
        ])
    };
    for undone in [set("gear", "drive"), set("park_brake", "off")] {
        let script = bridge(vec![undone.clone()], "30", "87");
        assert_broken(&case, &script, rule);
        assert_eq!(breaches(&case, &script)[0].severity, Severity::StopWork);
        assert_broken(&case, &bridge(vec![undone], "bat:pos", "87"), rule);
    }
    assert_kept(&case, &bridge(vec![], "30", "87"), rule);
    // The coil's cavity feeds nothing while the relay is out.
    let coil = bridge(vec![set("park_brake", "off")], "30", "86");
    assert_kept(&case, &coil, rule);
    // Straight at the solenoid, with the plug of nothing in the way.
    let solenoid = [
        set("park_brake", "off"),
        bay(),
        clip(FUSED, "bat:pos"),
        touch(FUSED, "solenoid.86"),
    ];
    assert_broken(&case, &solenoid, rule);
}

#[test]
fn the_clutch_is_bridged_with_the_engine_stopped() {
    let case = sound("no-cold-air");
    let rule = "clutch-bridged-running";
    let bridge = || across(&case, FUSED, "K3", "30", "87");
    assert_broken(
        &case,
        &all([running(), out("K3")[1..].to_vec(), bridge()]),
        rule,
    );
    assert_kept(&case, &all([out("K3"), bridge()]), rule);
    // Left on, and then the engine is started.
    let parked = all([
        out("K3"),
        vec![
            clip(FUSED, &cavity(&case, "K3", "30")),
            park(FUSED, &cavity(&case, "K3", "87")),
            set("exhaust_hose", "on"),
            seat(),
            set("key", "start"),
        ],
    ]);
    assert_broken(&case, &parked, rule);
    // Lifted before.
    let mut lifted = parked.clone();
    lifted.insert(parked.len() - 2, lift(FUSED, Lead::B));
    assert_kept(&case, &lifted, rule);
    // Another relay's load is not the clutch.
    let horn = all([
        running(),
        out("K4")[1..].to_vec(),
        across(&case, FUSED, "K4", "30", "87"),
    ]);
    assert_kept(&case, &horn, rule);
}
