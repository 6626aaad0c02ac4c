//! Parts that were replaced, and whether they needed to be.
//!
//! Looks at the hidden fault, so it must only be asked once the attempt is over.

use serde::{Deserialize, Serialize};

/// Why a replaced part was, or was not, worth replacing.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Need {
    /// It was behind the complaint.
    Faulty,
    /// It had been damaged on the way (a fuse blown, an output destroyed).
    DamagedOnTheWay,
    /// There was nothing wrong with it.
    Sound,
}

/// A part that was replaced.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Replaced {
    /// Number of the action, from 0.
    pub step: usize,
    /// Part id.
    pub target: String,
    /// Whether it needed to be.
    pub need: Need,
    /// What the part costs, in the shop's invented currency.
    pub price: f64,
    /// Job minutes it took.
    pub minutes: f64,
}

impl Replaced {
    /// It was behind the complaint.
    pub fn was_faulty(&self) -> bool {
        self.need == Need::Faulty
    }
}
