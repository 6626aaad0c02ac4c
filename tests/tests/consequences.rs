//! What a learner's mistakes do, and that it stays done. Facts of the trade, common practice, no
//! source, unless a line says otherwise.

use tracebay_core::session::{Action, MeterDisplay, Observation};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_tests::{cavity, open_up, session, set};

fn put(
    s: &mut tracebay_core::session::Session,
    tool: ToolKind,
    lead: Lead,
    point: &str,
) -> Vec<Observation> {
    s.perform(&Action::Put {
        tool,
        lead,
        point: point.into(),
    })
    .unwrap_or_else(|why| panic!("{point}: {why:?}"))
}

fn glow(seen: &[Observation]) -> Glow {
    seen.iter()
        .find_map(|o| match o {
            Observation::Light { glow, .. } => Some(*glow),
            _ => None,
        })
        .expect("a light was touched")
}

fn start(s: &mut tracebay_core::session::Session) {
    set(s, "key", "start");
    assert!(s.engine_running());
}

#[test]
fn bridging_supply_to_ground_blows_the_jumpers_fuse_and_spares_the_car() {
    let mut s = session("no-cold-air", 1, "relay-coil");
    open_up(&mut s);
    put(&mut s, ToolKind::FusedJumper, Lead::A, "bat:neg");
    let mut seen = put(&mut s, ToolKind::FusedJumper, Lead::B, "bat:pos");
    seen.extend(s.perform(&Action::Wait(20)).expect("possible"));
    assert!(
        seen.contains(&Observation::ToolFuseBlew {
            tool: ToolKind::FusedJumper
        }),
        "{seen:?}"
    );
    assert!(
        seen.iter()
            .any(|o| matches!(o, Observation::Spark { strong: true, .. }))
    );
    assert!(s.blown_in_place().is_empty());
    assert!(
        s.view().blown_tools.contains(&ToolKind::FusedJumper),
        "it stays blown"
    );
}

#[test]
fn bridging_a_fused_feed_to_ground_with_a_plain_jumper_blows_the_cars_fuse() {
    let mut s = session("no-cold-air", 1, "relay-coil");
    open_up(&mut s);
    s.perform(&Action::Pull("K3".into())).expect("possible");
    let feed = cavity(&s, "K3", "30");
    put(&mut s, ToolKind::PlainJumper, Lead::A, "bat:neg");
    put(&mut s, ToolKind::PlainJumper, Lead::B, &feed);
    s.perform(&Action::Wait(30)).expect("possible");
    assert_eq!(s.blown_in_place(), ["F9"]);
}

#[test]
fn supply_into_a_driver_does_nothing_while_it_is_off_and_destroys_it_while_it_is_on() {
    let mut s = session("no-cold-air", 1, "clutch-fuse");
    open_up(&mut s);
    s.perform(&Action::Pull("K3".into())).expect("possible");
    let control = cavity(&s, "K3", "85");
    let faults = s.still_wrong();
    put(&mut s, ToolKind::FusedJumper, Lead::A, "bat:pos");
    put(&mut s, ToolKind::FusedJumper, Lead::B, &control);
    s.perform(&Action::Wait(100)).expect("possible");
    assert_eq!(
        s.still_wrong(),
        faults,
        "an output that is off carries nothing"
    );
    start(&mut s);
    set(&mut s, "blower", "3");
    set(&mut s, "ac", "on");
    s.perform(&Action::Wait(150)).expect("possible");
    assert_eq!(s.still_wrong(), faults + 1, "the case has two faults now");
}

#[test]
fn a_light_on_the_clutch_relays_control_cavity_is_the_proper_test_and_does_no_harm() {
    let mut s = session("no-cold-air", 1, "relay-coil");
    open_up(&mut s);
    s.perform(&Action::Pull("K3".into())).expect("possible");
    start(&mut s);
    set(&mut s, "blower", "3");
    set(&mut s, "ac", "on");
    s.perform(&Action::Wait(100)).expect("possible");
    open_up(&mut s);
    let control = cavity(&s, "K3", "85");
    let faults = s.still_wrong();
    put(&mut s, ToolKind::TestLight, Lead::Clip, "bat:pos");
    let seen = s
        .perform(&Action::Touch {
            tool: ToolKind::TestLight,
            point: control,
        })
        .expect("possible");
    assert_eq!(glow(&seen), Glow::Bright, "the unit gives its ground");
    s.perform(&Action::Wait(300)).expect("possible");
    assert_eq!(s.still_wrong(), faults);
}

#[test]
fn a_clip_on_paint_makes_every_point_dark() {
    let mut s = session("no-cold-air", 1, "relay-coil");
    open_up(&mut s);
    put(&mut s, ToolKind::TestLight, Lead::Clip, "paint");
    let touch = Action::Touch {
        tool: ToolKind::TestLight,
        point: "bat:pos".into(),
    };
    assert_eq!(glow(&s.perform(&touch).expect("possible")), Glow::Dark);
    put(&mut s, ToolKind::TestLight, Lead::Clip, "bat:neg");
    assert_eq!(glow(&s.perform(&touch).expect("possible")), Glow::Bright);
}

#[test]
fn ohms_on_a_live_circuit_mean_nothing() {
    let mut s = session("no-cold-air", 1, "relay-coil");
    open_up(&mut s);
    s.perform(&Action::Dial(Dial::Ohms)).expect("possible");
    put(&mut s, ToolKind::Meter, Lead::Black, "bat:neg");
    let seen = s
        .perform(&Action::Touch {
            tool: ToolKind::Meter,
            point: "bat:pos".into(),
        })
        .expect("possible");
    assert!(
        seen.iter().any(|o| matches!(
            o,
            Observation::Meter {
                display: MeterDisplay::Nonsense { .. },
                ..
            }
        )),
        "{seen:?}"
    );
}

#[test]
fn a_bad_joint_passes_the_unloaded_voltage_check_and_fails_under_load() {
    // The trade's teaching case: 2 ohms in the feed of a 3.6 ohm clutch coil.
    let mut s = session("no-cold-air", 1, "engine-harness-joint");
    open_up(&mut s);
    s.perform(&Action::Unplug("clutch".into()))
        .expect("possible");
    s.perform(&Action::Pull("K3".into())).expect("possible");
    let (feed, load) = (cavity(&s, "K3", "30"), cavity(&s, "K3", "87"));
    put(&mut s, ToolKind::FusedJumper, Lead::A, &feed);
    put(&mut s, ToolKind::FusedJumper, Lead::B, &load);
    s.perform(&Action::Dial(Dial::Volts)).expect("possible");
    put(&mut s, ToolKind::Meter, Lead::Black, "bat:neg");
    let read = |s: &mut tracebay_core::session::Session| {
        let touch = Action::Touch {
            tool: ToolKind::Meter,
            point: "clutch_coil.1".into(),
        };
        s.perform(&touch)
            .expect("possible")
            .iter()
            .find_map(|o| match o {
                Observation::Meter {
                    display: MeterDisplay::Value { value, .. },
                    ..
                } => Some(*value),
                _ => None,
            })
            .expect("a number")
    };
    let unloaded = read(&mut s);
    assert!(unloaded > 12.0, "looks sound without load: {unloaded} V");
    s.perform(&Action::Plug("clutch".into())).expect("possible");
    let loaded = read(&mut s);
    assert!(loaded < unloaded - 2.0, "gives way under load: {loaded} V");
}
