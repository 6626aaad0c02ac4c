//! The car, the tools and the session.
#![warn(missing_docs)]
pub mod circuit;
pub mod elements;
pub mod refrigerant;
pub mod source;
