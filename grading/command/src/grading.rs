//! The subcommand `grade`: from a folder of files to the class's reports.

use std::fs;
use std::path::Path;
use std::time::Instant;

use tracebay_core::source::Told;
use tracebay_grading::assign::Assignment;
use tracebay_grading::rubric::Rubric;
use tracebay_words::Words;

use crate::checking::{Checked, Checker, compare};
use crate::classbook::{AttemptResult, Classbook, MISSING, Parts, TaskName};
use crate::cli::GradeArgs;
use crate::corrections::{self, Correction};
use crate::flags::Gravity;
use crate::handed::{self, FileRow, Found};
use crate::judging::{self, Terms};
use crate::library::{Library, told};
use crate::parallel::{Progress, in_order, threads};
use crate::{assigning, folder, gradebook, html, statements, text};

/// What grading needs beside the folder.
pub struct Wanted<'a> {
    /// The assignment.
    pub assignment: &'a Assignment,
    /// Another rubric, shown beside the assignment's own.
    pub other: Option<&'a Rubric>,
    /// Corrections.
    pub corrections: Vec<Correction>,
    /// Replay and check only.
    pub verify: bool,
    /// Words of the reports.
    pub words: &'a Words,
    /// Keep walk-backs for learners' pages.
    pub walks: bool,
    /// Threads.
    pub threads: usize,
    /// Tell progress.
    pub progress: bool,
    /// Tell how long each stage took.
    pub time: bool,
    /// Folder whose files are left out: the report's own.
    pub without: Option<&'a Path>,
}

/// Grades a folder.
///
/// # Errors
/// The folder cannot be read, or the assignment does not fit the scenarios at hand.
pub fn grade(library: &Library, folder: &Path, wanted: Wanted) -> Result<Classbook, String> {
    let begun = Instant::now();
    let stage = |what: &str| {
        if wanted.time {
            eprintln!("{what}: {:.2} s", begun.elapsed().as_secs_f64());
        }
    };
    let assignment = wanted.assignment;
    let terms = &assignment.terms;
    let rubric = terms.rubric(&library.rules).map_err(|p| told(&p))?;
    for task in &terms.tasks {
        task.check(&library.catalogue).map_err(|e| e.to_string())?;
    }
    let entries = folder::list(folder, wanted.without)?;
    let words = wanted.words;
    let checker = Checker::new(&library.catalogue, assignment);
    let progress = Progress::new("replayed", wanted.progress);
    let read = in_order(
        entries.len(),
        wanted.threads,
        &progress,
        |i| match handed::read(words, &entries[i]) {
            Found::Attempt(handed) => Ok(checker.check(words, *handed)),
            Found::Row(row) => Err(row),
        },
    );
    let mut all: Vec<Checked> = Vec::new();
    let mut files: Vec<FileRow> = Vec::new();
    for (entry, found) in entries.iter().zip(read) {
        match found {
            Some(Ok(checked)) => all.push(checked),
            Some(Err(row)) => files.push(row),
            None => files.push(FileRow {
                file: entry.name.clone(),
                what: words.text("report-file-failed"),
            }),
        }
    }
    compare(&mut all);
    stage("replayed and verified");
    let scored = if wanted.verify {
        all.iter().map(|_| None).collect()
    } else {
        let terms = Terms {
            rubric: &rubric,
            other: wanted.other,
            rules: &library.rules,
            words,
        };
        let progress = Progress::new("scored cases", wanted.progress);
        judging::judge(
            &checker,
            &all,
            &terms,
            wanted.threads,
            &progress,
            wanted.walks,
        )
    };
    stage("scored");
    let tasks = terms
        .tasks
        .iter()
        .map(|task| {
            let scenario = library.catalogue.scenarios.get(&task.scenario);
            TaskName {
                scenario: task.scenario.clone(),
                title: scenario.map_or(task.scenario.as_str().into(), |s| s.title.clone()),
                topic: scenario.map_or(Told::default(), |s| s.topic.clone()),
                version: task.version,
            }
        })
        .collect();
    Ok(Classbook::new(Parts {
        assignment,
        tasks,
        rubric: &rubric,
        other: wanted.other,
        checked: all,
        scored,
        files,
        corrections: wanted.corrections,
    }))
}

/// Grades as the options say, writes the reports and prints what was found.
///
/// # Errors
/// What is wrong with what was asked for, or why a report could not be written.
pub fn command(library: &Library, args: &GradeArgs) -> Result<(), String> {
    let assignment = assigning::read(&args.assignment)?;
    let other = args
        .rubric
        .as_deref()
        .map(|r| library.rubric(r))
        .transpose()?;
    let corrections = match &args.corrections {
        Some(path) => corrections::read(path)?,
        None => Vec::new(),
    };
    if let Some(out) = &args.out {
        fs::create_dir_all(out).map_err(|e| crate::library::file_error(out, &e))?;
    }
    let words = text::words(&args.language);
    let mut book = grade(
        library,
        &args.folder,
        Wanted {
            assignment: &assignment,
            other: other.as_ref().map(|(_, rubric)| rubric),
            corrections,
            words: &words,
            verify: args.verify,
            walks: args.out.is_some() && !args.no_walk_back,
            threads: threads(args.threads),
            progress: !args.quiet,
            time: args.time,
            without: args.out.as_deref(),
        },
    )?;
    if args.no_names {
        book.without_names(&words);
    }
    if let Some(out) = &args.out {
        write(&words, &book, out, &args.home_page)?;
    }
    if args.json {
        tell!(
            "{}",
            serde_json::to_string(&book).map_err(|e| e.to_string())?
        );
    } else {
        print(&book, args);
    }
    Ok(())
}

/// Writes all reports into a folder.
///
/// # Errors
/// A file cannot be written.
pub fn write(words: &Words, book: &Classbook, out: &Path, home_page: &str) -> Result<(), String> {
    let save = |path: &Path, text: &str| {
        fs::write(path, text).map_err(|error| crate::library::file_error(path, &error))
    };
    let pages = out.join("learners");
    fs::create_dir_all(&pages).map_err(|e| crate::library::file_error(&pages, &e))?;
    save(&out.join("report.html"), &html::class_page(words, book))?;
    save(
        &out.join("side-by-side.html"),
        &html::side_by_side_page(words, book),
    )?;
    for index in 0..book.learners.len() {
        save(
            &pages.join(html::page_name(index)),
            &html::learner_page(words, book, index),
        )?;
    }
    save(&out.join("gradebook.csv"), &gradebook::gradebook(book)?)?;
    save(
        &out.join("statements.jsonl"),
        &statements::statements(book, home_page),
    )?;
    let json = serde_json::to_string_pretty(book).map_err(|error| error.to_string())?;
    save(&out.join("report.json"), &json)
}

fn print(book: &Classbook, args: &GradeArgs) {
    let (read, others) = (book.attempts.len(), book.files.len());
    let (done, what) = if args.verify {
        let sound = |a: &&AttemptResult| a.assigned && a.gravity() != Some(Gravity::Void);
        (book.attempts.iter().filter(sound).count(), "verified")
    } else {
        let scored = book.attempts.iter().filter(|a| a.scored.is_some());
        (scored.count(), "scored")
    };
    tell!(
        "{}: {read} attempts read, {done} {what}, {others} other files",
        book.title
    );
    // Nothing was scored where only checking was asked for; that is no missing work.
    for (name, count) in book
        .flags
        .iter()
        .filter(|(n, _)| !args.verify || **n != MISSING)
    {
        tell!("  {name}: {count}");
    }
    if !args.verify {
        for learner in &book.learners {
            let points: Vec<String> = learner
                .tasks
                .iter()
                .map(|t| t.points.map_or("missing".to_owned(), |p| format!("{p:.1}")))
                .collect();
            tell!(
                "{}\t{}\t{}\t{:.1}",
                learner.id,
                learner.name,
                points.join("\t"),
                learner.points
            );
        }
    }
    if let Some(out) = &args.out {
        tell!("{}", out.join("report.html").display());
    }
}
