//! Assigned work in the app: what the first screen offers, and that nothing outside the rules can
//! be done. Class and assignment are invented.

mod common;

use std::cell::RefCell;
use std::rc::Rc;

use common::harness;
use egui_kittest::kittest::Queryable;
use tracebay::assigned::Opened;
use tracebay::desk::{Desk, Order, Trouble};
use tracebay::look::Palette;
use tracebay::panels::Cx;
use tracebay::platform::Shelf;
use tracebay::screens::title;
use tracebay::settings::Settings;
use tracebay::text::Text;
use tracebay_core::session::{Action, Refusal};
use tracebay_core::tools::ToolKind;
use tracebay_grading::assign::{Assignment, Counts, FORMAT, Learner, Next, Task, Terms};
use tracebay_grading::rubric::Rubric;

fn assignment() -> Assignment {
    let catalogue = common::catalogue();
    let tools = [ToolKind::TestLight, ToolKind::Lamp];
    let task = |id| Task::of(&catalogue, id, Some(&tools), Some(25.0)).expect("shipped");
    Assignment {
        format: FORMAT,
        terms: Terms {
            id: "week-3".into(),
            title: "Week 3".into(),
            opens: None,
            due: Some("2020-01-31T18:00:00Z".into()),
            attempts: 2,
            counts: Counts::Best,
            hints: false,
            tasks: vec![task("horn-silent"), task("fan-still")],
            rubric: Rubric::presets()[1].text.clone(),
        },
        learners: ["L01", "L02"]
            .map(|id| Learner {
                id: id.into(),
                name: format!("{id} (invented)"),
                seeds: vec![vec![11, 12], vec![21, 22]],
            })
            .to_vec(),
    }
}

fn shelf() -> (Shelf, Text) {
    let text = Text::new(Default::default());
    (Shelf::in_memory(common::catalogue()), text)
}

fn refused<T>(done: Result<T, String>) -> String {
    done.err().expect("refused")
}

fn hand_back((mut book, _): Opened) {
    let action = Action::HandBack {
        complaint: "silent".into(),
        cause: "not found".into(),
        correction: "none".into(),
    };
    book.perform(&action)
        .expect("can be given back at any time");
}

#[test]
fn a_learner_gets_their_own_cases_under_the_rules_and_no_others() {
    let (mut shelf, text) = shelf();
    let words = &text.words;
    let file = assignment().to_text();
    shelf
        .take_assignment(words, "week-3", &file, None)
        .expect("sound");
    let card = shelf.assigned_card(words).unwrap().expect("open");
    assert!(card.late && !card.hints && card.who.is_none() && card.tasks.is_empty());
    assert!(shelf.take_task(words, 0).is_err(), "nobody in particular");
    assert!(refused(shelf.identify(words, "L77")).contains("L77"));
    shelf.identify(words, "L02").expect("on the list");

    let (mut book, told) = shelf.take_task(words, 0).expect("the first attempt");
    assert!(told.iter().any(|line| line.contains("1")), "{told:?}");
    let case = book.session().case().clone();
    assert_eq!((case.seed, case.scenario.id.as_str()), (11, "horn-silent"));
    assert_eq!(case.scenario.tools, [ToolKind::TestLight, ToolKind::Lamp]);
    assert_eq!(case.scenario.budget_minutes, 25.0);
    let hint = book.perform(&Action::Hint(1));
    assert!(
        matches!(hint, Err(Trouble::Refused(Refusal::Forbidden { .. }))),
        "{hint:?}"
    );
    book.perform(&Action::Protect)
        .expect("goggles are always allowed");
    let name = book.name();
    drop(book);

    // Left off: the same attempt, with what was done in it.
    let row = |shelf: &Shelf, at: usize| {
        shelf.assigned_card(words).unwrap().expect("open").tasks[at].clone()
    };
    assert!(matches!(row(&shelf, 0).next, Next::GoOn { .. }));
    let (book, _) = shelf.take_task(words, 0).expect("goes on");
    assert_eq!((book.name(), book.session().log().len()), (name.clone(), 1));
    assert!(Desk::new(book).terms().is_some());

    // Given back: the second of two, then none.
    hand_back(shelf.take_task(words, 0).expect("goes on"));
    assert_eq!(row(&shelf, 0).handed_back, 1);
    let second = shelf.take_task(words, 0).expect("the second attempt");
    assert_eq!(second.0.session().case().seed, 12);
    hand_back(second);
    assert_eq!(row(&shelf, 0).next, Next::NoneLeft);
    assert!(shelf.take_task(words, 0).is_err());

    // Work under an assignment is opened under it, by its learner, or not at all.
    assert!(shelf.resume(words, &name).is_ok());
    shelf.identify(words, "L01").expect("on the list");
    assert_eq!(
        refused(shelf.resume(words, &name)),
        text.get("attempt-assigned-not-open")
    );
}

#[test]
fn what_is_no_assignment_or_of_another_version_is_refused_with_its_reason() {
    let (mut shelf, text) = shelf();
    for (bad, says) in [
        ("", "week-3"),
        ("{\"format\": 99}", "99"),
        ("not json", "week-3"),
    ] {
        let why = refused(shelf.take_assignment(&text.words, "week-3", bad, None));
        assert!(why.contains(says), "{why}");
    }
    let mut later = assignment();
    later.terms.tasks[0].version += 1;
    let why = refused(shelf.take_assignment(&text.words, "week-3", &later.to_text(), None));
    assert!(why.contains("version"), "{why}");
    assert_eq!(
        shelf.assigned_card(&text.words),
        Ok(None),
        "nothing is half open"
    );
    let mut early = assignment();
    early.terms.opens = Some("9999-01-01T00:00:00Z".into());
    let file = early.to_text();
    shelf
        .take_assignment(&text.words, "week-3", &file, Some("L01"))
        .expect("sound");
    assert!(refused(shelf.take_task(&text.words, 0)).contains("9999"));
}

#[test]
fn the_first_screen_asks_who_works_and_offers_each_case() {
    let (mut shelf, text) = shelf();
    let file = assignment().to_text();
    shelf
        .take_assignment(&text.words, "week-3", &file, None)
        .expect("sound");
    let orders = Rc::new(RefCell::new(Vec::new()));
    let (given, settings, look) = (orders.clone(), Settings::default(), Palette::workshop());
    let mut h = harness(
        (1280.0, 720.0),
        (shelf, text, String::new()),
        move |ui, state| {
            let (shelf, text, id) = state;
            let card = shelf.assigned_card(&text.words).unwrap();
            let mut cx = Cx {
                text,
                look: &look,
                settings: &settings,
                orders: &mut given.borrow_mut(),
            };
            title::show(ui, &mut cx, None, &[], card.as_ref().map(|card| (card, id)));
        },
    );
    h.run();
    h.get_by_label("Your id on the class list").focus();
    h.run();
    h.get_by_label("Your id on the class list").type_text("L01");
    h.run();
    h.get_by_label("That is me").click_accesskit();
    h.run();
    assert_eq!(orders.take(), [Order::Identify("L01".into())]);
    let (shelf, text, _) = h.state_mut();
    shelf.identify(&text.words, "L01").expect("on the list");
    h.run();
    let begin: Vec<_> = h.get_all_by_label("Begin attempt 1 of 2").collect();
    assert_eq!(begin.len(), 2);
    begin[1].click_accesskit();
    drop(begin);
    h.run();
    assert_eq!(orders.take(), [Order::Task(1)]);
}
