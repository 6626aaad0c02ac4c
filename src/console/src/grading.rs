//! Scores of attempt files, and the instructor's view of a case's best plan.

use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use tracebay_core::attempt::{HeaderCheck, check_header, replay};
use tracebay_core::scenario::SourceFile;
use tracebay_core::session::Action;
use tracebay_grading::belief::Belief;
use tracebay_grading::plan::{Limits, Planner};
use tracebay_grading::rubric::Rubric;
use tracebay_grading::safety::Rules;
use tracebay_grading::scorecard::score;
use tracebay_shelf::{AttemptFile, Data, read_source, survey};
use tracebay_words::{PlanWords, Words};

use crate::cli::Common;
use crate::{errors, library};

/// The rubric of those who name none.
pub const USUAL: &str = "home";

/// How an attempt is scored.
pub struct Terms {
    /// Rubric.
    pub rubric: Rubric,
    /// Safety rules.
    pub rules: Rules,
}

/// Where a rubric of a name stands among the data files.
pub fn rubric_file(name: &str) -> String {
    format!("grading/rubrics/{name}.ron")
}

/// The rubric of an assignment, and the safety rules.
pub fn terms_of(data: &Data, assigned: &tracebay_grading::assign::Terms) -> Result<Terms, String> {
    let rules = rules(data)?;
    let rubric = assigned.rubric(&rules).map_err(told)?;
    Ok(Terms { rubric, rules })
}

fn told(problems: Vec<tracebay_core::source::Problem>) -> String {
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    told.join("\n")
}

fn rules(data: &Data) -> Result<Rules, String> {
    let own = Rules::preset();
    Rules::load(data.file(&own.name).unwrap_or(&own)).map_err(told)
}

/// A rubric by its name among the data files, or by its path, and the safety rules.
pub fn terms(words: &Words, data: &Data, rubric: &str) -> Result<Terms, String> {
    let rules = rules(data)?;
    let file: SourceFile = match data.file(&rubric_file(rubric)) {
        Some(file) => file.clone(),
        None => read_source(Path::new(rubric)).map_err(|error| errors::shelf(words, &error))?,
    };
    let rubric = Rubric::load(&file, &rules).map_err(told)?;
    Ok(Terms { rubric, rules })
}

/// Replays an attempt file, checking every line, and prints its card.
pub fn score_file(
    words: &Words,
    common: &Common,
    path: &Path,
    rubric: &str,
    json: bool,
) -> Result<ExitCode, String> {
    let library = library::open(words, common)?;
    let terms = terms(words, &library.data, rubric)?;
    let decoded = AttemptFile::read(path).map_err(|error| errors::shelf(words, &error))?;
    let header = &decoded.header;
    let case = library
        .catalogue
        .draw(&header.scenario, header.seed)
        .map_err(|error| words.draw_error(&error))?;
    let check = check_header(header, &case).map_err(|error| words.attempt_error(&error))?;
    let case = Arc::new(case);
    replay(case.clone(), header, &decoded.lines)
        .map_err(|error| words.replay_error(&case.vehicle, &error))?;
    let survey = survey(&case).map_err(|error| error.to_string())?;
    let actions: Vec<Action> = decoded.lines.iter().map(|l| l.action.clone()).collect();
    let card = score(&case, &survey, &actions, &terms.rubric, &terms.rules)
        .map_err(|error| error.to_string())?;
    // What is wrong with the file goes to the error output, so that JSON stays JSON.
    if let Some(torn) = &decoded.torn {
        eprintln!("{}", words.torn_line(torn));
    }
    if check == HeaderCheck::ContentChanged {
        eprintln!("{}", words.text("attempt-content-changed"));
    }
    if json {
        let text = serde_json::to_string(&card).map_err(|error| error.to_string())?;
        println!("{text}");
    } else {
        for line in words.scorecard(&case, &terms.rules, &card) {
            println!("{line}");
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// Prints the best plan of a case as a tree. For instructors: it tells what the tests tell.
pub fn plan(words: &Words, common: &Common, scenario: &str, seed: u64) -> Result<ExitCode, String> {
    let library = library::open(words, common)?;
    let case = library
        .catalogue
        .draw(scenario, seed)
        .map_err(|error| words.draw_error(&error))?;
    let survey = survey(&case).map_err(|error| error.to_string())?;
    let told = |error: tracebay_grading::plan::PlanError| error.to_string();
    let mut planner = Planner::new(&survey.problem, Limits::default()).map_err(told)?;
    let belief = Belief::of(&survey.problem).map_err(told)?;
    let best = planner.expected_minutes(&belief, 0).map_err(told)?;
    let tree = planner.plan_tree(&belief, 0).map_err(told)?;
    let args = [
        ("title", case.scenario.title.as_str().into()),
        ("seed", seed.to_string().into()),
        ("minutes", words.minutes(best.upper).into()),
    ];
    println!("{}", words.get("score-plan-title", &args));
    if !best.exact {
        let args = [("lower", words.minutes(best.lower).into())];
        println!("{}", words.get("score-plan-bound", &args));
    }
    let names = PlanWords {
        words,
        case: &case,
        survey: &survey,
    };
    print!("{}", tree.render(&names));
    Ok(ExitCode::SUCCESS)
}
