//! A system that this program has no way of playing on yet: silent, and the settings say so.

use super::{Output, ToHear, stands};

/// Plays nothing.
pub struct Speaker;

impl Speaker {
    /// Says that there is no way.
    pub fn start() -> Speaker {
        stands(Output::NotOnThisSystem);
        Speaker
    }

    /// Takes no notice. Nothing has to be given it in time.
    pub fn hear(&mut self, _: ToHear) -> bool {
        false
    }
}
