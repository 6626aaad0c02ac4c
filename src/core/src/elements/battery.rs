//! The 12 V lead-acid battery: volts, internal resistance, state of charge.
//!
//! Open-circuit voltage against charge is the table every workshop knows (common
//! practice, no source): 12.70 V full, 12.45 V three quarters, 12.20 V half,
//! 12.00 V a quarter, 11.85 V empty, at 25 °C. Internal resistance is taken from
//! the cold-cranking test of EN 50342-1 (from memory: at -18 °C the battery gives
//! its rated cranking current for 10 s and stays at 7.5 V or more), so it includes
//! the polarisation of the first seconds.
//!
//! Left out: Peukert's law, surface charge, sulphation other than as wear.

use super::TICK_S;
use super::bounds::Bounds;
use super::range::{Accepted, OutOfRange};

/// Accepted capacity.
pub const CAPACITY_AH: Accepted = Accepted::new("battery capacity", "Ah", 10.0, 250.0);
/// Accepted cold-cranking current.
pub const CRANKING_A: Accepted = Accepted::new("battery cranking current (EN)", "A", 80.0, 1500.0);

const OCV_25C: [f64; 5] = [11.85, 12.00, 12.20, 12.45, 12.70];
/// Change of the open-circuit voltage with temperature, V/K: about +0.2 mV/K for
/// each of six cells (common practice, no source).
const OCV_V_PER_K: f64 = 0.0012;
/// Temperature and end voltage of the cranking test of EN 50342-1.
const TEST_C: f64 = -18.0;
const TEST_END_V: f64 = 7.5;
/// Share of charging current that is stored (common practice, no source).
const CHARGE_EFFICIENCY: f64 = 0.92;

/// Most that charging adds to the open-circuit voltage, V.
const MOST_POLARISATION_V: f64 = 2.2;
/// Time constants of its rise and fall, s (common practice, no source).
const POLARISES_S: f64 = 2.0;
const RELAXES_S: f64 = 20.0;

/// A battery's label.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BatterySpec {
    capacity_ah: f64,
    cranking_a: f64,
}

impl BatterySpec {
    /// A battery by its label.
    ///
    /// # Errors
    /// A value outside its accepted range.
    pub fn new(capacity_ah: f64, cranking_a: f64) -> Result<Self, OutOfRange> {
        Ok(Self {
            capacity_ah: CAPACITY_AH.check(capacity_ah)?,
            cranking_a: CRANKING_A.check(cranking_a)?,
        })
    }

    /// Voltage between the posts with nothing connected; `charge` 0..1.
    pub fn open_circuit_v(&self, charge: f64, t_c: f64) -> f64 {
        let quarter = charge.at_least(0.0).at_most(1.0) * 4.0;
        let index = if quarter >= 3.0 {
            3
        } else if quarter >= 2.0 {
            2
        } else if quarter >= 1.0 {
            1
        } else {
            0
        };
        let within = quarter - index as f64;
        let at_25 = OCV_25C[index] + within * (OCV_25C[index + 1] - OCV_25C[index]);
        at_25 + OCV_V_PER_K * (t_c - 25.0)
    }

    /// Internal resistance, Ω. `wear` 0 is new, 1 is worn out at four times.
    pub fn internal_ohms(&self, charge: f64, t_c: f64, wear: f64) -> f64 {
        let full_v = self.open_circuit_v(1.0, TEST_C);
        let at_test = (full_v - TEST_END_V) / self.cranking_a;
        let wear = 1.0 + 3.0 * wear.at_least(0.0).at_most(1.0);
        at_test / temperature_factor(TEST_C)
            * temperature_factor(t_c)
            * charge_factor(charge)
            * wear
    }

    /// State of charge one tick later with `amps` flowing out (negative: in).
    pub fn charge_after_tick(&self, charge: f64, amps: f64) -> f64 {
        let stored = if amps < 0.0 {
            amps * CHARGE_EFFICIENCY
        } else {
            amps
        };
        let lost = stored * TICK_S / 3600.0 / self.capacity_ah;
        (charge - lost).at_least(0.0).at_most(1.0)
    }

    /// Volts that charging adds to the open-circuit voltage, one tick later, with `amps` flowing out
    /// (negative: in). A battery that is nearly full takes about 10 A at 14.2 V for 60 Ah, a half
    /// empty one about 30 A (common practice, no source); without this a running alternator could
    /// never lift the posts above the resting voltage. It builds up in seconds and fades in tens
    /// of seconds.
    pub fn polarisation_after_tick(&self, volts: f64, charge: f64, amps: f64) -> f64 {
        let full = charge.clamp(0.0, 1.0);
        let ohms = (2.5 + 6.0 * full * full * full) / self.capacity_ah;
        let towards = (-amps * ohms).clamp(0.0, MOST_POLARISATION_V);
        let time_s = if towards > volts {
            POLARISES_S
        } else {
            RELAXES_S
        };
        volts + (towards - volts) * TICK_S / time_s
    }

    /// As [`BatterySpec::polarisation_after_tick`], where `amps` flowed out when the battery was
    /// last seen with `seen_v` of polarisation in a circuit of `loop_ohms`: what it takes meanwhile
    /// falls as it polarises. Worked out for the end of the tick (implicit Euler), so that it
    /// neither overshoots nor depends on how often the circuit is solved.
    pub fn polarisation_in_circuit(
        &self,
        volts: f64,
        charge: f64,
        amps: f64,
        seen_v: f64,
        loop_ohms: f64,
    ) -> f64 {
        let full = charge.clamp(0.0, 1.0);
        let ohms = (2.5 + 6.0 * full * full * full) / self.capacity_ah;
        let takes_at = |polarised_v: f64| -amps - (polarised_v - seen_v) / loop_ohms;
        let towards = ohms * takes_at(volts);
        let time_s = if towards > volts {
            POLARISES_S
        } else {
            RELAXES_S
        };
        let share = TICK_S / time_s;
        if !(0.0..=MOST_POLARISATION_V).contains(&towards) {
            return volts + (towards.clamp(0.0, MOST_POLARISATION_V) - volts) * share;
        }
        let end = (volts + share * ohms * takes_at(0.0)) / (1.0 + share * (1.0 + ohms / loop_ohms));
        end.clamp(0.0, MOST_POLARISATION_V)
    }

    /// Capacity on the label, Ah.
    pub fn capacity_ah(&self) -> f64 {
        self.capacity_ah
    }
}

/// Acid conducts worse in the cold: +0.7 % for each kelvin below 25 °C, less on
/// the warm side (common practice, no source).
fn temperature_factor(t_c: f64) -> f64 {
    (1.0 + 0.007 * (25.0 - t_c.at_least(-50.0))).at_least(0.75)
}

/// Thin acid and sulphated plates conduct worse: 1 when full, 1.25 at half, 3
/// when empty (common practice, no source).
fn charge_factor(charge: f64) -> f64 {
    let empty = 1.0 - charge.at_least(0.0).at_most(1.0);
    let squared = empty * empty;
    1.0 + 0.25 * empty + 0.5 * squared + 1.25 * squared * squared
}

#[cfg(test)]
mod tests {
    use super::*;

    fn small_car() -> BatterySpec {
        BatterySpec::new(45.0, 360.0).unwrap()
    }

    #[test]
    fn takes_little_when_nearly_full_and_more_when_half_empty() {
        // Common practice, no source: at 14.2 V a 60 Ah battery takes 6 to 15 A nearly full and
        // 20 to 40 A half empty.
        let b = BatterySpec::new(60.0, 480.0).unwrap();
        let takes = |charge: f64| {
            let (mut volts, mut amps) = (0.0, 0.0);
            for _ in 0..600 {
                amps = (14.2 - b.open_circuit_v(charge, 25.0) - volts) / 0.02;
                volts = b.polarisation_after_tick(volts, charge, -amps);
            }
            amps
        };
        assert!((6.0..=15.0).contains(&takes(0.92)), "{} A", takes(0.92));
        assert!((20.0..=40.0).contains(&takes(0.5)), "{} A", takes(0.5));
        // Discharge leaves nothing behind.
        let mut volts = 1.5;
        for _ in 0..2_000 {
            volts = b.polarisation_after_tick(volts, 0.9, 20.0);
        }
        assert!(volts < 0.01);
    }

    #[test]
    fn polarising_in_a_circuit_ends_where_small_steps_end() {
        // 14.2 V behind 20 mΩ: the slow way with the circuit solved in every tick, and the quick
        // way with the circuit solved every two seconds.
        let b = BatterySpec::new(60.0, 480.0).unwrap();
        let amps = |volts: f64| -(14.2 - b.open_circuit_v(0.8, 25.0) - volts) / 0.02;
        let (mut quick, mut slow) = (0.0, 0.0);
        let (mut seen_v, mut seen_a) = (0.0, amps(0.0));
        for tick in 0..1_200 {
            if tick % 20 == 0 {
                (seen_v, seen_a) = (quick, amps(quick));
            }
            quick = b.polarisation_in_circuit(quick, 0.8, seen_a, seen_v, 0.016);
            slow = b.polarisation_after_tick(slow, 0.8, amps(slow));
        }
        assert!((quick - slow).abs() < 0.01, "{quick} V, {slow} V");
    }

    #[test]
    fn open_circuit_table() {
        // Common practice, no source: 12.65 to 12.75 V full, about 12.2 V half,
        // 11.9 V and below empty.
        let b = small_car();
        let v = |soc| b.open_circuit_v(soc, 25.0);
        assert!((12.65..=12.75).contains(&v(1.0)));
        assert!((12.15..=12.30).contains(&v(0.5)));
        assert!(v(0.0) <= 11.9);
        assert!((0..100).all(|i| v(f64::from(i) / 100.0) < v(f64::from(i + 1) / 100.0)));
        assert!(b.open_circuit_v(1.0, -18.0) < v(1.0));
    }

    #[test]
    fn cranking_tests() {
        let b = small_car();
        let under =
            |amps: f64, t_c| b.open_circuit_v(1.0, t_c) - amps * b.internal_ohms(1.0, t_c, 0.0);
        // EN 50342-1 (from memory): 7.5 V at the rated current at -18 °C.
        assert!((under(360.0, -18.0) - 7.5).abs() < 1e-9);
        // Workshop load test (common practice, no source): half the rated current
        // at room temperature leaves 9.6 V or more.
        assert!(under(180.0, 21.0) >= 9.6);
        // Cranking a small engine, 150 to 200 A: about 10 to 11 V when sound.
        for amps in [150.0, 175.0, 200.0] {
            let v = under(amps, 20.0);
            assert!((9.6..=11.2).contains(&v), "{amps} A: {v} V");
        }
        // A worn one falls under the 9.6 V mark.
        assert!(12.7 - 175.0 * b.internal_ohms(0.9, 20.0, 0.5) < 9.6);
    }

    #[test]
    fn an_hour_of_lamps() {
        // 45 Ah at 4.5 A is a tenth an hour.
        let b = small_car();
        let mut charge = 1.0;
        for _ in 0..36_000 {
            charge = b.charge_after_tick(charge, 4.5);
        }
        assert!((charge - 0.9).abs() < 1e-9);
        assert_eq!(b.charge_after_tick(1.0, -10.0), 1.0);
        assert_eq!(b.charge_after_tick(0.0, 10.0), 0.0);
    }
}
