//! What certain cases are there to teach really happens in them.
//!
//! Each is a fact of the trade (common practice, no source) that the simulation must show of itself.

use std::sync::Arc;

use tracebay_core::fault::{Failure, Method};
use tracebay_core::scenario::{Case, Step};
use tracebay_core::session::{Action, Item, MeterDisplay, Observation, Session};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::Station;
use tracebay_grading::judge::rightness;

use crate::load;

fn car(scenario: &str, candidate: Option<&str>) -> Session {
    let (scenario, vehicle) = load::scenarios()
        .into_iter()
        .find(|(s, _)| s.id == scenario)
        .unwrap_or_else(|| panic!("no scenario {scenario}"));
    let index = candidate.map(|id| {
        let found = scenario.candidates.iter().position(|c| c.id == id);
        found.unwrap_or_else(|| panic!("no candidate {id}"))
    });
    let case = Case::with(scenario, vehicle, 1, index).with_sound_tools();
    Session::new(Arc::new(case)).expect("an operating point")
}

fn set(control: &str, to: &str) -> Step {
    Step::Set(control.into(), to.into())
}

fn to_the_bay(car: &mut Session) {
    let _ = car.perform(&Action::Go(Station::Bay));
    for cover in car.covers().map(str::to_owned).collect::<Vec<_>>() {
        let _ = car.perform(&Action::Uncover(cover));
    }
}

fn clutch_in(car: &mut Session) -> bool {
    car.view().motion.clutch_engaged
}

fn new_fuse(car: &mut Session, fuse: &str) {
    to_the_bay(car);
    car.perform(&Action::Pull(fuse.into())).expect("pulled");
    let fit = Action::Fit {
        part: fuse.into(),
        item: Item::Spare,
        turned: false,
    };
    car.perform(&fit).expect("a spare fits");
}

fn light(car: &mut Session, post: &str, point: &str) -> Glow {
    let tool = ToolKind::TestLight;
    car.perform(&Action::Put {
        tool,
        lead: Lead::Clip,
        point: post.into(),
    })
    .expect("the clip reaches the battery");
    let shown = car.would_show(tool, point);
    car.perform(&Action::Lift {
        tool,
        lead: Lead::Clip,
    })
    .expect("lifted");
    match shown {
        Some(Observation::Light { glow, .. }) => glow,
        other => panic!("{point}: {other:?}"),
    }
}

fn cavity(car: &Session, relay: &str, terminal: &str) -> String {
    let order = &car.case().arrangements[relay];
    let at = order
        .iter()
        .position(|t| t == terminal)
        .expect("a terminal");
    format!("{relay}.{}", (b'a' + at as u8) as char)
}

#[test]
fn a_new_fuse_goes_the_way_of_the_first_while_the_short_is_there() {
    for candidate in [
        "short-before-joint",
        "short-after-joint",
        "winding",
        "diode",
    ] {
        let mut car = car("blows-again", Some(candidate));
        new_fuse(&mut car, "F9");
        car.drive(&[
            set("key", "start"),
            Step::Wait(2.0),
            set("blower", "3"),
            set("ac", "on"),
            Step::Wait(30.0),
        ]);
        assert_eq!(car.blown_in_place(), ["F9"], "{candidate}");
    }
    let mut honest = car("blows-again", Some("only-the-fuse"));
    new_fuse(&mut honest, "F9");
    assert_eq!(honest.complaint_shows(), Ok(false));
}

#[test]
fn a_look_alike_takes_the_small_fuse_every_time() {
    for (scenario, fuse, asked) in [
        ("blower-dead", "F22", ("blower", "3")),
        ("rear-window-mist", "F22", ("rear_heater", "on")),
    ] {
        let mut car = car(scenario, Some("look-alike"));
        new_fuse(&mut car, fuse);
        car.drive(&[set("key", "on"), set(asked.0, asked.1), Step::Wait(60.0)]);
        assert_eq!(car.blown_in_place(), [fuse], "{scenario}");
    }
}

#[test]
fn a_right_repair_may_be_remembered_until_the_key_was_off() {
    let mut car = car("quist-no-cold-air", Some("sensor-plug"));
    car.drive(&[
        set("pedal", "down"),
        set("key", "start"),
        Step::Wait(2.0),
        set("blower", "2"),
        set("ac", "on"),
        Step::Wait(10.0),
    ]);
    assert!(!clutch_in(&mut car));
    to_the_bay(&mut car);
    car.perform(&Action::Plug("psensor".into()))
        .expect("pressed home");
    car.drive(&[Step::Wait(30.0)]);
    assert!(!clutch_in(&mut car), "the unit remembers");
    car.drive(&[
        set("key", "off"),
        Step::Wait(2.0),
        set("key", "start"),
        Step::Wait(10.0),
    ]);
    assert!(clutch_in(&mut car), "a new start forgets");
}

#[test]
fn a_full_loop_is_refused_in_the_cold_and_explaining_it_is_the_job() {
    let mut cold = car("fogged-in-winter", Some("works-as-meant"));
    assert!(cold.case().ambient_c <= 0.0);
    cold.drive(&[
        set("key", "start"),
        Step::Wait(2.0),
        set("blower", "2"),
        set("ac", "on"),
        Step::Wait(20.0),
    ]);
    assert!(!clutch_in(&mut cold));
    assert_eq!(cold.complaint_shows(), Ok(true));
    let explain = Action::Repair {
        target: "ac".into(),
        method: Method::Explain,
    };
    cold.perform(&explain).expect("one can explain");
    assert_eq!(cold.complaint_shows(), Ok(false));
    assert_eq!(cold.still_wrong(), 0);
}

#[test]
fn a_worn_gap_pulls_in_cold_and_not_again_hot() {
    let mut car = car("gives-up-when-hot", Some("worn-gap"));
    car.drive(&[
        set("key", "start"),
        Step::Wait(2.0),
        set("blower", "3"),
        set("ac", "on"),
        Step::Wait(10.0),
    ]);
    assert!(clutch_in(&mut car), "cold");
    car.drive(&[
        Step::Wait(400.0),
        set("ac", "off"),
        Step::Wait(6.0),
        set("ac", "on"),
        Step::Wait(20.0),
    ]);
    assert!(!clutch_in(&mut car), "hot");
}

#[test]
fn a_light_glows_through_other_coils_where_the_shared_ground_is_open() {
    let mut bad = car("dip-dark", Some("shared-return"));
    let mut good = car("dip-dark", None);
    for car in [&mut bad, &mut good] {
        car.drive(&[Step::Pull("K8".into())]);
        to_the_bay(car);
    }
    let point = cavity(&bad, "K8", "85");
    let (through, sound) = (
        light(&mut bad, "bat:pos", &point),
        light(&mut good, "bat:pos", &point),
    );
    assert_eq!(sound, Glow::Bright);
    assert!(matches!(through, Glow::Faint | Glow::Dim), "{through:?}");
}

#[test]
fn a_joint_of_some_ohms_shows_a_full_light_and_leaves_the_clutch_eight_volts() {
    let mut car = car("tries-and-gives-up", Some("harness-joint"));
    car.drive(&[
        set("key", "start"),
        Step::Wait(2.0),
        set("blower", "3"),
        set("ac", "on"),
        Step::Wait(10.0),
    ]);
    to_the_bay(&mut car);
    let meter = ToolKind::Meter;
    let _ = car.perform(&Action::Dial(Dial::Volts));
    let black = Action::Put {
        tool: meter,
        lead: Lead::Black,
        point: "clutch_coil.2".into(),
    };
    car.perform(&black).expect("a lead on the plug");
    let loaded = match car.would_show(meter, "clutch_coil.1") {
        Some(Observation::Meter {
            display: MeterDisplay::Value { value, .. },
            ..
        }) => value,
        other => panic!("{other:?}"),
    };
    assert!((7.0..9.5).contains(&loaded), "{loaded} V under load");
    let _ = car.perform(&Action::Lift {
        tool: meter,
        lead: Lead::Black,
    });
    car.perform(&Action::Unplug("clutch".into())).expect("off");
    assert_eq!(light(&mut car, "bat:neg", "clutch_coil.1"), Glow::Bright);
}

#[test]
fn five_shared_volts_fail_for_both_and_come_back_with_the_plug_off() {
    let mut car = car("quist-five-volts", Some("throttle-track"));
    let five = |car: &mut Session| {
        to_the_bay(car);
        let _ = car.perform(&Action::Dial(Dial::Volts));
        let black = Action::Put {
            tool: ToolKind::Meter,
            lead: Lead::Black,
            point: "bat:neg".into(),
        };
        car.perform(&black).expect("a lead on the battery");
        let shown = car.would_show(ToolKind::Meter, "pressure_sensor.supply");
        let _ = car.perform(&Action::Lift {
            tool: ToolKind::Meter,
            lead: Lead::Black,
        });
        match shown {
            Some(Observation::Meter {
                display: MeterDisplay::Value { value, .. },
                ..
            }) => value,
            other => panic!("{other:?}"),
        }
    };
    car.drive(&[set("key", "on"), Step::Wait(4.0)]);
    assert!(five(&mut car) < 1.0);
    car.perform(&Action::Unplug("throttle_plug".into()))
        .expect("off");
    let back = five(&mut car);
    assert!((4.8..5.2).contains(&back), "{back}");
}

#[test]
fn a_blown_fuse_with_the_short_still_there_is_half_of_the_answer() {
    let scenarios = load::scenarios();
    let (scenario, vehicle) = scenarios
        .iter()
        .find(|(s, _)| s.id == "blows-again")
        .expect("a shipped scenario");
    let right = |candidate: &str, target, failure| {
        let found = scenario.candidates.iter().find(|c| c.id == candidate);
        rightness(vehicle, found.expect("a candidate"), target, failure)
    };
    assert_eq!(right("only-the-fuse", "F9", Failure::Blown), 1.0);
    assert_eq!(right("short-after-joint", "F9", Failure::Blown), 0.5);
    assert_eq!(
        right("short-after-joint", "w_clutch", Failure::ShortToGround),
        1.0
    );
}
