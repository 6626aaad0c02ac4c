//! The operating point of a network whose contacts stand still: Newton's method on Kirchhoff's current law.
//!
//! Every element's current rises with its voltage, so the law's left side is the gradient of a convex
//! function and a step along Newton's direction always leads downhill; where a full step makes things worse,
//! the length is searched for along it, which ends at the one minimum. A factor is kept for further steps as
//! long as they shrink fast (the chord method): a step costs a fraction of a factorisation.

use super::device::{Device, Law, Tangent};
use super::factor::{Factor, Island};
use super::pattern::Pattern;
use super::ports::{PortEnds, Ports};
use super::tables::Tables;

/// What Kirchhoff's current law may miss at a node: a part that does not depend on the currents there ...
pub(super) const LAW_FLOOR_A: f64 = 1e-9;
/// ... and a part that goes with the sum of their sizes.
pub(super) const LAW_SHARE: f64 = 1e-12;
/// Iteration stops well inside the promise.
const GOAL: f64 = 0.25;
/// Error in voltage below which iteration stops: a fraction of what any instrument shows.
const ERROR_V: f64 = 1e-9;
/// A tangent step this short is followed by an error of about its square over a junction's slope voltage.
const TANGENT_STEP_V: f64 = 1e-6;
/// A step that shrinks less than this against the one before asks for a new factor.
const SHRINK: f64 = 0.1;
/// Rounds until giving up. A few are the rule.
const ROUNDS: usize = 200;
const SEARCH_ROUNDS: usize = 60;

/// An element put on from outside, ready for the loops.
#[derive(Copy, Clone, Debug)]
pub(super) struct ToolRow {
    pub(super) ends: PortEnds,
    pub(super) law: Law,
}

/// The network with its contacts in given positions.
#[derive(Copy, Clone)]
pub(super) struct Still<'a> {
    pub(super) pattern: &'a Pattern,
    pub(super) tables: &'a Tables,
    /// Slopes of the straight elements, contacts in their positions included.
    pub(super) siemens: &'a [f64],
}

/// Voltages by place (ground last) and the currents that belong to them.
#[derive(Clone, Debug, Default)]
pub(super) struct Point {
    pub(super) volts: Vec<f64>,
    pub(super) amps: Vec<f64>,
    pub(super) tool_amps: Vec<f64>,
}

/// No point was found; the place where Kirchhoff's law is missed by most.
#[derive(Copy, Clone, Debug)]
pub(super) struct Failure {
    pub(super) place: usize,
}

/// Buffers kept from solve to solve; nothing in them is carried over.
#[derive(Clone, Debug, Default)]
pub(super) struct Work {
    pub(super) point: Point,
    pub(super) ports: Ports,
    /// Factor at the present point, where the base's no longer serves.
    fresh: Factor,
    /// Current into each place that its elements do not carry off.
    into: Vec<f64>,
    /// Sum of the sizes of the currents at each place.
    sizes: Vec<f64>,
    step: Vec<f64>,
    slopes: Vec<f64>,
    tool_slopes: Vec<f64>,
    #[cfg(test)]
    pub(super) factorings: usize,
    #[cfg(test)]
    pub(super) rounds: usize,
}

impl Work {
    /// Finds the point without tools from nothing but the network. Leaves the factor that belongs to it in
    /// `factor` and its labels in `labels`.
    pub(super) fn settle(
        &mut self,
        still: Still,
        factor: &mut Factor,
        labels: &mut Vec<Island>,
    ) -> Result<(), Failure> {
        let places = still.pattern.n + 1;
        self.point.volts.clear();
        self.point.volts.resize(places, 0.0);
        self.tool_slopes.clear();
        self.into.clear();
        self.into.resize(places, 0.0);
        self.slopes.clear();
        for ((&[a, b], &siemens), &emf_v) in still
            .pattern
            .ends
            .iter()
            .zip(still.siemens)
            .zip(&still.tables.emf_v)
        {
            let amps = -siemens * emf_v;
            self.into[a as usize] -= amps;
            self.into[b as usize] += amps;
        }
        for (element, device) in &still.tables.curved {
            let line = device.first_line();
            let [a, b] = still.pattern.ends[*element as usize];
            self.into[a as usize] -= line.amps;
            self.into[b as usize] += line.amps;
            self.slopes.push(line.siemens);
        }
        self.factor_here(still, None);
        self.fresh.label(still.pattern, labels);
        self.into[still.pattern.n] = 0.0;
        self.point.volts.copy_from_slice(&self.into);
        self.fresh.solve(still.pattern, &mut self.point.volts);
        self.evaluate(still, &[]);
        self.ports.attach(std::iter::empty(), labels, 0);
        self.iterate(still, &[], labels, None)?;
        std::mem::swap(&mut self.fresh, factor);
        Ok(())
    }

    /// Finds the point with tools on, starting from the point without them.
    pub(super) fn settle_with(
        &mut self,
        still: Still,
        tools: &[ToolRow],
        start: &Point,
        factor: &Factor,
        labels: &[Island],
    ) -> Result<(), Failure> {
        self.point.volts.clone_from(&start.volts);
        self.ports.attach(
            tools.iter().map(|tool| tool.ends),
            labels,
            factor.floating(),
        );
        self.ports.factored(factor, still.pattern);
        self.evaluate(still, tools);
        self.iterate(still, tools, labels, Some(factor))
    }

    fn iterate(
        &mut self,
        still: Still,
        tools: &[ToolRow],
        labels: &[Island],
        base: Option<&Factor>,
    ) -> Result<(), Failure> {
        let curved = !still.tables.curved.is_empty();
        let straight = !curved
            && tools
                .iter()
                .all(|tool| matches!(tool.law, Law::Line { .. }));
        if base.is_none() && straight && self.excess() <= GOAL {
            return Ok(());
        }
        let mut factor = base;
        // Without tools the factor at hand belongs to the first guess, not to the present point.
        let mut renew = base.is_none() && curved;
        let mut before = f64::INFINITY;
        for _ in 0..ROUNDS {
            #[cfg(test)]
            {
                self.rounds += 1;
            }
            if renew {
                self.factor_here(still, Some(tools));
                factor = None;
            }
            let tangent = renew || !curved;
            let merit = self.merit();
            let length = self.take_step(still, labels, factor)?;
            self.evaluate(still, tools);
            let excess = self.excess();
            let shrink = length / before;
            let error = if tangent && length <= TANGENT_STEP_V {
                0.0
            } else {
                length * shrink / (1.0 - shrink)
            };
            let known = (shrink < 1.0 || length <= TANGENT_STEP_V) && error <= ERROR_V;
            if excess <= GOAL && (straight && before.is_finite() || known) {
                return Ok(());
            }
            before = length;
            let fast = shrink <= SHRINK;
            renew = curved && !fast;
            if self.merit() <= merit {
                continue;
            }
            if tangent {
                self.search(still, tools, merit)?;
                renew = curved;
            } else {
                self.go(-1.0);
                self.evaluate(still, tools);
                renew = true;
            }
            before = f64::INFINITY;
        }
        Err(self.failure())
    }

    /// Factors the network with the slopes at the present point.
    fn factor_here(&mut self, still: Still, tools: Option<&[ToolRow]>) {
        #[cfg(test)]
        {
            self.factorings += 1;
        }
        self.fresh.clear(still.pattern);
        for (&slot, &siemens) in still.pattern.slot.iter().zip(still.siemens) {
            self.fresh.add(slot, siemens);
        }
        for ((element, _), &siemens) in still.tables.curved.iter().zip(&self.slopes) {
            self.fresh
                .add(still.pattern.slot[*element as usize], siemens);
        }
        self.fresh.eliminate(still.pattern);
        if tools.is_some() {
            self.ports.factored(&self.fresh, still.pattern);
        }
    }

    /// Takes a full step and returns the largest change of a voltage.
    fn take_step(
        &mut self,
        still: Still,
        labels: &[Island],
        factor: Option<&Factor>,
    ) -> Result<f64, Failure> {
        self.step.clone_from(&self.into);
        factor
            .unwrap_or(&self.fresh)
            .solve(still.pattern, &mut self.step);
        let slopes = &self.tool_slopes;
        if !self
            .ports
            .correct(|tool| slopes[tool], labels, &self.into, &mut self.step)
        {
            return Err(self.failure());
        }
        self.go(1.0);
        let length = self.step.iter().fold(0.0, |most: f64, volts| {
            if volts.abs() > most {
                volts.abs()
            } else {
                most
            }
        });
        Ok(length)
    }

    fn go(&mut self, share: f64) {
        for (volts, step) in self.point.volts.iter_mut().zip(&self.step) {
            *volts += share * step;
        }
    }

    /// Currents, slopes and Kirchhoff's sums at the present voltages.
    fn evaluate(&mut self, still: Still, tools: &[ToolRow]) {
        let places = still.pattern.n + 1;
        self.into.clear();
        self.into.resize(places, 0.0);
        self.sizes.clear();
        self.sizes.resize(places, 0.0);
        self.point.amps.clear();
        self.point.tool_amps.clear();
        self.slopes.clear();
        self.tool_slopes.clear();
        let volts = &self.point.volts;
        let (into, sizes) = (&mut self.into, &mut self.sizes);
        let mut meet = |[a, b]: [u32; 2], amps: f64| {
            into[a as usize] -= amps;
            into[b as usize] += amps;
            sizes[a as usize] += amps.abs();
            sizes[b as usize] += amps.abs();
        };
        let across = |[a, b]: [u32; 2]| volts[a as usize] - volts[b as usize];
        let tables = still.tables;
        for ((&ends, &siemens), &emf_v) in still
            .pattern
            .ends
            .iter()
            .zip(still.siemens)
            .zip(&tables.emf_v)
        {
            let amps = siemens * (across(ends) - emf_v);
            self.point.amps.push(amps);
            meet(ends, amps);
        }
        for (element, device) in &tables.curved {
            let ends = still.pattern.ends[*element as usize];
            let Tangent { amps, siemens } = device.at(across(ends));
            self.point.amps[*element as usize] = amps;
            self.slopes.push(siemens);
            meet(ends, amps);
        }
        for tool in tools {
            let v = across(tool.ends);
            let (amps, slope) = match tool.law {
                Law::Line { siemens, emf_v } => (siemens * (v - emf_v), siemens),
                Law::Curve(device) => {
                    let at = device.at(v);
                    (at.amps, at.siemens)
                }
            };
            self.point.tool_amps.push(amps);
            self.tool_slopes.push(slope);
            meet(tool.ends, amps);
        }
        // Ground takes whatever comes.
        self.into[still.pattern.n] = 0.0;
    }

    /// The worst node's miss as a share of what is promised; infinite if anything is no number.
    fn excess(&self) -> f64 {
        let mut worst = 0.0;
        for (into, size) in self.into.iter().zip(&self.sizes) {
            let share = into.abs() / (LAW_FLOOR_A + LAW_SHARE * size);
            if !share.is_finite() {
                return f64::INFINITY;
            }
            worst = if share > worst { share } else { worst };
        }
        worst
    }

    fn merit(&self) -> f64 {
        self.into.iter().map(|amps| amps.abs()).sum()
    }

    fn failure(&self) -> Failure {
        let mut place = 0;
        for at in 0..self.into.len() {
            if self.into[at].is_nan() || self.into[at].abs() > self.into[place].abs() {
                place = at;
            }
        }
        Failure { place }
    }

    /// A full step was taken and did harm: finds the length at which the descent along the step ends. The
    /// slope along a step only rises, so the zero is enclosed and then narrowed by false position with
    /// bisection against creeping.
    fn search(&mut self, still: Still, tools: &[ToolRow], merit: f64) -> Result<(), Failure> {
        let ends = &still.pattern.ends;
        let full = &self.point.volts;
        let step = &self.step;
        let reach = |[a, b]: [u32; 2]| step[a as usize] - step[b as usize];
        let end = |[a, b]: [u32; 2]| full[a as usize] - full[b as usize];
        let (mut fixed, mut rising) = (0.0, 0.0);
        for ((&ends, &siemens), &emf_v) in ends.iter().zip(still.siemens).zip(&still.tables.emf_v) {
            let reach = reach(ends);
            fixed += reach * (siemens * (end(ends) - reach - emf_v));
            rising += reach * siemens * reach;
        }
        let curves: Vec<(Law, f64, f64)> = still
            .tables
            .curved
            .iter()
            .map(|(element, device): &(u32, Device)| (Law::Curve(*device), ends[*element as usize]))
            .chain(tools.iter().map(|tool| (tool.law, tool.ends)))
            .map(|(law, ends)| (law, end(ends) - reach(ends), reach(ends)))
            .collect();
        let slope = |share: f64| {
            let along = |sum: f64, &(law, v, reach): &(Law, f64, f64)| {
                sum + reach * law.amps(v + share * reach)
            };
            curves.iter().fold(fixed + share * rising, along)
        };
        let (mut low, mut high) = (0.0, 1.0);
        let (mut at_low, mut at_high) = (slope(low), slope(high));
        if at_high <= 0.0 || at_low >= 0.0 {
            // Still going down at the far end (or rounding hides the slope): the full step stands.
            return Ok(());
        }
        let enough = 1e-3 * at_low.abs();
        let mut share = low;
        let mut sided = 0;
        for round in 0..SEARCH_ROUNDS {
            share = if round % 3 == 2 {
                0.5 * (low + high)
            } else {
                low - at_low * (high - low) / (at_high - at_low)
            };
            let at = slope(share);
            if !at.is_finite() {
                return Err(self.failure());
            }
            if at.abs() <= enough {
                break;
            }
            if at < 0.0 {
                (low, at_low) = (share, at);
                at_high *= if sided < 0 { 0.5 } else { 1.0 };
                sided = -1;
            } else {
                (high, at_high) = (share, at);
                at_low *= if sided > 0 { 0.5 } else { 1.0 };
                sided = 1;
            }
        }
        self.go(share - 1.0);
        self.evaluate(still, tools);
        let _ = merit;
        Ok(())
    }
}
