//! One session for each candidate fault, all doing what the learner does.
//!
//! What the learner saw is compared with what each world shows: that is the whole of the inference,
//! so that anything a learner can do, even damage they cause, is judged without a special case.

use std::sync::Arc;

use tracebay_core::circuit::SolveError;
use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Observation, Session};

use crate::signs;

/// Sessions of every candidate, in the scenario's order.
#[derive(Clone)]
pub struct Worlds {
    sessions: Vec<Session>,
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
        let sessions = (0..case.scenario.candidates.len())
            .map(|i| Session::new(Arc::new(case.with_candidate(i))))
            .collect::<Result<_, _>>()?;
        Ok(Worlds { sessions })
    }

    /// Does the action in every world.
    pub fn perform(&mut self, action: &Action) -> Showing {
        Showing {
            outcomes: self
                .sessions
                .iter_mut()
                .map(|s| s.perform(action).ok())
                .collect(),
        }
    }

    /// The sessions, in the scenario's order.
    pub fn sessions(&mut self) -> &mut [Session] {
        &mut self.sessions
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
