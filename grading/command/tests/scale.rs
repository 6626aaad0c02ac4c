//! A large class for measuring: 10,000 attempts of about 60 actions, each on a car of its own, over
//! all shipped scenarios. Only written where asked for; measured with `tracebay-grade grade --time`
//! (see grading/README.md). With MIXED the learners have all habits: for comparing two programs' reports.

#[path = "class/hands.rs"]
mod hands;
#[path = "class/people.rs"]
#[allow(dead_code)]
mod people;

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use people::{Dice, Habit, work};
use tracebay_core::attempt::{Recorder, encode_header, encode_line};
use tracebay_grade::library::Library;
use tracebay_grade::parallel::{Progress, in_order, threads};
use tracebay_grading::assign::{
    Assignment, Counts, FORMAT, Learner, Slot, Task, Terms, derived_seed,
};

/// Actions an attempt is filled up to.
const ACTIONS: usize = 60;

#[test]
#[ignore = "only where LARGE_CLASS names a folder; ATTEMPTS says how many, SCENARIOS of which, EACH how often"]
fn write_a_large_class() {
    let folder = PathBuf::from(std::env::var("LARGE_CLASS").expect("a folder"));
    let attempts: usize = std::env::var("ATTEMPTS").map_or(10_000, |n| n.parse().unwrap());
    let library = Library::open(None).unwrap();
    let all = library.catalogue.scenarios.keys().cloned();
    let scenarios: Vec<String> = match std::env::var("SCENARIOS") {
        Ok(some) => some.split(',').map(str::to_owned).collect(),
        Err(_) => all.collect(),
    };
    let each: usize = std::env::var("EACH").map_or(20, |n| n.parse().unwrap());
    let size = attempts.div_ceil(scenarios.len() * each);
    let terms = Terms {
        id: "large".into(),
        title: "Large class (invented)".into(),
        opens: None,
        due: None,
        attempts: each as u32,
        counts: Counts::Best,
        hints: false,
        tasks: scenarios
            .iter()
            .map(|s| Task::of(&library.catalogue, s, None, None).unwrap())
            .collect(),
        rubric: library.rubric("assignment").unwrap().0.text,
    };
    let learners = (0..size)
        .map(|i| {
            let id = format!("L{i:04}");
            // Neighbours do not matter here, and drawing anew takes long.
            let seeds = scenarios.iter().map(|s| {
                (0..each)
                    .map(|n| derived_seed("large", "large", &id, s, n, 0))
                    .collect()
            });
            Learner {
                name: format!("Learner {i} (invented)"),
                seeds: seeds.collect(),
                id,
            }
        })
        .collect();
    let assignment = Assignment {
        format: FORMAT,
        terms,
        learners,
    };
    let rules = assignment.terms.rules();
    let mut slots: Vec<Slot> = assignment.slots().into_values().flatten().collect();
    // However few are asked for, they are spread over all scenarios.
    slots.sort_by_key(|slot| (slot.learner, slot.attempt, slot.task));
    slots.truncate(attempts);
    let mixed = std::env::var_os("MIXED").is_some();
    let written = in_order(
        slots.len(),
        threads(None),
        &Progress::new("made", true),
        |i| {
            let slot = slots[i];
            let learner = &assignment.learners[slot.learner];
            let task = &assignment.terms.tasks[slot.task];
            let seed = learner.seeds[slot.task][slot.attempt];
            let case = Arc::new(task.case(&library.catalogue, seed).unwrap());
            let mut dice = Dice(i as u64);
            // Guessers alone make even lengths, which is what is measured.
            let habit = match (mixed, i % 5) {
                (false, _) | (_, 0) => Habit::Guesser,
                (_, 1) => Habit::Planner,
                (_, 2) => Habit::Careful,
                (_, 3) => Habit::Swapper,
                _ => Habit::Careless,
            };
            let actions = work(habit, &case, &mut dice);
            let started = Some("2026-02-02T10:00:00Z".to_owned());
            let mut recorder =
                Recorder::start(case, &rules, started, Some(learner.id.clone())).unwrap();
            let mut text = encode_header(recorder.header());
            let mut at = 0;
            for action in actions {
                at += 2000 + dice.below(9000) as u64;
                let (line, _) = recorder.perform(action, Some(at)).unwrap();
                text.push_str(&encode_line(&line));
            }
            let own = folder.join("handed-in").join(&learner.id);
            fs::create_dir_all(&own).unwrap();
            let name = format!("{}-{:02}.jsonl", task.scenario, slot.attempt);
            fs::write(own.join(name), text).unwrap();
            recorder.lines().len()
        },
    );
    let actions: usize = written.iter().flatten().sum();
    println!(
        "{} attempts, {:.1} actions each",
        written.len(),
        actions as f64 / written.len() as f64
    );
    // Smaller or larger attempts would measure something else.
    assert!(mixed || (actions / written.len()).abs_diff(ACTIONS) <= 12);
    fs::write(folder.join("large.assignment.json"), assignment.to_text()).unwrap();
}
