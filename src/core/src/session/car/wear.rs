//! What time and current do to the car: fuses and outputs heat, the battery drains, intermittent
//! faults come and go.

use super::{Car, HOT_TICKS};
use crate::circuit::Element;
use crate::elements::driver::DriverSpec;
use crate::elements::fuse::FuseHeat;
use crate::fault::{Condition, Wrong};
use crate::session::senses;
use crate::vehicle::wiring::Device;

impl Car {
    /// Intermittent faults come and go. Returns whether one did.
    pub(super) fn settle_intermittents(&mut self) -> bool {
        let hot = self.hot_ticks >= HOT_TICKS;
        // Shaking makes and breaks in bursts of a few tenths of a second.
        let burst = self.ticks % 23 < 9;
        let running = self.engine.running() && burst;
        let mut changed = false;
        for i in 0..self.hw.faults.len() {
            let state = &self.hw.faults[i];
            if state.fault.only == Some(Condition::Wet)
                || matches!(state.fault.what, Wrong::LeakTo(..))
            {
                changed |= self.settle_wet(i);
                continue;
            }
            let away = match state.fault.only {
                None | Some(Condition::Wet) => continue,
                Some(Condition::Hot) => !hot,
                // Moving the harness tells only where it is moved.
                Some(Condition::Shaken) => {
                    let here = self.shaken.as_deref().is_some_and(|place| {
                        senses::place_of(self, &state.fault.at) == Some(place)
                    });
                    !(running || here)
                }
            };
            if away != state.away {
                changed = true;
                self.hw_mut().faults[i].away = away;
            }
        }
        changed
    }

    pub(super) fn heat_fuses(&mut self) {
        let mut blew = Vec::new();
        for fuse in &mut self.fuses {
            let amps = self.solution.current(fuse.element).abs();
            // Microamperes warm no fuse.
            if amps < 1e-5 && fuse.heat.share_of_melting() < 1e-12 && !fuse.heat.blown() {
                continue;
            }
            let was = fuse.heat.blown();
            if fuse.model.step(&mut fuse.heat, amps) && !was {
                blew.push(fuse.part.clone());
            }
        }
        for part in blew {
            if let Some(slot) = self.hw_mut().slots.get_mut(&*part) {
                if slot.spare {
                    slot.spare_blown = true;
                } else {
                    slot.original_blown = true;
                }
            }
            if let Some(Device::Fuse { element, .. }) = self.wired.devices.get(&*part) {
                self.wired.set(*element, Element::Open);
            }
        }
    }

    pub(super) fn heat_drivers(&mut self) {
        if !self.drivers_busy {
            return;
        }
        self.drivers_busy = false;
        let mut died = Vec::new();
        for unit in &self.units {
            for (name, element, on) in &unit.outputs {
                let key = (unit.part.clone(), name.clone());
                if !*on && !self.driver_heat.contains_key(&key) {
                    continue;
                }
                let (a, b) = self.wired.network.ends(*element);
                let amps = self.solution.current(*element).abs();
                let volts = self.solution.difference(a, b).unwrap_or(0.0).abs();
                let spec = DriverSpec {
                    on_ohms: 1.0,
                    limit_a: unit.limit_a(name),
                    ..DriverSpec::default()
                };
                let heat = self.driver_heat.entry(key.clone()).or_default();
                let was = heat.damaged();
                if spec.step(heat, amps, volts) && !was {
                    died.push((key, *element));
                }
                self.drivers_busy |= !heat.cool();
            }
        }
        for (key, element) in died {
            self.wired.set(element, Element::Open);
            self.hw_mut()
                .dead_outputs
                .insert((key.0.to_string(), key.1.to_string()));
        }
    }

    pub(super) fn drain_battery(&mut self) {
        if let Some((element, spec, ohms)) = self.battery {
            // Current is counted from the positive post through the source, so delivery is negative.
            let amps = -self.solution.current(element);
            self.battery_charge = spec.charge_after_tick(self.battery_charge, amps);
            // The alternator, its lead and the posts are worth about as much as the battery itself.
            let loop_ohms = 2.0 * ohms;
            self.battery_polarisation_v = spec.polarisation_in_circuit(
                self.battery_polarisation_v,
                self.battery_charge,
                amps,
                self.applied_polarisation_v,
                loop_ohms,
            );
        }
    }

    /// A new item in the slot: its heat starts cold.
    pub fn cold_fuse(&mut self, part: &str) {
        if let Some(fuse) = self.fuses.iter_mut().find(|f| &*f.part == part) {
            fuse.heat = FuseHeat::default();
        }
    }

    /// A new control unit has whole outputs.
    pub fn new_unit(&mut self, part: &str) {
        self.hw_mut().dead_outputs.retain(|(p, _)| p != part);
        self.driver_heat.retain(|(p, _), _| &**p != part);
    }
}
