//! A control unit's output stage: on-resistance, current limit, damage.
//!
//! A driver is made to sink a relay coil, a tenth or two of an ampere. Jumpered
//! to supply, or loaded with a heavy test light, it limits its current and heats;
//! what it cannot shed adds up, and past an energy it is gone for good. Sizes are
//! ordinary for a small output stage (common practice, no source).

use super::TICK_S;
use super::bounds::Bounds;
use super::range::{Accepted, OutOfRange};

/// Accepted on-resistance.
pub const ON_OHMS: Accepted = Accepted::new("driver on-resistance", "Ω", 0.01, 20.0);
/// Accepted current limit.
pub const LIMIT_A: Accepted = Accepted::new("driver current limit", "A", 0.05, 50.0);

/// An output stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DriverSpec {
    /// Resistance when on, Ω.
    pub on_ohms: f64,
    /// Current it limits to, A.
    pub limit_a: f64,
    /// Power it can shed for ever, W.
    pub safe_w: f64,
    /// Energy beyond that which destroys it, J.
    pub damage_j: f64,
}

impl Default for DriverSpec {
    /// A small low-side stage for relay coils: 1.2 Ω, 0.7 A, 1.5 W, 4 J.
    fn default() -> Self {
        Self {
            on_ohms: 1.2,
            limit_a: 0.7,
            safe_w: 1.5,
            damage_j: 4.0,
        }
    }
}

/// Energy a driver has not shed yet, and whether it has gone.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DriverHeat {
    excess_j: f64,
    damaged: bool,
}

impl DriverHeat {
    /// Whether the stage is destroyed; it never comes back.
    pub fn damaged(&self) -> bool {
        self.damaged
    }

    /// Whether nothing is left to be shed.
    pub fn cool(&self) -> bool {
        self.excess_j == 0.0
    }
}

impl DriverSpec {
    /// Checks on-resistance and limit.
    ///
    /// # Errors
    /// A value outside its accepted range.
    pub fn checked(self) -> Result<Self, OutOfRange> {
        ON_OHMS.check(self.on_ohms)?;
        LIMIT_A.check(self.limit_a)?;
        Accepted::new("driver safe power", "W", 0.05, 100.0).check(self.safe_w)?;
        Accepted::new("driver damage energy", "J", 0.01, 1000.0).check(self.damage_j)?;
        Ok(self)
    }

    /// One tick of 0.1 s with `amps` through and `volts` across the stage. True
    /// once it is destroyed.
    pub fn step(&self, heat: &mut DriverHeat, amps: f64, volts: f64) -> bool {
        let watts = (amps * volts).at_least(0.0).at_most(1e6);
        heat.excess_j = (heat.excess_j + (watts - self.safe_w) * TICK_S).at_least(0.0);
        heat.damaged |= heat.excess_j > self.damage_j;
        heat.damaged
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seconds_to_damage(amps: f64, volts: f64) -> Option<f64> {
        let (spec, mut heat) = (DriverSpec::default(), DriverHeat::default());
        (1..=6000)
            .find(|_| spec.step(&mut heat, amps, volts))
            .map(|t| f64::from(t) * TICK_S)
    }

    #[test]
    fn relay_coils_are_safe_and_shorts_are_not() {
        // A relay coil and a 3 W test light can stay on for ever.
        assert_eq!(seconds_to_damage(0.15, 0.15 * 1.2), None);
        assert_eq!(seconds_to_damage(0.25, 0.25 * 1.2), None);
        // A 10 W lamp runs into the limit: about 0.7 A at several volts.
        let heavy = seconds_to_damage(0.7, 6.0).unwrap();
        assert!((0.5..10.0).contains(&heavy), "{heavy}");
        // Straight onto the supply it lasts under a second.
        assert!(seconds_to_damage(0.7, 12.6).unwrap() < 1.0);
    }

    #[test]
    fn two_waits_are_one() {
        let spec = DriverSpec::default();
        let (mut a, mut b) = (DriverHeat::default(), DriverHeat::default());
        for _ in 0..5 {
            spec.step(&mut a, 0.7, 6.0);
        }
        for _ in 0..2 {
            spec.step(&mut b, 0.7, 6.0);
        }
        for _ in 0..3 {
            spec.step(&mut b, 0.7, 6.0);
        }
        assert_eq!(a.excess_j.to_bits(), b.excess_j.to_bits());
    }
}
