//! A plan as a tree that can be read.
//!
//! Follows the best policy the search knows. Must not know what tests and groups
//! stand for: words come from the caller through [`Names`].

use std::fmt::Write as _;

use serde::{Deserialize, Serialize};

use super::planner::Planner;
use super::problem::{PlanError, Problem};
use super::search::Span;
use crate::belief::Belief;

/// One place in a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum PlanNode {
    /// A test to make.
    Test {
        /// Index of the test in the problem.
        test: usize,
        /// The state it is made in.
        state: usize,
        /// Minutes to get to that state; zero if one is in it.
        change_minutes: f64,
        /// Minutes of the test itself.
        minutes: f64,
        /// Expected minutes from here to a proven call, if the plan is followed.
        expected_minutes: f64,
        /// Whether no plan is better from here.
        exact: bool,
        /// Probability of coming here.
        probability: f64,
        /// What to do after each outcome.
        branches: Vec<Branch>,
    },
    /// Nothing left to tell apart.
    Call {
        /// The group to call: the most likely of those left, the lowest number of
        /// equals.
        group: u32,
        /// Whether no other group is left.
        proven: bool,
        /// The hypotheses left.
        hypotheses: Vec<usize>,
        /// Probability of coming here.
        probability: f64,
    },
}

/// One outcome of a test in a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Branch {
    /// The outcome class.
    pub class: u8,
    /// What to do after it.
    pub then: PlanNode,
}

/// One test on the way through a plan.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RouteStep {
    /// Index of the test in the problem.
    pub test: usize,
    /// The outcome class it has.
    pub class: u8,
    /// Minutes spent up to and with this test, changes of state included.
    pub minutes_so_far: f64,
}

/// Words for a plan. The defaults are numbers.
pub trait Names {
    /// What a test is called.
    fn test(&self, test: usize) -> String {
        format!("test {test}")
    }
    /// What an outcome of a test is called.
    fn outcome(&self, _test: usize, class: u8) -> String {
        format!("outcome {class}")
    }
    /// What a group is called.
    fn group(&self, group: u32) -> String {
        format!("group {group}")
    }
    /// What a state is called.
    fn state(&self, state: usize) -> String {
        format!("state {state}")
    }
}

/// The names that are numbers.
#[derive(Debug, Clone, Copy, Default)]
pub struct Numbers;

impl Names for Numbers {}

impl PlanNode {
    /// Most tests on any way down.
    #[must_use]
    pub fn depth(&self) -> usize {
        match self {
            Self::Call { .. } => 0,
            Self::Test { branches, .. } => {
                1 + branches.iter().map(|b| b.then.depth()).max().unwrap_or(0)
            }
        }
    }

    /// The tests the plan makes if `hypothesis` is what is wrong. It ends early if
    /// the plan was not made for that hypothesis.
    #[must_use]
    pub fn route(&self, problem: &Problem, hypothesis: usize) -> Vec<RouteStep> {
        let mut steps = Vec::new();
        let mut spent = 0.0;
        let mut node = self;
        while let Self::Test {
            test,
            change_minutes,
            minutes,
            branches,
            ..
        } = node
        {
            let outcomes = problem.tests.get(*test).map(|t| &t.outcomes);
            let Some(&class) = outcomes.and_then(|o| o.get(hypothesis)) else {
                break;
            };
            let Some(branch) = branches.iter().find(|b| b.class == class) else {
                break;
            };
            spent += change_minutes + minutes;
            steps.push(RouteStep {
                test: *test,
                class,
                minutes_so_far: spent,
            });
            node = &branch.then;
        }
        steps
    }

    /// The plan as indented lines, one for each test and each outcome.
    #[must_use]
    pub fn render(&self, names: &dyn Names) -> String {
        let mut out = String::new();
        self.write(names, 0, &mut out);
        out
    }

    fn write(&self, names: &dyn Names, depth: usize, out: &mut String) {
        let indent = "  ".repeat(depth);
        // Writing to a string cannot fail.
        match self {
            Self::Call {
                group,
                proven,
                hypotheses,
                probability,
            } => {
                let rest = if *proven {
                    "proven".to_owned()
                } else {
                    format!("{} left that no test tells apart", hypotheses.len())
                };
                let share = probability * 100.0;
                let _ = writeln!(
                    out,
                    "{indent}call {} ({rest}; {share:.1} %)",
                    names.group(*group)
                );
            }
            Self::Test {
                test,
                state,
                change_minutes,
                minutes,
                expected_minutes,
                exact,
                branches,
                ..
            } => {
                let way = if *change_minutes > 0.0 {
                    format!("{} (+{change_minutes:.1} min): ", names.state(*state))
                } else {
                    String::new()
                };
                let about = if *exact { "" } else { "at most " };
                let _ = writeln!(
                    out,
                    "{indent}{way}{} ({minutes:.1} min; {about}{expected_minutes:.2} min to go)",
                    names.test(*test),
                );
                for branch in branches {
                    let _ = writeln!(out, "{indent}- {}:", names.outcome(*test, branch.class));
                    branch.then.write(names, depth + 1, out);
                }
            }
        }
    }
}

impl Planner {
    /// The best plan known from a belief and state: the optimum where
    /// [`Planner::expected_minutes`] is exact.
    ///
    /// # Errors
    /// As [`Planner::expected_minutes`].
    pub fn plan_tree(&mut self, belief: &Belief, state: usize) -> Result<PlanNode, PlanError> {
        self.expected_minutes(belief, state)?;
        let (set, weight) = self.focus(belief, state)?;
        let root = self.search.node(set, state);
        Ok(self.grow(root, weight))
    }

    fn grow(&mut self, node: u32, whole: f64) -> PlanNode {
        self.search.rollout(node);
        let (set, state) = {
            let n = &self.search.arena.nodes[node as usize];
            (n.set, n.state)
        };
        let record = &self.search.arena.sets[set as usize];
        let (left, weight, settled) = (record.set, record.weight, record.settled);
        let probability = weight / whole;
        if settled {
            return self.call(left, probability);
        }
        self.search.expand(set);
        let mut best: Option<(Span, usize)> = None;
        for position in self.search.arena.actions_of(set).unwrap_or(0..0) {
            let span = self
                .search
                .action_span(weight, state, self.search.arena.action(position));
            if best.is_none_or(|(b, _)| span.upper < b.upper) {
                best = Some((span, position));
            }
        }
        let Some((span, position)) = best else {
            return self.call(left, probability);
        };
        let met = self.search.span(node).met();
        let action = self.search.arena.action(position);
        let children = self.search.arena.children(action).unwrap_or(&[]).to_vec();
        let test = &self.search.base.tests[action.test as usize];
        let (index, to, minutes) = (test.index, test.state, test.minutes);
        let classes: Vec<u8> = test
            .classes
            .iter()
            .zip(&test.labels)
            .filter(|(c, _)| **c & left != 0)
            .map(|(_, &label)| label)
            .collect();
        let branches = classes
            .into_iter()
            .zip(children)
            .map(|(class, child)| Branch {
                class,
                then: self.grow(child, whole),
            })
            .collect();
        PlanNode::Test {
            test: index,
            state: to,
            change_minutes: self.search.base.change[state as usize][to],
            minutes,
            expected_minutes: span.upper / weight,
            exact: met,
            probability,
            branches,
        }
    }

    fn call(&self, left: super::base::Set, probability: f64) -> PlanNode {
        let base = &self.search.base;
        let mut hypotheses: Vec<usize> = super::base::atoms_of(left)
            .flat_map(|a| base.members[a].iter().copied())
            .collect();
        hypotheses.sort_unstable();
        let mut by_group = std::collections::BTreeMap::new();
        for &h in &hypotheses {
            *by_group.entry(self.problem.groups[h]).or_insert(0.0) += base.raw_weights[h];
        }
        let proven = by_group.len() == 1;
        let mut best = (0, -1.0);
        for (group, weight) in by_group {
            if weight > best.1 {
                best = (group, weight);
            }
        }
        PlanNode::Call {
            group: best.0,
            proven,
            hypotheses,
            probability,
        }
    }
}
