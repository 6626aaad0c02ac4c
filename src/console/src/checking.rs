//! Whether files are good, with the place of what is wrong.

use std::path::Path;
use std::process::ExitCode;
use std::sync::Arc;

use tracebay_core::attempt::{check_header, replay};
use tracebay_core::scenario::{Catalogue, Scenario, SourceFile, load};
use tracebay_core::source::Problem;
use tracebay_shelf::{AttemptFile, read_source};
use tracebay_words::Words;

use crate::cli::Common;
use crate::{WRONG_INPUT, errors, library, proving, translations};

/// Checks files one by one. What is wrong goes to the error output, and the exit code tells.
///
/// Vehicles come first, so that a scenario may use a vehicle checked in the same call.
pub fn check(
    words: &Words,
    common: &Common,
    files: &[impl AsRef<Path>],
    json: bool,
) -> Result<ExitCode, String> {
    // What is wrong is told below, or is not what was asked about.
    let (mut library, _) = library::read(words, common)?;
    if files.is_empty() {
        let (_, mut problems) = library.data.catalogue();
        problems.extend(library.data.same_ids());
        let (found, lacking) = translations::all(words, &library, problems.is_empty());
        problems.extend(found);
        problems.iter().for_each(|problem| eprintln!("{problem}"));
        let scenarios: Vec<_> = library.catalogue.scenarios.values().cloned().collect();
        let vehicles: Vec<_> = library.catalogue.vehicles.values().cloned().collect();
        let mut wrong = !problems.is_empty();
        for vehicle in &vehicles {
            wrong |= proving::wiring(words, vehicle);
        }
        wrong |= proving::scenarios(words, &library.catalogue, &scenarios, json);
        if !json {
            lacking.iter().for_each(|line| println!("{line}"));
        }
        return Ok(code(wrong));
    }
    let mut wrong = false;
    let mut to_prove = Vec::new();
    let mut later = Vec::new();
    let same_ids = library.data.same_ids();
    for path in files.iter().map(AsRef::as_ref) {
        let twins = same_ids.iter().filter(|p| same_file(&p.file, path));
        let twins: Vec<Problem> = twins.cloned().collect();
        let told = if !twins.is_empty() {
            Err(problems(twins))
        } else if ends_with(path, "jsonl") {
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
    let mut names = Vec::new();
    let (texts, later): (Vec<_>, Vec<_>) = later.into_iter().partition(is_texts);
    let (courses, scenarios): (Vec<_>, Vec<_>) = later.into_iter().partition(is_course);
    for file in scenarios {
        match load::scenario(&file, &library.catalogue).map_err(problems) {
            Ok(scenario) => {
                let scenario = Arc::new(scenario);
                let id = scenario.id.clone();
                library.catalogue.scenarios.insert(id, scenario.clone());
                to_prove.push(scenario);
                names.push(file.name);
            }
            Err(told) => wrong |= tell(Err(told)),
        }
    }
    for file in courses {
        wrong |= tell(check_course(words, &library.catalogue, &file));
    }
    // Last, since they translate what the others say.
    for file in texts {
        wrong |= tell(translations::one(words, &library, &file).map_err(problems));
    }
    if !to_prove.is_empty() {
        let proofs = proving::prove_all(&library.catalogue, &to_prove);
        if !json {
            // A file is good only once simulation found nothing to put right.
            for ((name, scenario), proof) in names.iter().zip(&to_prove).zip(&proofs) {
                println!(
                    "{}",
                    verdict(words, name, scenario, proof.weaknesses.is_empty())
                );
            }
        }
        wrong |= proving::tell(words, &proofs, json);
    }
    Ok(code(wrong))
}

fn code(wrong: bool) -> ExitCode {
    if wrong {
        ExitCode::from(WRONG_INPUT)
    } else {
        ExitCode::SUCCESS
    }
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

/// The first line that is no comment, with the type's name before the first bracket.
fn start(file: &SourceFile) -> Option<&str> {
    file.text
        .lines()
        .map(str::trim)
        .find(|line| !line.is_empty() && !line.starts_with("//") && !line.starts_with("#!"))
}

fn is_texts(file: &SourceFile) -> bool {
    match start(file) {
        Some(line) if line.starts_with("Texts") => true,
        Some(line) if line.starts_with("Course") || line.starts_with("Scenario") => false,
        _ => Path::new(&file.name)
            .parent()
            .is_some_and(|p| p.ends_with("words")),
    }
}

fn is_course(file: &SourceFile) -> bool {
    match start(file) {
        Some(line) if line.starts_with("Course") => true,
        Some(line) if line.starts_with("Scenario") => false,
        _ => Path::new(&file.name)
            .parent()
            .is_some_and(|p| p.ends_with("courses")),
    }
}

/// The type's name stands before the first bracket, or else the folder tells.
fn is_vehicle(file: &SourceFile) -> bool {
    match start(file) {
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
    let vehicle = Arc::new(load::vehicle(file).map_err(problems)?);
    if proving::wiring(words, &vehicle) {
        return Err(words.get("say-check-wiring", &[("path", file.name.as_str().into())]));
    }
    catalogue.vehicles.insert(vehicle.id.clone(), vehicle);
    Ok(words.get("say-check-vehicle", &[("path", file.name.as_str().into())]))
}

/// Whether both paths lead to one file.
fn same_file(name: &str, path: &Path) -> bool {
    let real = |path: &Path| std::fs::canonicalize(path).ok();
    real(path).is_some_and(|path| real(Path::new(name)) == Some(path))
}

fn verdict(words: &Words, name: &str, scenario: &Scenario, good: bool) -> String {
    let args = [
        ("path", name.into()),
        ("candidates", scenario.candidates.len().to_string().into()),
    ];
    let key = if good {
        "say-check-scenario"
    } else {
        "say-check-scenario-refused"
    };
    words.get(key, &args)
}

fn check_course(words: &Words, catalogue: &Catalogue, file: &SourceFile) -> Result<String, String> {
    let course = load::course(file, catalogue).map_err(problems)?;
    let args = [
        ("path", file.name.as_str().into()),
        ("lessons", course.lessons.len().to_string().into()),
    ];
    Ok(words.get("say-check-course", &args))
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
