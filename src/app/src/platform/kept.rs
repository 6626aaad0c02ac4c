//! The book that keeps an attempt action by action.

use tracebay_core::session::{Action, Observation, Session};
use tracebay_grading::assign::Terms;
use tracebay_shelf::{Shown, Work, WorkClock, WorkError};
use tracebay_words::Words;

use super::{local, shelf_words};
use crate::desk::{Book, Trouble};

/// An attempt that is kept action by action.
pub(crate) struct Kept {
    work: Work,
    /// None where the platform has no clock.
    clock: Option<WorkClock>,
    words: Words,
    /// Terms of the assignment this is work for.
    terms: Option<Terms>,
    /// Where it is held instead, once it goes on without being kept.
    held: Option<String>,
}

impl Kept {
    /// A book on an attempt, under an assignment's terms if it is work for one.
    pub(crate) fn boxed(work: Work, words: &Words, terms: Option<Terms>) -> Box<dyn Book> {
        // The book says why something was not kept in the language it was opened in.
        let words = Words::new(words.language());
        let clock = local::since_start_ms().map(|now_ms| WorkClock::new(&work, now_ms));
        Box::new(Kept {
            work,
            clock,
            words,
            terms,
            held: None,
        })
    }

    /// Holds the whole attempt elsewhere.
    fn hold(&mut self) {
        let header = self.work.recorder().header();
        self.held = local::hold_unkept(header, &self.work.text());
    }

    fn answer(&self, done: Result<Shown, WorkError>) -> Result<Vec<Observation>, Trouble> {
        match done {
            Ok(shown) => Ok(shown.observations),
            Err(WorkError::Refused(refusal)) => Err(Trouble::Refused(refusal)),
            Err(WorkError::NotKept(error)) => {
                Err(Trouble::NotKept(shelf_words(&self.words, &error)))
            }
        }
    }
}

impl Book for Kept {
    fn perform(&mut self, action: &Action) -> Result<Vec<Observation>, Trouble> {
        if let Some(refusal) = self.terms.as_ref().and_then(|terms| terms.forbids(action)) {
            return Err(Trouble::Refused(refusal));
        }
        let clock = self.clock.zip(local::since_start_ms());
        let at_ms = clock.map(|(clock, now_ms)| clock.at_ms(now_ms));
        let done = self.work.perform(action.clone(), at_ms);
        if done.is_ok() && self.work.kept_in().is_none() {
            self.hold();
        }
        self.answer(done)
    }

    fn terms(&self) -> Option<&Terms> {
        self.terms.as_ref()
    }

    fn session(&self) -> &Session {
        self.work.session()
    }

    fn name(&self) -> String {
        self.work.kept_in().unwrap_or_default()
    }

    fn held_in(&self) -> Option<String> {
        self.held.clone()
    }

    fn text(&self) -> Option<String> {
        Some(self.work.text())
    }

    fn retry(&mut self) -> Result<Vec<Observation>, Trouble> {
        match self.work.retry() {
            Some(done) => self.answer(done),
            None => Ok(Vec::new()),
        }
    }

    fn go_on_unkept(&mut self) -> Vec<Observation> {
        let shown = self.work.go_on_unsaved();
        self.hold();
        shown.map(|shown| shown.observations).unwrap_or_default()
    }
}
