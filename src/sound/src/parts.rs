//! What every voice is made of: noise, a turning phase, a ramp, a wall to hear through.

/// White noise, the same every time (xorshift, Marsaglia 2003).
#[derive(Clone, Debug)]
pub struct Noise(u32);

impl Noise {
    pub fn new(seed: u32) -> Noise {
        Noise(seed | 1)
    }

    /// The next value, -1 to 1.
    pub fn next(&mut self) -> f32 {
        let mut x = self.0;
        x ^= x << 13;
        x ^= x >> 17;
        x ^= x << 5;
        self.0 = x;
        (x >> 8) as f32 / 8_388_608.0 - 1.0
    }
}

/// A phase in turns, 0 to 1.
#[derive(Clone, Copy, Debug, Default)]
pub struct Phase(pub f64);

impl Phase {
    /// Turns on by one sample; true when a turn is complete.
    pub fn step(&mut self, hz: f32, rate_hz: f32) -> bool {
        self.0 += f64::from(hz) / f64::from(rate_hz);
        let over = self.0 >= 1.0;
        if over {
            self.0 -= libm::floor(self.0);
        }
        over
    }

    /// The `k`th harmonic.
    pub fn harmonic(self, k: u32) -> f32 {
        sine((self.0 * f64::from(k)) as f32)
    }
}

/// Sine of a number of turns.
pub fn sine(turns: f32) -> f32 {
    libm::sinf(core::f32::consts::TAU * (turns - libm::floorf(turns)))
}

/// Goes to where it is told in a straight line, so that nothing begins or ends with a crack.
#[derive(Clone, Copy, Debug, Default)]
pub struct Ramp {
    now: f32,
    target: f32,
    step: f32,
}

impl Ramp {
    /// A ramp that takes `seconds` from 0 to 1.
    pub fn new(seconds: f32, rate_hz: f32) -> Ramp {
        Ramp {
            now: 0.0,
            target: 0.0,
            step: 1.0 / (seconds * rate_hz),
        }
    }

    pub fn to(&mut self, target: f32) {
        self.target = target;
    }

    /// At once: for what is not heard at the moment.
    pub fn jump(&mut self, target: f32) {
        self.now = target;
        self.target = target;
    }

    pub fn next(&mut self) -> f32 {
        self.now += (self.target - self.now).clamp(-self.step, self.step);
        self.now
    }

    /// Nothing is to be heard, now or soon.
    pub fn silent(&self) -> bool {
        self.now == 0.0 && self.target == 0.0
    }
}

/// A low-pass of first order.
#[derive(Clone, Copy, Debug, Default)]
pub struct Dull {
    state: f32,
}

impl Dull {
    /// How much of a new sample it takes for a corner at `hz` (bilinear terms left out: exact enough
    /// for an ear).
    pub fn share(hz: f32, rate_hz: f32) -> f32 {
        1.0 - libm::expf(-core::f32::consts::TAU * hz / rate_hz)
    }

    pub fn next(&mut self, x: f32, share: f32) -> f32 {
        self.state += share * (x - self.state);
        // Numbers too small to hear are slow to compute with.
        if self.state.abs() < 1e-20 {
            self.state = 0.0;
        }
        self.state
    }
}

/// What is far or behind sheet metal is softer and duller (common practice, no source).
#[derive(Clone, Copy, Debug)]
pub struct Distance {
    near: Ramp,
    at: f32,
    share: f32,
    dull: Dull,
    rate_hz: f32,
}

impl Distance {
    pub fn new(rate_hz: f32) -> Distance {
        Distance {
            near: Ramp::new(0.25, rate_hz),
            at: -1.0,
            share: 1.0,
            dull: Dull::default(),
            rate_hz,
        }
    }

    /// At once: for what begins.
    pub fn begin(&mut self, near: f32) {
        self.near.jump(near);
        self.dull = Dull::default();
    }

    pub fn to(&mut self, near: f32) {
        self.near.to(near);
    }

    pub fn next(&mut self, x: f32) -> f32 {
        let near = self.near.next();
        if near != self.at {
            self.at = near;
            let hz = 300.0 * libm::powf(60.0, near);
            self.share = Dull::share(hz, self.rate_hz);
        }
        self.dull.next(x, self.share) * near
    }
}
