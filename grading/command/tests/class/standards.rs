//! The gradebook and the statements against the rules of their standards.

use std::collections::BTreeSet;

use serde_json::Value;
use tracebay_grade::{gradebook, statements, times};

use crate::{CLASS, class};

/// RFC 4180: 2.1 CRLF, 2.3 a header, 2.4 the same number of fields in each line, 2.5 to 2.7 quotes.
#[test]
fn the_gradebook_keeps_rfc_4180_and_begins_no_formula() {
    let class = class();
    let text = gradebook::gradebook(&class.book).unwrap();
    // A reader of our own, by the grammar of section 2, so that writer and reader do not agree on
    // the same mistake.
    let rows = rfc_4180(&text);
    assert_eq!(rows.len(), CLASS + 1);
    assert!(rows.iter().all(|row| row.len() == rows[0].len()));
    assert_eq!(&rows[0][..2], ["id", "name"]);
    for cell in rows.iter().flatten() {
        assert!(
            !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
            "{cell}"
        );
    }
    assert_eq!(rows[4][1], "'=HYPERLINK(\"x\") (invented)");
    assert_eq!(rows[6][1], "Ünï \"Quote\", Jr (invented)");
}

fn rfc_4180(text: &str) -> Vec<Vec<String>> {
    let mut rows = vec![vec![String::new()]];
    let mut letters = text.chars().peekable();
    let mut quoted = false;
    while let Some(c) = letters.next() {
        let last = rows.last_mut().unwrap();
        let cell = last.last_mut().unwrap();
        match (quoted, c) {
            (true, '"') if letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            (true, '"') => {
                quoted = false;
                // 2.5: after a closing quote only a comma or a line end.
                assert!(matches!(letters.peek(), None | Some(',' | '\r')));
            }
            (true, c) => cell.push(c),
            (false, '"') => {
                assert!(cell.is_empty(), "2.5: quotes only around a whole field");
                quoted = true;
            }
            (false, ',') => last.push(String::new()),
            (false, '\r') => {
                assert_eq!(letters.next(), Some('\n'), "2.1: CRLF");
                rows.push(vec![String::new()]);
            }
            (false, '\n') => panic!("2.1: a line feed alone"),
            (false, c) => cell.push(c),
        }
    }
    assert!(!quoted);
    assert_eq!(
        rows.pop(),
        Some(vec![String::new()]),
        "the last line ends too"
    );
    rows
}

/// IEEE 9274.1.1-2023, section 4.2 (data: statements); section numbers from memory.
#[test]
fn statements_keep_the_standard() {
    let class = class();
    let text = statements::statements(&class.book, "https://school.example");
    let mut ids = BTreeSet::new();
    let mut count = 0;
    for line in text.lines() {
        count += 1;
        let statement: Value = serde_json::from_str(line).unwrap();
        let known = [
            "id",
            "actor",
            "verb",
            "object",
            "result",
            "context",
            "timestamp",
        ];
        // A statement has no property the standard does not know.
        assert!(
            statement
                .as_object()
                .unwrap()
                .keys()
                .all(|k| known.contains(&k.as_str()))
        );
        no_null(&statement);
        let id = statement["id"].as_str().unwrap();
        is_uuid(id);
        assert!(ids.insert(id.to_owned()), "{id} twice");
        // An agent has exactly one inverse functional identifier.
        let actor = statement["actor"].as_object().unwrap();
        let identifiers = ["mbox", "mbox_sha1sum", "openid", "account"];
        assert_eq!(
            identifiers
                .iter()
                .filter(|i| actor.contains_key(**i))
                .count(),
            1
        );
        is_iri(&actor["account"]["homePage"]);
        assert!(!actor["account"]["name"].as_str().unwrap().is_empty());
        is_iri(&statement["verb"]["id"]);
        assert_eq!(statement["object"]["objectType"], "Activity");
        is_iri(&statement["object"]["id"]);
        is_iri(&statement["object"]["definition"]["type"]);
        let score = &statement["result"]["score"];
        let scaled = score["scaled"].as_f64().unwrap();
        assert!((-1.0..=1.0).contains(&scaled));
        let [raw, min, max] = ["raw", "min", "max"].map(|k| score[k].as_f64().unwrap());
        assert!(min < max && (min..=max).contains(&raw));
        assert!(statement["result"]["completion"].is_boolean());
        let duration = statement["result"]["duration"].as_str().unwrap();
        is_duration(duration);
        let time = statement["timestamp"].as_str().unwrap();
        assert!(times::milliseconds(time).is_some() && time.ends_with('Z'));
        for key in statement["context"]["extensions"]
            .as_object()
            .unwrap()
            .keys()
        {
            is_iri(&Value::from(key.as_str()));
        }
        let verb = statement["verb"]["id"].as_str().unwrap();
        let success = statement["result"]["success"].as_bool();
        match verb.rsplit('/').next().unwrap() {
            "passed" => assert_eq!(success, Some(true)),
            "failed" => assert_eq!(success, Some(false)),
            "attempted" => assert_eq!(success, None),
            other => panic!("{other}"),
        }
    }
    let scored = class
        .book
        .attempts
        .iter()
        .filter(|a| a.scored.is_some())
        .count();
    assert_eq!(count, scored);
    // The same results give the same ids, so that a store keeps them once.
    assert_eq!(
        text,
        statements::statements(&class.book, "https://school.example")
    );
}

/// No property is null, but inside extensions.
fn no_null(value: &Value) {
    match value {
        Value::Null => panic!("null"),
        Value::Object(map) => map.values().for_each(no_null),
        Value::Array(list) => list.iter().for_each(no_null),
        _ => {}
    }
}

/// RFC 9562 section 4: 8-4-4-4-12 hex digits, variant 10.
fn is_uuid(text: &str) {
    let parts: Vec<usize> = text.split('-').map(str::len).collect();
    assert_eq!(parts, [8, 4, 4, 4, 12], "{text}");
    assert!(text.chars().all(|c| c == '-' || c.is_ascii_hexdigit()));
    assert_eq!(&text[14..15], "5");
    assert!(matches!(&text[19..20], "8" | "9" | "a" | "b"), "{text}");
}

/// RFC 3987: a scheme, and nothing that must be escaped.
fn is_iri(value: &Value) {
    let text = value.as_str().unwrap();
    let (scheme, rest) = text.split_once(':').expect("a scheme");
    assert!(scheme.chars().all(|c| c.is_ascii_alphanumeric()));
    assert!(
        !rest.is_empty() && !rest.contains([' ', '<', '>', '"', '{', '}', '|', '\\', '^', '`'])
    );
}

/// ISO 8601 4.4.3.2, seconds to a hundredth at most.
fn is_duration(text: &str) {
    let rest = text
        .strip_prefix("PT")
        .expect("PT")
        .strip_suffix('S')
        .expect("S");
    let seconds = rest.rsplit(['H', 'M']).next().unwrap();
    let (whole, part) = seconds.split_once('.').unwrap_or((seconds, ""));
    assert!(!whole.is_empty() && whole.chars().all(|c| c.is_ascii_digit()));
    assert!(part.len() <= 2 && part.chars().all(|c| c.is_ascii_digit()));
}
