//! The refrigerant loop and the compressor's clutch, as the car drives them.
//!
//! Binds the physics of [`crate::refrigerant`] and [`crate::elements::clutch`] to one car; knows
//! no circuit beyond the clutch coil's current.

use super::observation::Sound;
use crate::elements::clutch::{ClutchSpec, CoilHeat};
use crate::fault::Wrong;
use crate::refrigerant::{LoopSpec, Refrigerant, RefrigerantLoop, RunningInputs, RunningState};
use crate::scenario::Case;
use crate::vehicle::hardware::Hardware;
use crate::vehicle::{Fluid, Kind, LoopSide};

/// Compressor pulley turns per engine turn (common practice, no source).
const PULLEY_RATIO: f64 = 1.2;

/// The loop in motion.
#[derive(Clone)]
pub(crate) struct Climate {
    pub clutch: String,
    pub blower: String,
    pub fans: Vec<String>,
    spec: RefrigerantLoop,
    state: RunningState,
    clutch_spec: ClutchSpec,
    coil: CoilHeat,
    applied_coil_c: f64,
    pub engaged: bool,
    charge_fraction: f64,
    blockage: f64,
    rest_ticks: u32,
}

impl Climate {
    /// The loop of a car that has stood for an hour, or nothing if it has none.
    pub fn new(case: &Case) -> Option<Climate> {
        let ac = case.vehicle.air_conditioning.as_ref()?;
        let refrigerant = match ac.refrigerant {
            Fluid::R134a => Refrigerant::R134a,
            Fluid::R1234yf => Refrigerant::R1234yf,
        };
        let spec = LoopSpec {
            refrigerant,
            charge_kg: ac.charge_kg,
            volume_m3: ac.volume_litres / 1000.0,
            ..LoopSpec::default()
        };
        let spec = RefrigerantLoop::new(spec);
        let mut climate = Climate {
            clutch: ac.clutch.clone(),
            blower: ac.blower.clone(),
            fans: ac.fans.clone(),
            state: RunningState::at_rest(&spec, case.ambient_c, 1.0),
            spec,
            clutch_spec: ClutchSpec::new(3.6, 0.45).ok()?,
            coil: CoilHeat {
                coil_c: case.ambient_c + 10.0,
            },
            applied_coil_c: f64::NEG_INFINITY,
            engaged: false,
            charge_fraction: 1.0,
            blockage: 0.0,
            rest_ticks: 0,
        };
        let faults = case.faults().map(|f| &f.what);
        let (charge, ..) = charge_and_blockage(faults);
        climate.state = RunningState::at_rest(&climate.spec, case.ambient_c, charge);
        Some(climate)
    }

    /// Takes over what the acting faults do to charge, airflow and the clutch's gap.
    pub fn take_faults(&mut self, case: &Case, hw: &Hardware) {
        let acting = || {
            hw.faults
                .iter()
                .filter(|f| !f.mended && !f.away)
                .map(|f| &f.fault.what)
        };
        let (charge, blockage, gap) = charge_and_blockage(acting());
        if charge != self.charge_fraction {
            // A recharge takes longer than the loop needs to settle.
            self.charge_fraction = charge;
            self.state = RunningState::at_rest(&self.spec, case.ambient_c, charge);
        }
        self.blockage = blockage;
        let file = case.vehicle.parts.get(&self.clutch).map(|p| &p.kind);
        if let Some(Kind::ClutchCoil { ohms, gap_mm, .. }) = file
            && let Ok(spec) = ClutchSpec::new(*ohms, gap.unwrap_or(*gap_mm))
        {
            self.clutch_spec = spec;
        }
    }

    /// Gauge pressure on one side, kilopascals.
    pub fn gauge_kpa(&self, side: LoopSide) -> f64 {
        match side {
            LoopSide::Low => self.state.suction().gauge().0,
            LoopSide::High => self.state.discharge().gauge().0,
        }
    }

    /// Evaporator fins, °C.
    pub fn evaporator_c(&self) -> f64 {
        self.state.evaporator_c()
    }

    /// Air at the outlet, °C.
    pub fn duct_c(&self) -> f64 {
        self.state.duct_c()
    }

    /// Coil resistance at its present temperature, if that moved by two kelvin since last asked.
    pub fn coil_ohms(&mut self, always: bool) -> Option<f64> {
        let c = libm::round(self.coil.coil_c);
        if !always && (c - self.applied_coil_c).abs() < 2.0 {
            return None;
        }
        self.applied_coil_c = c;
        Some(self.clutch_spec.coil_ohms(c))
    }

    /// The clutch plate follows the coil's current.
    pub fn move_clutch(&mut self, amps: f64) -> Option<Sound> {
        let threshold = if self.engaged {
            self.clutch_spec.hold_a()
        } else {
            self.clutch_spec.pull_in_a()
        };
        let engaged = amps >= threshold;
        if engaged == self.engaged {
            return None;
        }
        self.engaged = engaged;
        Some(if engaged {
            Sound::ClutchIn
        } else {
            Sound::ClutchOut
        })
    }

    /// One tick. `blower` and `fan` are fractions of rated speed.
    pub fn tick(
        &mut self,
        engine_rpm: f64,
        blower: f64,
        fan: f64,
        coil_a: f64,
        ambient_c: f64,
        engine_runs: bool,
    ) {
        let housing_c = ambient_c + if engine_runs { 35.0 } else { 10.0 };
        self.clutch_spec
            .heat_step(&mut self.coil, coil_a, housing_c);
        let inputs = RunningInputs {
            engaged: self.engaged && engine_rpm > 0.0,
            compressor_rpm: engine_rpm * PULLEY_RATIO,
            ambient_c,
            condenser_airflow: fan,
            blower_airflow: blower.min(1.0),
            charge_fraction: self.charge_fraction,
            condenser_blockage: self.blockage,
        };
        self.state.step(&self.spec, &inputs);
        self.rest_ticks = if inputs.engaged {
            0
        } else {
            self.rest_ticks.saturating_add(1)
        };
    }
}

fn charge_and_blockage<'a>(faults: impl Iterator<Item = &'a Wrong>) -> (f64, f64, Option<f64>) {
    let (mut charge, mut blockage, mut gap) = (1.0, 0.0, None);
    for wrong in faults {
        match wrong {
            Wrong::Charge(f) => charge = *f,
            Wrong::CondenserBlocked(f) => blockage = *f,
            Wrong::Gap(mm) => gap = Some(*mm),
            _ => {}
        }
    }
    (charge, blockage, gap)
}
