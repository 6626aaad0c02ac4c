//! Vehicles: the file's types, the checked model, the network made from it.

pub mod check;
pub mod file;
pub mod hardware;
pub mod pins;
pub mod protection;
mod stations;
pub mod unit_file;
pub mod wiring;

pub use file::*;
pub use pins::split_pin;
pub use wiring::{Arrangements, Wired};

use crate::elements::fuse::{BladeBody, Fuse};

impl FuseBody {
    /// The same body in the physics' words.
    pub fn blade(self) -> BladeBody {
        match self {
            FuseBody::Mini => BladeBody::Mini,
            FuseBody::Regular => BladeBody::Regular,
            FuseBody::Maxi => BladeBody::Maxi,
        }
    }
}

/// Cold resistance of a fuse, ohms. The rating was checked when the file was read.
fn fuse_cold_ohms(kind: &Kind) -> f64 {
    match kind {
        Kind::Fuse { amps, body } => {
            Fuse::new(body.blade(), *amps).map_or(0.1 / amps, |f| f.cold_ohms())
        }
        _ => 0.001,
    }
}
