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
const ERROR_V: f64 = 3e-10;
/// A tangent step this short is followed by an error of about its square over a junction's slope voltage.
const TANGENT_STEP_V: f64 = 1e-8;
/// A step that shrinks less than this against the one before asks for a new factor.
const SHRINK: f64 = 0.1;
/// A step longer than this share of the one before does not shrink any more.
const STALLED: f64 = 0.5;
/// Rounds until giving up. A few are the rule.
const ROUNDS: usize = 400;
/// A step is too long if the way rises at its end by more than this share of its first descent.
const HARM: f64 = 0.1;
/// Rounds before steps are held back.
const QUICK_ROUNDS: usize = 20;
/// Easing: a conductance lies beside each curved element, first so large, then smaller and smaller.
const FIRST_SOFT_S: f64 = 1.0;
const LAST_SOFT_S: f64 = 1e-12;
const SOFTER: f64 = 0.1;
/// A step short enough to go on to the next smaller conductance.
const SOFT_STEP_V: f64 = 1e-3;
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

fn longest(step: &[f64]) -> f64 {
    step.iter().fold(0.0, |most, volts| {
        if volts.abs() > most {
            volts.abs()
        } else {
            most
        }
    })
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
    /// What `step` was the response to.
    currents: Vec<f64>,
    /// Conductance beside each curved element while easing; zero otherwise.
    soft_s: f64,
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
        self.soft_s = 0.0;
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
        self.soft_s = 0.0;
        for round in 0..ROUNDS {
            #[cfg(test)]
            {
                self.rounds += 1;
            }
            if !straight && round == QUICK_ROUNDS {
                self.soft_s = FIRST_SOFT_S;
                self.evaluate(still, tools);
                renew = curved;
                before = f64::INFINITY;
            }
            if renew {
                self.factor_here(still, Some(tools));
                factor = None;
            }
            let tangent = renew || !curved;
            let (length, down) = self.take_step(still, labels, factor)?;
            self.evaluate(still, tools);
            let excess = self.excess();
            let shrink = length / before;
            if excess <= GOAL && self.soft_s == 0.0 {
                // A chord's error is told by how steps shrink, and so not by the first one.
                let error = if before.is_finite() {
                    length * shrink / (1.0 - shrink)
                } else {
                    length
                };
                let known = shrink < 1.0 && error <= ERROR_V || tangent && length <= TANGENT_STEP_V;
                if straight && before.is_finite()
                    || known
                    || tangent
                        && shrink > STALLED
                        && length <= self.rounding(still, labels, factor)?
                {
                    return Ok(());
                }
            }
            before = length;
            let fast = shrink <= SHRINK;
            renew = curved && !fast;
            if self.soft_s > 0.0 && (excess <= GOAL || length <= SOFT_STEP_V) {
                self.soft_s = if self.soft_s > LAST_SOFT_S {
                    self.soft_s * SOFTER
                } else {
                    0.0
                };
                self.evaluate(still, tools);
                renew = curved;
                before = f64::INFINITY;
                continue;
            }
            let harmful = self.descent() > HARM * down;
            if excess <= GOAL || !harmful {
                continue;
            }
            if tangent {
                self.search(still, tools)?;
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

    /// Slope of the convex function along the step, at the present point: negative while it leads down.
    fn descent(&self) -> f64 {
        -self
            .into
            .iter()
            .zip(&self.step)
            .map(|(amps, volts)| amps * volts)
            .sum::<f64>()
    }

    /// Takes a full step. Returns the largest change of a voltage, and the size of the slope at its start.
    fn take_step(
        &mut self,
        still: Still,
        labels: &[Island],
        factor: Option<&Factor>,
    ) -> Result<(f64, f64), Failure> {
        self.step.clone_from(&self.into);
        self.respond(still, labels, factor)?;
        let down = -self.descent();
        self.go(1.0);
        let length = longest(&self.step);
        Ok((length, down))
    }

    /// Replaces the currents in `step` by the voltages they cause, to first order.
    fn respond(
        &mut self,
        still: Still,
        labels: &[Island],
        factor: Option<&Factor>,
    ) -> Result<(), Failure> {
        self.currents.clone_from(&self.step);
        factor
            .unwrap_or(&self.fresh)
            .solve(still.pattern, &mut self.step);
        let slopes = &self.tool_slopes;
        if self
            .ports
            .correct(|tool| slopes[tool], labels, &self.currents, &mut self.step)
        {
            Ok(())
        } else {
            Err(self.failure())
        }
    }

    /// The change of voltage that rounding in the elements' currents alone may cause. A current's rounding is
    /// at most its slope times the last bits of the voltages it comes from; that more current into a node
    /// lowers no voltage makes the response to all of them at once a bound.
    fn rounding(
        &mut self,
        still: Still,
        labels: &[Island],
        factor: Option<&Factor>,
    ) -> Result<f64, Failure> {
        self.step.fill(0.0);
        let volts = &self.point.volts;
        let ends = &still.pattern.ends;
        let straight = ends
            .iter()
            .zip(still.siemens)
            .zip(&still.tables.emf_v)
            .map(|((&ends, &siemens), &emf_v)| (ends, siemens, emf_v));
        let curved = still
            .tables
            .curved
            .iter()
            .zip(&self.slopes)
            .map(|(&(element, _), &siemens)| (ends[element as usize], siemens, 0.0));
        for (ends, siemens, emf_v) in straight.chain(curved) {
            let [a, b] = ends.map(|end| end as usize);
            let amps = f64::EPSILON * siemens * (volts[a].abs() + volts[b].abs() + f64::abs(emf_v));
            self.step[a] += amps;
            self.step[b] += amps;
        }
        self.step[still.pattern.n] = 0.0;
        self.respond(still, labels, factor)?;
        Ok(longest(&self.step))
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
        let soft_s = self.soft_s;
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
            let Tangent { amps, siemens } = device.at(across(ends)).beside(soft_s, across(ends));
            self.point.amps[*element as usize] = amps;
            self.slopes.push(siemens);
            meet(ends, amps);
        }
        for tool in tools {
            let v = across(tool.ends);
            let (amps, slope) = match tool.law {
                Law::Line { siemens, emf_v } => (siemens * (v - emf_v), siemens),
                Law::Curve(device) => {
                    let at = device.at(v).beside(soft_s, v);
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
    fn search(&mut self, still: Still, tools: &[ToolRow]) -> Result<(), Failure> {
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
                let v = v + share * reach;
                let soft_s = if matches!(law, Law::Curve(_)) {
                    self.soft_s
                } else {
                    0.0
                };
                sum + reach * (law.amps(v) + soft_s * v)
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
        Ok(())
    }
}
