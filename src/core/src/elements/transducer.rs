//! Sensors of the climate control: pressure transducer and thermistors.
//!
//! A ratiometric transducer gives a tenth of its reference at the low end of its
//! range and nine tenths at the high end, so that a broken wire is told from a
//! pressure (common practice; the 0.5 to 4.5 V of a 5 V reference). Thermistors
//! follow the beta equation `R = R25 exp(B (1/T - 1/298.15 K))` of their datasheets.

use super::bounds::Bounds;
use super::range::{Accepted, OutOfRange};

/// Share of the reference at the low end of the range.
pub const LOW_SHARE: f64 = 0.1;
/// Share of the reference at the high end of the range.
pub const HIGH_SHARE: f64 = 0.9;
/// A signal under this share of the reference is no pressure: open or grounded.
pub const PLAUSIBLE_FROM: f64 = 0.05;
/// A signal over this share of the reference is no pressure: short to supply.
pub const PLAUSIBLE_TO: f64 = 0.95;

/// Accepted top of a transducer's range.
pub const HIGH_KPA_GAUGE: Accepted =
    Accepted::new("transducer range", "kPa gauge", 500.0, 10_000.0);

/// A three-wire ratiometric pressure transducer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Transducer {
    high_kpa_gauge: f64,
}

/// What a control unit makes of a transducer's signal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Signal {
    /// A pressure, kPa gauge.
    Pressure(f64),
    /// Under the plausible window.
    TooLow,
    /// Over the plausible window.
    TooHigh,
}

impl Transducer {
    /// A transducer from 0 to `high_kpa_gauge`.
    ///
    /// # Errors
    /// A range no transducer has.
    pub fn new(high_kpa_gauge: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            high_kpa_gauge: HIGH_KPA_GAUGE.check(high_kpa_gauge)?,
        })
    }

    /// Output against the reference it is fed with. Beyond its range it stops
    /// short of the rails.
    pub fn share(&self, kpa_gauge: f64) -> f64 {
        let share = LOW_SHARE + (HIGH_SHARE - LOW_SHARE) * kpa_gauge / self.high_kpa_gauge;
        share.at_least(0.06).at_most(0.94)
    }

    /// Output voltage with `reference_v` between its supply and ground pins.
    pub fn volts(&self, kpa_gauge: f64, reference_v: f64) -> f64 {
        self.share(kpa_gauge) * reference_v
    }

    /// What a control unit makes of `signal_v`, taking its own `reference_v`.
    pub fn read(&self, signal_v: f64, reference_v: f64) -> Signal {
        let share = signal_v / reference_v;
        if share > PLAUSIBLE_TO {
            Signal::TooHigh
        } else if share >= PLAUSIBLE_FROM {
            Signal::Pressure((share - LOW_SHARE) / (HIGH_SHARE - LOW_SHARE) * self.high_kpa_gauge)
        } else {
            // Also where the share is not a number: no reference, no signal.
            Signal::TooLow
        }
    }
}

/// An NTC thermistor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thermistor {
    /// Resistance at 25 °C, Ω.
    pub ohms_25c: f64,
    /// Beta, K.
    pub beta_k: f64,
}

impl Thermistor {
    /// Resistance at `t_c`, Ω.
    pub fn ohms(&self, t_c: f64) -> f64 {
        let kelvin = t_c.at_least(-60.0).at_most(300.0) + 273.15;
        self.ohms_25c * libm::exp(self.beta_k * (1.0 / kelvin - 1.0 / 298.15))
    }

    /// Temperature at which it has `ohms`, °C.
    pub fn celsius(&self, ohms: f64) -> f64 {
        let ratio = ohms.at_least(1e-3).at_most(1e9) / self.ohms_25c;
        1.0 / (1.0 / 298.15 + libm::log(ratio) / self.beta_k) - 273.15
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_to_four_and_a_half_volts() {
        // Common practice, no source: 0.5 V empty, 4.5 V at full scale.
        let t = Transducer::new(3100.0).unwrap();
        assert!((t.volts(0.0, 5.0) - 0.5).abs() < 1e-12);
        assert!((t.volts(3100.0, 5.0) - 4.5).abs() < 1e-12);
        let Signal::Pressure(kpa) = t.read(t.volts(700.0, 5.0), 5.0) else {
            panic!()
        };
        assert!((kpa - 700.0).abs() < 1e-9);
        // A sagging reference takes the signal with it, but not the share.
        let Signal::Pressure(kpa) = t.read(t.volts(700.0, 4.2), 4.2) else {
            panic!()
        };
        assert!((kpa - 700.0).abs() < 1e-9);
        assert_eq!(t.read(0.0, 5.0), Signal::TooLow);
        assert_eq!(t.read(5.0, 5.0), Signal::TooHigh);
        assert_eq!(t.read(0.0, 0.0), Signal::TooLow);
    }

    #[test]
    fn beta_equation() {
        // A usual datasheet pair: 10 kΩ at 25 °C, B(25/85) = 3977 K, about 32.5 kΩ at
        // 0 °C (from memory). One beta for the whole curve is off by some per cent
        // away from the pair it was taken at.
        let ntc = Thermistor {
            ohms_25c: 10_000.0,
            beta_k: 3977.0,
        };
        assert!((ntc.ohms(25.0) - 10_000.0).abs() < 1e-9);
        assert!((ntc.ohms(0.0) / 32_500.0 - 1.0).abs() < 0.05);
        for t in [-30.0, 0.0, 4.0, 60.0] {
            assert!((ntc.celsius(ntc.ohms(t)) - t).abs() < 1e-9);
        }
    }
}
