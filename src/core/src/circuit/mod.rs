//! A network of nodes and two-terminal elements, and the solver of its direct-current operating point.
//!
//! Every source has internal resistance and every element's current rises with the voltage across it, so
//! the nodal equations have exactly one answer on every island and the matrix of each linearised step is
//! that of a network of positive conductances. The solver rests on both facts.
//!
//! **A solution is a function of the network's values, the tools put on, and the contacts' positions, and of
//! nothing else**: what a [`Solver`] solved before decides only how fast it is, never a bit of the result.
//!
//! This module must not know of cars, parts, faults, tools, time or sessions.

mod balance;
mod dense;
mod descent;
mod device;
mod error;
mod factor;
mod network;
mod newton;
mod outlook;
mod pattern;
mod ports;
mod solution;
mod solver;
mod state;
mod tables;
mod values;

pub use error::SolveError;
pub use network::{Attachment, Element, ElementId, MOTOR_STANDS_V, Network, NodeId};
pub use outlook::Tried;
pub use solution::Solution;
pub use solver::Solver;
pub use state::State;
