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

use super::air_side::{AirSide, wetted_share};
use super::charge::static_pressure;
use super::pressure::AbsoluteKpa;
use super::running_table::RefrigerantLoop;
use super::saturation::FIT_LOW_C;
use crate::elements::{Bounds, TICK_S};

/// Subcooling of the liquid leaving the condenser, K.
const SUBCOOLING_K: f64 = 5.0;
/// Heat capacity of evaporator metal with its water and refrigerant, kJ/K.
pub(super) const EVAPORATOR_KJ_K: f64 = 4.5;
/// Heat capacity of the boiling refrigerant, kJ/K.
const BOILING_KJ_K: f64 = 0.5;
/// Heat capacity of condenser metal and refrigerant, kJ/K.
const CONDENSER_KJ_K: f64 = 3.5;
/// Refrigerant-side conductance of a fully wetted evaporator, kW/K.
const WETTED_KW_K: f64 = 0.8;
/// Time constant of the head pressure following the condenser, s.
const HEAD_S: f64 = 3.0;
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
    /// Boiling temperature while the compressor runs.
    boil_c: Option<f64>,
    /// The air side as last worked out, and for which inputs.
    air: Option<(RunningInputs, AirSide)>,
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
    pub fn at_rest(car: &RefrigerantLoop, ambient_c: f64, charge_fraction: f64) -> Self {
        let spec = car.spec();
        let charge_kg = spec.charge_kg * charge_fraction.at_least(0.0);
        let rest = static_pressure(spec.refrigerant, charge_kg, spec.volume_m3, ambient_c);
        Self {
            suction_kpa: rest.pressure.0,
            discharge_kpa: rest.pressure.0,
            wet_fins_c: ambient_c,
            fin_sensor_c: ambient_c,
            condenser_c: ambient_c,
            duct_c: ambient_c,
            boil_c: None,
            air: None,
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
    pub fn stored_kj(&self, car: &RefrigerantLoop, charge_fraction: f64) -> f64 {
        EVAPORATOR_KJ_K * wetted_share(charge_fraction) * self.wet_fins_c
            + CONDENSER_KJ_K * self.condenser_c
            + BOILING_KJ_K * self.boiling_c(car)
    }

    fn boiling_c(&self, car: &RefrigerantLoop) -> f64 {
        let fluid = car.spec().refrigerant;
        self.boil_c
            .unwrap_or_else(|| fluid.saturation_temperature_c(self.suction()))
    }

    /// The air side changes only with the inputs, and costs more than the rest of
    /// a tick: kept until they change.
    fn air_side(&mut self, car: &RefrigerantLoop, inputs: &RunningInputs) -> AirSide {
        match self.air {
            Some((for_inputs, air)) if for_inputs == *inputs => air,
            _ => {
                let air = AirSide::of(car.spec(), inputs);
                self.air = Some((*inputs, air));
                air
            }
        }
    }

    /// One tick of 0.1 s.
    pub fn step(&mut self, car: &RefrigerantLoop, inputs: &RunningInputs) -> HeatFlows {
        let air = self.air_side(car, inputs);
        let mut flows = HeatFlows {
            air_to_evaporator_kw: air.evaporator_kw_k * (inputs.ambient_c - self.wet_fins_c),
            condenser_to_air_kw: air.condenser_kw_k * (self.condenser_c - inputs.ambient_c),
            ..HeatFlows::default()
        };
        if inputs.engaged && inputs.compressor_rpm > 0.0 {
            self.pump(car, inputs, &mut flows);
        } else {
            self.equalise(car, inputs);
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

    fn pump(&mut self, car: &RefrigerantLoop, inputs: &RunningInputs, flows: &mut HeatFlows) {
        let spec = car.spec();
        let boil_c = self.boiling_c(car);
        let boil = car.at(boil_c);
        let ratio = (self.discharge_kpa / self.suction_kpa).at_least(1.0);
        let swept_m3_s = spec.displacement_cm3 * 1e-6 * inputs.compressor_rpm / 60.0;
        let drawn_kg_s = volumetric_efficiency(ratio) * swept_m3_s * boil.gas;

        let liquid_c = (self.condenser_c - SUBCOOLING_K).at_least(boil_c);
        let lift_kj_kg = boil.gas_kj_kg - car.at(liquid_c).liquid_kj_kg;
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
            * spec
                .refrigerant
                .ideal_work_kj_kg(boil_c, self.suction_kpa, boil.gas, ratio)
            / COMPRESSION_EFFICIENCY;

        // Neither side can hold a higher pressure than the whole charge gives in
        // that side's room.
        let charge_kg = spec.charge_kg * inputs.charge_fraction.at_least(0.0);
        let next_c = boil_c + TICK_S * (boiled_kw - refrigeration_kw) / BOILING_KJ_K;
        let everywhere = car
            .pressure_kpa(self.wet_fins_c, charge_kg / spec.volume_m3)
            .at_least(1.0);
        let next_kpa = car.at(next_c).p_kpa;
        self.suction_kpa = next_kpa.at_most(everywhere);
        // Where the charge does not give that pressure, the gas is superheated
        // all through and the boiling point follows from the pressure again.
        self.boil_c = (next_kpa <= everywhere).then_some(next_c);
        let high_side = charge_kg / (spec.volume_m3 * spec.high_side_share);
        let head = car
            .pressure_kpa(self.condenser_c, high_side)
            .at_least(self.suction_kpa);
        self.discharge_kpa += TICK_S / HEAD_S * (head - self.discharge_kpa);
    }

    fn equalise(&mut self, car: &RefrigerantLoop, inputs: &RunningInputs) {
        let coldest_c = self.wet_fins_c.at_most(inputs.ambient_c);
        let charge_kg = car.spec().charge_kg * inputs.charge_fraction.at_least(0.0);
        let rest = car.pressure_kpa(coldest_c, charge_kg / car.spec().volume_m3);
        self.boil_c = None;
        self.suction_kpa += TICK_S / BOIL_UP_S * (rest - self.suction_kpa);
        self.discharge_kpa += TICK_S / EQUALISE_S * (rest - self.discharge_kpa);
    }
}

/// Gas left in the clearance re-expands: the higher the ratio, the less is
/// drawn in. Usual for a small piston machine (common practice, no source).
fn volumetric_efficiency(ratio: f64) -> f64 {
    (0.85 - 0.045 * (ratio - 1.0)).at_least(0.0)
}
