//! A digital multimeter, as its datasheet would state it.
//!
//! The instrument is invented; its figures are ordinary for a 6000-count handheld
//! (common practice, no source). Its errors are not noise: an instrument is off by
//! the same amount each time, so the caller draws one number for it and every
//! reading of it errs alike, within the stated accuracy.
//!
//! | function | ranges | resolution | accuracy |
//! | --- | --- | --- | --- |
//! | volts, direct | 600 mV, 6, 60, 600 V | 1/6000 of the range | ±(0.5 % + 2 digits) |
//! | ohms | 600 Ω | 0.1 Ω | ±(0.9 % + 3 digits) |
//! | ohms | 6, 60, 600 kΩ, 6 MΩ | 1/6000 of the range | ±(0.9 % + 2 digits) |
//! | ohms | 60 MΩ | 10 kΩ | ±(1.5 % + 3 digits) |
//! | milliamperes | 60, 600 mA | 1/6000 of the range | ±(1.0 % + 3 digits) |
//! | amperes | 6, 10 A | 1 mA, 10 mA | ±(1.2 % + 3 digits) |

use super::bounds::Bounds;

/// Input resistance on volts, Ω.
pub const VOLTS_INPUT_OHMS: f64 = 10.0e6;
/// Resistance of both leads and their plugs together, Ω.
pub const LEADS_OHMS: f64 = 0.2;
/// Open voltage of the test source on ohms, V: too little to light a lamp or to
/// turn a silicon junction hard on.
pub const OHMS_SOURCE_V: f64 = 0.6;
/// Shunt on the milliampere jack, fuse included, Ω.
pub const MILLIAMPS_SHUNT_OHMS: f64 = 1.8;
/// Shunt on the ampere jack, fuse included, Ω.
pub const AMPS_SHUNT_OHMS: f64 = 0.03;
/// Fuse behind the milliampere jack, A.
pub const MILLIAMPS_FUSE_A: f64 = 0.8;
/// Fuse behind the ampere jack, A.
pub const AMPS_FUSE_A: f64 = 10.0;
/// Continuity sounds under this resistance, Ω.
pub const BEEPS_UNDER_OHMS: f64 = 30.0;

/// What the knob is set to.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
pub enum Function {
    /// Direct voltage.
    Volts,
    /// Resistance.
    Ohms,
    /// Direct current, milliampere jack.
    Milliamps,
    /// Direct current, ampere jack.
    Amps,
}

/// One line of the datasheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeterRange {
    /// Highest count shown.
    pub full_counts: u32,
    /// Value of a digit is `10^-decimals`, in volts, ohms or amperes.
    pub decimals: i32,
    /// Accuracy in proportion to the reading, %.
    pub percent: f64,
    /// Accuracy in digits of the last place.
    pub digits: f64,
}

const fn line(full_counts: u32, decimals: i32, percent: f64, digits: f64) -> MeterRange {
    MeterRange {
        full_counts,
        decimals,
        percent,
        digits,
    }
}

const VOLTS: &[MeterRange] = &[
    line(6000, 4, 0.5, 2.0),
    line(6000, 3, 0.5, 2.0),
    line(6000, 2, 0.5, 2.0),
    line(6000, 1, 0.5, 2.0),
];
const OHMS: &[MeterRange] = &[
    line(6000, 1, 0.9, 3.0),
    line(6000, 0, 0.9, 2.0),
    line(6000, -1, 0.9, 2.0),
    line(6000, -2, 0.9, 2.0),
    line(6000, -3, 0.9, 2.0),
    line(6000, -4, 1.5, 3.0),
];
const MILLIAMPS: &[MeterRange] = &[line(6000, 5, 1.0, 3.0), line(6000, 4, 1.0, 3.0)];
const AMPS: &[MeterRange] = &[line(6000, 3, 1.2, 3.0), line(1000, 2, 1.2, 3.0)];

/// What the display shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Shown {
    /// A number: `counts · 10^-decimals` volts, ohms or amperes.
    Number {
        /// The digits, with sign.
        counts: i64,
        /// Places after the point; negative for tens, hundreds and so on.
        decimals: i32,
    },
    /// Over the range ("OL").
    Overload,
}

impl Shown {
    /// The number shown, `None` when overloaded.
    pub fn value(&self) -> Option<f64> {
        match *self {
            Self::Number { counts, decimals } => Some(counts as f64 * step(decimals)),
            Self::Overload => None,
        }
    }
}

fn step(decimals: i32) -> f64 {
    // A table, not a power: each entry is the nearest double to the true value.
    match decimals {
        ..=-4 => 1e4,
        -3 => 1e3,
        -2 => 1e2,
        -1 => 1e1,
        0 => 1.0,
        1 => 1e-1,
        2 => 1e-2,
        3 => 1e-3,
        4 => 1e-4,
        5.. => 1e-5,
    }
}

impl MeterRange {
    /// Value of one digit, in volts, ohms or amperes.
    pub fn resolution(&self) -> f64 {
        step(self.decimals)
    }

    /// Highest value shown.
    pub fn full(&self) -> f64 {
        f64::from(self.full_counts) * self.resolution()
    }

    /// Most the display may be off at `value`.
    pub fn accuracy(&self, value: f64) -> f64 {
        self.percent / 100.0 * value.abs() + self.digits * self.resolution()
    }

    /// What is shown for `value`. `instrument` in 0..1 places this instrument
    /// within its accuracy: 0 reads lowest, 0.5 true, 1 highest.
    ///
    /// The digits' share of the error is kept whole digits short of the bound, so
    /// that rounding never takes a reading outside the stated accuracy.
    pub fn display(&self, value: f64, instrument: f64) -> Shown {
        let lean = 2.0 * instrument.at_least(0.0).at_most(1.0) - 1.0;
        let spread = self.percent / 100.0 * value.abs()
            + (self.digits - 0.5).at_least(0.0) * self.resolution();
        let counts = libm::round((value + lean * spread) / self.resolution());
        // Written so that NaN, too, is an overload.
        if counts.abs() <= f64::from(self.full_counts) {
            Shown::Number {
                counts: counts as i64,
                decimals: self.decimals,
            }
        } else {
            Shown::Overload
        }
    }
}

impl Function {
    /// The datasheet's lines for this function, smallest range first.
    pub fn ranges(self) -> &'static [MeterRange] {
        match self {
            Self::Volts => VOLTS,
            Self::Ohms => OHMS,
            Self::Milliamps => MILLIAMPS,
            Self::Amps => AMPS,
        }
    }

    /// Shows `value` on the smallest range that holds it, as the meter chooses.
    pub fn display_auto(self, value: f64, instrument: f64) -> Shown {
        for range in self.ranges() {
            let shown = range.display(value, instrument);
            if shown != Shown::Overload {
                return shown;
            }
        }
        Shown::Overload
    }
}

/// Series resistance of the ohms test source for a range, Ω: five sixths of full
/// scale, so that a reading anywhere in the range leaves volts to measure.
pub fn ohms_source_ohms(range: &MeterRange) -> f64 {
    range.full() / 6.0 * 5.0
}

/// Resistance the meter computes from the volts at its jacks and the amperes
/// out of its test source. Foreign voltage misleads it, as it does a real one;
/// where no current flows out, it is an open circuit.
pub fn ohms_from(volts: f64, amps: f64) -> f64 {
    if amps > 1e-12 {
        (volts / amps).at_least(0.0)
    } else {
        f64::INFINITY
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn resolution_follows_the_table() {
        assert!((VOLTS[0].full() - 0.6).abs() < 1e-12);
        assert!((OHMS[5].full() - 60e6).abs() < 1e-6);
        assert!((MILLIAMPS[0].full() - 0.06).abs() < 1e-12);
        assert!((AMPS[1].full() - 10.0).abs() < 1e-12);
        let shown = Function::Volts.display_auto(12.634_9, 0.5);
        assert_eq!(
            shown,
            Shown::Number {
                counts: 1263,
                decimals: 2
            }
        );
        assert_eq!(shown.value(), Some(12.63));
    }

    #[test]
    fn every_instrument_keeps_its_accuracy() {
        for function in [
            Function::Volts,
            Function::Ohms,
            Function::Milliamps,
            Function::Amps,
        ] {
            for range in function.ranges() {
                for part in 0..=40 {
                    let value = range.full() * f64::from(part) / 42.0;
                    for tenth in 0..=10 {
                        let Some(shown) = range.display(value, f64::from(tenth) / 10.0).value()
                        else {
                            panic!("{value} overloads {range:?}")
                        };
                        let bound = range.accuracy(value) * (1.0 + 1e-9);
                        assert!((shown - value).abs() <= bound, "{range:?} {value} {shown}");
                    }
                }
            }
        }
    }

    #[test]
    fn overload_and_nonsense() {
        assert_eq!(Function::Volts.display_auto(900.0, 0.5), Shown::Overload);
        assert_eq!(
            Function::Ohms.display_auto(f64::INFINITY, 0.5),
            Shown::Overload
        );
        assert_eq!(Function::Volts.display_auto(f64::NAN, 0.5), Shown::Overload);
        assert_eq!(ohms_from(0.0, 0.0), f64::INFINITY);
        assert!((ohms_from(0.3, 0.001) - 300.0).abs() < 1e-9);
    }
}
