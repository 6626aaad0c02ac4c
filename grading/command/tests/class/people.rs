//! Invented learners with known habits: what each does on a car, as actions. All of it is invented
//! and stands for nobody.

use std::sync::Arc;

use tracebay_core::fault::{Failure, Fault, Method};
use tracebay_core::scenario::{Candidate, Case};
use tracebay_core::session::Action;
use tracebay_core::tools::{Lead, ToolKind};
use tracebay_core::vehicle::Kind;
use tracebay_grading::belief::Belief;
use tracebay_grading::judge::{method_for, standing};
use tracebay_grading::plan::{Limits, Planner};
use tracebay_grading::survey::Survey;
pub use tracebay_tests::Dice;

use crate::hands::Hands;

/// A habit.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Habit {
    /// Follows the best plan.
    Planner,
    /// Follows it, with tests in between that tell nothing.
    Careful,
    /// Replaces what usually fails until the complaint is gone.
    Swapper,
    /// Touches here and there, then calls something.
    Guesser,
    /// Finds it, without care for hands, eyes and units.
    Careless,
}

/// What somebody of a habit does on a case.
pub fn work(habit: Habit, case: &Arc<Case>, dice: &mut Dice) -> Vec<Action> {
    match habit {
        Habit::Planner => planned(case, dice, 0),
        Habit::Careful => planned(case, dice, 4),
        Habit::Swapper => swapped(case, dice),
        Habit::Guesser => guessed(case, dice),
        Habit::Careless => careless(case, dice),
    }
}

fn culprit(case: &Case) -> &Candidate {
    case.culprit().expect("a fault")
}

/// A look round, different from person to person.
fn look_round(hands: &mut Hands, dice: &mut Dice) {
    let case = hands.session.case().clone();
    let places: Vec<String> = case
        .vehicle
        .places
        .iter()
        .filter(|(_, place)| !place.moving_parts)
        .map(|(id, _)| id.clone())
        .collect();
    for _ in 0..1 + dice.below(3) {
        let place = dice.pick(&places).clone();
        hands.look(&place);
    }
}

fn touch_somewhere(hands: &mut Hands, dice: &mut Dice) {
    let case = hands.session.case().clone();
    for _ in 0..6 {
        let point = dice.pick(&case.scenario.probes).clone();
        // A filament light asks more of a sensor's line than it can give.
        let part = point.split(['.', ':']).next().unwrap_or_default();
        let line = case.vehicle.parts.get(part).is_some_and(|part| {
            matches!(
                part.kind,
                Kind::PressureSensor { .. } | Kind::Thermistor { .. } | Kind::ControlUnit(_)
            )
        });
        let tool = ToolKind::TestLight;
        if !line && hands.act(Action::Touch { tool, point }) {
            return;
        }
    }
}

fn planned(case: &Arc<Case>, dice: &mut Dice, idle: usize) -> Vec<Action> {
    let survey = Survey::of(case).expect("a survey");
    let truth = case.reveal().expect("a fault");
    let mut hands = Hands::new(case);
    look_round(&mut hands, dice);
    hands.meet_complaint();
    let posterior = standing(case, &survey, &hands.done)
        .expect("a beginning")
        .posterior;
    let belief = Belief::new(&posterior, &survey.groups).expect("a posterior");
    let state = survey.nearest_state(&mut hands.session);
    let mut planner = Planner::new(&survey.problem, Limits::default()).expect("a problem");
    let tree = planner.plan_tree(&belief, state).expect("a plan");
    for step in tree.route(&survey.problem, truth) {
        let test = &survey.problem.tests[step.test];
        hands.enter(&survey.states[test.state].steps);
        hands.probe(&survey.probes[test.probe as usize]);
    }
    if idle > 0 {
        hands.clip(false);
        for _ in 0..1 + dice.below(idle) {
            touch_somewhere(&mut hands, dice);
        }
    }
    conclude(&mut hands, culprit(case));
    hands.done
}

/// Puts a fault right by its method, or by whatever the car allows there.
fn put_right(hands: &mut Hands, fault: &Fault) -> bool {
    [
        method_for(&hands.session.case().vehicle.clone(), fault),
        Method::Replace,
        Method::MendWire,
    ]
    .into_iter()
    .any(|method| {
        hands.act(Action::Repair {
            target: fault.at.clone(),
            method,
        })
    })
}

fn conclude(hands: &mut Hands, called: &Candidate) {
    let fault = &called.faults[0];
    hands.act(Action::Call {
        target: fault.at.clone(),
        failure: fault.what.failure(),
    });
    hands.put_back();
    put_right(hands, fault);
    hands.meet_complaint();
    hands.put_back();
    hands.hand_back("Found by test.");
}

fn swapped(case: &Arc<Case>, dice: &mut Dice) -> Vec<Action> {
    let mut hands = Hands::new(case);
    look_round(&mut hands, dice);
    hands.meet_complaint();
    hands.put_back();
    let mut usual: Vec<&Candidate> = case.scenario.candidates.iter().collect();
    usual.sort_by(|a, b| b.prior.total_cmp(&a.prior).then(a.id.cmp(&b.id)));
    let mut last = None;
    for candidate in usual.into_iter().take(5).chain([culprit(case)]) {
        let fault = &candidate.faults[0];
        let done = put_right(&mut hands, fault);
        last = Some((fault.at.clone(), fault.what.failure()));
        if done {
            hands.meet_complaint();
            hands.put_back();
            if !hands.session.complaint_shows().expect("a car") {
                break;
            }
        }
    }
    let (target, failure) = last.unwrap_or(("bat".to_owned(), Failure::Open));
    hands.act(Action::Call { target, failure });
    hands.hand_back("Worn parts.");
    hands.done
}

fn guessed(case: &Arc<Case>, dice: &mut Dice) -> Vec<Action> {
    let mut hands = Hands::new(case);
    hands.meet_complaint();
    hands.clip(false);
    for i in 0..12 + dice.below(8) {
        if i % 5 == 0 {
            let state = dice.pick(&case.scenario.states).clone();
            hands.enter(&state.steps);
        }
        touch_somewhere(&mut hands, dice);
    }
    let called = dice.pick(&case.scenario.candidates).clone();
    conclude(&mut hands, &called);
    hands.done
}

fn careless(case: &Arc<Case>, dice: &mut Dice) -> Vec<Action> {
    let mut hands = Hands::new(case);
    // Engine started without the hose, a bare jumper across the socket with the key on.
    hands.set("key", "start");
    hands.act(Action::Wait(20));
    hands.meet_complaint();
    if let Some(socket) = &case.scenario.socket {
        hands.act(Action::Pull(socket.clone()));
        for (lead, terminal) in [(Lead::A, "30"), (Lead::B, "87")] {
            let order = &case.arrangements[socket];
            if let Some(at) = order.iter().position(|t| t == terminal) {
                hands.act(Action::Put {
                    tool: ToolKind::PlainJumper,
                    lead,
                    point: format!("{socket}.{}", char::from(b'a' + at as u8)),
                });
            }
        }
        hands.lift(ToolKind::PlainJumper);
    }
    for _ in 0..3 + dice.below(4) {
        hands.clip(false);
        touch_somewhere(&mut hands, dice);
    }
    conclude(&mut hands, culprit(case));
    hands.done
}
