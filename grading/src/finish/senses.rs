//! Ways in which a learner meets a complaint: feeling the air, seeing the clutch, hearing the load.
//!
//! Knows what actions showed; nothing of order or points.

use tracebay_core::scenario::{Case, Shows};
use tracebay_core::session::{Action, Finding, Observation, Session, Sound, Touch};
use tracebay_core::vehicle::{Acts, Kind};

/// A way of meeting the complaint.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sense {
    /// Air felt, and there is some.
    AirFelt,
    /// Air felt, and there is hardly any: that is the complaint already.
    AirMissing,
    /// Air measured with the thermometer.
    AirMeasured,
    /// Clutch seen or heard to engage or not.
    Clutch,
    /// The load in question looked at, listened at or felt, or heard from where one sits.
    Load,
    /// The engine cranked and started, or did not.
    Started,
}

/// Ways in which this action met the complaint.
pub(super) fn senses(
    case: &Case,
    after: &Session,
    action: &Action,
    seen: &[Observation],
) -> Vec<Sense> {
    let place_of = |part: &str| {
        case.vehicle
            .parts
            .get(part)
            .map_or("", |p| p.place.as_str())
    };
    match &case.scenario.symptom.shows {
        Shows::NoColdAir { .. } => {
            let clutch = case
                .vehicle
                .air_conditioning
                .as_ref()
                .map_or("", |a| place_of(&a.clutch));
            seen.iter()
                .filter_map(|o| air_sense(after, o, clutch))
                .collect()
        }
        Shows::NoStart => {
            // Cranking is heard from the seat; nothing more is needed to meet it.
            let tried = matches!(action, Action::Set { to, .. } if to == "start");
            tried.then_some(Sense::Started).into_iter().collect()
        }
        Shows::Weak { part, .. } | Shows::Unwanted { part } => {
            let place = place_of(part);
            let lamp = case
                .vehicle
                .parts
                .get(part)
                .is_some_and(|p| matches!(p.kind, Kind::Lamp { .. }));
            let turned_to = match action {
                // A lamp is met by seeing that one, lit or not; it makes no sound.
                _ if lamp => seen.iter().any(|o| sees_lamp(o, part, place)),
                Action::Look(at) | Action::Listen(at) | Action::Feel(at) => {
                    at == place && !matches!(seen.first(), Some(Observation::TooDark { .. }))
                }
                _ => false,
            };
            (turned_to || loud(case, part))
                .then_some(Sense::Load)
                .into_iter()
                .collect()
        }
    }
}

/// Whether this tells if a lamp is lit: it by name, or the only one at its place.
pub(super) fn sees_lamp(observation: &Observation, part: &str, place: &str) -> bool {
    matches!(
        observation,
        Observation::Seen { place: at, finding: Finding::Lit | Finding::Dull | Finding::Unlit, lamp }
            if at == place && lamp.as_deref().is_none_or(|l| l == part)
    )
}

/// Heard from where one stands, whether it sounds or stays silent.
fn loud(case: &Case, part: &str) -> bool {
    case.vehicle.parts.get(part).is_some_and(|p| {
        matches!(
            p.kind,
            Kind::Resistor {
                acts: Acts::Horn,
                ..
            }
        )
    })
}

/// What an observation says about the air or the clutch.
fn air_sense(after: &Session, observation: &Observation, clutch: &str) -> Option<Sense> {
    match observation {
        Observation::Felt { touch, .. } => match touch {
            Touch::WarmAir | Touch::CoolAir | Touch::ColdAir => Some(Sense::AirFelt),
            Touch::NoAir | Touch::WeakAir => Some(Sense::AirMissing),
            _ => None,
        },
        Observation::Temperature { place, .. } => {
            air_comes_out_at(after, place).then_some(Sense::AirMeasured)
        }
        Observation::Seen {
            place,
            finding: Finding::PlateStill | Finding::PlateTurns,
            ..
        } if place == clutch => Some(Sense::Clutch),
        Observation::Heard {
            sound: Sound::ClutchIn | Sound::ClutchOut,
            ..
        } => Some(Sense::Clutch),
        _ => None,
    }
}

/// Whether a hand at a place would feel air or the lack of it, tried on a copy.
fn air_comes_out_at(session: &Session, place: &str) -> bool {
    let mut copy = session.clone();
    copy.perform(&Action::Feel(place.to_owned()))
        .is_ok_and(|seen| {
            seen.iter().any(|o| {
                matches!(
                    o,
                    Observation::Felt {
                        touch: Touch::NoAir
                            | Touch::WeakAir
                            | Touch::WarmAir
                            | Touch::CoolAir
                            | Touch::ColdAir,
                        ..
                    }
                )
            })
        })
}
