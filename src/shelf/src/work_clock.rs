//! How long somebody has worked on an attempt, over all the times it was opened.
//!
//! Knows no clock itself: a face brings milliseconds of one that only goes forward.

use crate::Work;

/// Counts on from where an attempt was left off.
#[derive(Copy, Clone, Debug)]
pub struct WorkClock {
    /// Worked before it was opened this time, milliseconds.
    before_ms: u64,
    /// The face's clock when it was opened, milliseconds.
    opened_ms: u64,
}

impl WorkClock {
    /// Starts when the face's clock shows `now_ms`, behind what the attempt's lines already say.
    #[must_use]
    pub fn new(work: &Work, now_ms: u64) -> WorkClock {
        let lines = work.recorder().lines();
        WorkClock {
            // A line may be without a time.
            before_ms: lines.iter().rev().find_map(|line| line.at).unwrap_or(0),
            opened_ms: now_ms,
        }
    }

    /// Milliseconds worked so far, as a line of the attempt has them.
    #[must_use]
    pub fn at_ms(&self, now_ms: u64) -> u64 {
        self.before_ms + now_ms.saturating_sub(self.opened_ms)
    }
}
