//! A session whose actions are kept before anyone sees what they showed.

use tracebay_core::attempt::{Line, Recorder, encode_line};
use tracebay_core::session::{Action, Observation, Refusal, Session};

use crate::{AttemptLog, ShelfError, Store};

/// What an action showed, once it is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// What was done.
    pub action: Action,
    /// What was perceived.
    pub observations: Vec<Observation>,
    /// Job minutes spent so far.
    pub minutes: f64,
}

/// Why nothing is shown.
#[derive(Clone, Debug, PartialEq)]
pub enum WorkError {
    /// The car or the rules do not allow it; nothing changed.
    Refused(Refusal),
    /// It was done but could not be kept, so it is not shown. [`Work::retry`] tries again,
    /// [`Work::go_on_unsaved`] goes on without keeping; until then nothing else can be done.
    NotKept(ShelfError),
}

/// A session, its attempt's chain and the place that keeps it.
pub struct Work {
    recorder: Recorder,
    log: Option<Box<dyn AttemptLog + Send + Sync>>,
    pending: Option<(Line, Vec<Observation>)>,
}

impl Work {
    /// Keeps a new attempt in a store.
    pub fn start(recorder: Recorder, store: &mut dyn Store) -> Result<Work, ShelfError> {
        let log = store.create(recorder.header())?;
        Ok(Work::resumed(recorder, log))
    }

    /// Goes on with an attempt that was opened and replayed.
    pub fn resumed(recorder: Recorder, log: Box<dyn AttemptLog + Send + Sync>) -> Work {
        Work {
            recorder,
            log: Some(log),
            pending: None,
        }
    }

    /// Works without keeping anything, because the person said so.
    pub fn unsaved(recorder: Recorder) -> Work {
        Work {
            recorder,
            log: None,
            pending: None,
        }
    }

    /// Does one thing, keeps it, and only then says what it showed.
    ///
    /// `at` is wall-clock milliseconds since the start, if the face knows.
    pub fn perform(&mut self, action: Action, at: Option<u64>) -> Result<Shown, WorkError> {
        if self.pending.is_some() {
            // What was done before must be settled first; this action was not done.
            return self.retry_pending().and_then(|_| self.perform(action, at));
        }
        let done = self
            .recorder
            .perform(action, at)
            .map_err(WorkError::Refused)?;
        self.pending = Some(done);
        self.retry_pending()
    }

    /// Tries again to keep what could not be kept, and shows it. None, if nothing is waiting.
    pub fn retry(&mut self) -> Option<Result<Shown, WorkError>> {
        self.pending.is_some().then(|| self.retry_pending())
    }

    /// Goes on in memory only, and shows what was waiting, if anything.
    pub fn go_on_unsaved(&mut self) -> Option<Shown> {
        self.log = None;
        self.retry()?.ok()
    }

    /// The session, to look at.
    pub fn session(&self) -> &Session {
        self.recorder.session()
    }

    /// Recorder with header and session.
    pub fn recorder(&self) -> &Recorder {
        &self.recorder
    }

    /// Where it is kept, if it is.
    pub fn kept_in(&self) -> Option<String> {
        self.log.as_ref().map(|log| log.name())
    }

    fn retry_pending(&mut self) -> Result<Shown, WorkError> {
        let Some((line, _)) = &self.pending else {
            return Err(WorkError::Refused(Refusal::AlreadySo));
        };
        if let Some(log) = &mut self.log {
            log.append(&encode_line(line)).map_err(WorkError::NotKept)?;
        }
        match self.pending.take() {
            Some((line, observations)) => Ok(Shown {
                action: line.action,
                observations,
                minutes: line.minutes,
            }),
            None => Err(WorkError::Refused(Refusal::AlreadySo)),
        }
    }
}
