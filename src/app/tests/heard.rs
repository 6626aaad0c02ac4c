//! What is heard follows what the session does: a real case, worked through without a window.
#![cfg(feature = "sound")]

mod common;

use common::Bench;
use tracebay::desk::heard::Ear;
use tracebay_core::session::Action;
use tracebay_core::vehicle::Station;
use tracebay_sound::{Event, Running};

fn set(bench: &mut Bench, control: &str, to: &str) {
    let done = bench.desk.perform(&Action::Set {
        control: control.into(),
        to: to.into(),
    });
    assert!(
        done,
        "{control} to {to}: {:?}",
        bench.desk.lines.latest(1e9)
    );
}

/// What is heard in the next `seconds`, in frames of 0.1 s.
fn hear(bench: &mut Bench, ear: &mut Ear, seconds: f32) -> Vec<(Running, Vec<Event>)> {
    (0..(seconds * 10.0) as usize)
        .map(|_| {
            bench.desk.pass(0.1);
            let (running, events) = ear.hear(&bench.desk, 0.1);
            (running, events.into_iter().map(|(e, _)| e).collect())
        })
        .collect()
}

fn count(heard: &[(Running, Vec<Event>)], event: Event) -> usize {
    heard
        .iter()
        .flat_map(|(_, e)| e)
        .filter(|e| **e == event)
        .count()
}

/// Starter, then engine, as at any car; through the bulkhead softer than in the bay, and gone with the
/// key (common practice, no source).
#[test]
fn an_engine_is_heard_to_start_to_run_and_to_stop() {
    let (mut bench, mut ear) = (Bench::new("no-cold-air", 9), Ear::default());
    bench.desk.perform(&Action::Protect);
    bench.desk.perform(&Action::Go(Station::Bay));
    set(&mut bench, "exhaust_hose", "on");
    bench.desk.perform(&Action::Go(Station::Seat));
    ear.pass_over(&bench.desk);
    let still = Running {
        cylinders: 4,
        ..Running::default()
    };
    assert!(
        hear(&mut bench, &mut ear, 1.0)
            .iter()
            .all(|(r, e)| *r == still && e.is_empty())
    );

    set(&mut bench, "key", "start");
    let heard = hear(&mut bench, &mut ear, 4.0);
    let turns = heard.iter().filter(|(r, _)| r.starter.share > 0.0).count();
    assert!((5..20).contains(&turns), "{turns} tenths of a second");
    assert!(heard[..turns].iter().all(|(r, _)| r.engine_rpm == 0.0));
    assert!(heard[turns].1.contains(&Event::EngineStarts));
    assert_eq!(count(&heard, Event::EngineStarts), 1);
    let seat = heard.last().unwrap().0;
    assert!(seat.engine_rpm > 500.0, "{seat:?}");
    assert!(seat.engine_near < 0.6);
    assert!(seat.pump.share > 0.3);

    let blower = |bench: &mut Bench, ear: &mut Ear, to| {
        set(bench, "blower", to);
        hear(bench, ear, 2.0).last().unwrap().0.blower
    };
    let low = blower(&mut bench, &mut ear, "1");
    let high = blower(&mut bench, &mut ear, "3");
    assert!(
        low.share > 0.0 && high.share > low.share,
        "{low:?} {high:?}"
    );

    bench.desk.perform(&Action::Go(Station::Bay));
    let bay = hear(&mut bench, &mut ear, 0.5).last().unwrap().0;
    assert_eq!(bay.engine_near, 1.0);
    assert!(bay.blower.near < high.near);

    bench.desk.perform(&Action::Go(Station::Seat));
    set(&mut bench, "key", "off");
    let heard = hear(&mut bench, &mut ear, 1.0);
    assert_eq!(count(&heard, Event::EngineStops), 1);
    assert_eq!(heard.last().unwrap().0.engine_rpm, 0.0);
}

/// The main relay of a car pulls in with the key (common practice, no source): heard once, not again
/// for having been heard. Parts that are pulled are heard in the hand.
#[test]
fn a_relay_is_heard_once_and_so_is_what_a_hand_pulls() {
    let (mut bench, mut ear) = (Bench::new("no-cold-air", 9), Ear::default());
    bench.desk.perform(&Action::Go(Station::Seat));
    ear.pass_over(&bench.desk);
    set(&mut bench, "key", "on");
    assert!(count(&hear(&mut bench, &mut ear, 0.2), Event::RelayClick) > 0);
    // The pump's relay lets go after a few seconds without an engine; after that all is still.
    hear(&mut bench, &mut ear, 10.0);
    assert_eq!(
        count(&hear(&mut bench, &mut ear, 10.0), Event::RelayClick),
        0
    );
    set(&mut bench, "key", "off");
    bench.desk.perform(&Action::Protect);
    bench.desk.perform(&Action::Go(Station::Box));
    bench.desk.perform(&Action::Uncover("box lid".into()));
    hear(&mut bench, &mut ear, 1.0);
    let pulled = bench.desk.perform(&Action::Pull("K3".into()));
    assert!(pulled, "{:?}", bench.desk.lines.latest(1e9));
    assert_eq!(count(&hear(&mut bench, &mut ear, 0.5), Event::PlugClick), 1);
}
