//! How well a call was proven.
//!
//! Works on a problem and a belief. Must not know points, rubrics or what a
//! hypothesis stands for.

use serde::{Deserialize, Serialize};

use super::problem::{PlanError, Problem, index, length};
use crate::belief::Belief;

/// A rival of the call that a test could still have dealt with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Splittable {
    /// The rival hypothesis.
    pub hypothesis: usize,
    /// Its posterior at the call.
    pub posterior: f64,
    /// The cheapest test that tells it from all that is left of the called group;
    /// where none does, from the most likely hypothesis of the group that any does.
    pub test: usize,
    /// Minutes of that test, with the change to its state where the state at the
    /// call was given.
    pub minutes: f64,
    /// Whether the test tells the rival from all that is left of the called group.
    pub from_whole_group: bool,
}

/// What a call was worth at the moment it was made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Proof {
    /// Posterior of the called group.
    pub posterior: f64,
    /// Posterior of the called group and of those rivals that no allowed test could
    /// have told from it. This is what a fair score looks at.
    pub fair_posterior: f64,
    /// The hypotheses of other groups that were still possible.
    pub still_possible: Vec<usize>,
    /// Those of them that a test could have told from what is left of the called
    /// group, most likely first. Empty for a call as well proven as can be.
    pub splittable: Vec<Splittable>,
    /// Nothing of the called group was possible any more: the evidence speaks
    /// against the call.
    pub contradicted: bool,
}

impl Proof {
    /// Whether all that speaks for another group is what no test could deal with.
    #[must_use]
    pub fn as_good_as_can_be(&self) -> bool {
        !self.contradicted && self.splittable.is_empty()
    }
}

/// How well a call of `group` is proven under a belief.
///
/// # Errors
/// A problem that is not valid, or a belief over other hypotheses.
pub fn proof(problem: &Problem, belief: &Belief, group: u32) -> Result<Proof, PlanError> {
    assess(problem, belief, group, None)
}

/// As [`proof`], counting the change from the state at the call in the minutes of
/// the tests named.
///
/// # Errors
/// As [`proof`], or a state that is not there.
pub fn proof_at(
    problem: &Problem,
    belief: &Belief,
    group: u32,
    state: usize,
) -> Result<Proof, PlanError> {
    index(|| "the state".to_owned(), state, problem.states.len())?;
    assess(problem, belief, group, Some(state))
}

fn assess(
    problem: &Problem,
    belief: &Belief,
    group: u32,
    state: Option<usize>,
) -> Result<Proof, PlanError> {
    problem.validate()?;
    length(
        "the belief",
        belief.len(),
        problem.priors.len(),
        "hypothesis",
    )?;
    let posterior = belief.posterior();
    let (mut called, still_possible): (Vec<usize>, Vec<usize>) = belief
        .possible()
        .into_iter()
        .partition(|&h| problem.groups[h] == group);
    called.sort_by(|&a, &b| posterior[b].total_cmp(&posterior[a]).then(a.cmp(&b)));
    let changes = state.map(|s| problem.quickest_changes().swap_remove(s));
    let minutes = |t: usize| {
        let test = &problem.tests[t];
        test.minutes + changes.as_ref().map_or(0.0, |c| c[test.state])
    };

    let group_posterior = belief.group_posterior(group);
    let mut fair_posterior = group_posterior;
    let mut splittable = Vec::new();
    for &rival in &still_possible {
        match cheapest_split(problem, rival, &called, minutes) {
            Some((test, from_whole_group)) => splittable.push(Splittable {
                hypothesis: rival,
                posterior: posterior[rival],
                test,
                minutes: minutes(test),
                from_whole_group,
            }),
            None if called.is_empty() => {}
            None => fair_posterior += posterior[rival],
        }
    }
    splittable.sort_by(|a, b| {
        b.posterior
            .total_cmp(&a.posterior)
            .then(a.hypothesis.cmp(&b.hypothesis))
    });
    Ok(Proof {
        posterior: group_posterior,
        fair_posterior: fair_posterior.min(1.0),
        still_possible,
        splittable,
        contradicted: called.is_empty(),
    })
}

/// See [`Splittable::test`].
fn cheapest_split(
    problem: &Problem,
    rival: usize,
    called: &[usize],
    minutes: impl Fn(usize) -> f64,
) -> Option<(usize, bool)> {
    let cheapest = |from: &[usize]| {
        let mut best: Option<usize> = None;
        for (t, test) in problem.tests.iter().enumerate() {
            let tells = from
                .iter()
                .all(|&c| test.outcomes[c] != test.outcomes[rival]);
            if tells && best.is_none_or(|b| minutes(t) < minutes(b)) {
                best = Some(t);
            }
        }
        best
    };
    if called.is_empty() {
        return None;
    }
    if let Some(test) = cheapest(called) {
        return Some((test, true));
    }
    called
        .iter()
        .find_map(|&c| cheapest(&[c]))
        .map(|test| (test, false))
}
