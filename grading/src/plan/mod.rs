//! What to test next, what a choice gave away, and what a call is worth.
//!
//! Everything here is abstract: hypotheses with priors, tests with minutes and
//! outcome classes, states with change minutes. It must not know of cars,
//! circuits, tools, learners' files or scores; the caller turns its world into a
//! [`Problem`] by simulation and turns the answers back into words.
//!
//! A call names a repair group and is proven when every hypothesis left is of that
//! group. Hypotheses that no test in any state can tell apart are never asked to
//! be told apart: where only such are left the planner has finished. The value
//! planned for is the expected minutes to that point, tests and changes of state
//! together.
//!
//! Every answer is a pure function of the problem and of the questions asked
//! before it of the same [`Planner`]: work is counted, never timed.

mod arena;
mod base;
pub mod bounds;
mod expand;
mod planner;
mod poor;
pub mod problem;
mod proof;
mod regret;
mod search;
mod tree;

pub use planner::{Bound, Bounds, Limits, Planner, RankedTest};
pub use poor::PoorCheck;
pub use problem::{PlanError, Problem, StateInfo, TestInfo};
pub use proof::{Proof, Splittable, proof, proof_at};
pub use regret::{Choice, Regret};
pub use tree::{Branch, Names, Numbers, PlanNode};
