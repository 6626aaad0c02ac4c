//! Hands, starting, running, the refrigerant ports, the battery, control units.

use std::sync::Arc;

use tracebay_core::fault::Method;
use tracebay_core::scenario::SourceFile;
use tracebay_core::session::{Action, Session};
use tracebay_core::tools::ToolKind;

use super::{assert_broken, assert_kept, broken, rules};
use crate::safety::Watch;
use crate::shop::*;

#[test]
fn no_hand_at_belts_while_the_engine_runs() {
    let case = sound("no-cold-air");
    let rule = "hands-in-moving-parts";
    for hand in [
        feel("compressor_low"),
        Action::Wiggle("alternator_side".into()),
        unplug("clutch"),
        plug("clutch"),
        touch(ToolKind::TestLight, "clutch_coil.1"),
        clip(ToolKind::TestLight, "G7:stud"),
        repair("w_clutch_gnd", Method::MendWire),
        feel("fan_shroud"),
    ] {
        let script = all([running(), vec![clip(ToolKind::TestLight, "bat:neg"), hand]]);
        assert_broken(&case, &script, rule);
    }
    // Looking and listening are no hand; the fuse box and the lines are out of the way.
    let script = all([
        running(),
        vec![
            lamp(Some("compressor_low")),
            look("compressor_low"),
            listen("alternator_side"),
            feel("sensor_nook"),
            uncover("box lid"),
            pull("K3"),
            clip(ToolKind::TestLight, "bat:neg"),
            sweep(ToolKind::TestLight, "K3"),
        ],
    ]);
    assert_kept(&case, &script, rule);
    // The same hand with the engine stopped, the lead placed before it was started.
    let script = all([
        vec![
            bay(),
            feel("compressor_low"),
            clip(ToolKind::TestLight, "G7:stud"),
        ],
        running()[1..].to_vec(),
    ]);
    assert_kept(&case, &script, rule);
}

#[test]
fn water_keeps_off_what_runs_and_what_is_hot() {
    let case = sound("no-cold-air");
    let spray = |place: &str| Action::Spray(place.into());
    let stopped = |place| vec![bay(), spray(place)];
    for (place, rule) in [
        ("compressor_low", "water-into-belt"),
        ("alternator_side", "water-into-running-alternator"),
        ("bulkhead", "water-with-engine-running"),
    ] {
        assert_broken(&case, &all([running(), vec![spray(place)]]), rule);
        assert_kept(&case, &stopped(place), rule);
    }
    assert_kept(
        &case,
        &all([running(), vec![spray("bulkhead")]]),
        "water-into-belt",
    );
    // Ten minutes of running make an engine too hot to hold, and gloves and glasses make it safe.
    let rule = "water-on-hot-part";
    let hot = || {
        all([
            running(),
            vec![Action::Wait(6_000), seat(), set("key", "off"), bay()],
        ])
    };
    assert_broken(&case, &all([hot(), vec![spray("engine_top")]]), rule);
    assert_kept(
        &case,
        &all([hot(), vec![Action::Protect, spray("engine_top")]]),
        rule,
    );
    assert_kept(&case, &stopped("engine_top"), rule);
}

#[test]
fn a_fan_that_could_start_is_no_place_for_a_hand() {
    let case = sound("fan-still");
    let rule = "fan-may-start";
    let reach = || vec![unplug("fan_con_plug")];
    let key_on = || vec![set("key", "on"), bay()];
    assert_broken(&case, &all([key_on(), reach()]), rule);
    // With the key off neither fan's relay can be switched by its unit.
    assert_kept(&case, &all([vec![bay()], reach()]), rule);
    let with_out = |parts: &[&str]| {
        let pulled = parts.iter().map(|p| pull(p)).collect();
        all([key_on(), vec![uncover("box lid")], pulled, reach()])
    };
    // Both fans' fuses out: nothing can turn.
    assert_kept(&case, &with_out(&["F3", "F4"]), rule);
    // One is not enough, the two stand side by side.
    assert_broken(&case, &with_out(&["F4"]), rule);
    // The radiator fan hangs on the engine control unit, which the main relay feeds.
    assert_kept(&case, &with_out(&["F4", "K1"]), rule);
    assert_kept(&case, &with_out(&["K5", "K6"]), rule);
    assert_broken(&case, &with_out(&["K5"]), rule);
}

#[test]
fn a_part_too_hot_to_hold() {
    let case = sound("no-cold-air");
    let rule = "hot-part";
    let warmed = |more: Vec<Action>| {
        all([
            running(),
            vec![Action::Wait(6_000), seat(), set("key", "off"), bay()],
            more,
        ])
    };
    assert_broken(&case, &warmed(vec![feel("engine_top")]), rule);
    assert_broken(&case, &warmed(vec![unplug("clutch")]), rule);
    let thermometer = Action::Thermometer("engine_top".into());
    assert_kept(&case, &warmed(vec![thermometer, feel("unit_tray")]), rule);
    let gloves = vec![Action::Protect, unplug("coolant_plug")];
    assert_kept(&case, &warmed(gloves), rule);
    assert_kept(&case, &[bay(), feel("engine_top")], rule);
}

#[test]
fn secured_before_the_starter_turns() {
    let case = sound("no-cold-air");
    let rule = "start-not-secured";
    for undone in [
        set("gear", "drive"),
        set("park_brake", "off"),
        set("gear", "reverse"),
    ] {
        assert_broken(&case, &[undone, set("key", "start")], rule);
    }
    assert_kept(&case, &[set("gear", "neutral"), set("key", "start")], rule);
    assert_kept(&case, &[set("gear", "drive"), set("key", "on")], rule);
}

#[test]
fn exhaust_is_led_out_before_the_engine_runs() {
    let case = sound("no-cold-air");
    let rule = "no-exhaust-extraction";
    assert_broken(&case, &[set("key", "start")], rule);
    assert_kept(&case, &running(), rule);
    assert_kept(&case, &[set("key", "on")], rule);
    // Taken off again while it runs.
    let script = all([running(), vec![set("exhaust_hose", "off")]]);
    assert_broken(&case, &script, rule);
    // An engine that only cranks breathes out nothing to speak of.
    let dead = with("no-start", "pump-worn-out");
    assert_kept(&dead, &[set("key", "start")], rule);
}

#[test]
fn eye_protection_before_a_port_is_opened() {
    let case = sound("no-cold-air");
    let bare = [bay(), uncover("service cap"), Action::Gauge(true)];
    assert_eq!(
        broken(&case, &bare),
        ["port-without-eye-protection", "hose-without-eye-protection"]
    );
    let guarded = [
        bay(),
        Action::Protect,
        uncover("service cap"),
        Action::Gauge(true),
        Action::Gauge(false),
        cover("service cap"),
    ];
    assert_eq!(broken(&case, &guarded), [""; 0]);
    // The fuse box's lid asks for nothing.
    assert_eq!(broken(&case, &[bay(), uncover("box lid")]), [""; 0]);
}

#[test]
fn the_hose_goes_on_with_the_engine_stopped() {
    let case = sound("no-cold-air");
    let rule = "hose-with-engine-running";
    let open = || vec![Action::Protect, uncover("service cap")];
    let late = all([running(), open(), vec![Action::Gauge(true)]]);
    assert_broken(&case, &late, rule);
    let early = all([
        vec![bay()],
        open(),
        vec![Action::Gauge(true)],
        running()[1..].to_vec(),
        vec![Action::Gauge(false)],
    ]);
    assert_kept(&case, &early, rule);
}

#[test]
fn the_service_cap_is_put_back() {
    let case = sound("no-cold-air");
    let rule = "cap-left-off";
    let open = [bay(), Action::Protect, uncover("service cap")];
    assert_broken(&case, &all([open.to_vec(), vec![hand_back()]]), rule);
    let shut = vec![cover("service cap"), uncover("box lid"), hand_back()];
    assert_kept(&case, &all([open.to_vec(), shut]), rule);
}

/// Refrigerant is for licensed people: EU Regulation 2024/573 and US Clean Air Act section 609 (from
/// memory).
#[test]
fn refrigerant_work_shows_its_reminders() {
    let case = sound("no-cold-air");
    let recharge = [bay(), repair("refrigerant", Method::Recharge)];
    assert_broken(&case, &recharge, "recharge-licensed-only");
    let sensor = [bay(), repair("pressure_sensor", Method::Replace)];
    assert_broken(&case, &sensor, "loop-may-open");
    // Neither the condenser's face nor a sensor in the air duct holds any.
    let dry = [
        bay(),
        repair("refrigerant", Method::CleanCondenser),
        seat(),
        repair("evap_sensor", Method::Replace),
    ];
    assert_eq!(broken(&case, &dry), [""; 0]);
}

#[test]
fn ground_clamp_off_first_and_on_last() {
    // The shipped car's clamps are not plugs; here they are.
    let mut car = car_text();
    car.text = car.text.replace(
        "    connectors: {\n",
        "    connectors: {\n        \"clamp_pos\": Connector(label: \"Positive clamp\", place: \"battery_tray\", pins: [\"bat.pos\"]),\n        \"clamp_neg\": Connector(label: \"Ground clamp\", place: \"battery_tray\", pins: [\"bat.neg\"]),\n",
    );
    let case = catalogue(SourceFile { ..car })
        .draw("no-cold-air", 1)
        .unwrap();
    let case = Arc::new(case.sound());
    let rule = "battery-clamp-order";
    assert_broken(&case, &[bay(), unplug("clamp_pos")], rule);
    let right = vec![
        bay(),
        unplug("clamp_neg"),
        unplug("clamp_pos"),
        plug("clamp_pos"),
        plug("clamp_neg"),
    ];
    assert_kept(&case, &right, rule);
    let back_wrong = all([right[..3].to_vec(), vec![plug("clamp_neg")]]);
    assert_broken(&case, &back_wrong, rule);
    // With the ground clamp off nothing is live, and a fan cannot start.
    let off = [
        set("key", "on"),
        bay(),
        unplug("clamp_neg"),
        unplug("fan_con_plug"),
    ];
    assert_kept(&case, &off, "fan-may-start");
}

#[test]
fn control_units_are_unplugged_with_the_key_off() {
    let case = sound("no-cold-air");
    let rule = "unit-plug-live";
    assert_broken(&case, &[set("key", "on"), unplug("climate_plug")], rule);
    let off = [
        unplug("climate_plug"),
        set("key", "on"),
        plug("climate_plug"),
    ];
    assert_broken(&case, &off, rule);
    // Through the main relay, and not with that out.
    assert_broken(&case, &[set("key", "on"), bay(), unplug("ecu_plug")], rule);
    let relay_out = [
        set("key", "on"),
        bay(),
        uncover("box lid"),
        pull("K1"),
        unplug("ecu_plug"),
    ];
    assert_kept(&case, &relay_out, rule);
    assert_kept(&case, &[unplug("climate_plug"), plug("climate_plug")], rule);
    // A sensor's plug is no control unit's, and pressing a plug home opens nothing.
    let others = [
        set("key", "on"),
        plug("climate_plug"),
        bay(),
        unplug("psensor"),
    ];
    assert_kept(&case, &others, rule);
}

/// What would be broken is known before it is done, so that nobody is ever advised to.
#[test]
fn foreseen_without_being_done() {
    let case = sound("no-cold-air");
    let mut session = Session::new(case.clone()).unwrap();
    for action in all([running(), vec![clip(ToolKind::TestLight, "bat:neg")]]) {
        session.perform(&action).unwrap();
    }
    let done = session.log().len();
    let watch = Watch::new(&rules(), &mut session);
    let foreseen = |action: &Action| -> Vec<String> {
        watch
            .would_break(&session, action)
            .iter()
            .map(|r| r.id.clone())
            .collect()
    };
    let light = |point: &str| touch(ToolKind::TestLight, point);
    assert_eq!(foreseen(&light("clutch_coil.1")), ["hands-in-moving-parts"]);
    assert_eq!(
        foreseen(&light("pressure_sensor.signal")),
        ["filament-light-on-sensor-line"]
    );
    assert_eq!(
        foreseen(&Action::Gauge(true)),
        ["hose-without-eye-protection", "hose-with-engine-running"]
    );
    assert_eq!(foreseen(&light("bat:pos")), [""; 0]);
    assert_eq!(foreseen(&look("compressor_low")), [""; 0]);
    assert_eq!(session.log().len(), done);
}
