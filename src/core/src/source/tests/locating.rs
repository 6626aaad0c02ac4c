//! Where values stand: places are checked against the text itself, found by
//! searching for it.

use super::super::{Check, Locator, Path, decode, nearest, parse};
use super::{GOOD, Sample};

/// Line and column of the `needle`, counted here from the text.
fn place(text: &str, needle: &str) -> (u32, u32) {
    let at = text.find(needle).expect("the needle is in the text");
    let before = &text[..at];
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    (line as u32, column as u32)
}

fn parts() -> Path {
    Path::root().field("parts")
}

#[test]
fn the_good_file_is_read() {
    let sample: Sample = parse("good.ron", GOOD).expect("every form is accepted");
    assert_eq!(sample.name, "A \"quoted\" name, with ( and Ω");
    assert!(sample.parts.contains_key("raw \"key\" {"));
}

#[test]
fn every_form_is_found() {
    let root = Path::root;
    let cases = [
        (root(), "(\n    name"),
        (root().field("name"), "\"A "),
        (parts(), "{\n"),
        (parts().key("K3"), "Relay("),
        (parts().key("K3").field("coil_ohms"), "85.0"),
        (parts().key("K3").field("pins"), "[30"),
        (parts().key("K3").field("pins").index(2), "86,"),
        (parts().key("F\"1"), "Fuse("),
        (parts().key("F\"1").index(0), "10.0"),
        (parts().key("raw \"key\" {"), "Lamp(("),
        (parts().key("raw \"key\" {").field("watts"), "5.0)),"),
        (parts().key("P").index(0), "1, 2)"),
        (parts().key("P").index(1), "2),\n"),
        (root().field("wires").index(1).field("mm2"), "1.5)],"),
        (root().field("limit"), "Some(12.5)"),
        (root().field("letter"), "Some(')')"),
        (root().field("pair").index(1), "-2.5e-3"),
        (root().field("cavities").key(30), "Left"),
        (root().field("cavities").key(0x55), "Right"),
        (root().field("loose").field("x"), "1)),"),
        (root().field("type"), "Some(r\""),
    ];
    let locator = Locator::new(GOOD);
    for (path, source) in cases {
        let found = locator.find(&path);
        assert_eq!(found, Some(place(GOOD, source)), "{path}");
    }
}

#[test]
fn the_path_at_a_place_leads_back_to_it() {
    let locator = Locator::new(GOOD);
    let cases = [
        ("85.0", "parts.\"K3\".coil_ohms"),
        ("coil_ohms", "parts.\"K3\".coil_ohms"),
        ("86,", "parts.\"K3\".pins[2]"),
        ("\"K3\": Relay", "parts.\"K3\""),
        ("2),\n", "parts.\"P\"[1]"),
        ("0.5", "wires[0].mm2"),
        ("12.5", "limit"),
        ("Right", "cavities.\"85\""),
        ("1)),", "loose.x"),
        ("/* a /*", "parts"),
        ("// An", ""),
    ];
    for (source, path) in cases {
        let (line, column) = place(GOOD, source);
        assert_eq!(locator.path_at(line, column).to_string(), path, "{source}");
    }
}

#[test]
fn what_is_not_there_is_placed_at_what_is_around_it() {
    let locator = Locator::new(GOOD);
    let cases = [
        (parts().key("K3").field("volts"), "Relay("),
        (parts().key("K9").field("coil_ohms"), "{\n"),
        (parts().key("K3").field("pins").index(9), "[30"),
        (parts().key("K3").index(0), "Relay("),
        (parts().index(0), "{\n"),
        (Path::root().field("no"), "(\n    name"),
        (Path::root().field("limit").field("deeper"), "Some(12.5)"),
    ];
    for (path, source) in cases {
        assert_eq!(locator.find(&path), Some(place(GOOD, source)), "{path}");
    }
    assert_eq!(Locator::new("").find(&Path::root()), None);
    assert_eq!(Locator::new("// nothing\n").find(&Path::root()), None);
}

#[test]
fn columns_count_characters() {
    let text = "(name: \"ΩΩ\", x: 'é', limit: 3)";
    let locator = Locator::new(text);
    assert_eq!(locator.find(&Path::root().field("limit")), Some((1, 29)));
    // A byte order mark is not part of the first line.
    let marked = format!("\u{FEFF}{text}");
    let locator = Locator::new(&marked);
    assert_eq!(locator.find(&Path::root().field("limit")), Some((1, 29)));
}

#[test]
fn checks_tell_all_in_the_order_of_the_text() {
    let mut check = Check::new("good.ron", GOOD);
    let limit = Path::root().field("limit");
    assert!(check.number(&limit, 12.5, 1.0..=20.0, "A"));
    assert!(check.is_clean());
    assert!(!check.number(&limit, 12.5, 1.0..=10.0, "A"));
    assert!(!check.number(&Path::root().field("pair").index(1), -2.5e-7, 0.0.., ""));
    assert!(!check.number(&limit, f64::INFINITY, 0.0.., "A"));
    let wire = Path::root().field("wires").index(0).field("from");
    let names = ["K4", "B"];
    assert!(check.known(&wire, "B", names.into_iter(), "part"));
    assert!(!check.known(&wire, "K3", names.into_iter(), "part"));
    let coil = parts().key("K3").field("coil_ohms");
    check.refuse(&coil, "a coil of 85 Ω does not go with this relay", "");
    let problems = check.finish().expect_err("four were refused");
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(told.join("\n"), @r#"
    good.ron:6:32: parts."K3".coil_ohms: a coil of 85 Ω does not go with this relay
    good.ron:11:20: wires[0].from: there is no part `K3`
      help: did you mean `K4`? Accepted here: `K4` and `B`
    good.ron:12:12: limit: 12.5 A is out of range
      help: give 1 to 10 A
    good.ron:12:12: limit: inf A is out of range
      help: give at least 0 A
    good.ron:13:60: pair[1]: -2.5e-7 is out of range
      help: give at least 0
    "#);
}

#[test]
fn bytes_that_are_no_text_are_told() {
    let problem = decode("x.ron", b"(a: 1,\n \xC3\xA9 \xFF)").expect_err("not UTF-8");
    insta::assert_snapshot!(problem.to_string(), @r"
    x.ron:2:4: the file is not UTF-8 text from here on
      help: save it as UTF-8
    ");
    assert_eq!(decode("x.ron", "é".as_bytes()), Ok("é"));
}

/// Distances by hand; the words are slips a person makes.
#[test]
fn the_nearest_spelling() {
    let fields = ["coil_ohms", "pins", "watts", "mm2", "K3", "K4"];
    let cases = [
        ("coil_ohm", Some("coil_ohms")),
        ("coli_ohms", Some("coil_ohms")),
        ("Coil_Ohms", Some("coil_ohms")),
        ("pinz", Some("pins")),
        ("wats", Some("watts")),
        ("k4", Some("K4")),
        ("K5", Some("K3")),
        ("mm", Some("mm2")),
        ("resistance", None),
        ("", None),
        ("x", None),
    ];
    for (word, expected) in cases {
        assert_eq!(nearest(word, fields.into_iter()), expected, "{word}");
    }
    let long = "a".repeat(1_000_000);
    assert_eq!(nearest(&long, [long.as_str()].into_iter()), None);
}
