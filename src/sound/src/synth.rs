//! All voices together, under one volume, and never beyond what a sample can hold.

use super::engine::Engine;
use super::horn::Horn;
use super::motor::{BLOWER, FAN, Motor, PUMP, STARTER};
use super::parts::Ramp;
use super::running::{Event, Running, tidy};
use super::shot::Shot;

/// Events at one time; more are not told apart.
const AT_ONCE: usize = 12;
/// Up to here samples are left as they are; above they bend towards 1.
const KNEE: f32 = 0.6;

/// Turns what runs and what happens into mono samples.
pub struct Synth {
    rate_hz: f32,
    volume: Ramp,
    engine: Engine,
    starter: Motor,
    blower: Motor,
    fan: Motor,
    pump: Motor,
    horn: Horn,
    shots: Vec<Shot>,
    events: u32,
}

impl Synth {
    /// Silent, at `rate_hz` samples a second (8000 to 192 000; others are brought within).
    pub fn new(rate_hz: u32) -> Synth {
        let rate_hz = rate_hz.clamp(8000, 192_000) as f32;
        Synth {
            rate_hz,
            volume: Ramp::new(0.03, rate_hz),
            engine: Engine::new(rate_hz),
            starter: Motor::new(STARTER, 0x1234_5677, rate_hz),
            blower: Motor::new(BLOWER, 0x0BAD_5EED, rate_hz),
            fan: Motor::new(FAN, 0x7EED_0123, rate_hz),
            pump: Motor::new(PUMP, 0x3C6E_F35F, rate_hz),
            horn: Horn::new(rate_hz),
            shots: Vec::with_capacity(AT_ONCE),
            events: 0,
        }
    }

    /// How loud, 0 to 1. It is reached within 30 ms, so that nothing cracks; at once where nothing sounds,
    /// so that the first click is not swallowed.
    pub fn volume(&mut self, volume: f32) {
        // Loudness follows the square better than the number (common practice, no source).
        let volume = tidy(volume, 1.0);
        if self.still() {
            self.volume.jump(volume * volume);
        } else {
            self.volume.to(volume * volume);
        }
    }

    /// What runs from now on.
    pub fn set(&mut self, running: Running) {
        let running = running.tidied();
        self.engine.set(&running);
        self.starter.set(running.starter);
        self.blower.set(running.blower);
        self.fan.set(running.fan);
        self.pump.set(running.pump);
        self.horn.set(running.horn);
    }

    /// Something happens now, so near.
    pub fn event(&mut self, event: Event, near: f32) {
        self.events = self.events.wrapping_add(1);
        let near = tidy(near, 1.0);
        if self.shots.len() < AT_ONCE && near > 0.0 {
            self.shots
                .push(Shot::new(event, near, self.events, self.rate_hz));
        }
    }

    /// Whether there is nothing to be heard, now or soon.
    pub fn silent(&self) -> bool {
        self.still() || self.volume.silent()
    }

    /// No voice sounds, however loud it would be.
    fn still(&self) -> bool {
        self.engine.silent()
            && self.starter.silent()
            && self.blower.silent()
            && self.fan.silent()
            && self.pump.silent()
            && self.horn.silent()
            && self.shots.is_empty()
    }

    /// The next samples, each between -1 and 1.
    pub fn fill(&mut self, samples: &mut [f32]) {
        for sample in samples {
            *sample = self.next();
        }
    }

    fn next(&mut self) -> f32 {
        let mut sum = self.engine.next()
            + self.starter.next()
            + self.blower.next()
            + self.fan.next()
            + self.pump.next()
            + self.horn.next();
        self.shots.retain_mut(|shot| match shot.next() {
            Some(x) => {
                sum += x;
                true
            }
            None => false,
        });
        bent(sum) * self.volume.next()
    }
}

fn bent(x: f32) -> f32 {
    let over = x.abs() - KNEE;
    if over <= 0.0 {
        x
    } else {
        let room = 1.0 - KNEE;
        (KNEE + room * libm::tanhf(over / room)).copysign(x)
    }
}
