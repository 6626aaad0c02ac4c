//! Contacts that come and go: by hand at the right place, and by heat.

use tracebay_core::fault::{Condition, Wrong};
use tracebay_core::session::{Action, Observation, Session};
use tracebay_core::tools::{Glow, Lead, ToolKind};
use tracebay_tests::cavity;

use crate::car::{act, asking, bay, clutch_in, put, sometimes, with};

/// The clutch's feed bridged at the socket and a light parked at the clutch.
fn watched(s: &mut Session) {
    bay(s);
    act(s, Action::Pull("K3".into()));
    let (feed, load) = (cavity(s, "K3", "30"), cavity(s, "K3", "87"));
    put(s, ToolKind::FusedJumper, Lead::A, &feed);
    put(s, ToolKind::FusedJumper, Lead::B, &load);
    put(s, ToolKind::TestLight, Lead::Clip, "bat:neg");
    put(s, ToolKind::TestLight, Lead::Probe, "clutch_coil.1");
}

fn shown(seen: &[Observation]) -> Glow {
    seen.iter()
        .find_map(|o| match o {
            Observation::Light { glow, .. } => Some(*glow),
            _ => None,
        })
        .expect("a light is parked")
}

#[test]
fn a_loose_terminal_lets_go_where_the_harness_is_moved_and_nowhere_else() {
    let loose = sometimes("engine_joint.1a", Wrong::Open, Condition::Shaken);
    let mut s = with(vec![loose]);
    watched(&mut s);
    assert_eq!(shown(&act(&mut s, Action::Wait(5))), Glow::Bright);
    assert_eq!(
        shown(&act(&mut s, Action::Wiggle("bulkhead".into()))),
        Glow::Bright,
        "not there"
    );
    assert_eq!(
        shown(&act(&mut s, Action::Wiggle("engine_side".into()))),
        Glow::Dark,
        "there"
    );
    assert_eq!(
        shown(&act(&mut s, Action::Wait(5))),
        Glow::Bright,
        "and it is back"
    );
}

#[test]
fn a_loose_terminal_also_lets_go_while_the_engine_shakes() {
    let loose = sometimes("engine_joint.1a", Wrong::Open, Condition::Shaken);
    let mut s = with(vec![loose]);
    asking(&mut s);
    let mut moves = 0;
    let mut before = clutch_in(&mut s);
    for _ in 0..100 {
        act(&mut s, Action::Wait(1));
        let now = clutch_in(&mut s);
        moves += usize::from(now != before);
        before = now;
    }
    assert!(moves > 2, "the clutch comes and goes: {moves}");
}

#[test]
fn a_contact_that_opens_hot_is_sound_in_the_first_minutes() {
    let warm = sometimes("clutch_coil", Wrong::CoilOpen, Condition::Hot);
    let mut s = with(vec![warm]);
    asking(&mut s);
    assert!(clutch_in(&mut s), "cold, it works");
    act(&mut s, Action::Wait(3_000));
    assert!(!clutch_in(&mut s), "after five minutes it has let go");
    // Off and left to cool, it works again.
    act(
        &mut s,
        Action::Set {
            control: "key".into(),
            to: "off".into(),
        },
    );
    act(&mut s, Action::Wait(6_000));
    asking(&mut s);
    assert!(clutch_in(&mut s), "cooled, it works again");
}
