//! Safe work, judged from what was done: rules as data, and a watch that applies them step by step.
//!
//! A rule looks at the car as hands have left it, the action, and what the action showed. It never
//! looks at the hidden fault: the same actions break the same rules whatever is wrong with the car.
//! Which pins are a control unit's output, a sensor's line or the starter's feed is found by walking
//! the vehicle's wires. Points are the rubric's business.

mod file;

use serde::{Deserialize, Serialize};

pub use file::{
    Condition, EngineIs, FORMAT, Guard, Link, Net, PartKind, Rule, Rules, Severity, Zone,
};
pub(crate) use file::{check_id, check_severity};

/// A rule broken by an action.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Breach {
    /// The rule's id.
    pub rule: String,
    /// The rule's own severity; a rubric may set another.
    pub severity: Severity,
    /// Number of the action, from 0, that broke it.
    pub step: usize,
}
