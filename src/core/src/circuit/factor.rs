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
        let mut targets = pattern.targets.as_slice();
        self.pins.clear();
        for (k, bounds) in pattern.starts.windows(2).enumerate() {
            let (from, shift) = (bounds[0] as usize, bounds[1] as usize);
            let rows = &pattern.rows[from..shift];
            let (done, rest) = self.values.split_at_mut(shift);
            let entries = &mut done[from..];
            let to_ground = rest[ground + k - shift];
            let pivot = to_ground + entries.iter().sum::<f64>();
            let pairs;
            (pairs, targets) =
                targets.split_at(entries.len() * entries.len().saturating_sub(1) / 2);
            if pivot == 0.0 {
                self.pins.push(k as u32);
                self.inverse[k] = 1.0;
                continue;
            }
            let inverse = 1.0 / pivot;
            self.inverse[k] = inverse;
            // Most places lie between two others.
            if let ([r, s], [to_r, to_s], [pair]) = (rows, &mut *entries, pairs) {
                let share = *to_r * inverse;
                if share != 0.0 {
                    rest[ground + *r as usize - shift] += share * to_ground;
                    rest[*pair as usize - shift] += share * *to_s;
                }
                *to_r = share;
                *to_s *= inverse;
                if *to_s != 0.0 {
                    rest[ground + *s as usize - shift] += *to_s * to_ground;
                }
                continue;
            }
            let mut next = 0;
            for i in 0..entries.len() {
                let share = entries[i] * inverse;
                entries[i] = share;
                let later = &entries[i + 1..];
                if share != 0.0 {
                    rest[ground + rows[i] as usize - shift] += share * to_ground;
                    for (other, &to) in later.iter().zip(&pairs[next..]) {
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
        let (mut rows, mut shares) = (pattern.rows.as_slice(), self.values.as_slice());
        for (k, bounds) in pattern.starts.windows(2).enumerate() {
            let count = (bounds[1] - bounds[0]) as usize;
            let (column, share);
            (column, rows) = rows.split_at(count);
            (share, shares) = shares.split_at(count);
            let amps = x[k];
            if amps == 0.0 {
                continue;
            }
            end = k + 1;
            // Most places lie between two others.
            if let ([r, s], [to_r, to_s]) = (column, share) {
                x[*r as usize] += to_r * amps;
                x[*s as usize] += to_s * amps;
            } else {
                for (&row, &share) in column.iter().zip(share) {
                    x[row as usize] += share * amps;
                }
            }
        }
        let entries = pattern.starts[end] as usize;
        let (mut rows, mut shares) = (&pattern.rows[..entries], &self.values[..entries]);
        for (k, bounds) in pattern.starts[..=end].windows(2).enumerate().rev() {
            let from = bounds[0] as usize;
            let (column, share);
            (rows, column) = rows.split_at(from);
            (shares, share) = shares.split_at(from);
            let mut volts = x[k] * self.inverse[k];
            if let ([r, s], [from_r, from_s]) = (column, share) {
                volts += from_r * x[*r as usize];
                volts += from_s * x[*s as usize];
            } else {
                for (&row, &share) in column.iter().zip(share) {
                    volts += share * x[row as usize];
                }
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
