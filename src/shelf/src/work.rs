//! A session whose actions are kept before anyone sees what they showed.

use tracebay_core::attempt::{Line, Recorder, encode_header, encode_line};
use tracebay_core::session::{Action, Observation, Refusal, Session, View};

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
    waiting: Option<Waiting>,
}

/// Something done that is not kept yet, and why.
struct Waiting {
    line: Line,
    observations: Vec<Observation>,
    error: ShelfError,
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
            waiting: None,
        }
    }

    /// Works without keeping anything, because the person said so.
    pub fn unsaved(recorder: Recorder) -> Work {
        Work {
            recorder,
            log: None,
            waiting: None,
        }
    }

    /// Does one thing, keeps it, and only then says what it showed.
    ///
    /// `at` is wall-clock milliseconds since the start, if the face knows.
    pub fn perform(&mut self, action: Action, at: Option<u64>) -> Result<Shown, WorkError> {
        if let Some(waiting) = &self.waiting {
            return Err(WorkError::NotKept(waiting.error.clone()));
        }
        let (line, observations) = self
            .recorder
            .perform(action, at)
            .map_err(WorkError::Refused)?;
        self.keep(line, observations)
    }

    /// Tries again to keep what could not be kept, and shows it. None, if nothing is waiting.
    pub fn retry(&mut self) -> Option<Result<Shown, WorkError>> {
        let waiting = self.waiting.take()?;
        Some(self.keep(waiting.line, waiting.observations))
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

    /// What can be perceived now without doing anything.
    pub fn view(&mut self) -> View {
        self.recorder.view()
    }

    /// Recorder with header and session.
    pub fn recorder(&self) -> &Recorder {
        &self.recorder
    }

    /// The whole attempt as its file says it, or would say it.
    pub fn text(&self) -> String {
        let lines = self.recorder.lines().iter().map(encode_line);
        encode_header(self.recorder.header()) + &lines.collect::<String>()
    }

    /// Where it is kept, if it is.
    pub fn kept_in(&self) -> Option<String> {
        self.log.as_ref().map(|log| log.name())
    }

    fn keep(&mut self, line: Line, observations: Vec<Observation>) -> Result<Shown, WorkError> {
        if let Some(log) = &mut self.log
            && let Err(error) = log.append(&encode_line(&line))
        {
            self.waiting = Some(Waiting {
                line,
                observations,
                error: error.clone(),
            });
            return Err(WorkError::NotKept(error));
        }
        Ok(Shown {
            action: line.action,
            observations,
            minutes: line.minutes,
        })
    }
}
