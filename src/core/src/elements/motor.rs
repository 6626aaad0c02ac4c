//! Fan and blower motors from what a label and a clamp meter give.
//!
//! Permanent-magnet motor: `V = I R + k ω`, torque `k I`; a fan's torque is `c ω²`, and brushes and
//! bearings ask for a torque of their own before the shaft turns. Standing, only `R` is left, which
//! is what a meter on ohms shows. Any textbook on electrical machines.

use super::bounds::Bounds;
use super::range::{Accepted, OutOfRange};
use crate::circuit::MOTOR_STANDS_V;

/// Accepted rated voltage.
pub const RATED_V: Accepted = Accepted::new("motor voltage", "V", 6.0, 48.0);
/// Accepted rated current.
pub const RATED_A: Accepted = Accepted::new("motor current", "A", 0.1, 80.0);
/// Accepted stall current; it must also be twice the rated one or more.
pub const STALL_A: Accepted = Accepted::new("motor stall current", "A", 0.2, 500.0);
/// Accepted rated speed.
pub const RATED_RPM: Accepted = Accepted::new("motor speed", "rpm", 100.0, 20_000.0);

/// A fan on a permanent-magnet motor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FanMotor {
    /// Winding and brushes, Ω.
    pub ohms: f64,
    /// Back-EMF (and torque) constant, V·s/rad.
    pub volts_per_rad_s: f64,
    /// Load torque over speed squared, N·m·s², friction not counted.
    pub load_nms2: f64,
}

impl FanMotor {
    /// From rated voltage, current and speed, and the current when stalled.
    ///
    /// # Errors
    /// A value outside its accepted range.
    pub fn from_label(
        rated_v: f64,
        rated_a: f64,
        stall_a: f64,
        rated_rpm: f64,
    ) -> Result<Self, OutOfRange> {
        RATED_V.check(rated_v)?;
        RATED_A.check(rated_a)?;
        Accepted {
            least: 2.0 * rated_a,
            ..STALL_A
        }
        .check(stall_a)?;
        RATED_RPM.check(rated_rpm)?;
        Ok(Self::of(rated_v, rated_a, stall_a, rated_rpm))
    }

    /// The same from values that were accepted before.
    pub(crate) fn of(rated_v: f64, rated_a: f64, stall_a: f64, rated_rpm: f64) -> Self {
        let ohms = rated_v / stall_a;
        let rad_s = rated_rpm * core::f64::consts::TAU / 60.0;
        let volts_per_rad_s = (rated_v - rated_a * ohms) / rad_s;
        let moving_a = rated_a - MOTOR_STANDS_V / ohms;
        Self {
            ohms,
            volts_per_rad_s,
            load_nms2: volts_per_rad_s * moving_a / (rad_s * rad_s),
        }
    }

    /// Current that friction alone takes, A.
    pub fn friction_a(&self) -> f64 {
        MOTOR_STANDS_V / self.ohms
    }

    /// Steady speed at `volts`, rad/s: the positive root of
    /// `(c R / k) ω² + k ω = V` less what friction takes.
    pub fn rad_s(&self, volts: f64) -> f64 {
        let volts = (volts - MOTOR_STANDS_V).at_least(0.0);
        let a = self.load_nms2 * self.ohms / self.volts_per_rad_s;
        let k = self.volts_per_rad_s;
        2.0 * volts / (k + (k * k + 4.0 * a * volts).sqrt())
    }

    /// Steady current at `volts`, A.
    pub fn amps(&self, volts: f64) -> f64 {
        if volts <= MOTOR_STANDS_V {
            return self.stalled_amps(volts);
        }
        let rad_s = self.rad_s(volts);
        self.friction_a() + self.load_nms2 * rad_s * rad_s / self.volts_per_rad_s
    }

    /// Current with the shaft held, A.
    pub fn stalled_amps(&self, volts: f64) -> f64 {
        volts / self.ohms
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn label_comes_back() {
        let fan = FanMotor::from_label(13.0, 15.0, 90.0, 2600.0).unwrap();
        assert!((fan.amps(13.0) - 15.0).abs() < 1e-9);
        assert!((fan.rad_s(13.0) * 60.0 / core::f64::consts::TAU - 2600.0).abs() < 1e-9);
        assert!((fan.stalled_amps(13.0) - 90.0).abs() < 1e-12);
        // Kirchhoff and power: electrical input = winding heat + shaft power.
        let (v, i, w) = (9.0, fan.amps(9.0), fan.rad_s(9.0));
        assert!((v - i * fan.ohms - fan.volts_per_rad_s * w).abs() < 1e-9);
        let shaft = fan.load_nms2 * w * w * w + fan.volts_per_rad_s * fan.friction_a() * w;
        assert!((v * i - i * i * fan.ohms - shaft).abs() < 1e-9);
        assert!(FanMotor::from_label(13.0, 15.0, 20.0, 2600.0).is_err());
        // Standing it is its winding: what a meter on ohms shows.
        assert_eq!(
            (fan.rad_s(0.15), fan.amps(0.15)),
            (0.0, fan.stalled_amps(0.15))
        );
    }
}
