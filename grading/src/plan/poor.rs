//! The three named kinds of poor check.
//!
//! The names are those of US Army Subcourse IT0338, Introduction to Logical
//! Troubleshooting (1996); the conditions are this project's reading of them.
//! Must not know what a test stands for, nor which habits are forgiven: proving a
//! tool or one confirming reading is the caller's to excuse.

use serde::{Deserialize, Serialize};

use super::planner::Planner;
use super::problem::{PlanError, index, length};
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
        let chosen = &tests[test];
        let elsewhere = tests
            .iter()
            .filter(|t| t.probe == chosen.probe)
            .map(|t| t.outcomes.as_slice());
        poor_check(&chosen.outcomes, elsewhere, belief)
    }
}

/// As [`Planner::classify`] for a test that need not be one of a problem's:
/// `outcomes` is the class it has under each hypothesis, `elsewhere` those of the
/// same probe in the other states.
///
/// # Errors
/// Outcomes that are not one for each hypothesis of the belief.
pub fn poor_check<'a>(
    outcomes: &[u8],
    elsewhere: impl IntoIterator<Item = &'a [u8]>,
    belief: &Belief,
) -> Result<Option<PoorCheck>, PlanError> {
    length("the outcomes", outcomes.len(), belief.len(), "hypothesis")?;
    let possible = belief.possible();
    if open(outcomes, &possible) {
        return Ok(None);
    }
    let at_start: Vec<usize> = (0..belief.len())
        .filter(|&h| belief.possible_at_start(h))
        .collect();
    if open(outcomes, &at_start) {
        return Ok(Some(PoorCheck::Redundant));
    }
    for other in elsewhere {
        length(
            "the outcomes elsewhere",
            other.len(),
            belief.len(),
            "hypothesis",
        )?;
        if open(other, &possible) {
            return Ok(Some(PoorCheck::Premature));
        }
    }
    Ok(Some(PoorCheck::Irrelevant))
}

/// Whether hypotheses differ in the outcome they predict.
fn open(outcomes: &[u8], among: &[usize]) -> bool {
    among
        .windows(2)
        .any(|pair| outcomes[pair[0]] != outcomes[pair[1]])
}
