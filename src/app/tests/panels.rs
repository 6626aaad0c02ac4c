//! The panels, driven without a window through the names that a screen reader would say.

mod common;

use std::collections::BTreeSet;

use common::{Bench, harness};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use tracebay::desk::Order;
use tracebay::egui::{self, Key};
use tracebay::screens::work::{self, Board};
use tracebay_core::session::Action;
use tracebay_core::tools::{Lead, ToolKind};
use tracebay_core::vehicle::Station;

struct AtCar {
    bench: Bench,
    board: Board,
    done: Vec<Order>,
}

fn at_car(size: (f32, f32)) -> Harness<'static, AtCar> {
    let state = AtCar {
        bench: Bench::new("no-cold-air", 7),
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

/// What one can press, drag or write into.
fn usable(h: &Harness<'static, AtCar>) -> Vec<(String, bool)> {
    h.root()
        .children_recursive()
        .filter(|n| {
            let node = n.accesskit_node();
            let can = |action| node.data().supports_action(action);
            can(egui::accesskit::Action::Focus) && !node.is_disabled()
        })
        .map(|n| {
            let node = n.accesskit_node();
            let name = node.label().or_else(|| node.value()).unwrap_or_default();
            (name, node.is_focused())
        })
        .collect()
}

#[test]
fn everything_that_can_be_used_has_a_name() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    let list = usable(&h);
    assert!(list.len() > 10, "{list:?}");
    for (name, _) in &list {
        assert!(!name.trim().is_empty(), "{list:?}");
    }
}

#[test]
fn the_tab_key_comes_to_everything() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    let want: BTreeSet<String> = usable(&h).into_iter().map(|(n, _)| n).collect();
    let mut seen = BTreeSet::new();
    for _ in 0..want.len() * 2 + 20 {
        tap(&mut h, Key::Tab);
        seen.extend(usable(&h).into_iter().filter(|(_, f)| *f).map(|(n, _)| n));
    }
    let missed: Vec<_> = want.difference(&seen).collect();
    assert!(missed.is_empty(), "never reached: {missed:?}");
}

#[test]
fn a_learner_without_a_mouse_proves_the_light_and_touches_a_socket() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    // To the bay, the test light out of the roll, to the battery.
    tap(&mut h, Key::E);
    assert_eq!(h.state().bench.desk.view().station, Station::Bay);
    tap(&mut h, Key::T);
    tap(&mut h, Key::Num1);
    assert_eq!(h.state().bench.desk.hand, Some(ToolKind::TestLight));
    for _ in 0..60 {
        if h.state().bench.desk.focus.as_deref() == Some("bat") {
            break;
        }
        tap(&mut h, Key::N);
    }
    assert_eq!(h.state().bench.desk.focus.as_deref(), Some("bat"));
    let at = |h: &Harness<'static, AtCar>| {
        tracebay::panels::keyboard::chosen_point(&h.state().bench.desk).unwrap()
    };
    for _ in 0..10 {
        if at(&h) == "bat:neg" {
            break;
        }
        tap(&mut h, Key::K);
    }
    tap(&mut h, Key::C);
    let leads = h.state().bench.desk.view().leads.clone();
    assert_eq!(leads[&ToolKind::TestLight][&Lead::Clip], "bat:neg");
    for _ in 0..10 {
        if at(&h) == "bat:pos" {
            break;
        }
        tap(&mut h, Key::K);
    }
    tap(&mut h, Key::X);
    // Trade fact (common practice, no source): a good test light between the posts is bright.
    h.get_by_label_contains("bright:");
    // Over the box, its lid off, a relay out: its socket can be swept.
    tap(&mut h, Key::F);
    tap(&mut h, Key::N);
    let lid = "box lid".to_owned();
    h.state_mut().bench.desk.perform(&Action::Uncover(lid));
    h.state_mut().bench.desk.turn_to(Some("K3".into()));
    h.state_mut().bench.desk.perform(&Action::Pull("K3".into()));
    h.run();
    h.get_by_label("Touch all cavities in turn")
        .click_accesskit();
    h.run();
    let desk = &h.state().bench.desk;
    assert_eq!(desk.shown.len(), 4, "{:?}", desk.lines.latest(60.0));
}

#[test]
fn a_refusal_is_said_in_words_and_changes_nothing() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    tap(&mut h, Key::F);
    h.state_mut().bench.desk.turn_to(Some("K3".into()));
    h.run();
    let before = h.state().bench.desk.log().len();
    // The lid is on.
    h.get_by_label("Pull it out").click();
    h.run();
    assert_eq!(h.state().bench.desk.log().len(), before);
    assert!(h.state().bench.desk.lines.latest(60.0).is_some());
    assert!(h.query_by_label_contains("✋").is_some());
}

#[test]
fn names_of_slots_do_not_tell_what_they_feed() {
    let bench = Bench::new("no-cold-air", 7);
    let session = bench.desk.session();
    let vehicle = session.case().vehicle.clone();
    for slot in vehicle.boxes.values().flat_map(|b| &b.slots) {
        let thing = tracebay::desk::Thing::find(&vehicle, &slot.part).unwrap();
        let name = tracebay::panels::names::thing(&bench.text, session, bench.desk.view(), &thing);
        let label = &vehicle.parts[&slot.part].label;
        assert_ne!(name, label.as_str());
        assert!(!name.contains(label.as_str()), "{name}");
    }
}

/// 1280 by 720 with text at 200 percent leaves 640 by 360 points.
#[test]
fn at_twice_the_text_size_everything_is_still_inside() {
    let mut h = at_car((640.0, 360.0));
    h.run();
    for open in [true, false] {
        h.state_mut().board.sheet_open = open;
        h.run();
        let screen = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(640.0, 360.0));
        let pause = h.get_by_label("Pause").rect();
        assert!(screen.contains_rect(pause), "{pause:?}");
        if open {
            for tab in ["Complaint", "Findings", "Call", "Work order"] {
                let r = h
                    .get_by_role_and_label(egui::accesskit::Role::Tab, tab)
                    .rect();
                assert!(screen.contains_rect(r), "{tab}: {r:?}");
            }
        }
    }
}

#[test]
fn at_twice_the_text_size_tag_and_tool_do_not_cover_each_other() {
    let mut h = at_car((640.0, 360.0));
    h.state_mut().board.sheet_open = false;
    h.run();
    tap(&mut h, Key::E);
    tap(&mut h, Key::T);
    tap(&mut h, Key::Num5);
    assert_eq!(h.state().bench.desk.hand, Some(ToolKind::Meter));
    h.state_mut().bench.desk.turn_to(Some("bat".into()));
    h.run();
    let tag = h.get_by_label("Turn away").rect();
    let look = h.get_by_label("Look").rect();
    let tool = h.get_by_label("Lay back").rect();
    for a in [tag, look] {
        assert!(!a.intersects(tool), "{a:?} {tool:?}");
        assert!(a.min.y >= 0.0 && tool.min.y >= 0.0, "{a:?} {tool:?}");
    }
}

#[test]
fn nothing_moves_while_a_note_is_written() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    h.get_by_label("Findings").click();
    h.run();
    h.get_by_label("Note").focus();
    h.run();
    h.get_by_label("Note").type_text("bef");
    for key in [Key::B, Key::E, Key::F] {
        h.key_press(key);
    }
    h.run();
    assert_eq!(h.state().bench.desk.view().station, Station::Seat);
    h.get_by_label("Write it down").click();
    h.run();
    let last = h.state().bench.desk.log().last().map(|(a, _)| a.clone());
    assert_eq!(last, Some(Action::Note("bef".into())));
}

/// What has the focus, by name.
fn focused(h: &Harness<'static, AtCar>) -> Option<String> {
    usable(h).into_iter().find(|(_, f)| *f).map(|(n, _)| n)
}

#[test]
fn one_walks_by_the_signs_and_turns_away_from_what_is_left_behind() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    h.state_mut().bench.desk.turn_to(Some("key".into()));
    h.run();
    h.get_by_label("Go to the engine bay").click_accesskit();
    h.run();
    assert_eq!(h.state().bench.desk.view().station, Station::Bay);
    assert_eq!(h.state().bench.desk.focus, None);
    assert!(h.query_by_label("Go to the engine bay").is_none());
    for name in ["Go to the driver's seat", "Go to the fuse box"] {
        assert!(h.query_by_label(name).is_some(), "{name}");
    }
}

#[test]
fn escape_closes_a_list_and_the_focus_is_back_where_it_was() {
    let mut h = at_car((1280.0, 1000.0));
    h.run();
    let roll = "Tool roll";
    h.get_by_label(roll).focus();
    h.run();
    tap(&mut h, Key::Slash);
    assert_eq!(focused(&h).as_deref(), Some("Find by name"));
    tap(&mut h, Key::Escape);
    assert_eq!(focused(&h).as_deref(), Some(roll));
    assert!(!h.state().board.menu, "it closed the list and nothing else");
    // A list of choices on the sheet, with a thing turned to in the scene.
    h.state_mut().bench.desk.turn_to(Some("key".into()));
    h.state_mut().board.sheet.chosen.target = Some("F9".into());
    h.state_mut().board.sheet.tab = tracebay::panels::sheet::Tab::Call;
    h.run();
    let choice = "What is wrong with it?";
    h.get_by_label(choice).focus();
    h.run();
    tap(&mut h, Key::Enter);
    assert!(h.query_by_label("Fuse blown").is_some(), "the list is open");
    tap(&mut h, Key::Escape);
    assert!(
        h.query_by_label("Fuse blown").is_none(),
        "the list is closed"
    );
    assert_eq!(focused(&h).as_deref(), Some(choice));
    assert_eq!(h.state().bench.desk.focus.as_deref(), Some("key"));
}

#[test]
fn escape_turns_away_first_then_opens_the_menu_and_closes_it() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    h.state_mut().bench.desk.turn_to(Some("key".into()));
    h.run();
    tap(&mut h, Key::Escape);
    assert_eq!(h.state().bench.desk.focus, None);
    assert!(!h.state().board.menu);
    tap(&mut h, Key::Escape);
    assert!(h.state().board.menu);
    assert!(h.state().bench.desk.paused);
    tap(&mut h, Key::Escape);
    assert!(!h.state().board.menu);
    assert!(!h.state().bench.desk.paused);
}

#[test]
fn a_finger_opens_the_list_and_no_field_asks_for_a_keyboard() {
    use egui::{Event, PointerButton, TouchDeviceId, TouchId, TouchPhase};
    let mut h = at_car((1024.0, 768.0));
    h.run();
    let pos = h.get_by_label("What is here").rect().center();
    let touch = |phase| Event::Touch {
        device_id: TouchDeviceId(0),
        id: TouchId(1),
        phase,
        pos,
        force: None,
    };
    let button = |pressed| Event::PointerButton {
        pos,
        button: PointerButton::Primary,
        pressed,
        modifiers: egui::Modifiers::NONE,
    };
    // All between two frames, as a slow machine gives it.
    h.input_mut().events.extend([
        touch(TouchPhase::Start),
        Event::PointerMoved(pos),
        button(true),
        touch(TouchPhase::End),
        button(false),
        Event::PointerGone,
    ]);
    h.run();
    assert!(h.query_by_label("Ignition key").is_some());
    assert!(!h.ctx.text_edit_focused());
    // A key opens it with the field ready to be written in.
    tap(&mut h, Key::Escape);
    tap(&mut h, Key::Slash);
    assert_eq!(focused(&h).as_deref(), Some("Find by name"));
}

#[test]
fn the_list_of_what_is_here_leads_to_a_thing_and_closes() {
    for size in [(1920.0, 1080.0), (1280.0, 720.0), (640.0, 360.0)] {
        let mut h = at_car(size);
        h.run();
        h.get_by_label("What is here").click_accesskit();
        h.run();
        h.get_by_label("Ignition key").click_accesskit();
        h.run();
        assert_eq!(h.state().bench.desk.focus.as_deref(), Some("key"));
        assert!(h.state().board.finder.is_none());
    }
}

/// Sounds that last are written as long as they last (captions for what others hear).
#[test]
fn a_running_engine_is_captioned_until_it_stops() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    let set = |h: &mut Harness<'static, AtCar>, to: &str| {
        let action = Action::Set {
            control: "key".into(),
            to: to.into(),
        };
        assert!(h.state_mut().bench.desk.perform(&action));
        for _ in 0..60 {
            h.state_mut().bench.desk.pass(0.5);
        }
        // Lines are by now too old to be shown.
        let lines = &mut h.state_mut().bench.desk.lines;
        lines.at(1000.0);
        h.run();
    };
    set(&mut h, "start");
    assert!(
        h.query_by_label_contains("the engine runs").is_some()
            || h.query_by_label_contains("The engine runs").is_some()
    );
    h.state_mut().bench.settings.captions = false;
    h.run();
    assert!(h.query_by_label_contains("ngine runs").is_none());
    h.state_mut().bench.settings.captions = true;
    set(&mut h, "off");
    assert!(h.query_by_label_contains("ngine runs").is_none());
}

/// 1280 by 720 with text at 200 percent leaves 640 by 360 points. With a tool clipped on the state line
/// has most to say.
#[test]
fn at_twice_the_text_size_the_state_line_covers_none_of_its_buttons() {
    let mut h = at_car((640.0, 360.0));
    h.run();
    tap(&mut h, Key::E);
    tap(&mut h, Key::T);
    tap(&mut h, Key::Num1);
    h.state_mut().bench.desk.turn_to(Some("bat".into()));
    h.run();
    tap(&mut h, Key::C);
    h.run();
    let buttons: Vec<egui::Rect> = ["Pause", "Job sheet"]
        .into_iter()
        .map(|name| h.get_by_label(name).rect())
        .collect();
    for fact in [
        "Where: ",
        "Job time: ",
        "Key: ",
        "Engine: ",
        "In hand: ",
        "Clip: ",
    ] {
        let all = h.get_all_by_label_contains(fact).map(|n| n.rect());
        let lowest = all.max_by(|a, b| a.min.y.total_cmp(&b.min.y));
        let rect = lowest.expect("a fact in the state line");
        assert!(rect.max.y <= 360.0 && rect.min.x >= 0.0, "{fact} {rect:?}");
        for button in &buttons {
            assert!(!rect.intersects(*button), "{fact} {rect:?} {button:?}");
        }
    }
}

/// The open list has the digits, whatever one has turned to.
#[test]
fn a_digit_takes_a_tool_and_does_nothing_to_the_thing_turned_to() {
    let mut h = at_car((1280.0, 720.0));
    h.run();
    h.state_mut().bench.desk.turn_to(Some("key".into()));
    h.run();
    tap(&mut h, Key::T);
    tap(&mut h, Key::Num2);
    assert!(h.state().bench.desk.hand.is_some());
    assert_eq!(h.state().bench.desk.log(), []);
    // Closed, the thing has them again.
    tap(&mut h, Key::Num2);
    assert_eq!(h.state().bench.desk.log().len(), 1);
}

/// A list that nobody sees must not have the keys.
#[test]
fn what_covers_the_scene_and_a_list_over_it_are_not_open_together() {
    let mut h = at_car((640.0, 360.0));
    h.run();
    for key in [Key::Slash, Key::T] {
        h.state_mut().board.sheet_open = true;
        h.run();
        tap(&mut h, key);
        assert!(!h.state().board.sheet_open, "{key:?}: the list shows");
        tap(&mut h, Key::Escape);
        let board = &h.state().board;
        assert!(board.finder.is_none() && !board.roll_open && !board.menu);
    }
    let mut h = at_car((1280.0, 720.0));
    h.run();
    tap(&mut h, Key::Slash);
    assert!(h.state().board.finder.is_some());
    h.get_by_label_contains("Wiring diagram").click();
    h.run();
    h.run();
    assert!(h.state().board.diagram_open);
    assert!(h.state().board.finder.is_none(), "the diagram has the keys");
    tap(&mut h, Key::Escape);
    assert!(!h.state().board.diagram_open);
}
