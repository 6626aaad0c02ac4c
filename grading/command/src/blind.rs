//! A sheet of attempts without names and points, for technicians to rank, so that it can be
//! published how far they agree with each other and with the grader.

use std::fs;

use maud::html;
use serde_json::json;
use tracebay_words::Words;

use crate::checking::Checker;
use crate::classbook::AttemptResult;
use crate::cli::BlindArgs;
use crate::grading::{self, Wanted};
use crate::handed::{self, Found, Handed};
use crate::html::{page, say};
use crate::library::Library;
use crate::parallel::threads;
use crate::{assigning, folder, text};

/// An attempt on the sheet.
struct Row {
    letter: String,
    file: String,
    points: f64,
    complaint: String,
    said: Vec<(String, Vec<String>)>,
}

/// Makes the sheet, the empty rankings and the key.
///
/// # Errors
/// What is wrong with what was asked for.
pub fn command(library: &Library, args: &BlindArgs) -> Result<(), String> {
    let assignment = assigning::read(&args.assignment)?;
    let tasks = &assignment.terms.tasks;
    let known = || {
        let ids: Vec<&str> = tasks.iter().map(|t| t.scenario.as_str()).collect();
        ids.join(", ")
    };
    let task = match &args.task {
        None if tasks.len() == 1 => 0,
        None => return Err(format!("say which --task: {}", known())),
        Some(id) => tasks
            .iter()
            .position(|t| t.scenario == *id)
            .ok_or_else(|| {
                format!(
                    "there is no task “{id}” in this assignment; there are: {}",
                    known()
                )
            })?,
    };
    let words = text::words(&args.language);
    let wanted = Wanted {
        assignment: &assignment,
        other: None,
        corrections: Vec::new(),
        words: &words,
        verify: false,
        walks: false,
        threads: threads(None),
        progress: true,
        time: false,
        without: Some(&args.out),
    };
    let book = grading::grade(library, &args.folder, wanted)?;
    let mut found: Vec<(&AttemptResult, f64)> = book
        .attempts
        .iter()
        .filter(|a| a.task == Some(task) && a.given_back)
        .filter_map(|a| Some((a, a.scored.as_ref()?.points)))
        .collect();
    found.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.sha256.cmp(&b.0.sha256)));
    let mut chosen = spread(&found, args.most);
    if chosen.len() < 2 {
        return Err("needs at least two scored attempts that were given back".to_owned());
    }
    // The hash orders them in a way that tells nothing of the points.
    chosen.sort_by(|a, b| a.0.sha256.cmp(&b.0.sha256));
    let checker = Checker::new(&library.catalogue, &assignment);
    let entries = folder::list(&args.folder, Some(&args.out))?;
    let mut rows = Vec::new();
    for (i, (attempt, points)) in chosen.iter().enumerate() {
        let entry = entries
            .iter()
            .find(|entry| entry.name == attempt.file)
            .ok_or_else(|| format!("{}: gone meanwhile", attempt.file))?;
        let Found::Attempt(handed) = handed::read(&words, entry) else {
            return Err(format!("{}: changed meanwhile", attempt.file));
        };
        rows.push(row(&checker, &words, *handed, i, *points)?);
    }
    write(&words, args, &book.title, &rows)?;
    if args.json {
        let letters: Vec<_> = rows
            .iter()
            .map(|r| json!({ "attempt": r.letter, "file": r.file, "grader": r.points }))
            .collect();
        tell!("{}", json!({ "out": args.out, "attempts": letters }));
    } else {
        tell!("{} attempts in {}", rows.len(), args.out.display());
    }
    Ok(())
}

/// So many of a sorted list, from its lowest to its highest.
fn spread<'a>(all: &[(&'a AttemptResult, f64)], most: usize) -> Vec<(&'a AttemptResult, f64)> {
    if all.len() <= most || most < 2 {
        return all.iter().take(most.max(2)).copied().collect();
    }
    (0..most)
        .map(|i| all[i * (all.len() - 1) / (most - 1)])
        .collect()
}

fn row(
    checker: &Checker,
    words: &Words,
    handed: Handed,
    index: usize,
    points: f64,
) -> Result<Row, String> {
    let file = handed.file.clone();
    let checked = checker.check(words, handed);
    let case = checker
        .case(&checked)
        .ok_or_else(|| format!("{file}: its case cannot be drawn"))?;
    let mut session =
        tracebay_core::session::Session::new(case.clone()).map_err(|e| e.to_string())?;
    let mut said = Vec::new();
    for line in &checked.handed.lines {
        let seen = session
            .perform(&line.action)
            .map_err(|_| format!("{file}: does not replay"))?;
        let seen: Vec<String> = seen
            .iter()
            .map(|seen| words.observation(&case.vehicle, seen))
            .collect();
        let action = words.action(&case.vehicle, &line.action);
        said.push((action, text::counted(words, &seen)));
    }
    Ok(Row {
        letter: letter(index),
        file,
        points,
        complaint: case.complaint.to_string(),
        said,
    })
}

/// A, B, … Z, A1, B1 …
fn letter(index: usize) -> String {
    let first = char::from(b'A' + (index % 26) as u8);
    match index / 26 {
        0 => first.to_string(),
        round => format!("{first}{round}"),
    }
}

fn write(words: &Words, args: &BlindArgs, title: &str, rows: &[Row]) -> Result<(), String> {
    let out = &args.out;
    fs::create_dir_all(out).map_err(|e| crate::library::file_error(out, &e))?;
    let save = |name: &str, text: String| {
        let path = out.join(name);
        fs::write(&path, text).map_err(|e| crate::library::file_error(&path, &e))
    };
    let mut rankings = "attempt,grader,technician 1,technician 2,technician 3\r\n".to_owned();
    let mut key = "attempt,file,grader\r\n".to_owned();
    for row in rows {
        rankings += &format!("{},,,,\r\n", row.letter);
        key += &format!(
            "{},\"{}\",{:.1}\r\n",
            row.letter,
            row.file.replace('"', "\"\""),
            row.points
        );
    }
    let t = |key| words.text(key);
    let heading = t("report-blind-title");
    let body = html! {
        h1 { (heading) }
        p { (t("report-blind-ask")) }
        p class="soft" { (say(words, "report-blind-under", &[("title", title)])) }
        @for (i, row) in rows.iter().enumerate() {
            section class=(if i == 0 { "" } else { "page" }) {
                h2 { (say(words, "report-blind-attempt", &[("letter", &row.letter)])) }
                p { (say(words, "report-blind-complaint", &[("complaint", &row.complaint)])) }
                ol class="blind" {
                    @for (action, seen) in &row.said {
                        li { (action) @for seen in seen { " " span class="soft" { (seen) } } }
                    }
                }
            }
        }
        section class="page" {
            h2 { (t("report-blind-ranking")) }
            p class="fill" { b { (t("report-blind-name")) } span {} }
            table class="sign" {
                thead { tr {
                    th { (t("report-blind-column-attempt")) } th { (t("report-blind-column-figure")) }
                    th class="wide" { (t("report-blind-column-why")) }
                } }
                tbody { @for row in rows { tr { td { (row.letter) } td {} td {} } } }
            }
        }
    };
    save("sheet.html", page(words, &heading, &body))?;
    save("rankings.csv", rankings)?;
    save("key.csv", key)
}
