//! The whole job in a terminal: for screen readers, slow machines, scripts and tests.
//!
//! Everything a learner can do in the app can be done here by a short plain command, one fact a
//! line, without colour or drawing. No physics and no score is computed here.

mod assigned;
mod checking;
mod cli;
mod command;
mod courses;
mod desk;
mod diagram;
mod errors;
mod fields;
mod files;
mod grading;
mod info;
mod input;
mod judge;
mod library;
mod listing;
mod opening;
mod proving;
mod reply;
mod session_loop;
mod translations;
mod watching;

use std::process::ExitCode;

use clap::Parser;
use cli::{Cli, Sub};
use tracebay_words::Words;

/// The terminal's own words, by language code.
const CONSOLE_WORDS: [(&str, &str); 2] = [
    ("en", include_str!("../../../assets/words/console.en.ftl")),
    ("es", include_str!("../../../assets/words/console.es.ftl")),
];

/// Exit code for wrong input, as with the parser of options.
const WRONG_INPUT: u8 = 2;

fn main() -> ExitCode {
    let cli = Cli::parse();
    let mut words = Words::new(&language(cli.common.lang.as_deref()));
    words.add(&CONSOLE_WORDS);
    match run(cli, words) {
        Ok(code) => code,
        Err(sentence) => {
            eprintln!("{sentence}");
            ExitCode::from(WRONG_INPUT)
        }
    }
}

fn run(cli: Cli, words: Words) -> Result<ExitCode, String> {
    let common = cli.common;
    match cli.command {
        None => listing::welcome(&words, &common),
        Some(Sub::List) => listing::scenarios(&words, &common),
        Some(Sub::Check {
            files,
            json,
            watch: false,
        }) => checking::check(&words, &common, &files, json),
        Some(Sub::Check { files, json, .. }) => watching::check(&words, &common, &files, json),
        Some(Sub::Files { path }) => files::print(&words, &common, path.as_deref()),
        Some(Sub::Fields { kind, schema }) => fields::print(&words, kind.as_deref(), schema),
        Some(Sub::Diagram { vehicle, circuit }) => {
            diagram::print(&words, &common, &vehicle, circuit.as_deref())
        }
        Some(Sub::Courses { course }) => courses::show(&words, &common, course.as_deref()),
        Some(Sub::Score { file, rubric, json }) => {
            grading::score_file(&words, &common, &file, &rubric, json)
        }
        Some(Sub::Plan { scenario, seed }) => grading::plan(&words, &common, &scenario, seed),
        Some(Sub::Assigned {
            file,
            learner,
            task,
            how,
        }) => {
            let wanted = assigned::Wanted {
                file: &file,
                learner: learner.as_deref(),
                task: task.as_deref(),
            };
            match assigned::open(words, &common, &wanted, &how)? {
                assigned::Opening::Case(opened) => session_loop::work(*opened, &how),
                assigned::Opening::Tasks(lines) => {
                    lines.iter().for_each(|line| println!("{line}"));
                    Ok(ExitCode::SUCCESS)
                }
            }
        }
        Some(Sub::Resume { file: None, .. }) => listing::attempts(&words, &common),
        Some(Sub::Resume {
            file: Some(file),
            how,
        }) => {
            let opened = opening::resume(words, &common, &file, &how)?;
            session_loop::work(opened, &how)
        }
        Some(Sub::Start {
            scenario,
            seed,
            name,
            no_save,
            how,
        }) => {
            let wanted = opening::Wanted {
                scenario,
                seed,
                name,
                no_save,
            };
            let opened = opening::start(words, &common, wanted, &how)?;
            session_loop::work(opened, &how)
        }
    }
}

/// The language asked for, or the one the system's messages are in (POSIX locale variables).
fn language(option: Option<&str>) -> String {
    if let Some(language) = option {
        return language.to_owned();
    }
    ["LC_ALL", "LC_MESSAGES", "LANG"]
        .iter()
        .find_map(|name| std::env::var(name).ok().filter(|value| !value.is_empty()))
        .unwrap_or_else(|| "en".to_owned())
}

#[cfg(test)]
mod tests {
    use super::CONSOLE_WORDS;
    use tracebay_words::parity::{differences, messages};

    #[test]
    fn both_languages_say_the_same_things() {
        let read = |at: usize| messages(CONSOLE_WORDS[at].1).unwrap();
        assert_eq!(differences(&read(0), &read(1)), Vec::<String>::new());
    }

    #[test]
    fn every_key_in_the_code_has_a_sentence_and_none_is_left_over() {
        const SOURCES: [&str; 22] = [
            include_str!("assigned.rs"),
            include_str!("checking.rs"),
            include_str!("courses.rs"),
            include_str!("diagram.rs"),
            include_str!("proving.rs"),
            include_str!("command/parse.rs"),
            include_str!("command/verb.rs"),
            include_str!("desk.rs"),
            include_str!("fields.rs"),
            include_str!("files.rs"),
            include_str!("grading.rs"),
            include_str!("info/car.rs"),
            include_str!("info/help.rs"),
            include_str!("info/job.rs"),
            include_str!("info/places.rs"),
            include_str!("judge.rs"),
            include_str!("library.rs"),
            include_str!("listing.rs"),
            include_str!("opening.rs"),
            include_str!("session_loop.rs"),
            include_str!("translations.rs"),
            include_str!("watching.rs"),
        ];
        let there = messages(CONSOLE_WORDS[0].1).unwrap();
        let in_code = |key: &str| {
            let quoted = format!("\"{key}\"");
            SOURCES.iter().any(|source| source.contains(&quoted))
        };
        let left: Vec<_> = there
            .keys()
            .filter(|key| key.starts_with("say-") && !in_code(key))
            .collect();
        assert!(left.is_empty(), "{left:?}");
        for source in SOURCES {
            for word in source.split('"').skip(1).step_by(2) {
                let key = word.starts_with("say-") || word.starts_with("word-");
                assert!(
                    !key || word.contains('{') || there.contains_key(word),
                    "{word}"
                );
            }
        }
        use tracebay_words::Keyed;
        for verb in crate::command::Verb::all() {
            for part in ["", ".words", ".usage"] {
                let key = format!("{}{part}", verb.key());
                assert!(there.contains_key(&key), "{key}");
            }
        }
    }
}
