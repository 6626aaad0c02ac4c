//! The chained hash that ties each line to everything before it.

use sha2::{Digest, Sha256};

use super::Header;
use super::format::json;
use crate::scenario::Scenario;
use crate::session::{Action, Observation};
use crate::vehicle::{Arrangement, Side, Vehicle};

/// Running hash over header, actions and what they showed.
///
/// It finds edits, swaps and drift. It is no signature: whoever can run the program can make a
/// consistent file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chain(String);

impl Chain {
    /// The chain before the first action.
    pub fn start(header: &Header) -> Chain {
        Chain(short_hash(&[&json(header)]))
    }

    /// Takes one action and what it showed in and returns the new value, 32 hex digits.
    pub fn advance(&mut self, action: &Action, observations: &[Observation]) -> &str {
        self.0 = short_hash(&[&self.0, &json(action), &json(observations)]);
        &self.0
    }

    /// The present value.
    pub fn value(&self) -> &str {
        &self.0
    }
}

/// Hash of what decides a case beside the seed: the scenario and the vehicle as they were
/// understood, so that comments and spacing in the files do not count, nor the bay's picture.
pub fn content_sha256(scenario: &Scenario, vehicle: &Vehicle) -> String {
    let mut plain = vehicle.clone();
    plain.bay.clear();
    plain.arrangement = Arrangement::default();
    for fuse_box in plain.boxes.values_mut() {
        fuse_box.side = Side::default();
    }
    hex(&digest(&[&json(scenario), &json(&plain)]))
}

fn short_hash(parts: &[&str]) -> String {
    // 128 bits: ample against chance and hand editing, and a line stays readable.
    hex(&digest(parts)[..16])
}

fn digest(parts: &[&str]) -> [u8; 32] {
    let mut hasher = Sha256::new();
    for part in parts {
        hasher.update(part.as_bytes());
        // A newline never stands inside compact JSON, so parts cannot run into each other.
        hasher.update(b"\n");
    }
    hasher.finalize().into()
}

fn hex(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let mut text = String::with_capacity(bytes.len() * 2);
    for byte in bytes {
        text.push(char::from(DIGITS[usize::from(byte >> 4)]));
        text.push(char::from(DIGITS[usize::from(byte & 15)]));
    }
    text
}
