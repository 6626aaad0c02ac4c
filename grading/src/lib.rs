//! What could be wrong, what to test next, and how well a learner chose.

pub mod belief;
pub mod plan;
pub mod rank;
