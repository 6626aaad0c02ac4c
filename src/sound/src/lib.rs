//! Makes what is heard at a car, as samples, from a few numbers: how fast the engine turns, how hard a
//! fan works, that a relay clicked. Nothing is recorded; the same numbers give the same samples.
//!
//! Knows no vehicle, no session, no window and no device: who calls says what runs and how near it is,
//! and does with the samples what it likes.
#![warn(missing_docs)]

mod engine;
mod horn;
mod motor;
mod parts;
mod running;
mod shot;
mod synth;
mod wav;

pub use running::{Event, Running, Source};
pub use synth::Synth;
pub use wav::wav;
