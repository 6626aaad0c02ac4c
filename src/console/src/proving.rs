//! The author's table: what simulation proves of scenarios, and what must be put right.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use tracebay_core::scenario::{Catalogue, Scenario};
use tracebay_core::vehicle::Vehicle;
use tracebay_core::vehicle::protection::unprotected;
use tracebay_grading::prove::{Proof, Weakness, prove};
use tracebay_words::Words;

/// Tells of wires that their fuse does not protect; whether there are any.
pub fn wiring(words: &Words, vehicle: &Vehicle) -> bool {
    let found = unprotected(vehicle);
    let amps =
        |a: Option<f64>| a.map_or_else(|| words.text("say-prove-none"), |a| format!("{a} A"));
    for u in &found {
        let args = [
            ("vehicle", vehicle.id.as_str().into()),
            ("wire", u.wire.as_str().into()),
            ("mm2", u.mm2.to_string().into()),
            ("may", amps(u.may_a).into()),
            ("fuse", amps(u.fuse_a).into()),
        ];
        eprintln!("{}", words.get("say-prove-wire", &args));
    }
    !found.is_empty()
}

/// Proves scenarios and prints a row for each, or a JSON object; whether anything must be put right.
pub fn scenarios(
    words: &Words,
    catalogue: &Catalogue,
    scenarios: &[Arc<Scenario>],
    json: bool,
) -> bool {
    tell(words, &prove_all(catalogue, scenarios), json)
}

/// Prints a row for each proof, or a JSON object; whether anything must be put right.
pub fn tell(words: &Words, proofs: &[Proof], json: bool) -> bool {
    if json {
        for proof in proofs {
            match serde_json::to_string(proof) {
                Ok(line) => println!("{line}"),
                Err(error) => eprintln!("{error}"),
            }
        }
    } else {
        print_table(words, proofs);
    }
    proofs.iter().any(|p| !p.weaknesses.is_empty())
}

/// Every scenario on its own; as many at a time as there are cores.
pub fn prove_all(catalogue: &Catalogue, scenarios: &[Arc<Scenario>]) -> Vec<Proof> {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let i = next.fetch_add(1, Ordering::Relaxed);
            let Some(scenario) = scenarios.get(i) else {
                return done;
            };
            if let Some(vehicle) = catalogue.vehicles.get(&scenario.vehicle) {
                done.push((i, prove(scenario, vehicle)));
            }
        }
    };
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let mut proofs: Vec<(usize, Proof)> = std::thread::scope(|scope| {
        let hands: Vec<_> = (0..cores).map(|_| scope.spawn(work)).collect();
        hands
            .into_iter()
            .flat_map(|hand| hand.join().unwrap_or_default())
            .collect()
    });
    proofs.sort_by_key(|(i, _)| *i);
    proofs.into_iter().map(|(_, proof)| proof).collect()
}

fn print_table(words: &Words, proofs: &[Proof]) {
    let head = |key: &str| words.text(key);
    println!(
        "{:<26} {:<17} {:>4} {:>6} {:>7} {:>6} {:>7} {:>7} {:>6} {:>7}",
        head("say-prove-scenario"),
        head("say-prove-vehicle"),
        head("say-prove-hard"),
        head("say-prove-faults"),
        head("say-prove-repairs"),
        head("say-prove-tests"),
        head("say-prove-best"),
        head("say-prove-longest"),
        head("say-prove-depth"),
        head("say-prove-budget"),
    );
    for p in proofs {
        println!(
            "{:<26} {:<17} {:>4} {:>6} {:>7} {:>6} {:>6.1}{} {:>7.1} {:>6} {:>7.0}",
            p.scenario,
            p.vehicle,
            p.difficulty,
            p.candidates,
            p.repairs,
            p.tests,
            p.best_minutes,
            if p.exact { ' ' } else { '~' },
            p.longest_minutes,
            p.depth,
            p.budget_minutes,
        );
        for (i, weakness) in p.weaknesses.iter().enumerate() {
            // What is so with every seed is said once.
            if p.weaknesses[..i]
                .iter()
                .any(|w| but_for_the_seed(w) == but_for_the_seed(weakness))
            {
                continue;
            }
            eprintln!("{}: {}", p.scenario, sentence(words, weakness));
        }
    }
    let faults: usize = proofs.iter().map(|p| p.candidates).sum();
    let different = |p: &Proof| {
        let alike = |i: usize| {
            let this = but_for_the_seed(&p.weaknesses[i]);
            p.weaknesses[..i]
                .iter()
                .any(|w| but_for_the_seed(w) == this)
        };
        (0..p.weaknesses.len()).filter(|i| !alike(*i)).count()
    };
    let wrong: usize = proofs.iter().map(different).sum();
    let args = [
        ("scenarios", proofs.len().to_string().into()),
        ("faults", faults.to_string().into()),
        ("wrong", wrong.to_string().into()),
    ];
    println!("{}", words.get("say-prove-sum", &args));
}

/// A weakness without the seed it was found with.
fn but_for_the_seed(weakness: &Weakness) -> Weakness {
    let mut plain = weakness.clone();
    match &mut plain {
        Weakness::SoundCarShowsIt { seed }
        | Weakness::ComplaintNotTrue { seed, .. }
        | Weakness::Alike { seed, .. } => *seed = 0,
        _ => {}
    }
    plain
}

fn sentence(words: &Words, weakness: &Weakness) -> String {
    let text = |s: &String| -> tracebay_words::Value<'static> { s.clone().into() };
    let seed = |n: &u64| -> tracebay_words::Value<'static> { n.to_string().into() };
    match weakness {
        Weakness::NoOperatingPoint { why } => {
            words.get("say-prove-no-operating-point", &[("why", text(why))])
        }
        Weakness::SoundCarShowsIt { seed: n } => {
            words.get("say-prove-sound-car", &[("seed", seed(n))])
        }
        Weakness::ComplaintNotTrue { candidate, seed: n } => words.get(
            "say-prove-not-true",
            &[("candidate", text(candidate)), ("seed", seed(n))],
        ),
        Weakness::Alike { a, b, seed: n } => words.get(
            "say-prove-alike",
            &[("a", text(a)), ("b", text(b)), ("seed", seed(n))],
        ),
        Weakness::OverBudget { candidate, minutes } => words.get(
            "say-prove-over-budget",
            &[
                ("candidate", text(candidate)),
                ("minutes", words.minutes(*minutes).into()),
            ],
        ),
        Weakness::StateNotReached { state, missing } => words.get(
            "say-prove-state",
            &[("state", text(state)), ("missing", text(missing))],
        ),
        Weakness::Tells { text: t, word } => words.get(
            "say-prove-tells",
            &[("text", text(t)), ("word", text(word))],
        ),
        Weakness::FewSuspects { suspects, culprits } => words.get(
            "say-prove-few-suspects",
            &[
                ("suspects", suspects.to_string().into()),
                ("culprits", culprits.to_string().into()),
            ],
        ),
    }
}
