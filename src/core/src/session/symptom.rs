//! Whether the complaint is true: the car tried as a driver would, on a copy.

use std::sync::Arc;

use super::{Action, Session};
use crate::circuit::SolveError;
use crate::scenario::{Shows, Step};

impl Session {
    /// Whether the complaint shows on the car as it is now, tried on a copy from the driver's seat
    /// with everything put back in place that a driver would find in place.
    ///
    /// # Errors
    /// The car's circuits have no operating point.
    pub fn complaint_shows(&self) -> Result<bool, SolveError> {
        let mut tried = self.clone();
        tried.handed_back = false;
        tried.tools.clear();
        tried.car.tools.clear();
        tried.car.hands_changed()?;
        tried.drive(&self.case.scenario.symptom.steps);
        Ok(match &self.case.scenario.symptom.shows {
            Shows::NoColdAir { colder_by_k } => match &tried.car.climate {
                Some(climate) => {
                    let air = tried
                        .car
                        .loads
                        .iter()
                        .find(|l| l.part == climate.blower)
                        .map_or(0.0, |l| tried.car.working(l));
                    air < 0.15 || self.case.ambient_c - climate.duct_c() < *colder_by_k
                }
                None => true,
            },
            Shows::Weak { part, below } => {
                let mut sound = Session::new(Arc::new(self.case.sound()))?;
                sound.drive(&self.case.scenario.symptom.steps);
                tried.car.power_w(part) < below * sound.car.power_w(part)
            }
            Shows::NoStart => !tried.car.engine.running(),
            Shows::Unwanted { part } => {
                let load = tried.car.loads.iter().find(|l| l.part == *part);
                load.is_some_and(|l| tried.car.working(l) > 0.3)
            }
        })
    }

    /// Takes a driver's steps. Steps that are already so, or cannot be taken, are passed over: the
    /// car then simply does not do what was wanted.
    pub fn drive(&mut self, steps: &[Step]) {
        for step in steps {
            self.step(step);
        }
    }

    fn step(&mut self, step: &Step) {
        let action = match step {
            Step::Set(control, to) => {
                if let Some(data) = self.case.vehicle.controls.get(control)
                    && (data.station == crate::vehicle::Station::Seat)
                        != (self.station == crate::vehicle::Station::Seat)
                {
                    self.station = data.station;
                }
                Action::Set {
                    control: control.clone(),
                    to: to.clone(),
                }
            }
            Step::Wait(seconds) => Action::Wait((seconds * 10.0) as u32),
            Step::Pull(part) | Step::Unplug(part) => {
                self.station = crate::vehicle::Station::Bay;
                for cover in self.covers().map(str::to_owned).collect::<Vec<_>>() {
                    self.uncovered.insert(cover);
                }
                if matches!(step, Step::Pull(_)) {
                    Action::Pull(part.clone())
                } else {
                    Action::Unplug(part.clone())
                }
            }
        };
        if self.check(&action).is_ok() {
            // An operating point that cannot be found shows up in the files' check.
            let _ = self.carry_out(&action);
        }
    }
}
