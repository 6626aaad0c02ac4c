//! Blade fuses: resistance, remembered heat, and when they open.
//!
//! # Model
//! The element's rise above its surroundings is the sum of two first-order parts
//! (a Foster network, as in semiconductor thermal models): the element itself,
//! quick, and the blades and body around it, slow. Both are driven by `(I/In)²`.
//! The fuse opens when the sum reaches the melting rise, which is taken as 1, and
//! with `a1 + a2 = 1/1.2²` the current it just holds is 1.2 times its rating.
//! A hot neighbourhood uses up part of the rise to zinc's melting point (419 °C).
//!
//! # Limits checked
//! ISO 8820-3 (blade fuses), from memory. Type C (regular) and type F (mini):
//!
//! | of rating | opens within |
//! | --- | --- |
//! | 110 % | not in 100 h |
//! | 135 % | 0.75 s to 600 s |
//! | 160 % | 0.25 s to 50 s |
//! | 200 % | 0.15 s to 5 s |
//! | 350 % | 0.04 s to 0.5 s |
//! | 600 % | 0.02 s to 0.1 s |
//!
//! Type E (maxi): 110 % not in 100 h; 135 % 60 s to 1800 s; 200 % 2 s to 60 s;
//! 350 % 0.2 s to 7 s; 600 % 0.04 s to 1 s. The standard gives no 160 % limit
//! for type E that we remember.

use super::TICK_S;
use super::bounds::Bounds;

/// Body of a blade fuse.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
pub enum BladeBody {
    /// ISO 8820-3 type F.
    Mini,
    /// ISO 8820-3 type C.
    Regular,
    /// ISO 8820-3 type E.
    Maxi,
}

/// Ratings made of each body, in tenths of an ampere so that 7.5 A is exact
/// (from memory).
const MINI: &[u16] = &[20, 30, 40, 50, 75, 100, 150, 200, 250, 300];
const REGULAR: &[u16] = &[20, 30, 40, 50, 75, 100, 150, 200, 250, 300, 350, 400];
const MAXI: &[u16] = &[200, 300, 400, 500, 600, 700, 800];

/// A fuse that cannot be had.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("no {body:?} blade fuse of {rated_a} A is made; ratings made are {}", made(*body))]
pub struct NoSuchFuse {
    /// The body asked for.
    pub body: BladeBody,
    /// The rating asked for, A.
    pub rated_a: f64,
}

fn made(body: BladeBody) -> String {
    let list: Vec<String> = body.ratings_a().map(|a| a.to_string()).collect();
    format!("{} A", list.join(", "))
}

impl BladeBody {
    /// Ratings made of this body, A.
    pub fn ratings_a(self) -> impl Iterator<Item = f64> {
        let tenths = match self {
            Self::Mini => MINI,
            Self::Regular => REGULAR,
            Self::Maxi => MAXI,
        };
        tenths.iter().map(|&t| f64::from(t) / 10.0)
    }
}

/// One kind of blade fuse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fuse {
    body: BladeBody,
    rated_a: f64,
    thermal: Thermal,
}

/// Remembered heat of one fuse, and whether it has opened.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FuseHeat {
    element: f64,
    blades: f64,
    blown: bool,
}

impl FuseHeat {
    /// Whether the element has melted; it never comes back.
    pub fn blown(&self) -> bool {
        self.blown
    }

    /// How far the element is towards melting, 0..1.
    pub fn share_of_melting(&self) -> f64 {
        self.element + self.blades
    }
}

/// Rises per `(I/In)²` and time constants of the two parts.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Thermal {
    element_rise: f64,
    blades_rise: f64,
    element_tick: f64,
    blades_tick: f64,
    element_fine: f64,
    blades_fine: f64,
}

/// A tick is cut into this many steps when the fuse may open within it: a short
/// circuit opens a fuse in a few hundredths of a second.
const FINE_STEPS: u32 = 100;
/// Current held for ever, as a share of the rating.
const HOLD: f64 = 1.2;
/// Temperature the ratings are given at, °C.
const RATED_AMBIENT_C: f64 = 23.0;
/// Melting point of zinc, °C (CRC Handbook: 419.5).
const ZINC_MELTS_C: f64 = 419.5;

impl Thermal {
    fn of(body: BladeBody, rated_a: f64) -> Self {
        // A thicker element of the same body is a little slower.
        let (element_rise, element_s, blades_s) = match body {
            BladeBody::Mini => (0.42, 0.62 + 0.003 * rated_a, 16.0),
            BladeBody::Regular => (0.42, 0.68 + 0.003 * rated_a, 22.0),
            BladeBody::Maxi => (0.42, 3.6 + 0.01 * rated_a, 240.0),
        };
        let fine_s = TICK_S / f64::from(FINE_STEPS);
        Self {
            element_rise,
            blades_rise: 1.0 / (HOLD * HOLD) - element_rise,
            element_tick: libm::exp(-TICK_S / element_s),
            blades_tick: libm::exp(-TICK_S / blades_s),
            element_fine: libm::exp(-fine_s / element_s),
            blades_fine: libm::exp(-fine_s / blades_s),
        }
    }
}

impl Fuse {
    /// A blade fuse as made.
    ///
    /// # Errors
    /// The body is not made in that rating.
    pub fn new(body: BladeBody, rated_a: f64) -> Result<Self, NoSuchFuse> {
        if body.ratings_a().any(|made| made == rated_a) {
            Ok(Self {
                body,
                rated_a,
                thermal: Thermal::of(body, rated_a),
            })
        } else {
            Err(NoSuchFuse { body, rated_a })
        }
    }

    /// The body.
    pub fn body(&self) -> BladeBody {
        self.body
    }

    /// The rating, A.
    pub fn rated_a(&self) -> f64 {
        self.rated_a
    }

    /// Cold resistance, Ω: `0.11 V / In^1.15`, which follows typical values of
    /// blade fuses from 31 mΩ at 3 A to 0.7 mΩ at 80 A (from memory, ±20 %).
    pub fn cold_ohms(&self) -> f64 {
        0.11 / libm::pow(self.rated_a, 1.15)
    }

    /// One tick at the ambient the ratings are given at. True once blown.
    pub fn step(&self, heat: &mut FuseHeat, amps: f64) -> bool {
        self.step_at(heat, amps, RATED_AMBIENT_C)
    }

    /// One tick of 0.1 s with `amps` flowing and the fuse box at `ambient_c`.
    /// True once blown.
    pub fn step_at(&self, heat: &mut FuseHeat, amps: f64, ambient_c: f64) -> bool {
        if heat.blown {
            self.cool(heat);
            return true;
        }
        let t = &self.thermal;
        let (element_end, blades_end, melts_at) = self.targets(amps, ambient_c);
        // While even the hotter of "now" and "for ever" stays under the melting
        // rise in both parts, nothing can open within this tick.
        let worst = heat.element.at_least(element_end) + heat.blades.at_least(blades_end);
        if worst < melts_at {
            heat.element = element_end + (heat.element - element_end) * t.element_tick;
            heat.blades = blades_end + (heat.blades - blades_end) * t.blades_tick;
            return false;
        }
        for _ in 0..FINE_STEPS {
            heat.element = element_end + (heat.element - element_end) * t.element_fine;
            heat.blades = blades_end + (heat.blades - blades_end) * t.blades_fine;
            if heat.share_of_melting() >= melts_at {
                heat.blown = true;
                return true;
            }
        }
        false
    }

    /// Time a cold fuse takes to open under a steady current, seconds, in steps
    /// of a millisecond; `None` if it holds for `limit_s`.
    pub fn opening_seconds(&self, amps: f64, ambient_c: f64, limit_s: f64) -> Option<f64> {
        let t = &self.thermal;
        let (element_end, blades_end, melts_at) = self.targets(amps, ambient_c);
        if element_end + blades_end < melts_at {
            return None;
        }
        let (mut element, mut blades) = (0.0, 0.0);
        let fine_s = TICK_S / f64::from(FINE_STEPS);
        let steps = (limit_s.at_least(0.0).at_most(1e4) / fine_s) as u32;
        for step in 1..=steps {
            element = element_end + (element - element_end) * t.element_fine;
            blades = blades_end + (blades - blades_end) * t.blades_fine;
            if element + blades >= melts_at {
                return Some(f64::from(step) * fine_s);
            }
        }
        None
    }

    fn targets(&self, amps: f64, ambient_c: f64) -> (f64, f64, f64) {
        // NaN and overflow become a current no fuse survives, never a NaN state.
        let ratio = (amps.abs() / self.rated_a).at_most(1e6);
        let drive = ratio * ratio;
        let melts_at =
            ((ZINC_MELTS_C - ambient_c) / (ZINC_MELTS_C - RATED_AMBIENT_C)).at_least(0.05);
        (
            self.thermal.element_rise * drive,
            self.thermal.blades_rise * drive,
            melts_at,
        )
    }

    fn cool(&self, heat: &mut FuseHeat) {
        heat.element *= self.thermal.element_tick;
        heat.blades *= self.thermal.blades_tick;
    }
}
