//! Scenarios: the file's types, its checks, the seeded draw, and their texts in other languages.
pub mod case;
pub mod check;
pub mod course;
mod draw;
pub mod file;
pub mod load;
mod tells;
pub mod texts;

pub use case::{Case, Catalogue, DrawError};
pub use course::{Course, Lesson};
pub use draw::MAX_SEED;
pub use file::*;
pub use load::SourceFile;
pub use tells::Tells;
pub use texts::{Languages, Texts};
