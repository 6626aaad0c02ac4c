//! The app's library: what the window, its tests and its examples share.

pub mod kit;
pub mod stage;
