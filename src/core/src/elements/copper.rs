//! Annealed copper: resistivity and its change with temperature.
//!
//! Source: IEC 60028, International standard of resistance for copper: at 20 °C
//! a wire of 1 m and 1 mm² has 1/58 Ω, and the temperature coefficient at
//! constant mass is 0.00393 per kelvin (figures from memory).

use super::bounds::Bounds;

/// Resistivity of annealed copper at 20 °C, Ω·mm²/m.
pub const RESISTIVITY_OHM_MM2_PER_M: f64 = 1.0 / 58.0;

/// Temperature coefficient of resistance at 20 °C, per kelvin.
pub const ALPHA_PER_K: f64 = 0.003_93;

/// Resistance of copper at `t_c` against its resistance at 20 °C. Held above a
/// tenth, so that no temperature makes a wire a superconductor.
pub fn factor(t_c: f64) -> f64 {
    (1.0 + ALPHA_PER_K * (t_c - 20.0)).at_least(0.1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn matches_the_cable_standards_correction() {
        // IEC 60228 gives the correction as 254.5 / (234.5 + t): values from memory.
        for t in [-40.0, 0.0, 20.0, 50.0, 85.0, 125.0] {
            let table = (234.5 + t) / 254.5;
            assert!((factor(t) - table).abs() < 5e-4 * table, "{t}");
        }
    }
}
