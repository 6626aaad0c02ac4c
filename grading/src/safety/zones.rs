//! Where a hand goes in an action, and what makes it safe.
//!
//! Knows places, controls and protection; nothing of circuits.

use std::collections::BTreeSet;

use tracebay_core::session::{Action, PointInfo, View};
use tracebay_core::vehicle::{Gearbox, Role, Vehicle, split_pin};

use super::Guard;

/// Places a hand, or something held in it, goes to.
pub(super) fn hand_at<'a>(
    action: &'a Action,
    vehicle: &'a Vehicle,
    points: &'a [PointInfo],
    before: &'a View,
) -> BTreeSet<&'a str> {
    let part = |id: &str| vehicle.parts.get(id).map(|p| p.place.as_str());
    let plug = |id: &str| vehicle.connectors.get(id).map(|c| c.place.as_str());
    let point = |id: &str| points.iter().find(|p| p.id == id).map(|p| p.place.as_str());
    let one: Option<&str> = match action {
        Action::Feel(place) | Action::Wiggle(place) | Action::Thermometer(place) => Some(place),
        Action::Unplug(id) | Action::Plug(id) => plug(id),
        Action::Pull(id) | Action::Fit { part: id, .. } | Action::Sweep { socket: id, .. } => {
            part(id)
        }
        Action::Breakout(id) => id.as_deref().or(before.breakout.as_deref()).and_then(part),
        Action::Put { point: id, .. } | Action::Touch { point: id, .. } => point(id),
        Action::Lift { tool, lead } => before
            .leads
            .get(tool)
            .and_then(|l| l.get(lead))
            .and_then(|id| point(id)),
        Action::Uncover(cover) | Action::Cover(cover) => vehicle
            .places
            .iter()
            .find(|(_, p)| p.cover.as_ref() == Some(cover))
            .map(|(id, _)| id.as_str()),
        Action::Repair { target, .. } => return repair_at(target, vehicle),
        _ => None,
    };
    one.into_iter().collect()
}

/// Places a repair must be made at. A wire can be mended at either end, so it is only where both
/// ends are.
fn repair_at<'a>(target: &str, vehicle: &'a Vehicle) -> BTreeSet<&'a str> {
    let pin_place = |pin: &str| {
        vehicle
            .connectors
            .values()
            .find(|c| c.pins.iter().any(|p| p == pin))
            .map(|c| c.place.as_str())
            .or_else(|| {
                let (part, _) = split_pin(pin)?;
                vehicle.parts.get(part).map(|p| p.place.as_str())
            })
    };
    if let Some(part) = vehicle.parts.get(target) {
        return BTreeSet::from([part.place.as_str()]);
    }
    if let Some(connector) = vehicle.connectors.get(target) {
        return BTreeSet::from([connector.place.as_str()]);
    }
    if let Some(wire) = vehicle.wires.get(target) {
        let (from, to) = (pin_place(&wire.from), pin_place(&wire.to));
        return if from == to {
            from.into_iter().collect()
        } else {
            BTreeSet::new()
        };
    }
    pin_place(target).into_iter().collect()
}

/// The place a bare hand closes around: what burns it. Probes keep their distance.
pub(super) fn bare_hand_at<'a>(action: &'a Action, vehicle: &'a Vehicle) -> Option<&'a str> {
    match action {
        Action::Feel(place) | Action::Wiggle(place) => Some(place),
        Action::Unplug(id) | Action::Plug(id) => {
            vehicle.connectors.get(id).map(|c| c.place.as_str())
        }
        _ => None,
    }
}

/// Whether all guards hold. No guard at all guards nothing.
pub(super) fn guarded(guards: &[Guard], vehicle: &Vehicle, view: &View) -> bool {
    !guards.is_empty() && guards.iter().all(|g| holds(*g, vehicle, view))
}

fn holds(guard: Guard, vehicle: &Vehicle, view: &View) -> bool {
    let all = |role: Role, good: &[&str]| {
        vehicle
            .controls
            .iter()
            .filter(|(_, c)| c.role == role)
            .all(|(id, _)| {
                view.controls
                    .get(id)
                    .is_some_and(|p| good.contains(&p.as_str()))
            })
    };
    match guard {
        Guard::Protected => view.protected,
        Guard::ParkOrNeutral => match vehicle.gearbox {
            Gearbox::Automatic => all(Role::Gear, &["park", "neutral"]),
            Gearbox::Manual => all(Role::Gear, &["neutral"]),
        },
        Guard::ParkBrake => all(Role::ParkBrake, &["on"]),
        Guard::ExhaustHose => all(Role::ExhaustHose, &["on"]),
        Guard::KeyOff => all(Role::Key, &["off"]),
    }
}
