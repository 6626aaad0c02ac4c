//! One session for each candidate fault, all doing what the learner does.
//!
//! What the learner saw is compared with what each world shows: that is the whole of the inference,
//! so that anything a learner can do, even damage they cause, is judged without a special case.

use std::sync::Arc;

use tracebay_core::circuit::SolveError;
use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Observation, Refusal, Session};

use crate::signs;

/// Sessions of every candidate, in the scenario's order, and which is the learner's own car.
#[derive(Clone)]
pub struct Worlds {
    /// The candidates' worlds, and the learner's car behind them where it is none of theirs.
    sessions: Vec<Session>,
    candidates: usize,
    own: usize,
}

/// What an action showed in every world.
#[derive(Clone, Debug)]
pub struct Showing {
    /// Observations in each world; `None` where the world would not allow the action.
    pub outcomes: Vec<Option<Vec<Observation>>>,
}

impl Worlds {
    /// Opens a world for every candidate of the case.
    ///
    /// # Errors
    /// A candidate's car has no operating point; the check of files finds such scenarios.
    pub fn new(case: &Case) -> Result<Worlds, SolveError> {
        let candidates = case.scenario.candidates.len();
        let mut sessions: Vec<Session> = Vec::with_capacity(candidates + 1);
        let mut open = |case: Case| {
            let case = Arc::new(case);
            let session = match sessions.first() {
                Some(first) => Session::beside(first, case)?,
                None => Session::new(case)?,
            };
            sessions.push(session);
            Ok(())
        };
        for i in 0..candidates {
            open(case.with_candidate(i))?;
        }
        let own = match case.reveal() {
            Some(own) => own,
            None => {
                open(case.clone())?;
                candidates
            }
        };
        Ok(Worlds {
            sessions,
            candidates,
            own,
        })
    }

    /// Does the action on the learner's own car, then in every world; what it showed there, and here.
    ///
    /// # Errors
    /// The learner's car refuses the action. Nothing is done then.
    pub fn perform(&mut self, action: &Action) -> Result<(Vec<Observation>, Showing), Refusal> {
        let seen = self.sessions[self.own].perform(action)?;
        let own = self.own;
        let outcomes = self.sessions[..self.candidates]
            .iter_mut()
            .enumerate()
            .map(|(i, session)| {
                if i == own {
                    Some(seen.clone())
                } else {
                    session.perform(action).ok()
                }
            })
            .collect();
        Ok((seen, Showing { outcomes }))
    }

    /// The learner's case.
    #[must_use]
    pub fn case(&self) -> &Arc<Case> {
        self.sessions[self.own].case()
    }

    /// The learner's own car.
    pub fn own(&mut self) -> &mut Session {
        &mut self.sessions[self.own]
    }

    /// The candidates' worlds, in the scenario's order.
    pub fn candidates(&self) -> &[Session] {
        &self.sessions[..self.candidates]
    }
}

impl Showing {
    /// How likely each world makes what was seen.
    pub fn likelihoods(&self, seen: &[Observation]) -> Vec<f64> {
        self.outcomes
            .iter()
            .map(|o| {
                o.as_ref()
                    .map_or(0.01, |shown| signs::likelihood(seen, shown))
            })
            .collect()
    }

    /// Classes of what can be told apart, one for each world.
    pub fn classes(&self) -> Vec<u8> {
        let outcomes: Vec<Vec<Observation>> = self
            .outcomes
            .iter()
            .map(|o| o.clone().unwrap_or_default())
            .collect();
        signs::classes(&outcomes)
    }
}
