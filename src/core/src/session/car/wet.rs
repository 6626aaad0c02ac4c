//! Water under the bonnet: what is wet, how it dries, and the faults that come with it.

use super::Car;
use crate::elements::water::{FILM_BREAKS_BELOW, RAINY_HUMIDITY, USUAL_HUMIDITY, dries_per_s};
use crate::session::senses;
use crate::vehicle::hardware::WET_STEPS;
use crate::vehicle::{Station, Vehicle};

/// How far the engine's warmth reaches: share of what its coolant is above the air, at a hot part and
/// elsewhere under the bonnet (our judgement, no source).
const WARMTH_AT_HOT_PARTS: f64 = 0.75;
const WARMTH_UNDER_BONNET: f64 = 0.3;
/// Seconds in a tick.
const TICK_S: f64 = 0.1;

/// Whether water from outside gets to a place: under the bonnet and its boxes, not into the cabin and not
/// to the board on the bench.
pub fn in_the_weather(vehicle: &Vehicle, place: &str) -> bool {
    let station = vehicle.places.get(place).map(|p| p.station);
    matches!(station, Some(Station::Bay | Station::Box))
}

impl Car {
    /// Soaks a place.
    pub fn wet_place(&mut self, place: &str) {
        self.wet.insert(place.to_owned(), 1.0);
    }

    /// Rains on everything that rain gets to, from now on.
    pub fn rain(&mut self) {
        let vehicle = self.case.vehicle.clone();
        self.raining = true;
        for place in vehicle
            .places
            .keys()
            .filter(|p| in_the_weather(&vehicle, p))
        {
            self.wet.insert(place.clone(), 1.0);
        }
    }

    /// Places where water still hangs together.
    pub fn wet_places(&self) -> impl Iterator<Item = &str> {
        let wet = self
            .wet
            .iter()
            .filter(|(_, share)| **share >= FILM_BREAKS_BELOW);
        wet.map(|(place, _)| place.as_str())
    }

    /// One tick of drying. Costs nothing on a dry car.
    pub(super) fn dry(&mut self) {
        if self.wet.is_empty() || self.raining {
            return;
        }
        let air_c = self.case.ambient_c;
        let above = (self.engine.coolant_c - air_c).max(0.0);
        let humidity = if self.case.rain() {
            RAINY_HUMIDITY
        } else {
            USUAL_HUMIDITY
        };
        let vehicle = self.case.vehicle.clone();
        self.wet.retain(|place, share| {
            let hot = vehicle.places.get(place).is_some_and(|p| p.hot);
            let warmth = if hot {
                WARMTH_AT_HOT_PARTS
            } else {
                WARMTH_UNDER_BONNET
            };
            *share -= TICK_S * dries_per_s(air_c + warmth * above, air_c, humidity);
            *share > 0.0
        });
    }

    /// How wet the place of a fault is, and whether the fault is there for it. Returns whether anything
    /// changed.
    pub(super) fn settle_wet(&mut self, fault: usize) -> bool {
        let at = self.hw.faults[fault].fault.at.clone();
        let share = senses::place_of(self, &at)
            .and_then(|place| self.wet.get(place))
            .copied()
            .unwrap_or(0.0);
        let state = &self.hw.faults[fault];
        let steps = libm::ceil(share * f64::from(WET_STEPS)) as u8;
        let away = share < FILM_BREAKS_BELOW;
        let changed = (away, steps) != (state.away, state.wet_steps);
        if changed {
            let state = &mut self.hw_mut().faults[fault];
            (state.away, state.wet_steps) = (away, steps);
        }
        changed
    }
}
