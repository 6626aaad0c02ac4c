//! How bays are arranged: plain data, one module an arrangement. Which vehicle uses which is not
//! known here.
//!
//! Places are named as the vehicle files name them. Parts have the names of their roles, which the
//! bridge turns into a car's own ids; what a car has no id for is scenery.

mod cabin;
mod common;
mod longitudinal_diesel;
mod longitudinal_petrol;
mod transverse_petrol;

pub use cabin::face as cabin_face;
pub use common::tool_roll;
pub use longitudinal_diesel::longitudinal_diesel;
pub use longitudinal_petrol::longitudinal_petrol;
pub use transverse_petrol::transverse_petrol;
