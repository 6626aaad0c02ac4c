//! A pair of horns: two tones near 400 and 500 Hz (common practice, no source), both rich in harmonics.

use super::parts::{Distance, Phase, Ramp};
use super::running::Source;

pub const LOW_HZ: f32 = 400.0;
pub const HIGH_HZ: f32 = 500.0;
const HARMONICS: [f32; 7] = [1.0, 0.8, 0.7, 0.45, 0.35, 0.2, 0.15];

pub struct Horn {
    level: Ramp,
    distance: Distance,
    low: Phase,
    high: Phase,
    rate_hz: f32,
}

impl Horn {
    pub fn new(rate_hz: f32) -> Horn {
        Horn {
            level: Ramp::new(0.03, rate_hz),
            distance: Distance::new(rate_hz),
            low: Phase::default(),
            high: Phase::default(),
            rate_hz,
        }
    }

    pub fn set(&mut self, source: Source) {
        let on = source.share > 0.0;
        if on && self.level.silent() {
            self.distance.begin(source.near);
            (self.low, self.high) = (Phase::default(), Phase::default());
        }
        self.level.to(if on { 1.0 } else { 0.0 });
        self.distance.to(source.near);
    }

    pub fn silent(&self) -> bool {
        self.level.silent()
    }

    pub fn next(&mut self) -> f32 {
        if self.silent() {
            return 0.0;
        }
        let level = self.level.next();
        self.low.step(LOW_HZ, self.rate_hz);
        self.high.step(HIGH_HZ, self.rate_hz);
        let mut tone = 0.0;
        for (k, strength) in (1..).zip(HARMONICS) {
            tone += strength * (self.low.harmonic(k) + self.high.harmonic(k));
        }
        self.distance.next(0.11 * tone * level)
    }
}
