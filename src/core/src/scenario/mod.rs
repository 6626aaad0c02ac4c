//! Scenarios: the file's types, its checks, and the seeded draw.
pub mod case;
pub mod check;
pub mod course;
mod draw;
pub mod file;
pub mod load;

pub use case::{Case, Catalogue, DrawError};
pub use course::{Course, Lesson};
pub use draw::MAX_SEED;
pub use file::*;
pub use load::SourceFile;
