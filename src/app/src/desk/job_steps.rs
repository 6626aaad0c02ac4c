//! How a job goes, from the complaint to the keys, and what of it was done.
//!
//! Reads the log and the view only; says nothing of where to test or in which order: that is what is
//! practised.

use tracebay_core::session::Action;

use super::{Desk, is_reading};

/// A part of every job.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// Meet the complaint oneself.
    Meet,
    /// Test until one explanation is left.
    Test,
    /// Say what is wrong.
    Call,
    /// Put it right.
    Mend,
    /// Try the complaint again.
    Again,
    /// Put everything back and hand the car back.
    HandBack,
}

impl Part {
    /// All, in their order.
    pub const ALL: [Part; 6] = [
        Part::Meet,
        Part::Test,
        Part::Call,
        Part::Mend,
        Part::Again,
        Part::HandBack,
    ];

    /// Key of its sentence.
    pub fn key(self) -> &'static str {
        match self {
            Part::Meet => "job-meet",
            Part::Test => "job-test",
            Part::Call => "job-call",
            Part::Mend => "job-mend",
            Part::Again => "job-again",
            Part::HandBack => "job-hand-back",
        }
    }

    fn begun(self, desk: &Desk) -> bool {
        let log = desk.log();
        let operated = |part: &[(Action, Vec<_>)]| {
            part.iter()
                .any(|(action, _)| matches!(action, Action::Set { .. }))
        };
        match self {
            Part::Meet => operated(log),
            Part::Test => log.iter().any(|(_, seen)| seen.iter().any(is_reading)),
            Part::Call => !desk.view().calls.is_empty(),
            Part::Mend => !desk.view().repairs.is_empty(),
            Part::Again => {
                let mended = |(action, _): &(Action, _)| matches!(action, Action::Repair { .. });
                let last = log.iter().rposition(mended);
                last.is_some_and(|at| operated(&log[at..]))
            }
            Part::HandBack => desk.view().handed_back,
        }
    }
}

/// Every part with whether it was begun.
pub fn parts(desk: &Desk) -> [(Part, bool); 6] {
    Part::ALL.map(|part| (part, part.begun(desk)))
}
