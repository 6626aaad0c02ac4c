//! Tools that carry current between two points of the car, and which nets they join.
//!
//! Knows leads, points and nets; nothing of severities or sentences.

use tracebay_core::session::{Action, PointInfo, PointKind, View};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Vehicle;

use super::wiring::{Nets, Walk, Wiring};
use super::{Link, Net};

/// What is needed to tell where a tool is.
pub(super) struct Bench<'a> {
    pub vehicle: &'a Vehicle,
    pub points: &'a [PointInfo],
    pub wiring: &'a Wiring,
}

/// The tools on the car around one action.
pub(super) struct Hookups<'a> {
    vehicle: &'a Vehicle,
    wiring: &'a Wiring,
    was: Vec<Hookup<'a>>,
    is: Vec<Hookup<'a>>,
}

/// A tool that carries current, with both leads on, in a state of the car.
struct Hookup<'a> {
    link: Link,
    ends: (String, String),
    car: View,
    as_is: Nets<'a>,
    closed: Nets<'a>,
}

impl<'a> Bench<'a> {
    /// The tools on the car before an action, and during and after it.
    pub fn hookups(&self, before: &View, action: &Action, after: &View) -> Hookups<'a> {
        Hookups {
            vehicle: self.vehicle,
            wiring: self.wiring,
            was: self.left_on(before),
            is: self.during_and_after(before, action, after),
        }
    }

    /// Tools with both leads on: touched in this action, or left so by it.
    fn during_and_after(&self, before: &View, action: &Action, after: &View) -> Vec<Hookup<'a>> {
        let mut all = Vec::new();
        let mut touch = |tool: ToolKind, point: &str| {
            if let Some((held, free)) = held(tool, before) {
                let ends = if tool.leads().first() == Some(&free) {
                    (point.to_owned(), held)
                } else {
                    (held, point.to_owned())
                };
                all.extend(self.hookup(tool, ends, before));
            }
        };
        match action {
            Action::Touch { tool, point } => touch(*tool, point),
            Action::Sweep { tool, socket } => self
                .points
                .iter()
                .filter(|p| p.part == *socket && p.kind == PointKind::Cavity)
                .for_each(|cavity| touch(*tool, &cavity.id)),
            Action::Set { control, to } => {
                // The starter position springs back, but it was there.
                let mut during = after.clone();
                during.controls.insert(control.clone(), to.clone());
                all.extend(self.left_on(&during));
            }
            _ => {}
        }
        all.extend(self.left_on(after));
        all
    }

    /// Tools that are on the car with both leads.
    fn left_on(&self, car: &View) -> Vec<Hookup<'a>> {
        car.leads
            .keys()
            .filter_map(|tool| self.hookup(*tool, both_ends(*tool, car)?, car))
            .collect()
    }

    fn hookup(&self, tool: ToolKind, ends: (String, String), car: &View) -> Option<Hookup<'a>> {
        let nets = |walk| self.wiring.nets(self.vehicle, car, walk);
        Some(Hookup {
            link: link(tool, car)?,
            ends,
            as_is: nets(Walk::AsIs),
            closed: nets(Walk::SwitchesClosed),
            car: car.clone(),
        })
    }
}

impl Hookups<'_> {
    /// Whether a bridge is there that was not there before the action.
    pub fn bridges(
        &self,
        links: &[Link],
        between: (Net, Net),
        matters: impl Fn(&View) -> bool,
    ) -> bool {
        let there =
            |h: &Hookup<'_>| links.contains(&h.link) && matters(&h.car) && self.joins(h, between);
        self.is.iter().any(|h| {
            there(h)
                && !self
                    .was
                    .iter()
                    .any(|w| w.link == h.link && w.ends == h.ends && there(w))
        })
    }

    /// Whether the two ends lie on the two kinds of net, either way round.
    fn joins(&self, h: &Hookup<'_>, between: (Net, Net)) -> bool {
        let (Some(a), Some(b)) = (h.as_is.at(&h.ends.0), h.as_is.at(&h.ends.1)) else {
            return false;
        };
        let is = |kind: Net, point: &str, net: usize| {
            if let Net::LiveWithoutFuse(amps) = kind {
                let bare = self
                    .wiring
                    .nets_with(self.vehicle, &h.car, Walk::AsIs, amps);
                return bare
                    .at(point)
                    .is_some_and(|n| bare.of_kind(Net::Live, &h.closed, &h.car).contains(&n));
            }
            h.as_is.of_kind(kind, &h.closed, &h.car).contains(&net)
        };
        let (one, other) = between;
        a != b
            && ((is(one, &h.ends.0, a) && is(other, &h.ends.1, b))
                || (is(one, &h.ends.1, b) && is(other, &h.ends.0, a)))
    }
}

/// The point a tool's resting lead is at, and the lead that moves.
fn held(tool: ToolKind, before: &View) -> Option<(String, Lead)> {
    let [first, second] = tool.leads() else {
        return None;
    };
    let leads = before.leads.get(&tool)?;
    match (leads.get(first), leads.get(second)) {
        (Some(point), _) => Some((point.clone(), *second)),
        (None, Some(point)) => Some((point.clone(), *first)),
        (None, None) => None,
    }
}

/// The points of a tool that has both leads on, first lead first.
fn both_ends(tool: ToolKind, view: &View) -> Option<(String, String)> {
    let [first, second] = tool.leads() else {
        return None;
    };
    let leads = view.leads.get(&tool)?;
    Some((leads.get(first)?.clone(), leads.get(second)?.clone()))
}

/// What a tool is as a path for current; none where it hardly carries any.
fn link(tool: ToolKind, view: &View) -> Option<Link> {
    match tool {
        _ if view.blown_tools.contains(&tool) => None,
        ToolKind::FusedJumper => Some(Link::FusedJumper),
        ToolKind::PlainJumper => Some(Link::PlainJumper),
        ToolKind::TestLight => Some(Link::TestLight),
        ToolKind::Meter if view.dial == Dial::Amps => Some(Link::MeterAmps),
        _ => None,
    }
}
