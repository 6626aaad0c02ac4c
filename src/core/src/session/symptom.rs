//! Whether the complaint is true: the car tried as a driver would, on a copy.

use std::sync::Arc;

use super::{Action, Session};
use crate::circuit::SolveError;
use crate::fault::{Condition, Wrong};
use crate::scenario::{Case, Shows, Step};
use crate::vehicle::Station;

/// Ticks somebody watches for what comes and goes: longer than the bursts in which shaking makes
/// and breaks a contact.
const WATCHED_TICKS: u32 = 30;

impl Session {
    /// Whether the complaint shows on the car as it is now, tried on a copy from the driver's seat
    /// with everything put back in place that a driver would find in place.
    ///
    /// # Errors
    /// The car's circuits have no operating point.
    pub fn complaint_shows(&self) -> Result<bool, SolveError> {
        let faults = &self.car.hw.faults;
        // What is explained is no complaint any more: the car was right all along.
        if faults
            .iter()
            .any(|f| f.mended && f.fault.what == Wrong::AsDesigned)
        {
            return Ok(false);
        }
        let mut tried = self.clone();
        tried.driven = true;
        tried.handed_back = false;
        tried.tools.clear();
        tried.car.tools.clear();
        if self.case.rain() {
            tried.car.rain();
        }
        tried.car.hands_changed()?;
        let scenario = self.case.scenario.clone();
        tried.drive(&scenario.symptom.steps);
        let sound_w = match &scenario.symptom.shows {
            Shows::Weak { part, .. } => {
                // On the day the customer usually drives: a candidate with weather of its own may be
                // a day on which the sound car refuses as well.
                let case = &self.case;
                let sound =
                    Case::with(case.scenario.clone(), case.vehicle.clone(), case.seed, None);
                let mut sound = Session::beside(self, Arc::new(sound))?;
                sound.drive(&scenario.symptom.steps);
                sound.car.power_w(part)
            }
            _ => 0.0,
        };
        // What comes and goes shows if it shows at any moment while somebody watches.
        let comes_and_goes = faults
            .iter()
            .any(|f| !f.mended && f.fault.only == Some(Condition::Shaken));
        if comes_and_goes {
            for _ in 0..WATCHED_TICKS {
                if tried.shows_now(sound_w) {
                    return Ok(true);
                }
                tried.car.tick()?;
            }
        }
        Ok(tried.shows_now(sound_w))
    }

    /// Whether what the complaint means is so at this moment; `sound_w` is what the sound car's
    /// load gets.
    fn shows_now(&self, sound_w: f64) -> bool {
        match &self.case.scenario.symptom.shows {
            Shows::NoColdAir { colder_by_k } => match &self.car.climate {
                Some(climate) => {
                    let air = self
                        .car
                        .loads
                        .iter()
                        .find(|l| l.part == climate.blower)
                        .map_or(0.0, |l| self.car.working(l));
                    air < 0.15 || self.case.ambient_c - climate.duct_c() < *colder_by_k
                }
                None => true,
            },
            Shows::Weak { part, below } => self.car.power_w(part) < below * sound_w,
            Shows::NoStart => !self.car.engine.running(),
            Shows::Unwanted { part } => {
                let load = self.car.loads.iter().find(|l| l.part == *part);
                load.is_some_and(|l| self.car.working(l) > 0.3)
            }
        }
    }

    /// Takes a driver's steps. Steps that are already so, or cannot be taken, are passed over: the
    /// car then simply does not do what was wanted.
    pub fn drive(&mut self, steps: &[Step]) {
        self.driven |= !steps.is_empty();
        for step in steps {
            self.step(step);
        }
    }

    fn step(&mut self, step: &Step) {
        let action = match step {
            Step::Set(control, to) => {
                if let Some(data) = self.case.vehicle.controls.get(control)
                    && (data.station == Station::Seat) != (self.station == Station::Seat)
                {
                    self.station = data.station;
                }
                Action::Set {
                    control: control.clone(),
                    to: to.clone(),
                }
            }
            Step::Wait(seconds) => Action::Wait((seconds * 10.0) as u32),
            Step::Spray(place) => {
                if let Some(data) = self.case.vehicle.places.get(place) {
                    self.station = data.station;
                    // As it is sprayed: closed.
                    if let Some(cover) = &data.cover {
                        self.uncovered.remove(cover);
                    }
                }
                Action::Spray(place.clone())
            }
            Step::Pull(name) | Step::Unplug(name) => {
                let vehicle = &self.case.vehicle;
                let part = vehicle.parts.get(name).map(|p| &p.place);
                let place = part.or_else(|| vehicle.connectors.get(name).map(|c| &c.place));
                self.station = place
                    .and_then(|p| vehicle.places.get(p))
                    .map_or(Station::Bay, |p| p.station);
                for cover in self.covers().map(str::to_owned).collect::<Vec<_>>() {
                    self.uncovered.insert(cover);
                }
                if matches!(step, Step::Pull(_)) {
                    Action::Pull(name.clone())
                } else {
                    Action::Unplug(name.clone())
                }
            }
        };
        if self.check(&action).is_ok() {
            // An operating point that cannot be found shows up in the files' check.
            let _ = self.carry_out(&action);
        }
    }
}
