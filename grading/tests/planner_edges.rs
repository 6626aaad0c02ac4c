//! The planner on odd problems, and its named findings on small ones that can be
//! followed by hand.

mod common;

use common::{chain, unit_problem};
use tracebay_grading::belief::Belief;
use tracebay_grading::plan::{
    Choice, Limits, Numbers, PlanError, PlanNode, Planner, PoorCheck, Problem, StateInfo, TestInfo,
    proof, proof_at, prospects,
};

fn planner(problem: &Problem) -> Planner {
    Planner::new(problem, Limits::default()).unwrap()
}

fn minutes(problem: &Problem) -> f64 {
    let found = planner(problem)
        .expected_minutes(&Belief::of(problem).unwrap(), 0)
        .unwrap();
    assert!(found.exact);
    found.upper
}

/// A supply, a switch and a load in series: probing before and after the switch
/// shows nothing while the supply is off.
///
/// Hypotheses: 0 supply open, 1 switch open, 2 load open, 3 load seized (as 2 for
/// every probe).
fn supply_off_or_on() -> Problem {
    let test = |id, probe, state, minutes, outcomes: [u8; 4]| TestInfo {
        id,
        probe,
        state,
        minutes,
        outcomes: outcomes.to_vec(),
    };
    Problem {
        priors: vec![2.0, 1.0, 3.0, 1.0],
        groups: vec![0, 1, 2, 3],
        states: vec![
            StateInfo { name: "off".into() },
            StateInfo { name: "on".into() },
        ],
        change_minutes: vec![vec![0.0, 0.5], vec![0.5, 0.0]],
        tests: vec![
            test(10, 1, 0, 1.0, [0, 0, 0, 0]), // before the switch, off
            test(11, 1, 1, 1.0, [0, 1, 1, 1]), // before the switch, on
            test(12, 2, 0, 1.0, [0, 0, 0, 0]), // after the switch, off
            test(13, 2, 1, 1.0, [0, 0, 1, 1]), // after the switch, on
            test(14, 3, 0, 1.0, [0, 0, 0, 0]), // something that never changes
            test(15, 2, 1, 4.0, [0, 0, 1, 1]), // the same the long way
        ],
    }
}

#[test]
fn nothing_to_find_out_costs_nothing() {
    assert_eq!(minutes(&unit_problem(&[1.0], vec![])), 0.0);
    assert_eq!(minutes(&unit_problem(&[1.0, 2.0], vec![])), 0.0);
    assert_eq!(minutes(&unit_problem(&[1.0, 2.0], vec![vec![3, 3]])), 0.0);
    let mut same_repair = chain(&[1.0, 1.0, 1.0]);
    same_repair.groups = vec![4, 4, 4];
    assert_eq!(minutes(&same_repair), 0.0);
    let tree = planner(&same_repair)
        .plan_tree(&Belief::of(&same_repair).unwrap(), 0)
        .unwrap();
    assert!(matches!(
        tree,
        PlanNode::Call {
            group: 4,
            proven: true,
            ..
        }
    ));
}

#[test]
fn hypotheses_that_never_occur_are_not_looked_for() {
    assert_eq!(minutes(&chain(&[0.0, 1.0, 0.0, 0.0])), 0.0);
    assert_eq!(minutes(&chain(&[0.0, 1.0, 0.0, 1.0])), 1.0);
}

#[test]
fn free_tests_and_changes_cost_nothing() {
    let mut problem = supply_off_or_on();
    for test in &mut problem.tests {
        test.minutes = 0.0;
    }
    problem.change_minutes = vec![vec![0.0; 2]; 2];
    assert_eq!(minutes(&problem), 0.0);
}

#[test]
fn the_quickest_way_between_states_may_lead_through_another() {
    let mut problem = supply_off_or_on();
    problem.states.push(StateInfo {
        name: "between".into(),
    });
    problem.change_minutes = vec![
        vec![9.0, 6.0, 1.0],
        vec![6.0, 9.0, 6.0],
        vec![6.0, 1.0, 9.0],
    ];
    // 2 of change; then after the switch (1); then, if dark there, before it.
    assert!((minutes(&problem) - (3.0 + 3.0 / 7.0)).abs() < 1e-12);
}

#[test]
fn more_than_sixty_four_hypotheses_are_planned_for() {
    assert!((minutes(&chain(&[1.0; 128])) - 7.0).abs() < 1e-12);
    let problem = chain(&[1.0; 100]);
    // 28 of 100 leaves lie one deeper than log2(64) + ... : 6 + 72/100 (Huffman).
    assert!((minutes(&problem) - 6.72).abs() < 1e-12);
}

#[test]
fn each_poor_check_by_its_name() {
    let problem = supply_off_or_on();
    let planner = planner(&problem);
    let mut belief = Belief::of(&problem).unwrap();
    let name = |test, belief: &Belief| planner.classify(test, belief, 0).unwrap();
    assert_eq!(name(0, &belief), Some(PoorCheck::Premature));
    assert_eq!(name(1, &belief), None);
    assert_eq!(name(4, &belief), Some(PoorCheck::Irrelevant));
    // After the switch there is supply: before it there must be.
    belief.update_class(&problem.tests[3].outcomes, 1).unwrap();
    assert_eq!(name(1, &belief), Some(PoorCheck::Redundant));
    assert_eq!(name(3, &belief), Some(PoorCheck::Redundant));
    // The probe no longer tells anything anywhere.
    assert_eq!(name(0, &belief), Some(PoorCheck::Irrelevant));
    // What was known before the learner began is not the learner's own evidence.
    belief.mark_start();
    assert_eq!(name(1, &belief), Some(PoorCheck::Irrelevant));
}

#[test]
fn a_call_is_proven_as_far_as_tests_go() {
    let problem = supply_off_or_on();
    let mut belief = Belief::of(&problem).unwrap();
    let early = proof_at(&problem, &belief, 2, 0).unwrap();
    assert!((early.posterior - 3.0 / 7.0).abs() < 1e-12);
    assert!((early.fair_posterior - 4.0 / 7.0).abs() < 1e-12);
    assert_eq!(early.still_possible, [0, 1, 3]);
    let rivals: Vec<_> = early
        .splittable
        .iter()
        .map(|s| (s.hypothesis, s.test, s.minutes))
        .collect();
    assert_eq!(rivals, [(0, 1, 1.5), (1, 3, 1.5)]);
    belief.update_class(&problem.tests[3].outcomes, 1).unwrap();
    // Open and seized look the same to every probe: nobody could have told.
    let late = proof(&problem, &belief, 2).unwrap();
    assert!((late.posterior - 0.75).abs() < 1e-12);
    assert!((late.fair_posterior - 1.0).abs() < 1e-12);
    assert!(late.as_good_as_can_be());
    assert_eq!(late.still_possible, [3]);
    // Against the evidence.
    let wrong = proof(&problem, &belief, 1).unwrap();
    assert!(wrong.contradicted && !wrong.as_good_as_can_be());
    assert_eq!((wrong.posterior, wrong.fair_posterior), (0.0, 0.0));
    assert!(proof(&problem, &belief, 99).unwrap().contradicted);
}

#[test]
fn a_change_of_state_gives_nothing_away_where_the_plan_needs_it() {
    let problem = supply_off_or_on();
    let belief = Belief::of(&problem).unwrap();
    let mut planner = planner(&problem);
    let to = |minutes, state_after| Choice {
        minutes,
        state_after,
        outcomes: &[],
    };
    assert_eq!(
        planner
            .regret_of(&to(0.5, 1), &belief, 0)
            .unwrap()
            .minutes(),
        0.0
    );
    // Slower than need be.
    let slow = planner.regret_of(&to(2.0, 1), &belief, 0).unwrap();
    assert!((slow.minutes() - 1.5).abs() < 1e-12 && slow.exact);
    // There and back again.
    let back = planner.regret_of(&to(0.5, 0), &belief, 1).unwrap();
    assert!((back.minutes() - 1.0).abs() < 1e-12);
    // The long way to the same reading.
    assert!((planner.regret(5, &belief, 1).unwrap().minutes() - 3.0).abs() < 1e-12);
}

#[test]
fn evidence_from_outside_the_tests_is_judged_too() {
    let problem = supply_off_or_on();
    let mut planner = planner(&problem);
    let mut belief = Belief::of(&problem).unwrap();
    belief.update_class(&problem.tests[3].outcomes, 1).unwrap();
    let feel = Choice {
        minutes: 0.5,
        state_after: 1,
        outcomes: &[0, 0, 0, 1],
    };
    // No test tells open from seized; who finds a way gives nothing away.
    let regret = planner.regret_of(&feel, &belief, 1).unwrap();
    assert!(regret.exact);
    assert_eq!(regret.minutes(), 0.0);
    assert!((regret.before.upper - 0.5).abs() < 1e-12);
    // Before the tests it is early but needed all the same: feeling first leaves
    // 1/7 done and 6/7 with two tests or one, feeling last is for 4/7 only.
    let early = Belief::of(&problem).unwrap();
    let regret = planner.regret_of(&feel, &early, 1).unwrap();
    let feel_last = 1.0 + 3.0 / 7.0 + 0.5 * 4.0 / 7.0;
    let feel_first = 0.5 + 6.0 / 7.0 + 3.0 / 7.0;
    assert!((regret.before.upper - feel_last).abs() < 1e-12);
    assert!((regret.through.upper - feel_first).abs() < 1e-12);
    assert!((regret.minutes() - (feel_first - feel_last)).abs() < 1e-12);
    // Once all is known, one more look is idle.
    let mut sure = belief.clone();
    sure.update_class(feel.outcomes, 1).unwrap();
    assert!((planner.regret_of(&feel, &sure, 1).unwrap().minutes() - 0.5).abs() < 1e-12);
    // Better than any test: no regret, and not a negative one.
    let sees_all = Choice {
        minutes: 0.1,
        state_after: 1,
        outcomes: &[0, 1, 2, 3],
    };
    assert_eq!(
        planner.regret_of(&sees_all, &early, 1).unwrap().minutes(),
        0.0
    );
}

#[test]
fn what_a_test_could_tell() {
    let problem = supply_off_or_on();
    let could = prospects(&problem, 3, &Belief::of(&problem).unwrap()).unwrap();
    assert_eq!(could.len(), 2);
    assert_eq!(could[0].hypotheses, [0, 1]);
    assert!((could[0].probability - 3.0 / 7.0).abs() < 1e-12);
    // Two to one: 0.918 bits.
    assert!((could[0].group_bits_after - 0.918).abs() < 5e-4);
}

#[test]
fn a_plan_reads_as_lines() {
    let problem = supply_off_or_on();
    let tree = planner(&problem)
        .plan_tree(&Belief::of(&problem).unwrap(), 0)
        .unwrap();
    let lines = tree.render(&Numbers);
    assert_eq!(
        lines,
        "state 1 (+0.5 min): test 3 (1.0 min; 1.93 min to go)\n\
         - outcome 0:\n\
         \x20 test 1 (1.0 min; 1.00 min to go)\n\
         \x20 - outcome 0:\n\
         \x20   call group 0 (proven; 28.6 %)\n\
         \x20 - outcome 1:\n\
         \x20   call group 1 (proven; 14.3 %)\n\
         - outcome 1:\n\
         \x20 call group 2 (2 left that no test tells apart; 57.1 %)\n"
    );
    let route = tree.route(&problem, 1);
    assert_eq!(route.len(), 2);
    assert!((route[1].minutes_so_far - 2.5).abs() < 1e-12);
}

/// Takes a sound problem, spoils it, and gives the words of the refusal.
fn refused(spoil: impl FnOnce(&mut Problem)) -> String {
    let mut problem = supply_off_or_on();
    spoil(&mut problem);
    match Planner::new(&problem, Limits::default()) {
        Ok(_) => panic!("taken: {problem:?}"),
        Err(error) => error.to_string(),
    }
}

#[test]
fn unusable_problems_are_refused_in_words() {
    for (told, says) in [
        (
            refused(|p| p.priors[1] = f64::NAN),
            "prior of hypothesis 1 is NaN",
        ),
        (
            refused(|p| p.priors[2] = -1.0),
            "prior of hypothesis 2 is -1",
        ),
        (refused(|p| p.priors = vec![0.0; 4]), "no hypothesis"),
        (
            refused(|p| p.groups.truncate(2)),
            "groups has 2 entries where 4",
        ),
        (refused(|p| p.states.clear()), "no state"),
        (
            refused(|p| p.change_minutes.truncate(1)),
            "change_minutes has 1",
        ),
        (
            refused(|p| p.change_minutes[1].push(1.0)),
            "change_minutes[1] has 3",
        ),
        (
            refused(|p| p.change_minutes[0][1] = f64::INFINITY),
            "change_minutes[0][1] is inf",
        ),
        (
            refused(|p| p.tests[3].minutes = f64::NAN),
            "minutes of test 3 is NaN",
        ),
        (refused(|p| p.tests[3].minutes = 1e300), "minutes of test 3"),
        (
            refused(|p| p.tests[2].state = 2),
            "state of test 2 is number 2",
        ),
        (
            refused(|p| p.tests[1].outcomes.truncate(1)),
            "outcomes of test 1 has 1",
        ),
        (refused(|p| *p = chain(&[1.0; 129])), "129 hypotheses"),
        (
            refused(|p| {
                p.states = vec![StateInfo { name: "x".into() }; 25];
                p.change_minutes = vec![vec![1.0; 25]; 25];
            }),
            "25 states",
        ),
    ] {
        assert!(told.contains(says), "{told:?} should say {says:?}");
    }
}

#[test]
fn unusable_questions_are_refused_in_words() {
    let problem = supply_off_or_on();
    let mut planner = planner(&problem);
    let belief = Belief::of(&problem).unwrap();
    let other = Belief::new(&[1.0], &[0]).unwrap();
    assert!(matches!(
        planner.expected_minutes(&other, 0),
        Err(PlanError::Length { .. })
    ));
    assert!(matches!(
        planner.expected_minutes(&belief, 2),
        Err(PlanError::OutOfRange { .. })
    ));
    assert!(matches!(
        planner.regret(6, &belief, 0),
        Err(PlanError::OutOfRange { .. })
    ));
    assert!(matches!(
        planner.classify(6, &belief, 0),
        Err(PlanError::OutOfRange { .. })
    ));
    let choice = |minutes, state_after, outcomes| Choice {
        minutes,
        state_after,
        outcomes,
    };
    for bad in [
        choice(f64::NAN, 0, &[][..]),
        choice(1.0, 7, &[]),
        choice(1.0, 0, &[1]),
    ] {
        assert!(planner.regret_of(&bad, &belief, 0).is_err());
    }
    assert!(Belief::of_set(&problem, &[4]).is_err());
    assert!(Belief::of_set(&problem, &[]).is_err());
}

/// The planner's answers do not change with what else it was asked, as far as they
/// are exact, nor with the memory it may keep.
#[test]
fn forgetting_changes_no_exact_answer() {
    let problem = common::branches(1, 20, 60, 6, 0.0);
    let belief = Belief::of(&problem).unwrap();
    let forgetful = Limits {
        kept_nodes: 0,
        ..Limits::default()
    };
    let mut a = planner(&problem);
    let mut b = Planner::new(&problem, forgetful).unwrap();
    for test in 0..problem.tests.len() {
        let x = a.regret(test, &belief, 0).unwrap();
        let y = b.regret(test, &belief, 0).unwrap();
        assert!(x.exact && y.exact);
        assert!((x.minutes() - y.minutes()).abs() < 1e-9);
    }
}
