//! Probes at the socket beyond lights and volts: the load bridged past the relay, and the ohms of what
//! was pulled and of what the socket leads to.
//!
//! Knows sessions; sorts no outcomes.

use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Session};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Kind;

use super::trial::{attempt, step, suspected};
use super::{Outcome, Probe};

/// Point of a terminal of something in a slot: `.` names the cavity, `:` the blade.
fn point(case: &Case, part: &str, kind: char, terminal: &str) -> Option<String> {
    let order = case.arrangements.get(part)?;
    let place = order.iter().position(|t| t == terminal)?;
    Some(format!("{part}{kind}{}", char::from(b'a' + place as u8)))
}

/// What feeds a relay's contact and what it feeds: the cavities to bridge.
pub(crate) fn load_cavities(case: &Case, socket: &str) -> Option<(String, String)> {
    let of = |terminal| point(case, socket, '.', terminal);
    Some((of("30")?, of("87")?))
}

/// The load bridged past the relay, where its socket is empty.
pub(super) fn bridge(session: &Session, case: &Case, tell: &mut dyn FnMut(Probe, Outcome)) {
    let tools = &case.scenario.tools;
    // A jumper without a fuse does the same until something is shorted: nobody is advised to take it.
    let tool = ToolKind::FusedJumper;
    let Some(socket) = case
        .scenario
        .socket
        .as_ref()
        .filter(|_| tools.contains(&tool))
    else {
        return;
    };
    let Some((feed, load)) = load_cavities(case, socket) else {
        return;
    };
    let put = |lead, point| Action::Put { tool, lead, point };
    if let Some(seen) = attempt(session.clone(), &[put(Lead::A, feed), put(Lead::B, load)]) {
        let socket = socket.clone();
        tell(Probe::Bridge { socket }, Outcome::Seen(seen));
    }
}

/// Ohms that are worth measuring with nothing switched on: across the blades of each suspect that
/// can be pulled, and from each cavity of the socket to ground.
pub(super) fn ohms(
    session: &Session,
    case: &Case,
    cavities: &[String],
    ground: &str,
    tell: &mut dyn FnMut(Probe, Outcome),
) {
    if !case.scenario.tools.contains(&ToolKind::Meter) {
        return;
    }
    let parts = case.vehicle.parts.iter();
    for (id, part) in parts.filter(|(id, _)| suspected(case, id)) {
        let pairs: &[(&str, &str)] = match &part.kind {
            Kind::Relay(relay) if relay.changeover => &[("85", "86"), ("30", "87"), ("30", "87a")],
            Kind::Relay(_) => &[("85", "86"), ("30", "87")],
            _ => continue,
        };
        let mut out = session.clone();
        if step(&mut out, &Action::Pull(id.clone())).is_none() {
            continue;
        }
        for (one, other) in pairs {
            let blade = |terminal| point(case, id, ':', terminal);
            if let (Some(a), Some(b)) = (blade(one), blade(other)) {
                measure(&out, a, b, tell);
            }
        }
    }
    if let Some(socket) = &case.scenario.socket {
        let mut out = session.clone();
        if step(&mut out, &Action::Pull(socket.clone())).is_some() {
            for cavity in cavities {
                measure(&out, cavity.clone(), ground.to_owned(), tell);
            }
        }
    }
}

fn measure(session: &Session, a: String, b: String, tell: &mut dyn FnMut(Probe, Outcome)) {
    let mut s = session.clone();
    if s.try_out(&Action::Dial(Dial::Ohms)).is_err() {
        return;
    }
    let put = Action::Put {
        tool: ToolKind::Meter,
        lead: Lead::Black,
        point: b.clone(),
    };
    if step(&mut s, &put).is_none() {
        return;
    }
    if let Some(seen) = s.would_show(ToolKind::Meter, &a) {
        tell(Probe::Ohms { a, b }, Outcome::Seen(vec![seen]));
    }
}
