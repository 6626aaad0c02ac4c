//! How the job was begun and left: complaint met before work, the same test after the repair,
//! everything put back.
//!
//! Knows the kinds of complaint, not the scenarios; gives no points.

use serde::{Deserialize, Serialize};

/// One habit, and the step that earned or lost it.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Habit {
    /// It was kept.
    pub kept: bool,
    /// Number of the action, from 0, that earned it or lost it; none where nothing was ever done
    /// about it.
    pub step: Option<usize>,
}

/// How the job was begun and left.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finish {
    /// The complaint was met, with the car as a driver has it, before the first invasive action.
    pub reproduced_before_work: Habit,
    /// After the last repair the complaint was tried again with the same senses.
    pub retested_same_way: Habit,
    /// After the last repair the air was felt or measured; none where the complaint is not about
    /// cold air.
    pub checked_at_vent: Option<Habit>,
    /// All relays are in their sockets.
    pub relays_in: Habit,
    /// All fuses are in their slots, none of them blown on the way.
    pub fuses_in: Habit,
    /// All plugs are on.
    pub plugs_on: Habit,
    /// All covers and caps are on.
    pub covers_on: Habit,
    /// No lead, breakout, gauge or lamp was left on the car.
    pub tools_off: Habit,
    /// The key is off.
    pub key_off: Habit,
    /// No spare of the bench was left in the car.
    pub spares_back: Habit,
    /// Slots that still hold a spare of the bench.
    pub spares_left_in: Vec<String>,
    /// Fuses in their slots that blew on the way.
    pub blown_left_in: Vec<String>,
    /// The car was handed back with a work order.
    pub handed_back: Habit,
}
