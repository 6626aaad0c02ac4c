//! A person's sign-off sheet: what the simulator saw, and lines for what a trainer saw.

use std::fs;
use std::path::Path;

use maud::html;
use serde::{Deserialize, Serialize};

use crate::cli::SignOffArgs;
use crate::course::{self, Skill};
use crate::evidence::{self, Evidence};
use crate::html::page;
use crate::library::Library;
use crate::practise::today;

/// What stands on every sheet.
pub const CAUTION: &str = "This sheet supports a trainer's judgement and does not replace it. It is \
     no qualification and no licence. Work on refrigerant, airbags and high voltage is for licensed \
     people under local law. A simulated car shows reasoning, not hands: each skill also needs the \
     live task beside it, seen by the trainer.";

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
    pub course: String,
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
    let (evidence, rows) = evidence::collect(library, &course, &args.folder, Some(&args.learner))?;
    for row in &rows {
        eprintln!("{}: {}", row.file, row.what);
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
        fs::write(out, sheet_page(&sheet)).map_err(|e| format!("{}: {e}", out.display()))?;
    }
    if args.json {
        println!(
            "{}",
            serde_json::to_string(&sheet).map_err(|e| e.to_string())?
        );
        return Ok(());
    }
    println!(
        "{}, {}: {} attempts",
        sheet.learner,
        sheet.course,
        evidence.len()
    );
    for row in &sheet.skills {
        let mark = if row.reached { "shown" } else { "not yet" };
        println!(
            "{}: {mark} ({} of {} cases; {} live)",
            row.skill.title,
            row.shown.len(),
            row.skill.times,
            row.live.len()
        );
    }
    if let Some(out) = &args.out {
        println!("{}", out.display());
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

/// The sheet as a page to print.
pub fn sheet_page(sheet: &Sheet) -> String {
    let body = html! {
        h1 { "Sign-off sheet: " (sheet.learner) }
        p class="under" {
            (sheet.course) ", version " (sheet.course_version) " · " (sheet.date)
            " · evidence scored under rubric " (sheet.rubric) ", version " (sheet.rubric_version)
        }
        p class="caution" { (CAUTION) }
        @for row in &sheet.skills {
            h3 {
                (row.skill.title)
                @if let Some(code) = &row.skill.code { " (" (code) ")" }
                ": " span class=(if row.reached { "ok" } else { "fail" }) {
                    (if row.reached { "✓ shown" } else { "✕ not yet shown" })
                }
            }
            table {
                thead { tr {
                    th { "Date" } th { "Scenario" } th class="n" { "Seed" } th { "It was" }
                    th class="n" { "Points" } th { "Attempt (SHA-256)" }
                } }
                tbody {
                    @for proof in &row.shown {
                        tr {
                            td { (proof.date.as_deref().unwrap_or("–")) } td { (proof.scenario) }
                            td class="n" { (proof.seed) } td { (proof.fault) }
                            td class="n" { (format!("{:.1}", proof.points)) }
                            td class="file" { (proof.sha256.get(..24).unwrap_or(&proof.sha256)) "…" }
                        }
                    }
                    @if row.shown.is_empty() { tr { td colspan="6" class="soft" { "No evidence yet." } } }
                }
            }
            p class="soft" {
                (row.shown.len()) " of " (row.skill.times) " cases needed; "
                (row.not_shown) " more attempt(s) could have shown it and did not."
            }
            p { b { "Live task: " } (row.skill.live) }
            table class="sign" {
                thead { tr { th { "Date" } th { "Live task seen, on which board or car" } th { "Trainer's name" } th { "Signature" } } }
                tbody {
                    @for live in &row.live {
                        tr { td { (live.date) } td { (live.task) } td { (live.trainer) } td {} }
                    }
                    @if row.live.is_empty() { tr { td {} td {} td {} td {} } }
                }
            }
        }
        h3 { "Signed off" }
        table class="sign" {
            thead { tr { th { "Date" } th { "Skills signed off" } th { "Trainer's name and qualification" } th { "Signature" } } }
            tbody { tr { td {} td {} td {} td {} } tr { td {} td {} td {} td {} } }
        }
        p class="soft" { "Cars and faults are simulated and invented. The hash names the attempt's file; replaying it gives the same car, readings and score." }
    };
    page(&format!("Sign-off: {}", sheet.learner), &body)
}
