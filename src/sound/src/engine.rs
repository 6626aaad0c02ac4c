//! A four-stroke engine: every cylinder fires once in two turns, so it fires turns a minute / 120 times
//! the number of cylinders in a second (handbook fact, from memory).

use super::parts::{Distance, Dull, Noise, Phase, Ramp};
use super::running::Running;

/// How unlike the cylinders are; what makes an idle lope (no source).
const UNLIKE: [f32; 6] = [1.0, 0.93, 1.05, 0.97, 1.03, 0.95];
/// Strength of a firing's harmonics (tuned by ear's rule, no source: a small loudspeaker lets through
/// only the higher ones).
const HARMONICS: [f32; 10] = [1.0, 0.7, 0.55, 0.4, 0.32, 0.25, 0.2, 0.16, 0.12, 0.1];

pub struct Engine {
    level: Ramp,
    distance: Distance,
    firing: Phase,
    turn: Phase,
    cylinder: usize,
    cylinders: u8,
    rpm: f32,
    target_rpm: f32,
    noise: Noise,
    breath: Dull,
    loaded: Ramp,
    follows: f32,
    rate_hz: f32,
}

impl Engine {
    pub fn new(rate_hz: f32) -> Engine {
        Engine {
            level: Ramp::new(0.12, rate_hz),
            distance: Distance::new(rate_hz),
            firing: Phase::default(),
            turn: Phase::default(),
            cylinder: 0,
            cylinders: 4,
            rpm: 0.0,
            target_rpm: 0.0,
            noise: Noise::new(0x51ED_270B),
            breath: Dull::default(),
            loaded: Ramp::new(0.08, rate_hz),
            follows: Dull::share(1.5, rate_hz),
            rate_hz,
        }
    }

    pub fn set(&mut self, running: &Running) {
        let runs = running.engine_rpm >= 1.0;
        if runs && self.level.silent() {
            self.rpm = running.engine_rpm;
            self.distance.begin(running.engine_near);
            self.breath = Dull::default();
            (self.firing, self.turn) = (Phase::default(), Phase::default());
            self.cylinder = 0;
        }
        self.cylinders = running.cylinders;
        // It runs down while it falls silent.
        self.target_rpm = if runs { running.engine_rpm } else { 200.0 };
        self.level.to(if runs { 1.0 } else { 0.0 });
        self.distance.to(running.engine_near);
        self.loaded.to(running.compressor.share.min(1.0));
    }

    pub fn silent(&self) -> bool {
        self.level.silent()
    }

    pub fn next(&mut self) -> f32 {
        if self.silent() {
            return 0.0;
        }
        let level = self.level.next();
        self.rpm += self.follows * (self.target_rpm - self.rpm);
        let hz = self.rpm / 120.0 * f32::from(self.cylinders);
        if self.firing.step(hz, self.rate_hz) {
            self.cylinder = (self.cylinder + 1) % usize::from(self.cylinders);
        }
        self.turn.step(self.rpm / 60.0, self.rate_hz);
        let mut pulse = 0.0;
        for (k, strength) in (1..).zip(HARMONICS) {
            pulse += strength * self.firing.harmonic(k);
        }
        let share = Dull::share(1400.0, self.rate_hz);
        let breath = self.breath.next(self.noise.next(), share);
        let puff = libm::expf(-5.0 * self.firing.0 as f32);
        let loaded = self.loaded.next();
        // A compressor's pistons: 7 strokes a turn (invented), low and steady.
        let compressor = loaded * self.turn.harmonic(7) * 0.05;
        let unlike = UNLIKE[self.cylinder % UNLIKE.len()];
        let whole = (0.11 * pulse + 0.7 * breath * puff) * unlike * (1.0 + 0.25 * loaded);
        self.distance.next((whole + compressor) * level)
    }
}
