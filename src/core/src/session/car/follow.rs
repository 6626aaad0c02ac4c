//! What follows the network's operating point within a tick, and what drifts slowly and reaches the
//! network in steps: control units, sensors, the clutch, battery, alternator.

use super::Car;
use crate::circuit::Element;
use crate::elements::alternator;
use crate::fault::Wrong;
use crate::session::climate::Climate;
use crate::session::observation::Observation;
use crate::vehicle::hardware::Hardware;
use crate::vehicle::wiring::{Device, sensor_output};
use crate::vehicle::{Feels, LoopSide};

/// What drifts slowly reaches the network this often: every three seconds.
pub(super) const DRIFT_TICKS: u64 = 30;
/// Steps below which a drift is not worth solving the network again: volts of the battery, share of
/// its charge, kelvin at a thermistor, share of a pressure sensor's supply.
const BATTERY_STEP_V: f64 = 0.02;
const CHARGE_STEP: f64 = 0.000_5;
const THERMISTOR_STEP_K: f64 = 0.5;
const SENSOR_STEP: f64 = 0.003;
/// Most rounds of "solve, let the devices react" within a tick before the rest waits for the next.
const ROUNDS: usize = 8;

impl Car {
    /// Lets sensors, units, the clutch and the engine follow the solution until nothing moves, as
    /// they do within a tenth of a second.
    pub(super) fn let_devices_react(&mut self) {
        for _ in 0..ROUNDS {
            self.apply_units();
            self.apply_sensors();
            self.move_clutch();
            let before = self.solved_for.as_ref().map(|s| s.0);
            if Some(self.wired.revision) == before {
                break;
            }
            if self.solve().is_err() {
                break;
            }
        }
    }

    pub(super) fn apply_units(&mut self) {
        for unit in &self.units {
            let dead_unit = self
                .hw
                .acting_in_part(&unit.part)
                .any(|w| matches!(w, Wrong::UnitDead));
            if let Some((element, value)) = unit.reference() {
                let value = if dead_unit {
                    Element::Resistor { ohms: 10_000.0 }
                } else {
                    value
                };
                self.wired.set(element, value);
            }
            for (name, element, on) in &unit.outputs {
                let mut on = *on && !dead_unit;
                on &= self.hw.dead_outputs.is_empty()
                    || !self
                        .hw
                        .dead_outputs
                        .contains(&(unit.part.to_string(), name.to_string()));
                for wrong in self.hw.acting_in_part(&unit.part) {
                    match wrong {
                        Wrong::OutputDead(n) if **n == **name => on = false,
                        Wrong::OutputStuckOn(n) if **n == **name => on = true,
                        _ => {}
                    }
                }
                self.wired.set(
                    *element,
                    if on {
                        unit.output_on(name)
                    } else {
                        Element::Open
                    },
                );
            }
        }
    }

    pub(super) fn apply_sensors(&mut self) {
        let Some(climate) = &self.climate else { return };
        let drifts = self.ticks.is_multiple_of(DRIFT_TICKS);
        for sensor in &mut self.sensors {
            let kpa = climate.gauge_kpa(sensor.side) + sensor.offset_kpa;
            let ratio = (0.1 + 0.8 * (kpa - sensor.low_kpa) / (sensor.high_kpa - sensor.low_kpa))
                .clamp(0.06, 0.94);
            let supply = self
                .solution
                .difference(sensor.supply, sensor.ground)
                .unwrap_or(0.0);
            // A millivolt is less than anything in the car can tell.
            let supply = libm::round(supply * 200.0) / 200.0;
            let fresh = sensor.applied_ratio < 0.0;
            if fresh || (drifts && (ratio - sensor.applied_ratio).abs() >= SENSOR_STEP) {
                sensor.applied_ratio = libm::round(ratio * 1000.0) / 1000.0;
            }
            let ratio = sensor.applied_ratio;
            let dead = self
                .hw
                .acting_in_part(&sensor.part)
                .any(|w| matches!(w, Wrong::Open));
            let value = if dead {
                Element::Open
            } else {
                sensor_output(supply, ratio)
            };
            self.wired.set(sensor.output, value);
        }
        for contact in &mut self.contacts {
            let kpa = climate.gauge_kpa(LoopSide::High);
            contact.closed = if kpa > contact.opens_above || kpa < contact.opens_below {
                false
            } else {
                contact.closed || kpa >= contact.closes_above
            };
            let stuck = |what: Wrong| self.hw.acting_in_part(&contact.part).any(|w| *w == what);
            let closed = (contact.closed || stuck(Wrong::StuckClosed))
                && !stuck(Wrong::StuckOpen)
                && !stuck(Wrong::Open);
            let (_, extra) = inside(&self.hw, &contact.part);
            let value = if closed {
                Element::Resistor { ohms: 0.02 + extra }
            } else {
                Element::Open
            };
            self.wired.set(contact.element, value);
        }
    }

    pub(super) fn move_clutch(&mut self) {
        let Some(climate) = &mut self.climate else {
            return;
        };
        let Some(Device::Clutch { coil, .. }) = self.wired.devices.get(&climate.clutch) else {
            return;
        };
        let amps = self.solution.current(*coil).abs();
        if let Some(sound) = climate.move_clutch(amps) {
            let place = self.case.vehicle.parts[&climate.clutch].place.clone();
            self.events.push(Observation::Heard { sound, place });
        }
    }

    /// Sets what drifts slowly, if it drifted far enough to matter (or always, if asked).
    pub(super) fn apply_slow(&mut self, always: bool) {
        let drifts = always || self.ticks.is_multiple_of(DRIFT_TICKS);
        if let Some((element, spec, ohms)) = self.battery
            && drifts
        {
            let (charge, polarisation) = (self.battery_charge, self.battery_polarisation_v);
            if always
                || (charge - self.applied_charge).abs() >= CHARGE_STEP
                || (polarisation - self.applied_polarisation_v).abs() >= BATTERY_STEP_V
            {
                self.applied_charge = charge;
                self.applied_polarisation_v = polarisation;
                let ambient_c = self.case.ambient_c;
                let emf_v = spec.open_circuit_v(charge, ambient_c) + polarisation;
                // The file's figure is for a full battery at 25 °C.
                let ohms = ohms * spec.internal_ohms(charge, ambient_c, 0.0)
                    / spec.internal_ohms(1.0, 25.0, 0.0);
                let (open, extra) = inside(&self.hw, &self.battery_part);
                let source = Element::Source {
                    emf_v,
                    ohms: ohms + extra,
                };
                self.wired
                    .set(element, if open { Element::Open } else { source });
            }
        }
        if let Some((element, setpoint_v, limit_a)) = self.alternator {
            let (open, _) = inside(&self.hw, &self.alternator_part);
            let value = if self.engine.running() && !open {
                Element::LimitedSource {
                    emf_v: regulated_v(setpoint_v, self.case.ambient_c),
                    // What is left of its droop once the regulator has done its work.
                    ohms: 0.005,
                    limit_a,
                }
            } else {
                Element::Open
            };
            self.wired.set(element, value);
        }
        if !drifts {
            return;
        }
        let (coolant, ambient) = (self.engine.coolant_c, self.case.ambient_c);
        let evaporator = self.climate.as_ref().map_or(ambient, Climate::evaporator_c);
        for ntc in &mut self.thermistors {
            let real_c = match ntc.feels {
                Feels::Evaporator => evaporator,
                Feels::Coolant => coolant,
                Feels::Ambient => ambient,
            } + ntc.offset_k;
            if (real_c - ntc.applied_c).abs() >= THERMISTOR_STEP_K {
                ntc.applied_c = real_c;
                let ohms = ntc.model.ohms(real_c) + ntc.extra_ohms;
                self.wired.set(
                    ntc.element,
                    if ntc.dead {
                        Element::Open
                    } else {
                        Element::Resistor { ohms }
                    },
                );
            }
        }
        if let Some(climate) = &mut self.climate
            && let Some(Device::Clutch { coil, .. }) = self.wired.devices.get(&climate.clutch)
            && let Some(ohms) = climate.coil_ohms(always)
        {
            let shorted = self
                .hw
                .acting_in_part(&climate.clutch)
                .find_map(|w| match w {
                    Wrong::CoilShorted(f) => Some(*f),
                    _ => None,
                });
            let open = self
                .hw
                .acting_in_part(&climate.clutch)
                .any(|w| matches!(w, Wrong::CoilOpen | Wrong::Open));
            let ohms =
                ohms * shorted.unwrap_or(1.0) * (1.0 + 0.03 * self.case.tolerance(&climate.clutch));
            self.wired.set(
                *coil,
                if open {
                    Element::Open
                } else {
                    Element::Resistor { ohms }
                },
            );
        }
    }
}

/// Whether a part is open inside, and what resistance has been added in it, ohms.
fn inside(hw: &Hardware, part: &str) -> (bool, f64) {
    let (mut open, mut extra) = (false, 0.0);
    for wrong in hw.acting_in_part(part) {
        match wrong {
            Wrong::Open => open = true,
            Wrong::Resistance(ohms) => extra += ohms,
            _ => {}
        }
    }
    (open, extra)
}

/// What the regulator holds: less the warmer it is, 7 mV for each kelvin (common practice, no
/// source), within what a battery takes.
fn regulated_v(setpoint_25c_v: f64, ambient_c: f64) -> f64 {
    let change = alternator::SET_POINT_V_PER_K * (ambient_c - 25.0);
    (setpoint_25c_v + change).clamp(13.0, 15.5)
}
