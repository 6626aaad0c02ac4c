//! Refrigerant: saturation curves, charge in a fixed volume, the running loop.
//!
//! Pure physics: numbers in, numbers out. Nothing here knows of circuits,
//! vehicles, tools or sessions.
//!
//! Units: temperatures in degrees Celsius (`_c`), densities in kg/m³, masses in
//! kg, volumes in m³, enthalpies in kJ/kg, heat flows in kW. Pressures that
//! cross a function's border are [`AbsoluteKpa`] or [`GaugeKpa`], so that the two
//! cannot be mixed up.

mod air_side;
mod charge;
mod coefficients;
mod pressure;
mod running;
mod running_spec;
mod running_table;
mod saturation;

pub use charge::{FluidState, Part, StaticState, static_pressure, static_pressure_in_parts};
pub use pressure::{ATMOSPHERE_KPA, AbsoluteKpa, BAR_KPA, GaugeKpa, PSI_KPA};
pub use running::{HeatFlows, RunningInputs, RunningState};
pub use running_spec::LoopSpec;
pub use running_table::RefrigerantLoop;
pub use saturation::{FIT_HIGH_C, FIT_LOW_C, Refrigerant};
