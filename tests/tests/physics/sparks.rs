//! The spark where a coil's current is cut: ½ L I² (any textbook) goes into the suppressor or into
//! the gap (Paschen: no gap in air below 327 V).

use tracebay_core::fault::Wrong;
use tracebay_core::session::{Action, Observation, Session};
use tracebay_core::tools::{Lead, ToolKind};
use tracebay_tests::cavity;

use crate::car::{act, bay, fault, lift, put, set, with};

const JUMPER: ToolKind = ToolKind::FusedJumper;

fn spark(seen: &[Observation]) -> Option<bool> {
    seen.iter().find_map(|o| match o {
        Observation::Spark { strong, .. } => Some(*strong),
        _ => None,
    })
}

/// The clutch fed by a jumper at its relay's socket, as in the trade's usual test.
fn clutch_on_a_jumper(s: &mut Session) {
    bay(s);
    act(s, Action::Pull("K3".into()));
    let (feed, load) = (cavity(s, "K3", "30"), cavity(s, "K3", "87"));
    put(s, JUMPER, Lead::A, &feed);
    let seen = put(s, JUMPER, Lead::B, &load);
    assert_eq!(spark(&seen), Some(false), "3 A are made with a small spark");
}

#[test]
fn a_clutch_with_its_diode_lets_go_with_a_small_spark_and_without_it_with_a_large_one() {
    for (faults, strong) in [
        (vec![], false),
        (vec![fault("clutch_coil", Wrong::DiodeOpen)], true),
    ] {
        let mut s = with(faults);
        clutch_on_a_jumper(&mut s);
        let seen = lift(&mut s, JUMPER, Lead::B);
        assert_eq!(spark(&seen), Some(strong));
    }
}

#[test]
fn a_plug_taken_off_a_working_clutch_sparks_the_same_way() {
    for (faults, strong) in [
        (vec![], false),
        (vec![fault("clutch_coil", Wrong::DiodeOpen)], true),
    ] {
        let mut s = with(faults);
        clutch_on_a_jumper(&mut s);
        let seen = act(&mut s, Action::Unplug("clutch".into()));
        // The diode sits in the clutch, behind the plug: it serves there too.
        assert_eq!(spark(&seen), Some(strong), "{seen:?}");
    }
    let mut s = with(vec![]);
    bay(&mut s);
    let seen = act(&mut s, Action::Unplug("clutch".into()));
    assert_eq!(spark(&seen), None, "no current, no spark");
}

#[test]
fn a_relay_coil_sparks_only_where_nothing_is_beside_it() {
    // K4 has nothing across its coil, K10 a diode, K8 nothing: a few millijoules against none.
    for (relay, key, sparks) in [("K4", "off", true), ("K10", "on", false)] {
        let mut s = with(vec![]);
        s.drive(&[set("key", key)]);
        bay(&mut s);
        act(&mut s, Action::Breakout(Some(relay.into())));
        let low = cavity(&s, relay, "85");
        put(&mut s, JUMPER, Lead::A, "bat:neg");
        let seen = put(&mut s, JUMPER, Lead::B, &low);
        assert!(
            seen.iter().any(|o| matches!(
                o,
                Observation::Heard {
                    sound: tracebay_core::session::Sound::RelayClick,
                    ..
                }
            )),
            "{relay} pulls in: {seen:?}"
        );
        let seen = lift(&mut s, JUMPER, Lead::B);
        assert_eq!(spark(&seen).is_some(), sparks, "{relay}: {seen:?}");
    }
}
