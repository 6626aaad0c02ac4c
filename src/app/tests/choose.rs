//! Choosing a case without a window: by what it is about, by level, by word, by course; at the sizes
//! that people have; by key alone. Nothing on the way says what is behind a complaint.

mod common;

use common::harness;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use tracebay::desk::Order;
use tracebay::egui::{self, Key};
use tracebay::look::Palette;
use tracebay::panels::Cx;
use tracebay::platform::Shelf;
use tracebay::screens::RecentAttempt;
use tracebay::screens::choose::{self, Choosing, Shelves, Way};
use tracebay::settings::Settings;
use tracebay::text::{Language, Text};
use tracebay_core::scenario::{Catalogue, Texts};

struct Choice {
    catalogue: Catalogue,
    recent: Vec<RecentAttempt>,
    choosing: Choosing,
    text: Text,
    orders: Vec<Order>,
}

fn choice(size: (f32, f32)) -> Harness<'static, Choice> {
    let (catalogue, problems) = tracebay_shelf::Data::built_in().catalogue();
    assert!(problems.is_empty(), "{problems:?}");
    let state = Choice {
        catalogue,
        recent: vec![RecentAttempt {
            name: "one".into(),
            scenario: "no-cold-air".into(),
            title: "No cold air".into(),
            seed: 11,
            actions: 40,
            minutes: 21.0,
            done: true,
        }],
        choosing: Choosing::default(),
        text: Text::new(Default::default()),
        orders: Vec::new(),
    };
    let (look, settings) = (Palette::workshop(), Settings::default());
    harness(size, state, move |ui, at: &mut Choice| {
        let mut cx = Cx {
            text: &at.text,
            look: &look,
            settings: &settings,
            orders: &mut at.orders,
        };
        let mut shelves = Shelves {
            catalogue: &at.catalogue,
            recent: &at.recent,
            assigned: None,
        };
        choose::show(ui, &mut cx, &mut shelves, &mut at.choosing);
    })
}

fn press(h: &mut Harness<'static, Choice>, name: &str) {
    let fits = |n: &egui_kittest::Node<'_>| {
        let node = n.accesskit_node();
        node.data().supports_action(egui::accesskit::Action::Click)
    };
    let all = h.get_all_by_label(name);
    let found = all.into_iter().find(fits);
    found.expect("something to press").click_accesskit();
    h.run();
}

/// Everything that a reader is told, drawn or scrolled away.
fn said(h: &Harness<'static, Choice>) -> Vec<String> {
    let nodes = h.root().children_recursive();
    nodes
        .filter_map(|n| {
            let node = n.accesskit_node();
            node.label().or_else(|| node.value())
        })
        .collect()
}

fn shown(h: &Harness<'static, Choice>, title: &str) -> bool {
    h.query_all_by_label(title).next().is_some()
}

/// The translation is invented.
#[test]
fn titles_are_shown_and_found_in_the_language_of_the_catalogue() {
    let mut h = choice((1280.0, 720.0));
    let texts = Texts {
        format: 1,
        language: "es".into(),
        texts: [("Silent horn".into(), "Prueba muda".into())].into(),
    };
    h.state_mut().catalogue.show_in(Some(&texts));
    h.run();
    assert!(shown(&h, "Prueba muda") && !shown(&h, "Silent horn"));
    assert!(shown(&h, "No cold air"));
    h.state_mut().choosing.wanted = "prueba".into();
    h.run();
    assert!(shown(&h, "Prueba muda") && !shown(&h, "No cold air"));
    h.state_mut().catalogue.show_in(None);
    h.state_mut().choosing.wanted.clear();
    h.run();
    assert!(shown(&h, "Silent horn"));
}

/// The translation is invented; it lies in a folder, as an author's does.
#[test]
fn a_case_speaks_the_language_that_is_in_force_when_it_is_opened() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("spoken");
    let words = folder.join("scenarios/words");
    std::fs::create_dir_all(&words).expect("a folder to test in");
    let write = |title: &str| {
        let texts =
            format!("Texts(format: 1, language: \"es\", texts: {{\"Silent horn\": \"{title}\"}})");
        std::fs::write(words.join("es-mine.ron"), texts).expect("a file to test with");
    };
    write("Prueba muda");
    let mut shelf = Shelf::open(Some(folder.clone()), Some(folder.join("kept"))).expect("a shelf");
    shelf.for_author(folder.clone());
    let [english, spanish] = [Language::En, Language::Es].map(|l| Text::new(l).words);
    let begun = |shelf: &mut Shelf| {
        let book = shelf
            .begin(&english, "horn-silent", Some(1))
            .expect("a case");
        book.session().case().scenario.title.to_string()
    };
    assert_eq!(begun(&mut shelf), "Silent horn");
    shelf.speak("es");
    assert_eq!(begun(&mut shelf), "Prueba muda");
    shelf.speak("en");
    assert_eq!(begun(&mut shelf), "Silent horn");
    // A saved translation is read like any other file, in the language of the moment.
    write("Otra prueba");
    assert_eq!(shelf.read_again(&spanish), Ok(Vec::new()));
    assert_eq!(begun(&mut shelf), "Otra prueba");
    std::fs::write(words.join("es-mine.ron"), "Texts(").expect("a file to test with");
    assert_eq!(shelf.read_again(&spanish).map(|told| told.len()), Ok(1));
    assert_eq!(begun(&mut shelf), "Otra prueba");
}

#[test]
fn a_complaint_is_found_by_what_it_is_about_and_by_level() {
    let mut h = choice((1280.0, 720.0));
    h.run();
    assert!(shown(&h, "No cold air") && shown(&h, "Silent horn"));
    press(&mut h, "Lights");
    assert!(shown(&h, "No dip beam") && !shown(&h, "No cold air"));
    press(&mut h, "Level 3 of 5");
    assert!(shown(&h, "Tired on the left") && !shown(&h, "No dip beam"));
    press(&mut h, "All cases");
    press(&mut h, "Level 3 of 5");
    press(&mut h, "Only what I have not tried");
    assert!(!shown(&h, "No cold air") && shown(&h, "Silent horn"));
}

#[test]
fn a_word_of_the_complaint_finds_it_and_two_keys_take_it() {
    let mut h = choice((1920.0, 1080.0));
    h.run();
    let field = |h: &Harness<'static, Choice>| {
        let fields = h.get_all_by_label("Find");
        let mut fields = fields.filter(|n| n.accesskit_node().is_text_input());
        fields.next().expect("a field").focus();
    };
    field(&h);
    h.run();
    h.event(egui::Event::Text("snowflake".into()));
    h.run();
    assert_eq!(h.state().choosing.wanted, "snowflake");
    assert!(shown(&h, "No cold air") && !shown(&h, "Silent horn"));
    let card = h.get_by_role_and_label(egui::accesskit::Role::Button, "No cold air");
    card.focus();
    h.run();
    for _ in 0..2 {
        h.key_press(Key::Enter);
        h.run();
    }
    let begun = [Order::Begin {
        scenario: "no-cold-air".into(),
        seed: None,
    }];
    assert_eq!(h.state().orders, begun);
}

/// A scenario's topic may name the kind of fault (said of the field in the scenario file's types).
#[test]
fn no_topic_and_no_candidate_is_told_before_the_car_is_given_back() {
    let mut h = choice((1920.0, 1080.0));
    h.run();
    let ids: Vec<String> = h.state().catalogue.scenarios.keys().cloned().collect();
    for id in ids {
        h.state_mut().choosing.scenario = Some(id.clone());
        h.run();
        let scenario = h.state().catalogue.scenarios[&id].clone();
        for words in said(&h) {
            // A lesson may be called like a topic: it is offered whatever is chosen.
            let lesson = words.starts_with(|c: char| c.is_ascii_digit());
            assert!(
                lesson || !words.contains(scenario.topic.as_str()),
                "{id}: {words}"
            );
            for candidate in &scenario.candidates {
                assert_ne!(words, candidate.id, "{id}");
            }
        }
    }
}

#[test]
fn a_lesson_shows_its_idea_and_its_cases() {
    let mut h = choice((1280.0, 720.0));
    h.run();
    h.state_mut().choosing.way = Way::Lesson {
        course: "finding-faults".into(),
        lesson: "relay-basics".into(),
    };
    h.run();
    assert!(shown(&h, "Lamp A stays dark") && !shown(&h, "Silent horn"));
    press(&mut h, "Lamp A stays dark");
    press(&mut h, "Take the case");
    let begun = matches!(&h.state().orders[..], [Order::Begin { scenario, .. }] if scenario == "bench-relay");
    assert!(begun, "{:?}", h.state().orders);
}

/// Text at 200 percent in a window of 1280 by 720 leaves 640 by 360 points.
#[test]
fn nothing_to_press_is_cut_off_at_the_side_at_any_size() {
    for size in [(640.0, 360.0), (1280.0, 720.0), (1920.0, 1080.0)] {
        let mut h = choice(size);
        h.run();
        h.state_mut().choosing.scenario = Some("no-cold-air".into());
        h.run();
        h.run();
        let usable = h.root().children_recursive().filter(|n| {
            let node = n.accesskit_node();
            node.data().supports_action(egui::accesskit::Action::Click)
        });
        for node in usable {
            let r = node.rect();
            let name = node.accesskit_node().label();
            assert!(
                r.left() >= 0.0 && r.right() <= size.0,
                "{size:?} {name:?} {r:?}"
            );
        }
        for name in ["Take the case", "Back"] {
            assert!(shown(&h, name), "{size:?}: {name}");
        }
    }
}
