//! How hard the shipped scenarios are for invented learners, beside what their files say. Only where
//! asked for:
//! `cargo test --release -p tracebay-grade --test difficulty -- --ignored --nocapture`.

#[path = "class/hands.rs"]
#[allow(dead_code)]
mod hands;
#[path = "class/people.rs"]
#[allow(dead_code)]
mod people;

use std::collections::BTreeMap;
use std::sync::Arc;

use people::{Dice, Habit, work};
use tracebay_grade::library::Library;
use tracebay_grade::parallel::{Progress, in_order, threads};
use tracebay_grading::scorecard::score;
use tracebay_grading::survey::Survey;

/// Cars tried for each scenario.
const SEEDS: u64 = 3;
/// Who works well and who hardly knows what to do (invented).
const HABITS: [Habit; 4] = [
    Habit::Planner,
    Habit::Careful,
    Habit::Swapper,
    Habit::Guesser,
];

/// Points, whether passed, and minutes, by habit.
type Row = Vec<(f64, bool, f64)>;

#[test]
#[ignore = "takes minutes; prints a table"]
fn difficulty_beside_what_invented_learners_make_of_it() {
    let library = Library::open(None).unwrap();
    let rubric = library.rubric("home").unwrap().1;
    let cases: Vec<(&String, u64)> = library
        .catalogue
        .scenarios
        .keys()
        .flat_map(|id| (1..=SEEDS).map(move |seed| (id, seed)))
        .collect();
    let progress = Progress::new("cars", true);
    let rows = in_order(cases.len(), threads(None), &progress, |i| -> Row {
        let (id, seed) = cases[i];
        let case = Arc::new(library.catalogue.draw(id, seed).unwrap());
        let survey = Survey::of(&case).unwrap();
        let of = |habit| {
            let actions = work(habit, &case, &mut Dice(seed));
            let card = score(&case, &survey, &actions, &rubric, &library.rules).unwrap();
            (card.points, card.passed, card.judged.minutes)
        };
        HABITS.into_iter().map(of).collect()
    });
    let mut levels: BTreeMap<u8, Vec<&Row>> = BTreeMap::new();
    for ((id, _), row) in cases.iter().zip(rows.iter().flatten()) {
        let level = library.catalogue.scenarios[*id].difficulty;
        levels.entry(level).or_default().push(row);
    }
    println!("points (passed) of invented learners, {SEEDS} cars a scenario");
    println!("level  scenarios  {:?}", HABITS);
    for (level, rows) in &levels {
        let told = (0..HABITS.len()).map(|h| {
            let mean = rows.iter().map(|r| r[h].0).sum::<f64>() / rows.len() as f64;
            let passed = rows.iter().filter(|r| r[h].1).count() * 100 / rows.len();
            let minutes = rows.iter().map(|r| r[h].2).sum::<f64>() / rows.len() as f64;
            format!("{mean:5.1} ({passed:3} %) {minutes:4.0} min")
        });
        println!(
            "{level:5}  {:9}  {}",
            rows.len() / SEEDS as usize,
            told.collect::<Vec<_>>().join("   ")
        );
    }
    // Who follows the best plan passes everywhere; who guesses or swaps parts nowhere as often.
    let passed = |h: usize| rows.iter().flatten().filter(|r| r[h].1).count();
    assert!(passed(0) > passed(2) && passed(0) > passed(3));
}
