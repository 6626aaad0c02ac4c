//! What a gauge at rest shows: a mass of refrigerant in a closed volume.
//!
//! While any liquid is left, the pressure is the saturation pressure of the
//! coldest part that liquid can lie in, whatever the charge: a gauge at rest
//! never proves the charge. Once the liquid is gone the vapour follows its own
//! equation and the pressure falls with the mass. Knows nothing of the running
//! compressor.

use super::pressure::AbsoluteKpa;
use super::saturation::Refrigerant;
use crate::elements::Bounds;

/// What the refrigerant in a closed volume is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FluidState {
    /// No liquid anywhere.
    VapourOnly,
    /// Liquid and vapour together.
    TwoPhase,
    /// More liquid than the volume holds: a dangerous overfill. The pressure
    /// given is the saturation pressure, and the true one is far above it.
    LiquidFull,
}

/// Pressure and state of a system at rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StaticState {
    /// The same everywhere in a system at rest.
    pub pressure: AbsoluteKpa,
    /// What is left inside.
    pub fluid: FluidState,
    /// Mass of liquid, kg.
    pub liquid_kg: f64,
}

/// A part of the system with its own temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// Inner volume, m³.
    pub volume_m3: f64,
    /// Temperature, °C.
    pub temperature_c: f64,
}

/// A charge in a volume that is at one temperature throughout.
pub fn static_pressure(
    fluid: Refrigerant,
    charge_kg: f64,
    volume_m3: f64,
    temperature_c: f64,
) -> StaticState {
    let part = Part {
        volume_m3,
        temperature_c,
    };
    static_pressure_in_parts(fluid, charge_kg, &[part])
}

/// A charge spread over parts at different temperatures.
///
/// Liquid gathers in the coldest part; when that is full it backs up into the
/// next coldest, which then sets the pressure. An empty list, or no charge,
/// gives vacuum.
pub fn static_pressure_in_parts(fluid: Refrigerant, charge_kg: f64, parts: &[Part]) -> StaticState {
    let charge = charge_kg.at_least(0.0);
    let mut sorted: Vec<Part> = parts
        .iter()
        .copied()
        .filter(|p| p.volume_m3 > 0.0)
        .collect();
    sorted.sort_by(|a, b| a.temperature_c.total_cmp(&b.temperature_c));
    if sorted.is_empty() || charge == 0.0 {
        return StaticState {
            pressure: AbsoluteKpa(0.0),
            fluid: FluidState::VapourOnly,
            liquid_kg: 0.0,
        };
    }
    let first = fluid.saturation_pressure(sorted[0].temperature_c);
    if charge <= mass_at(fluid, &sorted, first, 0).0 {
        return vapour_only(fluid, charge, &sorted, first);
    }
    let mut last_pressure = first;
    for wet in 0..sorted.len() {
        let pressure = fluid.saturation_pressure(sorted[wet].temperature_c);
        let (vapour, liquid_below) = mass_at(fluid, &sorted, pressure, wet);
        let part = sorted[wet];
        let dew = fluid.vapour_density(part.temperature_c) * part.volume_m3;
        let full = fluid.liquid_density(part.temperature_c) * part.volume_m3;
        let least = vapour + liquid_below;
        if charge < least {
            // The colder part has just filled and this one has not begun to:
            // the pressure climbs between the two as vapour is squeezed.
            return StaticState {
                pressure: squeezed(fluid, charge, &sorted, wet, (last_pressure, pressure)),
                fluid: FluidState::TwoPhase,
                liquid_kg: liquid_below,
            };
        }
        if charge <= least - dew + full {
            let spread = full - dew;
            let share = if spread > 0.0 {
                (charge - least) / spread
            } else {
                0.0
            };
            return StaticState {
                pressure,
                fluid: FluidState::TwoPhase,
                liquid_kg: liquid_below + share * full,
            };
        }
        last_pressure = pressure;
    }
    StaticState {
        pressure: last_pressure,
        fluid: FluidState::LiquidFull,
        liquid_kg: charge,
    }
}

/// Vapour mass in the parts from `wet` on at `pressure`, and the liquid mass of
/// the colder parts, which are full.
fn mass_at(fluid: Refrigerant, sorted: &[Part], pressure: AbsoluteKpa, wet: usize) -> (f64, f64) {
    let mut vapour = 0.0;
    let mut liquid = 0.0;
    for (index, part) in sorted.iter().enumerate() {
        if index < wet {
            liquid += part.volume_m3 * fluid.liquid_density(part.temperature_c);
        } else {
            vapour += part.volume_m3 * fluid.vapour_density_at(part.temperature_c, pressure);
        }
    }
    (vapour, liquid)
}

fn vapour_only(
    fluid: Refrigerant,
    charge: f64,
    sorted: &[Part],
    ceiling: AbsoluteKpa,
) -> StaticState {
    let pressure = if let [only] = sorted {
        fluid.vapour_pressure(only.temperature_c, charge / only.volume_m3)
    } else {
        squeezed(fluid, charge, sorted, 0, (AbsoluteKpa(0.0), ceiling))
    };
    StaticState {
        pressure,
        fluid: FluidState::VapourOnly,
        liquid_kg: 0.0,
    }
}

/// The pressure between two bounds at which the masses add up to the charge.
fn squeezed(
    fluid: Refrigerant,
    charge: f64,
    sorted: &[Part],
    wet: usize,
    bounds: (AbsoluteKpa, AbsoluteKpa),
) -> AbsoluteKpa {
    let (mut low, mut high) = (bounds.0.0, bounds.1.0);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        let (vapour, liquid) = mass_at(fluid, sorted, AbsoluteKpa(middle), wet);
        if vapour + liquid < charge {
            low = middle;
        } else {
            high = middle;
        }
    }
    AbsoluteKpa(0.5 * (low + high))
}
