//! The car, the tools and the session.
#![warn(missing_docs)]
pub mod attempt;
pub mod circuit;
pub mod elements;
pub mod fault;
pub mod refrigerant;
pub mod scenario;
pub mod session;
pub mod tools;
pub mod vehicle;
