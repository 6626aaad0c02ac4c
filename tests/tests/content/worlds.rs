//! What simulation proves of every shipped scenario: every candidate makes its complaint true, the
//! sound car does not show it, any two candidates can be told apart, a proven call is reachable in
//! time, and no text gives the answer away. And that the proof finds it where something is wrong.

use std::sync::Arc;

use tracebay_core::fault::Wrong;
use tracebay_core::scenario::{CarState, Scenario, Step};
use tracebay_core::vehicle::Vehicle;
use tracebay_grading::prove::{Weakness, prove};

use crate::load;

#[test]
fn every_shipped_scenario_is_proved() {
    let mut told = Vec::new();
    for (scenario, vehicle) in load::scenarios() {
        let proof = prove(&scenario, &vehicle);
        told.extend(
            proof
                .weaknesses
                .iter()
                .map(|w| format!("{}: {w:?}", scenario.id)),
        );
        assert!(
            proof.tests > 0 && proof.best_minutes > 0.0,
            "{}",
            scenario.id
        );
    }
    assert!(told.is_empty(), "{}", told.join("\n"));
}

fn spoilt(spoil: impl Fn(&mut Scenario)) -> Vec<Weakness> {
    let (scenario, vehicle): (Arc<Scenario>, Arc<Vehicle>) = load::scenarios()
        .into_iter()
        .find(|(s, _)| s.id == "stop-lamps-dark")
        .expect("a shipped scenario");
    let mut scenario = (*scenario).clone();
    spoil(&mut scenario);
    prove(&Arc::new(scenario), &vehicle).weaknesses
}

#[test]
fn a_fault_that_does_not_matter_is_found() {
    // A twentieth of an ohm is nothing to a lamp of 21 W.
    let found = spoilt(|s| s.candidates[5].faults[0].what = Wrong::Resistance(0.05));
    let not_true = |w: &Weakness| matches!(w, Weakness::ComplaintNotTrue { candidate, .. } if candidate == "return-wire");
    assert!(found.iter().any(not_true), "{found:?}");
}

#[test]
fn a_complaint_that_is_always_true_is_found() {
    let found = spoilt(|s| s.symptom.steps = vec![Step::Set("lights".into(), "side".into())]);
    // Nobody brakes, so the lamp is dark on the sound car as well: no candidate differs from it.
    assert!(
        found
            .iter()
            .any(|w| matches!(w, Weakness::ComplaintNotTrue { .. })),
        "{found:?}"
    );
}

#[test]
fn candidates_no_test_tells_apart_are_found() {
    let found = spoilt(|s| {
        s.probes.clear();
        s.spares.clear();
        s.suspects = vec!["stop_lamp".into()];
    });
    assert!(
        found.iter().any(|w| matches!(w, Weakness::Alike { .. })),
        "{found:?}"
    );
    assert!(
        found
            .iter()
            .any(|w| matches!(w, Weakness::FewSuspects { .. })),
        "{found:?}"
    );
}

#[test]
fn a_state_out_of_reach_and_a_telling_text_are_found() {
    let found = spoilt(|s| {
        s.states.push(CarState {
            id: "airbag".into(),
            label: "Airbag plug off".into(),
            steps: vec![Step::Unplug("airbag_plug".into())],
        });
        s.complaints[0] = "I think it is the fuse.".into();
        s.budget_minutes = 0.5;
    });
    let state =
        |w: &Weakness| matches!(w, Weakness::StateNotReached { state, .. } if state == "airbag");
    let tells = |w: &Weakness| matches!(w, Weakness::Tells { word, .. } if word == "fuse");
    assert!(found.iter().any(state), "{found:?}");
    assert!(found.iter().any(tells), "{found:?}");
    assert!(
        found
            .iter()
            .any(|w| matches!(w, Weakness::OverBudget { .. })),
        "{found:?}"
    );
}

#[test]
fn the_guide_s_worked_example_is_good() {
    let guide = include_str!("../../../scenarios/README.md");
    let (_, rest) = guide.split_once("```ron\n").expect("an example");
    let (example, _) = rest.split_once("```").expect("an end of it");
    let file = tracebay_core::scenario::SourceFile {
        name: "the guide's example".into(),
        text: example.to_owned(),
    };
    let catalogue = load::catalogue();
    let scenario = tracebay_core::scenario::load::scenario(&file, &catalogue)
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    let vehicle = catalogue.vehicles[&scenario.vehicle].clone();
    assert_eq!(prove(&Arc::new(scenario.clone()), &vehicle).weaknesses, []);
    // And the step before it, with the message it promises.
    let mut weak = scenario;
    weak.candidates[3].faults[0].what = Wrong::Resistance(1.0);
    let found = prove(&Arc::new(weak), &vehicle).weaknesses;
    assert!(
        matches!(&found[0], Weakness::ComplaintNotTrue { candidate, seed: 1 } if candidate == "return")
    );
}
