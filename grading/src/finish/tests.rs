//! Jobs begun and left well and badly, on the shipped scenarios.
//!
//! What belongs to a job well done is common practice, no source.

use tracebay_core::fault::Method;
use tracebay_core::session::{Action, Finding, Item, Observation};
use tracebay_core::tools::ToolKind;

use super::{Finish, finish};
use crate::parts::{Need, replaced};
use crate::shop::*;

/// Where the blower's air comes out.
const VENT: &str = "vents";

/// The car driven as the customer does until the air is warm, from the seat.
fn met() -> Vec<Action> {
    all([
        vec![
            bay(),
            set("exhaust_hose", "on"),
            seat(),
            set("key", "start"),
        ],
        asked(),
    ])
}

fn asked() -> Vec<Action> {
    vec![set("blower", "4"), set("ac", "on"), wait_s(15)]
}

/// Air felt at the blower's outlet and clutch watched, from the seat.
fn felt_and_seen() -> Vec<Action> {
    vec![
        feel(VENT),
        bay(),
        lamp(Some("compressor_low")),
        look("compressor_low"),
        lamp(None),
        seat(),
    ]
}

fn end() -> Vec<Action> {
    vec![set("key", "off"), hand_back()]
}

fn of(case: &std::sync::Arc<tracebay_core::scenario::Case>, actions: &[Action]) -> Finish {
    finish(case, actions).unwrap_or_else(|e| panic!("{e}: {e:?}"))
}

#[test]
fn a_job_well_begun_and_well_left() {
    let case = with("no-cold-air", "relay-contacts");
    let work = vec![
        set("key", "off"),
        bay(),
        uncover("box lid"),
        pull("K3"),
        repair("K3", Method::Replace),
        cover("box lid"),
        seat(),
        set("key", "start"),
        wait_s(15),
    ];
    let script = all([met(), felt_and_seen(), work, felt_and_seen(), end()]);
    let finish = of(&case, &script);
    assert!(finish.reproduced_before_work.kept);
    // At the look at the clutch, after the hand in the air.
    assert_eq!(finish.reproduced_before_work.step, Some(10));
    assert!(finish.retested_same_way.kept, "{finish:?}");
    // The clutch was heard to snap in during the wait; the hand in the air made it whole.
    assert_eq!(finish.retested_same_way.step, Some(22));
    assert!(finish.checked_at_vent.unwrap().kept);
    for (name, habit) in [
        ("relays", finish.relays_in),
        ("fuses", finish.fuses_in),
        ("plugs", finish.plugs_on),
        ("covers", finish.covers_on),
        ("tools", finish.tools_off),
        ("key", finish.key_off),
        ("spares", finish.spares_back),
        ("order", finish.handed_back),
    ] {
        assert!(habit.kept, "{name}: {habit:?}");
    }
    // Earned by putting the lid back; never touched; off at the end.
    assert_eq!(finish.covers_on.step, Some(18));
    assert_eq!(finish.plugs_on.step, None);
    assert_eq!(finish.key_off.step, Some(script.len() - 2));
    let parts = replaced(&case, &script).unwrap();
    assert_eq!(parts.len(), 1);
    assert!(parts[0].was_faulty());
    assert_eq!(
        (parts[0].step, parts[0].price, parts[0].minutes),
        (17, 12.0, 3.0)
    );
}

#[test]
fn work_before_the_complaint_was_met() {
    let case = with("no-cold-air", "relay-contacts");
    let script = all([
        vec![
            bay(),
            uncover("box lid"),
            pull("K3"),
            fit("K3", Item::Original),
            seat(),
        ],
        met(),
        felt_and_seen(),
    ]);
    let finish = of(&case, &script);
    assert!(!finish.reproduced_before_work.kept);
    assert_eq!(finish.reproduced_before_work.step, Some(2));
    // Proving a light and lifting the lid is no work yet.
    let ready = vec![
        bay(),
        uncover("box lid"),
        clip(ToolKind::TestLight, "bat:neg"),
        touch(ToolKind::TestLight, "bat:pos"),
        seat(),
    ];
    assert!(
        of(&case, &all([ready, met(), felt_and_seen()]))
            .reproduced_before_work
            .kept
    );
}

#[test]
fn half_a_reproduction_is_none() {
    let case = with("no-cold-air", "relay-contacts");
    let kept = |actions: Vec<Action>| of(&case, &actions).reproduced_before_work.kept;
    let looked = felt_and_seen()[1..].to_vec();
    // Only felt, only seen, seen in the dark, seen before the delay is over, seen with the A/C off.
    assert!(!kept(all([met(), vec![feel(VENT)]])));
    assert!(!kept(all([met(), looked.clone()])));
    assert!(!kept(all([
        met(),
        vec![feel(VENT), bay(), look("compressor_low")]
    ])));
    let hasty = all([met()[..6].to_vec(), vec![wait_s(2)], felt_and_seen()]);
    assert!(!kept(hasty));
    assert!(!kept(all([met(), vec![set("ac", "off")], felt_and_seen()])));
    assert!(kept(all([met(), felt_and_seen()])));
    // The thermometer does as well as the hand.
    let measured = vec![Action::Thermometer(VENT.into())];
    assert!(kept(all([met(), measured, looked])));
    // Where no air comes the clutch need not be watched.
    let still = with("no-cold-air", "blower-fuse");
    let script = all([met(), vec![feel(VENT)]]);
    assert!(of(&still, &script).reproduced_before_work.kept);
}

#[test]
fn the_re_test_follows_the_last_change() {
    let case = with("no-cold-air", "relay-contacts");
    let open = vec![
        bay(),
        uncover("box lid"),
        pull("K3"),
        fit("K3", Item::Spare),
        seat(),
        wait_s(15),
    ];
    let tried = all([met(), felt_and_seen(), open.clone(), felt_and_seen()]);
    assert!(of(&case, &tried).retested_same_way.kept);
    // The original comes back afterwards, and nobody tries again.
    let undone = all([
        tried.clone(),
        vec![
            set("key", "off"),
            bay(),
            pull("K3"),
            repair("K3", Method::Replace),
        ],
        vec![hand_back()],
    ]);
    let finish = of(&case, &undone);
    assert!(!finish.retested_same_way.kept);
    assert_eq!(finish.retested_same_way.step, Some(tried.len() + 3));
    assert!(!finish.checked_at_vent.unwrap().kept);
    // Felt before, only measured after: another test. But the vent was checked.
    let mut other = felt_and_seen();
    other[0] = Action::Thermometer(VENT.into());
    let finish = of(&case, &all([met(), felt_and_seen(), open.clone(), other]));
    assert!(!finish.retested_same_way.kept);
    assert!(finish.checked_at_vent.unwrap().kept);
    // Nothing was repaired, so nothing was re-tested.
    assert!(
        !of(&case, &all([met(), felt_and_seen()]))
            .retested_same_way
            .kept
    );
    // A jumper in the relay's place proves nothing about the car.
    let jumper = ToolKind::FusedJumper;
    let bridged = all([
        met(),
        felt_and_seen(),
        vec![bay(), uncover("box lid"), pull("K3")],
        vec![
            clip(jumper, &cavity(&case, "K3", "30")),
            park(jumper, &cavity(&case, "K3", "87")),
            seat(),
            wait_s(15),
        ],
        felt_and_seen(),
    ]);
    assert!(!of(&case, &bridged).retested_same_way.kept);
}

#[test]
fn what_was_left_lying_about() {
    let case = with("no-cold-air", "relay-contacts");
    let light = ToolKind::TestLight;
    let script = [
        set("key", "on"),
        bay(),
        uncover("box lid"),
        pull("K7"),
        pull("F15"),
        unplug("psensor"),
        clip(light, "bat:neg"),
        pull("K3"),
        fit("K3", Item::Spare),
    ];
    let finish = of(&case, &script);
    let lost = |habit: super::Habit| {
        assert!(!habit.kept);
        habit.step
    };
    assert_eq!(lost(finish.relays_in), Some(3));
    assert_eq!(lost(finish.fuses_in), Some(4));
    assert_eq!(lost(finish.plugs_on), Some(5));
    assert_eq!(lost(finish.covers_on), Some(2));
    assert_eq!(lost(finish.tools_off), Some(6));
    assert_eq!(lost(finish.key_off), Some(0));
    assert_eq!(lost(finish.spares_back), Some(8));
    assert_eq!(lost(finish.handed_back), None);
    assert_eq!(finish.spares_left_in, ["K3"]);
}

#[test]
fn a_blown_fuse_left_in_its_slot_is_no_fuse() {
    // The plain jumper shorts the clutch's feed; the car's 10 A fuse gives.
    let case = with("no-cold-air", "relay-contacts");
    let plain = ToolKind::PlainJumper;
    let short = vec![
        bay(),
        uncover("box lid"),
        pull("K3"),
        clip(plain, "G4:stud"),
        touch(plain, &cavity(&case, "K3", "30")),
        wait_s(1),
    ];
    let finish = of(&case, &short);
    assert_eq!(finish.blown_left_in, ["F9"]);
    assert!(!finish.fuses_in.kept);
    assert_eq!(finish.fuses_in.step, Some(4));
    let mended = all([
        short,
        vec![repair("F9", Method::Replace), repair("F9", Method::Replace)],
    ]);
    assert!(of(&case, &mended).fuses_in.kept);
    let needs: Vec<Need> = replaced(&case, &mended)
        .unwrap()
        .iter()
        .map(|r| r.need)
        .collect();
    assert_eq!(needs, [Need::DamagedOnTheWay, Need::Sound]);
}

#[test]
fn sound_parts_are_told_from_faulty_ones() {
    let needs = |candidate: &str, targets: &[&str]| -> Vec<Need> {
        let case = with("no-cold-air", candidate);
        let script = all([
            vec![bay(), uncover("box lid")],
            targets
                .iter()
                .map(|t| match *t {
                    "seat" => seat(),
                    part => repair(part, Method::Replace),
                })
                .collect(),
        ]);
        replaced(&case, &script)
            .unwrap()
            .iter()
            .map(|r| r.need)
            .collect()
    };
    assert_eq!(
        needs("clutch-winding", &["K3", "clutch_coil", "clutch_coil"]),
        [Need::Sound, Need::Faulty, Need::Sound]
    );
    // The plug was loose: a new sensor cures it, and was not needed.
    assert_eq!(needs("sensor-plug", &["pressure_sensor"]), [Need::Sound]);
    // A loose cavity in the socket is not the relay.
    assert_eq!(needs("socket-contact-feed", &["K3"]), [Need::Sound]);
    assert_eq!(
        needs("unit-output", &["seat", "climate_unit"]),
        [Need::Faulty]
    );
}

#[test]
fn damage_done_on_the_way_is_told_from_a_guess() {
    // Full supply on the clutch relay's control wire, held there until the unit switches on.
    let case = with("no-cold-air", "clutch-fuse");
    let jumper = ToolKind::FusedJumper;
    let script = [
        bay(),
        uncover("box lid"),
        pull("K3"),
        clip(jumper, "bat:pos"),
        park(jumper, &cavity(&case, "K3", "85")),
        seat(),
        set("key", "start"),
        set("blower", "3"),
        set("ac", "on"),
        wait_s(15),
        set("key", "off"),
        repair("climate_unit", Method::Replace),
        repair("climate_unit", Method::Replace),
    ];
    let needs: Vec<Need> = replaced(&case, &script)
        .unwrap()
        .iter()
        .map(|r| r.need)
        .collect();
    // Never was the unit behind the complaint, and the second one was for nothing.
    assert_eq!(needs, [Need::DamagedOnTheWay, Need::Sound]);
}

#[test]
fn other_complaints_are_met_in_their_own_way() {
    // A silent horn is met by pressing it, from the seat.
    let horn = with("horn-silent", "relay-coil");
    let press = || vec![set("horn", "pressed"), wait_s(1), set("horn", "off")];
    let work = || {
        vec![
            bay(),
            uncover("box lid"),
            pull("K4"),
            repair("K4", Method::Replace),
            seat(),
        ]
    };
    let finish = of(&horn, &all([press(), work(), press()]));
    assert!(finish.reproduced_before_work.kept && finish.retested_same_way.kept);
    assert_eq!(finish.checked_at_vent, None);
    let finish = of(&horn, &all([work(), press()]));
    assert!(!finish.reproduced_before_work.kept && finish.retested_same_way.kept);
    assert!(!of(&horn, &all([press(), work()])).retested_same_way.kept);

    // An engine that does not start, by trying to.
    let dead = with("no-start", "pump-relay-contacts");
    let crank = || vec![set("key", "start")];
    let work = || {
        vec![
            bay(),
            uncover("box lid"),
            pull("K2"),
            repair("K2", Method::Replace),
            seat(),
        ]
    };
    let finish = of(&dead, &all([crank(), work(), crank()]));
    assert!(finish.reproduced_before_work.kept && finish.retested_same_way.kept);
    assert!(!of(&dead, &all([crank(), work()])).retested_same_way.kept);
    assert!(
        !of(&dead, &all([work(), crank()]))
            .reproduced_before_work
            .kept
    );

    // A fan that stands still, by looking at it with the A/C asked for.
    let fan = with("fan-still", "fan-burnt-out");
    let asked = || all([met(), vec![bay(), look("fan_shroud"), seat()]]);
    assert!(of(&fan, &asked()).reproduced_before_work.kept);
    assert!(
        !of(&fan, &[bay(), look("fan_shroud")])
            .reproduced_before_work
            .kept
    );
    assert!(!of(&fan, &met()).reproduced_before_work.kept);
}

#[test]
fn a_lamp_is_met_by_seeing_that_lamp() {
    // Common practice, no source: a lamp is looked at; its neighbour in the housing tells nothing.
    let dark = with("stop-lamps-dark", "pedal-switch");
    let brake = || set("brake", "down");
    let kept = |actions: &[Action]| of(&dark, actions).reproduced_before_work.kept;
    assert!(kept(&[brake(), look("tail")]));
    assert!(!kept(&[brake(), feel("tail")]));
    assert!(!kept(&[look("tail")]));
    let seen = |lamp: Option<&str>| Observation::Seen {
        place: "tail".into(),
        finding: Finding::Unlit,
        lamp: lamp.map(str::to_owned),
    };
    let met = |lamp| super::senses::sees_lamp(&seen(lamp), "stop_lamp", "tail");
    assert!(met(Some("stop_lamp")) && met(None));
    assert!(!met(Some("tail_lamp")));
}
