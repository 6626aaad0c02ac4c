//! Electric motors with what they drive: air or fuel that is moved, and the hum of turning.

use super::parts::{Distance, Dull, Noise, Phase, Ramp};
use super::running::Source;

/// How a motor sounds. Tuned without a source: which parts there are is common practice.
#[derive(Clone, Copy)]
pub struct Character {
    /// Hum at full speed, Hz.
    pub hum_hz: f32,
    /// Strength of the hum.
    pub hum: f32,
    /// Corner of the air's noise at full speed, Hz.
    pub air_hz: f32,
    /// Strength of the air.
    pub air: f32,
    /// Swells in a second at full speed: the compression strokes that a starter works against.
    pub swells_hz: f32,
}

pub const BLOWER: Character = Character {
    hum_hz: 210.0,
    hum: 0.015,
    air_hz: 2200.0,
    air: 0.75,
    swells_hz: 0.0,
};
pub const FAN: Character = Character {
    hum_hz: 280.0,
    hum: 0.10,
    air_hz: 900.0,
    air: 0.7,
    swells_hz: 0.0,
};
pub const PUMP: Character = Character {
    hum_hz: 150.0,
    hum: 0.03,
    air_hz: 500.0,
    air: 0.02,
    swells_hz: 0.0,
};
pub const STARTER: Character = Character {
    hum_hz: 240.0,
    hum: 0.22,
    air_hz: 1200.0,
    air: 0.12,
    swells_hz: 7.3,
};

pub struct Motor {
    is: Character,
    level: Ramp,
    distance: Distance,
    share: f32,
    target: f32,
    hum: Phase,
    swell: Phase,
    noise: Noise,
    air: Dull,
    follows: f32,
    rate_hz: f32,
}

impl Motor {
    pub fn new(is: Character, seed: u32, rate_hz: f32) -> Motor {
        Motor {
            is,
            level: Ramp::new(0.08, rate_hz),
            distance: Distance::new(rate_hz),
            share: 0.0,
            target: 0.0,
            hum: Phase::default(),
            swell: Phase::default(),
            noise: Noise::new(seed),
            air: Dull::default(),
            follows: Dull::share(1.2, rate_hz),
            rate_hz,
        }
    }

    pub fn set(&mut self, source: Source) {
        let on = source.share > 0.0;
        if on && self.level.silent() {
            self.distance.begin(source.near);
            self.air = Dull::default();
            self.share = 0.5 * source.share;
        }
        self.target = if on { source.share } else { 0.0 };
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
        self.share += self.follows * (self.target - self.share);
        let share = self.share.max(0.0);
        self.hum.step(self.is.hum_hz * share, self.rate_hz);
        let hum = self.hum.harmonic(1) + 0.5 * self.hum.harmonic(2) + 0.25 * self.hum.harmonic(5);
        let corner = Dull::share(self.is.air_hz * share, self.rate_hz);
        let air = self.air.next(self.noise.next(), corner);
        let mut whole = self.is.hum * hum + self.is.air * air;
        if self.is.swells_hz > 0.0 {
            self.swell.step(self.is.swells_hz * share, self.rate_hz);
            whole *= 0.65 + 0.35 * self.swell.harmonic(1);
        }
        self.distance.next(whole * level * share.min(1.2))
    }
}
