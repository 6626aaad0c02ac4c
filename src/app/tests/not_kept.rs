//! What could not be kept is not shown; once there is room it is kept, shown, and what was asked for
//! meanwhile is done.

use std::sync::Arc;

use tracebay::desk::Desk;
use tracebay::platform::Shelf;
use tracebay_core::attempt::{HOME_RULES, Recorder, decode};
use tracebay_core::session::Action;
use tracebay_shelf::{Data, KeyedStore, KeyedTexts, Texts, Work};
use tracebay_words::Words;

fn set(control: &str, to: &str) -> Action {
    Action::Set {
        control: control.to_owned(),
        to: to.to_owned(),
    }
}

fn at_a_car() -> (Desk, Texts) {
    let room = Texts::default();
    let (catalogue, _) = Data::built_in().catalogue();
    let mut shelf = Shelf::with_store(catalogue, Box::new(KeyedStore::new(room.clone())));
    let words = Words::new("en");
    let book = shelf.begin(&words, "no-cold-air", Some(9)).unwrap();
    let mut desk = Desk::new(book);
    assert!(desk.perform(&set("key", "on")));
    (desk, room)
}

fn lines(room: &Texts) -> usize {
    let key = room.keys().unwrap().remove(0);
    room.get(&key).unwrap().unwrap().lines().count()
}

#[test]
fn a_move_that_is_not_kept_is_not_shown_before_it_is() {
    let (mut desk, room) = at_a_car();
    let kept = (lines(&room), desk.log().len());
    room.set_room(Some(0));
    assert!(!desk.perform(&set("blower", "3")));
    assert!(desk.not_kept.is_some());
    assert_eq!((lines(&room), desk.log().len()), kept);
    assert_ne!(desk.view().controls["blower"], "3");
    room.set_room(None);
    desk.retry();
    assert!(desk.not_kept.is_none());
    assert_eq!((lines(&room), desk.log().len()), (kept.0 + 1, kept.1 + 1));
    assert_eq!(desk.view().controls["blower"], "3");
}

#[test]
fn a_move_asked_for_while_time_could_not_be_kept_is_made_afterwards() {
    let (mut desk, room) = at_a_car();
    desk.pass(2.0);
    room.set_room(Some(0));
    assert!(!desk.perform(&set("blower", "3")));
    assert_ne!(desk.view().controls["blower"], "3");
    room.set_room(None);
    desk.retry();
    assert_eq!(desk.view().controls["blower"], "3");
    let last = desk.log().last().map(|(action, _)| action.clone());
    assert_eq!(last, Some(set("blower", "3")));
}

#[test]
fn gone_on_without_keeping_the_whole_attempt_can_still_be_handed_out() {
    let (mut desk, room) = at_a_car();
    room.set_room(Some(0));
    desk.perform(&set("blower", "3"));
    desk.go_on_unkept();
    assert_eq!(desk.view().controls["blower"], "3");
    assert_eq!(desk.attempt(), "");
    let text = desk.attempt_text().unwrap();
    assert_eq!(text.lines().count(), 1 + desk.log().len());
    assert!(tracebay_core::attempt::decode(&text).is_ok());
}

/// Who goes on after an hour's work has an hour behind them, though this program was just opened.
#[test]
fn an_attempt_gone_on_with_counts_its_time_on() {
    let room = Texts::default();
    let (catalogue, _) = Data::built_in().catalogue();
    let case = Arc::new(catalogue.draw("no-cold-air", 9).unwrap());
    let recorder = Recorder::start(case, HOME_RULES, None, None).unwrap();
    let mut store = KeyedStore::new(room.clone());
    let mut work = Work::start(recorder, &mut store).unwrap();
    work.perform(set("key", "on"), Some(3_600_000)).unwrap();
    let name = work.kept_in().unwrap();
    drop(work);
    let mut shelf = Shelf::with_store(catalogue, Box::new(store));
    let (book, _) = shelf.resume(&Words::new("en"), &name).unwrap();
    let mut desk = Desk::new(book);
    assert!(desk.perform(&set("blower", "3")));
    let text = desk.attempt_text().unwrap();
    let at_ms: Vec<u64> = decode(&text)
        .unwrap()
        .lines
        .iter()
        .filter_map(|l| l.at)
        .collect();
    assert_eq!(at_ms[0], 3_600_000);
    assert!((3_600_000..3_660_000).contains(&at_ms[1]), "{at_ms:?}");
}

/// On a computer it is written elsewhere, whole, and can be gone on with from there.
#[test]
fn gone_on_without_keeping_it_is_held_in_another_folder() {
    let (mut desk, room) = at_a_car();
    room.set_room(Some(0));
    desk.perform(&set("blower", "3"));
    assert_eq!(desk.held_in(), None);
    desk.go_on_unkept();
    let path = desk
        .held_in()
        .expect("the system has a folder for passing files");
    assert!(desk.perform(&set("ac", "on")));
    let text = std::fs::read_to_string(&path).unwrap();
    assert_eq!(Some(&text), desk.attempt_text().as_ref());
    assert_eq!(decode(&text).unwrap().lines.len(), desk.log().len());
    std::fs::remove_file(&path).unwrap();
}
