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

use super::arena::{Action, Arena, Node, SetRecord};
use super::base::{Base, Set, atoms_of, refines};
use super::bounds;

/// Bounds closer than this part of their size have met; what lies between is
/// rounding.
const MET: f64 = 1e-12;

pub(crate) struct Search {
    pub base: Base,
    pub arena: Arena,
    /// Steps taken: nodes made and nodes renewed. The budget counts these.
    pub steps: u64,
    scratch: Scratch,
}

#[derive(Default)]
struct Scratch {
    by_kind: Vec<f64>,
    sorted: Vec<f64>,
    joined: Vec<f64>,
    parts: Vec<Set>,
    /// (position of the test, first part, end of parts) of each test kept.
    kept: Vec<(u32, u32, u32)>,
    children: Vec<u32>,
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

    /// The node of a set in a state, made with its first lower bound if new.
    pub fn node(&mut self, set: Set, state: usize) -> u32 {
        let set = self.set(set);
        match self.arena.find_node(set, state as u8) {
            Ok(node) => node,
            Err(hash) => {
                let record = &self.arena.sets[set as usize];
                let lower = first_lower(&self.base, record, state);
                let settled = record.settled;
                let upper = if settled { 0.0 } else { f64::INFINITY };
                self.steps += 1;
                self.arena.add_node(
                    hash,
                    Node {
                        set,
                        state: state as u8,
                        rolled: settled,
                        lower,
                        upper,
                    },
                )
            }
        }
    }

    fn set(&mut self, set: Set) -> u32 {
        match self.arena.find_set(set) {
            Ok(id) => id,
            Err(hash) => {
                let record = describe(&self.base, set, &mut self.scratch);
                self.arena.add_set(hash, record)
            }
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
            at = self.least_known_child(best);
        }
        // The last one was just renewed.
        for &node in path.iter().rev().skip(1) {
            self.renew(node);
        }
    }

    fn least_known_child(&self, action: usize) -> u32 {
        let children = self.arena.children(self.arena.action(action));
        let mut best = (children[0], -1.0);
        for &child in children {
            let s = self.span(child);
            // Where no rollout was made yet, as much again as the lower bound is
            // taken to be open.
            let open = s.upper.min(2.0 * s.lower) - s.lower;
            if !s.met() && open > best.1 {
                best = (child, open);
            }
        }
        best.0
    }

    /// Minutes of an action from a state, with the change, times weight.
    pub fn cost(&self, weight: f64, state: u8, action: &Action) -> f64 {
        weight * (self.base.change[state as usize][action.state as usize] + action.minutes)
    }

    pub fn action_span(&self, weight: f64, state: u8, action: &Action) -> Span {
        let cost = self.cost(weight, state, action);
        let mut span = Span {
            lower: cost,
            upper: cost,
        };
        for &child in self.arena.children(action) {
            let n = &self.arena.nodes[child as usize];
            span.lower += n.lower;
            span.upper += n.upper;
        }
        span
    }

    /// Brings a node's bounds up to date with its children's; gives the position
    /// of the action with the least lower bound. The node's set must be expanded.
    fn renew(&mut self, node: u32) -> usize {
        self.steps += 1;
        let (set, state) = (
            self.arena.nodes[node as usize].set,
            self.arena.nodes[node as usize].state,
        );
        let weight = self.arena.sets[set as usize].weight;
        let mut lower = f64::INFINITY;
        let mut upper = f64::INFINITY;
        let mut best = 0;
        for position in self.arena.actions_of(set).unwrap_or(0..0) {
            let span = self.action_span(weight, state, self.arena.action(position));
            if span.lower < lower {
                lower = span.lower;
                best = position;
            }
            upper = upper.min(span.upper);
        }
        let n = &mut self.arena.nodes[node as usize];
        n.lower = n.lower.max(lower);
        n.upper = n.upper.min(upper);
        // Once met, the value of the plan itself is taken, so that sums over plans
        // agree to the last bit.
        if (Span {
            lower: n.lower,
            upper: n.upper,
        })
        .met()
        {
            n.lower = n.upper;
        }
        best
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
        let mut value = self.cost(weight, state, self.arena.action(choice));
        let count = self.arena.children(self.arena.action(choice)).len();
        for i in 0..count {
            let child = self.arena.children(self.arena.action(choice))[i];
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

    /// Lists the tests worth making on a set, and makes their children.
    pub fn expand(&mut self, set: u32) {
        if self.arena.actions_of(set).is_some() {
            return;
        }
        let left = self.arena.sets[set as usize].set;
        let bits = self.arena.sets[set as usize].bits;
        self.list_splits(left);
        let kept = std::mem::take(&mut self.scratch.kept);
        let parts = std::mem::take(&mut self.scratch.parts);
        let mut children = std::mem::take(&mut self.scratch.children);
        self.arena.begin_actions(set);
        for &(position, first, end) in &kept {
            let test = &self.base.tests[position as usize];
            let (state, minutes) = (test.state, test.minutes);
            children.clear();
            let mut gain = bits;
            for &part in &parts[first as usize..end as usize] {
                let child = self.node(part, state);
                children.push(child);
                gain -= self.arena.sets[self.arena.nodes[child as usize].set as usize].bits;
            }
            let action = Action::new(position, state as u8, minutes, gain.max(0.0));
            self.arena.add_action(set, action, &children);
        }
        self.scratch.kept = kept;
        self.scratch.parts = parts;
        self.scratch.children = children;
    }

    /// Fills the scratch space with the tests that split a set and their parts,
    /// leaving out those that another kept one does at least as well.
    fn list_splits(&mut self, left: Set) {
        let Scratch { parts, kept, .. } = &mut self.scratch;
        parts.clear();
        kept.clear();
        for (position, test) in self.base.tests.iter().enumerate() {
            if !test.splits(left) {
                continue;
            }
            let first = parts.len();
            parts.extend(test.classes.iter().map(|c| c & left).filter(|&p| p != 0));
            let count = parts.len() - first;
            let dominated = kept.iter().any(|&(k, from, to)| {
                let other = &self.base.tests[k as usize];
                (to - from) as usize >= count
                    && other.minutes + self.base.detour[other.state][test.state] <= test.minutes
                    && refines(
                        &parts[from as usize..to as usize],
                        &test.classes,
                        &test.class_of,
                    )
            });
            if dominated {
                parts.truncate(first);
            } else {
                kept.push((position as u32, first as u32, parts.len() as u32));
            }
        }
    }
}

/// What can be said of a set before it is searched.
fn describe(base: &Base, set: Set, scratch: &mut Scratch) -> SetRecord {
    let by_kind = &mut scratch.by_kind;
    by_kind.clear();
    by_kind.resize(base.kind_count, 0.0);
    let mut weight = 0.0;
    for a in atoms_of(set) {
        weight += base.weights[a];
        by_kind[base.kinds[a] as usize] += base.weights[a];
    }
    let mut record = SetRecord::new(set, weight);
    let sorted = &mut scratch.sorted;
    sorted.clear();
    sorted.extend(by_kind.iter().copied().filter(|&w| w > 0.0));
    if sorted.len() < 2 {
        return record;
    }
    sorted.sort_unstable_by(f64::total_cmp);
    record.settled = false;
    for &t in &base.by_classes {
        let test = &base.tests[t as usize];
        if test.classes.len() <= record.most_classes {
            break;
        }
        let classes = test.classes.iter().filter(|&&c| c & set != 0).count();
        record.most_classes = record.most_classes.max(classes);
    }
    record.questions =
        bounds::huffman_sorted(sorted, record.most_classes.max(2), &mut scratch.joined);
    record.bits = bounds::entropy(sorted);
    record.cheapest = base
        .tests
        .iter()
        .find(|t| t.splits(set))
        .map_or(0.0, |t| t.minutes);
    record.rate = base
        .by_rate
        .iter()
        .find(|&&(_, t)| base.tests[t as usize].splits(set))
        .map_or(0.0, |&(rate, _)| rate);
    record
}

/// A lower bound on the minutes from a set in a state, times weight.
///
/// For each atom, the test that tells it from the atom of another kind that is
/// hardest to reach must be made, with the changes of state on the way. All other
/// tests on its path cost at least the cheapest each, and how many there are is
/// bounded by Huffman's code; or, bit for bit, at least the best rate.
fn first_lower(base: &Base, record: &SetRecord, state: usize) -> f64 {
    if record.settled {
        return 0.0;
    }
    let n = base.weights.len();
    let apart = &base.apart[state];
    let farthest = &base.farthest[state];
    let mut reach = 0.0;
    for i in atoms_of(record.set) {
        if let Some(&j) = farthest[i].iter().find(|&&j| record.set >> j & 1 == 1) {
            reach += base.weights[i] * apart[i * n + j as usize];
        }
    }
    let by_count = (record.questions - record.weight).max(0.0) * record.cheapest;
    let first_bits = record.weight * libm::log2(record.most_classes as f64);
    let by_bits = (record.bits - first_bits).max(0.0) * record.rate;
    reach + by_count.max(by_bits)
}
