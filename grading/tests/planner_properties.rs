//! What must hold for every problem, tried on many random ones.

mod common;

use common::{Chance, SecondOpinion, branches, random_problem};
use proptest::prelude::*;
use tracebay_grading::belief::Belief;
use tracebay_grading::plan::{Choice, Limits, PlanNode, Planner, PoorCheck, Problem, proof};

const CLOSE: f64 = 1e-9;

fn planner(problem: &Problem) -> Planner {
    Planner::new(problem, Limits::default()).unwrap()
}

/// The first `order.len()` items in another order.
fn reordered<T: Clone>(items: &[T], order: &[usize]) -> Vec<T> {
    order.iter().map(|&i| items[i].clone()).collect()
}

fn shuffled(n: usize, chance: &mut Chance) -> Vec<usize> {
    let mut order: Vec<usize> = (0..n).collect();
    for i in (1..n).rev() {
        order.swap(i, chance.below(i as u64 + 1) as usize);
    }
    order
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Entropy <= Huffman is Shannon's noiseless coding theorem (1948).
    #[test]
    fn bounds_stand_in_order(seed in any::<u64>()) {
        let problem = random_problem(seed);
        let belief = Belief::of(&problem).unwrap();
        let mut planner = planner(&problem);
        let best = SecondOpinion::new(&problem).minutes((1 << problem.priors.len()) - 1, 0);
        let bounds = planner.bounds(&belief, 0).unwrap();
        let greedy = planner.greedy_minutes(&belief, 0).unwrap();
        prop_assert!(bounds.entropy <= bounds.huffman + CLOSE);
        prop_assert!(bounds.huffman <= bounds.search + CLOSE);
        prop_assert!(bounds.search <= best + CLOSE);
        prop_assert!(best <= greedy + CLOSE);
    }

    #[test]
    fn whatever_the_budget_the_optimum_lies_between(seed in any::<u64>(), steps in 0_u64..60) {
        let problem = random_problem(seed);
        let belief = Belief::of(&problem).unwrap();
        let best = SecondOpinion::new(&problem).minutes((1 << problem.priors.len()) - 1, 0);
        let limits = Limits { steps, ..Limits::default() };
        let mut planner = Planner::new(&problem, limits).unwrap();
        let found = planner.expected_minutes(&belief, 0).unwrap();
        prop_assert!(found.lower <= best + CLOSE && best <= found.upper + CLOSE, "{found:?} {best}");
        for test in 0..problem.tests.len() {
            let regret = planner.regret(test, &belief, 0).unwrap();
            prop_assert!(0.0 <= regret.lower && regret.lower <= regret.upper);
            prop_assert!(regret.lower <= regret.minutes() && regret.minutes() <= regret.upper);
        }
    }

    #[test]
    fn order_of_hypotheses_tests_and_states_does_not_matter(seed in any::<u64>()) {
        let problem = random_problem(seed);
        let mut chance = Chance(seed ^ 1);
        let hypotheses = shuffled(problem.priors.len(), &mut chance);
        let tests = shuffled(problem.tests.len(), &mut chance);
        let states = shuffled(problem.states.len(), &mut chance);
        let mut other = problem.clone();
        other.priors = reordered(&problem.priors, &hypotheses);
        other.groups = reordered(&problem.groups, &hypotheses);
        other.states = reordered(&problem.states, &states);
        other.change_minutes = reordered(&problem.change_minutes, &states)
            .iter().map(|row| reordered(row, &states)).collect();
        other.tests = reordered(&problem.tests, &tests);
        for test in &mut other.tests {
            test.outcomes = reordered(&test.outcomes, &hypotheses);
            test.state = states.iter().position(|&s| s == test.state).unwrap();
        }
        let (mut a, mut b) = (planner(&problem), planner(&other));
        let (start_a, start_b) = (Belief::of(&problem).unwrap(), Belief::of(&other).unwrap());
        for (to, &from) in states.iter().enumerate() {
            let x = a.expected_minutes(&start_a, from).unwrap();
            let y = b.expected_minutes(&start_b, to).unwrap();
            prop_assert!((x.upper - y.upper).abs() < CLOSE);
            for (to_test, &from_test) in tests.iter().enumerate() {
                let x = a.regret(from_test, &start_a, from).unwrap().minutes();
                let y = b.regret(to_test, &start_b, to).unwrap().minutes();
                prop_assert!((x - y).abs() < CLOSE);
            }
        }
    }

    /// Soft evidence: the planner must do what it would with the posteriors given
    /// to it as priors.
    #[test]
    fn soft_evidence_weighs_as_priors_do(seed in any::<u64>()) {
        let problem = random_problem(seed);
        let mut chance = Chance(seed ^ 2);
        let mut belief = Belief::of(&problem).unwrap();
        for _ in 0..3 {
            let likelihoods: Vec<f64> = problem.priors.iter().map(|_| 0.05 + chance.unit()).collect();
            belief.update(&likelihoods).unwrap();
        }
        let mut weighed = problem.clone();
        weighed.priors = belief.posterior();
        let mut planner = planner(&problem);
        let found = planner.expected_minutes(&belief, 0).unwrap();
        let want = SecondOpinion::new(&weighed).minutes((1 << problem.priors.len()) - 1, 0);
        prop_assert!((found.upper - want).abs() < CLOSE);
        // And hard evidence after it.
        if let Some(test) = problem.tests.first() {
            let seen = test.outcomes[0];
            belief.update_class(&test.outcomes, seen).unwrap();
            let left = (0..problem.priors.len()).filter(|&h| test.outcomes[h] == seen).fold(0, |s, h| s | 1_u32 << h);
            let found = planner.expected_minutes(&belief, 0).unwrap();
            let want = SecondOpinion::new(&weighed).minutes(left, 0);
            prop_assert!((found.upper - want).abs() < CLOSE);
        }
    }

    /// A test given as something done must be judged as the test is.
    #[test]
    fn a_choice_of_ones_own_is_judged_like_a_test(seed in any::<u64>()) {
        let problem = random_problem(seed);
        let belief = Belief::of(&problem).unwrap();
        let mut planner = planner(&problem);
        for (i, test) in problem.tests.iter().enumerate() {
            let change = problem.quickest_changes()[0][test.state];
            let choice = Choice { minutes: change + test.minutes, state_after: test.state, outcomes: &test.outcomes };
            prop_assert_eq!(
                planner.regret_of(&choice, &belief, 0).unwrap(),
                planner.regret(i, &belief, 0).unwrap()
            );
        }
        // Standing still costs what it takes.
        let idle = Choice { minutes: 2.5, state_after: 0, outcomes: &[] };
        prop_assert!((planner.regret_of(&idle, &belief, 0).unwrap().minutes() - 2.5).abs() < CLOSE);
    }

    /// Followed to its end, a plan leaves a call that proof finds as good as can be.
    #[test]
    fn a_plan_ends_in_a_proof(seed in any::<u64>()) {
        let problem = random_problem(seed);
        let start = Belief::of(&problem).unwrap();
        let mut planner = planner(&problem);
        let tree = planner.plan_tree(&start, 0).unwrap();
        for truth in 0..problem.priors.len() {
            let mut belief = start.clone();
            let route = tree.route(&problem, truth);
            for step in &route {
                prop_assert_eq!(planner.classify(step.test, &belief, 0).unwrap(), None);
                belief.update_class(&problem.tests[step.test].outcomes, step.class).unwrap();
                // Made once more, it could only tell the same.
                prop_assert_eq!(planner.classify(step.test, &belief, 0).unwrap(), Some(PoorCheck::Redundant));
            }
            let (group, _) = belief.most_likely_group();
            let proof = proof(&problem, &belief, group).unwrap();
            prop_assert!(proof.as_good_as_can_be(), "{proof:?}");
            prop_assert!((proof.fair_posterior - 1.0).abs() < CLOSE);
            if let Some(last) = route.len().checked_sub(2) {
                // One test short of it, it is not.
                let mut short = start.clone();
                for step in &route[..=last] {
                    short.update_class(&problem.tests[step.test].outcomes, step.class).unwrap();
                }
                let (group, _) = short.most_likely_group();
                prop_assert!(!well_proven(&problem, &short, group));
            }
        }
    }
}

fn well_proven(problem: &Problem, belief: &Belief, group: u32) -> bool {
    proof(problem, belief, group).unwrap().as_good_as_can_be()
}

/// Larger problems, shaped like faults along branches, where only the bounds can
/// be compared.
#[test]
fn bounds_stand_in_order_on_larger_problems() {
    for seed in 0..6 {
        let problem = branches(seed, 24, 90, 8, 0.05);
        let belief = Belief::of(&problem).unwrap();
        let limits = Limits {
            steps: 20_000,
            ..Limits::default()
        };
        let mut planner = Planner::new(&problem, limits).unwrap();
        let bounds = planner.bounds(&belief, 0).unwrap();
        let greedy = planner.greedy_minutes(&belief, 0).unwrap();
        let found = planner.expected_minutes(&belief, 0).unwrap();
        let chain = [
            0.0,
            bounds.entropy,
            bounds.huffman,
            bounds.search,
            found.lower,
            found.upper,
            greedy,
        ];
        assert!(chain.windows(2).all(|w| w[0] <= w[1] + CLOSE), "{chain:?}");
        let tree = planner.plan_tree(&belief, 0).unwrap();
        let PlanNode::Test {
            expected_minutes, ..
        } = tree
        else {
            panic!("{tree:?}")
        };
        assert!(expected_minutes <= found.upper + CLOSE && found.lower <= expected_minutes + CLOSE);
    }
}

/// The same questions in the same order, asked of two planners, get the same bits.
#[test]
fn answers_are_the_same_to_the_last_bit() {
    let problem = branches(3, 40, 150, 24, 0.02);
    let ask = || {
        let limits = Limits {
            steps: 5_000,
            ..Limits::default()
        };
        let mut planner = Planner::new(&problem, limits).unwrap();
        let mut belief = Belief::of(&problem).unwrap();
        let mut answers = Vec::new();
        for test in [3, 50, 90] {
            let found = planner.expected_minutes(&belief, 0).unwrap();
            let regret = planner.regret(test, &belief, 0).unwrap();
            answers.extend([found.lower, found.upper, regret.estimate].map(f64::to_bits));
            let seen = problem.tests[test].outcomes[7];
            belief
                .update_class_with_slip(&problem.tests[test].outcomes, seen, 0.03)
                .unwrap();
        }
        answers
    };
    assert_eq!(ask(), ask());
}
