//! Filament lamps and test lights: current, light, and what an eye makes of it.
//!
//! Source: the rerating exponents of tungsten filament lamps published in lamp
//! handbooks (IES Lighting Handbook): light ∝ V^3.4, current ∝ V^0.55. They are
//! given for voltages near the rated one; towards nothing the filament falls to
//! its cold resistance, about a tenth of the hot one.

use super::bounds::Bounds;

/// Exponent of light output against voltage.
pub const LIGHT_EXPONENT: f64 = 3.4;
/// Exponent of current against voltage.
pub const CURRENT_EXPONENT: f64 = 0.55;
/// Cold resistance against hot, from tungsten's resistivity at 20 °C and at about
/// 2500 K (CRC Handbook: 5.3 against 73 µΩ·cm at 2500 K; gas-filled car lamps run
/// a little cooler).
pub const COLD_FRACTION: f64 = 0.09;

/// A filament by its rating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilamentSpec {
    /// Voltage it is rated at.
    pub rated_v: f64,
    /// Current at that voltage.
    pub rated_a: f64,
}

impl FilamentSpec {
    /// A lamp of `watts` at `rated_v`.
    pub const fn of_watts(rated_v: f64, watts: f64) -> Self {
        Self {
            rated_v,
            rated_a: watts / rated_v,
        }
    }

    /// Resistance at the rated voltage, Ω.
    pub fn hot_ohms(&self) -> f64 {
        self.rated_v / self.rated_a
    }

    /// Resistance when cold, Ω: what an ohmmeter sees.
    pub fn cold_ohms(&self) -> f64 {
        COLD_FRACTION * self.hot_ohms()
    }

    /// Steady current at `volts`, A.
    pub fn steady_a(&self, volts: f64) -> f64 {
        let share = volts.abs() / self.rated_v;
        let law = self.rated_a * libm::pow(share, CURRENT_EXPONENT);
        law.at_most(volts.abs() / self.cold_ohms())
    }

    /// Current in the first moment at `volts`, A.
    pub fn inrush_a(&self, volts: f64) -> f64 {
        volts.abs() / self.cold_ohms()
    }

    /// Light output at `volts` against the rated output.
    pub fn relative_light(&self, volts: f64) -> f64 {
        light_at(volts, self.rated_v)
    }
}

/// Share of the light of a filament at one voltage in that at another.
pub fn light_at(volts: f64, against_volts: f64) -> f64 {
    libm::pow(volts.abs() / against_volts, LIGHT_EXPONENT)
}

/// Share of the light it should give below which a lamp of a car is plainly dull: a drop of a tenth of
/// its volts. Common practice, no source: less is not seen without its twin beside it.
pub const DULL_BELOW: f64 = 0.70;

/// What an eye makes of a lamp.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Glow {
    /// Nothing to see in a shaded engine bay.
    Dark,
    /// A red thread, seen when looking for it.
    Faint,
    /// Plainly lit, plainly weaker than on the battery.
    Dim,
    /// As on the battery.
    Bright,
}

/// Relative light from which a filament is seen at all: about 1.6 V on 12 V.
pub const FAINT_FROM: f64 = 0.001;
/// Relative light from which a filament is plainly lit: about 5.0 V on 12 V.
pub const DIM_FROM: f64 = 0.05;
/// Relative light from which an eye takes a filament for fully lit: about 9.8 V
/// on 12 V. Common practice, no source: nobody sees a drop of a volt or two.
pub const BRIGHT_FROM: f64 = 0.5;

impl Glow {
    /// Sorts a relative light output.
    pub fn of(relative_light: f64) -> Self {
        if relative_light >= BRIGHT_FROM {
            Self::Bright
        } else if relative_light >= DIM_FROM {
            Self::Dim
        } else if relative_light >= FAINT_FROM {
            Self::Faint
        } else {
            Self::Dark
        }
    }
}

/// The usual filament test light: 12 V, 3 W, a quarter of an ampere.
pub const TEST_LIGHT: FilamentSpec = FilamentSpec::of_watts(12.0, 3.0);

/// A heavy test light: 12 V, 10 W. Loads a circuit well and can harm a driver.
pub const HEAVY_TEST_LIGHT: FilamentSpec = FilamentSpec::of_watts(12.0, 10.0);

/// An LED test light: lit by a few milliamperes, so that leakage, or a joint that
/// would not carry a load, lights it all the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LedTestLight {
    /// Saturation current of the diode's exponential, A.
    pub saturation_a: f64,
    /// Slope voltage `n V_T`, V.
    pub slope_v: f64,
    /// Series resistor, Ω.
    pub ohms: f64,
}

/// An ordinary red LED (about 1.9 V at 5 mA) with 1.8 kΩ: 5.6 mA at 12 V.
pub const LED_TEST_LIGHT: LedTestLight = LedTestLight {
    saturation_a: 5e-19,
    slope_v: 0.0516,
    ohms: 1800.0,
};

/// Current at which an LED test light is as bright as on the battery, A.
const LED_FULL_A: f64 = 0.0056;

impl LedTestLight {
    /// Light of the LED against that on a 12 V battery: in proportion to current.
    pub fn relative_light(&self, amps: f64) -> f64 {
        (amps / LED_FULL_A).at_least(0.0)
    }

    /// What an eye makes of it: an LED in a handle is seen at a hundredth of its
    /// current and looks full at a quarter of it (common practice, no source).
    pub fn glow(&self, amps: f64) -> Glow {
        let light = self.relative_light(amps);
        if light >= 0.25 {
            Glow::Bright
        } else if light >= 0.05 {
            Glow::Dim
        } else if light >= 0.01 {
            Glow::Faint
        } else {
            Glow::Dark
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rerating_exponents() {
        // IES Lighting Handbook's rule of thumb, from memory: at 90 % of the
        // voltage a lamp gives about 70 % of its light and 94 % of its current.
        let lamp = FilamentSpec::of_watts(12.0, 21.0);
        assert!((lamp.relative_light(10.8) - 0.70).abs() < 0.01);
        assert!((lamp.steady_a(10.8) / lamp.rated_a - 0.944).abs() < 0.005);
    }

    #[test]
    fn cold_filament_is_a_tenth_and_rushes_in() {
        // Common practice: an ohmmeter reads about a tenth of V/I, and the inrush
        // is about ten times the running current.
        assert!((0.06..=0.12).contains(&(TEST_LIGHT.cold_ohms() / TEST_LIGHT.hot_ohms())));
        let rush = TEST_LIGHT.inrush_a(12.0) / TEST_LIGHT.rated_a;
        assert!((8.0..=16.0).contains(&rush), "{rush}");
        assert_eq!(TEST_LIGHT.steady_a(0.0), 0.0);
    }

    #[test]
    fn an_eye_sorts_a_test_light() {
        let at = |v| Glow::of(TEST_LIGHT.relative_light(v));
        assert_eq!(at(0.0), Glow::Dark);
        assert_eq!(at(1.0), Glow::Dark);
        assert_eq!(at(3.0), Glow::Faint);
        assert_eq!(at(7.0), Glow::Dim);
        assert_eq!(at(12.6), Glow::Bright);
        assert_eq!(at(10.5), Glow::Bright);
    }

    #[test]
    fn led_draws_milliamperes() {
        // Solve the series circuit by halving, apart from the solver.
        let led = LED_TEST_LIGHT;
        let current = |supply: f64| {
            let (mut low, mut high) = (0.0, supply / led.ohms);
            for _ in 0..80 {
                let i = 0.5 * (low + high);
                let v = led.slope_v * libm::log1p(i / led.saturation_a) + i * led.ohms;
                if v < supply { low = i } else { high = i }
            }
            low
        };
        let full = current(12.0);
        assert!((0.005..0.006).contains(&full), "{full}");
        let forward = 12.0 - full * led.ohms;
        assert!((1.7..2.1).contains(&forward), "{forward}");
        // Through a joint of 5 kΩ that could carry no load it is still lit.
        let leak = LedTestLight {
            ohms: led.ohms + 5000.0,
            ..led
        };
        assert_eq!(led.glow((12.0 - 1.9) / leak.ohms), Glow::Bright);
    }
}
