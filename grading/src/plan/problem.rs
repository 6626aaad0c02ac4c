//! The planning problem as plain numbers, and its validation.
//!
//! Knows hypotheses with priors, tests with minutes and outcome classes, and
//! states with change minutes. It must not know what any of them stand for:
//! nothing of cars, circuits, tools, files or words on a screen.

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The most hypotheses a problem may have: sets of them are kept as bits of a `u128`.
pub const MAX_HYPOTHESES: usize = 128;
/// The most states a problem may have.
pub const MAX_STATES: usize = 24;
/// The most tests a problem may have. Far above any use; it keeps a mistaken
/// caller from asking for gigabytes.
pub const MAX_TESTS: usize = 20_000;
/// The most minutes a test or a change may take (nearly two millennia): sums of
/// them stay far from overflow.
pub const MAX_MINUTES: f64 = 1e9;

/// One state in which tests can be made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StateInfo {
    /// The caller's name for the state, used only when a plan is printed.
    pub name: String,
}

/// One test: something that can be tried in one state and sorts the hypotheses
/// into outcome classes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TestInfo {
    /// The caller's own number for this test. Not interpreted.
    pub id: u32,
    /// The caller's number for what is touched and with what, whatever the state:
    /// the same probe made in two states has one `probe` and two tests.
    pub probe: u32,
    /// Index of the state the test is made in.
    pub state: usize,
    /// Minutes the test takes once in its state. Zero is allowed.
    pub minutes: f64,
    /// The outcome class under each hypothesis, in the order of the priors.
    pub outcomes: Vec<u8>,
}

/// Everything the planner needs to know.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Problem {
    /// Prior weight of each hypothesis. Need not sum to one; zero means "never".
    pub priors: Vec<f64>,
    /// Repair group of each hypothesis. A call names a group; it is proven when
    /// only hypotheses of one group are left.
    pub groups: Vec<u32>,
    /// The states, at most [`MAX_STATES`].
    pub states: Vec<StateInfo>,
    /// `change_minutes[from][to]`: minutes to change the state directly. Where a
    /// way through other states is quicker, the planner takes it.
    pub change_minutes: Vec<Vec<f64>>,
    /// The tests on offer. None at all is allowed: then nothing can be proven
    /// and nothing is expected.
    pub tests: Vec<TestInfo>,
}

/// Why a problem, a question or a belief was refused.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum PlanError {
    /// No hypothesis was given, or every prior is zero.
    #[error("there is no hypothesis with a prior above zero; give at least one")]
    NoHypotheses,
    /// More of something than the planner takes.
    #[error(
        "there are {found} {what}, and the planner takes at most {most}; leave some out or join some together"
    )]
    TooMany {
        /// What there are too many of.
        what: &'static str,
        /// How many there were.
        found: usize,
        /// The limit.
        most: usize,
    },
    /// There is no state at all.
    #[error("there is no state; give at least one, even if nothing ever changes it")]
    NoStates,
    /// A list is longer or shorter than what it describes.
    #[error("{what} has {found} entries where {expected} are needed (one for each {per})")]
    Length {
        /// Which list.
        what: String,
        /// Its length.
        found: usize,
        /// The length it should have.
        expected: usize,
        /// What each entry stands for.
        per: &'static str,
    },
    /// A number that is negative, far too large or not a number.
    #[error(
        "{what} is {found}; it must be a number, zero or above, and not infinite (minutes: at most a thousand million)"
    )]
    BadNumber {
        /// Which number.
        what: String,
        /// Its value.
        found: f64,
    },
    /// An index beyond the end of its list.
    #[error("{what} is number {found}, but there are only {count} (counted from 0)")]
    OutOfRange {
        /// What was asked for.
        what: String,
        /// The index.
        found: usize,
        /// How many there are.
        count: usize,
    },
}

impl Problem {
    /// Number of hypotheses.
    #[must_use]
    pub fn hypotheses(&self) -> usize {
        self.priors.len()
    }

    /// Checks every number and length.
    ///
    /// # Errors
    /// The first thing found wrong, named so that the caller can mend it.
    pub fn validate(&self) -> Result<(), PlanError> {
        let n = self.priors.len();
        check_weights(&self.priors)?;
        at_most("hypotheses", n, MAX_HYPOTHESES)?;
        length("groups", self.groups.len(), n, "hypothesis")?;
        let s = self.states.len();
        if s == 0 {
            return Err(PlanError::NoStates);
        }
        at_most("states", s, MAX_STATES)?;
        length("change_minutes", self.change_minutes.len(), s, "state")?;
        for (from, row) in self.change_minutes.iter().enumerate() {
            length(&format!("change_minutes[{from}]"), row.len(), s, "state")?;
            for (to, &minutes) in row.iter().enumerate() {
                minutes_ok(|| format!("change_minutes[{from}][{to}]"), minutes)?;
            }
        }
        at_most("tests", self.tests.len(), MAX_TESTS)?;
        for (t, test) in self.tests.iter().enumerate() {
            length(
                &format!("the outcomes of test {t}"),
                test.outcomes.len(),
                n,
                "hypothesis",
            )?;
            index(|| format!("the state of test {t}"), test.state, s)?;
            minutes_ok(|| format!("the minutes of test {t}"), test.minutes)?;
        }
        Ok(())
    }

    /// Whether some test gives `a` and `b` different outcomes, in whatever state.
    #[must_use]
    pub fn separable(&self, a: usize, b: usize) -> bool {
        self.tests.iter().any(|t| t.outcomes[a] != t.outcomes[b])
    }

    /// Minutes from each state to each other by the quickest way, which may lead
    /// through other states. The diagonal is zero.
    #[must_use]
    pub fn quickest_changes(&self) -> Vec<Vec<f64>> {
        let n = self.states.len();
        let mut d = self.change_minutes.clone();
        for (i, row) in d.iter_mut().enumerate() {
            row[i] = 0.0;
        }
        // Floyd (1962) / Warshall (1962) all-pairs shortest paths.
        for via in 0..n {
            let through = d[via].clone();
            for row in &mut d {
                let first = row[via];
                for (to, &second) in through.iter().enumerate() {
                    if first + second < row[to] {
                        row[to] = first + second;
                    }
                }
            }
        }
        d
    }
}

/// Checks that weights are usable as priors.
pub(crate) fn check_weights(weights: &[f64]) -> Result<(), PlanError> {
    let mut total = 0.0;
    for (h, &w) in weights.iter().enumerate() {
        number(|| format!("the prior of hypothesis {h}"), w)?;
        total += w;
    }
    number(|| "the sum of the priors".to_owned(), total)?;
    if total > 0.0 {
        Ok(())
    } else {
        Err(PlanError::NoHypotheses)
    }
}

pub(crate) fn number(what: impl Fn() -> String, found: f64) -> Result<(), PlanError> {
    if found.is_finite() && found >= 0.0 {
        Ok(())
    } else {
        Err(PlanError::BadNumber {
            what: what(),
            found,
        })
    }
}

pub(crate) fn minutes_ok(what: impl Fn() -> String, found: f64) -> Result<(), PlanError> {
    number(&what, found)?;
    if found <= MAX_MINUTES {
        Ok(())
    } else {
        Err(PlanError::BadNumber {
            what: what(),
            found,
        })
    }
}

pub(crate) fn length(
    what: &str,
    found: usize,
    expected: usize,
    per: &'static str,
) -> Result<(), PlanError> {
    if found == expected {
        Ok(())
    } else {
        Err(PlanError::Length {
            what: what.to_owned(),
            found,
            expected,
            per,
        })
    }
}

pub(crate) fn index(
    what: impl Fn() -> String,
    found: usize,
    count: usize,
) -> Result<(), PlanError> {
    if found < count {
        Ok(())
    } else {
        Err(PlanError::OutOfRange {
            what: what(),
            found,
            count,
        })
    }
}

fn at_most(what: &'static str, found: usize, most: usize) -> Result<(), PlanError> {
    if found <= most {
        Ok(())
    } else {
        Err(PlanError::TooMany { what, found, most })
    }
}
