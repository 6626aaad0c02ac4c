//! Work under an assignment: which case is whose, how many attempts are left, and nothing outside
//! the rules.
//!
//! The rules themselves are in [`tracebay_grading::assign`]; here they are only kept to.

use std::path::Path;
use std::sync::Arc;

use tracebay_core::attempt::Recorder;
use tracebay_grading::assign::{Assignment, Learner, Task, Terms};
use tracebay_shelf::{FolderStore, Recent, Store, Work, now_rfc3339, read_source, save_folder};
use tracebay_words::{Value, Words};

use crate::cli::{Common, How};
use crate::library::{self, Library};
use crate::opening::{self, Opened};
use crate::{errors, grading};

/// What to open.
pub struct Wanted<'a> {
    /// Assignment file.
    pub file: &'a Path,
    /// Learner's id; not needed where the file holds one row.
    pub learner: Option<&'a str>,
    /// Scenario of the task; not needed where there is one.
    pub task: Option<&'a str>,
}

/// What became of an assignment that was opened.
pub enum Opening {
    /// A case to work on.
    Case(Box<Opened>),
    /// The tasks, since none was chosen.
    Tasks(Vec<String>),
}

/// Opens a learner's next case of an assignment, or the one they left off.
pub fn open(words: Words, common: &Common, wanted: &Wanted, how: &How) -> Result<Opening, String> {
    let library = library::open(&words, common)?;
    let told = |error| errors::shelf(&words, &error);
    let file = read_source(wanted.file).map_err(told)?;
    let assignment = Assignment::read(file.text.as_bytes())
        .map_err(|error| format!("{}: {error}", wanted.file.display()))?;
    let terms = &assignment.terms;
    // A broken rubric is told now, not when the work is done.
    grading::terms_of(&library.data, terms)?;
    let learner = learner(&words, &assignment, wanted.learner)?;
    let now = now_rfc3339();
    if let Some(opens) = terms.opens.as_ref().filter(|opens| **opens > now) {
        let args = [("opens", opens.as_str().into())];
        return Err(words.get("say-assigned-not-open", &args));
    }
    let mut store = FolderStore::new(save_folder(common.save.clone()).map_err(told)?);
    let kept = store.recent(usize::MAX).map_err(told)?;
    let Some(index) = task(&words, terms, wanted.task)? else {
        return Ok(Opening::Tasks(tasks(&words, &assignment, learner, &kept)));
    };
    let task = &terms.tasks[index];
    task.check(&library.catalogue).map_err(|e| e.to_string())?;
    let made = made(terms, task, learner, &kept);
    let seeds = &learner.seeds[index];
    let mut first = about(&words, terms, task, &now);
    let unfinished = made.iter().find(|recent| !recent.handed_back);
    if let Some(recent) = unfinished {
        let seed = recent.header.seed;
        let case = task
            .case(&library.catalogue, seed)
            .map_err(|e| e.to_string())?;
        let found = store.open(&recent.name).map_err(told)?;
        let terms = terms.clone();
        let mut opened = opening::go_on(words, library, found, case, Some(terms), how)?;
        opened.say_first(first);
        return Ok(Opening::Case(Box::new(opened)));
    }
    let done: Vec<u64> = made.iter().map(|recent| recent.header.seed).collect();
    let Some(at) = seeds.iter().position(|seed| !done.contains(seed)) else {
        let args = [("most", terms.attempts.to_string().into())];
        return Err(words.get("say-assigned-none-left", &args));
    };
    let args = [
        ("n", (at + 1).to_string().into()),
        ("most", terms.attempts.to_string().into()),
    ];
    first.push(words.get("say-assigned-attempt", &args));
    let seen = kept.iter().any(|recent| {
        recent.handed_back
            && recent.header.scenario == task.scenario
            && recent.header.seed == seeds[at]
    });
    if seen {
        first.push(words.text("say-assigned-seen"));
    }
    let mut opened = begin(
        words, library, &mut store, terms, task, learner, seeds[at], how,
    )?;
    opened.say_first(first);
    Ok(Opening::Case(Box::new(opened)))
}

#[allow(clippy::too_many_arguments)]
fn begin(
    words: Words,
    library: Library,
    store: &mut dyn Store,
    terms: &Terms,
    task: &Task,
    learner: &Learner,
    seed: u64,
    how: &How,
) -> Result<Opened, String> {
    let case = task
        .case(&library.catalogue, seed)
        .map_err(|e| e.to_string())?;
    let id = Some(learner.id.clone());
    let recorder = Recorder::start(Arc::new(case), &terms.rules(), Some(now_rfc3339()), id)
        .map_err(|error| error.to_string())?;
    let work = Work::start(recorder, store).map_err(|error| errors::shelf(&words, &error))?;
    opening::begun(words, work, library.data, Some(terms.clone()), how)
}

fn learner<'a>(
    words: &Words,
    assignment: &'a Assignment,
    wanted: Option<&str>,
) -> Result<&'a Learner, String> {
    match (wanted, assignment.learners.as_slice()) {
        (None, [only]) => Ok(only),
        (None, _) => Err(words.text("say-assigned-who")),
        (Some(id), _) => assignment
            .learner(id)
            .map(|(_, learner)| learner)
            .ok_or_else(|| words.get("say-assigned-unknown", &[("id", id.to_owned().into())])),
    }
}

/// Index of the task; none where one is to be chosen.
fn task(words: &Words, terms: &Terms, wanted: Option<&str>) -> Result<Option<usize>, String> {
    match wanted {
        None if terms.tasks.len() == 1 => Ok(Some(0)),
        None => Ok(None),
        Some(id) => {
            let found = terms.tasks.iter().position(|task| task.scenario == id);
            found
                .map(Some)
                .ok_or_else(|| words.get("say-assigned-no-task", &[("task", id.to_owned().into())]))
        }
    }
}

/// What the learner has made of a task so far, newest first.
fn made<'a>(terms: &Terms, task: &Task, learner: &Learner, kept: &'a [Recent]) -> Vec<&'a Recent> {
    let rules = terms.rules();
    kept.iter()
        .filter(|recent| {
            let header = &recent.header;
            header.rules == rules
                && header.scenario == task.scenario
                && header.learner.as_deref() == Some(&learner.id)
        })
        .collect()
}

fn tasks(
    words: &Words,
    assignment: &Assignment,
    learner: &Learner,
    kept: &[Recent],
) -> Vec<String> {
    let terms = &assignment.terms;
    let title = [("title", terms.title.as_str().into())];
    let mut lines = vec![words.get("say-assigned-choose", &title)];
    for task in &terms.tasks {
        let made = made(terms, task, learner, kept);
        let over = made.iter().filter(|recent| recent.handed_back).count();
        let args = [
            ("task", task.scenario.as_str().into()),
            ("over", over.to_string().into()),
            ("open", (made.len() - over).to_string().into()),
            ("most", terms.attempts.to_string().into()),
        ];
        lines.push(words.get("say-assigned-task", &args));
    }
    lines
}

/// The rules, for the first screen.
fn about(words: &Words, terms: &Terms, task: &Task, now: &str) -> Vec<String> {
    let title = [("title", Value::from(terms.title.as_str()))];
    let mut lines = vec![words.get("say-assigned-title", &title)];
    if let Some(due) = &terms.due {
        let key = if due.as_str() < now {
            "say-assigned-late"
        } else {
            "say-assigned-due"
        };
        lines.push(words.get(key, &[("due", due.as_str().into())]));
    }
    let tools: Vec<String> = task.tools.iter().map(|tool| words.value(*tool)).collect();
    lines.push(words.get("say-assigned-tools", &[("tools", tools.join(", ").into())]));
    if !terms.hints {
        lines.push(words.text("say-assigned-no-hints"));
    }
    lines
}
