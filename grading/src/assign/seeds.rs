//! Everybody's seeds, from the class secret.
//!
//! The mapping is written down here and never changes, so that an instructor who kept the secret,
//! the roster's order and the scenario files can make the same seeds again.

use sha2::{Digest, Sha256};
use tracebay_core::scenario::{Catalogue, MAX_SEED};

use super::{Task, TaskError};

/// So many learners before one in the roster do not get the same fault at the same attempt.
pub const NEIGHBOURS: usize = 2;

/// Draws after which a fault that a neighbour has is accepted: a scenario may have fewer faults
/// than there are neighbours.
const MOST_TRIES: u32 = 64;

/// A seed out of the secret and what it is for: the first eight bytes of SHA-256 over the lines
/// below, of which the upper 53 bits count.
pub fn derived_seed(
    secret: &str,
    assignment: &str,
    learner: &str,
    scenario: &str,
    attempt: usize,
    draw: u32,
) -> u64 {
    let text = format!(
        "tracebay class seeds 1\n{secret}\n{assignment}\n{learner}\n{scenario}\n{attempt}\n{draw}\n"
    );
    let hash = Sha256::digest(text.as_bytes());
    let mut first = [0; 8];
    first.copy_from_slice(&hash[..8]);
    // MAX_SEED is all 53 bits set.
    (u64::from_be_bytes(first) >> 11) & MAX_SEED
}

/// Gives seeds to one learner after the other, in the roster's order.
pub struct Sequence<'a> {
    secret: &'a str,
    assignment: &'a str,
    tasks: &'a [Task],
    attempts: usize,
    catalogue: &'a Catalogue,
    /// The faults of the learners before: for each learner, task and attempt the candidate drawn.
    before: Vec<Vec<Vec<Option<usize>>>>,
}

impl<'a> Sequence<'a> {
    /// Before the first learner.
    pub fn new(
        secret: &'a str,
        assignment: &'a str,
        tasks: &'a [Task],
        attempts: u32,
        catalogue: &'a Catalogue,
    ) -> Sequence<'a> {
        Sequence {
            secret,
            assignment,
            tasks,
            attempts: attempts as usize,
            catalogue,
            before: Vec::new(),
        }
    }

    /// The seeds of the next learner: for each task, one for each attempt. None has the fault of a
    /// neighbour, nor of an earlier attempt of the same learner, where there are faults enough.
    ///
    /// # Errors
    /// A scenario is not at hand.
    pub fn next(&mut self, learner: &str) -> Result<Vec<Vec<u64>>, TaskError> {
        let mut seeds = Vec::new();
        let mut faults = Vec::new();
        for (t, task) in self.tasks.iter().enumerate() {
            let mut own_seeds: Vec<u64> = Vec::new();
            let mut own_faults = Vec::new();
            for attempt in 0..self.attempts {
                let near: Vec<Option<usize>> = self
                    .before
                    .iter()
                    .rev()
                    .take(NEIGHBOURS)
                    .map(|other| other[t][attempt])
                    .collect();
                let mut chosen = (0, None);
                for draw in 0..MOST_TRIES {
                    let seed = derived_seed(
                        self.secret,
                        self.assignment,
                        learner,
                        &task.scenario,
                        attempt,
                        draw,
                    );
                    let fault = task.case(self.catalogue, seed)?.reveal();
                    chosen = (seed, fault);
                    if !near.contains(&fault)
                        && !own_faults.contains(&fault)
                        && !own_seeds.contains(&seed)
                    {
                        break;
                    }
                }
                own_seeds.push(chosen.0);
                own_faults.push(chosen.1);
            }
            seeds.push(own_seeds);
            faults.push(own_faults);
        }
        self.before.push(faults);
        Ok(seeds)
    }
}
