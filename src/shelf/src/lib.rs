//! Where scenarios come from and where attempts are kept.
//!
//! Files, and what was worked out from them before ([`survey`]): nothing here checks a scenario or knows a
//! score. The parts
//! that need a file system are left out of the browser build, which brings its own [`Store`].
#![warn(missing_docs)]

mod data;
mod error;
mod keyed;
mod memory;
mod name;
mod store;
mod survey;
mod texts;
mod work;
mod work_clock;

#[cfg(not(target_arch = "wasm32"))]
mod attempt_file;
#[cfg(not(target_arch = "wasm32"))]
mod changes;
#[cfg(not(target_arch = "wasm32"))]
mod folder_store;
#[cfg(not(target_arch = "wasm32"))]
mod keep;
#[cfg(not(target_arch = "wasm32"))]
mod places;

pub use data::{Data, MAX_FILE_BYTES};
pub use error::{Doing, ShelfError};
pub use keyed::{KeyedStore, KeyedTexts};
pub use memory::{MemoryStore, Texts};
pub use store::{AttemptLog, MAX_BESIDE_BYTES, Opened, Recent, Store};
pub use survey::{survey, survey_in};
pub use work::{Shown, Work, WorkError};
pub use work_clock::WorkClock;

#[cfg(not(target_arch = "wasm32"))]
pub use attempt_file::AttemptFile;
#[cfg(not(target_arch = "wasm32"))]
pub use changes::Changes;
#[cfg(not(target_arch = "wasm32"))]
pub use data::read_source;
#[cfg(not(target_arch = "wasm32"))]
pub use folder_store::FolderStore;
#[cfg(not(target_arch = "wasm32"))]
pub use keep::{KEEP_VARIABLE, Keep};
#[cfg(not(target_arch = "wasm32"))]
pub use places::{DATA_VARIABLE, SAVE_VARIABLE, data_folder, now_rfc3339, save_folder};
