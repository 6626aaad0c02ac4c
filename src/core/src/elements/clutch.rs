//! The compressor's magnetic clutch: coil, air gap, heat.
//!
//! The pull of a magnet across an air gap goes with `(N I / g)²`, `g` being the gap
//! plus what the iron and the leakage are worth as a gap (any textbook on
//! magnetic circuits). So the current to pull the plate across grows with the gap,
//! and the current to hold it, gap closed, is far lower; the leaf springs pull
//! back harder the further the plate has travelled, so a worn clutch also lets go
//! sooner. A hot coil has more resistance and needs more volts for the same
//! current: a worn gap engages cold and refuses hot.
//!
//! Sizes are ordinary for a 12 V car clutch (common practice, no source): coil 3
//! to 5 Ω cold, gap 0.3 to 0.6 mm, engages at or below 7.5 V when new and cold.

use super::TICK_S;
use super::bounds::Bounds;
use super::copper;
use super::range::{Accepted, OutOfRange};
use super::spark::{Release, Suppression, release};

/// Accepted coil resistance at 20 °C.
pub const COIL_OHMS: Accepted = Accepted::new("clutch coil resistance", "Ω", 2.0, 10.0);
/// Accepted air gap.
pub const GAP_MM: Accepted = Accepted::new("clutch air gap", "mm", 0.1, 2.0);

/// Gap a new clutch is set to, mm.
pub const NEW_GAP_MM: f64 = 0.45;
/// What iron and leakage are worth as a gap, mm.
const IRON_GAP_MM: f64 = 0.25;
/// Voltage that pulls a new clutch in with a 20 °C coil, V.
const NEW_PULL_IN_V: f64 = 7.0;
/// Spring pull gained over a millimetre of travel, as a share of the preload.
const SPRING_PER_MM: f64 = 0.9;
/// Heat resistance from coil to housing, K/W.
const COIL_K_PER_W: f64 = 2.0;
/// Time constant of the coil's heating, s.
const COIL_TIME_S: f64 = 300.0;
/// Inductance with the plate pulled in, H.
pub(crate) const HENRIES: f64 = 0.040;

/// A clutch: coil by its resistance at 20 °C and the air gap as found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClutchSpec {
    coil_ohms_20c: f64,
    gap_mm: f64,
}

/// Temperature of the coil, °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilHeat {
    /// The winding's temperature.
    pub coil_c: f64,
}

impl ClutchSpec {
    /// A clutch with its gap as found.
    ///
    /// # Errors
    /// A value outside its accepted range.
    pub fn new(coil_ohms_20c: f64, gap_mm: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            coil_ohms_20c: COIL_OHMS.check(coil_ohms_20c)?,
            gap_mm: GAP_MM.check(gap_mm)?,
        })
    }

    /// Coil resistance at `coil_c`, Ω.
    pub fn coil_ohms(&self, coil_c: f64) -> f64 {
        self.coil_ohms_20c * copper::factor(coil_c)
    }

    /// Current that pulls the plate across the gap, A.
    pub fn pull_in_a(&self) -> f64 {
        NEW_PULL_IN_V / self.coil_ohms_20c * (self.gap_mm + IRON_GAP_MM)
            / (NEW_GAP_MM + IRON_GAP_MM)
    }

    /// Current below which the springs pull the plate off again, A.
    pub fn hold_a(&self) -> f64 {
        let spring = (1.0 + SPRING_PER_MM * self.gap_mm).sqrt();
        NEW_PULL_IN_V / self.coil_ohms_20c * IRON_GAP_MM / (NEW_GAP_MM + IRON_GAP_MM) * spring
    }

    /// Least voltage at the coil that engages, V.
    pub fn pull_in_v(&self, coil_c: f64) -> f64 {
        self.pull_in_a() * self.coil_ohms(coil_c)
    }

    /// Least voltage at the coil that holds, V.
    pub fn hold_v(&self, coil_c: f64) -> f64 {
        self.hold_a() * self.coil_ohms(coil_c)
    }

    /// What comes of cutting the coil's current.
    pub fn release(&self, amps: f64, supply_v: f64, suppression: Suppression) -> Release {
        release(HENRIES, amps, supply_v, suppression)
    }

    /// One tick of 0.1 s: the coil warms with `amps` in it, towards the housing
    /// at `housing_c`. First order.
    pub fn heat_step(&self, heat: &mut CoilHeat, amps: f64, housing_c: f64) {
        let watts = amps * amps * self.coil_ohms(heat.coil_c);
        let end_c = (housing_c + COIL_K_PER_W * watts).at_most(400.0);
        heat.coil_c += TICK_S / COIL_TIME_S * (end_c - heat.coil_c);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sound_clutch() {
        let clutch = ClutchSpec::new(3.6, 0.45).unwrap();
        // Common practice, no source: 3 to 5 Ω, 3 to 4.5 A, 7.5 V or less cold.
        assert!((3.0..=5.0).contains(&clutch.coil_ohms(20.0)));
        assert!((3.0..=4.5).contains(&(12.6 / clutch.coil_ohms(20.0))));
        assert!(clutch.pull_in_v(20.0) <= 7.5);
        assert!(clutch.hold_v(20.0) < 0.6 * clutch.pull_in_v(20.0));
        // Engages at any temperature on a running engine.
        assert!(clutch.pull_in_v(150.0) < 12.5);
    }

    #[test]
    fn a_worn_gap_engages_cold_and_refuses_hot() {
        let worn = ClutchSpec::new(3.6, 0.95).unwrap();
        let supply_v = 13.6;
        assert!(worn.pull_in_v(20.0) < supply_v);
        let mut heat = CoilHeat { coil_c: 60.0 };
        for _ in 0..9000 {
            let amps = supply_v / worn.coil_ohms(heat.coil_c);
            worn.heat_step(&mut heat, amps, 60.0);
        }
        assert!((100.0..150.0).contains(&heat.coil_c), "{}", heat.coil_c);
        assert!(worn.pull_in_v(heat.coil_c) > supply_v);
        // Pulled in before it got hot, it holds until the supply sags.
        assert!(worn.hold_v(heat.coil_c) < supply_v);
        // A new gap is untroubled at that heat.
        assert!(ClutchSpec::new(3.6, 0.45).unwrap().pull_in_v(heat.coil_c) < supply_v);
    }

    #[test]
    fn force_law() {
        // Magnetic circuit: current in proportion to the total gap.
        let amps = |gap| ClutchSpec::new(3.6, gap).unwrap().pull_in_a();
        let step = amps(0.6) - amps(0.5);
        assert!(((amps(1.1) - amps(1.0)) - step).abs() < 1e-12);
    }
}
