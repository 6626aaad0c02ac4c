//! Work under an assignment: which case is whose, how many attempts are left, and nothing outside
//! the rules.
//!
//! The rules themselves are in [`tracebay_grading::assign`]; here they are only kept to.

use std::path::Path;
use std::sync::Arc;

use tracebay_core::attempt::Recorder;
use tracebay_grading::assign::{Assignment, KeptAttempt, Learner, Next, Task, Terms};
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
        .map_err(|e| format!("{}: {}", wanted.file.display(), words.assignment_error(&e)))?;
    let terms = &assignment.terms;
    // A broken rubric is told now, not when the work is done.
    grading::terms_of(&library.data, terms)?;
    let learner = learner(&words, &assignment, wanted.learner)?;
    let now = now_rfc3339();
    if let Some(opens) = terms.opens_later(&now) {
        return Err(words.get("assigned-not-open", &[("opens", opens.into())]));
    }
    let mut store = FolderStore::new(save_folder(common.save.clone()).map_err(told)?);
    let kept = store.recent(usize::MAX).map_err(told)?;
    let Some(index) = task(&words, terms, wanted.task)? else {
        return Ok(Opening::Tasks(tasks(&words, &assignment, learner, &kept)));
    };
    let task = &terms.tasks[index];
    task.check(&library.catalogue).map_err(|e| e.to_string())?;
    let mut first = about(&words, terms, task, &now);
    let mut opened = match terms.progress(learner, index, attempts(&kept)).next {
        Next::GoOn { name, seed } => {
            let case = task
                .case(&library.catalogue, seed)
                .map_err(|e| e.to_string())?;
            let found = store.open(&name).map_err(told)?;
            opening::go_on(words, library, found, case, Some(terms.clone()), how)?
        }
        Next::Begin { number, seed, seen } => {
            let args = [
                ("n", number.to_string().into()),
                ("most", terms.attempts.to_string().into()),
            ];
            first.push(words.get("assigned-attempt", &args));
            if seen {
                first.push(words.text("assigned-seen"));
            }
            begin(words, library, &mut store, terms, task, learner, seed, how)?
        }
        Next::NoneLeft => {
            let args = [("most", terms.attempts.to_string().into())];
            return Err(words.get("assigned-none-left", &args));
        }
    };
    opened.say_first(first);
    Ok(Opening::Case(Box::new(opened)))
}

/// What is kept, as the rules of assignments look at it.
fn attempts(kept: &[Recent]) -> impl Iterator<Item = KeptAttempt<'_>> + Clone {
    kept.iter().map(|recent| KeptAttempt {
        name: &recent.name,
        header: &recent.header,
        handed_back: recent.handed_back,
    })
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
    assignment.who(wanted).ok_or_else(|| match wanted {
        None => words.text("say-assigned-who"),
        Some(id) => words.get("assigned-unknown", &[("id", id.to_owned().into())]),
    })
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

fn tasks(
    words: &Words,
    assignment: &Assignment,
    learner: &Learner,
    kept: &[Recent],
) -> Vec<String> {
    let terms = &assignment.terms;
    let title = [("title", terms.title.as_str().into())];
    let mut lines = vec![words.get("say-assigned-choose", &title)];
    for (index, task) in terms.tasks.iter().enumerate() {
        let progress = terms.progress(learner, index, attempts(kept));
        let args = [
            ("task", task.scenario.as_str().into()),
            ("over", progress.handed_back.to_string().into()),
            ("open", progress.unfinished.to_string().into()),
            ("most", terms.attempts.to_string().into()),
        ];
        lines.push(words.get("say-assigned-task", &args));
    }
    lines
}

/// The rules, for the first screen.
fn about(words: &Words, terms: &Terms, task: &Task, now: &str) -> Vec<String> {
    let title = [("title", Value::from(terms.title.as_str()))];
    let mut lines = vec![words.get("assigned-title", &title)];
    if let Some(due) = &terms.due {
        let key = if terms.late(now) {
            "assigned-late"
        } else {
            "assigned-due"
        };
        lines.push(words.get(key, &[("due", due.as_str().into())]));
    }
    let tools: Vec<String> = task.tools.iter().map(|tool| words.value(*tool)).collect();
    lines.push(words.get("assigned-tools", &[("tools", tools.join(", ").into())]));
    if !terms.hints {
        lines.push(words.text("assigned-no-hints"));
    }
    lines
}
