//! A learner does the whole job through the panels: meets the complaint, tests, calls, mends,
//! tests again, puts everything back, hands the car back.

mod common;

use std::sync::Arc;

use common::{Bench, harness};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use tracebay::desk::{Desk, Unkept};
use tracebay::egui::Key;
use tracebay::screens::work::{self, Board};
use tracebay_core::session::{Action, Session};

struct AtCar {
    bench: Bench,
    board: Board,
}

fn at_car(candidate: &str) -> Harness<'static, AtCar> {
    let case = common::case("no-cold-air", 3);
    let index = case
        .scenario
        .candidates
        .iter()
        .position(|c| c.id == candidate)
        .expect("a candidate of this name");
    let session = Session::new(Arc::new(case.with_candidate(index))).expect("a car that settles");
    let mut bench = Bench::new("no-cold-air", 3);
    bench.desk = Desk::new(Box::new(Unkept(session)));
    let state = AtCar {
        bench,
        board: Board::default(),
    };
    harness((1600.0, 1000.0), state, |ui, at: &mut AtCar| {
        let board = &mut at.board;
        at.bench.draw(|cx, desk| {
            work::show(ui, cx, desk, board);
        });
        at.bench.carry_out();
    })
}

/// Presses by the name that a screen reader says, wherever it is.
fn press(h: &mut Harness<'static, AtCar>, name: &str) {
    h.get_by_label(name).click_accesskit();
    h.run();
}

fn tap(h: &mut Harness<'static, AtCar>, key: Key) {
    h.key_press(key);
    h.run();
}

/// Turns to a thing by finding it by name, as one does by key.
fn find(h: &mut Harness<'static, AtCar>, name: &str) {
    h.state_mut().bench.desk.turn_to(None);
    h.run();
    tap(h, Key::Slash);
    h.get_by_label("Find by name").type_text(name);
    h.run();
    h.key_press(Key::Enter);
    h.run();
    assert!(h.state().bench.desk.focus.is_some(), "{name} was not found");
}

/// Goes to a field and writes.
fn write(h: &mut Harness<'static, AtCar>, field: &str, words: &str) {
    let find = |h: &Harness<'static, AtCar>, act: &dyn Fn(&egui_kittest::Node<'_>)| {
        let node = h
            .get_all_by_label(field)
            .find(|n| n.accesskit_node().is_text_input())
            .expect("a field of this name");
        act(&node);
    };
    find(h, &|node| node.focus());
    h.run();
    find(h, &|node| node.type_text(words));
    h.run();
}

fn wait(h: &mut Harness<'static, AtCar>, seconds: f64) {
    for _ in 0..(seconds * 2.0) as u32 {
        h.state_mut().bench.desk.pass(0.5);
    }
    h.run();
}

#[test]
fn a_blown_fuse_is_found_replaced_and_handed_back() {
    let mut h = at_car("clutch-fuse");
    h.run();
    // The complaint: engine on, blower and A/C on, and the air stays warm.
    find(&mut h, "Ignition key");
    press(&mut h, "Set to: start");
    wait(&mut h, 3.0);
    assert!(h.state().bench.desk.view().engine_running);
    find(&mut h, "Blower");
    press(&mut h, "Set to: 3");
    find(&mut h, "A/C switch");
    press(&mut h, "Set to: on");
    wait(&mut h, 10.0);
    find(&mut h, "Middle air vents");
    press(&mut h, "Feel");
    find(&mut h, "Ignition key");
    press(&mut h, "Set to: off");
    wait(&mut h, 3.0);
    // Over the box: lid off, the fuse out and looked at.
    tap(&mut h, Key::F);
    h.state_mut().bench.desk.turn_to(None);
    h.run();
    press(&mut h, "Put on eye protection and gloves");
    h.state_mut().bench.desk.turn_to(Some("F9".into()));
    h.run();
    press(&mut h, "Take off: box lid");
    press(&mut h, "Pull it out");
    press(&mut h, "Look closely at it");
    // The call and the repair.
    press(&mut h, "Call");
    write(&mut h, "Show only", "F9");
    let target = h
        .state()
        .bench
        .desk
        .session()
        .case()
        .vehicle
        .parts
        .contains_key("F9");
    assert!(target);
    tap(&mut h, Key::Escape);
    assert!(!h.state().board.menu, "leaving a field opens nothing");
    press(&mut h, "Fuse F9");
    press(&mut h, "What is wrong with it?");
    press(&mut h, "Fuse blown");
    press(&mut h, "Make the call");
    assert_eq!(h.state().bench.desk.view().calls.len(), 1);
    press(&mut h, "How?");
    press(&mut h, "Replaced with a new part");
    press(&mut h, "Do the repair");
    assert_eq!(h.state().bench.desk.view().repairs.len(), 1);
    // Everything back, the complaint again.
    if h.state().bench.desk.view().pulled.contains("F9") {
        press(&mut h, "Put it back");
    }
    press(&mut h, "Put on: box lid");
    tap(&mut h, Key::S);
    find(&mut h, "Ignition key");
    press(&mut h, "Set to: start");
    wait(&mut h, 10.0);
    assert!(h.state().bench.desk.view().motion.clutch_engaged);
    press(&mut h, "Work order");
    for (field, words) in [
        ("Complaint", "No cold air."),
        ("Cause", "Clutch fuse blown."),
        ("Correction", "Fuse replaced, cold again."),
    ] {
        write(&mut h, field, words);
    }
    press(&mut h, "Hand the car back");
    press(&mut h, "Yes, hand it back");
    assert!(h.state().bench.desk.view().handed_back);
    let last = h.state().bench.desk.log().last().map(|(a, _)| a.clone());
    assert_eq!(
        last,
        Some(Action::HandBack {
            complaint: "No cold air.".into(),
            cause: "Clutch fuse blown.".into(),
            correction: "Fuse replaced, cold again.".into(),
        })
    );
}

#[test]
fn time_that_passes_is_recorded_as_one_wait() {
    let mut bench = Bench::new("no-cold-air", 3);
    let desk = &mut bench.desk;
    for _ in 0..37 {
        desk.pass(0.1);
    }
    desk.pass(f64::NAN);
    desk.pass(-5.0);
    assert!(
        desk.log().is_empty(),
        "nothing is recorded before an action"
    );
    assert!(desk.perform(&Action::Protect));
    let log: Vec<_> = desk.log().iter().map(|(a, _)| a.clone()).collect();
    assert!(
        matches!(log[..], [Action::Wait(36 | 37), Action::Protect]),
        "{log:?}"
    );
    let ticks = desk.view().ticks;
    // A refused action leaves neither a line nor a wait.
    desk.pass(1.0);
    assert!(!desk.perform(&Action::Protect));
    assert_eq!(desk.log().len(), 2);
    assert_eq!(desk.view().ticks, ticks + 10);
    desk.obey(&tracebay::desk::Order::Pause(true));
    assert!(!desk.pass(5.0));
    assert_eq!(desk.view().ticks, ticks + 10);
}

/// What was perceived while time ran is kept with it, though nothing was done afterwards.
#[test]
fn what_is_perceived_while_time_runs_is_written_at_once() {
    let mut bench = Bench::new("fan-still", 3);
    let desk = &mut bench.desk;
    for (control, to) in [("key", "start"), ("ac", "on"), ("blower", "3")] {
        let set = Action::Set {
            control: control.into(),
            to: to.into(),
        };
        assert!(desk.perform(&set));
    }
    let (done, lines) = (desk.log().len(), desk.lines.next());
    for _ in 0..150 {
        desk.pass(0.1);
        if desk.lines.next() > lines {
            break;
        }
    }
    assert!(desk.lines.next() > lines, "nothing was perceived");
    let last = desk.log().last().unwrap();
    assert_eq!(desk.log().len(), done + 1);
    assert!(matches!(last.0, Action::Wait(_)) && !last.1.is_empty());
}

/// Time in which nothing is perceived is written once a minute, and stands still for who went away.
#[test]
fn time_stands_still_for_who_has_gone_away() {
    let mut bench = Bench::new("no-cold-air", 3);
    let desk = &mut bench.desk;
    // A frame a minute, as where nothing moves.
    desk.pass(60.0);
    assert_eq!(desk.view().ticks, 600);
    assert_eq!(desk.log().len(), 1);
    for _ in 0..60 {
        desk.pass(60.0);
    }
    assert!(desk.paused);
    assert_eq!(desk.view().ticks, 1200);
    // Back again.
    desk.obey(&tracebay::desk::Order::Pause(false));
    desk.pass(60.0);
    assert_eq!(desk.view().ticks, 1800);
    let waited: u32 = desk
        .log()
        .iter()
        .map(|(action, _)| match action {
            Action::Wait(ticks) => *ticks,
            _ => 0,
        })
        .sum();
    assert_eq!(waited, 1800);
}
