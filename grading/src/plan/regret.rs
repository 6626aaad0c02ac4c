//! What a choice gave away.
//!
//! Compares the best that could be expected before a choice with the best that
//! could be expected by way of it. Must not know what was chosen, nor how many
//! minutes are forgiven.

use serde::{Deserialize, Serialize};

use super::base::{Set, atoms_of};
use super::planner::{Bound, Planner};
use super::problem::{PlanError, TestInfo, index, length, minutes_ok};
use super::search::Span;
use crate::belief::Belief;

/// How many expected minutes a choice gave away against the best.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Regret {
    /// It gave away at least this much.
    pub lower: f64,
    /// It gave away at most this much.
    pub upper: f64,
    /// The difference between the best known ways of going on, within the bounds.
    pub estimate: f64,
    /// The three are the same but for rounding.
    pub exact: bool,
    /// Expected minutes to a proven call before the choice.
    pub before: Bound,
    /// Expected minutes to a proven call by way of the choice, its own included.
    pub through: Bound,
}

impl Regret {
    /// The minutes to be judged: the estimate.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.estimate
    }
}

/// Something done that need not be one of the problem's tests.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice<'a> {
    /// Minutes it took in all, changes of state included.
    pub minutes: f64,
    /// The state it left behind.
    pub state_after: usize,
    /// The outcome class under each hypothesis; empty if it shows nothing, such
    /// as a change of state.
    pub outcomes: &'a [u8],
}

impl Planner {
    /// What making a test next gives away against the best choice, in expected
    /// minutes: its cost, with the quickest change to its state, and the best
    /// remainder after it, less the best remainder before it.
    ///
    /// # Errors
    /// As [`Planner::expected_minutes`], or a test that is not there.
    pub fn regret(
        &mut self,
        test: usize,
        belief: &Belief,
        state: usize,
    ) -> Result<Regret, PlanError> {
        self.check(belief, state)?;
        index(|| "the test".to_owned(), test, self.problem.tests.len())?;
        let chosen = &self.problem.tests[test];
        let outcomes = chosen.outcomes.clone();
        let choice = Choice {
            minutes: self.search.base.change[state][chosen.state] + chosen.minutes,
            state_after: chosen.state,
            outcomes: &outcomes,
        };
        self.regret_of(&choice, belief, state)
    }

    /// As [`Planner::regret`] for anything done, whether it is one of the tests,
    /// a change of state, or something only the caller knows.
    ///
    /// Something not among the tests may do better than all of them; that is no
    /// regret, not a negative one. If it tells apart what none of them does, it is
    /// taken as one of them for this question: finding more out is no waste.
    ///
    /// # Errors
    /// As [`Planner::expected_minutes`]; outcomes of the wrong length; minutes that
    /// are negative or not a number.
    pub fn regret_of(
        &mut self,
        choice: &Choice<'_>,
        belief: &Belief,
        state: usize,
    ) -> Result<Regret, PlanError> {
        minutes_ok(|| "the minutes of the choice".to_owned(), choice.minutes)?;
        index(
            || "the state after the choice".to_owned(),
            choice.state_after,
            self.problem.states.len(),
        )?;
        if !choice.outcomes.is_empty() {
            length(
                "the outcomes of the choice",
                choice.outcomes.len(),
                self.problem.priors.len(),
                "hypothesis",
            )?;
        }
        let (set, weight) = self.focus(belief, state)?;
        let Some(parts) = self.parts(set, choice.outcomes) else {
            return self
                .with_test(choice, state)?
                .regret_of(choice, belief, state);
        };
        let before = self.solve(set, weight, state);
        let children: Vec<u32> = parts
            .iter()
            .map(|&p| self.search.node(p, choice.state_after))
            .collect();
        let close = self.limits.close_minutes * weight;
        let through = self.solve_all(&children, weight * choice.minutes, close);
        Ok(regret(before, through, weight))
    }

    /// Solves several nodes within one budget; gives the sum of their bounds and
    /// the cost.
    fn solve_all(&mut self, nodes: &[u32], cost: f64, close: f64) -> Span {
        let until = self.search.steps + self.limits.steps;
        loop {
            let mut sum = Span {
                lower: cost,
                upper: cost,
            };
            for &node in nodes {
                self.search.rollout(node);
                let span = self.search.span(node);
                sum.lower += span.lower;
                sum.upper += span.upper;
            }
            if sum.met() || sum.upper - sum.lower <= close || self.search.steps >= until {
                return sum;
            }
            self.advance(nodes, until);
        }
    }

    /// This problem with something done added to its tests.
    fn with_test(&self, choice: &Choice<'_>, state: usize) -> Result<Self, PlanError> {
        let change = self.search.base.change[state][choice.state_after];
        let mut problem = self.problem.clone();
        problem.tests.push(TestInfo {
            id: u32::MAX,
            probe: u32::MAX,
            state: choice.state_after,
            minutes: (choice.minutes - change).max(0.0),
            outcomes: choice.outcomes.to_vec(),
        });
        Self::new(&problem, self.limits)
    }

    /// The parts that outcomes over hypotheses split a set of atoms into, or
    /// `None` if they split an atom.
    fn parts(&self, set: Set, outcomes: &[u8]) -> Option<Vec<Set>> {
        if outcomes.is_empty() {
            return Some(vec![set]);
        }
        let mut parts = std::collections::BTreeMap::new();
        for a in atoms_of(set) {
            let members = &self.search.base.members[a];
            let outcome = outcomes[members[0]];
            if members.iter().any(|&h| outcomes[h] != outcome) {
                return None;
            }
            *parts.entry(outcome).or_insert(0) |= 1 << a;
        }
        Some(parts.into_values().collect())
    }
}

fn regret(before: Span, through: Span, weight: f64) -> Regret {
    let exact = before.met() && through.met();
    let minutes = |difference: f64| {
        let minutes = difference / weight;
        // Less than rounding can make is nothing.
        if minutes > 1e-9 { minutes } else { 0.0 }
    };
    let lower = minutes(through.lower - before.upper);
    let upper = minutes(through.upper - before.lower).max(lower);
    let estimate = minutes(through.upper - before.upper).clamp(lower, upper);
    let (before, through) = (Bound::of(before, weight), Bound::of(through, weight));
    Regret {
        lower,
        upper,
        estimate,
        exact,
        before,
        through,
    }
}
