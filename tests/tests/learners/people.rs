//! Five people with a car that does not cool: what each of them does, as actions.
//!
//! Only the person with the best plan reads the planner; nobody reads the hidden fault but the
//! person who is known to end with the right call, whose last steps are given.

use std::sync::Arc;

use tracebay_core::fault::{Failure, Method};
use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Item};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;
use tracebay_grading::belief::Belief;
use tracebay_grading::judge::{judge, method_for};
use tracebay_grading::plan::{Limits, Planner};
use tracebay_grading::survey::Survey;

use crate::hands::Hands;

/// What is called, and how it is put right.
pub struct Verdict {
    pub target: String,
    pub failure: Failure,
    pub method: Method,
}

/// The candidate of this id as a verdict.
pub fn verdict(case: &Case, id: &str) -> Verdict {
    let candidate = case.scenario.candidates.iter().find(|c| c.id == id);
    let fault = &candidate.expect("a candidate of the scenario").faults[0];
    Verdict {
        target: fault.at.clone(),
        failure: fault.what.failure(),
        method: method_for(&case.vehicle, fault),
    }
}

fn conclude(hands: &mut Hands, verdict: &Verdict) {
    hands.act(Action::Call {
        target: verdict.target.clone(),
        failure: verdict.failure,
    });
    hands.put_back(true);
    hands.repair(&verdict.target, verdict.method);
    hands.meet_complaint();
    hands.put_back(true);
    hands.hand_back("Found by test.", "Put right and tried again.");
}

/// Follows the best plan to its end.
pub fn best_plan(case: &Arc<Case>, survey: &Survey) -> Vec<Action> {
    let mut planner = Planner::new(&survey.problem, Limits::default()).expect("a valid problem");
    let truth = case.reveal().expect("a fault");
    let mut hands = Hands::new(case);
    hands.meet_complaint();
    // What the complaint has told by now is planned with.
    let so_far = judge(case, survey, &hands.done).expect("a judged beginning");
    let posterior = &so_far.steps.last().expect("steps").posterior;
    let belief = Belief::new(posterior, &survey.groups).expect("a posterior");
    let state = survey.nearest_state(&mut hands.session);
    let tree = planner.plan_tree(&belief, state).expect("a plan");
    for step in tree.route(&survey.problem, truth) {
        let test = &survey.problem.tests[step.test];
        hands.enter(&survey.states[test.state].steps);
        hands.probe(&survey.probes[test.probe as usize]);
    }
    let id = case.scenario.candidates[truth].id.clone();
    conclude(&mut hands, &verdict(case, &id));
    hands.done
}

/// The classic route at the relay's socket. (The order of its steps: common practice, no source.)
pub fn socket_route(case: &Arc<Case>, called: &Verdict) -> Vec<Action> {
    let mut hands = Hands::new(case);
    hands.meet_complaint();
    for (control, to) in [("ac", "off"), ("blower", "off"), ("key", "off")] {
        hands.set(control, to);
    }
    hands.clip(false);
    hands.pull("K3");
    // Feed of the contacts with the key off, feed of the coil with the key on.
    hands.sweep("K3");
    hands.set("key", "on");
    hands.sweep("K3");
    hands.set("key", "off");
    // The load side, by hand, with the engine stopped: does the clutch snap in?
    for (lead, terminal) in [(Lead::A, "30"), (Lead::B, "87")] {
        let point = hands.cavity("K3", terminal);
        hands.at("fuse_box");
        hands.act(Action::Put {
            tool: ToolKind::FusedJumper,
            lead,
            point,
        });
    }
    for lead in [Lead::B, Lead::A] {
        hands.act(Action::Lift {
            tool: ToolKind::FusedJumper,
            lead,
        });
    }
    // The control side: light to plus, engine on, A/C asked for, delay over.
    hands.set("key", "start");
    hands.wait(2);
    hands.set("blower", "3");
    hands.set("ac", "on");
    hands.wait(8);
    hands.clip(true);
    hands.sweep("K3");
    for (control, to) in [("ac", "off"), ("blower", "off"), ("key", "off")] {
        hands.set(control, to);
    }
    // Everything at the socket is good, so it is the relay: a known-good one proves it.
    hands.fit("K3", Item::Spare);
    hands.meet_complaint();
    conclude(&mut hands, called);
    hands.done
}

/// Replaces what usually fails until it cools, and calls what was replaced last.
pub fn parts_swapper(case: &Arc<Case>, called: &Verdict) -> Vec<Action> {
    let mut hands = Hands::new(case);
    hands.meet_complaint();
    hands.set("key", "off");
    for part in ["clutch_coil", "pressure_sensor", "F9", &called.target] {
        hands.repair(part, Method::Replace);
        hands.set("key", "start");
        hands.wait(2);
        hands.set("blower", "3");
        hands.set("ac", "on");
        hands.wait(60);
        hands.act(Action::Feel("vents".into()));
        hands.set("key", "off");
    }
    hands.act(Action::Call {
        target: called.target.clone(),
        failure: called.failure,
    });
    hands.put_back(true);
    hands.hand_back("Worn parts.", "Replaced them.");
    hands.done
}

/// A generator good enough to wander about with: the constants of Knuth's MMIX generator (The Art
/// of Computer Programming 2, section 3.3.4, from memory).
struct Wander(u64);

impl Wander {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % n
    }
}

/// Touches here and there in whatever state comes, then calls what is most likely to be known: what
/// the last of it happens to have shown is not thought about.
pub fn random_tester(case: &Arc<Case>, called: &Verdict, seed: u64) -> Vec<Action> {
    let mut wander = Wander(seed);
    let mut hands = Hands::new(case);
    hands.meet_complaint();
    hands.clip(false);
    let points: Vec<String> = case.scenario.probes.clone();
    let states: Vec<_> = case.scenario.states.iter().collect();
    let mut made = 0;
    while made < 24 {
        if made % 4 == 0 {
            hands.enter(&states[wander.below(states.len())].steps);
            if hands.session.station() == Station::Seat {
                hands.go(Station::Bay);
            }
            hands.at("fuse_box");
        }
        let point = points[wander.below(points.len())].clone();
        made += usize::from(hands.try_to(Action::Touch {
            tool: ToolKind::TestLight,
            point,
        }));
    }
    conclude(&mut hands, called);
    hands.done
}

/// Finds it, and is lucky to go home: bare jumper from the battery to the clutch with the engine
/// running, hand in the belt, no eye protection.
pub fn unsafe_worker(case: &Arc<Case>, called: &Verdict) -> Vec<Action> {
    let mut hands = Hands::new(case);
    hands.set("key", "start");
    hands.wait(2);
    hands.set("blower", "3");
    hands.set("ac", "on");
    hands.wait(60);
    hands.act(Action::Feel("vents".into()));
    hands.go(Station::Bay);
    hands.act(Action::Feel("compressor_low".into()));
    hands.at("fuse_box");
    hands.pull("K3");
    for (lead, terminal) in [(Lead::A, "30"), (Lead::B, "87")] {
        let point = hands.cavity("K3", terminal);
        hands.act(Action::Put {
            tool: ToolKind::PlainJumper,
            lead,
            point,
        });
    }
    for lead in [Lead::B, Lead::A] {
        hands.act(Action::Lift {
            tool: ToolKind::PlainJumper,
            lead,
        });
    }
    hands.act(Action::Dial(Dial::Ohms));
    let (a, b) = (hands.cavity("K3", "85"), hands.cavity("K3", "86"));
    hands.act(Action::Put {
        tool: ToolKind::Meter,
        lead: Lead::Black,
        point: a,
    });
    hands.touch(ToolKind::Meter, &b);
    hands.act(Action::Lift {
        tool: ToolKind::Meter,
        lead: Lead::Black,
    });
    hands.fit("K3", Item::Spare);
    hands.look("compressor_low");
    conclude(&mut hands, called);
    hands.done
}
