//! The questions that can be asked of a planner.
//!
//! Translates between beliefs over hypotheses and the search over sets of atoms.
//! Must not know what hypotheses, tests and states stand for.

use serde::{Deserialize, Serialize};

use super::base::{Base, Set};
use super::problem::{PlanError, Problem, index, length, minutes_ok};
use super::search::{Search, Span};
use crate::belief::Belief;

/// How much work the planner may do. Work is counted, never timed, so that the
/// same question gets the same answer on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Limits {
    /// Search steps for each question; a million take about a second.
    /// Once used up, the answer is a pair of bounds.
    pub steps: u64,
    /// Nodes kept for later questions; each takes at most about 200 bytes. When a
    /// question begins with more, what was worked out before is forgotten.
    pub kept_nodes: usize,
    /// The search stops early once its bounds are this close. Zero asks for the
    /// optimum itself.
    pub close_minutes: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            steps: 500_000,
            kept_nodes: 300_000,
            close_minutes: 0.0,
        }
    }
}

impl Limits {
    /// For judging a whole attempt, where there is a question at every step. What is not known
    /// within these is held in the learner's favour, since only a regret's lower bound counts.
    #[must_use]
    pub fn for_judging() -> Self {
        Self {
            steps: 120_000,
            ..Self::default()
        }
    }

    /// For looking at a choice again under other assumptions, of which there are several.
    #[must_use]
    pub fn for_second_look() -> Self {
        Self {
            steps: 30_000,
            ..Self::default()
        }
    }
}

/// What is known of a number of minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bound {
    /// No policy can do better than this.
    pub lower: f64,
    /// A policy that does this well is known.
    pub upper: f64,
    /// The two are the same but for rounding.
    pub exact: bool,
}

impl Bound {
    pub(super) fn of(span: Span, weight: f64) -> Self {
        Self {
            lower: span.lower / weight,
            upper: span.upper / weight,
            exact: span.met(),
        }
    }
}

/// A test and the expected minutes to a proven call when it is made next,
/// including its own and those to reach its state.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RankedTest {
    /// Index of the test in the problem.
    pub test: usize,
    /// Expected minutes from here to a proven call.
    pub total: Bound,
}

/// The simple lower bounds on the minutes, for display and for checks.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bounds {
    /// Entropy over kinds, in questions of the most classes, at the cheapest test.
    pub entropy: f64,
    /// Huffman's code over kinds, at the cheapest test.
    pub huffman: f64,
    /// The bound the search starts from.
    pub search: f64,
}

/// Plans tests for one problem. See the module's text.
pub struct Planner {
    pub(crate) problem: Problem,
    pub(super) limits: Limits,
    pub(crate) search: Search,
}

impl Planner {
    /// Makes a planner.
    ///
    /// # Errors
    /// Whatever [`Problem::validate`] finds wrong.
    pub fn new(problem: &Problem, limits: Limits) -> Result<Self, PlanError> {
        problem.validate()?;
        minutes_ok(
            || "close_minutes of the limits".to_owned(),
            limits.close_minutes,
        )?;
        let base = Base::new(problem, problem.priors.clone());
        Ok(Self {
            problem: problem.clone(),
            limits,
            search: Search::new(base),
        })
    }

    /// The problem planned for.
    #[must_use]
    pub fn problem(&self) -> &Problem {
        &self.problem
    }

    /// Expected minutes to a proven call under the best policy.
    ///
    /// # Errors
    /// A belief over other hypotheses, or a state that is not there.
    pub fn expected_minutes(&mut self, belief: &Belief, state: usize) -> Result<Bound, PlanError> {
        let (set, weight) = self.focus(belief, state)?;
        Ok(Bound::of(self.solve(set, weight, state), weight))
    }

    /// Simple lower bounds on [`Planner::expected_minutes`].
    ///
    /// # Errors
    /// As [`Planner::expected_minutes`].
    pub fn bounds(&mut self, belief: &Belief, state: usize) -> Result<Bounds, PlanError> {
        let (set, weight) = self.focus(belief, state)?;
        // A fresh search, so that nothing found out before shows.
        let mut fresh = Search::new(Base::new(
            &self.problem,
            self.search.base.raw_weights.clone(),
        ));
        let node = fresh.node(set, state);
        let search = fresh.span(node).lower / weight;
        let record = &fresh.arena.sets[fresh.arena.nodes[node as usize].set as usize];
        let branches = record.most_classes.max(2) as f64;
        Ok(Bounds {
            entropy: record.bits / libm::log2(branches) * record.cheapest / weight,
            huffman: record.questions * record.cheapest / weight,
            search,
        })
    }

    /// The upper bound of the greedy policy alone: always the test with most
    /// information on the kind for each minute, changes of state included.
    ///
    /// # Errors
    /// As [`Planner::expected_minutes`].
    pub fn greedy_minutes(&mut self, belief: &Belief, state: usize) -> Result<f64, PlanError> {
        let (set, weight) = self.focus(belief, state)?;
        let mut fresh = Search::new(Base::new(
            &self.problem,
            self.search.base.raw_weights.clone(),
        ));
        let node = fresh.node(set, state);
        Ok(fresh.rollout(node) / weight)
    }

    /// The `how_many` best tests to make next, best first. Tests that tell the same
    /// or less at no lower cost are left out. Empty once nothing is left to prove.
    ///
    /// # Errors
    /// As [`Planner::expected_minutes`].
    pub fn best_tests(
        &mut self,
        belief: &Belief,
        state: usize,
        how_many: usize,
    ) -> Result<Vec<RankedTest>, PlanError> {
        let (set, weight) = self.focus(belief, state)?;
        let node = self.search.node(set, state);
        if self.search.span(node).met() && self.is_settled(node) {
            return Ok(Vec::new());
        }
        let until = self.search.steps + self.limits.steps;
        let close = self.limits.close_minutes * weight;
        self.search.solve(node, until, close);
        let set_id = self.search.arena.nodes[node as usize].set;
        self.search.expand(set_id);
        loop {
            let mut ranked: Vec<(Span, usize)> = self
                .search
                .arena
                .actions_of(set_id)
                .unwrap_or(0..0)
                .map(|a| {
                    let action = self.search.arena.action(a);
                    (self.search.action_span(weight, state as u8, action), a)
                })
                .collect();
            ranked.sort_by(|a, b| {
                a.0.lower
                    .total_cmp(&b.0.lower)
                    .then(a.0.upper.total_cmp(&b.0.upper))
                    .then(a.1.cmp(&b.1))
            });
            ranked.truncate(how_many);
            let open = ranked
                .iter()
                .find(|(s, _)| !s.met() && s.upper - s.lower > close)
                .copied();
            match open {
                Some((_, action)) if self.search.steps < until => {
                    self.search.make_children(set_id, action);
                    let action = self.search.arena.action(action);
                    let children = self.search.arena.children(action).unwrap_or(&[]).to_vec();
                    self.advance(&children, until);
                }
                _ => {
                    let tests = ranked.into_iter().map(|(span, a)| {
                        let action = self.search.arena.action(a);
                        let test = self.search.base.tests[action.test as usize].index;
                        RankedTest {
                            test,
                            total: Bound::of(span, weight),
                        }
                    });
                    let mut tests: Vec<RankedTest> = tests.collect();
                    // Without exact values the known policies decide.
                    tests.sort_by(|a, b| {
                        a.total
                            .upper
                            .total_cmp(&b.total.upper)
                            .then(a.test.cmp(&b.test))
                    });
                    return Ok(tests);
                }
            }
        }
    }

    /// Working on the least known of several nodes, a little.
    pub(super) fn advance(&mut self, nodes: &[u32], until: u64) {
        let mut widest = None;
        let mut most = -1.0;
        for &node in nodes {
            self.search.rollout(node);
            let span = self.search.span(node);
            if !span.met() && span.upper - span.lower > most {
                most = span.upper - span.lower;
                widest = Some(node);
            }
        }
        if let Some(node) = widest {
            // Down to half its gap, so that the work is spread.
            self.search.solve(node, until, most / 2.0);
        }
    }

    pub(super) fn solve(&mut self, set: Set, weight: f64, state: usize) -> Span {
        let node = self.search.node(set, state);
        let until = self.search.steps + self.limits.steps;
        self.search
            .solve(node, until, self.limits.close_minutes * weight)
    }

    pub(crate) fn is_settled(&self, node: u32) -> bool {
        let set = self.search.arena.nodes[node as usize].set;
        self.search.arena.sets[set as usize].settled
    }

    pub(crate) fn check(&self, belief: &Belief, state: usize) -> Result<(), PlanError> {
        length(
            "the belief",
            belief.len(),
            self.problem.priors.len(),
            "hypothesis",
        )?;
        index(|| "the state".to_owned(), state, self.problem.states.len())
    }

    /// Makes the search ready for a belief; gives the set of atoms possible and
    /// its weight.
    pub(crate) fn focus(&mut self, belief: &Belief, state: usize) -> Result<(Set, f64), PlanError> {
        self.check(belief, state)?;
        let weights = possible_weights(belief);
        if self.search.arena.size() > self.limits.kept_nodes {
            self.search.forget();
        }
        let set = match self.search.base.set_for(&weights) {
            Some(set) => set,
            None => {
                let base = Base::new(&self.problem, weights);
                let all = base.all();
                self.search = Search::new(base);
                all
            }
        };
        Ok((set, self.search.base.weight_of(set)))
    }
}

/// The weights of the hypotheses that count as possible; zero for the others.
fn possible_weights(belief: &Belief) -> Vec<f64> {
    let weights = belief.weights();
    let mut out = vec![0.0; weights.len()];
    for h in belief.possible() {
        out[h] = weights[h];
    }
    out
}
