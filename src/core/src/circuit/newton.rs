//! The operating point of a network whose contacts stand still: Newton's method on Kirchhoff's current law.
//!
//! Every element's current rises with its voltage, so the law's left side is the gradient of a convex
//! function: there is one answer, and a step along Newton's direction always begins by leading down to it.
//! A factor is kept for further steps as long as they shrink fast (the chord method), since a step costs a
//! fraction of a factorisation. A step whose end lies higher is shortened. Where that does not lead home
//! soon, a conductance beside each curved element eases the way and is then taken away decade by decade.

use super::balance::{Balance, Point, Still, ToolRow, across};
use super::descent::share_of_step;
use super::factor::{Factor, Island};
use super::outlook::Trial;
use super::ports::Ports;

/// Share of what Kirchhoff's current law may miss at which iteration stops, well inside the promise.
const GOAL: f64 = 0.25;
const PROMISE: f64 = 0.9;
/// A step shorter than this is not taken: far below what any instrument shows.
pub(super) const ERROR_V: f64 = 3e-10;
/// A step that shrinks less than this against the one before asks for a new factor.
const SHRINK: f64 = 0.1;
/// How much less the next step is taken to shrink than the last did. Where it would be too short to take even
/// so, it is not worked out.
const DOUBT: f64 = 100.0;
/// A step longer than this share of the one before does not shrink any more.
const STALLED: f64 = 0.5;
/// A step is too long if the way rises at its end by more than this share of its first descent.
const HARM: f64 = 0.1;
/// Sums and maxima are taken in this many strands, so that one operation need not wait for the last.
const LANES: usize = 4;
/// Where looking ahead along the tools alone ends.
const FORESEEN_ROUNDS: usize = 12;
const FORESEEN_V: f64 = 1e-7;
/// Rounds until giving up. A few are the rule; the worst of 6000 random networks took 138.
const ROUNDS: usize = 400;
/// Rounds before easing begins.
const QUICK_ROUNDS: usize = 20;
/// The easing conductance: first, last before none, and what each stage leaves of it.
const FIRST_SOFT_S: f64 = 1.0;
const LAST_SOFT_S: f64 = 1e-12;
const SOFTER: f64 = 0.1;
/// A step short enough to go on to the next stage.
const SOFT_STEP_V: f64 = 1e-3;

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
    balance: Balance,
    /// Factor at the present point, where the base's no longer serves.
    fresh: Factor,
    step: Vec<f64>,
    /// What `step` is the response to: currents into the places, and through the tools.
    currents: Vec<f64>,
    tool_currents: Vec<f64>,
    ahead: Ahead,
    pub(super) trial: Trial,
}

/// Buffers of [`Work::foresee`], one entry a tool.
#[derive(Clone, Debug, Default)]
struct Ahead {
    slopes: Vec<f64>,
    amps: Vec<f64>,
    change_v: Vec<f64>,
    next_v: Vec<f64>,
}

/// A step along Newton's direction or a chord's, not yet taken.
struct Step {
    /// Largest change of a voltage.
    length_v: f64,
    /// `length_v` as a share of that of the step before; zero for the first.
    shrink: f64,
    first: bool,
    /// The tools' whole currents were solved for, not their changes.
    whole: bool,
    /// The factor belongs to the point the step begins at.
    tangent: bool,
    /// Slope of the convex function where the step begins, positive for a descent.
    down: f64,
}

impl Step {
    fn stalled(&self) -> bool {
        !self.first && self.shrink >= STALLED
    }

    /// Whether the next one would be too short to take, as far as the last two tell.
    fn was_last(&self) -> bool {
        !self.first && self.shrink <= SHRINK && DOUBT * self.shrink * self.length_v <= ERROR_V
    }
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
        self.balance.soft_s = 0.0;
        self.balance.first_lines(still);
        self.factor_here(still);
        self.fresh.label(still.pattern, labels);
        self.point.volts.clone_from(&self.balance.into);
        self.fresh.solve(still.pattern, &mut self.point.volts);
        self.evaluate(still, &[]);
        self.ports
            .attach(std::iter::empty(), labels, self.fresh.floating());
        if !still.tables.curved.is_empty() || !self.balance.holds(GOAL) {
            self.iterate(still, &[], labels, None, false)?;
        }
        std::mem::swap(&mut self.fresh, factor);
        Ok(())
    }

    /// As [`Work::settle`], starting from voltages that are thought to be near.
    pub(super) fn settle_near(
        &mut self,
        still: Still,
        volts: &[f64],
        factor: &mut Factor,
        labels: &mut Vec<Island>,
    ) -> Result<(), Failure> {
        self.balance.soft_s = 0.0;
        self.point.volts.clear();
        self.point.volts.extend_from_slice(volts);
        self.evaluate(still, &[]);
        self.factor_here(still);
        self.fresh.label(still.pattern, labels);
        // What floats now has no voltage to begin at; a tool would find the old one on it.
        let mut stale = false;
        for (volts, &label) in self.point.volts.iter_mut().zip(labels.iter()) {
            if label != 0 && *volts != 0.0 {
                *volts = 0.0;
                stale = true;
            }
        }
        if stale {
            self.evaluate(still, &[]);
            self.factor_here(still);
        }
        self.ports
            .attach(std::iter::empty(), labels, self.fresh.floating());
        self.ports.factored(&self.fresh, still.pattern);
        self.iterate(still, &[], labels, None, true)?;
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
        // At the start the network is in balance; the tools alone disturb it.
        self.balance.soft_s = 0.0;
        self.balance.clear(still.pattern.n + 1);
        self.balance.add_tools(still, tools, &mut self.point);
        self.foresee(tools, labels);
        self.iterate(still, tools, labels, Some(factor), false)
    }

    /// Takes the tools' tangents where they will lie if the network answers to them in a straight line, instead
    /// of where they lie at the start: a few scalar steps that spare as many through the whole network. Only a
    /// guess; what is found in the end does not rest on it.
    fn foresee(&mut self, tools: &[ToolRow], labels: &[Island]) {
        if tools.iter().all(ToolRow::is_straight) {
            return;
        }
        let Ahead {
            slopes,
            amps,
            change_v,
            next_v,
        } = &mut self.ahead;
        change_v.clear();
        change_v.resize(tools.len(), 0.0);
        for _ in 0..FORESEEN_ROUNDS {
            slopes.clear();
            amps.clear();
            for (tool, &change) in tools.iter().zip(change_v.iter()) {
                let tangent = tool
                    .law
                    .tangent(across(&self.point.volts, tool.ends) + change);
                slopes.push(tangent.siemens);
                amps.push(tangent.amps - tangent.siemens * change);
            }
            if !self.ports.across_tools(slopes, amps, labels, next_v) {
                return;
            }
            let moved = change_v.iter().zip(next_v.iter());
            let moved = moved.fold(0.0f64, |most, (a, b)| most.max((a - b).abs()));
            if !moved.is_finite() {
                return;
            }
            std::mem::swap(change_v, next_v);
            if moved <= FORESEEN_V {
                break;
            }
        }
        self.point.tool_amps.clone_from(amps);
        self.balance.tool_slopes.clone_from(slopes);
    }

    fn iterate(
        &mut self,
        still: Still,
        tools: &[ToolRow],
        labels: &[Island],
        base: Option<&Factor>,
        fresh_is_here: bool,
    ) -> Result<(), Failure> {
        let curved = !still.tables.curved.is_empty();
        let straight = !curved && tools.iter().all(ToolRow::is_straight);
        let mut factor = base;
        // Without tools the factor at hand belongs to the first guess, not to the present point.
        let mut renew = base.is_none() && curved && !fresh_is_here;
        let mut before = f64::INFINITY;
        let mut balanced = false;
        let mut whole = true;
        for round in 0..ROUNDS {
            if !straight && round == QUICK_ROUNDS {
                self.soften(FIRST_SOFT_S, still, tools);
                (renew, before, whole) = (curved, f64::INFINITY, true);
            }
            if renew {
                self.factor_here(still);
                self.ports.factored(&self.fresh, still.pattern);
                factor = None;
            }
            let mut step = self.step(still, labels, factor, before, whole)?;
            whole = false;
            step.tangent = renew || !curved || (fresh_is_here && round == 0);
            let soft_s = self.balance.soft_s;
            // Where rounding allows no better, the promise itself is enough.
            let kept = balanced || step.stalled() && self.balance.holds(PROMISE);
            if kept && soft_s == 0.0 && self.arrived(&step, still, tools, labels, factor)? {
                return Ok(());
            }
            self.go(1.0);
            self.evaluate(still, tools);
            balanced = self.balance.holds(GOAL);
            if balanced && soft_s == 0.0 && step.was_last() {
                return Ok(());
            }
            before = step.length_v;
            let fast = if step.first {
                base.is_some() || fresh_is_here
            } else {
                step.shrink <= SHRINK
            };
            renew = curved && !fast;
            if soft_s > 0.0 && (balanced || step.length_v <= SOFT_STEP_V) {
                self.soften(
                    if soft_s > LAST_SOFT_S {
                        soft_s * SOFTER
                    } else {
                        0.0
                    },
                    still,
                    tools,
                );
                balanced = false;
                (renew, before, whole) = (curved, f64::INFINITY, true);
            } else if !balanced && self.descent() > HARM * step.down {
                (renew, before) = (curved, f64::INFINITY);
                let share = if step.tangent {
                    share_of_step(still, tools, soft_s, &self.point.volts, &self.step)
                        .unwrap_or(1.0)
                } else {
                    0.0
                };
                self.go(share - 1.0);
                self.evaluate(still, tools);
                // The shortened step may end at the answer, where only rounding is left to step by.
                balanced = self.balance.holds(GOAL);
            }
        }
        Err(self.failure())
    }

    fn evaluate(&mut self, still: Still, tools: &[ToolRow]) {
        self.balance.evaluate(still, tools, &mut self.point);
    }

    fn soften(&mut self, siemens: f64, still: Still, tools: &[ToolRow]) {
        self.balance.soft_s = siemens;
        self.evaluate(still, tools);
    }

    /// Factors the network with the slopes at the present point.
    fn factor_here(&mut self, still: Still) {
        self.fresh.take(still, self.balance.slopes.iter().copied());
    }

    /// Slope of the convex function along the step, at the present point: negative while it leads down.
    fn descent(&self) -> f64 {
        let products = self.balance.into.chunks(LANES).zip(self.step.chunks(LANES));
        let mut sums = [0.0; LANES];
        for (amps, volts) in products {
            for ((sum, amps), volts) in sums.iter_mut().zip(amps).zip(volts) {
                *sum += amps * volts;
            }
        }
        -sums.iter().sum::<f64>()
    }

    /// Works out the next step.
    fn step(
        &mut self,
        still: Still,
        labels: &[Island],
        factor: Option<&Factor>,
        before: f64,
        whole: bool,
    ) -> Result<Step, Failure> {
        self.respond_to_miss(still, labels, factor, whole)?;
        let length_v = longest(&self.step);
        Ok(Step {
            length_v,
            shrink: length_v / before,
            first: before.is_infinite(),
            whole,
            tangent: false,
            down: -self.descent(),
        })
    }

    /// Whether the step need not be taken: because it is short, or because it is made of rounding.
    fn arrived(
        &mut self,
        step: &Step,
        still: Still,
        tools: &[ToolRow],
        labels: &[Island],
        factor: Option<&Factor>,
    ) -> Result<bool, Failure> {
        if step.length_v <= ERROR_V {
            return Ok(true);
        }
        if !step.tangent || !step.stalled() {
            return Ok(false);
        }
        // More current into a node lowers no voltage: the response to the bounds of all roundings at once is
        // a bound of the response to the roundings.
        self.balance.rounding(
            still,
            tools,
            &self.point,
            &mut self.currents,
            &mut self.tool_currents,
        );
        self.respond(still, labels, factor)?;
        let rounding_v = longest(&self.step);
        self.respond_to_miss(still, labels, factor, step.whole)?;
        Ok(step.length_v <= rounding_v)
    }

    /// Puts into `step` what would carry off, to first order, what Kirchhoff's law misses.
    ///
    /// On the first step of a search each tool's `whole` current is solved for. Where a strong tool lies on a node that else
    /// hangs on picosiemens, its change would be the small difference of two large numbers. Later it is the
    /// change: near the answer that is small itself, and so are its roundings.
    fn respond_to_miss(
        &mut self,
        still: Still,
        labels: &[Island],
        factor: Option<&Factor>,
        whole: bool,
    ) -> Result<(), Failure> {
        self.currents.clone_from(if whole {
            &self.balance.bare
        } else {
            &self.balance.into
        });
        self.tool_currents.clone_from(&self.point.tool_amps);
        if !whole {
            self.tool_currents.fill(0.0);
        }
        self.respond(still, labels, factor)
    }

    /// Puts into `step` the voltages that `currents` into the places and `tool_currents` through the tools
    /// cause, to first order.
    fn respond(
        &mut self,
        still: Still,
        labels: &[Island],
        factor: Option<&Factor>,
    ) -> Result<(), Failure> {
        self.step.clone_from(&self.currents);
        factor
            .unwrap_or(&self.fresh)
            .solve(still.pattern, &mut self.step);
        let slopes = &self.balance.tool_slopes;
        let corrected = self.ports.correct(
            slopes,
            &self.tool_currents,
            labels,
            &self.currents,
            &mut self.step,
        );
        if corrected {
            Ok(())
        } else {
            Err(self.failure())
        }
    }

    fn go(&mut self, share: f64) {
        for (volts, step) in self.point.volts.iter_mut().zip(&self.step) {
            *volts += share * step;
        }
    }

    fn failure(&self) -> Failure {
        Failure {
            place: self.balance.worst_place(),
        }
    }
}

fn longest(step: &[f64]) -> f64 {
    let mut most = [0.0; LANES];
    for volts in step.chunks(LANES) {
        for (most, volts) in most.iter_mut().zip(volts) {
            if volts.abs() > *most {
                *most = volts.abs();
            }
        }
    }
    most.into_iter().fold(0.0, f64::max)
}
