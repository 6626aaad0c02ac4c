//! Joints: contact resistance of terminals, good, corroded, spread or loose.
//!
//! Formula: Holm's constriction resistance of one round spot,
//! `R = (ρ/2) √(π H / F)` (R. Holm, Electric Contacts), so that a spread terminal,
//! which has lost its spring force `F`, rises with `1/√F`. Film resistance of
//! corrosion has no such law; it is interpolated on a logarithmic scale between a
//! tarnished and a green joint (common practice, no source).

use super::bounds::Bounds;
use super::range::Accepted;

/// Resistance of a clean, seated terminal pair, Ω. Crimp included. Connector
/// test standards allow a few milliohms to a few tens by size (from memory).
pub const GOOD_OHMS: f64 = 0.003;

/// Resistance of a tarnished joint, where corrosion begins to matter, Ω.
pub const TARNISHED_OHMS: f64 = 0.02;
/// Resistance of a joint eaten green, Ω: carries a meter, hardly a lamp.
pub const GREEN_OHMS: f64 = 200.0;

/// Accepted severity of corrosion.
pub const SEVERITY: Accepted = Accepted::new("corrosion severity", "", 0.0, 1.0);
/// Accepted contact force.
pub const FORCE_N: Accepted = Accepted::new("contact force", "N", 0.01, 50.0);

/// Resistivity of brass terminals, Ω·m (about a quarter of copper's conductivity).
const BRASS_OHM_M: f64 = 6.4e-8;
/// Hardness of brass, Pa.
const BRASS_HARDNESS_PA: f64 = 1.2e9;

/// Resistance of a corroded joint; `severity` 0 is tarnished, 1 is green.
pub fn corroded_ohms(severity: f64) -> f64 {
    let severity = severity.at_least(0.0).at_most(1.0);
    TARNISHED_OHMS * libm::pow(GREEN_OHMS / TARNISHED_OHMS, severity)
}

/// Constriction resistance of a clean contact pressed together with `force_n`.
pub fn constriction_ohms(force_n: f64) -> f64 {
    let force = force_n.at_least(FORCE_N.least);
    0.5 * BRASS_OHM_M * (core::f64::consts::PI * BRASS_HARDNESS_PA / force).sqrt()
}

/// Resistance of a spread terminal that presses with `force_n` only. Beside the
/// constriction, a terminal that moves frets, and fretting debris grows as the
/// force goes: scaled so that a tenth of a newton is a few tenths of an ohm.
pub fn spread_ohms(force_n: f64) -> f64 {
    let force = force_n.at_least(FORCE_N.least).at_most(FORCE_N.most);
    let fretting = 0.002 / (force * force);
    GOOD_OHMS + constriction_ohms(force) + fretting
}

/// What makes an intermittent contact let go.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
pub enum Trigger {
    /// Lets go now and then once shaken harder than this, 0..1 of full wiggling.
    Vibration {
        /// Level at which it begins to let go.
        above: f64,
    },
    /// Opens when warmer than this: metal expands away.
    Heat {
        /// Opening temperature, °C.
        above_c: f64,
    },
    /// Opens when colder than this.
    Cold {
        /// Opening temperature, °C.
        below_c: f64,
    },
}

/// Hysteresis of a contact that opens by temperature, K: it closes again only
/// this far on the other side.
pub const TEMPERATURE_HYSTERESIS_K: f64 = 3.0;

impl Trigger {
    /// Whether the contact is open in this tick.
    ///
    /// `was_open` is its state before (for the temperature hysteresis), and
    /// `tick` and `salt` choose the moments at which a shaken contact lets go;
    /// the share of open moments grows from nothing at the level given to nine
    /// tenths at full shaking.
    pub fn opens(&self, vibration: f64, t_c: f64, was_open: bool, tick: u64, salt: u64) -> bool {
        let slack = if was_open {
            TEMPERATURE_HYSTERESIS_K
        } else {
            0.0
        };
        match *self {
            Self::Vibration { above } => {
                let above = above.at_least(0.0).at_most(0.999);
                let share = (0.9 * (vibration - above) / (1.0 - above))
                    .at_least(0.0)
                    .at_most(0.9);
                scatter(tick, salt) < share
            }
            Self::Heat { above_c } => t_c > above_c - slack,
            Self::Cold { below_c } => t_c < below_c + slack,
        }
    }
}

/// A number in 0..1 that looks random, is not, and needs no state: integer
/// mixing by multiplication and shifts, so that any tick can be computed alone.
fn scatter(tick: u64, salt: u64) -> f64 {
    let mut x = tick.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ salt;
    x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^= x >> 31;
    // 53 bits: every such integer is exact in f64.
    (x >> 11) as f64 / 9_007_199_254_740_992.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holm_scales_with_force() {
        // Holm: four times the force halves the resistance.
        let ratio = constriction_ohms(1.0) / constriction_ohms(4.0);
        assert!((ratio - 2.0).abs() < 1e-12);
        // A handbook order of magnitude: milliohms at a few newtons.
        assert!((2e-4..5e-3).contains(&constriction_ohms(5.0)));
    }

    #[test]
    fn corrosion_spans_its_ends() {
        assert!((corroded_ohms(0.0) - TARNISHED_OHMS).abs() < 1e-15);
        assert!((corroded_ohms(1.0) - GREEN_OHMS).abs() < 1e-9);
        assert!((corroded_ohms(0.5) - 2.0).abs() < 1e-9);
        assert_eq!(
            corroded_ohms(f64::NAN).to_bits(),
            corroded_ohms(0.0).to_bits()
        );
    }

    #[test]
    fn spread_terminal_matters_only_under_load() {
        // Common practice, no source: a sound terminal presses with a few newtons
        // and stays in the milliohms; a spread one reaches tenths of an ohm.
        assert!(spread_ohms(5.0) < 0.01);
        assert!((0.1..1.0).contains(&spread_ohms(0.1)));
    }

    #[test]
    fn shaking_opens_more_often_the_harder() {
        let trigger = Trigger::Vibration { above: 0.3 };
        let share = |level: f64| {
            (0..20_000)
                .filter(|&t| trigger.opens(level, 20.0, false, t, 7))
                .count() as f64
                / 2e4
        };
        assert_eq!(share(0.3), 0.0);
        assert!((share(0.65) - 0.45).abs() < 0.02, "{}", share(0.65));
        assert!((share(1.0) - 0.9).abs() < 0.02);
    }

    #[test]
    fn heat_opens_and_closes_with_hysteresis() {
        let trigger = Trigger::Heat { above_c: 80.0 };
        assert!(!trigger.opens(0.0, 79.0, false, 0, 0));
        assert!(trigger.opens(0.0, 81.0, false, 0, 0));
        assert!(trigger.opens(0.0, 78.0, true, 0, 0));
        assert!(!trigger.opens(0.0, 76.0, true, 0, 0));
    }
}
