//! Wire: resistance from cross-section, length and temperature.
//!
//! Sources: IEC 60028 for copper (see [`super::copper`]); AWG diameters from the
//! formula of ASTM B258, `d = 0.005 in · 92^((36 - n)/39)`. A stranded conductor
//! is a little longer than its cable: [`STRANDING`] allows 3 % for the lay of the
//! strands (common practice: 2 to 5 %), which keeps every size below the maxima
//! of IEC 60228 class 5 and ISO 6722-1.

use super::copper;
use super::range::{Accepted, OutOfRange};

/// Resistance of stranded wire against solid copper of the same section.
pub const STRANDING: f64 = 1.03;

/// Cross-sections accepted.
pub const AREA_MM2: Accepted = Accepted::new("wire cross-section", "mm²", 0.05, 150.0);
/// Lengths accepted.
pub const LENGTH_M: Accepted = Accepted::new("wire length", "m", 0.005, 100.0);
/// Gauge numbers accepted; -3 is 4/0.
pub const AWG: Accepted = Accepted::new("wire gauge", "AWG", -3.0, 30.0);

/// Nominal sections of car cable in ISO 6722-1, mm² (from memory).
pub const STANDARD_MM2: [f64; 18] = [
    0.13, 0.22, 0.35, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 10.0, 16.0, 25.0,
    35.0,
];

/// A wire of known section and length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wire {
    area_mm2: f64,
    length_m: f64,
}

impl Wire {
    /// A wire of stranded copper.
    ///
    /// # Errors
    /// A section or length outside the accepted range.
    pub fn new(area_mm2: f64, length_m: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            area_mm2: AREA_MM2.check(area_mm2)?,
            length_m: LENGTH_M.check(length_m)?,
        })
    }

    /// Resistance with the conductor at `t_c`.
    pub fn ohms(&self, t_c: f64) -> f64 {
        ohms_per_km(self.area_mm2, t_c) * self.length_m / 1000.0
    }
}

/// Resistance per kilometre of stranded copper of `area_mm2` at `t_c`.
pub fn ohms_per_km(area_mm2: f64, t_c: f64) -> f64 {
    1000.0 * copper::RESISTIVITY_OHM_MM2_PER_M * STRANDING * copper::factor(t_c) / area_mm2
}

/// Cross-section of an American wire gauge, mm² (0 is 1/0, -1 is 2/0 and so on).
///
/// # Errors
/// A gauge outside the accepted range.
pub fn awg_to_mm2(gauge: i32) -> Result<f64, OutOfRange> {
    let gauge = AWG.check(f64::from(gauge))?;
    let diameter_mm = 0.127 * libm::pow(92.0, (36.0 - gauge) / 39.0);
    Ok(core::f64::consts::FRAC_PI_4 * diameter_mm * diameter_mm)
}
