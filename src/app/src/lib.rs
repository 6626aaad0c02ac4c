//! The window: draws a session, computes no physics and no score.
//!
//! `desk`, `panels`, `screens`, `look` and `settings` know nothing of Bevy and can be tested
//! without a window; `run` puts them into one.
#![warn(missing_docs)]
#![allow(
    clippy::type_complexity,
    clippy::too_many_arguments,
    reason = "a Bevy system's arguments and queries are its declaration"
)]

pub mod address;
pub mod assigned;
pub mod bridge;
pub mod cli;
pub mod desk;
pub mod kit;
pub mod look;
pub mod panels;
pub mod platform;
pub mod run;
pub mod screens;
pub mod settings;
pub mod stage;
pub mod start;
pub mod text;

pub use bevy_egui::egui;
