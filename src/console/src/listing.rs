//! What there is: scenarios and attempts.

use std::process::ExitCode;

use tracebay_core::scenario::Catalogue;
use tracebay_shelf::{FolderStore, Store, save_folder};
use tracebay_words::Words;

use crate::cli::Common;
use crate::{errors, library};

/// Most attempts that are listed.
const MOST_RECENT: usize = 20;

/// Scenarios shown to somebody who asked for nothing.
const FIRST_SCENARIOS: usize = 8;

/// What this is, how to begin, and the easiest scenarios.
pub fn welcome(words: &Words, common: &Common) -> Result<ExitCode, String> {
    let library = library::open(words, common)?;
    println!("{}", words.text("say-what-this-is"));
    if let Some(first) = in_order(&library.catalogue).first() {
        let args = [("scenario", first.id.as_str().into())];
        println!("{}", words.get("say-begin", &args));
    }
    println!("{}", words.text("say-other-uses"));
    print_scenarios(words, &library.catalogue, FIRST_SCENARIOS);
    Ok(ExitCode::SUCCESS)
}

/// The scenarios.
pub fn scenarios(words: &Words, common: &Common) -> Result<ExitCode, String> {
    let library = library::open(words, common)?;
    print_scenarios(words, &library.catalogue, usize::MAX);
    Ok(ExitCode::SUCCESS)
}

fn print_scenarios(words: &Words, catalogue: &Catalogue, most: usize) {
    let scenarios = in_order(catalogue);
    if scenarios.is_empty() {
        println!("{}", words.text("say-no-scenarios"));
        return;
    }
    println!("{}", words.text("say-scenarios"));
    let left = scenarios.len().saturating_sub(most);
    for scenario in scenarios.into_iter().take(most) {
        // The topic is for instructors: it would tell a learner where to look.
        let car = catalogue
            .vehicles
            .get(&scenario.vehicle)
            .map_or(scenario.vehicle.as_str(), |v| v.name.as_str());
        let args = [
            ("id", scenario.id.as_str().into()),
            ("title", scenario.title.as_str().into()),
            ("car", car.into()),
            ("difficulty", scenario.difficulty.to_string().into()),
        ];
        println!("{}", words.get("say-scenario", &args));
    }
    if left > 0 {
        let args = [("count", left.to_string().into())];
        println!("{}", words.get("say-scenarios-left", &args));
    }
}

/// Easiest first.
fn in_order(catalogue: &Catalogue) -> Vec<&tracebay_core::scenario::Scenario> {
    let mut all: Vec<_> = catalogue.scenarios.values().map(AsRef::as_ref).collect();
    all.sort_by(|a, b| (a.difficulty, &a.id).cmp(&(b.difficulty, &b.id)));
    all
}

/// The attempts in the save folder.
pub fn attempts(words: &Words, common: &Common) -> Result<ExitCode, String> {
    let told = |error| errors::shelf(words, &error);
    let store = FolderStore::new(save_folder(common.save.clone()).map_err(told)?);
    let recent = store.recent(MOST_RECENT).map_err(told)?;
    if recent.is_empty() {
        let folder = store.folder().display().to_string();
        println!(
            "{}",
            words.get("say-no-recent", &[("folder", folder.into())])
        );
        return Ok(ExitCode::SUCCESS);
    }
    println!("{}", words.text("say-recent"));
    for attempt in recent {
        let done = if attempt.handed_back { "yes" } else { "no" };
        let args = [
            ("name", attempt.name.as_str().into()),
            ("scenario", attempt.header.scenario.as_str().into()),
            ("seed", attempt.header.seed.to_string().into()),
            ("actions", attempt.actions.to_string().into()),
            ("minutes", words.minutes(attempt.minutes).into()),
            ("done", done.into()),
        ];
        println!("{}", words.get("say-recent-line", &args));
    }
    Ok(ExitCode::SUCCESS)
}
