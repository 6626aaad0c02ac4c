//! The questions that can be asked of a planner.
//!
//! Translates between beliefs over hypotheses and the search over sets of atoms.
//! Must not know what hypotheses, tests and states stand for.

use serde::{Deserialize, Serialize};

use super::base::{Base, Set, atoms_of};
use super::problem::{PlanError, Problem, index, length, minutes_ok};
use super::search::{Search, Span};
use crate::belief::Belief;

/// How much work the planner may do. Work is counted, never timed, so that the
/// same question gets the same answer on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Limits {
    /// Search steps for each question: nodes made and nodes renewed. Once used up,
    /// the answer is a pair of bounds.
    pub steps: u64,
    /// Nodes kept for later questions; each takes up to about 150 bytes. When a
    /// question begins with more, what was worked out before is forgotten.
    pub kept_nodes: usize,
    /// The search stops early once its bounds are this close. Zero asks for the
    /// optimum itself.
    pub close_minutes: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            steps: 300_000,
            kept_nodes: 300_000,
            close_minutes: 0.0,
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
    fn of(span: Span, weight: f64) -> Self {
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
    limits: Limits,
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
                    let action = self.search.arena.action(action);
                    let children = self.search.arena.children(action).to_vec();
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
    /// regret, not a negative one.
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
        let before = self.solve(set, weight, state);
        let cost = weight * choice.minutes;
        let through = match self.parts(set, choice.outcomes) {
            Some(parts) => {
                let children: Vec<u32> = parts
                    .iter()
                    .map(|&p| self.search.node(p, choice.state_after))
                    .collect();
                self.solve_all(&children, cost, self.limits.close_minutes * weight)
            }
            None => self.through_new_evidence(choice, belief, cost, weight),
        };
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

    /// The remainder after something that tells hypotheses apart which no test
    /// does: each outcome leaves a problem of its own.
    fn through_new_evidence(
        &self,
        choice: &Choice<'_>,
        belief: &Belief,
        cost: f64,
        weight: f64,
    ) -> Span {
        let weights = possible_weights(belief);
        let total: f64 = weights.iter().sum();
        let classes: std::collections::BTreeSet<u8> = (0..weights.len())
            .filter(|&h| weights[h] > 0.0)
            .map(|h| choice.outcomes[h])
            .collect();
        let mut sum = Span {
            lower: cost,
            upper: cost,
        };
        for class in classes {
            let left: Vec<f64> = weights
                .iter()
                .zip(choice.outcomes)
                .map(|(&w, &o)| if o == class { w } else { 0.0 })
                .collect();
            let share = weight * left.iter().sum::<f64>() / total;
            let mut search = Search::new(Base::new(&self.problem, left));
            let node = search.node(search.base.all(), choice.state_after);
            let span = search.solve(node, self.limits.steps, self.limits.close_minutes);
            sum.lower += share * span.lower;
            sum.upper += share * span.upper;
        }
        sum
    }

    /// Working on the least known of several nodes, a little.
    fn advance(&mut self, nodes: &[u32], until: u64) {
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

    fn solve(&mut self, set: Set, weight: f64, state: usize) -> Span {
        let node = self.search.node(set, state);
        let until = self.search.steps + self.limits.steps;
        self.search
            .solve(node, until, self.limits.close_minutes * weight)
    }

    pub(crate) fn is_settled(&self, node: u32) -> bool {
        let set = self.search.arena.nodes[node as usize].set;
        self.search.arena.sets[set as usize].settled
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
