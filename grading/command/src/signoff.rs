//! A person's sign-off sheet: what the simulator saw, and lines for what a trainer saw.

use std::fs;
use std::path::Path;

use maud::{Markup, html};
use serde::{Deserialize, Serialize};
use tracebay_core::source::Told;
use tracebay_words::Words;

use crate::cli::SignOffArgs;
use crate::course::{self, Skill};
use crate::evidence::{self, Evidence};
use crate::html::{page, say, tenths};
use crate::library::Library;
use crate::practise::today;
use crate::text;

/// A live task that a trainer saw.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Live {
    /// Learner's id.
    pub learner: String,
    /// Skill.
    pub skill: String,
    /// Date.
    pub date: String,
    /// What was done, on which board or car.
    pub task: String,
    /// Who saw it.
    pub trainer: String,
}

/// A sheet.
#[derive(Clone, Debug, Serialize)]
pub struct Sheet {
    /// Whose.
    pub learner: String,
    /// Date.
    pub date: String,
    /// Course and version.
    pub course: Told,
    /// Its version.
    pub course_version: u32,
    /// Rubric the evidence was scored under.
    pub rubric: String,
    /// Its version.
    pub rubric_version: u32,
    /// Skills.
    pub skills: Vec<SkillRow>,
}

/// A skill on a sheet.
#[derive(Clone, Debug, Serialize)]
pub struct SkillRow {
    /// Skill.
    pub skill: Skill,
    /// Evidence that shows it: each of another case.
    pub shown: Vec<Proof>,
    /// Attempts that could have shown it and did not.
    pub not_shown: usize,
    /// Enough different cases show it.
    pub reached: bool,
    /// Live tasks on record.
    pub live: Vec<Live>,
}

/// One piece of evidence.
#[derive(Clone, Debug, Serialize)]
pub struct Proof {
    /// Date.
    pub date: Option<String>,
    /// Scenario.
    pub scenario: String,
    /// Seed.
    pub seed: u64,
    /// What it was.
    pub fault: String,
    /// Points of 100.
    pub points: f64,
    /// SHA-256 of the attempt's file.
    pub sha256: String,
}

/// Makes a sheet.
///
/// # Errors
/// What is wrong with what was asked for.
pub fn command(library: &Library, args: &SignOffArgs) -> Result<(), String> {
    let course = course::open(library, &args.course)?;
    let (_, rubric) = library.rubric(&course.rubric)?;
    let date = today(args.on.as_deref())?.to_string();
    let live = args
        .live
        .as_deref()
        .map(live)
        .transpose()?
        .unwrap_or_default();
    let words = text::words(&args.language);
    let (evidence, rows) =
        evidence::collect(library, &course, &args.folder, Some(&args.learner), &words)?;
    for row in &rows {
        eprintln!("{}: {}", row.file, row.what);
    }
    if evidence.is_empty() {
        let (learner, folder) = (&args.learner, args.folder.display());
        eprintln!("no attempt in {folder} carries the id “{learner}”: the sheet has no evidence");
    }
    let sheet = Sheet {
        skills: course
            .skills
            .iter()
            .map(|s| row(s, &evidence, &live, &args.learner))
            .collect(),
        learner: args.learner.clone(),
        date,
        course: course.title,
        course_version: course.version,
        rubric: rubric.id,
        rubric_version: rubric.version,
    };
    if let Some(out) = &args.out {
        fs::write(out, sheet_page(&words, &sheet))
            .map_err(|e| crate::library::file_error(out, &e))?;
    }
    if args.json {
        tell!(
            "{}",
            serde_json::to_string(&sheet).map_err(|e| e.to_string())?
        );
        return Ok(());
    }
    tell!(
        "{}, {}: {} attempts",
        sheet.learner,
        sheet.course,
        evidence.len()
    );
    for row in &sheet.skills {
        let mark = if row.reached { "shown" } else { "not yet" };
        tell!(
            "{}: {mark} ({} of {} cases; {} live)",
            row.skill.title.as_written(),
            row.shown.len(),
            row.skill.times,
            row.live.len()
        );
    }
    if let Some(out) = &args.out {
        tell!("{}", out.display());
    }
    Ok(())
}

fn row(skill: &Skill, evidence: &[Evidence], live: &[Live], learner: &str) -> SkillRow {
    let mut shown: Vec<Proof> = Vec::new();
    let mut not_shown = 0;
    for e in evidence {
        match e.shows(skill) {
            // A case counts once, and the first time: later one knows its fault.
            Some(true)
                if shown
                    .iter()
                    .any(|p| p.scenario == e.scenario && p.seed == e.seed) => {}
            Some(true) => shown.push(Proof {
                date: e.date.clone(),
                scenario: e.scenario.clone(),
                seed: e.seed,
                fault: e.scored.fault_text.clone(),
                points: e.scored.points,
                sha256: e.sha256.clone(),
            }),
            Some(false) => not_shown += 1,
            None => {}
        }
    }
    SkillRow {
        reached: shown.len() >= skill.times as usize,
        shown,
        not_shown,
        live: live
            .iter()
            .filter(|l| l.learner == learner && l.skill == skill.id)
            .cloned()
            .collect(),
        skill: skill.clone(),
    }
}

fn live(path: &Path) -> Result<Vec<Live>, String> {
    let named = path.display();
    let told = |e: csv::Error| {
        format!("{named}: {e}; the columns are learner, skill, date, task, trainer")
    };
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_path(path)
        .map_err(told)?;
    reader.deserialize().map(|row| row.map_err(told)).collect()
}

/// Empty rows for live tasks, beside those on record.
const LIVE_ROWS: usize = 2;

/// The sheet as a page to print.
pub fn sheet_page(words: &Words, sheet: &Sheet) -> String {
    let t = |key| words.text(key);
    let title = say(words, "report-sign-title", &[("learner", &sheet.learner)]);
    let (version, rubric_version) = (
        sheet.course_version.to_string(),
        sheet.rubric_version.to_string(),
    );
    let body = html! {
        h1 { (title) }
        p class="under" {
            (say(words, "report-sign-under", &[
                ("course", &sheet.course), ("version", &version), ("date", &sheet.date),
                ("rubric", &sheet.rubric), ("rubricversion", &rubric_version),
            ]))
        }
        p class="fill" { b { (t("report-sign-name")) } span {} }
        p class="caution" { (t("report-sign-caution")) }
        @for row in &sheet.skills { (skill(words, row)) }
        section class="keep" {
            h2 { (t("report-sign-off")) }
            table class="sign" {
                thead { tr {
                    th {} th class="date" { (t("report-sign-column-date")) } th { (t("report-sign-column-skills")) }
                    th { (t("report-sign-column-qualified")) } th class="own" { (t("report-sign-column-signature")) }
                } }
                tbody {
                    @for who in ["report-sign-trainer", "report-sign-trainer", "report-sign-learner"] {
                        tr { td { (t(who)) } td {} td {} td {} td {} }
                    }
                }
            }
            p class="soft" { (t("report-sign-hash")) }
        }
    };
    page(words, &title, &body)
}

fn skill(words: &Words, row: &SkillRow) -> Markup {
    let t = |key| words.text(key);
    let (class, shown) = if row.reached {
        ("ok", "report-sign-shown")
    } else {
        ("fail", "report-sign-not-shown")
    };
    let count = |n: usize| n.to_string();
    html! {
        section class="keep" {
            h3 {
                (row.skill.title)
                @if let Some(code) = &row.skill.code { " (" (code) ")" }
                ": " span class=(class) { (t(shown)) }
            }
            @if row.shown.is_empty() { p { (t("report-sign-no-evidence")) } }
            @else { (evidence_table(words, row)) }
            p class="soft" {
                (say(words, "report-sign-count", &[
                    ("shown", &count(row.shown.len())), ("needed", &row.skill.times.to_string()),
                    ("not", &count(row.not_shown)),
                ]))
            }
            p { b { (t("report-sign-live")) } " " (row.skill.live) }
            table class="sign" {
                thead { tr {
                    th class="date" { (t("report-sign-column-date")) } th { (t("report-sign-column-live")) }
                    th { (t("report-sign-column-trainer")) } th class="own" { (t("report-sign-column-signature")) }
                } }
                tbody {
                    @for live in &row.live {
                        tr { td { (live.date) } td { (live.task) } td { (live.trainer) } td {} }
                    }
                    @for _ in row.live.len()..LIVE_ROWS.max(row.live.len()) { tr { td {} td {} td {} td {} } }
                }
            }
        }
    }
}

fn evidence_table(words: &Words, row: &SkillRow) -> Markup {
    let t = |key| words.text(key);
    html! {
        table {
            thead { tr {
                th { (t("report-sign-column-date")) } th { (t("report-sign-column-scenario")) }
                th class="n" { (t("report-sign-column-seed")) } th { (t("report-column-it-was")) }
                th class="n" { (t("report-column-points")) } th { (t("report-sign-column-hash")) }
            } }
            tbody {
                @for proof in &row.shown {
                    tr {
                        td class="id" { (proof.date.as_deref().unwrap_or("–")) }
                        td class="id" { (proof.scenario) }
                        td class="n" { (proof.seed) } td { (proof.fault) }
                        td class="n" { (tenths(words, proof.points)) }
                        td class="file one" { (proof.sha256.get(..16).unwrap_or(&proof.sha256)) "…" }
                    }
                }
            }
        }
    }
}
