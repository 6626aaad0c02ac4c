//! Whether files are good, with the place of what is wrong.

use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use tracebay_core::attempt::{check_header, replay};
use tracebay_core::scenario::{Catalogue, SourceFile, load};
use tracebay_core::source::Problem;
use tracebay_shelf::{AttemptFile, read_source};
use tracebay_words::Words;

use crate::cli::Common;
use crate::{WRONG_INPUT, errors, library};

/// Checks files one by one. What is wrong goes to the error output, and the exit code tells.
///
/// Vehicles come first, so that a scenario may use a vehicle checked in the same call.
pub fn check(
    words: &Words,
    common: &Common,
    files: &[impl AsRef<Path>],
) -> Result<ExitCode, String> {
    let mut library = library::open(words, common)?;
    let mut wrong = false;
    let mut later = Vec::new();
    for path in files.iter().map(AsRef::as_ref) {
        let told = if ends_with(path, "jsonl") {
            check_attempt(words, &library.catalogue, path)
        } else {
            match read_source(path) {
                Err(error) => Err(errors::shelf(words, &error)),
                Ok(file) if is_vehicle(&file) => {
                    check_vehicle(words, &mut library.catalogue, &file)
                }
                Ok(file) => {
                    later.push(file);
                    continue;
                }
            }
        };
        wrong |= tell(told);
    }
    for file in later {
        wrong |= tell(check_scenario(words, &library.catalogue, &file));
    }
    Ok(if wrong {
        ExitCode::from(WRONG_INPUT)
    } else {
        ExitCode::SUCCESS
    })
}

fn tell(told: Result<String, String>) -> bool {
    match &told {
        Ok(good) => println!("{good}"),
        Err(wrong) => eprintln!("{wrong}"),
    }
    told.is_err()
}

fn ends_with(path: &Path, ending: &str) -> bool {
    path.extension()
        .is_some_and(|found| found.eq_ignore_ascii_case(ending))
}

/// The type's name stands before the first bracket, or else the folder tells.
fn is_vehicle(file: &SourceFile) -> bool {
    let start = file
        .text
        .lines()
        .map(str::trim)
        .find(|line| !line.is_empty() && !line.starts_with("//") && !line.starts_with("#!"));
    match start {
        Some(line) if line.starts_with("Vehicle") => true,
        Some(line) if line.starts_with("Scenario") => false,
        _ => Path::new(&file.name)
            .parent()
            .is_some_and(|p| p.ends_with("vehicles")),
    }
}

fn problems(found: Vec<Problem>) -> String {
    let told: Vec<_> = found.iter().map(ToString::to_string).collect();
    told.join("\n")
}

fn check_vehicle(
    words: &Words,
    catalogue: &mut Catalogue,
    file: &SourceFile,
) -> Result<String, String> {
    let vehicle = load::vehicle(file).map_err(problems)?;
    catalogue
        .vehicles
        .insert(vehicle.id.clone(), Arc::new(vehicle));
    Ok(words.get("say-check-vehicle", &[("path", file.name.as_str().into())]))
}

fn check_scenario(
    words: &Words,
    catalogue: &Catalogue,
    file: &SourceFile,
) -> Result<String, String> {
    let scenario = load::scenario(file, catalogue).map_err(problems)?;
    let args = [
        ("path", file.name.as_str().into()),
        ("candidates", scenario.candidates.len().to_string().into()),
    ];
    Ok(words.get("say-check-scenario", &args))
}

fn check_attempt(words: &Words, catalogue: &Catalogue, path: &Path) -> Result<String, String> {
    let name = path.display().to_string();
    let named = |sentence: String| format!("{name}: {sentence}");
    let decoded = AttemptFile::read(path).map_err(|error| errors::shelf(words, &error))?;
    let header = &decoded.header;
    let case = catalogue
        .draw(&header.scenario, header.seed)
        .map_err(|error| named(words.draw_error(&error)))?;
    check_header(header, &case).map_err(|error| named(words.attempt_error(&error)))?;
    let vehicle = case.vehicle.clone();
    replay(Arc::new(case), header, &decoded.lines)
        .map_err(|error| named(words.replay_error(&vehicle, &error)))?;
    let args = [
        ("path", name.as_str().into()),
        ("scenario", header.scenario.as_str().into()),
        ("seed", header.seed.to_string().into()),
        ("actions", decoded.lines.len().to_string().into()),
    ];
    let mut told = words.get("say-check-attempt", &args);
    if let Some(torn) = &decoded.torn {
        told = format!("{told}\n{}", words.torn_line(torn));
    }
    Ok(told)
}
