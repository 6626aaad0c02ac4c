//! Storage of the search: sets met, and for each set and state what is known of
//! the minutes still needed.
//!
//! Must not know how the search chooses. Look-up is by an own open-addressing
//! table that is never iterated, so its order can never show in a result.

use super::base::Set;

/// Marks "not yet".
const NONE: u32 = u32::MAX;

/// A set of atoms that was met.
pub(crate) struct SetRecord {
    pub set: Set,
    pub weight: f64,
    /// Huffman bound on the tests needed, times weight.
    pub questions: f64,
    /// Entropy over kinds in bits, times weight.
    pub bits: f64,
    /// Minutes of the cheapest test that splits the set.
    pub cheapest: f64,
    /// Least minutes for a bit over the tests that split the set.
    pub rate: f64,
    /// The most classes a test splits the set into, or the number of kinds where
    /// that is less; and its binary logarithm.
    pub most_classes: usize,
    pub most_bits: f64,
    /// Only one kind is left.
    pub settled: bool,
    first_action: u32,
    action_count: u32,
}

/// What is known of one set in one state. Minutes are times the set's weight.
pub(crate) struct Node {
    pub set: u32,
    pub state: u8,
    /// Whether a rollout has given `upper` its first value.
    pub rolled: bool,
    pub lower: f64,
    pub upper: f64,
}

/// One test that may be made on a set; the same whatever state one stands in.
///
/// Its outcomes become nodes only once the search looks at them: most tests are
/// set aside on the strength of `rest` alone.
pub(crate) struct Action {
    /// Position among the base's tests.
    pub test: u32,
    /// Information on the kind in bits, times weight.
    pub gain: f64,
    /// Lower bound on the minutes after the test, times weight.
    pub rest: f64,
    first_child: u32,
    child_count: u32,
}

#[derive(Default)]
pub(crate) struct Arena {
    pub sets: Vec<SetRecord>,
    pub nodes: Vec<Node>,
    actions: Vec<Action>,
    children: Vec<u32>,
    set_table: Table,
    node_table: Table,
}

impl Arena {
    /// A measure of the memory held: one is at most about 200 bytes.
    pub fn size(&self) -> usize {
        self.nodes.len() + self.actions.len() / 4
    }

    pub fn find_set(&self, set: Set) -> Result<u32, u32> {
        let hash = fold(mix(set as u64) ^ mix((set >> 64) as u64).rotate_left(17));
        self.set_table
            .find(hash, |i| self.sets[i as usize].set == set)
            .ok_or(hash)
    }

    /// Adds a set that [`Arena::find_set`] did not find.
    pub fn add_set(&mut self, hash: u32, mut record: SetRecord) -> u32 {
        record.first_action = NONE;
        record.action_count = 0;
        let id = self.sets.len() as u32;
        self.sets.push(record);
        self.set_table.insert(hash, id);
        id
    }

    pub fn find_node(&self, set: u32, state: u8) -> Result<u32, u32> {
        let hash = fold(mix((u64::from(set) << 8) | u64::from(state)));
        self.node_table
            .find(hash, |i| {
                let n = &self.nodes[i as usize];
                n.set == set && n.state == state
            })
            .ok_or(hash)
    }

    /// Adds a node that [`Arena::find_node`] did not find.
    pub fn add_node(&mut self, hash: u32, node: Node) -> u32 {
        let id = self.nodes.len() as u32;
        self.nodes.push(node);
        self.node_table.insert(hash, id);
        id
    }

    /// The positions of a set's actions, if it was expanded.
    pub fn actions_of(&self, set: u32) -> Option<std::ops::Range<usize>> {
        let s = &self.sets[set as usize];
        (s.first_action != NONE).then(|| {
            let first = s.first_action as usize;
            first..first + s.action_count as usize
        })
    }

    pub fn begin_actions(&mut self, set: u32) {
        self.sets[set as usize].first_action = self.actions.len() as u32;
    }

    /// Adds an action, without its children, to the set last begun.
    pub fn add_action(&mut self, set: u32, action: Action) {
        self.actions.push(action);
        self.sets[set as usize].action_count += 1;
    }

    pub fn action(&self, position: usize) -> &Action {
        &self.actions[position]
    }

    /// The nodes an action's outcomes lead to; `None` if not made yet.
    pub fn children(&self, action: &Action) -> Option<&[u32]> {
        let first = action.first_child as usize;
        (action.first_child != NONE)
            .then(|| &self.children[first..first + action.child_count as usize])
    }

    /// Gives an action its children.
    pub fn set_children(&mut self, position: usize, children: &[u32]) {
        let action = &mut self.actions[position];
        action.first_child = self.children.len() as u32;
        action.child_count = children.len() as u32;
        self.children.extend_from_slice(children);
    }
}

impl SetRecord {
    pub fn new(set: Set, weight: f64) -> Self {
        Self {
            set,
            weight,
            questions: 0.0,
            bits: 0.0,
            cheapest: 0.0,
            rate: 0.0,
            most_classes: 1,
            most_bits: 0.0,
            settled: true,
            first_action: NONE,
            action_count: 0,
        }
    }
}

impl Action {
    pub fn new(test: u32, gain: f64, rest: f64) -> Self {
        Self {
            test,
            gain,
            rest,
            first_child: NONE,
            child_count: 0,
        }
    }
}

/// Hash table of indices: open addressing, linear probing, doubled at half full.
#[derive(Default)]
struct Table {
    /// Hash in the high half and index in the low half, or [`FREE`].
    slots: Vec<u64>,
    used: usize,
}

const FREE: u64 = u64::MAX;

impl Table {
    fn find(&self, hash: u32, same: impl Fn(u32) -> bool) -> Option<u32> {
        if self.slots.is_empty() {
            return None;
        }
        let mask = self.slots.len() - 1;
        let mut at = hash as usize & mask;
        loop {
            let slot = self.slots[at];
            if slot == FREE {
                return None;
            }
            if (slot >> 32) as u32 == hash && same(slot as u32) {
                return Some(slot as u32);
            }
            at = (at + 1) & mask;
        }
    }

    fn insert(&mut self, hash: u32, index: u32) {
        if self.used * 2 >= self.slots.len() {
            let mut larger = vec![FREE; (self.slots.len() * 2).max(64)];
            for &slot in self.slots.iter().filter(|&&s| s != FREE) {
                Self::put(&mut larger, slot);
            }
            self.slots = larger;
        }
        self.used += 1;
        Self::put(&mut self.slots, (u64::from(hash) << 32) | u64::from(index));
    }

    fn put(slots: &mut [u64], entry: u64) {
        let mask = slots.len() - 1;
        let mut at = (entry >> 32) as usize & mask;
        while slots[at] != FREE {
            at = (at + 1) & mask;
        }
        slots[at] = entry;
    }
}

/// Spreads the bits of a key: multiply by an odd constant (2^64 over the golden
/// ratio, after D. E. Knuth, The Art of Computer Programming, volume 3, 6.4) and
/// fold the high bits down, twice.
fn mix(key: u64) -> u64 {
    let a = (key ^ (key >> 32)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    let b = (a ^ (a >> 29)).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    b ^ (b >> 32)
}

fn fold(hash: u64) -> u32 {
    (hash ^ (hash >> 32)) as u32
}
