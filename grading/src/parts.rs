//! Parts that were replaced, and whether they needed to be.
//!
//! Looks at the hidden fault, so it must only be asked once the attempt is over.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tracebay_core::fault::Method;
use tracebay_core::scenario::Case;
use tracebay_core::session::minutes::minutes;
use tracebay_core::session::{Action, Session};

use crate::safety::WatchError;

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

/// Goes along with a session and notes what is replaced.
pub struct PartsWatch {
    case: Arc<Case>,
    steps: usize,
    /// Parts with outputs destroyed on the way.
    dead: BTreeSet<String>,
    /// Fuses that blew on the way and were not replaced since.
    blown: BTreeSet<String>,
    done: Vec<Replaced>,
}

impl PartsWatch {
    /// From the start of a session, before its first action.
    pub fn new(session: &Session) -> PartsWatch {
        PartsWatch {
            case: session.case().clone(),
            steps: 0,
            dead: BTreeSet::new(),
            blown: BTreeSet::new(),
            done: Vec::new(),
        }
    }

    /// Takes in an action the session has performed; the session is as it is after it.
    pub fn step(&mut self, after: &Session, action: &Action) {
        if let Action::Repair {
            target,
            method: Method::Replace,
        } = action
        {
            self.done.push(Replaced {
                step: self.steps,
                target: target.clone(),
                need: self.need(target),
                price: self.case.vehicle.parts.get(target).map_or(0.0, |p| p.price),
                minutes: minutes(&self.case, action),
            });
            self.blown.remove(target);
            self.dead.remove(target);
        }
        self.steps += 1;
        for part in self.case.vehicle.parts.keys() {
            if after.dead_outputs(part) > 0 {
                self.dead.insert(part.clone());
            }
        }
        self.blown
            .extend(after.blown_in_place().into_iter().map(str::to_owned));
    }

    /// What was replaced, in the order it was.
    pub fn replaced(&self) -> &[Replaced] {
        &self.done
    }

    fn need(&self, target: &str) -> Need {
        let again = self
            .done
            .iter()
            .any(|r| r.target == target && r.need == Need::Faulty);
        let faulty = self.case.culprit().is_some_and(|c| {
            c.faults
                .iter()
                .any(|f| f.at == target && Method::Replace.mends(&f.what))
                || c.also.iter().any(|(also, _)| also == target)
        });
        if faulty && !again {
            Need::Faulty
        } else if self.blown.contains(target) || self.dead.contains(target) {
            Need::DamagedOnTheWay
        } else {
            Need::Sound
        }
    }
}

/// Performs actions on a case and says which parts were replaced.
///
/// # Errors
/// An action that the session refuses, or a car that cannot be computed.
pub fn replaced(case: &Arc<Case>, actions: &[Action]) -> Result<Vec<Replaced>, WatchError> {
    let mut session = Session::new(case.clone())?;
    let mut watch = PartsWatch::new(&session);
    for (n, action) in actions.iter().enumerate() {
        session
            .perform(action)
            .map_err(|why| WatchError::Refused { n, why })?;
        watch.step(&session, action);
    }
    Ok(watch.done)
}
