//! Physics of a car's electrical parts: numbers in, numbers out.
//!
//! Each file is one kind of part and names the source of its formulas. Nothing
//! here knows of networks, vehicles, tools or sessions: a caller turns these
//! numbers into circuit elements and advances the slow states tick by tick.
//!
//! Units are in the names: `_v` volts, `_a` amperes, `_ohms`, `_c` degrees
//! Celsius, `_mm2`, `_s` seconds. "Common practice" marks a fact of the trade
//! without a published source; "from memory" marks a standard's value that was
//! not looked up again.

pub mod alternator;
pub mod battery;
mod bounds;
pub mod clutch;
pub mod copper;
pub mod driver;
pub mod fuse;
pub mod fuse_colours;
pub mod joint;
pub mod lamp;
pub mod meter;
pub mod motor;
mod range;
pub mod relay;
pub mod spark;
pub mod transducer;
pub mod water;
pub mod wire;

pub(crate) use bounds::Bounds;
pub use range::{Accepted, OutOfRange};

/// Length of one tick of the slow states, seconds.
pub const TICK_S: f64 = 0.1;
