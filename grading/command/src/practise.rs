//! What to practise next, from one's own record: skill by skill, on a spaced schedule. Says when,
//! never that one should have.

use std::collections::BTreeSet;

use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};
use serde::Serialize;
use tracebay_core::scenario::Catalogue;

use crate::cli::PractiseArgs;
use crate::course::{self, Course, Skill};
use crate::evidence::{self, Evidence};
use crate::library::Library;
use crate::text;

/// Days to the next time after so many successes in a row on different days (the writers'
/// judgement; that growing gaps help memory is common knowledge of teaching, no source here).
const DAYS: [i64; 6] = [1, 3, 7, 14, 30, 60];

/// Seeds that are tried to find a new case.
const MOST_TRIES: u64 = 2000;

/// What there is to say of a skill.
#[derive(Clone, Debug, Serialize)]
pub struct Plan {
    /// Skill.
    pub skill: String,
    /// Its title.
    pub title: String,
    /// Number in the local competency list.
    pub code: Option<String>,
    /// Cases that could show it, and that did.
    pub tried: usize,
    /// Cases that showed it.
    pub shown: usize,
    /// Last date it was tried.
    pub last: Option<String>,
    /// Date from which it is worth trying again; none if it never was tried.
    pub due: Option<String>,
    /// It is worth trying now.
    pub now: bool,
    /// A case not worked on yet: scenario and seed.
    pub case: Option<(String, u64)>,
}

/// Prints what to practise.
///
/// # Errors
/// What is wrong with what was asked for.
pub fn command(library: &Library, args: &PractiseArgs) -> Result<(), String> {
    let course = course::open(library, &args.course)?;
    let today = today(args.on.as_deref())?;
    let learner = args.learner.as_deref();
    let (evidence, rows) =
        evidence::collect(library, &course, &args.folder, learner, &text::words("en"))?;
    let plans = plan(&library.catalogue, &course, &evidence, today);
    for row in &rows {
        eprintln!("{}: {}", row.file, row.what);
    }
    if args.json {
        tell!(
            "{}",
            serde_json::to_string(&plans).map_err(|e| e.to_string())?
        );
        return Ok(());
    }
    tell!(
        "{}: {} attempts in the record",
        course.title,
        evidence.len()
    );
    for plan in &plans {
        let when = match (&plan.due, plan.now) {
            (None, _) => "not tried yet".to_owned(),
            (Some(_), true) => "worth trying now".to_owned(),
            (Some(due), false) => format!("again from {due}"),
        };
        tell!(
            "{}: {when}; shown by {} of {} cases",
            plan.title,
            plan.shown,
            plan.tried
        );
        if let (true, Some((scenario, seed))) = (plan.now, &plan.case) {
            tell!("    tracebay-console start {scenario} --seed {seed}");
        }
    }
    Ok(())
}

/// The date asked for, or the system's in UTC.
///
/// # Errors
/// It is no date.
pub fn today(asked: Option<&str>) -> Result<Date, String> {
    match asked {
        Some(text) => text
            .parse()
            .map_err(|_| format!("--on {text}: write a date like 2026-03-01")),
        None => {
            // The system's clock, as the learning systems' own dates come from it too.
            let now = Timestamp::now().to_string();
            now[..10]
                .parse()
                .map_err(|_| "the system's date makes no sense; say --on".to_owned())
        }
    }
}

/// What to practise, most urgent first.
pub fn plan(
    catalogue: &Catalogue,
    course: &Course,
    evidence: &[Evidence],
    today: Date,
) -> Vec<Plan> {
    let done: BTreeSet<(&str, u64)> = evidence
        .iter()
        .map(|e| (e.scenario.as_str(), e.seed))
        .collect();
    let mut plans: Vec<Plan> = course
        .skills
        .iter()
        .map(|skill| one(catalogue, skill, evidence, &done, today))
        .collect();
    // What is due longest comes first, then what was never tried, in the course's order.
    plans.sort_by_key(|plan| (!plan.now, plan.due.is_none(), plan.due.clone()));
    plans
}

fn one(
    catalogue: &Catalogue,
    skill: &Skill,
    evidence: &[Evidence],
    done: &BTreeSet<(&str, u64)>,
    today: Date,
) -> Plan {
    let tried: Vec<(&Evidence, bool)> = evidence
        .iter()
        .filter_map(|e| Some((e, e.shows(skill)?)))
        .collect();
    let mut level = 0;
    let mut day: Option<&str> = None;
    for (e, shown) in &tried {
        match (shown, e.date.as_deref()) {
            (false, _) => level = 0,
            // Twice on one day is practice, not memory.
            (true, date) if date.is_some() && date == day => {}
            (true, _) => level += 1,
        }
        day = e.date.as_deref().or(day);
    }
    let last: Option<Date> = day.and_then(|day| day.parse().ok());
    let due = last.and_then(|last| {
        let days = DAYS[level.clamp(1, DAYS.len()) - 1];
        last.checked_add(days.days()).ok()
    });
    Plan {
        skill: skill.id.clone(),
        title: skill.title.to_string(),
        code: skill.code.clone(),
        tried: tried.len(),
        shown: tried.iter().filter(|(_, shown)| *shown).count(),
        last: last.map(|d| d.to_string()),
        due: due.map(|d| d.to_string()),
        now: due.is_none_or(|due| due <= today),
        case: new_case(catalogue, skill, evidence, done),
    }
}

/// A case that can show the skill and was not worked on yet, of the scenario that was worked on
/// least.
fn new_case(
    catalogue: &Catalogue,
    skill: &Skill,
    evidence: &[Evidence],
    done: &BTreeSet<(&str, u64)>,
) -> Option<(String, u64)> {
    let mut scenarios: Vec<&str> = skill
        .shown_by
        .iter()
        .map(|by| by.scenario.as_str())
        .collect();
    scenarios.sort_by_key(|s| evidence.iter().filter(|e| e.scenario == **s).count());
    scenarios.into_iter().find_map(|scenario| {
        (1..MOST_TRIES).find_map(|seed| {
            let case = catalogue.draw(scenario, seed).ok()?;
            let fits = skill.covers(scenario, &case.culprit()?.id);
            (fits && !done.contains(&(scenario, seed))).then(|| (scenario.to_owned(), seed))
        })
    })
}
