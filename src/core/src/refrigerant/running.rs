//! The running loop, lumped: suction, discharge and duct, tick by tick.
//!
//! # Assumptions
//! - The evaporator and the condenser are one lump of metal and refrigerant
//!   each. On the air side they follow the effectiveness rule for a surface at
//!   one temperature, `ε = 1 - exp(-NTU)`, with NTU falling as flow rises
//!   (`NTU ∝ flow^-0.4`: heat transfer grows with about flow^0.6).
//! - The boiling temperature lags the evaporator metal by the refrigerant side's
//!   own conductance; a starved evaporator is wetted over a part only, and both
//!   that conductance and the cooled share of the air fall in proportion.
//! - The expansion valve holds a fixed superheat, and liquid leaves the condenser
//!   a few kelvin subcooled, as long as there is liquid to feed it. A low charge
//!   leaves the evaporator partly dry; an overcharge drowns part of the condenser.
//! - The compressor pumps by its swept volume with a volumetric efficiency that
//!   falls with the pressure ratio; its work is the work of the ideal
//!   machine divided by an efficiency. All work ends in the refrigerant.
//! - Stopped: both sides relax to the pressure at rest of [`super::charge`], with
//!   the coldest wetted part at the fins' or the surrounding temperature: the low
//!   side in seconds, as the liquid left in the evaporator boils up, the high side
//!   in minutes through the valve. Heat carried meanwhile is left out.
//! - The curves end at 90 °C, so the head pressure stops at about 3.1 MPa gauge
//!   for R-134a and 3.0 MPa for R-1234yf; a cut-out must be set below that.
//! - Neither cabin, nor frost on the fins, nor oil, nor air in the loop.
//!
//! Numbers without a source are ordinary values of the trade (common practice,
//! no source). Knows nothing of the clutch's circuit: whether the compressor
//! turns is an input.

use super::charge::static_pressure;
use super::pressure::AbsoluteKpa;
use super::running_spec::LoopSpec;
use super::saturation::{FIT_LOW_C, Refrigerant};
use crate::elements::{Bounds, TICK_S};

/// Specific heat of air at constant pressure, kJ/(kg K).
const AIR_HEAT_KJ_KG_K: f64 = 1.006;
/// Superheat held at the evaporator's outlet, K.
const SUPERHEAT_K: f64 = 6.0;
/// Subcooling of the liquid leaving the condenser, K.
const SUBCOOLING_K: f64 = 5.0;
/// Heat capacity of evaporator metal with its water and refrigerant, kJ/K.
const EVAPORATOR_KJ_K: f64 = 4.5;
/// Heat capacity of the boiling refrigerant, kJ/K.
const BOILING_KJ_K: f64 = 0.5;
/// Heat capacity of condenser metal and refrigerant, kJ/K.
const CONDENSER_KJ_K: f64 = 3.5;
/// Refrigerant-side conductance of a fully wetted evaporator, kW/K.
const WETTED_KW_K: f64 = 0.8;
/// Time constant of the head pressure following the condenser, s.
const HEAD_S: f64 = 3.0;
/// Airflow through the condenser with the fan stopped, against 1 at full.
const LEAST_CONDENSER_AIRFLOW: f64 = 0.08;
/// Time constant of the high side draining through the expansion valve of a
/// stopped loop, s: it takes minutes to equalise.
const EQUALISE_S: f64 = 110.0;
/// Time constant of liquid left in a stopped evaporator boiling up to the
/// pressure of its fins, s.
const BOIL_UP_S: f64 = 8.0;
/// Time constant of duct plastic and the temperature felt at the outlet, s.
const DUCT_S: f64 = 20.0;
/// Time constant of the sensor in the fins, s.
const FIN_SENSOR_S: f64 = 5.0;
/// Time constant of a stopped coil without airflow drifting to the air's
/// temperature, s.
const STILL_COIL_S: f64 = 240.0;
/// Overall efficiency of the compression.
const COMPRESSION_EFFICIENCY: f64 = 0.65;

/// What acts on the loop during one tick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunningInputs {
    /// The clutch has hold of the shaft.
    pub engaged: bool,
    /// Speed of the compressor's pulley, turns per minute.
    pub compressor_rpm: f64,
    /// Air outside, °C. It also enters the evaporator (fresh-air setting).
    pub ambient_c: f64,
    /// Air through the condenser, 1 = fan at full on a standing car.
    pub condenser_airflow: f64,
    /// Blower, 0..1.
    pub blower_airflow: f64,
    /// Charge as a share of the label's.
    pub charge_fraction: f64,
    /// Share of the condenser's face that is blocked, 0..1.
    pub condenser_blockage: f64,
}

/// State of the loop. Copied freely; a tick is a pure function of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunningState {
    suction_kpa: f64,
    discharge_kpa: f64,
    /// Of the part of the fins that liquid reaches.
    wet_fins_c: f64,
    fin_sensor_c: f64,
    condenser_c: f64,
    duct_c: f64,
}

/// Where the heat went during a tick, kW.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct HeatFlows {
    /// From the cabin air into the evaporator metal.
    pub air_to_evaporator_kw: f64,
    /// From the evaporator metal into the boiling refrigerant.
    pub metal_to_refrigerant_kw: f64,
    /// Carried away from the evaporator by the flow.
    pub refrigeration_kw: f64,
    /// Shaft work of the compressor.
    pub compressor_kw: f64,
    /// From the condenser into the outside air.
    pub condenser_to_air_kw: f64,
    /// Refrigerant pumped, kg/s.
    pub flow_kg_s: f64,
}

impl RunningState {
    /// A car that has stood long enough for everything to be at `ambient_c`.
    pub fn at_rest(spec: &LoopSpec, ambient_c: f64, charge_fraction: f64) -> Self {
        let charge_kg = spec.charge_kg * charge_fraction.at_least(0.0);
        let rest = static_pressure(spec.refrigerant, charge_kg, spec.volume_m3, ambient_c);
        Self {
            suction_kpa: rest.pressure.0,
            discharge_kpa: rest.pressure.0,
            wet_fins_c: ambient_c,
            fin_sensor_c: ambient_c,
            condenser_c: ambient_c,
            duct_c: ambient_c,
        }
    }

    /// Pressure at the low-side port.
    pub fn suction(&self) -> AbsoluteKpa {
        AbsoluteKpa(self.suction_kpa)
    }

    /// Pressure at the high-side port.
    pub fn discharge(&self) -> AbsoluteKpa {
        AbsoluteKpa(self.discharge_kpa)
    }

    /// Temperature a sensor in the evaporator's fins shows, °C: the average over
    /// the wetted fins and those left dry, which stand at the air's temperature.
    pub fn evaporator_c(&self) -> f64 {
        self.fin_sensor_c
    }

    /// Temperature of the condenser, °C.
    pub fn condenser_c(&self) -> f64 {
        self.condenser_c
    }

    /// Temperature of the air at the centre outlet, °C.
    pub fn duct_c(&self) -> f64 {
        self.duct_c
    }

    /// Difference between the sides, kPa: nothing once the loop has equalised.
    pub fn unequalised_kpa(&self) -> f64 {
        self.discharge_kpa - self.suction_kpa
    }

    /// Heat held by the lumps against 0 °C, kJ: what the energy balance sums.
    pub fn stored_kj(&self, spec: &LoopSpec, charge_fraction: f64) -> f64 {
        EVAPORATOR_KJ_K * wetted_share(charge_fraction) * self.wet_fins_c
            + CONDENSER_KJ_K * self.condenser_c
            + BOILING_KJ_K * spec.refrigerant.saturation_temperature_c(self.suction())
    }

    /// One tick of 0.1 s.
    pub fn step(&mut self, spec: &LoopSpec, inputs: &RunningInputs) -> HeatFlows {
        let air = AirSide::of(spec, inputs);
        let mut flows = HeatFlows {
            air_to_evaporator_kw: air.evaporator_kw_k * (inputs.ambient_c - self.wet_fins_c),
            condenser_to_air_kw: air.condenser_kw_k * (self.condenser_c - inputs.ambient_c),
            ..HeatFlows::default()
        };
        if inputs.engaged && inputs.compressor_rpm > 0.0 {
            self.pump(spec, inputs, &mut flows);
        } else {
            self.equalise(spec, inputs);
        }
        let to_fins = flows.air_to_evaporator_kw - flows.metal_to_refrigerant_kw;
        self.wet_fins_c += TICK_S * to_fins / (EVAPORATOR_KJ_K * air.wetted);
        let to_condenser = flows.refrigeration_kw + flows.compressor_kw - flows.condenser_to_air_kw;
        self.condenser_c += TICK_S * to_condenser / CONDENSER_KJ_K;
        let chill_k = air.wetted * (inputs.ambient_c - self.wet_fins_c);
        let outlet_c = inputs.ambient_c - air.effectiveness * chill_k;
        self.duct_c += TICK_S / DUCT_S * (outlet_c - self.duct_c);
        let fins_c = inputs.ambient_c - chill_k;
        self.fin_sensor_c += TICK_S / FIN_SENSOR_S * (fins_c - self.fin_sensor_c);
        flows
    }

    fn pump(&mut self, spec: &LoopSpec, inputs: &RunningInputs, flows: &mut HeatFlows) {
        let fluid = spec.refrigerant;
        let boil_c = fluid.saturation_temperature_c(self.suction());
        let gas_density = suction_gas_density(fluid, boil_c);
        let ratio = (self.discharge_kpa / self.suction_kpa).at_least(1.0);
        let swept_m3_s = spec.displacement_cm3 * 1e-6 * inputs.compressor_rpm / 60.0;
        let drawn_kg_s = volumetric_efficiency(ratio) * swept_m3_s * gas_density;

        let liquid_c = (self.condenser_c - SUBCOOLING_K).at_least(boil_c);
        let lift_kj_kg =
            fluid.vapour_enthalpy(boil_c, SUPERHEAT_K) - fluid.liquid_enthalpy(liquid_c);
        let wetted = wetted_share(inputs.charge_fraction);
        let boiled_kw = WETTED_KW_K * wetted * (self.wet_fins_c - boil_c);
        // At the bottom of the curves the compressor can draw no more than boils
        // off: a starved loop sits in a vacuum.
        let most_kw = boiled_kw + (boil_c - FIT_LOW_C) * BOILING_KJ_K / TICK_S;
        let refrigeration_kw = (drawn_kg_s * lift_kj_kg).at_most(most_kw).at_least(0.0);
        let flow_kg_s = refrigeration_kw / lift_kj_kg;

        flows.metal_to_refrigerant_kw = boiled_kw;
        flows.flow_kg_s = flow_kg_s;
        flows.refrigeration_kw = refrigeration_kw;
        flows.compressor_kw = flow_kg_s
            * fluid.ideal_work_kj_kg(boil_c, self.suction_kpa, gas_density, ratio)
            / COMPRESSION_EFFICIENCY;

        // Neither side can hold a higher pressure than the whole charge gives in
        // that side's room.
        let charge_kg = spec.charge_kg * inputs.charge_fraction.at_least(0.0);
        let next_c = boil_c + TICK_S * (boiled_kw - refrigeration_kw) / BOILING_KJ_K;
        let everywhere = fluid.vapour_pressure(self.wet_fins_c, charge_kg / spec.volume_m3);
        self.suction_kpa = fluid
            .saturation_pressure(next_c)
            .0
            .at_most(everywhere.0.at_least(1.0));
        let high_side = charge_kg / (spec.volume_m3 * spec.high_side_share);
        let head = fluid
            .vapour_pressure(self.condenser_c, high_side)
            .0
            .at_least(self.suction_kpa);
        self.discharge_kpa += TICK_S / HEAD_S * (head - self.discharge_kpa);
    }

    fn equalise(&mut self, spec: &LoopSpec, inputs: &RunningInputs) {
        let coldest_c = self.wet_fins_c.at_most(inputs.ambient_c);
        let charge_kg = spec.charge_kg * inputs.charge_fraction.at_least(0.0);
        let rest = spec
            .refrigerant
            .vapour_pressure(coldest_c, charge_kg / spec.volume_m3)
            .0;
        self.suction_kpa += TICK_S / BOIL_UP_S * (rest - self.suction_kpa);
        self.discharge_kpa += TICK_S / EQUALISE_S * (rest - self.discharge_kpa);
    }
}

/// The air side during one tick.
struct AirSide {
    evaporator_kw_k: f64,
    condenser_kw_k: f64,
    /// How far air passing wetted fins comes down towards them, 0..1.
    effectiveness: f64,
    /// Share of the fins that liquid reaches, 0..1.
    wetted: f64,
}

impl AirSide {
    fn of(spec: &LoopSpec, inputs: &RunningInputs) -> Self {
        let wetted = wetted_share(inputs.charge_fraction);
        let blower = unit(inputs.blower_airflow);
        let still_kw_k = EVAPORATOR_KJ_K / STILL_COIL_S;
        let effectiveness = surface_effectiveness(spec.evaporator_ntu, blower);
        let moved_kw_k = blower * spec.blower_air_kg_s * AIR_HEAT_KJ_KG_K;
        let evaporator_kw_k =
            wetted * (moved_kw_k * effectiveness / spec.sensible_share).at_least(still_kw_k);
        // Air finds its way through a hot condenser even with the fan stopped.
        let through = inputs
            .condenser_airflow
            .at_least(LEAST_CONDENSER_AIRFLOW)
            .at_most(4.0);
        let face = (1.0 - unit(inputs.condenser_blockage)).at_least(0.03);
        let condenser_kw_k = face
            * condensing_share(inputs.charge_fraction)
            * through
            * spec.condenser_air_kg_s
            * AIR_HEAT_KJ_KG_K
            * surface_effectiveness(spec.condenser_ntu, through);
        Self {
            evaporator_kw_k,
            condenser_kw_k,
            effectiveness,
            wetted,
        }
    }
}

/// Effectiveness of a surface at one temperature, `1 - exp(-NTU)` (heat
/// exchanger theory, any textbook), with `NTU ∝ flow^-0.4`.
fn surface_effectiveness(ntu_at_full: f64, flow: f64) -> f64 {
    let flow = flow.at_least(0.01);
    1.0 - libm::exp(-ntu_at_full * libm::pow(flow, -0.4))
}

fn unit(value: f64) -> f64 {
    value.at_least(0.0).at_most(1.0)
}

/// Share of the evaporator that liquid reaches. The receiver covers a shortage
/// of about a fifth; a tenth of the charge feeds nothing.
fn wetted_share(charge_fraction: f64) -> f64 {
    ((charge_fraction - 0.1) / 0.7).at_least(0.01).at_most(1.0)
}

/// Share of the condenser left to condense in; more than a tenth too much liquid
/// begins to drown it.
fn condensing_share(charge_fraction: f64) -> f64 {
    (1.0 - 1.2 * (charge_fraction - 1.1))
        .at_least(0.3)
        .at_most(1.0)
}

/// Gas left in the clearance re-expands: the higher the ratio, the less is
/// drawn in. Usual for a small piston machine (common practice, no source).
fn volumetric_efficiency(ratio: f64) -> f64 {
    (0.85 - 0.045 * (ratio - 1.0)).at_least(0.0)
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
            let got = fluid.vapour_enthalpy(boil, SUPERHEAT_K)
                - fluid.liquid_enthalpy(condense - SUBCOOLING_K);
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
}
