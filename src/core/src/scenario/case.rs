//! The catalogue of loaded files, and the case drawn from a scenario and a seed.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::draw::Draw;
use super::{Candidate, Course, Scenario};
use crate::fault::Fault;
use crate::source::Told;
use crate::vehicle::{Arrangements, Kind, Vehicle};

/// Vehicles and scenarios that were read and checked.
#[derive(Clone, Debug, Default)]
pub struct Catalogue {
    /// Vehicles by id.
    pub vehicles: BTreeMap<String, Arc<Vehicle>>,
    /// Scenarios by id.
    pub scenarios: BTreeMap<String, Arc<Scenario>>,
    /// Courses by id.
    pub courses: BTreeMap<String, Arc<Course>>,
}

/// One test light in twelve has a dead bulb (invented).
const DEAD_BULB: f64 = 1.0 / 12.0;

/// Why a case could not be drawn.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DrawError {
    /// No such scenario; the nearest id, if any.
    #[error("there is no scenario `{id}`{}", nearest.as_ref().map_or(String::new(), |n| format!("; did you mean `{n}`?")))]
    UnknownScenario {
        /// Asked for.
        id: String,
        /// Closest known id.
        nearest: Option<String>,
    },
    /// The vehicle it names is not loaded.
    #[error("the scenario's vehicle `{id}` is not among the loaded vehicles")]
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
    /// The customer meets it in the rain.
    rain: bool,
    /// What the customer says.
    pub complaint: Told,
    /// Terminals of every relay and fuse socket in reading order from above.
    pub arrangements: Arrangements,
    /// Where each slot's part sits: part id to column and row.
    pub slots: BTreeMap<String, (u32, u32)>,
    /// The test light in the roll has a dead bulb, which only proving it tells.
    pub(crate) dead_bulb: bool,
    /// Which candidate is behind it; none in a sound car. Never shown before the call.
    candidate: Option<usize>,
    /// Key of the spreads from part to part.
    spread: u64,
}

impl Catalogue {
    /// Draws a case. The same scenario version and seed give the same case for ever.
    ///
    /// # Errors
    /// The scenario or its vehicle is not in the catalogue.
    pub fn draw(&self, scenario: &str, seed: u64) -> Result<Case, DrawError> {
        let found = self
            .scenarios
            .get(scenario)
            .ok_or_else(|| DrawError::UnknownScenario {
                id: scenario.to_owned(),
                nearest: crate::source::nearest(
                    scenario,
                    self.scenarios.keys().map(String::as_str),
                )
                .map(str::to_owned),
            })?;
        let vehicle =
            self.vehicles
                .get(&found.vehicle)
                .ok_or_else(|| DrawError::UnknownVehicle {
                    id: found.vehicle.clone(),
                })?;
        Ok(Case::draw(found.clone(), vehicle.clone(), seed))
    }
}

impl Case {
    /// Draws a case from a checked scenario on its vehicle.
    pub fn draw(scenario: Arc<Scenario>, vehicle: Arc<Vehicle>, seed: u64) -> Case {
        // Each purpose has a stream of its own, so that adding a complaint's wording does not move
        // the fault.
        let mut fault = Draw::new(&scenario.id, scenario.version, seed, "fault");
        let weights: Vec<f64> = scenario.candidates.iter().map(|c| c.prior).collect();
        let candidate = fault.weighted(&weights);
        Case::with(scenario, vehicle, seed, Some(candidate))
    }

    /// The car of a seed as it would be met with this candidate behind the complaint, in that
    /// candidate's own weather, or with nothing wrong in the scenario's usual weather.
    pub fn with(
        scenario: Arc<Scenario>,
        vehicle: Arc<Vehicle>,
        seed: u64,
        candidate: Option<usize>,
    ) -> Case {
        let mut weather = Draw::new(&scenario.id, scenario.version, seed, "weather");
        let own = candidate.and_then(|i: usize| scenario.candidates[i].weather.as_ref());
        let day = own.unwrap_or(&scenario.weather);
        let rain = day.rain;
        let (low, high) = day.ambient_c;
        let ambient_c = libm::round(low + (high - low) * weather.unit());
        let mut words = Draw::new(&scenario.id, scenario.version, seed, "complaint");
        let complaint = scenario.complaints[words.index(scenario.complaints.len())].clone();
        // A stream for each part, so that a part added to the vehicle moves no other.
        let layout = |what: &str| {
            Draw::new(
                &scenario.id,
                scenario.version,
                seed,
                &format!("layout {what}"),
            )
        };
        let mut arrangements = Arrangements::new();
        for (id, part) in &vehicle.parts {
            match &part.kind {
                Kind::Relay(relay) => {
                    let order = &relay.arrangements[layout(id).index(relay.arrangements.len())];
                    arrangements.insert(id.clone(), order.clone());
                }
                Kind::Fuse { .. } => {
                    let mut order = vec!["1".to_owned(), "2".to_owned()];
                    if layout(id).index(2) == 1 {
                        order.swap(0, 1);
                    }
                    arrangements.insert(id.clone(), order);
                }
                _ => {}
            }
        }
        let slots = place_slots(&vehicle, &mut layout("slots"));
        let dead_bulb = Draw::new(&scenario.id, scenario.version, seed, "tools").unit() < DEAD_BULB;
        let spread = Draw::new(&scenario.id, scenario.version, seed, "spread").next();
        Case {
            scenario,
            vehicle,
            seed,
            ambient_c,
            rain,
            complaint,
            arrangements,
            slots,
            dead_bulb,
            candidate,
            spread,
        }
    }

    /// The same car with another candidate fault behind the complaint: a world to compare with.
    #[must_use]
    pub fn with_candidate(&self, index: usize) -> Case {
        Case {
            candidate: Some(index),
            ..self.clone()
        }
    }

    /// The same car with sound tools: what a plan may count on.
    #[must_use]
    pub fn with_sound_tools(&self) -> Case {
        Case {
            dead_bulb: false,
            ..self.clone()
        }
    }

    /// The same car with nothing wrong.
    #[must_use]
    pub fn sound(&self) -> Case {
        Case {
            candidate: None,
            ..self.clone()
        }
    }

    /// The customer meets it in the rain.
    pub fn rain(&self) -> bool {
        self.rain
    }

    /// Index of the candidate behind the complaint, none in a sound car. For the grader and the
    /// debrief; a face must not ask before the car is handed back.
    pub fn reveal(&self) -> Option<usize> {
        self.candidate
    }

    /// The candidate behind the complaint. As [`Case::reveal`].
    pub fn culprit(&self) -> Option<&Candidate> {
        self.candidate.map(|i| &self.scenario.candidates[i])
    }

    pub(crate) fn faults(&self) -> impl Iterator<Item = &Fault> {
        self.culprit().into_iter().flat_map(|c| &c.faults)
    }

    /// Spread of a named part, wire or pin of this car, −1 to 1.
    pub fn tolerance(&self, name: &str) -> f64 {
        super::draw::spread(self.spread, name)
    }
}

/// A part and its column and row.
type Seat = (String, (u32, u32));

/// Slots of one group change places.
fn place_slots(vehicle: &Vehicle, layout: &mut Draw) -> BTreeMap<String, (u32, u32)> {
    let mut placed = BTreeMap::new();
    for fuse_box in vehicle.boxes.values() {
        let mut groups: BTreeMap<u32, Vec<Seat>> = BTreeMap::new();
        for slot in &fuse_box.slots {
            match slot.group {
                Some(g) => groups
                    .entry(g)
                    .or_default()
                    .push((slot.part.clone(), slot.at)),
                None => {
                    placed.insert(slot.part.clone(), slot.at);
                }
            }
        }
        for members in groups.values() {
            let mut places: Vec<(u32, u32)> = members.iter().map(|m| m.1).collect();
            for i in (1..places.len()).rev() {
                places.swap(i, layout.index(i + 1));
            }
            for ((part, _), at) in members.iter().zip(places) {
                placed.insert(part.clone(), at);
            }
        }
    }
    placed
}
