//! The car, the tools and the session of the simulator.
//!
//! A learner's [`session::Session`] works on a [`scenario::Case`], drawn from a scenario and a
//! seed. Every reading comes from solving the car's circuits as they are at that moment. This crate
//! does no input or output, reads no clock, starts no thread, and does not know that it is drawn or
//! graded.
#![warn(missing_docs)]

pub mod attempt;
pub mod circuit;
pub mod elements;
pub mod fault;
pub mod refrigerant;
pub mod scenario;
pub mod session;
pub mod source;
pub mod tools;
pub mod vehicle;
