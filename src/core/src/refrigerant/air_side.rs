//! The air side of evaporator and condenser: conductances from airflow.
//!
//! Knows the sizes and the inputs of the loop, not its state.

use super::running::{EVAPORATOR_KJ_K, RunningInputs};
use super::running_spec::LoopSpec;
use crate::elements::Bounds;

/// Specific heat of air at constant pressure, kJ/(kg K).
const AIR_HEAT_KJ_KG_K: f64 = 1.006;
/// Airflow through the condenser with the fan stopped, against 1 at full.
const LEAST_CONDENSER_AIRFLOW: f64 = 0.08;
/// Time constant of a stopped coil without airflow drifting to the air's
/// temperature, s.
const STILL_COIL_S: f64 = 240.0;

/// The air side during one tick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct AirSide {
    pub evaporator_kw_k: f64,
    pub condenser_kw_k: f64,
    /// How far air passing wetted fins comes down towards them, 0..1.
    pub effectiveness: f64,
    /// Share of the fins that liquid reaches, 0..1.
    pub wetted: f64,
}

impl AirSide {
    pub fn of(spec: &LoopSpec, inputs: &RunningInputs) -> Self {
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
pub(super) fn wetted_share(charge_fraction: f64) -> f64 {
    ((charge_fraction - 0.1) / 0.7).at_least(0.01).at_most(1.0)
}

/// Share of the condenser left to condense in; more than a tenth too much liquid
/// begins to drown it.
fn condensing_share(charge_fraction: f64) -> f64 {
    (1.0 - 1.2 * (charge_fraction - 1.1))
        .at_least(0.3)
        .at_most(1.0)
}
