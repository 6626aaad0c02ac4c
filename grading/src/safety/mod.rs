//! Safe work, judged from what was done: rules as data, and a watch that applies them step by step.
//!
//! A rule looks at the car as hands have left it, the action, and what the action showed. It never
//! looks at the hidden fault: the same actions break the same rules whatever is wrong with the car.
//! Which pins are a control unit's output, a sensor's line or the starter's feed is found by walking
//! the vehicle's wires. Points are the rubric's business.

mod bridge;
mod file;
mod light;
mod nets;
mod watch;
mod wiring;
mod zones;

#[cfg(test)]
mod tests;

pub use file::{
    Condition, EngineIs, FORMAT, Guard, Link, Net, PartKind, Rule, Rules, Severity, Zone,
};
pub(crate) use file::{check_id, check_severity};
pub use watch::{Breach, Watch, WatchError, watch_all};
