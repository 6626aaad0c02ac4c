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
//! # Soft evidence
//! A [`Belief`](crate::belief::Belief) may hold evidence that only made hypotheses
//! less likely. The planner then plans for the hypotheses above the belief's floor,
//! weighted by their posterior, and takes what comes as certain: each test's
//! outcome is the class each hypothesis predicts. So regret judges a choice by what
//! could be expected of it when it was made, not by how it turned out; and what
//! luck, misreadings or odd looks had led there counts only through the belief.
//!
//! # The same answer again
//! Every answer is a pure function of the problem and of the questions asked
//! before it of the same [`Planner`]: work is counted, never timed. What one
//! question found out helps the next. An exact answer does not depend on that but
//! for rounding; bounds do. So what is scored should be asked of a planner of its
//! own, in the order of the actions.

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
mod tell;
mod tree;

pub use planner::{Bound, Bounds, Limits, Planner, RankedTest};
pub use poor::{PoorCheck, poor_check};
pub use problem::{PlanError, Problem, StateInfo, TestInfo};
pub use proof::{Proof, Splittable, proof, proof_at};
pub use regret::{Choice, Regret};
pub use tell::{Prospect, prospects};
pub use tree::{Branch, Names, Numbers, PlanNode, RouteStep};
