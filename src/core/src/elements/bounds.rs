//! Holding numbers within bounds, the same on every machine.
//!
//! `f64::max` and `f64::min` leave the sign of a zero open, and `clamp` lets NaN
//! through. A replay must give the same bits everywhere and nothing may ever
//! become NaN, so the physics holds its numbers by plain comparison, and what is
//! not a number becomes the bound it is held to.

/// Bounds by plain comparison.
pub(crate) trait Bounds {
    /// The value, or `least` where it is lower or not a number.
    fn at_least(self, least: f64) -> f64;
    /// The value, or `most` where it is higher or not a number.
    fn at_most(self, most: f64) -> f64;
}

impl Bounds for f64 {
    fn at_least(self, least: f64) -> f64 {
        if self > least { self } else { least }
    }

    fn at_most(self, most: f64) -> f64 {
        if self < most { self } else { most }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zeros_and_nonsense_are_settled() {
        assert_eq!((-0.0_f64).at_least(0.0).to_bits(), 0.0_f64.to_bits());
        assert_eq!(f64::NAN.at_least(1.0).at_most(2.0), 1.0);
        assert_eq!(f64::INFINITY.at_most(2.0), 2.0);
        assert_eq!(1.5.at_least(1.0).at_most(2.0), 1.5);
    }
}
