//! The laws of the elements whose current does not follow their voltage in a straight line.
//!
//! Each law gives current and slope at a voltage. Each is continuous and rises everywhere, which is what
//! makes the operating point unique; none can overflow for a finite voltage. Knows one element at a time.

use super::network::{Element, MOTOR_STANDS_V};

/// Slope beyond a current limit, so that a node fed only by limited elements still has an answer.
const LIMIT_SLOPE_S: f64 = 1e-7;
/// Leakage beside a junction: a blocked junction's own slope underflows to zero.
const JUNCTION_LEAK_S: f64 = 1e-12;
/// Leakage beside a fan motor, whose law has slope zero where it just begins to turn.
const MOTOR_LEAK_S: f64 = 1e-9;
/// Where a fan motor is first linearised. Any guess would do; this one is near a vehicle's working point.
const MOTOR_FIRST_V: f64 = 12.0;

/// Current and slope of an element at some voltage.
#[derive(Copy, Clone, Debug)]
pub(super) struct Tangent {
    pub(super) amps: f64,
    pub(super) siemens: f64,
}

impl Tangent {
    /// The same with a conductance beside the element.
    pub(super) fn beside(self, siemens: f64, v: f64) -> Tangent {
        Tangent {
            amps: self.amps + siemens * v,
            siemens: self.siemens + siemens,
        }
    }
}

/// How current follows voltage.
#[derive(Copy, Clone, Debug)]
pub(super) enum Law {
    /// `i = siemens * (v - emf_v)`: in this form nothing cancels that the voltages do not cancel themselves.
    Line {
        siemens: f64,
        emf_v: f64,
    },
    Curve(Device),
}

/// The constants of a curved law, worked out once from the element's values.
#[derive(Copy, Clone, Debug)]
pub(super) enum Device {
    Filament {
        cold_ohms: f64,
        hot_ohms: f64,
        scale_v2: f64,
    },
    Diode {
        saturation_a: f64,
        slope_v: f64,
        ohms: f64,
    },
    Fan {
        ohms: f64,
        volts_per_sqrt_a: f64,
    },
    Limiter {
        siemens: f64,
        limit_a: f64,
        knee_v: f64,
    },
    LimitedSource {
        emf_v: f64,
        siemens: f64,
        limit_a: f64,
        limit_v: f64,
    },
}

impl Law {
    /// The law of an element; a contact is taken as closed.
    pub(super) fn of(element: &Element) -> Law {
        match *element {
            Element::Open => Law::Line {
                siemens: 0.0,
                emf_v: 0.0,
            },
            Element::Resistor { ohms } | Element::Contact { ohms, .. } => Law::Line {
                siemens: 1.0 / ohms,
                emf_v: 0.0,
            },
            Element::Source { emf_v, ohms } => Law::Line {
                siemens: 1.0 / ohms,
                emf_v,
            },
            Element::LimitedSource {
                emf_v,
                ohms,
                limit_a,
            } => Law::Curve(Device::LimitedSource {
                emf_v,
                siemens: 1.0 / ohms,
                limit_a,
                limit_v: emf_v - limit_a * ohms,
            }),
            Element::Filament {
                rated_v,
                rated_a,
                cold_fraction,
            } => {
                let hot_ohms = rated_v / rated_a;
                let s3 = 1.0 / cold_fraction;
                let s = libm::cbrt(s3);
                let s10 = s3 * s3 * s3 * s;
                Law::Curve(Device::Filament {
                    cold_ohms: hot_ohms * cold_fraction,
                    hot_ohms,
                    scale_v2: rated_v * rated_v / (s3 * (s10 - 1.0)),
                })
            }
            Element::Diode {
                saturation_a,
                slope_v,
                ohms,
            } => Law::Curve(Device::Diode {
                saturation_a,
                slope_v,
                ohms,
            }),
            Element::FanMotor {
                ohms,
                volts_per_rad_s: k,
                load_nms2,
            } => Law::Curve(Device::Fan {
                ohms,
                volts_per_sqrt_a: k * (k / load_nms2).sqrt(),
            }),
            Element::Limiter { on_ohms, limit_a } => Law::Curve(Device::Limiter {
                siemens: 1.0 / on_ohms,
                limit_a,
                knee_v: limit_a * on_ohms,
            }),
        }
    }

    /// Current and slope at a voltage.
    pub(super) fn tangent(&self, v: f64) -> Tangent {
        match self {
            Law::Line { siemens, emf_v } => Tangent {
                amps: siemens * (v - emf_v),
                siemens: *siemens,
            },
            Law::Curve(device) => device.at(v),
        }
    }

    /// Current at a voltage.
    pub(super) fn amps(&self, v: f64) -> f64 {
        self.tangent(v).amps
    }
}

impl Device {
    /// A straight line to start from when nothing is known of the voltage: current at zero volts, and slope.
    pub(super) fn first_line(&self) -> Tangent {
        match *self {
            Device::Filament { hot_ohms, .. } => Tangent {
                amps: 0.0,
                siemens: 1.0 / hot_ohms,
            },
            Device::Fan { .. } => {
                let at = self.at(MOTOR_FIRST_V);
                Tangent {
                    amps: 0.0,
                    siemens: at.amps / MOTOR_FIRST_V,
                }
            }
            Device::Limiter { siemens, .. } => Tangent { amps: 0.0, siemens },
            Device::LimitedSource { emf_v, siemens, .. } => Tangent {
                amps: -emf_v * siemens,
                siemens,
            },
            Device::Diode { .. } => self.at(0.0),
        }
    }

    /// Current and slope at a voltage.
    pub(super) fn at(&self, v: f64) -> Tangent {
        match *self {
            Device::Filament {
                cold_ohms,
                scale_v2,
                ..
            } => filament(v, cold_ohms, scale_v2),
            Device::Diode {
                saturation_a,
                slope_v,
                ohms,
            } => diode(v, saturation_a, slope_v, ohms),
            Device::Fan {
                ohms,
                volts_per_sqrt_a,
            } => fan(v, ohms, volts_per_sqrt_a),
            Device::Limiter {
                siemens,
                limit_a,
                knee_v,
            } => {
                if v.abs() <= knee_v {
                    return Tangent {
                        amps: siemens * v,
                        siemens,
                    };
                }
                let amps = limit_a + (v.abs() - knee_v) * LIMIT_SLOPE_S;
                Tangent {
                    amps: if v < 0.0 { -amps } else { amps },
                    siemens: LIMIT_SLOPE_S,
                }
            }
            Device::LimitedSource {
                emf_v,
                siemens,
                limit_a,
                limit_v,
            } => {
                if v > emf_v {
                    Tangent {
                        amps: (v - emf_v) * LIMIT_SLOPE_S,
                        siemens: LIMIT_SLOPE_S,
                    }
                } else if v < limit_v {
                    Tangent {
                        amps: (v - limit_v) * LIMIT_SLOPE_S - limit_a,
                        siemens: LIMIT_SLOPE_S,
                    }
                } else {
                    Tangent {
                        amps: (v - emf_v) * siemens,
                        siemens,
                    }
                }
            }
        }
    }
}

/// Power, as a share of the scale, at which a filament is as cold as its surroundings.
const COLD: f64 = 1e-8;

/// With s = (T/Tc)^0.4 the resistance goes as s³ and the radiated power as s¹⁰ - 1, so that the balance
/// `v² = K s³ (s¹⁰ - 1)` is a polynomial and needs no transcendental function.
fn filament(v: f64, cold_ohms: f64, scale_v2: f64) -> Tangent {
    let q = v * v / scale_v2;
    if q < COLD {
        // What is left out is below the last bit.
        let s = 1.0 + 0.1 * q;
        let siemens = 1.0 / (cold_ohms * s * s * s);
        return Tangent {
            amps: v * siemens,
            siemens: siemens * (1.0 - 0.6 * q),
        };
    }
    // x^(1/16) * x^(1/64): close above the root of s^13 = x.
    let x16 = (1.0 + q).sqrt().sqrt().sqrt().sqrt();
    let mut s = x16 * x16.sqrt().sqrt();
    // The balance is convex and rising for s >= 1, so Newton's steps run down to the root and cannot cycle.
    for _ in 0..64 {
        let s3 = s * s * s;
        let s10 = s3 * s3 * s3 * s;
        let step = (s3 * (s10 - 1.0) - q) / (s * s * (13.0 * s10 - 3.0));
        s -= step;
        if s < 1.0 {
            s = 1.0;
        }
        // The error that is left goes with the square of the step.
        if step.abs() <= 1e-9 * s {
            break;
        }
    }
    let s3 = s * s * s;
    let s10 = s3 * s3 * s3 * s;
    let siemens = 1.0 / (cold_ohms * s3);
    Tangent {
        amps: v * siemens,
        siemens: siemens * (7.0 * s10 + 3.0) / (13.0 * s10 - 3.0),
    }
}

/// Solves `u + R Is (exp(u/n) - 1) = v` for the junction voltage u.
fn diode(v: f64, saturation_a: f64, slope_v: f64, ohms: f64) -> Tangent {
    if v + ohms * saturation_a < -40.0 * slope_v {
        // The exponential is less than the last bit of one.
        return Tangent {
            amps: JUNCTION_LEAK_S * v - saturation_a,
            siemens: JUNCTION_LEAK_S,
        };
    }
    // The left side is convex and rises; from a start above the root, Newton's steps run down to it.
    let mut u = 0.0;
    if v > 0.0 {
        let bound = slope_v * libm::log1p(v / (ohms * saturation_a));
        u = if bound < v { bound } else { v };
    }
    let mut amps = saturation_a * libm::expm1(u / slope_v);
    for _ in 0..64 {
        let slope = 1.0 + ohms * (amps + saturation_a) / slope_v;
        let step = (u + ohms * amps - v) / slope;
        u -= step;
        amps = saturation_a * libm::expm1(u / slope_v);
        if step.abs() <= 1e-8 * slope_v {
            break;
        }
    }
    let junction_s = (amps + saturation_a) / slope_v;
    let siemens = junction_s / (1.0 + ohms * junction_s);
    Tangent {
        amps: amps + JUNCTION_LEAK_S * v,
        siemens: siemens + JUNCTION_LEAK_S,
    }
}

/// Beyond what friction holds, y = √(I - If) makes of the balances the quadratic `R y² + B y = V - If R`.
fn fan(v: f64, ohms: f64, volts_per_sqrt_a: f64) -> Tangent {
    let size = v.abs();
    if size <= MOTOR_STANDS_V {
        let siemens = 1.0 / ohms + MOTOR_LEAK_S;
        return Tangent {
            amps: siemens * v,
            siemens,
        };
    }
    let b = volts_per_sqrt_a;
    let over = size - MOTOR_STANDS_V;
    // This form of the root does not cancel for small voltages.
    let y = 2.0 * over / (b + (b * b + 4.0 * ohms * over).sqrt());
    let amps = MOTOR_STANDS_V / ohms + y * y + MOTOR_LEAK_S * size;
    let siemens = 2.0 * y / (2.0 * ohms * y + b) + MOTOR_LEAK_S;
    Tangent {
        amps: if v < 0.0 { -amps } else { amps },
        siemens,
    }
}
