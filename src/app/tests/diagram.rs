//! The wiring diagram at the car, by the names that a screen reader would say, and the notes kept with it.

mod common;

use std::collections::BTreeSet;

use common::{Bench, harness};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use tracebay::desk::{Desk, Order};
use tracebay::egui::accesskit::Role;
use tracebay::egui::{self, Key};
use tracebay::platform::Shelf;
use tracebay::screens::work::{self, Board};
use tracebay::text::Text;
use tracebay_core::session::Action;
use tracebay_core::vehicle::Station;
use tracebay_diagram::{Mark, Note, Of};
use tracebay_shelf::{Data, FolderStore, KeyedStore, KeyedTexts, Texts};

struct AtCar {
    bench: Bench,
    board: Board,
    done: Vec<Order>,
}

fn at_car(size: (f32, f32), seed: u64) -> Harness<'static, AtCar> {
    let state = AtCar {
        bench: Bench::new("no-cold-air", seed),
        board: Board::default(),
        done: Vec::new(),
    };
    harness(size, state, |ui, at: &mut AtCar| {
        let board = &mut at.board;
        at.bench.draw(|cx, desk| {
            work::show(ui, cx, desk, board);
        });
        at.done.extend(at.bench.carry_out());
    })
}

fn tap(h: &mut Harness<'static, AtCar>, key: Key) {
    h.key_press(key);
    h.run();
}

fn names(h: &Harness<'static, AtCar>) -> BTreeSet<String> {
    let all = h.root().children_recursive();
    all.filter_map(|n| {
        let node = n.accesskit_node();
        node.label().or_else(|| node.value())
    })
    .collect()
}

/// Chooses a circuit as one does who has no pointer.
fn choose(h: &mut Harness<'static, AtCar>, name: &str) {
    h.get_by_label_contains("Circuit: ").click_accesskit();
    h.run();
    let entry = h
        .get_all_by_label(name)
        .find(|n| n.accesskit_node().role() != Role::Label)
        .expect("the list of circuits is open");
    entry.click_accesskit();
    h.run();
}

#[test]
fn a_learner_without_a_mouse_reads_a_circuit_and_closes_it_again() {
    let mut h = at_car((1280.0, 720.0), 7);
    h.run();
    tap(&mut h, Key::D);
    assert!(h.state().board.diagram_open);
    h.run();
    let drawing = h.get_by_label_contains("Drawing: ");
    assert!(drawing.accesskit_node().is_focused(), "the keys are on it");
    choose(&mut h, "K3 A/C clutch relay");
    assert_eq!(h.state().board.diagram.circuit(), Some("K3"));
    let said = names(&h);
    let vehicle = h.state().bench.desk.session().case().vehicle.clone();
    let diagram = &h.state().board.diagram;
    for id in diagram.drawing().parts() {
        let label = &vehicle.parts[id].label;
        assert!(said.contains(&format!("{id} {label}")), "{id}");
    }
    for id in diagram.drawing().wires() {
        let wire = &vehicle.wires[id];
        let ends = format!("{} to {}", wire.from, wire.to);
        let named =
            |s: &String| s.starts_with(id) && s.ends_with(&ends) && s.contains(&wire.colour);
        assert!(said.iter().any(named), "{id}");
    }
    // Size: the keys of the trade's programs, with and without Shift.
    let before = h.state().board.diagram.scale();
    tap(&mut h, Key::Plus);
    let larger = h.state().board.diagram.scale();
    assert!(larger > before);
    tap(&mut h, Key::Minus);
    tap(&mut h, Key::Minus);
    assert!(h.state().board.diagram.scale() < before);
    tap(&mut h, Key::Num0);
    let station = h.state().bench.desk.view().station;
    // Keys of the car do nothing to it meanwhile.
    tap(&mut h, Key::E);
    assert_eq!(h.state().bench.desk.view().station, station);
    tap(&mut h, Key::Escape);
    assert!(!h.state().board.diagram_open && !h.state().board.menu);
    tap(&mut h, Key::E);
    assert_eq!(h.state().bench.desk.view().station, Station::Bay);
}

#[test]
fn the_job_sheet_opens_it_at_what_one_has_turned_to() {
    let mut h = at_car((1280.0, 720.0), 7);
    h.run();
    h.state_mut().bench.desk.turn_to(Some("K3".into()));
    h.run();
    h.get_by_label("Wiring diagram").click();
    h.run();
    assert!(h.state().board.diagram_open);
    assert_eq!(h.state().board.diagram.circuit(), Some("K3"));
    let key = h
        .state()
        .bench
        .settings
        .keys
        .key(tracebay::desk::keys::KeyAct::Diagram);
    tap(&mut h, key);
    assert!(!h.state().board.diagram_open);
}

#[test]
fn the_key_can_be_another() {
    let mut h = at_car((1280.0, 720.0), 7);
    h.run();
    let keys = &mut h.state_mut().bench.settings.keys;
    assert!(keys.change(tracebay::desk::keys::KeyAct::Diagram, Key::W));
    tap(&mut h, Key::D);
    assert!(!h.state().board.diagram_open);
    tap(&mut h, Key::W);
    assert!(h.state().board.diagram_open);
}

#[test]
fn the_whole_car_is_there_with_every_part_and_wire() {
    let mut h = at_car((1280.0, 720.0), 7);
    h.run();
    tap(&mut h, Key::D);
    choose(&mut h, "The whole car");
    let vehicle = h.state().bench.desk.session().case().vehicle.clone();
    let drawing = h.state().board.diagram.drawing();
    assert_eq!(drawing.parts().len(), vehicle.parts.len());
    assert_eq!(drawing.wires().len(), vehicle.wires.len());
}

/// The same picture and the same words whatever is wrong with the car.
#[test]
fn nothing_in_it_depends_on_the_fault() {
    let mut seen = BTreeSet::new();
    let mut shown = Vec::new();
    for seed in 1..40 {
        let case = common::case("no-cold-air", seed);
        let culprit = case.culprit().map(|c| c.id.clone());
        if seen.len() == 4 || !seen.insert(culprit) {
            continue;
        }
        let mut h = at_car((1280.0, 720.0), seed);
        h.run();
        tap(&mut h, Key::D);
        choose(&mut h, "K3 A/C clutch relay");
        let rows: BTreeSet<String> = h
            .root()
            .children_recursive()
            .filter(|n| h.state().board.diagram_open && n.accesskit_node().role() == Role::Button)
            .filter_map(|n| n.accesskit_node().label())
            .filter(|name| name.contains("K3") || name.starts_with("w_"))
            .collect();
        assert!(!rows.is_empty());
        shown.push((rows, h.state().board.diagram.drawing().clone()));
    }
    assert!(shown.len() == 4, "cases with different faults: {seen:?}");
    assert!(shown.windows(2).all(|pair| pair[0] == pair[1]));
}

#[test]
fn parts_and_wires_are_marked_and_the_marks_are_listed() {
    let mut h = at_car((1280.0, 720.0), 7);
    h.run();
    tap(&mut h, Key::D);
    choose(&mut h, "K3 A/C clutch relay");
    let log = h.state().bench.desk.log().len();
    h.get_by_label("K3 A/C clutch relay").click_accesskit();
    h.run();
    h.get_by_label("Suspect").click();
    h.run();
    let of = Of::Part("K3".into());
    let noted = |h: &Harness<'static, AtCar>| {
        let found = h.state().bench.desk.notes.find(&of);
        found.map(|(_, note)| note.clone())
    };
    assert_eq!(noted(&h).map(|n| n.mark), Some(Mark::Suspect));
    h.get_by_label("In a few words").focus();
    h.run();
    h.get_by_label("In a few words").type_text("d hums");
    h.run();
    assert!(h.state().board.diagram_open, "a letter written is no key");
    h.get_by_label("Write it down").click();
    h.run();
    let expected = Note {
        mark: Mark::Suspect,
        text: "d hums".into(),
    };
    assert_eq!(noted(&h), Some(expected));
    h.get_by_label("1 Suspect: d hums · K3 A/C clutch relay");
    // From another circuit the note leads back to its own.
    choose(&mut h, "K4 Horn relay");
    h.get_by_label("1 Suspect: d hums · K3 A/C clutch relay")
        .click_accesskit();
    h.run();
    assert_eq!(h.state().board.diagram.circuit(), Some("K3"));
    // It is no action on the car.
    assert_eq!(h.state().bench.desk.log().len(), log);
    h.get_by_label("Save as a file").click();
    h.run();
    let handed = h.state().done.iter().find_map(|order| match order {
        Order::HandOutDiagram { name, svg } => Some((name.clone(), svg.clone())),
        _ => None,
    });
    let (name, svg) = handed.expect("an order that hands it out");
    assert_eq!(name, "ostrel-lindmoor-K3.svg");
    assert!(
        svg.contains("d hums") && svg.contains(r#"class="suspect""#),
        "notes included"
    );
    h.get_by_label("Take the note away").click();
    h.run();
    assert!(h.state().bench.desk.notes.is_empty());
}

/// 1280 by 720 with text at 200 percent leaves 640 by 360 points.
#[test]
fn at_twice_the_text_size_everything_is_inside() {
    for size in [(640.0, 360.0), (1280.0, 720.0), (1920.0, 1080.0)] {
        let mut h = at_car(size, 7);
        h.run();
        tap(&mut h, Key::D);
        let screen = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(size.0, size.1));
        for name in [
            "Smaller",
            "Larger",
            "Show all of it",
            "Save as a file",
            "Close",
        ] {
            let rect = h.get_by_label(name).rect();
            assert!(screen.contains_rect(rect), "{name}: {rect:?} in {size:?}");
        }
        let drawing = h.get_by_label_contains("Drawing: ").rect();
        assert!(screen.contains_rect(drawing), "{drawing:?}");
        assert!(
            drawing.height() > 150.0 && drawing.width() > 400.0,
            "{drawing:?}"
        );
        if size.0 < 800.0 {
            h.get_by_label("Parts and notes").click();
            h.run();
            assert!(names(&h).contains("Connections"));
        }
    }
}

#[test]
fn the_tab_key_comes_to_everything_in_it() {
    let mut h = at_car((1280.0, 720.0), 7);
    h.run();
    tap(&mut h, Key::D);
    choose(&mut h, "K3 A/C clutch relay");
    let usable = |h: &Harness<'static, AtCar>| -> Vec<(String, bool)> {
        let all = h.root().children_recursive();
        all.filter(|n| {
            let node = n.accesskit_node();
            node.data().supports_action(egui::accesskit::Action::Focus) && !node.is_disabled()
        })
        .map(|n| {
            let node = n.accesskit_node();
            let name = node.label().or_else(|| node.value()).unwrap_or_default();
            (name, node.is_focused())
        })
        .collect()
    };
    let want: BTreeSet<String> = usable(&h).into_iter().map(|(n, _)| n).collect();
    assert!(want.iter().all(|name| !name.trim().is_empty()), "{want:?}");
    let mut seen = BTreeSet::new();
    for _ in 0..want.len() * 2 + 20 {
        tap(&mut h, Key::Tab);
        seen.extend(usable(&h).into_iter().filter(|(_, f)| *f).map(|(n, _)| n));
    }
    let missed: Vec<_> = want.difference(&seen).collect();
    assert!(missed.is_empty(), "never reached: {missed:?}");
}

fn good(text: &str) -> Option<Note> {
    Some(Note {
        mark: Mark::Good,
        text: text.into(),
    })
}

fn kept_and_removed(open: impl Fn() -> Shelf) {
    let text = Text::new(Default::default());
    let mut shelf = open();
    let book = shelf.begin(&text.words, "no-cold-air", Some(9)).unwrap();
    let mut desk = Desk::new(book);
    desk.perform(&Action::Wait(10));
    let of = Of::Wire("w_clutch".into());
    desk.obey(&Order::MarkOnDiagram(of.clone(), good("bright")));
    assert!(desk.notes_changed);
    shelf.keep_notes(&text, &mut desk);
    assert_eq!(desk.notes_not_kept, None);
    let (name, kept) = (desk.attempt(), desk.notes.clone());
    let attempt = desk.attempt_text().unwrap();
    assert!(!attempt.contains("bright"), "no part of the attempt");
    drop((desk, shelf));
    // The program ends; another day.
    let mut shelf = open();
    let (book, told) = shelf.resume(&text.words, &name).unwrap();
    assert!(told.is_empty(), "{told:?}");
    let mut desk = Desk::new(book);
    assert_eq!(shelf.fetch_notes(&text, &mut desk), None);
    assert_eq!(desk.notes, kept);
    assert_eq!(desk.attempt_text().unwrap(), attempt);
    drop(desk);
    shelf.forget(&text.words, &name).unwrap();
    assert!(shelf.resume(&text.words, &name).is_err());
}

#[test]
fn notes_outlast_the_program_in_a_browser_and_go_with_their_attempt() {
    let room = Texts::default();
    kept_and_removed(|| {
        let (catalogue, _) = Data::built_in().catalogue();
        Shelf::with_store(catalogue, Box::new(KeyedStore::new(room.clone())))
    });
    assert_eq!(room.keys().unwrap(), Vec::<String>::new());
}

#[test]
fn notes_outlast_the_program_in_a_folder_and_go_with_their_attempt() {
    let folder = std::env::temp_dir().join(format!("tracebay-diagram-{}", std::process::id()));
    kept_and_removed(|| {
        let (catalogue, _) = Data::built_in().catalogue();
        Shelf::with_store(catalogue, Box::new(FolderStore::new(&folder)))
    });
    assert_eq!(std::fs::read_dir(&folder).unwrap().count(), 0);
    std::fs::remove_dir(&folder).unwrap();
}

#[test]
fn without_room_it_is_said_and_nothing_written_is_lost() {
    let room = Texts::default();
    let text = Text::new(Default::default());
    let (catalogue, _) = Data::built_in().catalogue();
    let mut shelf = Shelf::with_store(catalogue, Box::new(KeyedStore::new(room.clone())));
    let book = shelf.begin(&text.words, "no-cold-air", Some(9)).unwrap();
    let mut desk = Desk::new(book);
    let of = Of::Part("K3".into());
    desk.obey(&Order::MarkOnDiagram(of.clone(), good("one")));
    shelf.keep_notes(&text, &mut desk);
    room.set_room(Some(0));
    desk.obey(&Order::MarkOnDiagram(of.clone(), good("two")));
    shelf.keep_notes(&text, &mut desk);
    let why = desk.notes_not_kept.clone().expect("it is said");
    assert!(why.contains("no room"), "{why}");
    assert_eq!(desk.notes.find(&of).unwrap().1.text, "two");
    room.set_room(None);
    desk.obey(&Order::KeepNotes);
    assert!(desk.notes_changed);
    shelf.keep_notes(&text, &mut desk);
    assert_eq!(desk.notes_not_kept, None);
    let (book, _) = shelf.resume(&text.words, &desk.attempt()).unwrap();
    let mut again = Desk::new(book);
    shelf.fetch_notes(&text, &mut again);
    assert_eq!(again.notes, desk.notes);
    // A damaged text is said, and does not keep the attempt from being opened.
    let key = room
        .keys()
        .unwrap()
        .into_iter()
        .find(|k| k.contains("beside"));
    room.set(&key.unwrap(), "{damaged").unwrap();
    let (book, _) = shelf.resume(&text.words, &desk.attempt()).unwrap();
    let mut again = Desk::new(book);
    assert!(shelf.fetch_notes(&text, &mut again).is_some());
    assert!(again.notes.is_empty());
}
