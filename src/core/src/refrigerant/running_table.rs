//! Saturation properties in a table, for the running loop's ticks.
//!
//! A car runs for simulated minutes in one go, and many cars at once when an
//! order of tests is judged, so a tick looks its properties up instead of
//! working the curves out. Straight lines over half a kelvin stay within 0.01 %
//! of the curves. Knows no state and no time.

use std::sync::Arc;

use super::running_spec::LoopSpec;
use super::saturation::{FIT_HIGH_C, FIT_LOW_C, Refrigerant};
use crate::elements::Bounds;

/// Superheat held at the evaporator's outlet, K.
pub(super) const SUPERHEAT_K: f64 = 6.0;

const STEP_K: f64 = 0.5;

/// Properties at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Row {
    /// Saturation pressure, kPa absolute.
    pub p_kpa: f64,
    /// Density of the saturated vapour, kg/m³.
    pub dew: f64,
    /// Density of gas boiled here and superheated, kg/m³.
    pub gas: f64,
    /// Enthalpy of that gas, kJ/kg.
    pub gas_kj_kg: f64,
    /// Enthalpy of the boiling liquid, kJ/kg.
    pub liquid_kj_kg: f64,
}

/// A loop ready to run: its sizes and its refrigerant's table. Clones share the
/// table.
#[derive(Debug, Clone)]
pub struct RefrigerantLoop {
    spec: LoopSpec,
    rows: Arc<[Row]>,
}

impl RefrigerantLoop {
    /// Works the table out, once for a vehicle.
    pub fn new(spec: LoopSpec) -> Self {
        let count = ((FIT_HIGH_C - FIT_LOW_C) / STEP_K) as usize + 1;
        let row = |index: usize| Row::at(spec.refrigerant, FIT_LOW_C + STEP_K * index as f64);
        Self {
            spec,
            rows: (0..count).map(row).collect(),
        }
    }

    /// The sizes it was made from.
    pub fn spec(&self) -> &LoopSpec {
        &self.spec
    }

    /// Properties at `t_c`, held to the range of the curves.
    pub(super) fn at(&self, t_c: f64) -> Row {
        let place = (t_c.at_least(FIT_LOW_C).at_most(FIT_HIGH_C) - FIT_LOW_C) / STEP_K;
        let index = (place as usize).min(self.rows.len() - 2);
        let share = place - index as f64;
        let (a, b) = (&self.rows[index], &self.rows[index + 1]);
        let between = |low: f64, high: f64| low + share * (high - low);
        Row {
            p_kpa: between(a.p_kpa, b.p_kpa),
            dew: between(a.dew, b.dew),
            gas: between(a.gas, b.gas),
            gas_kj_kg: between(a.gas_kj_kg, b.gas_kj_kg),
            liquid_kj_kg: between(a.liquid_kj_kg, b.liquid_kj_kg),
        }
    }

    /// Pressure of `density` kg/m³ at `t_c`, kPa absolute: saturation as long as
    /// there is liquid, the vapour line beyond.
    pub(super) fn pressure_kpa(&self, t_c: f64, density: f64) -> f64 {
        let row = self.at(t_c);
        if density >= row.dew {
            row.p_kpa
        } else {
            self.spec.refrigerant.vapour_pressure(t_c, density).0
        }
    }
}

impl Row {
    fn at(fluid: Refrigerant, t_c: f64) -> Self {
        Self {
            p_kpa: fluid.saturation_pressure(t_c).0,
            dew: fluid.vapour_density(t_c),
            gas: suction_gas_density(fluid, t_c),
            gas_kj_kg: fluid.vapour_enthalpy(t_c, SUPERHEAT_K),
            liquid_kj_kg: fluid.liquid_enthalpy(t_c),
        }
    }
}

/// Density of the suction gas, kg/m³: the saturated vapour's, thinned by the
/// superheat a little faster than an ideal gas.
fn suction_gas_density(fluid: Refrigerant, boil_c: f64) -> f64 {
    fluid.vapour_density(boil_c) * (1.0 - 1.25 * SUPERHEAT_K / (boil_c + 273.15 + SUPERHEAT_K))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Density, work and lift of the loop's own approximations against the
    /// corners of the reference cycles (CoolProp; superheat 6 K, subcooling 5 K).
    #[test]
    fn approximations_against_the_reference_cycles() {
        let table = include_str!("../../../../tests/reference/coolprop/cycle.csv");
        let (mut density, mut work, mut lift, mut points) = (0.0_f64, 0.0_f64, 0.0_f64, 0);
        for row in table.lines().skip(1) {
            let (name, cells) = row.split_once(',').unwrap();
            let fluid = match name {
                "R134a" => Refrigerant::R134a,
                "R1234yf" => Refrigerant::R1234yf,
                other => panic!("{other}"),
            };
            let v: Vec<f64> = cells.split(',').map(|c| c.parse().unwrap()).collect();
            let [boil, condense, h1, rho1, h2s, h3] = v[..] else {
                panic!("{row}")
            };
            let off = |got: f64, want: f64, worst: f64| f64::max((got / want - 1.0).abs(), worst);
            let gas = suction_gas_density(fluid, boil);
            let suction = fluid.saturation_pressure(boil).0;
            let ratio = fluid.saturation_pressure(condense).0 / suction;
            density = off(gas, rho1, density);
            work = off(
                fluid.ideal_work_kj_kg(boil, suction, gas, ratio),
                h2s - h1,
                work,
            );
            let got =
                fluid.vapour_enthalpy(boil, SUPERHEAT_K) - fluid.liquid_enthalpy(condense - 5.0);
            lift = off(got, h1 - h3, lift);
            points += 1;
        }
        for (what, worst) in [
            ("suction gas density", density),
            ("ideal work", work),
            ("lift", lift),
        ] {
            println!(
                "running loop: {what} | CoolProp cycles | {points} | {:.2} %",
                100.0 * worst
            );
        }
        assert!(points == 32 && density < 0.01 && work < 0.015 && lift < 0.01);
    }

    #[test]
    fn the_table_follows_the_curves() {
        for refrigerant in [Refrigerant::R134a, Refrigerant::R1234yf] {
            let table = RefrigerantLoop::new(LoopSpec {
                refrigerant,
                ..LoopSpec::default()
            });
            let mut t_c = -45.0;
            while t_c <= 90.0 {
                let (got, want) = (table.at(t_c), Row::at(refrigerant, t_c));
                for (a, b) in [
                    (got.p_kpa, want.p_kpa),
                    (got.dew, want.dew),
                    (got.gas, want.gas),
                    (got.gas_kj_kg, want.gas_kj_kg),
                    (got.liquid_kj_kg, want.liquid_kj_kg),
                ] {
                    // Near its critical point R-1234yf bends faster.
                    let bound = if t_c < 80.0 { 1e-4 } else { 1e-3 };
                    assert!(
                        (a / b - 1.0).abs() < bound,
                        "{refrigerant:?} {t_c}: {a} {b}"
                    );
                }
                t_c += 0.11;
            }
        }
    }
}
