//! The three named kinds of poor check.
//!
//! The names are those of US Army Subcourse IT0338, Introduction to Logical
//! Troubleshooting (1996); the conditions are this project's reading of them.
//! Must not know what a test stands for, nor which habits are forgiven: proving a
//! tool or one confirming reading is the caller's to excuse.

use serde::{Deserialize, Serialize};

use super::planner::Planner;
use super::problem::{PlanError, index};
use crate::belief::Belief;

/// Why a test could tell nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum PoorCheck {
    /// Its outcome was open at the start, and the evidence since had settled it.
    Redundant,
    /// In no state could it separate what is still possible.
    Irrelevant,
    /// It could tell nothing in this state, yet the same probe would in another.
    Premature,
}

impl Planner {
    /// Names what is poor about making a test now; `None` if its outcome is open.
    ///
    /// A test whose outcome the learner's evidence has settled is redundant even
    /// if its probe would tell something in another state: it was already known
    /// here. One that never told anything in this state is premature if the probe
    /// tells something in another state, and irrelevant otherwise.
    ///
    /// # Errors
    /// A belief over other hypotheses, or a test or state that is not there.
    pub fn classify(
        &self,
        test: usize,
        belief: &Belief,
        state: usize,
    ) -> Result<Option<PoorCheck>, PlanError> {
        self.check(belief, state)?;
        let tests = &self.problem.tests;
        index(|| "the test".to_owned(), test, tests.len())?;
        let possible = belief.possible();
        let at_start: Vec<usize> = (0..belief.len())
            .filter(|&h| belief.possible_at_start(h))
            .collect();
        let open = |outcomes: &[u8], among: &[usize]| {
            among
                .windows(2)
                .any(|pair| outcomes[pair[0]] != outcomes[pair[1]])
        };
        let chosen = &tests[test];
        if open(&chosen.outcomes, &possible) {
            return Ok(None);
        }
        if open(&chosen.outcomes, &at_start) {
            return Ok(Some(PoorCheck::Redundant));
        }
        let elsewhere = tests
            .iter()
            .any(|t| t.probe == chosen.probe && open(&t.outcomes, &possible));
        Ok(Some(if elsewhere {
            PoorCheck::Premature
        } else {
            PoorCheck::Irrelevant
        }))
    }
}
