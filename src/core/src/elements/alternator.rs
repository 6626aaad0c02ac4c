//! The regulated alternator as a source with a current limit.
//!
//! Set point 14.4 V at 25 °C, falling about 7 mV for each kelvin, held to 13.4 to
//! 15.0 V (common practice, no source: 12 V regulators are set to 14.2 to 14.6 V
//! and -3 to -10 mV/K). Output rises from a cut-in speed and levels off; ratings
//! follow ISO 8854, which states the current at 6000 rotor turns a minute (from
//! memory).

use super::bounds::Bounds;
use super::range::{Accepted, OutOfRange};

/// Accepted rated current at 6000 rotor turns a minute.
pub const RATED_A: Accepted = Accepted::new("alternator current", "A", 30.0, 300.0);
/// Accepted pulley ratio.
pub const PULLEY_RATIO: Accepted = Accepted::new("alternator pulley ratio", "", 1.5, 4.0);

const SET_POINT_25C_V: f64 = 14.4;
/// Change of the set point with the regulator's temperature, V/K.
pub(crate) const SET_POINT_V_PER_K: f64 = -0.007;
const CUT_IN_RPM: f64 = 1100.0;
const RISE_RPM: f64 = 1500.0;
const RATED_RPM: f64 = 6000.0;
/// Source resistance of regulator, posts and lead, Ω.
const OHMS: f64 = 0.010;

/// Values for a limited source in the circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AlternatorSource {
    /// Regulated voltage, V.
    pub emf_v: f64,
    /// Source resistance, Ω.
    pub ohms: f64,
    /// Most current it gives at this speed, A; nothing below cut-in.
    pub limit_a: f64,
}

/// An alternator's label.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AlternatorSpec {
    rated_a: f64,
    pulley_ratio: f64,
}

impl AlternatorSpec {
    /// An alternator by its rated current and pulley ratio.
    ///
    /// # Errors
    /// A value outside its accepted range.
    pub fn new(rated_a: f64, pulley_ratio: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            rated_a: RATED_A.check(rated_a)?,
            pulley_ratio: PULLEY_RATIO.check(pulley_ratio)?,
        })
    }

    /// The source at an engine speed and regulator temperature.
    pub fn source(&self, engine_rpm: f64, regulator_c: f64) -> AlternatorSource {
        let emf_v = SET_POINT_25C_V + SET_POINT_V_PER_K * (regulator_c - 25.0);
        AlternatorSource {
            emf_v: emf_v.at_least(13.4).at_most(15.0),
            ohms: OHMS,
            limit_a: self.rated_a * output_share(engine_rpm * self.pulley_ratio),
        }
    }
}

/// Output against that at 6000 rotor turns a minute.
fn output_share(rotor_rpm: f64) -> f64 {
    let curve = |rpm: f64| 1.0 - libm::exp(-(rpm - CUT_IN_RPM).at_least(0.0) / RISE_RPM);
    curve(rotor_rpm) / curve(RATED_RPM)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn charging_voltage_and_output() {
        let alternator = AlternatorSpec::new(90.0, 2.7).unwrap();
        // Common practice, no source: 13.8 to 14.7 V charging; about half the
        // rated current at idle; nothing with the engine stopped.
        let idle = alternator.source(800.0, 40.0);
        assert!((13.8..=14.7).contains(&idle.emf_v));
        assert!(
            (0.35..=0.65).contains(&(idle.limit_a / 90.0)),
            "{}",
            idle.limit_a
        );
        assert_eq!(alternator.source(0.0, 20.0).limit_a, 0.0);
        // ISO 8854: the label's current at 6000 rotor turns a minute.
        let rated = alternator.source(6000.0 / 2.7, 25.0);
        assert!((rated.limit_a - 90.0).abs() < 1e-9);
        assert!(alternator.source(800.0, -20.0).emf_v > alternator.source(800.0, 90.0).emf_v);
    }
}
