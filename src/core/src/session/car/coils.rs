//! What the coils of relays and clutch hold, and the spark when their current is cut.

use super::Car;
use crate::circuit::{Element, ElementId};
use crate::elements::spark::{self, SparkSize, Suppression};
use crate::elements::{clutch, relay};
use crate::vehicle::Kind;
use crate::vehicle::wiring::Device;

/// A coil with the current in it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CoilCurrent {
    coil: ElementId,
    amps: f64,
    henries: f64,
    suppression: Suppression,
}

impl Car {
    /// What every coil with a current in it holds: its element, its current, its inductance and
    /// what is beside it to take the energy when it is cut.
    pub fn coils(&self) -> Vec<CoilCurrent> {
        let mut coils = Vec::new();
        for (part, device) in self.wired.devices.iter() {
            let (coil, forward) = match device {
                Device::Relay { coil, forward, .. } | Device::Clutch { coil, forward, .. } => {
                    (*coil, *forward)
                }
                _ => continue,
            };
            let amps = self.solution.current(coil).abs();
            let Element::Resistor { ohms } = *self.wired.network.element(coil) else {
                continue;
            };
            let henries = match &self.case.vehicle.parts[part].kind {
                Kind::Relay(_) => relay::COIL_TIME_S * ohms,
                _ => clutch::HENRIES,
            };
            let suppression = match *self.wired.network.element(forward) {
                Element::Diode { .. } => Suppression::Diode,
                Element::Resistor { ohms } => Suppression::Resistor { ohms },
                _ => Suppression::None,
            };
            coils.push(CoilCurrent {
                coil,
                amps,
                henries,
                suppression,
            });
        }
        coils
    }

    /// The largest spark of the coils whose current was cut since `before`.
    pub fn release_spark(&self, before: &[CoilCurrent]) -> SparkSize {
        let supply_v = self
            .solution
            .voltage(self.wired.battery_positive)
            .unwrap_or(0.0);
        before
            .iter()
            // A coil that goes on drawing was not cut.
            .filter(|c| self.solution.current(c.coil).abs() < 0.1 * c.amps)
            .map(|c| spark::release(c.henries, c.amps, supply_v, c.suppression).spark)
            .max()
            .unwrap_or(SparkSize::None)
    }
}
