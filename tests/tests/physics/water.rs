//! Water: where it is put, what it does there, how it goes, and where it may not go.

use tracebay_core::fault::{Condition, Method, Wrong};
use tracebay_core::session::{Action, Finding, Observation, Refusal, Session};
use tracebay_core::tools::{Lead, ToolKind};
use tracebay_core::vehicle::Station;

use crate::car::{act, bay, fault, go, put, reads, set, sometimes, with};
use tracebay_core::tools::Dial;

fn spray(place: &str) -> Action {
    Action::Spray(place.into())
}

fn volts(s: &mut Session, at: &str) -> f64 {
    reads(s, Dial::Volts, "bat:neg", at)
}

fn leak(ohms: f64) -> Vec<tracebay_core::fault::Fault> {
    vec![fault(
        "engine_joint.1a",
        Wrong::LeakTo("ground".into(), ohms),
    )]
}

/// The clutch's wire, off its relay and its clutch, pulled up through a test light: what leaks shows.
fn pulled_up(s: &mut Session) {
    bay(s);
    act(s, Action::Unplug("clutch".into()));
    act(s, Action::Pull("K3".into()));
    put(s, ToolKind::LedLight, Lead::Clip, "bat:pos");
}

#[test]
fn a_leak_is_there_with_the_water_and_only_where_it_is() {
    let mut s = with(leak(50.0));
    pulled_up(&mut s);
    put(&mut s, ToolKind::LedLight, Lead::Probe, "engine_joint.1a");
    let dry = volts(&mut s, "engine_joint.1a");
    act(&mut s, spray("bulkhead"));
    let elsewhere = volts(&mut s, "engine_joint.1a");
    act(&mut s, spray("engine_side"));
    let wet = volts(&mut s, "engine_joint.1a");
    assert!(
        (dry - elsewhere).abs() < 0.05,
        "not there: {dry} {elsewhere}"
    );
    assert!(wet < 2.0 && dry > 8.0, "there: {wet}, dry {dry}");
}

/// Half the water is twice the resistance (definition of conductivity), and heat shortens it: by Dalton's law and
/// the steam tables, several times in a warm bay. That a plug dries in minutes to hours: common practice, no source.
#[test]
fn it_dries_by_itself_and_sooner_over_a_warm_engine() {
    let minutes_until_dry = |warm: bool| {
        let mut s = with(leak(50.0));
        if warm {
            s.drive(&[set("exhaust_hose", "on"), set("key", "start")]);
            act(&mut s, Action::Wait(6_000));
            go(&mut s, Station::Seat);
            act(
                &mut s,
                Action::Set {
                    control: "key".into(),
                    to: "off".into(),
                },
            );
        }
        pulled_up(&mut s);
        put(&mut s, ToolKind::LedLight, Lead::Probe, "engine_joint.1a");
        act(&mut s, spray("engine_side"));
        let mut last = volts(&mut s, "engine_joint.1a");
        for n in 0..2_000 {
            if !s.view().wet.contains("engine_side") {
                assert!(volts(&mut s, "engine_joint.1a") > 8.0);
                return f64::from(n) * 0.1;
            }
            act(&mut s, Action::Wait(60));
            let now = volts(&mut s, "engine_joint.1a");
            assert!(
                now >= last - 0.02,
                "a drying leak leads less and less: {last} {now}"
            );
            last = now;
        }
        panic!("it never dried");
    };
    let (cold, warm) = (minutes_until_dry(false), minutes_until_dry(true));
    assert!((1.0..60.0).contains(&cold), "{cold} min");
    assert!(warm < cold / 2.0, "{warm} of {cold} min");
}

#[test]
fn a_wait_in_pieces_dries_as_much_as_one() {
    let dried = |waits: &[u32]| {
        let mut s = with(leak(50.0));
        pulled_up(&mut s);
        put(&mut s, ToolKind::LedLight, Lead::Probe, "engine_joint.1a");
        act(&mut s, spray("engine_side"));
        for ticks in waits {
            act(&mut s, Action::Wait(*ticks));
        }
        volts(&mut s, "engine_joint.1a").to_bits()
    };
    assert_eq!(dried(&[900]), dried(&[1, 399, 500]));
}

#[test]
fn a_contact_can_fail_for_the_wet_alone() {
    let mut s = with(vec![sometimes(
        "engine_joint.1a",
        Wrong::Open,
        Condition::Wet,
    )]);
    bay(&mut s);
    act(&mut s, Action::Pull("K3".into()));
    put(&mut s, ToolKind::TestLight, Lead::Clip, "bat:pos");
    let glow = |s: &mut Session| {
        act(
            s,
            Action::Touch {
                tool: ToolKind::TestLight,
                point: "engine_joint.1a".into(),
            },
        )
    };
    let dry = glow(&mut s);
    act(&mut s, spray("engine_side"));
    assert_ne!(dry, glow(&mut s));
}

#[test]
fn what_dried_leaves_nothing_to_see_and_what_is_wet_looks_it() {
    let mut s = with(leak(50.0));
    bay(&mut s);
    let wet = |seen: Vec<Observation>| {
        seen.iter().any(|o| {
            matches!(
                o,
                Observation::Seen {
                    finding: Finding::Wet,
                    ..
                }
            )
        })
    };
    act(&mut s, Action::Unplug("engine_plug".into()));
    assert!(!wet(act(&mut s, Action::Inspect("engine_plug".into()))));
    act(&mut s, Action::Plug("engine_plug".into()));
    act(&mut s, spray("engine_side"));
    act(&mut s, Action::Unplug("engine_plug".into()));
    assert!(wet(act(&mut s, Action::Inspect("engine_plug".into()))));
    act(&mut s, Action::Light(Some("engine_side".into())));
    assert!(wet(act(&mut s, Action::Look("engine_side".into()))));
    // A sound plug keeps the water out.
    act(&mut s, spray("bulkhead"));
    act(&mut s, Action::Unplug("bulkhead_plug".into()));
    assert!(!wet(act(&mut s, Action::Inspect("bulkhead_plug".into()))));
}

#[test]
fn cleaned_and_sealed_it_stays_dry() {
    for target in ["engine_joint.1a", "engine_plug", "engine_joint"] {
        let mut s = with(leak(50.0));
        bay(&mut s);
        let clean = Action::Repair {
            target: target.into(),
            method: Method::CleanJoint,
        };
        act(&mut s, clean);
        assert_eq!(s.still_wrong(), 0, "{target}");
    }
}

#[test]
fn no_water_where_it_has_no_business() {
    let mut s = with(Vec::new());
    assert_eq!(s.perform(&spray("vents")), Err(Refusal::NoWaterThere));
    assert_eq!(
        s.perform(&spray("steering_wheel")),
        Err(Refusal::NoWaterThere)
    );
    assert!(
        matches!(s.perform(&spray("bulkhed")), Err(Refusal::Unknown { nearest: Some(n), .. }) if n == "bulkhead")
    );
    assert!(matches!(
        s.perform(&spray("bulkhead")),
        Err(Refusal::GoFirst { .. })
    ));
    bay(&mut s);
    assert_eq!(
        s.perform(&spray("fuse_box")),
        Err(Refusal::CoverOff {
            cover: "box lid".into()
        })
    );
    act(&mut s, Action::Pull("K4".into()));
    act(&mut s, Action::Cover("box lid".into()));
    assert_eq!(
        s.perform(&spray("fuse_box")),
        Err(Refusal::StandsOpen { what: "K4".into() })
    );
    act(&mut s, Action::Unplug("engine_plug".into()));
    assert_eq!(
        s.perform(&spray("engine_side")),
        Err(Refusal::StandsOpen {
            what: "engine_plug".into()
        })
    );
    let minutes = s.minutes();
    assert!(s.perform(&spray("engine_side")).is_err());
    assert_eq!(
        s.minutes().to_bits(),
        minutes.to_bits(),
        "refused, it costs nothing"
    );
    act(&mut s, spray("bulkhead"));
    assert!(s.minutes() > minutes);
}

#[test]
fn airbag_parts_stay_dry_wherever_they_are() {
    let mut s = crate::car::edited(Vec::new(), |v| {
        let plug = v.connectors.get_mut("engine_plug").expect("a plug");
        plug.off_limits = true;
    });
    bay(&mut s);
    assert_eq!(
        s.perform(&spray("engine_side")),
        Err(Refusal::OffLimits {
            what: "engine_plug".into()
        })
    );
}
