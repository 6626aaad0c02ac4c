//! A case being worked on: [`Session::perform`] is the only way to change it.

pub mod action;
pub mod observation;
pub mod refusal;
pub mod view;

use std::sync::Arc;

pub use action::{Action, Item};
pub use observation::{Dash, Finding, MeterDisplay, Observation, Sound, Touch};
pub use refusal::Refusal;
pub use view::{BladeSize, Motion, PointInfo, PointKind, View};

use crate::scenario::Case;

/// A case being worked on.
#[derive(Clone)]
pub struct Session {
    case: Arc<Case>,
}

impl Session {
    /// The car as the customer left it.
    pub fn new(case: Arc<Case>) -> Session {
        Session { case }
    }

    /// The case.
    pub fn case(&self) -> &Case {
        &self.case
    }

    /// Does one thing and says what the learner perceives. A refused action changes nothing.
    pub fn perform(&mut self, _action: &Action) -> Result<Vec<Observation>, Refusal> {
        Err(Refusal::AlreadySo)
    }

    /// Whether an action could be done now, without doing it.
    pub fn check(&self, _action: &Action) -> Result<(), Refusal> {
        Ok(())
    }

    /// What can be perceived now without doing anything.
    pub fn view(&self) -> View {
        unreachable!("not written yet")
    }

    /// All points of the car, reachable now or not, in a fixed order.
    pub fn points(&self) -> &[PointInfo] {
        &[]
    }

    /// Whether a point can be touched now.
    pub fn reach(&self, _point: &str) -> Result<(), Refusal> {
        Ok(())
    }

    /// Actions done so far with what they showed.
    pub fn log(&self) -> &[(Action, Vec<Observation>)] {
        &[]
    }
}
