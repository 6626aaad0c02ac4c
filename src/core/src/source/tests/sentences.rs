//! What is said about each kind of mistake in names and values.
//!
//! There is no outside reference for wording. Each place was checked by eye
//! against the snippet; the sentences are kept so that a change of the RON
//! reader that worsens them is seen.

use super::super::parse;
use super::Sample;

/// Checks snippets against line, column, field and message, and the help.
pub(super) fn told(cases: &[(&str, &str, &str)]) {
    for (text, message, help) in cases {
        let problem = parse::<Sample>("x.ron", text).expect_err(text);
        let expected = if help.is_empty() {
            format!("x.ron:{message}")
        } else {
            format!("x.ron:{message}\n  help: {help}")
        };
        assert_eq!(problem.to_string(), expected, "{text}");
    }
}

/// Names of fields and kinds, and what belongs to them.
#[test]
fn wrong_names() {
    told(&[
        (
            r#"(name: "a", parts: {"K": Relay(coil_ohm: 3, pins: [])})"#,
            r#"1:32: parts."K".coil_ohm: there is no field `coil_ohm` here"#,
            "did you mean `coil_ohms`? Accepted here: `coil_ohms` and `pins`",
        ),
        (
            r#"(name: "a", parts: {"K": Relay(pins: [1] , )})"#,
            r#"1:26: parts."K".coil_ohms: the field `coil_ohms` is missing"#,
            "add `coil_ohms: …` inside `Relay( … )`",
        ),
        (
            r#"(name: "a", parts: {"K": Rely(coil_ohms: 3)})"#,
            r#"1:26: parts."K": `Rely` is not one of the accepted names"#,
            "did you mean `Relay`? Accepted here: `Relay`, `Fuse`, `Lamp`, `Blank` and `Pair`",
        ),
        (
            r#"(name: "a", parts: {}, cavities: {1: Left, 2: Lefft})"#,
            r#"1:47: cavities."2": `Lefft` is not one of the accepted names"#,
            "did you mean `Left`? Accepted here: `Left` and `Right`",
        ),
        (
            r#"(name: "a", parts: {"F": Fuse})"#,
            r#"1:26: parts."F": `Fuse` needs values in round brackets"#,
            "write `Fuse( … )`",
        ),
        (
            r#"(name: "a", parts: {"F": Blank(1)})"#,
            r#"1:26: parts."F": `Blank` takes no values"#,
            "write `Blank` alone, without brackets",
        ),
        (
            r#"(name: "a", parts: {"F": Lamp(watts: 3)})"#,
            r#"1:31: parts."F".watts: expected `Lamp( … )`, found `watts`"#,
            "put the fields into brackets of their own: `(watts: …)`",
        ),
        (
            r#"(name: "a", parts: {"F": Lamp((watt: 3))})"#,
            r#"1:32: parts."F".watt: there is no field `watt` here"#,
            "did you mean `watts`? Accepted here: `watts`",
        ),
        (
            r#"(name: "a", parts: {"F": Lamp(( ))})"#,
            r#"1:31: parts."F".watts: the field `watts` is missing"#,
            "add `watts: …` inside this `( … )`",
        ),
        (
            r#"(name: "a", parts: {"F": "Blank"})"#,
            r#"1:26: parts."F": expected a name, found the text "Blank""#,
            "names stand without quotes: `Blank`",
        ),
        (
            r#"("name": "a", parts: {})"#,
            r#"1:2: "name": expected a field's name, found the text "name""#,
            "names stand without quotes: `name`",
        ),
        (
            r#"Zample(name: "a", parts: {})"#,
            "1:1: expected `Sample( … )`, found `Zample`",
            "write `Sample`, or leave the name out",
        ),
        (
            r#"(name: "a", parts: {"x": })"#,
            r#"1:26: parts."x": expected a name, found nothing"#,
            "names stand without quotes",
        ),
        (
            r#"(name: "a", parts: {}, wires: [(from: "a", mm2: 5mm)])"#,
            "1:49: wires[0].mm2: `5mm` is not a number",
            "give the number alone; the unit is part of the field's name",
        ),
        (
            r#"(name: "a", parts: {}, my-field: 3)"#,
            "1:24: `my-field` cannot be a name",
            "names have letters, digits and `_`, and do not begin with a digit",
        ),
        (
            r#"(name: "a", parts: {"F": blank}, n: 3)"#,
            r#"1:26: parts."F": `blank` is not one of the accepted names"#,
            "did you mean `Blank`? Accepted here: `Relay`, `Fuse`, `Lamp`, `Blank` and `Pair`",
        ),
        (
            r#"(name: "Ωé", partz: {})"#,
            "1:14: partz: there is no field `partz` here",
            "did you mean `parts`? Accepted here: `name`, `parts`, `wires`, `limit`, `count`, `fitted`, `letter`, `pair`, `cavities`, `ohms`, `loose` and `type`",
        ),
        (
            r#"(name: "a", parts: {"K": (coil_ohms: 1)})"#,
            r#"1:26: parts."K": expected a name, found `( … )`"#,
            "names stand without quotes",
        ),
    ]);
}

/// Values of the wrong type, length or size.
#[test]
fn wrong_values() {
    told(&[
        (
            r#"(name: "a", parts: {"K": Relay(coil_ohms: "x", pins: [])})"#,
            r#"1:43: parts."K".coil_ohms: expected a number, found the text "x""#,
            "write a number such as `12` or `0.5`",
        ),
        (
            r#"(name: "a", parts: {"K": Relay(coil_ohms: 3, pins: [1,"2"])})"#,
            r#"1:55: parts."K".pins[1]: expected a whole number, found the text "2""#,
            "write a number such as `12`",
        ),
        (
            "(name: 5, parts: {})",
            "1:8: name: expected text, found the number 5",
            "write it in double quotes",
        ),
        (
            r#"(name: "a", parts: [])"#,
            "1:20: parts: expected a map, found a list `[ … ]`",
            "write `{ key: value, … }`",
        ),
        (
            r#"(name: "a", parts: {}, count: 300)"#,
            "1:31: count: `300` is out of range for a whole number here",
            "give a smaller whole number; where a minus sign is refused, give 0 or more",
        ),
        (
            r#"(name: "a", parts: {}, count: -1)"#,
            "1:31: count: `-1` is out of range for a whole number here",
            "give a smaller whole number; where a minus sign is refused, give 0 or more",
        ),
        (
            r#"(name: "a", parts: {}, count: 1.5)"#,
            "1:31: count: `1.5` is not a whole number",
            "give a whole number, without a decimal point",
        ),
        (
            r#"(name: "a", parts: {}, count: "x")"#,
            r#"1:31: count: expected a whole number, found the text "x""#,
            "write a number such as `12`",
        ),
        (
            r#"(name: "a", parts: {}, fitted: yes)"#,
            "1:32: fitted: expected `true` or `false`, found the word `yes`",
            "write one of the two, without quotes",
        ),
        (
            r#"(name: "a", parts: {}, limit: 3.0)"#,
            "1:31: limit: expected an optional value, found the number 3.0",
            "write `Some(3.0)`, or `None`",
        ),
        (
            r#"(name: "a", parts: {}, limit: Some("x"))"#,
            r#"1:36: limit: expected a number, found the text "x""#,
            "write a number such as `12` or `0.5`",
        ),
        (
            r#"(name: "a", parts: {}, letter: Some("x"))"#,
            r#"1:37: letter: expected one character, found the text "x""#,
            "write it in single quotes",
        ),
        (
            r#"(name: "a", parts: {}, pair: (1.0))"#,
            "1:31: pair: there is 1 value here",
            "give a tuple of size 2",
        ),
        (
            r#"(name: "a", parts: {}, pair: (1.0,2.0,3.0))"#,
            "1:39: pair[2]: expected `)`, found the number 3.0",
            "there are more values here than are accepted",
        ),
        (
            r#"(name: "a", parts: {}, pair: (1.0,  "x"))"#,
            r#"1:37: pair[1]: expected a number, found the text "x""#,
            "write a number such as `12` or `0.5`",
        ),
        (
            r#"(name: "a", parts: {}, cavities: {"x": Left})"#,
            r#"1:35: cavities."x": expected a whole number, found the text "x""#,
            "write a number such as `12`",
        ),
        (
            r#"(name: "a", parts: {"F": Fuse("x")})"#,
            r#"1:31: parts."F": expected a number, found the text "x""#,
            "write a number such as `12` or `0.5`",
        ),
        (
            r#"(name: "a", parts: {"F": Fuse()})"#,
            r#"1:31: parts."F": expected a number, found `)`"#,
            "write a number such as `12` or `0.5`",
        ),
        (
            r#"(name: "a", parts: {"F": Pair(1)})"#,
            r#"1:31: parts."F": there is 1 value here"#,
            "give tuple variant Part::Pair with 2 elements",
        ),
        (
            r#"(name: "a", parts: {"F": Pair(1,2,3)})"#,
            r#"1:35: parts."F"[2]: expected `)`, found the number 3"#,
            "there are more values here than are accepted",
        ),
        (
            r#"(name: "a", parts: {}, ohms: Some(-5.0 ))"#,
            "1:35: ohms: a resistance is more than zero",
            "",
        ),
        (
            r#"(name: "a", parts: {}, loose: Some((z: 1)), count: 1)"#,
            "1:36: loose: data did not match any variant of untagged enum Loose",
            "",
        ),
        (
            r#"{name: "a", parts: {}}"#,
            "1:1: expected a group of fields, found a map `{ … }`",
            "write `( name: value, … )`",
        ),
        (
            "(name: , parts: {})",
            "1:8: name: expected text, found nothing",
            "write it in double quotes",
        ),
        (
            r#"(name: "a", parts: {}, wires: [(from: "a", mm2: 0,5)])"#,
            "1:49: wires[0].mm2: `0,5` is not a number",
            "write a decimal point: `0.5`",
        ),
        (
            r#"(name: "a", parts: {}, count: 0b12)"#,
            "1:31: count: `0b12` has the digit `2`, which base 2 does not have",
            "write the number in plain decimal digits",
        ),
        (
            r#"(name: "a", parts: {}, count: _1)"#,
            "1:31: count: `_1` has an underscore where a number cannot have one",
            "write the number in plain digits",
        ),
        (
            "(name: 'a', parts: {})",
            "1:8: name: expected text, found the character 'a'",
            "write it in double quotes",
        ),
        (
            r#"(name: "a", parts: {"K": Relay(coil_ohms: 1, pins: [1, 2.5])})"#,
            r#"1:56: parts."K".pins[1]: `2.5` is not a whole number"#,
            "give a whole number, without a decimal point",
        ),
    ]);
}

/// Types that serde first reads in one piece and then takes apart: the RON
/// reader is past the value by the time of the error.
#[test]
fn values_read_in_one_piece() {
    #[derive(Debug, serde::Deserialize)]
    #[serde(tag = "kind", deny_unknown_fields)]
    #[allow(dead_code, reason = "read for the error only")]
    enum Tagged {
        Lamp { watts: f64 },
    }
    let cases = [
        (
            r#"[(kind: "Lamp", watts: 5.0), (kind: "Lamp", wats: 5.0)]"#,
            "1:45: [1].wats: there is no field `wats` here",
        ),
        (
            r#"[(kind: "Lamp", watts: 5.0), (kind: "Lamp" )]"#,
            "1:30: [1].watts: the field `watts` is missing",
        ),
        (
            r#"[(kind: "Lamp", watts: 5.0), (kind: "Lump", watts: 5.0)]"#,
            "1:37: [1].kind: `Lump` is not one of the accepted names",
        ),
        (
            r#"[(kind: "Lamp", watts: 5.0), (kind: "Lamp", watts: "x")]"#,
            r#"1:30: [1]: the string "x" is not accepted"#,
        ),
        (
            r#"[(kind: "Lamp", watts: 5.0), (watts: 1.0)]"#,
            "1:30: [1].kind: the field `kind` is missing",
        ),
    ];
    for (text, expected) in cases {
        let problem = parse::<Vec<Tagged>>("x.ron", text).expect_err(text);
        let told = problem.to_string();
        assert_eq!(
            told.lines().next(),
            Some(format!("x.ron:{expected}").as_str())
        );
    }
}
