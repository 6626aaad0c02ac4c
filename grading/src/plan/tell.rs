//! What a test could tell, for showing beside what it did tell.
//!
//! Works on a problem and a belief. Must not know words, screens or scores.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::problem::{PlanError, Problem, index, length};
use crate::belief::{Belief, entropy_bits};

/// One outcome a test could have.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Prospect {
    /// The outcome class.
    pub class: u8,
    /// How likely it is.
    pub probability: f64,
    /// The hypotheses still possible that predict it.
    pub hypotheses: Vec<usize>,
    /// Uncertainty over the repair groups, in bits, after this outcome.
    pub group_bits_after: f64,
}

/// The outcomes a test could have under a belief, in the order of their classes.
///
/// Hypotheses below the belief's floor are left out, so that the probabilities sum
/// to one over those still possible.
///
/// # Errors
/// A test that is not there, or a problem or belief of another length.
pub fn prospects(
    problem: &Problem,
    test: usize,
    belief: &Belief,
) -> Result<Vec<Prospect>, PlanError> {
    index(|| "the test".to_owned(), test, problem.tests.len())?;
    let outcomes = &problem.tests[test].outcomes;
    length("the belief", belief.len(), outcomes.len(), "hypothesis")?;
    let posterior = belief.posterior();
    let mut by_class: BTreeMap<u8, Vec<usize>> = BTreeMap::new();
    let mut total = 0.0;
    for h in belief.possible() {
        by_class.entry(outcomes[h]).or_default().push(h);
        total += posterior[h];
    }
    let prospect = |(class, hypotheses): (u8, Vec<usize>)| {
        let weight: f64 = hypotheses.iter().map(|&h| posterior[h]).sum();
        let mut by_group = BTreeMap::new();
        for &h in &hypotheses {
            *by_group.entry(belief.groups()[h]).or_insert(0.0) += posterior[h] / weight;
        }
        let shares: Vec<f64> = by_group.into_values().collect();
        Prospect {
            class,
            probability: weight / total,
            hypotheses,
            group_bits_after: entropy_bits(&shares),
        }
    };
    Ok(by_class.into_iter().map(prospect).collect())
}
