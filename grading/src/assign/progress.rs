//! What a learner has made of an assignment so far, and what comes next: told from the attempts
//! that are kept where they work.
//!
//! Opens nothing and begins nothing; both faces ask it, so that they allow the same.

use tracebay_core::attempt::Header;

use super::{Assignment, Learner, Terms};

/// An attempt that is kept.
#[derive(Copy, Clone, Debug)]
pub struct KeptAttempt<'a> {
    /// Name to open it by.
    pub name: &'a str,
    /// Its header.
    pub header: &'a Header,
    /// Given back.
    pub handed_back: bool,
}

/// What comes next at a task.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Next {
    /// Go on with the attempt of this name: it was not given back.
    GoOn {
        /// Name to open it by.
        name: String,
        /// Its seed.
        seed: u64,
    },
    /// Begin a fresh attempt.
    Begin {
        /// Which of the allowed attempts it is, from 1.
        number: usize,
        /// Its seed.
        seed: u64,
        /// A case of this seed was given back here before, under whatever rules: its fault may be
        /// known.
        seen: bool,
    },
    /// All attempts allowed are used.
    NoneLeft,
}

/// How a learner stands at a task.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Attempts given back.
    pub handed_back: usize,
    /// Attempts begun and not given back.
    pub unfinished: usize,
    /// What comes next.
    pub next: Next,
}

impl Terms {
    /// When work may begin, if that is still to come. `now` as `YYYY-MM-DDTHH:MM:SSZ`.
    pub fn opens_later(&self, now: &str) -> Option<&str> {
        self.opens.as_deref().filter(|opens| *opens > now)
    }

    /// Whether the time set has passed. `now` as `YYYY-MM-DDTHH:MM:SSZ`.
    pub fn late(&self, now: &str) -> bool {
        self.due.as_deref().is_some_and(|due| due < now)
    }

    /// How a learner stands at the task of an index, from all attempts that are kept, newest first.
    pub fn progress<'a>(
        &self,
        learner: &Learner,
        task: usize,
        kept: impl Iterator<Item = KeptAttempt<'a>> + Clone,
    ) -> Progress {
        let rules = self.rules();
        let scenario = self.tasks.get(task).map(|task| task.scenario.as_str());
        let of_scenario =
            kept.filter(move |attempt| Some(attempt.header.scenario.as_str()) == scenario);
        let made: Vec<KeptAttempt<'a>> = of_scenario
            .clone()
            .filter(|attempt| {
                attempt.header.rules == rules
                    && attempt.header.learner.as_deref() == Some(&learner.id)
            })
            .collect();
        let handed_back = made.iter().filter(|attempt| attempt.handed_back).count();
        let next = match made.iter().find(|attempt| !attempt.handed_back) {
            Some(attempt) => Next::GoOn {
                name: attempt.name.to_owned(),
                seed: attempt.header.seed,
            },
            None => {
                let used = |seed: &u64| made.iter().any(|attempt| attempt.header.seed == *seed);
                let seeds = learner.seeds.get(task).map_or(&[][..], Vec::as_slice);
                match seeds.iter().position(|seed| !used(seed)) {
                    Some(at) => Next::Begin {
                        number: at + 1,
                        seed: seeds[at],
                        seen: of_scenario
                            .clone()
                            .any(|a| a.handed_back && a.header.seed == seeds[at]),
                    },
                    None => Next::NoneLeft,
                }
            }
        };
        Progress {
            handed_back,
            unfinished: made.len() - handed_back,
            next,
        }
    }
}

impl Assignment {
    /// The learner of an id, or the only one there is where none is given.
    pub fn who(&self, id: Option<&str>) -> Option<&Learner> {
        match (id, self.learners.as_slice()) {
            (None, [only]) => Some(only),
            (None, _) => None,
            (Some(id), _) => self.learner(id).map(|(_, learner)| learner),
        }
    }
}
