//! Scenarios: the file's types, its checks, and the seeded draw.
pub mod case;
pub mod draw;
pub mod file;
pub use case::{Case, Catalogue, DrawError};
pub use file::*;
