//! Meter, test lights, sparks: rules that rest on what was seen.

use tracebay_core::fault::{Failure, Method};
use tracebay_core::session::Action;
use tracebay_core::tools::{Dial, ToolKind};

use super::{assert_broken, assert_kept, broken, steps};
use crate::shop::*;

const LIGHT: ToolKind = ToolKind::TestLight;
const METER: ToolKind = ToolKind::Meter;

#[test]
fn ohms_are_read_on_dead_circuits() {
    let case = sound("no-cold-air");
    let rule = "ohms-on-live";
    let at = |black: &str, red: &str| {
        vec![
            bay(),
            uncover("box lid"),
            pull("F9"),
            dial(Dial::Ohms),
            clip(METER, black),
            touch(METER, red),
        ]
    };
    assert_broken(&case, &at("bat:neg", "bat:pos"), rule);
    // A fuse laid aside is connected to nothing.
    assert_kept(&case, &at("F9:a", "F9:b"), rule);
    // Turning the dial with the leads on a live circuit is the same mistake.
    let turned = [
        bay(),
        dial(Dial::Volts),
        clip(METER, "bat:neg"),
        park(METER, "bat:pos"),
        dial(Dial::Ohms),
    ];
    assert_broken(&case, &turned, rule);
    // So is turning the key with the meter left on the coil's cavity.
    let left = [
        uncover_box(),
        vec![
            dial(Dial::Ohms),
            clip(METER, "bat:neg"),
            park(METER, &cavity(&case, "K3", "86")),
            seat(),
        ],
    ];
    let left = all(left);
    assert_kept(&case, &left, rule);
    assert_broken(&case, &all([left, vec![set("key", "on")]]), rule);
    // Standing there and looking at the number is not a second one.
    let waited = all([turned.to_vec(), vec![wait_s(1)]]);
    assert_eq!(steps(&case, &waited, rule), [4]);
}

/// At the box with the clutch relay out.
fn uncover_box() -> Vec<Action> {
    vec![bay(), uncover("box lid"), pull("K3")]
}

#[test]
fn amperes_go_in_line_never_across() {
    let case = sound("no-cold-air");
    let rule = "amps-across-source";
    let across = [
        bay(),
        dial(Dial::Amps),
        clip(METER, "bat:neg"),
        touch(METER, "bat:pos"),
    ];
    assert_broken(&case, &across, rule);
    assert_broken(&case, &across, "tool-fuse-blown");
    let volts = [
        bay(),
        dial(Dial::Volts),
        clip(METER, "bat:neg"),
        touch(METER, "bat:pos"),
    ];
    assert_eq!(broken(&case, &volts), [""; 0]);
    // In line with the clutch, in place of the relay.
    let in_line = [
        bay(),
        uncover("box lid"),
        pull("K3"),
        dial(Dial::Amps),
        clip(METER, &cavity(&case, "K3", "87")),
        touch(METER, &cavity(&case, "K3", "30")),
    ];
    assert_eq!(broken(&case, &in_line), [""; 0]);
}

#[test]
fn a_strong_spark_at_the_battery() {
    let case = sound("no-cold-air");
    let rule = "spark-at-battery";
    let plain = ToolKind::PlainJumper;
    let at_battery = [bay(), clip(plain, "G1:stud"), touch(plain, "bat:pos")];
    assert_broken(&case, &at_battery, rule);
    // The same mistake made away from it gasses nobody.
    let away = [bay(), clip(plain, "bat:pos"), touch(plain, "G1:stud")];
    assert_kept(&case, &away, rule);
    // A test light does not spark.
    let light = [bay(), clip(LIGHT, "G1:stud"), touch(LIGHT, "bat:pos")];
    assert_kept(&case, &light, rule);
}

#[test]
fn a_dark_light_is_proved_before_it_counts() {
    let case = sound("no-cold-air");
    let rule = "light-not-proved";
    let box_open = || vec![bay(), uncover("box lid"), pull("K3")];
    let find = || call("K3", Failure::Contacts);
    // On paint everything is dark; the step told is the reading relied on.
    let paint = all([
        box_open(),
        vec![clip(LIGHT, "paint"), sweep(LIGHT, "K3"), find()],
    ]);
    assert_eq!(steps(&case, &paint, rule), [4]);
    // Failing on the battery post warns nobody who goes on all the same.
    let failed = all([
        box_open(),
        vec![
            clip(LIGHT, "paint"),
            touch(LIGHT, "bat:pos"),
            sweep(LIGHT, "K3"),
            find(),
        ],
    ]);
    assert_eq!(steps(&case, &failed, rule), [5]);
    // Nobody relies on a light that failed and was laid aside.
    let aside = all([
        box_open(),
        vec![clip(LIGHT, "paint"), touch(LIGHT, "bat:pos"), find()],
    ]);
    assert_kept(&case, &aside, rule);
    // Proved on the battery, before or after.
    let load = cavity(&case, "K3", "87");
    let proved = vec![
        clip(LIGHT, "bat:neg"),
        touch(LIGHT, "bat:pos"),
        touch(LIGHT, &load),
        find(),
    ];
    assert_kept(&case, &all([box_open(), proved.clone()]), rule);
    let mut after = proved.clone();
    after.swap(1, 2);
    assert_kept(&case, &all([box_open(), after]), rule);
    // One lit cavity of a sweep proves the bulb and the clip.
    let swept = all([
        box_open(),
        vec![clip(LIGHT, "G4:stud"), sweep(LIGHT, "K3"), find()],
    ]);
    assert_kept(&case, &swept, rule);
    // A proof with the clip elsewhere says nothing about the paint.
    let moved = all([
        box_open(),
        vec![
            clip(LIGHT, "bat:neg"),
            touch(LIGHT, "bat:pos"),
            clip(LIGHT, "paint"),
        ],
        vec![touch(LIGHT, &load), repair("K3", Method::Replace)],
    ]);
    assert_eq!(steps(&case, &moved, rule), [6]);
    // A dead bulb found on the battery and renewed: what it showed before counts for nothing.
    let renewed = all([
        box_open(),
        vec![clip(LIGHT, "paint"), touch(LIGHT, &load)],
        vec![Action::Renew(LIGHT), clip(LIGHT, "bat:neg"), find()],
    ]);
    assert_kept(&case, &renewed, rule);
    // Counted once.
    let twice = all([
        paint,
        vec![Action::Note("hm".into()), call("F9", Failure::Blown)],
    ]);
    assert_eq!(steps(&case, &twice, rule), [4]);
}
