//! What the parts of a car do, seen through a session as a learner sees it. Facts are common
//! practice without a source unless a line names one.

mod car;
mod coils;
mod contacts;
mod control_unit;
mod intermittent;
mod jobs_told;
mod lights;
mod meter;
mod netlists;
mod numbers;
mod sparks;
mod water;
