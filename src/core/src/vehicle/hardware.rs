//! What hands and damage have done to the car: plugs off, slots empty, faults mended, fuses blown.
//!
//! Pure state; [`super::wiring`] turns it into element values. Knows nothing of time.

use std::collections::{BTreeMap, BTreeSet};

use crate::fault::{Fault, Wrong};

/// A slot for a relay or fuse.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SlotState {
    /// Nothing in it.
    pub out: bool,
    /// Holds (or held last) the known-good spare.
    pub spare: bool,
    /// Relay put in turned half round.
    pub turned: bool,
    /// The original's element is gone.
    pub original_blown: bool,
    /// The spare's element is gone.
    pub spare_blown: bool,
}

impl SlotState {
    /// The item in use has blown.
    pub fn blown(&self) -> bool {
        if self.spare {
            self.spare_blown
        } else {
            self.original_blown
        }
    }
}

/// One fault of the case and whether it is still there.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultState {
    /// The fault.
    pub fault: Fault,
    /// Put right.
    pub mended: bool,
    /// An intermittent fault that is away at the moment.
    pub away: bool,
    /// How wet its place is: share of a soaking, in steps of a [`WET_STEPS`]th.
    pub wet_steps: u8,
}

/// Steps in which a leak's resistance follows the drying, so that the network is not solved anew in every
/// tick.
pub const WET_STEPS: u8 = 16;

/// Everything hands, wear and accidents have done to the car's wiring.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hardware {
    /// Position of each control.
    pub controls: BTreeMap<String, String>,
    /// Slots of fuses and relays.
    pub slots: BTreeMap<String, SlotState>,
    /// Plugs that are off.
    pub unplugged: BTreeSet<String>,
    /// Faults of the case.
    pub faults: Vec<FaultState>,
    /// Control unit outputs that were destroyed: part id and output name.
    pub dead_outputs: BTreeSet<(String, String)>,
    /// Socket the breakout sits in.
    pub breakout: Option<String>,
}

impl Hardware {
    /// Faults that act now at a name.
    pub fn acting<'a>(&'a self, at: &'a str) -> impl Iterator<Item = &'a Wrong> {
        self.faults
            .iter()
            .filter(move |f| !f.mended && !f.away && f.fault.at == at)
            .map(|f| &f.fault.what)
    }

    /// Faults that act now in the item fitted in a slot, or in a part that is no slot: a
    /// known-good spare has none of the original's.
    pub fn acting_in_part<'a>(&'a self, part: &'a str) -> impl Iterator<Item = &'a Wrong> {
        // Asked only where there is a fault, which is hardly anywhere.
        let spare = move || self.slots.get(part).is_some_and(|s| s.spare);
        self.acting(part).filter(move |_| !spare())
    }

    /// The slot is empty.
    pub fn is_out(&self, part: &str) -> bool {
        self.slots.get(part).is_some_and(|s| s.out)
    }
}
