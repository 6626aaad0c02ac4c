//! What was said lately: captions, refusals, findings. The words are made where they are shown.

use tracebay_core::session::{Action, Observation, Refusal};

/// One thing that was said.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// An action was done and showed this.
    Done(Action, Vec<Observation>),
    /// This happened by itself while time ran.
    Happened(Vec<Observation>),
    /// It cannot be done.
    Refused(Refusal),
    /// A sentence of the app's own.
    Told(String),
}

/// The last lines, newest last, each with a running number and the moment it came.
#[derive(Clone, Debug, Default)]
pub struct Lines {
    list: Vec<(u64, f64, Line)>,
    next: u64,
    now_s: f64,
}

/// How many lines are kept.
const KEPT: usize = 200;

impl Lines {
    /// Adds a line.
    pub fn push(&mut self, line: Line) {
        self.list.push((self.next, self.now_s, line));
        self.next += 1;
        if self.list.len() > KEPT {
            self.list.remove(0);
        }
    }

    /// Says how far the program's own time has come, for the age of lines.
    pub fn at(&mut self, now_s: f64) {
        self.now_s = now_s;
    }

    /// The newest line that is not older than `age_s`.
    pub fn latest(&self, age_s: f64) -> Option<(u64, &Line)> {
        self.list
            .last()
            .filter(|(_, t, _)| self.now_s - t <= age_s)
            .map(|(n, _, l)| (*n, l))
    }

    /// Lines not older than `age_s`, oldest first.
    pub fn recent(&self, age_s: f64) -> impl Iterator<Item = (u64, &Line)> {
        self.list
            .iter()
            .filter(move |(_, t, _)| self.now_s - t <= age_s)
            .map(|(n, _, l)| (*n, l))
    }

    /// Lines numbered `from` and later.
    pub fn since(&self, from: u64) -> impl Iterator<Item = (u64, &Line)> {
        self.list
            .iter()
            .filter(move |(n, _, _)| *n >= from)
            .map(|(n, _, l)| (*n, l))
    }

    /// Number the next line will have.
    pub fn next(&self) -> u64 {
        self.next
    }
}
