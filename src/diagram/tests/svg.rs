//! The page as it is handed out.

use tracebay_core::vehicle::Vehicle;
use tracebay_diagram::{Mark, Note, Notes, Of, circuit, marks, svg};
use tracebay_shelf::Data;

fn car() -> Vehicle {
    let (catalogue, _) = Data::built_in().catalogue();
    (*catalogue.vehicles["ostrel-lindmoor"]).clone()
}

#[test]
fn a_clutch_circuit_names_fuse_relay_load_and_ground() {
    let drawing = circuit(&car(), "K3").unwrap();
    let text = svg::page("Car", &drawing, &[], &[]);
    for name in [
        "F9",
        "K3",
        "clutch_coil",
        "G7.1",
        "climate_unit.clutch_relay",
        "GN-RD 1.5 mm\u{b2}",
    ] {
        assert!(text.contains(&format!(">{name}</text>")), "{name}");
    }
    assert!(!text.contains("horn"), "one circuit only");
    assert!(circuit(&car(), "nothing").is_none());
}

/// XML 1.0: signs with a meaning are written out, and control signs may not appear.
#[test]
fn no_words_of_a_learner_break_the_page() {
    let drawing = circuit(&car(), "K3").unwrap();
    let mut notes = Notes::default();
    let words = "<b>\"&\u{1}\u{fffe}</text>".to_owned();
    let note = Note {
        mark: Mark::Suspect,
        text: words.clone(),
    };
    notes.set(Of::Part("K3".into()), Some(note));
    let signs = marks::signs(&drawing, &notes);
    assert!(!signs.is_empty());
    let text = svg::page(&words, &drawing, &signs, std::slice::from_ref(&words));
    assert!(!text.contains("<b>"));
    assert!(!text.contains(['\u{1}', '\u{fffe}']));
    assert_eq!(
        text.matches("<text").count(),
        text.matches("</text>").count()
    );
}
