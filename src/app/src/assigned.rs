//! Assigned work: the file an instructor gave out, how its learner stands, and the cases in it.
//!
//! Keeps to the rules of [`tracebay_grading::assign`] and draws nothing.

use std::sync::Arc;

use tracebay_core::attempt::{Header, Recorder};
use tracebay_core::tools::ToolKind;
use tracebay_grading::assign::{
    Assignment, KeptAttempt, Learner, Next, Task, Terms, assignment_of,
};
use tracebay_grading::safety::Rules;
use tracebay_shelf::{Recent, Work};
use tracebay_words::Words;

use crate::desk::Book;
use crate::platform::{self, Kept, Shelf};

/// An assignment that was opened, and whose it is.
#[derive(Clone, Debug)]
pub struct Assigned {
    assignment: Assignment,
    /// Id of the learner; none as long as a whole class's file does not know who works.
    learner: Option<String>,
}

/// An assignment as the first screen shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Title.
    pub title: String,
    /// When work may begin, if that is still to come.
    pub opens: Option<String>,
    /// When it is due.
    pub due: Option<String>,
    /// The time has passed.
    pub late: bool,
    /// Name of the learner; none as long as it is not known.
    pub who: Option<String>,
    /// Hints may be asked for.
    pub hints: bool,
    /// Attempts allowed at each task.
    pub most: u32,
    /// The cases.
    pub tasks: Vec<Row>,
}

/// A case of an assignment.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Title of the scenario.
    pub title: String,
    /// Tools in the roll.
    pub tools: Vec<ToolKind>,
    /// Attempts given back.
    pub handed_back: usize,
    /// What comes next.
    pub next: Next,
}

/// A book, with what is to be told on opening it.
pub type Opened = (Box<dyn Book>, Vec<String>);

impl Assigned {
    fn learner(&self) -> Option<&Learner> {
        self.assignment.who(self.learner.as_deref())
    }
}

/// `2027-03-01T23:59:59Z` as `2027-03-01 23:59`.
fn readable(time: &str) -> String {
    let minutes = time.get(..16).unwrap_or(time);
    minutes.replace('T', " ")
}

fn attempts(kept: &[Recent]) -> impl Iterator<Item = KeptAttempt<'_>> + Clone {
    kept.iter().map(|recent| KeptAttempt {
        name: &recent.name,
        header: &recent.header,
        handed_back: recent.handed_back,
    })
}

impl Shelf {
    /// Takes an assignment from its file's text. `name` is the file's, for the sentence if it is
    /// no good; `learner` says who works, where the file holds a whole class.
    pub fn take_assignment(
        &mut self,
        words: &Words,
        name: &str,
        text: &str,
        learner: Option<&str>,
    ) -> Result<(), String> {
        let told = |why: String| format!("{name}: {why}");
        let assignment =
            Assignment::read(text.as_bytes()).map_err(|e| told(words.assignment_error(&e)))?;
        // A broken rubric or another version is told now, not when the work is done.
        let problems = |list: Vec<tracebay_core::source::Problem>| {
            let list: Vec<String> = list.iter().map(ToString::to_string).collect();
            told(list.join("\n"))
        };
        let rules = Rules::load(&Rules::preset()).map_err(problems)?;
        assignment.terms.rubric(&rules).map_err(problems)?;
        for task in &assignment.terms.tasks {
            task.check(&self.catalogue)
                .map_err(|e| told(e.to_string()))?;
        }
        self.assigned = Some(Assigned {
            assignment,
            learner: None,
        });
        match learner {
            Some(id) => self.identify(words, id),
            None => Ok(()),
        }
    }

    /// Says who works on the open assignment.
    pub fn identify(&mut self, words: &Words, id: &str) -> Result<(), String> {
        let Some(assigned) = &mut self.assigned else {
            return Ok(());
        };
        if assigned.assignment.learner(id).is_none() {
            return Err(words.get("assigned-unknown", &[("id", id.to_owned().into())]));
        }
        assigned.learner = Some(id.to_owned());
        Ok(())
    }

    /// The open assignment as it stands now.
    pub fn assigned_card(&self, words: &Words) -> Result<Option<Card>, String> {
        let Some(assigned) = &self.assigned else {
            return Ok(None);
        };
        let terms = &assigned.assignment.terms;
        let now = platform::now();
        let now = now.as_deref();
        let kept = self.all_kept(words)?;
        let learner = assigned.learner();
        let row = |index: usize, task: &Task| -> Option<Row> {
            let progress = terms.progress(learner?, index, attempts(&kept));
            let scenario = self.catalogue.scenarios.get(&task.scenario)?;
            Some(Row {
                title: scenario.title.to_string(),
                tools: task.tools.clone(),
                handed_back: progress.handed_back,
                next: progress.next,
            })
        };
        let tasks = terms.tasks.iter().enumerate();
        Ok(Some(Card {
            title: terms.title.clone(),
            opens: now.and_then(|now| terms.opens_later(now)).map(readable),
            due: terms.due.as_deref().map(readable),
            late: now.is_some_and(|now| terms.late(now)),
            who: learner.map(|learner| learner.name.clone()),
            hints: terms.hints,
            most: terms.attempts,
            tasks: tasks.filter_map(|(index, task)| row(index, task)).collect(),
        }))
    }

    /// Begins the next attempt at a task of the open assignment, or goes on with the one that was
    /// left off.
    pub fn take_task(&mut self, words: &Words, index: usize) -> Result<Opened, String> {
        let kept = self.all_kept(words)?;
        let Some(assigned) = self.assigned.clone() else {
            return Err(words.text("attempt-assigned-not-open"));
        };
        let terms = &assigned.assignment.terms;
        let (Some(learner), Some(task)) = (assigned.learner(), terms.tasks.get(index)) else {
            return Err(words.text("attempt-assigned-not-open"));
        };
        let now = platform::now();
        if let Some(opens) = now.as_deref().and_then(|now| terms.opens_later(now)) {
            return Err(words.get("assigned-not-open", &[("opens", opens.into())]));
        }
        match terms.progress(learner, index, attempts(&kept)).next {
            Next::GoOn { name, .. } => self.resume(words, &name),
            Next::NoneLeft => {
                let args = [("most", terms.attempts.to_string().into())];
                Err(words.get("assigned-none-left", &args))
            }
            Next::Begin { number, seed, seen } => {
                let case = task
                    .case(&self.catalogue, seed)
                    .map_err(|e| e.to_string())?;
                let id = Some(learner.id.clone());
                let recorder = Recorder::start(Arc::new(case), &terms.rules(), now, id)
                    .map_err(|e| e.to_string())?;
                let work = Work::start(recorder, self.store(words)?)
                    .map_err(|e| platform::shelf_words(words, &e))?;
                let args = [
                    ("n", number.to_string().into()),
                    ("most", terms.attempts.to_string().into()),
                ];
                let mut told = vec![words.get("assigned-attempt", &args)];
                if seen {
                    told.push(words.text("assigned-seen"));
                }
                Ok((Kept::boxed(work, words, Some(terms.clone())), told))
            }
        }
    }

    /// The terms and the task an attempt belongs to; none where it is home practice.
    ///
    /// # Errors
    /// It belongs to an assignment that is not open: outside it there would be more tools than its
    /// rules allow.
    pub fn terms_of(
        &self,
        words: &Words,
        header: &Header,
    ) -> Result<Option<(Terms, Task)>, String> {
        if assignment_of(&header.rules).is_none() {
            return Ok(None);
        }
        let found = self.assigned.as_ref().and_then(|assigned| {
            let terms = &assigned.assignment.terms;
            let mine = terms.rules() == header.rules
                && assigned.learner().map(|l| l.id.as_str()) == header.learner.as_deref();
            let mut tasks = terms.tasks.iter();
            let task = tasks.find(|task| task.scenario == header.scenario)?;
            mine.then(|| (terms.clone(), task.clone()))
        });
        found
            .map(Some)
            .ok_or_else(|| words.text("attempt-assigned-not-open"))
    }
}
