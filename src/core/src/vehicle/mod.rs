//! Vehicles: the file's types, the checked model, the network made from it.
pub mod file;
pub mod unit_file;
pub use file::*;
