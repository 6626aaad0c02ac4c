//! What each net of the car is for: an output, a sensor's line, the starter's or the clutch's feed.
//!
//! Found from the kinds of part at its ends, never from names.

use std::collections::BTreeSet;

use tracebay_core::session::View;
use tracebay_core::vehicle::unit_file::{Bias, ControlUnit, Rule as UnitRule, Side};
use tracebay_core::vehicle::{Drives, Kind};

use super::Net;
use super::wiring::Nets;

impl Nets<'_> {
    /// All nets of a kind. `returns` are the nets of the same car with every switch closed.
    pub fn of_kind(&self, kind: Net, returns: &Nets<'_>, view: &View) -> BTreeSet<usize> {
        match kind {
            Net::Live | Net::LiveWithoutFuse(_) => self.live.clone(),
            Net::Ground => self.grounded.clone(),
            Net::LowOutput => self.outputs(Side::Low),
            Net::HighOutput => self.outputs(Side::High),
            Net::SensorLine => self.sensor_lines(),
            Net::StarterFeed => self.starter_feeds(returns, view),
            Net::ClutchFeed => self.feeds(returns, |k| matches!(k, Kind::ClutchCoil { .. })),
            Net::Any => self.all(),
        }
    }

    fn outputs(&self, side: Side) -> BTreeSet<usize> {
        self.units()
            .flat_map(|(id, unit)| {
                unit.outputs
                    .values()
                    .filter(|o| o.side == side)
                    .filter_map(|o| self.inner(id, &o.pin))
                    .collect::<Vec<_>>()
            })
            .collect()
    }

    fn units(&self) -> impl Iterator<Item = (&str, &ControlUnit)> {
        self.vehicle
            .parts
            .iter()
            .filter_map(|(id, p)| match &p.kind {
                Kind::ControlUnit(unit) => Some((id.as_str(), unit.as_ref())),
                _ => None,
            })
    }

    fn sensor_lines(&self) -> BTreeSet<usize> {
        let mut lines = BTreeSet::new();
        for (id, unit) in self.units() {
            let analogue = analogue_inputs(unit);
            let pins = unit
                .reference
                .iter()
                .map(|r| &r.pin)
                .chain(&unit.sensor_ground)
                .chain(
                    unit.inputs
                        .iter()
                        .filter(|(name, input)| {
                            matches!(input.bias, Bias::PullUp5(_))
                                || analogue.contains(&name.as_str())
                        })
                        .map(|(_, input)| &input.pin),
                );
            lines.extend(pins.filter_map(|pin| self.inner(id, pin)));
        }
        for (id, part) in &self.vehicle.parts {
            if matches!(part.kind, Kind::PressureSensor { .. }) {
                lines.extend(part.kind.pins().iter().filter_map(|p| self.inner(id, p)));
            }
        }
        lines
    }

    /// Nets on the feed side of parts of a kind.
    fn feeds(&self, returns: &Nets<'_>, is: impl Fn(&Kind) -> bool) -> BTreeSet<usize> {
        let mut nets = BTreeSet::new();
        for (id, part) in self.vehicle.parts.iter().filter(|(_, p)| is(&p.kind)) {
            for pin in part.kind.pins() {
                if !returns.leads_to_ground(id, &pin)
                    && let Some(net) = self.inner(id, &pin)
                {
                    nets.insert(net);
                }
            }
        }
        nets
    }

    fn leads_to_ground(&self, part: &str, pin: &str) -> bool {
        self.inner(part, pin).is_some_and(|n| self.is_ground(n))
    }

    /// The starter's own feed, and the coils of all relays that switch it, however many follow each
    /// other.
    fn starter_feeds(&self, returns: &Nets<'_>, view: &View) -> BTreeSet<usize> {
        let mut nets = self.feeds(returns, |k| {
            matches!(
                k,
                Kind::Motor {
                    drives: Drives::Starter,
                    ..
                }
            )
        });
        loop {
            let mut more = Vec::new();
            for (id, part) in &self.vehicle.parts {
                let fitted = matches!(part.kind, Kind::Relay(_)) && !view.pulled.contains(id);
                let switches = ["30", "87"]
                    .iter()
                    .filter_map(|pin| self.inner(id, pin))
                    .any(|net| nets.contains(&net) && !self.is_live(net));
                if !fitted || !switches {
                    continue;
                }
                more.extend(
                    ["85", "86"]
                        .iter()
                        .filter(|pin| !returns.leads_to_ground(id, pin))
                        .filter_map(|pin| self.inner(id, pin))
                        .filter(|net| !nets.contains(net) && !self.is_live(*net)),
                );
            }
            if more.is_empty() {
                return nets;
            }
            nets.extend(more);
        }
    }
}

/// Inputs that a unit reads as a measure, not as on and off.
fn analogue_inputs(unit: &ControlUnit) -> Vec<&str> {
    let mut names = Vec::new();
    for rule in &unit.rules {
        match rule {
            UnitRule::Clutch(clutch) => {
                names.extend(clutch.pressure.iter().map(|p| p.input.as_str()));
                let temperatures = [&clutch.evaporator, &clutch.coolant, &clutch.ambient];
                names.extend(temperatures.into_iter().flatten().map(|t| t.input.as_str()));
            }
            UnitRule::Fan { pressure, .. } => {
                names.extend(pressure.iter().map(|p| p.input.as_str()));
            }
            UnitRule::Follow { .. } | UnitRule::FuelPump { .. } | UnitRule::Glow { .. } => {}
        }
    }
    names
}
