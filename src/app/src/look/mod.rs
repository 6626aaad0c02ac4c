//! How things look: colours, fonts, egui styles. Knows nothing of cars or screens.

pub mod backdrop;
pub mod palette;
pub mod theme;

pub use palette::Palette;
