//! Accepted ranges of parameters, and the error that names them.
//!
//! A file's loader adds where in the file the value stood; this module only
//! knows what was asked for and what would be accepted.

/// The range a parameter may lie in, both ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accepted {
    /// What the parameter is, in words.
    pub what: &'static str,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// Least value accepted.
    pub least: f64,
    /// Greatest value accepted.
    pub most: f64,
}

/// A parameter outside its accepted range (or not a number).
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error(
    "{} is {value} {}, but must be from {} to {} {}",
    .accepted.what, .accepted.unit, .accepted.least, .accepted.most, .accepted.unit
)]
pub struct OutOfRange {
    /// What was given.
    pub value: f64,
    /// What would have been accepted.
    pub accepted: Accepted,
}

impl Accepted {
    /// A range from `least` to `most`.
    pub const fn new(what: &'static str, unit: &'static str, least: f64, most: f64) -> Self {
        Self {
            what,
            unit,
            least,
            most,
        }
    }

    /// The value itself, if it lies in the range.
    ///
    /// # Errors
    /// The value is outside, or is not a number.
    pub fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        if value >= self.least && value <= self.most {
            Ok(value)
        } else {
            Err(OutOfRange {
                value,
                accepted: *self,
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_with_the_range_in_words() {
        let range = Accepted::new("wire length", "m", 0.01, 50.0);
        assert_eq!(range.check(2.0), Ok(2.0));
        for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0] {
            assert!(range.check(bad).is_err());
        }
        let text = range.check(-1.0).unwrap_err().to_string();
        assert_eq!(text, "wire length is -1 m, but must be from 0.01 to 50 m");
    }
}
