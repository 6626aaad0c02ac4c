//! The numeric LDLᵀ factor of a network of conductances.
//!
//! Eliminating a node is the star-mesh transformation: its branches are replaced by branches between its
//! neighbours. Keeping each node's conductance to ground as a branch like any other, instead of a diagonal
//! entry, makes every operation a sum, product or quotient of numbers that are not negative (the scheme of
//! Grassmann, Taksar and Heyman, Operations Research 33, 1985). Nothing can cancel: ten decades between
//! conductances cost no digit, every pivot is positive, and a pivot is exactly zero if and only if its
//! island has no path to ground.

use super::balance::Still;
use super::pattern::Pattern;

/// Label of an island: 0 is the one that ground belongs to.
pub(super) type Island = u32;

#[derive(Clone, Debug, Default)]
pub(super) struct Factor {
    /// Conductances before elimination, the factor's column entries after it.
    values: Vec<f64>,
    /// Reciprocals of the pivots.
    inverse: Vec<f64>,
    /// Last place of each floating island, in the order of labels from 1.
    pins: Vec<u32>,
}

impl Factor {
    /// Factors a network whose curved elements have these slopes.
    pub(super) fn take(&mut self, still: Still, slopes: impl Iterator<Item = f64>) {
        let pattern = still.pattern;
        self.values.clear();
        self.values.resize(pattern.slots(), 0.0);
        self.inverse.resize(pattern.n, 0.0);
        for (&slot, &siemens) in pattern.slot.iter().zip(still.siemens) {
            self.values[slot as usize] += siemens;
        }
        for ((element, _), siemens) in still.tables.curved.iter().zip(slopes) {
            self.values[pattern.slot[*element as usize] as usize] += siemens;
        }
        self.eliminate(pattern);
    }

    /// Eliminates all nodes. A floating island's last node is tied to ground by a fictitious 1 S, which carries
    /// nothing as long as the currents put into the island add up to zero.
    fn eliminate(&mut self, pattern: &Pattern) {
        let ground = pattern.rows.len();
        let mut target = 0;
        self.pins.clear();
        for k in 0..pattern.n {
            let column = pattern.column(k);
            let (done, rest) = self.values.split_at_mut(column.end);
            let entries = &mut done[column.clone()];
            let rows = &pattern.rows[column.clone()];
            let shift = column.end;
            let to_ground = rest[ground + k - shift];
            let pivot = to_ground + entries.iter().sum::<f64>();
            let targets = &pattern.targets
                [target..target + entries.len() * entries.len().saturating_sub(1) / 2];
            target += targets.len();
            if pivot == 0.0 {
                self.pins.push(k as u32);
                self.inverse[k] = 1.0;
                continue;
            }
            let inverse = 1.0 / pivot;
            self.inverse[k] = inverse;
            let mut next = 0;
            for i in 0..entries.len() {
                let share = entries[i] * inverse;
                entries[i] = share;
                let later = &entries[i + 1..];
                if share != 0.0 {
                    rest[ground + rows[i] as usize - shift] += share * to_ground;
                    for (other, &to) in later.iter().zip(&targets[next..]) {
                        rest[to as usize - shift] += share * other;
                    }
                }
                next += later.len();
            }
        }
    }

    /// Number of floating islands.
    pub(super) fn floating(&self) -> usize {
        self.pins.len()
    }

    /// Labels each place with its island: 0 with a path to ground, 1, 2, ... without.
    pub(super) fn label(&self, pattern: &Pattern, labels: &mut Vec<Island>) {
        labels.clear();
        labels.resize(pattern.n + 1, 0);
        if self.pins.is_empty() {
            return;
        }
        let ground = pattern.rows.len();
        let mut pin = self.pins.len();
        for k in (0..pattern.n).rev() {
            if pin > 0 && self.pins[pin - 1] == k as u32 {
                labels[k] = pin as Island;
                pin -= 1;
            } else if self.values[ground + k] == 0.0 {
                let tied = pattern.column(k).find(|&entry| self.values[entry] != 0.0);
                labels[k] = tied.map_or(0, |entry| labels[pattern.rows[entry] as usize]);
            }
        }
    }

    /// Solves for the voltages that the currents in `x` (amperes into each place) cause, in place.
    pub(super) fn solve(&self, pattern: &Pattern, x: &mut [f64]) {
        // Past the last current nothing is but zeros.
        let mut end = 0;
        for k in 0..pattern.n {
            let amps = x[k];
            if amps == 0.0 {
                continue;
            }
            end = k + 1;
            let column = pattern.column(k);
            for (&row, &share) in pattern.rows[column.clone()]
                .iter()
                .zip(&self.values[column])
            {
                x[row as usize] += share * amps;
            }
        }
        for k in (0..end).rev() {
            let column = pattern.column(k);
            let mut volts = x[k] * self.inverse[k];
            for (&row, &share) in pattern.rows[column.clone()]
                .iter()
                .zip(&self.values[column])
            {
                volts += share * x[row as usize];
            }
            x[k] = volts;
        }
    }

    /// What each place's voltage rises by for one ampere into it: the diagonal of the inverse. No other place's
    /// rises by more.
    ///
    /// From the last place down, each from those that its column reaches: elimination has left an entry for
    /// every two of them (Takahashi, Fagan and Chin, 1973; from memory).
    pub(super) fn resistances(&self, pattern: &Pattern) -> Vec<f64> {
        let mut own = self.inverse.clone();
        own.truncate(pattern.n);
        let mut mutual = vec![0.0; pattern.rows.len()];
        let mut first_target = pattern.targets.len();
        for k in (0..pattern.n).rev() {
            let column = pattern.column(k);
            let rows = &pattern.rows[column.clone()];
            let shares = &self.values[column.clone()];
            let count = rows.len();
            first_target -= count * count.saturating_sub(1) / 2;
            let mut target = first_target;
            let end = column.end;
            let (earlier, later) = mutual.split_at_mut(end);
            let here = &mut earlier[column];
            for i in 0..count {
                here[i] += shares[i] * own[rows[i] as usize];
                for j in i + 1..count {
                    let between = later[pattern.targets[target] as usize - end];
                    here[i] += shares[j] * between;
                    here[j] += shares[i] * between;
                    target += 1;
                }
            }
            own[k] += shares
                .iter()
                .zip(&*here)
                .map(|(share, ohms)| share * ohms)
                .sum::<f64>();
        }
        own
    }
}
