//! What happens when current in a coil is cut: voltage kick and spark.
//!
//! Energy `½ L I²` (any textbook). Where it goes decides the spark: through a
//! diode or a resistor beside the coil it is spent there; with neither it rings
//! up the coil's own stray capacitance until the opening gap breaks down. Air
//! does not break down below about 327 V whatever the gap (Paschen's minimum),
//! so a suppressor that keeps the kick below that leaves no spark.

use super::bounds::Bounds;

/// Breakdown voltage below which no gap in air sparks over (Paschen, 327 V).
pub const PASCHEN_LEAST_V: f64 = 327.0;

/// Stray capacitance of a coil and its harness, F (common practice, no source).
const STRAY_F: f64 = 1e-9;

/// Forward voltage of a suppression diode, V.
const DIODE_V: f64 = 0.8;

/// What is fitted beside a coil.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
pub enum Suppression {
    /// Nothing, or a part that has failed open.
    None,
    /// A diode across the coil, blocking in normal use.
    Diode,
    /// A resistor across the coil.
    Resistor {
        /// Its resistance, Ω.
        ohms: f64,
    },
}

/// How large a spark looks and sounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SparkSize {
    /// Nothing to see.
    None,
    /// A pinprick, seen in the dark: up to 10 mJ.
    Small,
    /// A snapping blue spark in daylight: above 10 mJ.
    Large,
}

/// Energy above which a spark is seen in daylight, J (common practice).
pub const LARGE_SPARK_J: f64 = 0.010;
/// Energy below which a spark is not seen at all, J (common practice).
pub const SMALL_SPARK_J: f64 = 0.000_2;

/// What comes of cutting a coil's current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// Energy the coil held, J.
    pub stored_j: f64,
    /// Highest voltage across the opening contact, V.
    pub peak_v: f64,
    /// Energy spent in the gap, J.
    pub gap_j: f64,
    /// What is seen.
    pub spark: SparkSize,
}

/// Cuts `amps` through a coil of `henries` fed from `supply_v`.
pub fn release(henries: f64, amps: f64, supply_v: f64, suppression: Suppression) -> Release {
    let amps = amps.abs();
    let stored_j = 0.5 * henries.at_least(0.0) * amps * amps;
    let ringing_v = amps * (henries.at_least(0.0) / STRAY_F).sqrt();
    let kick_v = match suppression {
        Suppression::None => ringing_v,
        Suppression::Diode => DIODE_V,
        Suppression::Resistor { ohms } => (amps * ohms.at_least(0.0)).at_most(ringing_v),
    };
    let free_peak_v = supply_v.abs() + kick_v;
    let breaks_down = free_peak_v > PASCHEN_LEAST_V;
    // The gap takes what the kick holds beyond breakdown; a resistor still takes
    // its share of the current while the gap burns.
    let gap_j = if breaks_down {
        match suppression {
            Suppression::Resistor { ohms } => {
                let beside = PASCHEN_LEAST_V / ohms.at_least(1e-3);
                stored_j * (1.0 - (beside / amps).at_most(1.0))
            }
            Suppression::None | Suppression::Diode => stored_j,
        }
    } else {
        0.0
    };
    let spark = if gap_j > LARGE_SPARK_J {
        SparkSize::Large
    } else if gap_j > SMALL_SPARK_J {
        SparkSize::Small
    } else {
        SparkSize::None
    };
    Release {
        stored_j,
        peak_v: free_peak_v.at_most(PASCHEN_LEAST_V.at_least(supply_v.abs())),
        gap_j,
        spark,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn energy_is_half_l_i_squared() {
        let r = release(0.4, 0.15, 12.0, Suppression::None);
        assert!((r.stored_j - 0.5 * 0.4 * 0.15 * 0.15).abs() < 1e-15);
    }

    #[test]
    fn suppressors_take_the_spark() {
        // Relay coil: 80 Ω at 12 V. With a diode or the usual 680 Ω nothing sparks.
        let coil = |s| release(0.4, 0.15, 12.0, s);
        assert_eq!(coil(Suppression::Diode).spark, SparkSize::None);
        assert_eq!(
            coil(Suppression::Resistor { ohms: 680.0 }).spark,
            SparkSize::None
        );
        assert!((coil(Suppression::Resistor { ohms: 680.0 }).peak_v - 114.0).abs() < 1e-9);
        assert_eq!(coil(Suppression::None).spark, SparkSize::Small);
        // A clutch coil: 3.5 A. Large where its diode is open.
        assert_eq!(
            release(0.04, 3.5, 13.0, Suppression::None).spark,
            SparkSize::Large
        );
        assert_eq!(
            release(0.04, 3.5, 13.0, Suppression::Diode).spark,
            SparkSize::None
        );
    }
}
