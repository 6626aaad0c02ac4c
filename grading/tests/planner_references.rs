//! The planner against published results and against a second opinion.

mod common;

use common::{Chance, SecondOpinion, chain, random_problem, unit_problem};
use tracebay_grading::belief::Belief;
use tracebay_grading::plan::{Limits, PlanNode, Planner, Problem};

/// Relative frequencies of the space and the letters A to Z in English: E. N.
/// Gilbert and E. F. Moore, "Variable-Length Binary Encodings", Bell System
/// Technical Journal 38 (1959), 933-967, Table I.
const ENGLISH: [f64; 27] = [
    0.1859, 0.0642, 0.0127, 0.0218, 0.0317, 0.1031, 0.0208, 0.0152, 0.0467, 0.0575, 0.0008, 0.0049,
    0.0321, 0.0198, 0.0574, 0.0632, 0.0152, 0.0008, 0.0484, 0.0514, 0.0796, 0.0228, 0.0083, 0.0175,
    0.0013, 0.0164, 0.0005,
];

fn planner(problem: &Problem) -> Planner {
    Planner::new(problem, Limits::default()).unwrap()
}

fn optimum(problem: &Problem, state: usize) -> f64 {
    let bound = planner(problem)
        .expected_minutes(&Belief::of(problem).unwrap(), state)
        .unwrap();
    assert!(bound.exact, "{bound:?}");
    bound.upper
}

/// Huffman's algorithm as first taught: join the two lightest until one is left.
fn plain_huffman(weights: &[f64]) -> f64 {
    let mut heap = weights.to_vec();
    let mut total = 0.0;
    while heap.len() > 1 {
        heap.sort_by(|a, b| b.total_cmp(a));
        let joined = heap.pop().unwrap() + heap.pop().unwrap();
        total += joined;
        heap.push(joined);
    }
    total
}

/// Gilbert and Moore: the best alphabetical encoding of Table I takes 4.1978
/// digits a letter, Huffman's 4.1195. A chain probed at its junctions is that
/// alphabetical encoding.
#[test]
fn english_chain_takes_the_published_number_of_probes() {
    let problem = chain(&ENGLISH);
    let belief = Belief::of(&problem).unwrap();
    let mut planner = planner(&problem);
    let bounds = planner.bounds(&belief, 0).unwrap();
    assert!((bounds.huffman - 4.1195).abs() < 5e-5, "{bounds:?}");
    assert!(bounds.search <= 4.1978, "{bounds:?}");
    let found = planner.expected_minutes(&belief, 0).unwrap();
    assert!(found.exact);
    assert!((found.upper - 4.1978).abs() < 5e-5, "{found:?}");
    assert!((found.lower - found.upper).abs() < 1e-9);
}

/// With every subset of ten letters as a test, nothing stands in the way of
/// Huffman's code (Huffman 1952).
#[test]
fn every_subset_as_a_test_gives_huffmans_code() {
    for letters in [&ENGLISH[0..10], &ENGLISH[10..20], &ENGLISH[17..27]] {
        let subsets = (1..512_u32).map(|s| (0..10).map(|h| (s >> h & 1) as u8).collect());
        let problem = unit_problem(letters, subsets.collect());
        let total: f64 = letters.iter().sum();
        assert!((optimum(&problem, 0) - plain_huffman(letters) / total).abs() < 1e-9);
    }
}

/// Half-splitting: 2^k equal sections take exactly k probes (common practice; the
/// count is the binary logarithm).
#[test]
fn equal_sections_are_halved() {
    for k in 0..=6_u32 {
        let problem = chain(&vec![1.0; 1 << k]);
        assert!((optimum(&problem, 0) - f64::from(k)).abs() < 1e-12);
        let tree = planner(&problem)
            .plan_tree(&Belief::of(&problem).unwrap(), 0)
            .unwrap();
        assert_eq!(tree.depth(), k as usize);
    }
}

#[test]
fn random_problems_agree_with_plain_dynamic_programming() {
    let mut hard = 0;
    for seed in 0..1000 {
        let problem = random_problem(seed);
        let n = problem.priors.len();
        let all = (1_u32 << n) - 1;
        let mut second = SecondOpinion::new(&problem);
        let mut planner = planner(&problem);
        let belief = Belief::of(&problem).unwrap();
        for state in 0..problem.states.len() {
            let found = planner.expected_minutes(&belief, state).unwrap();
            let want = second.minutes(all, state);
            assert!(found.exact, "seed {seed}");
            assert!(
                (found.upper - want).abs() < 1e-9,
                "seed {seed}: {found:?}, {want}"
            );
            hard += u32::from(want > 0.0);
        }
    }
    assert!(hard > 1000, "most questions should need tests: {hard}");
}

#[test]
fn regret_agrees_with_plain_dynamic_programming_mid_route() {
    for seed in 0..300 {
        let problem = random_problem(seed + 5000);
        let n = problem.priors.len();
        let mut chance = Chance(seed);
        let mut second = SecondOpinion::new(&problem);
        let mut planner = planner(&problem);
        let set = 1 + chance.below((1 << n) - 1) as u32;
        let left: Vec<usize> = (0..n).filter(|h| set >> h & 1 == 1).collect();
        let belief = Belief::of_set(&problem, &left).unwrap();
        let state = chance.below(problem.states.len() as u64) as usize;
        let best = second.minutes(set, state);
        let mut least = f64::INFINITY;
        for test in 0..problem.tests.len() {
            let regret = planner.regret(test, &belief, state).unwrap();
            let want = second.minutes_through(test, set, state) - best;
            assert!(regret.exact);
            assert!(
                (regret.minutes() - want.max(0.0)).abs() < 1e-9,
                "seed {seed}: {regret:?} {want}"
            );
            least = least.min(regret.minutes());
        }
        // Some test is a best choice, and it gives nothing away.
        if best > 0.0 {
            assert_eq!(least, 0.0, "seed {seed}");
            let ranked = planner.best_tests(&belief, state, 3).unwrap();
            assert!((ranked[0].total.upper - best).abs() < 1e-9);
            assert_eq!(
                planner
                    .regret(ranked[0].test, &belief, state)
                    .unwrap()
                    .minutes(),
                0.0
            );
        } else {
            // Nothing left to prove, or free tests will prove it.
            let ranked = planner.best_tests(&belief, state, 3).unwrap();
            assert!(ranked.first().is_none_or(|r| r.total.upper == 0.0));
        }
    }
}

/// Adds up what a plan costs, outcome by outcome, from the problem alone.
fn walk(problem: &Problem, node: &PlanNode, set: &[usize], state: usize) -> f64 {
    let weight: f64 = set.iter().map(|&h| problem.priors[h]).sum();
    match node {
        PlanNode::Call { hypotheses, .. } => {
            assert_eq!(hypotheses, set);
            0.0
        }
        PlanNode::Test {
            test,
            branches,
            change_minutes,
            ..
        } => {
            let t = &problem.tests[*test];
            let mut total = weight * (change_minutes + t.minutes);
            assert!(*change_minutes <= problem.change_minutes[state][t.state] || state == t.state);
            let mut seen = 0;
            for branch in branches {
                let left: Vec<usize> = set
                    .iter()
                    .copied()
                    .filter(|&h| t.outcomes[h] == branch.class)
                    .collect();
                assert!(!left.is_empty());
                seen += left.len();
                total += walk(problem, &branch.then, &left, t.state);
            }
            assert_eq!(seen, set.len());
            total
        }
    }
}

#[test]
fn a_plan_costs_what_it_says() {
    for seed in 0..300 {
        let problem = random_problem(seed + 9000);
        let belief = Belief::of(&problem).unwrap();
        let mut planner = planner(&problem);
        let all: Vec<usize> = (0..problem.priors.len()).collect();
        let total: f64 = problem.priors.iter().sum();
        let tree = planner.plan_tree(&belief, 0).unwrap();
        let bound = planner.expected_minutes(&belief, 0).unwrap();
        let walked = walk(&problem, &tree, &all, 0) / total;
        assert!((walked - bound.upper).abs() < 1e-9, "seed {seed}");
    }
}
