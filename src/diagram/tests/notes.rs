//! Notes come back as they were kept, and nothing that is no note comes in.

use tracebay_core::vehicle::Vehicle;
use tracebay_diagram::notes::{LONGEST, MOST, MOST_BYTES, NotesError};
use tracebay_diagram::{Mark, Note, Notes, Of};
use tracebay_shelf::Data;

fn car() -> Vehicle {
    let (catalogue, _) = Data::built_in().catalogue();
    (*catalogue.vehicles["pellam-quist"]).clone()
}

fn note(mark: Mark, text: &str) -> Note {
    Note {
        mark,
        text: text.to_owned(),
    }
}

#[test]
fn notes_are_kept_and_come_back() {
    let mut notes = Notes::default();
    notes.set(Of::Part("K3".into()), Some(note(Mark::Good, "hums")));
    notes.set(Of::Wire("w_k3_87".into()), Some(note(Mark::Suspect, "")));
    notes.set(Of::Part("F9".into()), Some(note(Mark::Noted, "ñ \"x\"")));
    assert_eq!(Notes::read(&notes.text(), &car()).unwrap(), notes);
    notes.set(Of::Part("K3".into()), None);
    assert_eq!(notes.all().count(), 2);
    assert_eq!(Notes::read(&notes.text(), &car()).unwrap(), notes);
}

#[test]
fn what_is_no_note_is_refused_or_left_out() {
    let read = |text: &str| Notes::read(text, &car());
    for text in [
        "",
        "{}",
        "[]",
        "null",
        "{\"format\":1}",
        "{\"format\":1,\"notes\":3}",
    ] {
        assert_eq!(read(text), Err(NotesError::Damaged), "{text}");
    }
    assert_eq!(
        read(r#"{"format":2,"notes":[]}"#),
        Err(NotesError::Format(2))
    );
    let large = " ".repeat(MOST_BYTES + 1);
    assert_eq!(read(&large), Err(NotesError::TooLarge));
    // Of another car, of nothing, of two things at once: left out, the rest is there.
    let mixed = r#"{"format":1,"notes":[
        {"part":"no_such","mark":"good"}, {"mark":"good"}, {"part":"K3","wire":"w_k3_87","mark":"good"},
        {"part":"K4","mark":"suspect","text":"a\nb"}]}"#;
    let notes = read(mixed).unwrap();
    let all: Vec<_> = notes.all().collect();
    let expected = note(Mark::Suspect, "a b");
    assert_eq!(all, [(1, &Of::Part("K4".into()), &expected)]);
}

#[test]
fn the_most_and_the_longest_fit_and_no_more() {
    let car = car();
    let mut notes = Notes::default();
    let long = "\u{1F697}".repeat(LONGEST + 50);
    let things: Vec<Of> = car
        .parts
        .keys()
        .map(|id| Of::Part(id.clone()))
        .chain(car.wires.keys().map(|id| Of::Wire(id.clone())))
        .collect();
    assert!(things.len() > MOST, "the car is large enough for this");
    let taken = things
        .iter()
        .filter(|of| notes.set((*of).clone(), Some(note(Mark::Noted, &long))))
        .count();
    assert_eq!(taken, MOST);
    let text = notes.text();
    assert!(text.len() <= MOST_BYTES, "{}", text.len());
    assert!(
        notes
            .all()
            .all(|(_, _, n)| n.text.chars().count() == LONGEST)
    );
    assert_eq!(Notes::read(&text, &car).unwrap(), notes);
}
