//! A case shown whole, for instructors: the hidden fault, the best plan, every reading.

use serde_json::json;
use tracebay_grading::belief::Belief;
use tracebay_grading::judge::method_for;
use tracebay_grading::plan::{Limits, Names, Planner};
use tracebay_words::{PlanWords, Words};

use crate::cli::ShowArgs;
use crate::library::Library;

/// Prints a case.
///
/// # Errors
/// No such case, or it cannot be planned.
pub fn command(library: &Library, args: &ShowArgs) -> Result<(), String> {
    let words = Words::new("en");
    let case = library
        .catalogue
        .draw(&args.scenario, args.seed)
        .map_err(|error| words.draw_error(&error))?;
    let told = |error: &dyn std::fmt::Display| error.to_string();
    let survey = tracebay_shelf::survey(&case).map_err(|e| told(&e))?;
    let mut planner = Planner::new(&survey.problem, Limits::default()).map_err(|e| told(&e))?;
    let belief = Belief::of(&survey.problem).map_err(|e| told(&e))?;
    let best = planner.expected_minutes(&belief, 0).map_err(|e| told(&e))?;
    let tree = planner.plan_tree(&belief, 0).map_err(|e| told(&e))?;
    let names = PlanWords {
        words: &words,
        case: &case,
        survey: &survey,
    };
    let truth = case.reveal().unwrap_or(0);
    let faults: Vec<String> = case
        .culprit()
        .iter()
        .flat_map(|c| &c.faults)
        .map(|fault| {
            format!(
                "{} ({}; put right by {:?})",
                words.fault(&case, fault),
                fault.at,
                method_for(&case.vehicle, fault)
            )
        })
        .collect();
    let readings: Vec<(String, String, String)> = survey
        .problem
        .tests
        .iter()
        .enumerate()
        .map(|(i, test)| {
            (
                survey.states[test.state].label.to_string(),
                words.probe(&case, &survey.probes[test.probe as usize]),
                names.outcome(i, test.outcomes[truth]),
            )
        })
        .collect();
    let route: Vec<String> = tree
        .route(&survey.problem, truth)
        .iter()
        .map(|step| {
            let test = &survey.problem.tests[step.test];
            format!(
                "{}: {} ({:.1} min so far; {})",
                survey.states[test.state].label,
                words.probe(&case, &survey.probes[test.probe as usize]),
                step.minutes_so_far,
                names.outcome(step.test, step.class)
            )
        })
        .collect();
    if args.json {
        let readings: Vec<_> = readings
            .iter()
            .map(|(state, test, shows)| json!({ "state": state, "test": test, "shows": shows }))
            .collect();
        tell!(
            "{}",
            json!({
                "scenario": case.scenario.id, "version": case.scenario.version, "seed": case.seed,
                "complaint": case.complaint, "ambient_c": case.ambient_c,
                "candidate": case.culprit().map(|c| &c.id), "faults": faults,
                "expected_minutes": { "lower": best.lower, "upper": best.upper, "exact": best.exact },
                "route": route, "readings": readings, "plan": tree.render(&names),
            })
        );
        return Ok(());
    }
    tell!("{}, seed {}", case.scenario.title, case.seed);
    tell!("“{}” Outside {:.0} °C.", case.complaint, case.ambient_c);
    tell!("It is: {}", faults.join(" + "));
    tell!("\nThe best plan on this car:");
    for step in &route {
        tell!("  {step}");
    }
    tell!("\nReadings that tell candidates apart, as this car gives them:");
    let mut state = "";
    for (at, test, shows) in &readings {
        if at != state {
            tell!("{at}:");
            state = at;
        }
        tell!("  {test}: {shows}");
    }
    tell!(
        "\nThe best plan for all candidates, {:.1} min to a proven call on average:",
        best.upper
    );
    print!("{}", tree.render(&names));
    Ok(())
}
