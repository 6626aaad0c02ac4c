//! Hints, from what the learner's own actions have left possible.
//!
//! Never looks at the hidden fault: a hint is what anybody who had seen the same would be told.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use tracebay_core::scenario::Case;
use tracebay_core::session::Action;
use tracebay_core::vehicle::{Kind, Vehicle, split_pin};

use crate::judge::{JudgeError, Standing, standing};
use crate::survey::{Probe, Survey};

/// A section of the circuit around the scenario's relay.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Section {
    /// The relay itself.
    Relay,
    /// What hangs on one of its terminals.
    Terminal(String),
    /// Everything else: what gives permission, air, refrigerant.
    Beyond,
}

/// A family of tests.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Family {
    /// With the test light.
    Light,
    /// With the fused jumper.
    Jumper,
    /// With the meter.
    Meter,
    /// With eye, ear and hand.
    Senses,
    /// Taking something out or off and looking at it.
    Inspect,
    /// A known-good spare.
    Swap,
    /// The gauge.
    Gauge,
}

/// What a hint says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hint {
    /// What was seen leaves one repair, or nothing that a test could tell apart.
    NothingLeft,
    /// Level 1: the section that carries most of what is still possible.
    Where {
        /// The section.
        section: Section,
        /// Its probability.
        share: f64,
    },
    /// Level 2: what to reach for, and in which state of the car.
    Half {
        /// Family of the best next test.
        family: Family,
        /// Index of its car state.
        state: usize,
    },
    /// Level 3: the best next test.
    Test {
        /// The test.
        probe: Probe,
        /// Index of its car state.
        state: usize,
    },
}

/// A hint of a level from 1 to 3 after these actions.
///
/// # Errors
/// An action that the session refuses, or a scenario that cannot be planned.
pub fn hint(
    case: &Case,
    survey: &Survey,
    actions: &[Action],
    level: u8,
) -> Result<Hint, JudgeError> {
    let Standing { posterior, best } = standing(case, survey, actions)?;
    let Some((probe, state)) = best else {
        return Ok(Hint::NothingLeft);
    };
    Ok(match level {
        1 => {
            let (section, share) = likeliest_section(case, &posterior);
            Hint::Where { section, share }
        }
        2 => Hint::Half {
            family: family(&probe),
            state,
        },
        _ => Hint::Test { probe, state },
    })
}

fn family(probe: &Probe) -> Family {
    match probe {
        Probe::Light { .. } | Probe::Sweep { .. } => Family::Light,
        Probe::Bridge { .. } => Family::Jumper,
        Probe::Volts { .. } | Probe::Ohms { .. } => Family::Meter,
        Probe::Look { .. } | Probe::Feel { .. } | Probe::Press { .. } => Family::Senses,
        Probe::Inspect { .. } => Family::Inspect,
        Probe::Swap { .. } => Family::Swap,
        Probe::Gauge => Family::Gauge,
    }
}

fn likeliest_section(case: &Case, posterior: &[f64]) -> (Section, f64) {
    let sections = sections(&case.vehicle, case.scenario.socket.as_deref());
    let mut shares: BTreeMap<Section, f64> = BTreeMap::new();
    for (candidate, probability) in case.scenario.candidates.iter().zip(posterior) {
        let at = candidate.faults.first().map_or("", |f| f.at.as_str());
        let section = sections.get(at).cloned().unwrap_or(Section::Beyond);
        *shares.entry(section).or_insert(0.0) += probability;
    }
    let mut best = (Section::Beyond, 0.0);
    for (section, share) in shares {
        if share > best.1 {
            best = (section, share);
        }
    }
    best
}

/// Which section each pin, wire, part and plug is in: the terminal of the relay from which it is
/// reached first by wire, without going through a source, a ground or a control unit.
fn sections(vehicle: &Vehicle, relay: Option<&str>) -> BTreeMap<String, Section> {
    let mut found: BTreeMap<String, Section> = BTreeMap::new();
    let Some(relay) = relay else { return found };
    found.insert(relay.to_owned(), Section::Relay);
    let mut pins: BTreeSet<String> = BTreeSet::new();
    for wire in vehicle.wires.values() {
        pins.extend([wire.from.clone(), wire.to.clone()]);
    }
    let of_part = |part: &str| {
        pins.iter()
            .filter(|pin| split_pin(pin).is_some_and(|(p, _)| p == part))
            .cloned()
            .collect::<Vec<_>>()
    };
    // One step outwards at a time from all terminals, so that the nearest terminal wins.
    let mut edge: Vec<(String, Section)> = of_part(relay)
        .into_iter()
        .filter_map(|pin| {
            let (_, terminal) = split_pin(&pin)?;
            let section = Section::Terminal(terminal.to_owned());
            Some((pin, section))
        })
        .collect();
    while !edge.is_empty() {
        let mut next = Vec::new();
        for (pin, section) in edge {
            if found.contains_key(&pin) {
                continue;
            }
            found.insert(pin.clone(), section.clone());
            for (id, wire) in &vehicle.wires {
                for (one, other) in [(&wire.from, &wire.to), (&wire.to, &wire.from)] {
                    if *one == pin {
                        found.entry(id.clone()).or_insert_with(|| section.clone());
                        next.push((other.clone(), section.clone()));
                    }
                }
            }
            let Some((part, _)) = split_pin(&pin) else {
                continue;
            };
            let through = vehicle.parts.get(part).is_some_and(|p| {
                !matches!(
                    p.kind,
                    Kind::Battery { .. }
                        | Kind::Alternator { .. }
                        | Kind::Relay(_)
                        | Kind::ControlUnit(_)
                        | Kind::GroundStud { .. }
                        | Kind::Splice { .. }
                )
            });
            if through {
                found
                    .entry(part.to_owned())
                    .or_insert_with(|| section.clone());
                let others = of_part(part)
                    .into_iter()
                    .filter(|other| !inline(vehicle, part) || cavity(other) == cavity(&pin));
                next.extend(others.map(|other| (other, section.clone())));
            }
        }
        edge = next;
    }
    for (id, connector) in &vehicle.connectors {
        let section = connector
            .pins
            .iter()
            .find_map(|pin| found.get(pin))
            .cloned();
        if let Some(section) = section {
            found.insert(id.clone(), section);
        }
    }
    found
}

/// A connector between harnesses carries many circuits, each in a cavity of its own.
fn inline(vehicle: &Vehicle, part: &str) -> bool {
    let kind = vehicle.parts.get(part).map(|p| &p.kind);
    matches!(kind, Some(Kind::Inline { .. }))
}

/// The cavity of an inline connector's pin, without its side.
fn cavity(pin: &str) -> &str {
    pin.trim_end_matches(['a', 'b'])
}
