//! Laws that hold for whatever a learner does: replay, split waits, refused actions, Kirchhoff.

use std::sync::Arc;

use tracebay_core::circuit::{Solver, State};
use tracebay_core::scenario::Step;
use tracebay_core::session::{Action, MeterDisplay, Observation, Refusal, Session};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;
use tracebay_tests::{Dice, anything, catalogue, open_up};

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

/// A session opened beside another takes over what does not depend on the fault, and is the one that is
/// opened by itself.
#[test]
fn a_session_beside_another_is_the_same_to_the_last_bit() {
    let catalogue = catalogue();
    for scenario in [
        "no-cold-air",
        "hake-not-in-the-wet",
        "since-the-body-shop",
        "bench-relay",
    ] {
        let case = catalogue.draw(scenario, 5).expect("shipped");
        let first = Session::new(Arc::new(case.with_candidate(0))).expect("solvable");
        for i in 0..case.scenario.candidates.len() {
            let case = Arc::new(case.with_candidate(i));
            let mut alone = Session::new(case.clone()).expect("solvable");
            let mut beside = Session::beside(&first, case).expect("solvable");
            for session in [&mut alone, &mut beside] {
                let steps = session.case().scenario.symptom.steps.clone();
                session.drive(&steps);
            }
            assert!(
                told(&mut alone) == told(&mut beside),
                "{scenario}, candidate {i}"
            );
        }
    }
}

/// The same to the last digit but one step of it: a touch lasts half a second, in which a car drifts.
fn alike(one: &Observation, other: &Observation) -> bool {
    match (one, other) {
        (Observation::Light { percent: a, .. }, Observation::Light { percent: b, .. })
            if a.abs_diff(*b) == 1 =>
        {
            let mut one = one.clone();
            if let Observation::Light { percent, .. } = &mut one {
                *percent = *b;
            }
            one == *other
        }
        (
            Observation::Meter {
                display:
                    MeterDisplay::Value {
                        value: a, decimals, ..
                    },
                ..
            },
            Observation::Meter {
                display: MeterDisplay::Value { value: b, .. },
                ..
            },
        ) => (a - b).abs() < 1.5 * 10f64.powi(-i32::from(*decimals)),
        _ => one == other,
    }
}

/// What a tool would show is what it shows once it touches, wherever it can be put: where nothing lies
/// between the points it is told without working it out.
#[test]
fn what_would_be_shown_is_shown() {
    let mut compared = 0;
    for (seed, scenario) in (3..).zip(catalogue().scenarios.keys()) {
        for key in ["off", "on"] {
            let case = catalogue()
                .draw(scenario, seed)
                .expect("shipped")
                .with_sound_tools();
            let mut session = Session::new(Arc::new(case)).expect("solvable");
            session.drive(&[Step::Set("key".into(), key.into()), Step::Wait(5.0)]);
            let _ = session.perform(&Action::Go(Station::Bay));
            open_up(&mut session);
            for (tool, lead, post) in [
                (ToolKind::TestLight, Lead::Clip, "bat:neg"),
                (ToolKind::TestLight, Lead::Clip, "bat:pos"),
                (ToolKind::Meter, Lead::Black, "bat:neg"),
            ] {
                let mut session = session.clone();
                let _ = session.perform(&Action::Dial(Dial::Volts));
                let point = post.to_owned();
                session
                    .perform(&Action::Put { tool, lead, point })
                    .expect("the battery is at hand");
                let points: Vec<String> = session.points().iter().map(|p| p.id.clone()).collect();
                for point in points {
                    let Some(would) = session.would_show(tool, &point) else {
                        continue;
                    };
                    let touch = Action::Touch {
                        tool,
                        point: point.clone(),
                    };
                    let Ok(seen) = session.clone().perform(&touch) else {
                        continue;
                    };
                    // A touch that switches something shows what comes of it.
                    if seen.len() == 1 {
                        assert!(
                            alike(&seen[0], &would),
                            "{scenario}, key {key}, {post} to {point}: {:?} against {would:?}",
                            seen[0]
                        );
                        compared += 1;
                    }
                }
            }
        }
    }
    assert!(compared > 8_000, "only {compared} points were in reach");
}
