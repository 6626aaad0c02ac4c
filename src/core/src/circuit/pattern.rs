//! Where the factor of a network's matrix can have entries: a fill-reducing order of the nodes and the
//! pattern that elimination in that order leaves. Depends on who is connected to whom, never on values.

use super::network::Structure;
use std::collections::BTreeSet;

/// The symbolic factorisation. Nodes are renumbered by their place in the order of elimination; ground comes
/// last, at place `n`, and has no column.
#[derive(Debug)]
pub(super) struct Pattern {
    /// Nodes other than ground.
    pub(super) n: usize,
    /// Place of each node.
    pub(super) place: Vec<u32>,
    /// Ends of each element as places.
    pub(super) ends: Vec<[u32; 2]>,
    /// Where each element's conductance is added (see [`Pattern::slots`]).
    pub(super) slot: Vec<u32>,
    /// Column k holds `rows[starts[k]..starts[k + 1]]`, all greater than k, rising.
    pub(super) starts: Vec<u32>,
    pub(super) rows: Vec<u32>,
    /// For each column and each pair of its rows i < j, where the entry (i, j) lies.
    pub(super) targets: Vec<u32>,
}

impl Pattern {
    pub(super) fn new(structure: &Structure) -> Pattern {
        let nodes = structure.node_count();
        let n = nodes - 1;
        // An element with an end outside the network is reported at the solve; here it is only left out.
        let valid = |&(a, b): &(super::NodeId, super::NodeId)| {
            (a.0 as usize) < nodes && (b.0 as usize) < nodes
        };
        let mut neighbours = vec![BTreeSet::new(); n];
        for (a, b) in structure.ends.iter().copied().filter(valid) {
            if a != b && a.0 != 0 && b.0 != 0 {
                neighbours[a.0 as usize - 1].insert(b.0 as usize - 1);
                neighbours[b.0 as usize - 1].insert(a.0 as usize - 1);
            }
        }
        let (order, columns) = eliminate(neighbours);
        let mut place = vec![n as u32; nodes];
        for (at, &node) in order.iter().enumerate() {
            place[node + 1] = at as u32;
        }
        let mut starts = vec![0];
        let mut rows = Vec::new();
        for column in &columns {
            let from = rows.len();
            rows.extend(column.iter().map(|&node| place[node + 1]));
            rows[from..].sort_unstable();
            starts.push(rows.len() as u32);
        }
        let mut pattern = Pattern {
            n,
            place,
            ends: Vec::new(),
            slot: Vec::new(),
            starts,
            rows,
            targets: Vec::new(),
        };
        for k in 0..n {
            let column = pattern.column(k);
            for i in column.clone() {
                for j in i + 1..column.end {
                    let target = pattern.entry(pattern.rows[i], pattern.rows[j]);
                    pattern.targets.push(target);
                }
            }
        }
        for ends in &structure.ends {
            let (a, b) = if valid(ends) {
                (ends.0.0, ends.1.0)
            } else {
                (0, 0)
            };
            let (a, b) = (pattern.place[a as usize], pattern.place[b as usize]);
            pattern.ends.push([a, b]);
            let slot = pattern.entry(a.min(b), a.max(b));
            pattern.slot.push(slot);
        }
        pattern
    }

    /// Length of the array of values: an entry for each of `rows`, then each node's conductance to ground,
    /// then one that takes what elements with both ends on one node would add.
    pub(super) fn slots(&self) -> usize {
        self.rows.len() + self.n + 1
    }

    pub(super) fn column(&self, k: usize) -> std::ops::Range<usize> {
        self.starts[k] as usize..self.starts[k + 1] as usize
    }

    /// Where the conductance between two places lies, the lower place first.
    fn entry(&self, low: u32, high: u32) -> u32 {
        if low == high {
            return (self.rows.len() + self.n) as u32;
        }
        if high as usize == self.n {
            return self.rows.len() as u32 + low;
        }
        let column = self.column(low as usize);
        let at = self.rows[column.clone()].binary_search(&high);
        (column.start + at.expect("elimination leaves every pair of a column's rows connected"))
            as u32
    }
}

/// Minimum degree: always the node with fewest neighbours left, the lowest number first. Returns the order and
/// each column's rows (node numbers), in that order.
fn eliminate(mut neighbours: Vec<BTreeSet<usize>>) -> (Vec<usize>, Vec<Vec<usize>>) {
    let n = neighbours.len();
    let mut queue: BTreeSet<(usize, usize)> = neighbours
        .iter()
        .enumerate()
        .map(|(node, near)| (near.len(), node))
        .collect();
    let mut order = Vec::with_capacity(n);
    let mut columns = Vec::with_capacity(n);
    while let Some((_, node)) = queue.pop_first() {
        let near: Vec<usize> = std::mem::take(&mut neighbours[node]).into_iter().collect();
        for &one in &near {
            queue.remove(&(neighbours[one].len(), one));
            neighbours[one].remove(&node);
            neighbours[one].extend(near.iter().copied().filter(|&other| other != one));
            queue.insert((neighbours[one].len(), one));
        }
        order.push(node);
        columns.push(near);
    }
    (order, columns)
}
