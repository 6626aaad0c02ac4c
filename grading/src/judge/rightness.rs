//! How right a call is for a candidate fault, and what puts the fault right.
//!
//! Knows the vehicle's wiring and the faults; nothing of sessions, beliefs or points.

use tracebay_core::fault::{Failure, Fault, Method, Wrong};
use tracebay_core::scenario::Candidate;
use tracebay_core::vehicle::{Vehicle, split_pin};

/// Failures that a work order may name either way for a wire and its ends.
fn same_family(a: Failure, b: Failure) -> bool {
    let open = |f| {
        matches!(
            f,
            Failure::Open | Failure::BadTerminal | Failure::HighResistance
        )
    };
    a == b || (open(a) && open(b))
}

/// How right a call is for a candidate: 1 for place and failure, 0.5 for the place alone, 0 else.
///
/// The smallest repairable segment counts: a wire and the terminals at its ends, a connector and
/// its terminals, a fuse or relay and its socket's terminals are near enough to each other where
/// the failure is an open or bad contact. Where a fuse was blown by another fault, the fuse alone is
/// half of the answer.
pub fn rightness(vehicle: &Vehicle, candidate: &Candidate, target: &str, failure: Failure) -> f64 {
    if candidate
        .also
        .iter()
        .any(|(t, f)| t == target && *f == failure)
    {
        return 1.0;
    }
    // A fuse that something else blew is where the current stopped, not why.
    let effect = |fault: &Fault| {
        fault.what == Wrong::Blown && candidate.faults.iter().any(|f| f.what != Wrong::Blown)
    };
    candidate
        .faults
        .iter()
        .map(|fault| {
            let right = fault_rightness(vehicle, fault, target, failure);
            if effect(fault) { 0.5 * right } else { right }
        })
        .fold(0.0, f64::max)
}

fn fault_rightness(vehicle: &Vehicle, fault: &Fault, target: &str, failure: Failure) -> f64 {
    let said = fault.what.failure();
    if fault.at == target {
        return if failure == said || same_family(failure, said) {
            1.0
        } else {
            0.5
        };
    }
    // Water in a plug or socket is in all of it: its other end, the plug, the part in the socket.
    if let Wrong::LeakTo(to, _) = &fault.what
        && failure == said
        && (to == target || wet_together(vehicle, &fault.at, target))
    {
        return 1.0;
    }
    if neighbours(vehicle, &fault.at, target) && same_family(failure, said) {
        return 1.0;
    }
    0.0
}

/// Whether water at a terminal is water in what was named: the plug that holds it, another terminal of it,
/// the part whose socket it is, another terminal of that socket.
fn wet_together(vehicle: &Vehicle, at: &str, target: &str) -> bool {
    let holder = |pin: &str| {
        let plug = vehicle
            .connectors
            .iter()
            .find(|(_, c)| c.pins.iter().any(|p| p == pin));
        let part = || split_pin(pin).map(|(part, _)| part.to_owned());
        plug.map(|(id, _)| id.clone()).or_else(part)
    };
    let Some(held) = holder(at) else { return false };
    let in_plug = vehicle.connectors.contains_key(&held);
    target == held
        || holder(target).is_some_and(|h| h == held)
        || (!in_plug && split_pin(at).is_some_and(|(part, _)| part == target))
}

/// Two names for the same repairable segment.
fn neighbours(vehicle: &Vehicle, a: &str, b: &str) -> bool {
    let wire_end = |wire: &str, pin: &str| {
        vehicle
            .wires
            .get(wire)
            .is_some_and(|w| w.from == pin || w.to == pin)
    };
    let holds = |connector: &str, pin: &str| {
        vehicle
            .connectors
            .get(connector)
            .is_some_and(|c| c.pins.iter().any(|p| p == pin))
    };
    let ground = |part: &str, pin: &str| {
        split_pin(pin).is_some_and(|(p, _)| p == part)
            && vehicle.parts.get(part).is_some_and(|p| {
                matches!(
                    p.kind,
                    tracebay_core::vehicle::Kind::GroundStud { .. }
                        | tracebay_core::vehicle::Kind::Inline { .. }
                )
            })
    };
    [(a, b), (b, a)]
        .into_iter()
        .any(|(x, y)| wire_end(x, y) || holds(x, y) || ground(x, y))
}

/// The method that would put a candidate's fault right, for hints and the debrief.
pub fn method_for(vehicle: &Vehicle, fault: &Fault) -> Method {
    use tracebay_core::fault::Wrong::*;
    match &fault.what {
        NotSeated => Method::Reseat,
        PushedBack | Spread(_) | CrossedWith(_) => Method::MendTerminal,
        LeakTo(..) => Method::CleanJoint,
        Charge(_) => Method::Recharge,
        CondenserBlocked(_) => Method::CleanCondenser,
        Misuse(_) | AsDesigned => Method::Explain,
        Open | Resistance(_) | ShortToGround(_) | ShortToSupply(_) => {
            if split_pin(&fault.at).is_some() {
                Method::MendTerminal
            } else if vehicle.wires.contains_key(&fault.at) {
                Method::MendWire
            } else {
                Method::Replace
            }
        }
        _ => Method::Replace,
    }
}
