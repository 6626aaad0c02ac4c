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
//!   falls with the pressure ratio; its work is the polytropic work of the ideal
//!   machine divided by an efficiency. All work ends in the refrigerant.
//! - Stopped: both sides relax to the pressure at rest of
//!   [`super::charge`], with the coldest wetted part at the evaporator's or the
//!   surrounding temperature. Heat carried by the fluid while it equalises is
//!   left out.
//! - Neither cabin, nor frost on the fins, nor oil, nor air in the loop.
//!
//! Numbers without a source are ordinary values of the trade (common practice,
//! no source). Knows nothing of the clutch's circuit: whether the compressor
//! turns is an input.

use super::charge::static_pressure;
use super::pressure::AbsoluteKpa;
use super::running_spec::LoopSpec;
use super::saturation::{FIT_LOW_C, Refrigerant};
use crate::elements::TICK_S;

/// Specific heat of air at constant pressure, kJ/(kg K).
const AIR_HEAT_KJ_KG_K: f64 = 1.006;
/// Superheat held at the evaporator's outlet, K.
const SUPERHEAT_K: f64 = 6.0;
/// Subcooling of the liquid leaving the condenser, K.
const SUBCOOLING_K: f64 = 5.0;
/// Heat capacity of evaporator metal with its water and refrigerant, kJ/K.
const EVAPORATOR_KJ_K: f64 = 3.0;
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
/// Time constant of equalising through the closed expansion valve, s. About
/// 2 % of the difference is left after five minutes.
const EQUALISE_S: f64 = 75.0;
/// Time constant of duct plastic and the temperature felt at the outlet, s.
const DUCT_S: f64 = 12.0;
/// Time constant of a stopped coil without airflow drifting to the air's
/// temperature, s.
const STILL_COIL_S: f64 = 240.0;
/// Ideal polytropic exponent for the compressor's work.
const POLYTROPIC: f64 = 1.08;
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
    evaporator_c: f64,
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
        let charge_kg = spec.charge_kg * charge_fraction.max(0.0);
        let rest = static_pressure(spec.refrigerant, charge_kg, spec.volume_m3, ambient_c);
        Self {
            suction_kpa: rest.pressure.0,
            discharge_kpa: rest.pressure.0,
            evaporator_c: ambient_c,
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

    /// Temperature of the evaporator's fins, °C.
    pub fn evaporator_c(&self) -> f64 {
        self.evaporator_c
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
    pub fn stored_kj(&self, spec: &LoopSpec) -> f64 {
        EVAPORATOR_KJ_K * self.evaporator_c
            + CONDENSER_KJ_K * self.condenser_c
            + BOILING_KJ_K * spec.refrigerant.saturation_temperature_c(self.suction())
    }

    /// One tick of 0.1 s.
    pub fn step(&mut self, spec: &LoopSpec, inputs: &RunningInputs) -> HeatFlows {
        let air = AirSide::of(spec, inputs);
        let mut flows = HeatFlows {
            air_to_evaporator_kw: air.evaporator_kw_k * (inputs.ambient_c - self.evaporator_c),
            condenser_to_air_kw: air.condenser_kw_k * (self.condenser_c - inputs.ambient_c),
            ..HeatFlows::default()
        };
        if inputs.engaged && inputs.compressor_rpm > 0.0 {
            self.pump(spec, inputs, &mut flows);
        } else {
            self.equalise(spec, inputs);
        }
        let to_evaporator = flows.air_to_evaporator_kw - flows.metal_to_refrigerant_kw;
        self.evaporator_c += TICK_S * to_evaporator / EVAPORATOR_KJ_K;
        let to_condenser = flows.refrigeration_kw + flows.compressor_kw - flows.condenser_to_air_kw;
        self.condenser_c += TICK_S * to_condenser / CONDENSER_KJ_K;
        let outlet = inputs.ambient_c - air.cooled_share * (inputs.ambient_c - self.evaporator_c);
        self.duct_c += TICK_S / DUCT_S * (outlet - self.duct_c);
        flows
    }

    fn pump(&mut self, spec: &LoopSpec, inputs: &RunningInputs, flows: &mut HeatFlows) {
        let fluid = spec.refrigerant;
        let boil_c = fluid.saturation_temperature_c(self.suction());
        let gas_density = suction_gas_density(fluid, boil_c);
        let ratio = (self.discharge_kpa / self.suction_kpa).max(1.0);
        let swept_m3_s = spec.displacement_cm3 * 1e-6 * inputs.compressor_rpm / 60.0;
        let drawn_kg_s = volumetric_efficiency(ratio) * swept_m3_s * gas_density;

        let liquid_c = (self.condenser_c - SUBCOOLING_K).max(boil_c);
        let lift_kj_kg =
            fluid.vapour_enthalpy(boil_c, SUPERHEAT_K) - fluid.liquid_enthalpy(liquid_c);
        let wetted = wetted_share(inputs.charge_fraction);
        let boiled_kw = WETTED_KW_K * wetted * (self.evaporator_c - boil_c);
        // At the bottom of the curves the compressor can draw no more than boils
        // off: a starved loop sits in a vacuum.
        let most_kw = boiled_kw + (boil_c - FIT_LOW_C) * BOILING_KJ_K / TICK_S;
        let refrigeration_kw = (drawn_kg_s * lift_kj_kg).min(most_kw).max(0.0);
        let flow_kg_s = refrigeration_kw / lift_kj_kg;

        flows.metal_to_refrigerant_kw = boiled_kw;
        flows.flow_kg_s = flow_kg_s;
        flows.refrigeration_kw = refrigeration_kw;
        flows.compressor_kw = flow_kg_s * ideal_work_kj_kg(self.suction_kpa, gas_density, ratio)
            / COMPRESSION_EFFICIENCY;

        // Neither side can hold a higher pressure than the whole charge gives in
        // that side's room.
        let charge_kg = spec.charge_kg * inputs.charge_fraction.max(0.0);
        let next_c = boil_c + TICK_S * (boiled_kw - refrigeration_kw) / BOILING_KJ_K;
        let everywhere = fluid.vapour_pressure(self.evaporator_c, charge_kg / spec.volume_m3);
        self.suction_kpa = fluid
            .saturation_pressure(next_c)
            .0
            .min(everywhere.0.max(1.0));
        let high_side = charge_kg / (spec.volume_m3 * spec.high_side_share);
        let head = fluid
            .vapour_pressure(self.condenser_c, high_side)
            .0
            .max(self.suction_kpa);
        self.discharge_kpa += TICK_S / HEAD_S * (head - self.discharge_kpa);
    }

    fn equalise(&mut self, spec: &LoopSpec, inputs: &RunningInputs) {
        let coldest_c = self.evaporator_c.min(inputs.ambient_c);
        let charge_kg = spec.charge_kg * inputs.charge_fraction.max(0.0);
        let rest = spec
            .refrigerant
            .vapour_pressure(coldest_c, charge_kg / spec.volume_m3)
            .0;
        let share = TICK_S / EQUALISE_S;
        self.suction_kpa += share * (rest - self.suction_kpa);
        self.discharge_kpa += share * (rest - self.discharge_kpa);
    }
}

/// The air side during one tick.
struct AirSide {
    evaporator_kw_k: f64,
    condenser_kw_k: f64,
    /// How far the outlet air comes down towards the fins, 0..1.
    cooled_share: f64,
}

impl AirSide {
    fn of(spec: &LoopSpec, inputs: &RunningInputs) -> Self {
        let wetted = wetted_share(inputs.charge_fraction);
        let blower = unit(inputs.blower_airflow);
        let still_kw_k = EVAPORATOR_KJ_K / STILL_COIL_S;
        let effectiveness = effectiveness(spec.evaporator_ntu, blower);
        let moved_kw_k = blower * spec.blower_air_kg_s * AIR_HEAT_KJ_KG_K;
        let evaporator_kw_k =
            wetted * (moved_kw_k * effectiveness / spec.sensible_share).max(still_kw_k);
        // Air finds its way through a hot condenser even with the fan stopped.
        let through = inputs
            .condenser_airflow
            .max(LEAST_CONDENSER_AIRFLOW)
            .min(4.0);
        let face = (1.0 - unit(inputs.condenser_blockage)).max(0.03);
        let condenser_kw_k = face
            * condensing_share(inputs.charge_fraction)
            * through
            * spec.condenser_air_kg_s
            * AIR_HEAT_KJ_KG_K
            * self::effectiveness(spec.condenser_ntu, through);
        Self {
            evaporator_kw_k,
            condenser_kw_k,
            cooled_share: wetted * effectiveness,
        }
    }
}

/// Effectiveness of a surface at one temperature, `1 - exp(-NTU)` (heat
/// exchanger theory, any textbook), with `NTU ∝ flow^-0.4`.
fn effectiveness(ntu_at_full: f64, flow: f64) -> f64 {
    let flow = flow.max(0.01);
    1.0 - libm::exp(-ntu_at_full * libm::pow(flow, -0.4))
}

fn unit(value: f64) -> f64 {
    value.max(0.0).min(1.0)
}

/// Share of the evaporator that liquid reaches. The receiver covers a shortage
/// of about a fifth; a tenth of the charge feeds nothing.
fn wetted_share(charge_fraction: f64) -> f64 {
    ((charge_fraction - 0.1) / 0.7).max(0.01).min(1.0)
}

/// Share of the condenser left to condense in; more than a tenth too much liquid
/// begins to drown it.
fn condensing_share(charge_fraction: f64) -> f64 {
    (1.0 - 1.2 * (charge_fraction - 1.1)).max(0.3).min(1.0)
}

/// Gas left in the clearance re-expands: the higher the ratio, the less is
/// drawn in. Usual for a small piston machine (common practice, no source).
fn volumetric_efficiency(ratio: f64) -> f64 {
    (0.85 - 0.045 * (ratio - 1.0)).max(0.0)
}

/// Density of the suction gas, kg/m³: the saturated vapour's, thinned by the
/// superheat a little faster than an ideal gas.
fn suction_gas_density(fluid: Refrigerant, boil_c: f64) -> f64 {
    fluid.vapour_density(boil_c) * (1.0 - 1.25 * SUPERHEAT_K / (boil_c + 273.15 + SUPERHEAT_K))
}

/// Polytropic work of an ideal machine, kJ/kg.
fn ideal_work_kj_kg(suction_kpa: f64, gas_density: f64, ratio: f64) -> f64 {
    let exponent = (POLYTROPIC - 1.0) / POLYTROPIC;
    suction_kpa / gas_density / exponent * (libm::pow(ratio, exponent) - 1.0)
}
