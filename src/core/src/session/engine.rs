//! The engine: starts, runs, stops. As much of it as the electrics need.
//!
//! Assumptions (common practice, no source): it fires after 0.8 s of cranking at half the starter's
//! rated speed or more with fuel and spark; it dies at once without spark and after two seconds
//! without fuel; coolant warms towards 90 °C with a time constant of four minutes.

use super::observation::Sound;

/// What the engine needs, as fractions of rated working.
#[derive(Copy, Clone, Debug)]
pub(crate) struct EngineInputs {
    pub cranking_speed: f64,
    pub fuel: f64,
    pub spark: f64,
    pub key_on: bool,
    pub idle_rpm: f64,
    pub ambient_c: f64,
}

#[derive(Copy, Clone, Debug, PartialEq)]
enum Phase {
    Stopped,
    Cranking { ticks: u32 },
    Running { starved: u32 },
}

/// The engine.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Engine {
    phase: Phase,
    pub rpm: f64,
    pub coolant_c: f64,
}

const FIRES_AFTER_TICKS: u32 = 8;
const STARVES_AFTER_TICKS: u32 = 20;
const CRANKING_RPM: f64 = 220.0;
const WARM_C: f64 = 90.0;
const WARMING_TICKS: f64 = 2_400.0;

impl Engine {
    /// An engine that was driven in an hour ago.
    pub fn new(ambient_c: f64) -> Engine {
        Engine {
            phase: Phase::Stopped,
            rpm: 0.0,
            coolant_c: ambient_c + 25.0,
        }
    }

    pub fn running(&self) -> bool {
        matches!(self.phase, Phase::Running { .. })
    }

    pub fn turning(&self) -> bool {
        !matches!(self.phase, Phase::Stopped)
    }

    pub fn cranking(&self) -> bool {
        matches!(self.phase, Phase::Cranking { .. })
    }

    /// One tick; says what is heard if its phase changes.
    pub fn tick(&mut self, inputs: &EngineInputs) -> Option<Sound> {
        let cranks = inputs.cranking_speed > 0.5;
        let mut heard = None;
        self.phase = match self.phase {
            Phase::Stopped if cranks => {
                heard = Some(Sound::Cranking);
                Phase::Cranking { ticks: 0 }
            }
            Phase::Stopped => Phase::Stopped,
            Phase::Cranking { ticks } => {
                let fires = inputs.key_on && inputs.fuel > 0.6 && inputs.spark > 0.5;
                if fires && ticks >= FIRES_AFTER_TICKS {
                    heard = Some(Sound::EngineStarts);
                    Phase::Running { starved: 0 }
                } else if cranks {
                    Phase::Cranking { ticks: ticks + 1 }
                } else {
                    Phase::Stopped
                }
            }
            Phase::Running { starved } => {
                let starved = if inputs.fuel > 0.5 { 0 } else { starved + 1 };
                if !inputs.key_on || inputs.spark < 0.3 || starved > STARVES_AFTER_TICKS {
                    heard = Some(Sound::EngineStops);
                    Phase::Stopped
                } else {
                    Phase::Running { starved }
                }
            }
        };
        let wanted = match self.phase {
            Phase::Stopped => 0.0,
            Phase::Cranking { .. } => CRANKING_RPM,
            Phase::Running { .. } => inputs.idle_rpm,
        };
        self.rpm = if wanted == 0.0 {
            0.0
        } else {
            self.rpm + 0.4 * (wanted - self.rpm)
        };
        let towards = if self.running() {
            WARM_C
        } else {
            inputs.ambient_c
        };
        let time = if self.running() {
            WARMING_TICKS
        } else {
            10.0 * WARMING_TICKS
        };
        self.coolant_c += (towards - self.coolant_c) / time;
        heard
    }
}
