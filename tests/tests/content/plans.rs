//! Bounds that hold for any search by tests, on every shipped scenario.
//!
//! Entropy: no tree of tests with k outcomes takes fewer than H / log2 k tests on average (C. E. Shannon,
//! Bell System Technical Journal 27, 1948). Huffman: and none fewer than the Huffman tree of the repairs
//! (D. A. Huffman, Proceedings of the IRE 40, 1952). In minutes: times those of the quickest test.

use tracebay_core::fault::Failure;
use tracebay_core::scenario::Case;
use tracebay_core::session::{MeterDisplay, Observation};
use tracebay_grading::belief::Belief;
use tracebay_grading::plan::{Limits, Planner};
use tracebay_grading::survey::{Outcome, Probe, Survey, kept_name};

use crate::load;

#[test]
fn no_plan_of_a_shipped_scenario_beats_the_bounds() {
    for (scenario, vehicle) in load::scenarios() {
        let case = Case::draw(scenario.clone(), vehicle.clone(), 1);
        let survey = Survey::of(&case).expect("an operating point");
        let belief = Belief::of(&survey.problem).expect("priors");
        let mut planner = Planner::new(&survey.problem, Limits::default()).expect("a problem");
        let bounds = planner.bounds(&belief, 0).expect("bounds");
        let best = planner.expected_minutes(&belief, 0).expect("a plan");
        let greedy = planner.greedy_minutes(&belief, 0).expect("a plan");
        let close = 1e-9;
        let id = &scenario.id;
        assert!(bounds.entropy > 0.0, "{id}");
        assert!(bounds.entropy <= bounds.huffman + close, "{id}: {bounds:?}");
        assert!(
            bounds.huffman <= best.upper + close,
            "{id}: {bounds:?} {best:?}"
        );
        assert!(
            bounds.search <= best.upper + close,
            "{id}: {bounds:?} {best:?}"
        );
        assert!(best.lower <= best.upper + close, "{id}: {best:?}");
        assert!(best.upper <= greedy + close, "{id}: {best:?} {greedy}");
        println!(
            "{id}: entropy {:.2}, Huffman {:.2}, best {:.2} to {:.2}, greedy {greedy:.2} minutes",
            bounds.entropy, bounds.huffman, best.lower, best.upper
        );
        // No test tells more than was uncertain, nor more than its outcomes can (Shannon 1948).
        let bits = belief.group_entropy_bits();
        for test in &survey.problem.tests {
            let mut left = 0.0;
            let mut kinds = test.outcomes.clone();
            kinds.sort_unstable();
            kinds.dedup();
            let total: f64 = survey.problem.priors.iter().sum();
            for kind in &kinds {
                let mut after = belief.clone();
                after
                    .update_class(&test.outcomes, *kind)
                    .expect("an outcome that a candidate shows");
                let share: f64 = survey
                    .problem
                    .priors
                    .iter()
                    .zip(&test.outcomes)
                    .filter(|(_, o)| *o == kind)
                    .map(|(p, _)| p / total)
                    .sum();
                left += share * after.group_entropy_bits();
            }
            let gain = bits - left;
            assert!(
                gain >= -close && gain <= bits + close,
                "{id}: {gain} of {bits}"
            );
            assert!(gain <= (kinds.len() as f64).log2() + close, "{id}: {gain}");
        }
    }
}

/// What was kept is the survey itself, to the last bit, under a name that changes with the case; what cannot be
/// read is made anew. (Own format; equality is the only thing to check it against.)
#[test]
fn a_kept_survey_is_the_survey() {
    let (scenario, vehicle) = load::scenarios()
        .into_iter()
        .find(|(scenario, _)| scenario.id == "horn-silent")
        .expect("shipped");
    let case = Case::draw(scenario.clone(), vehicle.clone(), 7);
    let made = Survey::of(&case).expect("an operating point");
    let mut kept = None;
    let first = Survey::of_kept(
        &case,
        |_| None,
        |name, bytes| kept = Some((name.to_owned(), bytes.to_vec())),
    );
    assert_eq!(first.expect("made"), made);
    let (name, bytes) = kept.expect("kept");
    assert_eq!(name, kept_name(&case));
    let again = Survey::of_kept(
        &case,
        |asked| (asked == name).then(|| bytes.clone()),
        |_, _| panic!("it was there"),
    );
    assert_eq!(again.expect("read"), made);
    let mut made_anew = false;
    let torn = Survey::of_kept(
        &case,
        |_| Some(bytes[..bytes.len() / 2].to_vec()),
        |_, _| made_anew = true,
    );
    assert_eq!(torn.expect("made"), made);
    assert!(made_anew);

    let other_seed = Case::draw(scenario.clone(), vehicle.clone(), 8);
    let mut narrowed = case.clone();
    std::sync::Arc::make_mut(&mut narrowed.scenario).tools.pop();
    let names = [&case, &other_seed, &narrowed].map(kept_name);
    assert!(names[0] != names[1] && names[0] != names[2] && names[1] != names[2]);
    // A survey tries every fault: which one the case has does not matter.
    assert_eq!(
        kept_name(&case.with_candidate(0)),
        kept_name(&case.with_candidate(1))
    );
}

/// Bridging the load side tells the side of the relay, and ohms are for what carries no current:
/// common practice, no source.
#[test]
fn the_bridge_splits_the_relay_from_its_load_and_ohms_are_never_advised_on_a_live_point() {
    let mut bridged = 0;
    for (scenario, vehicle) in load::scenarios() {
        let case = Case::draw(scenario.clone(), vehicle.clone(), 1);
        let survey = Survey::of(&case).expect("an operating point");
        for (test, shown) in survey.problem.tests.iter().zip(&survey.shown) {
            let probe = &survey.probes[test.probe as usize];
            let nonsense = shown.values().any(|outcome| {
                matches!(outcome, Outcome::Seen(seen) if seen.iter().any(|o| matches!(
                    o,
                    Observation::Meter { display: MeterDisplay::Nonsense { .. }, .. }
                )))
            });
            assert!(!nonsense, "{}: {probe:?}", scenario.id);
            bridged += usize::from(matches!(probe, Probe::Bridge { .. }));
        }
        if scenario.id != "no-cold-air" {
            continue;
        }
        // Contacts that failed leave the load sound: it answers to the bridge. An open coil of the
        // clutch does not.
        let at = |part: &str, what: Failure| {
            let mut candidates = scenario.candidates.iter();
            let found = candidates.position(|c| {
                let fault = &c.faults[0];
                fault.at == part && fault.what.failure() == what
            });
            found.unwrap_or_else(|| panic!("{part} {what:?} is a candidate"))
        };
        let relay = at("K3", Failure::Contacts);
        let clutch = at("clutch_coil", Failure::Coil);
        let tests = survey.problem.tests.iter();
        let told = tests
            .filter(|t| matches!(survey.probes[t.probe as usize], Probe::Bridge { .. }))
            .any(|t| t.outcomes[relay] != t.outcomes[clutch]);
        assert!(told);
    }
    assert!(bridged > 0);
}
