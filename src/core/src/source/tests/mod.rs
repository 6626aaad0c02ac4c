//! Tests of reading: sentences, places, and that nothing panics or hangs.

mod locating;
mod refusals;
mod sentences;
mod torture;

use std::collections::BTreeMap;

use serde::Deserialize;

/// A stand-in for the files the project reads: every form RON has.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(
    dead_code,
    reason = "read to see what the reader says, not for its values"
)]
pub(super) struct Sample {
    pub(super) name: String,
    pub(super) parts: BTreeMap<String, Part>,
    #[serde(default)]
    wires: Vec<Wire>,
    #[serde(default)]
    limit: Option<f64>,
    #[serde(default)]
    count: u8,
    #[serde(default)]
    fitted: bool,
    #[serde(default)]
    letter: Option<char>,
    #[serde(default)]
    pair: (f64, f64),
    #[serde(default)]
    cavities: BTreeMap<u8, Side>,
    #[serde(default)]
    ohms: Option<Ohms>,
    #[serde(default)]
    loose: Option<Loose>,
    #[serde(default)]
    r#type: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(dead_code, reason = "see above")]
pub(super) enum Part {
    Relay { coil_ohms: f64, pins: Vec<u32> },
    Fuse(f64),
    Lamp(Lamp),
    Blank,
    Pair(u8, u8),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(dead_code, reason = "see above")]
pub(super) struct Lamp {
    watts: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(dead_code, reason = "see above")]
struct Wire {
    from: String,
    mm2: f64,
}

#[derive(Debug, Deserialize)]
enum Side {
    Left,
    Right,
}

#[derive(Debug, Deserialize)]
#[serde(try_from = "f64")]
#[allow(dead_code, reason = "see above")]
struct Ohms(f64);

impl TryFrom<f64> for Ohms {
    type Error = String;

    fn try_from(value: f64) -> Result<Self, String> {
        if value > 0.0 {
            Ok(Self(value))
        } else {
            Err("a resistance is more than zero".to_owned())
        }
    }
}

#[derive(Debug, Deserialize)]
#[serde(untagged)]
#[allow(dead_code, reason = "see above")]
enum Loose {
    A { x: u8 },
    B { y: u8 },
}

/// A file that reads well and has every form in it.
pub(super) const GOOD: &str = r##"// An invented file.
#![enable(unwrap_newtypes)]
(
    name: "A \"quoted\" name, with ( and \u{3A9}",
    parts: {
        "K3": Relay(coil_ohms: 85.0, pins: [30, 85, 86, 87]), /* a /* nested */ comment ) */
        "F\"1": Fuse(10.0),
        r#"raw "key" {"#: Lamp((watts: 5.0)),
        "B": Blank, "P": Pair(1, 2),
    },
    wires: [(from: "K3", mm2: 0.5), (from: "B", mm2: 1.5)],
    limit: Some(12.5),
    count: 3, fitted: true, letter: Some(')'), pair: (1.0, -2.5e-3),
    cavities: {30: Left, 0x55: Right},
    ohms: Some(4.7), loose: Some((x: 1)),
    r#type: Some(r"plain \ raw"),
)
"##;
