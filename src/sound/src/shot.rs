//! What is heard once. Lengths and pitches are common practice without a source; a test holds a relay's
//! click under 50 ms.

use super::parts::{Distance, Dull, Noise, sine};
use super::running::Event;

/// One event while it sounds.
pub struct Shot {
    event: Event,
    age: u32,
    noise: Noise,
    dull: Dull,
    distance: Distance,
    rate_hz: f32,
}

/// It begins and ends within this, without a crack of its own.
const EDGE_S: f32 = 0.0008;

impl Shot {
    pub fn new(event: Event, near: f32, seed: u32, rate_hz: f32) -> Shot {
        let mut distance = Distance::new(rate_hz);
        distance.begin(near);
        Shot {
            event,
            age: 0,
            noise: Noise::new(0x2545_F491 ^ seed.wrapping_mul(0x9E37_79B9)),
            dull: Dull::default(),
            distance,
            rate_hz,
        }
    }

    fn length_s(&self) -> f32 {
        match self.event {
            Event::RelayClick => 0.028,
            Event::PlugClick => 0.022,
            Event::SparkSmall => 0.03,
            Event::SparkStrong => 0.12,
            Event::ClutchIn | Event::StarterClick => 0.16,
            Event::ClutchOut => 0.12,
            Event::EngineStops => 0.45,
            Event::RelayBuzz => 0.7,
            Event::EngineStarts => 0.6,
            Event::Hiss => 1.4,
        }
    }

    /// The next sample; none when it is over.
    pub fn next(&mut self) -> Option<f32> {
        let t = self.age as f32 / self.rate_hz;
        let left = self.length_s() - t;
        if left <= 0.0 {
            return None;
        }
        self.age += 1;
        let edge = (t.min(left) / EDGE_S).min(1.0);
        let x = self.wave(t) * edge;
        // After the wall as well: what it rings on must not be cut off.
        Some(self.distance.next(x) * (left / EDGE_S).min(1.0))
    }

    fn wave(&mut self, t: f32) -> f32 {
        let noise = self.noise.next();
        let soft = |dull: &mut Dull, hz, rate| dull.next(noise, Dull::share(hz, rate));
        let gone = |after: f32, tau: f32| {
            if t < after {
                0.0
            } else {
                libm::expf(-(t - after) / tau)
            }
        };
        match self.event {
            // The armature strikes, and the contact bounces once.
            Event::RelayClick => {
                let strike = gone(0.0, 0.003) + 0.5 * gone(0.007, 0.002);
                strike * (0.35 * noise + 0.45 * sine(2300.0 * t) + 0.25 * sine(870.0 * t))
            }
            Event::PlugClick => {
                gone(0.0, 0.0035) * (0.25 * noise + 0.3 * sine(1500.0 * t))
                    + gone(0.01, 0.002) * 0.2 * noise
            }
            Event::RelayBuzz => {
                let within = (95.0 * t) % 1.0;
                let strike = libm::expf(-within / 0.18);
                strike * (0.2 * noise + 0.3 * sine(1900.0 * t))
            }
            Event::ClutchIn => {
                gone(0.0, 0.004) * 0.4 * noise
                    + gone(0.0, 0.035) * (0.55 * sine(140.0 * t) + 0.2 * sine(610.0 * t))
            }
            Event::ClutchOut => {
                gone(0.0, 0.003) * 0.25 * noise + gone(0.0, 0.02) * 0.3 * sine(190.0 * t)
            }
            Event::StarterClick => {
                gone(0.0, 0.006) * 0.5 * noise + gone(0.0, 0.03) * 0.5 * sine(230.0 * t)
            }
            Event::EngineStarts => {
                let swell = sine(t / 1.2);
                swell * (0.45 * soft(&mut self.dull, 700.0, self.rate_hz) + 0.12 * sine(55.0 * t))
            }
            Event::EngineStops => {
                let slower = 24.0 * t - 16.0 * t * t;
                gone(0.0, 0.15) * 0.35 * sine(slower) * (0.6 + 0.4 * sine(90.0 * t))
            }
            Event::SparkSmall => gone(0.0, 0.006) * 0.3 * noise,
            Event::SparkStrong => {
                let cracks = gone(0.0, 0.008) + 0.8 * gone(0.022, 0.006) + 0.5 * gone(0.051, 0.012);
                cracks * 0.75 * noise
            }
            Event::Hiss => {
                let low = soft(&mut self.dull, 2500.0, self.rate_hz);
                (1.0 - t / 1.4) * (t / 0.03).min(1.0) * 0.4 * (noise - low)
            }
        }
    }
}
