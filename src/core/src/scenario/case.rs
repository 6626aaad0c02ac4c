//! The catalogue of loaded files and the draw of a case from scenario and seed.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Scenario;
use crate::vehicle::Vehicle;

/// Vehicles and scenarios that were read and checked.
#[derive(Clone, Debug, Default)]
pub struct Catalogue {
    /// Vehicles by id.
    pub vehicles: BTreeMap<String, Arc<Vehicle>>,
    /// Scenarios by id.
    pub scenarios: BTreeMap<String, Arc<Scenario>>,
}

/// Why a case could not be drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum DrawError {
    /// No such scenario; the nearest id, if any.
    UnknownScenario {
        /// Asked for.
        id: String,
        /// Closest known id.
        nearest: Option<String>,
    },
    /// The vehicle it names is not loaded.
    UnknownVehicle {
        /// Asked for.
        id: String,
    },
}

/// Scenario and seed, drawn: the concrete car in front of the learner.
#[derive(Clone, Debug)]
pub struct Case {
    /// Scenario.
    pub scenario: Arc<Scenario>,
    /// Vehicle.
    pub vehicle: Arc<Vehicle>,
    /// Seed.
    pub seed: u64,
    /// Outside temperature, degrees Celsius.
    pub ambient_c: f64,
    /// What the customer says.
    pub complaint: String,
    /// Which candidate is behind it. Never shown before the call.
    pub(crate) candidate: usize,
}

impl Catalogue {
    /// Draws a case. The same scenario version and seed give the same case for ever.
    pub fn draw(&self, _scenario: &str, _seed: u64) -> Result<Case, DrawError> {
        unreachable!("not written yet")
    }
}

impl Case {
    /// The same car with another candidate fault behind the complaint: a world to compare with.
    pub fn with_candidate(&self, index: usize) -> Case {
        Case {
            candidate: index,
            ..self.clone()
        }
    }

    /// Index of the candidate behind the complaint. For the grader and the debrief; a face must
    /// not ask before the call.
    pub fn reveal(&self) -> usize {
        self.candidate
    }
}
