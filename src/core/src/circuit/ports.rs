//! Tools on a factored network: a low-rank correction of the factor's answer.
//!
//! Unknown are each tool's current and, for each floating island that tools tie to something else, the
//! island's voltage as a whole. Tools that conduct nothing are left out before they come here.

use super::dense::Dense;
use super::factor::{Factor, Island};
use super::pattern::Pattern;

/// The places a tool touches.
pub(super) type PortEnds = [u32; 2];

#[derive(Clone, Debug, Default)]
pub(super) struct Ports {
    ends: Vec<PortEnds>,
    /// Voltages that one ampere drawn through each tool causes, column after column, `n + 1` long each.
    columns: Vec<f64>,
    /// Voltage across tool t for one ampere through tool u, row after row.
    transfer: Vec<f64>,
    /// Islands after the tools tied them together: the lowest label among those tied.
    merged: Vec<Island>,
    /// Islands whose voltage as a whole is unknown.
    lifted: Vec<Island>,
    lift_v: Vec<f64>,
    dense: Dense,
}

impl Ports {
    /// Takes the tools' places and works out which islands they tie together.
    pub(super) fn attach(
        &mut self,
        ends: impl Iterator<Item = PortEnds>,
        labels: &[Island],
        floating: usize,
    ) {
        self.ends.clear();
        self.ends.extend(ends);
        self.merged.clear();
        self.merged.extend(0..=floating as Island);
        for end in &self.ends {
            let [a, b] = end.map(|place| self.merged[labels[place as usize] as usize]);
            let (low, high) = (a.min(b), a.max(b));
            if low != high {
                for label in &mut self.merged {
                    if *label == high {
                        *label = low;
                    }
                }
            }
        }
        self.lifted.clear();
        self.lifted.extend(
            (1..=floating as Island).filter(|&island| self.merged[island as usize] != island),
        );
        self.lift_v.clear();
        self.lift_v.resize(floating + 1, 0.0);
    }

    /// Islands after tying, by label before it.
    pub(super) fn merged(&self) -> &[Island] {
        &self.merged
    }

    /// Works out the tools' columns for a factor.
    pub(super) fn factored(&mut self, factor: &Factor, pattern: &Pattern) {
        let (count, length) = (self.ends.len(), pattern.n + 1);
        self.columns.clear();
        self.columns.resize(count * length, 0.0);
        self.transfer.clear();
        self.transfer.resize(count * count, 0.0);
        if length == 1 {
            return;
        }
        for (column, &[a, b]) in self.columns.chunks_exact_mut(length).zip(&self.ends) {
            if a != b {
                column[a as usize] = 1.0;
                column[b as usize] = -1.0;
                column[pattern.n] = 0.0;
                factor.solve(pattern, column);
            }
        }
        for (t, &[a, b]) in self.ends.iter().enumerate() {
            for u in 0..count {
                let column = &self.columns[u * length..][..length];
                self.transfer[t * count + u] = column[a as usize] - column[b as usize];
            }
        }
    }

    /// Turns `step`, the factor's answer to the currents `into`, into the answer with tools in place that have
    /// the given slopes and carry `amps` that `into` leaves out. False if there is no answer.
    pub(super) fn correct(
        &mut self,
        slopes: &[f64],
        amps: &[f64],
        labels: &[Island],
        into: &[f64],
        step: &mut [f64],
    ) -> bool {
        let (count, length) = (self.ends.len(), step.len());
        if count == 0 {
            return true;
        }
        self.lay_out(slopes, labels);
        for (t, &[a, b]) in self.ends.iter().enumerate() {
            *self.dense.right(t) = amps[t] + slopes[t] * (step[a as usize] - step[b as usize]);
        }
        for (at, &island) in self.lifted.iter().enumerate() {
            let mut sum = 0.0;
            for (&label, &amps) in labels.iter().zip(into) {
                if label == island {
                    sum += amps;
                }
            }
            *self.dense.right(count + at) = sum;
        }
        if !self.dense.solve() {
            return false;
        }
        for t in 0..count {
            let amps = *self.dense.right(t);
            let column = &self.columns[t * length..][..length];
            for (volts, &per_amp) in step.iter_mut().zip(column) {
                *volts -= amps * per_amp;
            }
        }
        if !self.lifted.is_empty() {
            for (at, &island) in self.lifted.iter().enumerate() {
                self.lift_v[island as usize] = *self.dense.right(count + at);
            }
            for (volts, &label) in step.iter_mut().zip(labels) {
                *volts += self.lift_v[label as usize];
            }
        }
        true
    }

    /// Works out what the tools alone, with the given slopes and whole currents, change across each of them on
    /// a network that was in balance without them; into `change_v`. False if there is no answer.
    pub(super) fn across_tools(
        &mut self,
        slopes: &[f64],
        amps: &[f64],
        labels: &[Island],
        change_v: &mut Vec<f64>,
    ) -> bool {
        let count = self.ends.len();
        self.lay_out(slopes, labels);
        for (t, &amps) in amps.iter().enumerate() {
            *self.dense.right(t) = amps;
        }
        if !self.dense.solve() {
            return false;
        }
        change_v.clear();
        for (t, &[a, b]) in self.ends.iter().enumerate() {
            let mut volts = 0.0;
            for u in 0..count {
                volts -= *self.dense.right(u) * self.transfer[t * count + u];
            }
            for (at, &island) in self.lifted.iter().enumerate() {
                volts += *self.dense.right(count + at) * lifts(labels, [a, b], island);
            }
            change_v.push(volts);
        }
        true
    }

    /// The system's left side: tools' currents first, then the voltages of what floats.
    fn lay_out(&mut self, slopes: &[f64], labels: &[Island]) {
        let count = self.ends.len();
        self.dense.clear(count + self.lifted.len());
        for (t, (&ends, &slope)) in self.ends.iter().zip(slopes).enumerate() {
            for u in 0..count {
                *self.dense.cell(t, u) = slope * self.transfer[t * count + u];
            }
            *self.dense.cell(t, t) += 1.0;
            for (at, &island) in self.lifted.iter().enumerate() {
                let sign = lifts(labels, ends, island);
                *self.dense.cell(t, count + at) = -slope * sign;
                *self.dense.cell(count + at, t) = sign;
            }
        }
    }
}

/// How lifting an island by a volt changes what lies across a tool.
fn lifts(labels: &[Island], [a, b]: PortEnds, island: Island) -> f64 {
    f64::from(i8::from(labels[a as usize] == island))
        - f64::from(i8::from(labels[b as usize] == island))
}
