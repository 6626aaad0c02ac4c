//! Laws that hold for whatever a learner does: replay, split waits, refused actions, Kirchhoff.

use std::sync::Arc;

use tracebay_core::circuit::{Solver, State};
use tracebay_core::session::{Action, Refusal, Session};
use tracebay_core::vehicle::Station;
use tracebay_tests::{Dice, anything, catalogue};

/// What can be told of a session, as text: equal texts are equal states to the last bit, since
/// numbers are printed so that they can be read back exactly.
fn told(session: &mut Session) -> String {
    let view = serde_json::to_string(&session.view()).expect("a view can be written");
    let log = serde_json::to_string(session.log()).expect("a log can be written");
    format!("{view}\n{log}\n{:?}", session.network())
}

fn wander(scenario: &str, seed: u64, steps: usize) -> (Session, Vec<Action>) {
    let case = Arc::new(catalogue().draw(scenario, seed).expect("shipped"));
    let mut session = Session::new(case).expect("solvable");
    let mut dice = Dice(seed);
    let mut done = Vec::new();
    for _ in 0..steps {
        let action = anything(&session, &mut dice);
        if session.perform(&action).is_ok() {
            done.push(action);
        }
    }
    (session, done)
}

#[test]
fn replaying_the_actions_gives_the_same_bits() {
    for scenario in ["no-cold-air", "horn-silent", "no-start", "fan-still"] {
        for seed in 0..6 {
            let (mut session, actions) = wander(scenario, seed, 120);
            let mut again = Session::new(session.case().clone()).expect("solvable");
            for action in &actions {
                again.perform(action).expect("allowed the first time");
            }
            assert!(
                told(&mut session) == told(&mut again),
                "{scenario} seed {seed} drifted"
            );
        }
    }
}

#[test]
fn a_wait_split_in_two_gives_the_same_bits() {
    for seed in 0..12 {
        let (session, _) = wander("no-cold-air", seed, 40);
        let (mut whole, mut split) = (session.clone(), session);
        whole.perform(&Action::Wait(137)).expect("possible");
        split.perform(&Action::Wait(50)).expect("possible");
        split.perform(&Action::Wait(87)).expect("possible");
        let state = |s: &mut Session| {
            let mut view = s.view();
            // Minutes are a sum of two quotients; ticks, not minutes, are the state.
            view.minutes = 0.0;
            format!(
                "{}\n{:?}",
                serde_json::to_string(&view).expect("written"),
                s.network()
            )
        };
        assert!(state(&mut whole) == state(&mut split), "seed {seed}");
    }
}

#[test]
fn one_begins_where_there_is_something_to_do_and_can_go_nowhere_else() {
    let begin = |scenario| {
        let case = catalogue().draw(scenario, 1).expect("shipped");
        Session::new(Arc::new(case)).expect("solvable")
    };
    let all = [Station::Seat, Station::Bay, Station::Box, Station::Bench];
    for (scenario, first, reached) in [
        ("bench-relay", Station::Bench, &all[3..]),
        ("no-cold-air", Station::Seat, &all[..3]),
    ] {
        let mut session = begin(scenario);
        assert_eq!(session.station(), first, "{scenario}");
        for station in all {
            let went = session.perform(&Action::Go(station));
            match reached.contains(&station) {
                true if station == first => assert_eq!(went, Err(Refusal::AlreadySo)),
                true => assert_eq!(went, Ok(Vec::new())),
                false => assert_eq!(went, Err(Refusal::NothingThere { station })),
            }
        }
    }
}

#[test]
fn a_refused_action_changes_nothing() {
    let case = Arc::new(catalogue().draw("no-cold-air", 5).expect("shipped"));
    let mut session = Session::new(case).expect("solvable");
    let mut dice = Dice(99);
    let mut refused = 0;
    for _ in 0..400 {
        let action = anything(&session, &mut dice);
        let before = told(&mut session);
        if session.perform(&action).is_err() {
            refused += 1;
            assert!(told(&mut session) == before, "{action:?}");
        }
    }
    assert!(
        refused > 50,
        "the wanderer was refused too seldom to test anything: {refused}"
    );
}

#[test]
fn kirchhoff_holds_wherever_a_learner_takes_the_car() {
    // Kirchhoff's current law; the bound is the project's own promise, stricter than any meter.
    for seed in 0..8 {
        let (session, _) = wander("no-cold-air", seed, 80);
        let network = session.network();
        let mut state = State::rest(network);
        let solution = Solver::new(network)
            .solve(network, &[], &mut state)
            .expect("an operating point");
        let share = solution.kirchhoff_share(network, &[]);
        assert!(share <= 1.0, "seed {seed}: {share} of what is allowed");
    }
}

#[test]
fn nothing_turns_in_a_car_left_alone_with_the_key_off() {
    // Insulation leaks nanoamperes into every motor; friction holds them (common practice, no
    // source).
    for scenario in ["no-cold-air", "quist-no-cold-air", "hake-load-bay"] {
        let case = Arc::new(catalogue().draw(scenario, 3).expect("shipped"));
        let mut session = Session::new(case).expect("solvable");
        session.perform(&Action::Wait(200)).expect("time passes");
        let motors = session.view().motion.motors;
        assert!(!motors.is_empty(), "{scenario}");
        assert!(
            motors.values().all(|share| *share == 0.0),
            "{scenario}: {motors:?}"
        );
    }
}
