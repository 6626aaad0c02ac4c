//! Contacts and fuses: welded, burnt, never closing; a fuse put back into its short; a relay that
//! cuts its own coil.

use std::sync::Arc;

use tracebay_core::fault::{Method, Wrong};
use tracebay_core::session::{Action, Item, Observation, Refusal, Session, Sound};
use tracebay_core::tools::Dial;
use tracebay_core::vehicle::{Kind, Station, Vehicle};
use tracebay_tests::cavity;

use crate::car::{act, bay, case, edited, fault, go, reads, with};

fn horn_sounds(s: &mut Session) -> bool {
    s.view()
        .sounds
        .iter()
        .any(|(sound, _)| *sound == Sound::Horn)
}

fn press(s: &mut Session) -> Vec<Observation> {
    go(s, Station::Seat);
    let set = |to: &str| Action::Set {
        control: "horn".into(),
        to: to.into(),
    };
    let _ = s.perform(&set("off"));
    let mut seen = act(s, set("pressed"));
    seen.extend(act(s, Action::Wait(20)));
    seen
}

fn clicked(seen: &[Observation]) -> bool {
    seen.iter().any(|o| {
        matches!(
            o,
            Observation::Heard {
                sound: Sound::RelayClick,
                ..
            }
        )
    })
}

#[test]
fn contacts_fail_in_three_ways_and_coils_in_one() {
    let tried = |faults| {
        let mut s = with(faults);
        let before = horn_sounds(&mut s);
        let seen = press(&mut s);
        (before, clicked(&seen), horn_sounds(&mut s))
    };
    // Sounding before it is pressed, a click, sounding while it is pressed.
    assert_eq!(tried(vec![]), (false, true, true));
    assert_eq!(
        tried(vec![fault("K4", Wrong::CoilOpen)]),
        (false, false, false)
    );
    assert_eq!(
        tried(vec![fault("K4", Wrong::ContactsOpen)]),
        (false, false, false)
    );
    assert!(tried(vec![fault("K4", Wrong::ContactsWelded)]).0);
    let (before, _, loud) = tried(vec![fault("K4", Wrong::ContactsBurnt(6.0))]);
    assert!(
        !before && !loud,
        "6 ohms before a horn of 2.4 leave it weak"
    );
}

#[test]
fn a_burnt_contact_drops_volts_only_while_current_flows() {
    let mut s = with(vec![fault("K4", Wrong::ContactsBurnt(2.0))]);
    bay(&mut s);
    act(&mut s, Action::Breakout(Some("K4".into())));
    let (feed, load) = (cavity(&s, "K4", "30"), cavity(&s, "K4", "87"));
    // The plug of the horn off: the contact is closed and nothing flows.
    press(&mut s);
    bay(&mut s);
    act(&mut s, Action::Unplug("horn_plug".into()));
    let idle = reads(&mut s, Dial::Volts, &load, &feed);
    act(&mut s, Action::Plug("horn_plug".into()));
    let loaded = reads(&mut s, Dial::Volts, &load, &feed);
    // Ohm's law: 2 of 4.4 ohms.
    assert!(
        idle.abs() < 0.05 && (4.5..6.5).contains(&loaded),
        "{idle} {loaded}"
    );
}

#[test]
fn a_fuse_put_back_into_its_short_blows_again_and_holds_once_the_wire_is_mended() {
    let mut s = with(vec![fault("w_horn", Wrong::ShortToGround(0.02))]);
    press(&mut s);
    assert_eq!(s.blown_in_place(), ["F5"]);
    for item in [Item::Spare, Item::Original] {
        bay(&mut s);
        act(&mut s, Action::Pull("F5".into()));
        act(
            &mut s,
            Action::Fit {
                part: "F5".into(),
                item,
                turned: false,
            },
        );
        press(&mut s);
        assert_eq!(s.blown_in_place(), ["F5"], "{item:?} is gone as well");
    }
    bay(&mut s);
    for (target, method) in [("w_horn", Method::MendWire), ("F5", Method::Replace)] {
        act(
            &mut s,
            Action::Repair {
                target: target.into(),
                method,
            },
        );
    }
    press(&mut s);
    assert!(s.blown_in_place().is_empty() && horn_sounds(&mut s));
}

/// K6 as a doorbell: its coil hangs on its own rest contact, which is fed from `feed`.
fn doorbell(v: &mut Vehicle, feed: &str) {
    assert!(matches!(v.parts["K6"].kind, Kind::Relay(ref r) if r.changeover));
    v.wires.get_mut("w_k6_30").expect("there").from = feed.into();
    v.wires.get_mut("w_k6_86").expect("there").from = "K6.87a".into();
}

#[test]
fn a_relay_that_cuts_its_own_coil_buzzes_and_the_car_goes_on() {
    // F15 is live with the key on.
    let mut s = edited(vec![], |v| doorbell(v, "F15.2"));
    let mut seen = act(
        &mut s,
        Action::Set {
            control: "key".into(),
            to: "on".into(),
        },
    );
    seen.extend(act(&mut s, Action::Wait(200)));
    let buzz = Observation::Heard {
        sound: Sound::RelayBuzz,
        place: "fuse_box".into(),
    };
    assert!(seen.contains(&buzz), "{seen:?}");
    // The rest of the car works meanwhile.
    press(&mut s);
    assert!(horn_sounds(&mut s));
}

#[test]
fn a_car_that_never_settles_from_the_start_is_refused_by_the_names_of_what_flips() {
    let case = case(vec![], |v| doorbell(v, "F4.2"));
    let error = Session::new(Arc::new(case))
        .err()
        .expect("it buzzes for ever");
    assert_eq!(error.elements(), ["K6 contact", "K6 rest contact"]);
    assert!(error.to_string().contains("K6 contact"), "{error}");
    assert_eq!(
        Refusal::from(error),
        Refusal::Unsettled {
            parts: vec!["K6".into()]
        }
    );
}
