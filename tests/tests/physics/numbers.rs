//! Every number in the shipped files, and every number a file can hold, put to nonsense: refused at
//! its place with what would be accepted.

use std::collections::BTreeSet;

use tracebay_core::scenario::{Catalogue, SourceFile, load};
use tracebay_tests::top;

/// A number in a text: where it stands, its field (`mm2`, or the name of the value it is in), its line.
struct Number {
    from: usize,
    to: usize,
    field: String,
    line: u32,
}

/// Numbers outside strings and comments.
fn numbers(text: &str) -> Vec<Number> {
    let bytes = text.as_bytes();
    let (mut at, mut line, mut word, mut found) = (0, 1, String::new(), Vec::new());
    while at < bytes.len() {
        let c = bytes[at] as char;
        if c == '\n' {
            line += 1;
        }
        if c == '"' {
            at += 1;
            while bytes[at] != b'"' {
                line += u32::from(bytes[at] == b'\n');
                at += if bytes[at] == b'\\' { 2 } else { 1 };
            }
        } else if text[at..].starts_with("//") {
            while bytes[at] != b'\n' {
                at += 1;
            }
            continue;
        } else if c.is_ascii_alphabetic() || c == '_' {
            let from = at;
            while at < bytes.len() && (bytes[at].is_ascii_alphanumeric() || bytes[at] == b'_') {
                at += 1;
            }
            if &text[from..at] != "Some" {
                word = text[from..at].to_owned();
            }
            continue;
        } else if c.is_ascii_digit() || (c == '-' && bytes[at + 1].is_ascii_digit()) {
            let from = at;
            at += 1;
            while at < bytes.len() && (bytes[at].is_ascii_digit() || bytes[at] == b'.') {
                at += 1;
            }
            found.push(Number {
                from,
                to: at,
                field: word.clone(),
                line,
            });
            continue;
        }
        at += 1;
    }
    found
}

fn shipped(folder: &str) -> Vec<SourceFile> {
    let mut paths: Vec<_> = std::fs::read_dir(top().join(folder))
        .expect("part of the project")
        .map(|e| e.expect("readable").path())
        .filter(|p| p.extension().is_some_and(|e| e == "ron"))
        .collect();
    paths.sort();
    paths
        .into_iter()
        .map(|p| SourceFile {
            name: p
                .file_name()
                .expect("a file")
                .to_string_lossy()
                .into_owned(),
            text: std::fs::read_to_string(&p).expect("readable"),
        })
        .collect()
}

/// Fields for which a value of this list is a sensible one.
fn sensible(field: &str, bad: &str) -> bool {
    match bad {
        // What may be nothing: a flat battery, a free part, a delay of none, a corner of a drawing,
        // the low end of a sensor's range, an empty loop, freezing point.
        "0" => matches!(
            field,
            "charge"
                | "awg"
                | "price"
                | "replace_minutes"
                | "delay_s"
                | "restart_delay_s"
                | "low_kpa"
                | "on_delay_s"
                | "off_delay_s"
                | "prime_s"
                | "seconds_at_0c"
                | "opens_below_kpa"
                | "closes_above_kpa"
                | "low_v"
                | "plausible_from_v"
                | "low_cut_kpa"
                | "off_kpa"
                | "on_kpa"
                | "limit_c"
                | "on_coolant_c"
                | "at"
                | "turn_deg"
                | "size"
                | "Wait"
                | "Charge"
                | "CondenserBlocked"
                | "group"
                | "ambient_c"
                | "version"
                | "by"
                | "kind"
        ),
        "-7" => matches!(
            field,
            "at" | "turn_deg"
                | "size"
                | "limit_c"
                | "on_coolant_c"
                | "low_kpa"
                | "ReadingOff"
                | "ambient_c"
        ),
        _ => false,
    }
}

/// Puts nonsense for each number of a text, one of each field and neighbourhood.
fn torture(
    file: &SourceFile,
    load: impl Fn(&SourceFile) -> Vec<tracebay_core::source::Problem>,
) -> (usize, usize) {
    assert!(
        load(file).is_empty(),
        "{} is sound as it is: {:#?}",
        file.name,
        load(file)
    );
    let mut seen = BTreeSet::new();
    let (mut fields, mut tried) = (BTreeSet::new(), 0);
    for n in numbers(&file.text) {
        // The kind a field stands in decides its range: the nearest name with a bracket before it.
        let owner = file.text[..n.from]
            .rfind('(')
            .and_then(|b| {
                file.text[..b]
                    .rsplit(|c: char| !c.is_alphanumeric() && c != '_')
                    .next()
            })
            .unwrap_or_default()
            .to_owned();
        if !seen.insert((owner.clone(), n.field.clone())) {
            continue;
        }
        // Versions and layout groups are labels, not quantities.
        if matches!(n.field.as_str(), "format" | "version" | "group") {
            continue;
        }
        fields.insert((owner, n.field.clone()));
        for bad in ["0", "-7", "NaN", "inf", "-inf", "1e30", "-1e30"] {
            if sensible(&n.field, bad) {
                continue;
            }
            let whole = !file.text[n.from..n.to].contains('.');
            let bad_text = match (bad, whole) {
                ("0" | "-7", false) => format!("{bad}.0"),
                _ => bad.to_owned(),
            };
            let text = format!("{}{bad_text}{}", &file.text[..n.from], &file.text[n.to..]);
            let problems = load(&SourceFile {
                name: file.name.clone(),
                text,
            });
            assert!(
                !problems.is_empty(),
                "{}:{}: {} = {bad_text} was taken",
                file.name,
                n.line,
                n.field
            );
            let there = problems
                .iter()
                .find(|p| p.line == n.line || p.line + 2 > n.line && p.line <= n.line + 2);
            let there = there.unwrap_or_else(|| {
                panic!(
                    "{}:{}: {} = {bad_text}: told elsewhere: {problems:#?}",
                    file.name, n.line, n.field
                )
            });
            let told = there.to_string();
            assert!(!there.help.is_empty() || told.len() > 20, "{told}");
            tried += 1;
        }
    }
    (fields.len(), tried)
}

#[test]
fn no_vehicle_takes_a_number_that_no_car_has() {
    let mut files = shipped("scenarios/vehicles");
    files.extend(shipped("tests/reference/files"));
    let (mut fields, mut tried) = (0, 0);
    for file in &files {
        let (f, t) = torture(file, |file| load::vehicle(file).err().unwrap_or_default());
        (fields, tried) = (fields + f, tried + t);
    }
    println!(
        "bad numbers in vehicle files: {tried} refused in {fields} fields of {} files",
        files.len()
    );
    assert!(tried > 300);
}

#[test]
fn no_scenario_takes_a_number_that_makes_no_sense() {
    let (catalogue, problems) = Catalogue::load(&shipped("scenarios/vehicles"), &[]);
    assert!(problems.is_empty());
    let (mut fields, mut tried) = (0, 0);
    for file in shipped("scenarios") {
        let (f, t) = torture(&file, |file| {
            load::scenario(file, &catalogue).err().unwrap_or_default()
        });
        (fields, tried) = (fields + f, tried + t);
    }
    println!("bad numbers in scenario files: {tried} refused in {fields} fields");
    assert!(tried > 100);
}

#[test]
fn a_wire_may_be_written_by_its_american_gauge() {
    // ASTM B258: 18 AWG has 0.823 mm².
    let file = shipped("tests/reference/files").remove(0);
    let vehicle = load::vehicle(&file).expect("sound");
    assert!((vehicle.wires["w3"].mm2 - 0.823).abs() < 0.002);
    let both = SourceFile {
        text: file
            .text
            .replace("awg: Some(18)", "awg: Some(18), mm2: 1.0"),
        ..file
    };
    let told = load::vehicle(&both).expect_err("one or the other");
    assert!(told[0].to_string().contains("not both"), "{told:?}");
}
