//! What could be wrong, what to test next, and how well a learner chose.
//!
//! Trusts only actions: a score is always recomputed by replaying them on the same case. Knows the
//! car through [`tracebay_core`] sessions, never through a table of answers.
#![warn(missing_docs)]

pub mod assign;
pub mod belief;
pub mod finish;
pub mod hint;
pub mod judge;
pub mod parts;
pub mod plan;
pub mod prove;
pub mod rank;
pub mod rubric;
pub mod safety;
#[cfg(feature = "schema")]
pub mod schema;
pub mod scorecard;
#[cfg(test)]
mod shop;
pub mod signs;
pub mod skills;
pub mod survey;
pub mod worlds;
