//! Whether the readings of a test light can be relied on: a bulb may be dead and a clip may sit on
//! paint, so a dark light says nothing until it has been seen lit with its clip where it is.
//!
//! Knows what was touched and what the eye saw; nothing of circuits.

use std::collections::BTreeMap;

use tracebay_core::session::{Action, Observation, View};
use tracebay_core::tools::{Glow, ToolKind};

use super::wiring::Wiring;

/// What was seen of a light while its clip was at one point.
#[derive(Default)]
struct Period {
    first_dark: Option<usize>,
    lit: bool,
    lit_on_battery: bool,
}

/// The lights of an attempt.
#[derive(Default)]
pub(super) struct Lights {
    periods: BTreeMap<(ToolKind, String), Period>,
}

impl Lights {
    /// Takes in what a step showed.
    pub fn note(
        &mut self,
        step: usize,
        before: &View,
        after: &View,
        action: &Action,
        seen: &[Observation],
        wiring: &Wiring,
    ) {
        if let Action::Renew(tool) = action {
            // Whoever finds the bulb dead begins anew; what it showed before counts for nothing.
            self.periods.retain(|(t, _), _| t != tool);
        }
        for observation in seen {
            let Observation::Light {
                tool, point, glow, ..
            } = observation
            else {
                continue;
            };
            let Some((held, probed)) = ends(*tool, point, before, after, action) else {
                continue;
            };
            let on_battery = wiring.on_battery(&probed);
            let period = self.periods.entry((*tool, held)).or_default();
            if *glow != Glow::Dark {
                period.lit = true;
                period.lit_on_battery |= on_battery;
            } else if !on_battery {
                // Dark on a battery post is a failed proof, and nobody relies on that.
                period.first_dark.get_or_insert(step);
            }
        }
    }

    /// The first dark reading that nothing has proved, if any.
    pub fn unproved(&self, any_lit_proves: bool) -> Option<usize> {
        self.periods
            .values()
            .filter(|p| !(p.lit_on_battery || any_lit_proves && p.lit))
            .filter_map(|p| p.first_dark)
            .min()
    }
}

/// The point the clip (or whichever lead stays) is at, and the point that was probed.
fn ends(
    tool: ToolKind,
    shown_at: &str,
    before: &View,
    after: &View,
    action: &Action,
) -> Option<(String, String)> {
    let [first, second] = tool.leads() else {
        return None;
    };
    let moved = match action {
        Action::Touch { tool: t, .. } | Action::Sweep { tool: t, .. } => *t == tool,
        _ => false,
    };
    let leads = if moved { &before.leads } else { &after.leads }.get(&tool)?;
    let clip = leads.get(first);
    match (moved, action, clip) {
        (true, Action::Touch { point, .. }, None) => {
            Some((leads.get(second)?.clone(), point.clone()))
        }
        (true, _, None) => Some((leads.get(second)?.clone(), shown_at.to_owned())),
        (_, _, clip) => Some((clip?.clone(), shown_at.to_owned())),
    }
}
