//! Coils: copper's temperature, shorted turns, a diode the wrong way round.

use std::sync::Arc;

use tracebay_core::fault::Wrong;
use tracebay_core::scenario::Step;
use tracebay_core::session::{Action, Observation, Session, Sound};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_tests::cavity;

use crate::car::{act, asking, bay, case, clutch_in, fault, put, reads, set, with};

/// Ohms between the two pins of the clutch with its plug off.
fn clutch_ohms(s: &mut Session) -> f64 {
    bay(s);
    act(s, Action::Unplug("clutch".into()));
    reads(s, Dial::Ohms, "clutch_coil:1", "clutch_coil:2")
}

/// Ohms of a relay's coil at its blades, the relay laid aside.
fn relay_ohms(s: &mut Session, relay: &str) -> f64 {
    bay(s);
    act(s, Action::Pull(relay.into()));
    let blade = |s: &Session, t: &str| cavity(s, relay, t).replace('.', ":");
    let (a, b) = (blade(s, "86"), blade(s, "85"));
    reads(s, Dial::Ohms, &b, &a)
}

#[test]
fn shorted_turns_read_low() {
    // 3 to 5 ohms is sound. The leads add two tenths, which is told in the meter's table.
    let sound = clutch_ohms(&mut with(vec![]));
    assert!((3.5..=5.0).contains(&sound), "{sound}");
    let shorted = clutch_ohms(&mut with(vec![fault(
        "clutch_coil",
        Wrong::CoilShorted(0.4),
    )]));
    let left = (shorted - 0.2) / (sound - 0.2);
    assert!((left - 0.4).abs() < 0.06, "{shorted} of {sound}");
    let sound = relay_ohms(&mut with(vec![]), "K8");
    let shorted = relay_ohms(&mut with(vec![fault("K8", Wrong::CoilShorted(0.3))]), "K8");
    assert!((shorted / sound - 0.3).abs() < 0.02, "{shorted} of {sound}");
}

#[test]
fn a_relay_with_shorted_turns_draws_more_and_still_pulls() {
    // Half the turns at twice the current: the same ampere-turns.
    let mut s = with(vec![fault("K4", Wrong::CoilShorted(0.5))]);
    let seen = {
        s.drive(&[set("horn", "pressed")]);
        s.view().sounds
    };
    assert!(seen.iter().any(|(sound, _)| *sound == Sound::Horn));
}

#[test]
fn a_relay_coil_follows_copper() {
    // IEC 60028: 0.393 % for each kelvin, at 20 °C.
    let at = |ambient_c: f64| {
        let mut case = case(vec![], |_| ());
        case.ambient_c = ambient_c;
        relay_ohms(&mut Session::new(Arc::new(case)).expect("solvable"), "K8")
    };
    let (cold, hot) = (at(-10.0), at(40.0));
    let copper = (1.0 + 0.00393 * 20.0) / (1.0 - 0.00393 * 30.0);
    let off = (hot / cold / copper - 1.0).abs();
    println!(
        "relay coil by temperature, read with the meter | IEC 60028, from memory | 2 | {:.2} %",
        100.0 * off
    );
    assert!(off < 0.005, "{cold} {hot}");
}

#[test]
fn a_diode_the_wrong_way_round_shorts_the_clutch_and_blows_its_fuse() {
    let mut s = with(vec![fault("clutch_coil", Wrong::DiodeReversed)]);
    asking(&mut s);
    assert_eq!(s.blown_in_place(), ["F9"]);
    assert!(!clutch_in(&mut s));
    // And the fuse of the jumper that would feed the clutch: 15 A.
    let mut s = with(vec![fault("clutch_coil", Wrong::DiodeReversed)]);
    bay(&mut s);
    put(&mut s, ToolKind::FusedJumper, Lead::A, "bat:pos");
    let mut seen = put(&mut s, ToolKind::FusedJumper, Lead::B, "clutch_coil.1");
    seen.extend(act(&mut s, Action::Wait(50)));
    assert!(
        seen.contains(&Observation::ToolFuseBlew {
            tool: ToolKind::FusedJumper
        }),
        "{seen:?}"
    );
    // A sound one pulls in on the same jumper.
    let mut s = with(vec![]);
    bay(&mut s);
    put(&mut s, ToolKind::FusedJumper, Lead::A, "bat:pos");
    put(&mut s, ToolKind::FusedJumper, Lead::B, "clutch_coil.1");
    act(&mut s, Action::Wait(50));
    assert!(clutch_in(&mut s));
}

#[test]
fn a_relay_with_its_diode_the_wrong_way_round_blows_its_fuse_and_never_pulls() {
    // K10's coil is fed by the key and grounded by the switch on the panel, with a diode across.
    let tried = |faults| {
        let mut s = with(faults);
        s.drive(&[set("key", "on"), set("rear_heater", "on"), Step::Wait(10.0)]);
        let heats = s.view().motion.lamps["rear_heater_grid"] > 0.5;
        (heats, s.blown_in_place().len())
    };
    assert_eq!(tried(vec![]), (true, 0));
    assert_eq!(tried(vec![fault("K10", Wrong::DiodeReversed)]), (false, 1));
}
