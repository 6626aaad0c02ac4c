//! Making what the search looks at: sets with what can be said of them at once,
//! nodes with a first lower bound, the tests worth making on a set.
//!
//! Works on bit sets and minutes. Must not know in what order the search asks.

use super::arena::{Action, Node, SetRecord};
use super::base::{Base, Set, atoms_of, bits_of, refines};
use super::bounds;
use super::search::Search;

/// Buffers used again and again, so that the search allocates only what it keeps.
#[derive(Default)]
pub(crate) struct Scratch {
    by_kind: Vec<f64>,
    sorted: Vec<f64>,
    joined: Vec<f64>,
    parts: Vec<Set>,
    /// (position of the test, first part, end of parts) of each test kept.
    kept: Vec<(u32, u32, u32)>,
    /// The positions of those, a bit each, and where in `kept` each is.
    kept_bits: Vec<u64>,
    kept_at: Vec<u32>,
}

impl Search {
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
                let node = Node {
                    set,
                    state: state as u8,
                    rolled: settled,
                    lower,
                    upper,
                };
                self.arena.add_node(hash, node)
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

    /// Lists the tests worth making on a set, if not done before.
    pub fn expand(&mut self, set: u32) {
        if self.arena.actions_of(set).is_some() {
            return;
        }
        let record = &self.arena.sets[set as usize];
        let left = record.set;
        list_splits(&self.base, left, &mut self.scratch);
        let (weight, questions, cheapest) = (record.weight, record.questions, record.cheapest);
        let (bits, most_bits, rate) = (record.bits, record.most_bits, record.rate);
        self.arena.begin_actions(set);
        for &(position, first, end) in &self.scratch.kept {
            let parts = &self.scratch.parts[first as usize..end as usize];
            let state = self.base.tests[position as usize].state;
            // What `first_lower` would say of the parts, without describing each:
            // the test answers one question of the Huffman code, and at most so
            // many bits.
            let by_count = (questions - 2.0 * weight).max(0.0) * cheapest;
            let by_bits = (bits - 2.0 * weight * most_bits).max(0.0) * rate;
            let reach: f64 = parts.iter().map(|&p| reach(&self.base, p, state)).sum();
            let rest = reach + by_count.max(by_bits);
            let gain = gain(&self.base, left, parts);
            self.arena
                .add_action(set, Action::new(position, gain, rest));
        }
        let listed = self.scratch.kept.len() as u64;
        self.steps += listed / 2 + listed * listed / 1024;
    }

    /// Makes the nodes that an action's outcomes lead to, if not done before.
    pub fn make_children(&mut self, set: u32, position: usize) {
        let action = self.arena.action(position);
        if self.arena.children(action).is_some() {
            return;
        }
        let left = self.arena.sets[set as usize].set;
        let test = action.test as usize;
        let state = self.base.tests[test].state;
        let mut children = Vec::new();
        for class in 0..self.base.tests[test].classes.len() {
            let part = self.base.tests[test].classes[class] & left;
            if part != 0 {
                children.push(self.node(part, state));
            }
        }
        self.arena.set_children(position, &children);
    }
}

/// Fills the scratch space with the tests that split a set and their parts,
/// leaving out those that another kept one does at least as well: see `keep_best`
/// of the base, which can only do so where it holds for all sets.
fn list_splits(base: &Base, left: Set, scratch: &mut Scratch) {
    let Scratch {
        parts,
        kept,
        kept_bits,
        kept_at,
        ..
    } = scratch;
    parts.clear();
    kept.clear();
    kept_bits.clear();
    kept_bits.resize(base.tests.len().div_ceil(64), 0);
    kept_at.resize(base.tests.len(), 0);
    let same = base.same_row(left);
    for position in base.splitting(left) {
        let test = &base.tests[position];
        let first = parts.len();
        parts.extend(test.classes.iter().map(|c| c & left).filter(|&p| p != 0));
        let count = parts.len() - first;
        let does_as_well = |k: usize| {
            // The part of the first atom alone mostly tells that it does not.
            if same[k] & left & !same[position] != 0 {
                return false;
            }
            let (_, from, to) = kept[kept_at[k] as usize];
            (to - from) as usize >= count
                && refines(
                    &parts[from as usize..to as usize],
                    &test.classes,
                    &test.class_of,
                )
        };
        let rows = kept_bits.iter().zip(&base.no_longer[position]);
        let dominated = rows.enumerate().any(|(word, (kept, row))| {
            bits_of(kept & row).any(|bit| does_as_well(64 * word + bit))
        });
        if dominated {
            parts.truncate(first);
        } else {
            kept_at[position] = kept.len() as u32;
            kept_bits[position / 64] |= 1 << (position % 64);
            kept.push((position as u32, first as u32, parts.len() as u32));
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
    let kinds = sorted.len();
    if kinds < 2 {
        return record;
    }
    sorted.sort_unstable_by(f64::total_cmp);
    record.settled = false;
    record.most_classes = 2;
    for &t in &base.by_classes {
        let test = &base.tests[t as usize];
        // More classes than kinds are never needed to bound the questions.
        if record.most_classes >= kinds || test.classes.len() <= record.most_classes {
            break;
        }
        let classes = test.classes.iter().filter(|&&c| c & set != 0).count();
        record.most_classes = record.most_classes.max(classes.min(kinds));
    }
    record.most_bits = libm::log2(record.most_classes as f64);
    record.questions = bounds::huffman_sorted(sorted, record.most_classes, &mut scratch.joined);
    record.bits = bounds::entropy(sorted);
    // Tests are in order of minutes.
    record.cheapest = base
        .splitting(set)
        .next()
        .map_or(0.0, |t| base.tests[t].minutes);
    let same = base.same_row(set);
    record.rate = base
        .by_rate
        .iter()
        .find(|&&(_, t)| set & !same[t as usize] != 0)
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
    let by_count = (record.questions - record.weight).max(0.0) * record.cheapest;
    let by_bits = (record.bits - record.weight * record.most_bits).max(0.0) * record.rate;
    reach(base, record.set, state) + by_count.max(by_bits)
}

/// Minutes to what tells each atom from the hardest of another kind, times weight.
fn reach(base: &Base, set: Set, state: usize) -> f64 {
    let n = base.weights.len();
    let apart = &base.apart[state];
    let farthest = &base.farthest[state];
    let mut total = 0.0;
    for i in atoms_of(set) {
        if let Some(&j) = farthest[i].iter().find(|&&j| set >> j & 1 == 1) {
            total += base.weights[i] * apart[i * n + j as usize];
        }
    }
    total
}

/// Information on the kind that a split of a set gives, in bits, times weight: the
/// uncertainty of the outcome less what would be left of it if the kind were known.
fn gain(base: &Base, set: Set, parts: &[Set]) -> f64 {
    let uncertainty = |within: Set| {
        let mut whole = 0.0;
        let mut sum = 0.0;
        for &part in parts {
            let w = base.weight_of(part & within);
            whole += w;
            if w > 0.0 {
                sum -= w * libm::log2(w);
            }
        }
        if whole > 0.0 {
            sum + whole * libm::log2(whole)
        } else {
            0.0
        }
    };
    let mut gain = uncertainty(set);
    for &kind in &base.shared_kinds {
        let within = kind & set;
        // A kind that lies in one part leaves no uncertainty.
        if within & within.wrapping_sub(1) != 0 && parts.iter().all(|&p| within & !p != 0) {
            gain -= uncertainty(within);
        }
    }
    gain.max(0.0)
}
