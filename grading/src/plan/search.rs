//! The AND/OR search over (set of atoms left, state).
//!
//! Best-first: each trial follows the test with the least lower bound and, of its
//! outcomes, the one about which least is known, down to something new; on the
//! way back the bounds of everything passed are renewed. A node is done when its
//! bounds meet. A greedy rollout gives each node passed its first upper bound, so
//! that the search may stop at any time with something that can be carried out.
//!
//! Works on bit sets and minutes. Must not know beliefs, problems or what the
//! numbers stand for.

use super::arena::{Action, Arena};
use super::base::Base;
use super::expand::Scratch;

/// Bounds closer than this part of their size have met; what lies between is
/// rounding.
pub(crate) const MET: f64 = 1e-12;

pub(crate) struct Search {
    pub base: Base,
    pub arena: Arena,
    /// Steps taken, each of about the same time: a node made, some thirty tests of
    /// a node compared, two tests listed. The budget counts these.
    pub steps: u64,
    pub(super) scratch: Scratch,
}

/// Lower and upper bound, times weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Span {
    pub lower: f64,
    pub upper: f64,
}

impl Span {
    pub fn met(self) -> bool {
        self.upper.is_finite() && self.upper - self.lower <= MET * self.upper
    }
}

impl Search {
    pub fn new(base: Base) -> Self {
        Self {
            base,
            arena: Arena::default(),
            steps: 0,
            scratch: Scratch::default(),
        }
    }

    /// Forgets everything worked out, to give the memory back.
    pub fn forget(&mut self) {
        self.arena = Arena::default();
    }

    pub fn span(&self, node: u32) -> Span {
        let n = &self.arena.nodes[node as usize];
        Span {
            lower: n.lower,
            upper: n.upper,
        }
    }

    /// Works on a node until its bounds meet, differ by at most `close` (times
    /// weight), or `until` steps were taken in all.
    pub fn solve(&mut self, node: u32, until: u64, close: f64) -> Span {
        self.rollout(node);
        loop {
            let span = self.span(node);
            if span.met() || span.upper - span.lower <= close || self.steps >= until {
                return span;
            }
            self.trial(node);
        }
    }

    fn trial(&mut self, root: u32) {
        let mut path = Vec::new();
        let mut at = root;
        while !self.span(at).met() {
            let set = self.arena.nodes[at as usize].set;
            let is_new =
                self.arena.actions_of(set).is_none() || !self.arena.nodes[at as usize].rolled;
            self.rollout(at);
            let best = self.renew(at);
            path.push(at);
            if is_new || self.span(at).met() {
                break;
            }
            match self.least_known_child(best) {
                Some(child) => at = child,
                None => break,
            }
        }
        // The last one was just renewed.
        for &node in path.iter().rev().skip(1) {
            self.renew(node);
        }
    }

    fn least_known_child(&self, action: usize) -> Option<u32> {
        let mut best = None;
        let mut most = -1.0;
        for &child in self
            .arena
            .children(self.arena.action(action))
            .unwrap_or(&[])
        {
            let s = self.span(child);
            // Where no rollout was made yet, as much again as the lower bound is
            // taken to be open.
            let open = s.upper.min(2.0 * s.lower) - s.lower;
            if !s.met() && open > most {
                (best, most) = (Some(child), open);
            }
        }
        best
    }

    /// Minutes of an action from a state, with the change, times weight.
    pub fn cost(&self, weight: f64, state: u8, action: &Action) -> f64 {
        let test = &self.base.tests[action.test as usize];
        weight * (self.base.change[state as usize][test.state] + test.minutes)
    }

    pub fn action_span(&self, weight: f64, state: u8, action: &Action) -> Span {
        let cost = self.cost(weight, state, action);
        let Some(children) = self.arena.children(action) else {
            return Span {
                lower: cost + action.rest,
                upper: f64::INFINITY,
            };
        };
        let mut span = Span {
            lower: cost,
            upper: cost,
        };
        for &child in children {
            let n = &self.arena.nodes[child as usize];
            span.lower += n.lower;
            span.upper += n.upper;
        }
        span
    }

    /// Brings a node's bounds up to date with its children's; gives the position
    /// of the action with the least lower bound, its children made. The node's set
    /// must be expanded.
    fn renew(&mut self, node: u32) -> usize {
        let n = &self.arena.nodes[node as usize];
        let (set, state, known) = (n.set, n.state, n.upper);
        let weight = self.arena.sets[set as usize].weight;
        let actions = self.arena.actions_of(set).unwrap_or(0..0);
        loop {
            self.steps += 1 + actions.len() as u64 / 32;
            let mut lower = f64::INFINITY;
            let mut upper = known;
            let mut best = 0;
            for position in actions.clone() {
                let span = self.action_span(weight, state, self.arena.action(position));
                if span.lower < lower {
                    lower = span.lower;
                    best = position;
                }
                upper = upper.min(span.upper);
            }
            let n = &mut self.arena.nodes[node as usize];
            n.lower = n.lower.max(lower);
            n.upper = upper;
            // Once met, the value of the plan itself is taken, so that sums over
            // plans agree to the last bit.
            let met = (Span {
                lower: n.lower,
                upper,
            })
            .met();
            if met {
                n.lower = upper;
            }
            if met || self.arena.children(self.arena.action(best)).is_some() {
                return best;
            }
            self.make_children(set, best);
        }
    }

    /// Gives a node its first upper bound: the minutes of always making the test
    /// with most information for each minute. Also gives one to all nodes passed.
    pub fn rollout(&mut self, node: u32) -> f64 {
        let n = &self.arena.nodes[node as usize];
        if n.rolled {
            return n.upper;
        }
        let (set, state) = (n.set, n.state);
        self.expand(set);
        let weight = self.arena.sets[set as usize].weight;
        let choice = self.greedy(set, state);
        self.make_children(set, choice);
        let mut value = self.cost(weight, state, self.arena.action(choice));
        let count = self
            .arena
            .children(self.arena.action(choice))
            .map_or(0, <[u32]>::len);
        for i in 0..count {
            let child = self
                .arena
                .children(self.arena.action(choice))
                .map_or(0, |c| c[i]);
            value += self.rollout(child);
        }
        let n = &mut self.arena.nodes[node as usize];
        n.rolled = true;
        n.upper = n.upper.min(value);
        n.upper
    }

    fn greedy(&self, set: u32, state: u8) -> usize {
        let record = &self.arena.sets[set as usize];
        let range = self.arena.actions_of(set).unwrap_or(0..0);
        let mut best = range.start;
        let (mut best_gain, mut best_cost) = (0.0, f64::INFINITY);
        for position in range.clone() {
            let action = self.arena.action(position);
            let cost = self.cost(1.0, state, action);
            // gain / cost > best_gain / best_cost, without dividing by zero.
            let better = if best_cost.is_finite() {
                action.gain * best_cost > best_gain * cost
            } else {
                action.gain > MET * record.weight
            };
            if better {
                (best, best_gain, best_cost) = (position, action.gain, cost);
            }
        }
        if best_gain > MET * record.weight {
            return best;
        }
        // No single test says anything about the kind, yet several together will.
        let mut least = f64::INFINITY;
        for position in range {
            let lower = self
                .action_span(record.weight, state, self.arena.action(position))
                .lower;
            if lower < least {
                (best, least) = (position, lower);
            }
        }
        best
    }
}
