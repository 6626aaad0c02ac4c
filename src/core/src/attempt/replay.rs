//! Doing an attempt again and comparing it with what it says.

use std::sync::Arc;

use super::format::{ENGINE_REVISION, Header, Line};
use super::{AttemptError, Chain, content_sha256};
use crate::circuit::SolveError;
use crate::scenario::Case;
use crate::session::{Refusal, Session};

/// A replay that does not go as the file says.
#[derive(Clone, Debug, PartialEq)]
pub struct ReplayError {
    /// Number of the action, from 1; 0 before the first.
    pub n: u32,
    /// Line in the file, from 1.
    pub line: usize,
    /// What went wrong.
    pub kind: ReplayErrorKind,
}

/// What went wrong in a replay.
#[derive(Clone, Debug, PartialEq)]
pub enum ReplayErrorKind {
    /// The car does not allow this action at this moment: the file was edited, or the car is
    /// another.
    Refused(Refusal),
    /// Something before or in this line was edited, or the car showed something else.
    ChainDiffers,
    /// The car's circuits have no operating point before anything is done.
    Unsolvable(SolveError),
}

impl std::fmt::Display for ReplayError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.kind {
            ReplayErrorKind::Refused(refusal) => {
                write!(f, "line {}: refused: {refusal:?}", self.line)
            }
            ReplayErrorKind::Unsolvable(error) => write!(f, "line {}: {error}", self.line),
            ReplayErrorKind::ChainDiffers => write!(f, "line {}: chain differs", self.line),
        }
    }
}

impl std::error::Error for ReplayError {}

/// How far a header agrees with the case at hand.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum HeaderCheck {
    /// Same scenario, version, content and engine.
    Same,
    /// Same version, but the scenario or vehicle file was changed without raising it. Readings
    /// are still checked line by line; what the test order is worth may differ.
    ContentChanged,
}

/// Whether an attempt can be replayed on this case.
pub fn check_header(header: &Header, case: &Case) -> Result<HeaderCheck, AttemptError> {
    let scenario = &case.scenario;
    if header.scenario != scenario.id {
        return Err(AttemptError::OtherScenario {
            file: header.scenario.clone(),
            here: scenario.id.clone(),
        });
    }
    if header.scenario_version != scenario.version {
        return Err(AttemptError::OtherVersion {
            scenario: scenario.id.clone(),
            file: header.scenario_version,
            here: scenario.version,
        });
    }
    if header.engine_revision != ENGINE_REVISION {
        return Err(AttemptError::OtherEngine {
            file: header.engine_revision,
            here: ENGINE_REVISION,
        });
    }
    if header.seed != case.seed {
        return Err(AttemptError::OtherSeed {
            file: header.seed,
            here: case.seed,
        });
    }
    if header.scenario_sha256 == content_sha256(scenario, &case.vehicle) {
        Ok(HeaderCheck::Same)
    } else {
        Ok(HeaderCheck::ContentChanged)
    }
}

/// Does the attempt again on its case. The header's fitness for the case is [`check_header`]'s
/// business.
pub fn replay(case: Arc<Case>, header: &Header, lines: &[Line]) -> Result<Session, ReplayError> {
    run(case, header, lines).map(|(session, _)| session)
}

pub(super) fn run(
    case: Arc<Case>,
    header: &Header,
    lines: &[Line],
) -> Result<(Session, Chain), ReplayError> {
    let mut session = Session::new(case).map_err(|error| ReplayError {
        n: 0,
        line: 1,
        kind: ReplayErrorKind::Unsolvable(error),
    })?;
    let mut chain = Chain::start(header);
    for (index, line) in lines.iter().enumerate() {
        let fail = |kind| ReplayError {
            n: line.n,
            line: index + 2,
            kind,
        };
        let observations = session
            .perform(&line.action)
            .map_err(|refusal| fail(ReplayErrorKind::Refused(refusal)))?;
        if chain.advance(&line.action, &observations) != line.chain {
            return Err(fail(ReplayErrorKind::ChainDiffers));
        }
    }
    Ok((session, chain))
}
