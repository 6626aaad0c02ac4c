//! A session that makes its own attempt lines.

use std::sync::Arc;

use super::format::{ENGINE_REVISION, FORMAT, Header, Line};
use super::{Chain, Decoded, ReplayError, content_sha256, replay};
use crate::circuit::SolveError;
use crate::scenario::Case;
use crate::session::{Action, Observation, Refusal, Session, View};

/// A session together with the chain of its attempt.
///
/// [`Recorder::perform`] gives the line and the observations together; whoever keeps the file
/// writes the first before showing the second.
#[derive(Clone)]
pub struct Recorder {
    session: Session,
    header: Header,
    chain: Chain,
    lines: Vec<Line>,
}

impl Recorder {
    /// Starts an attempt at a case.
    ///
    /// # Errors
    /// The car's circuits have no operating point; the check of files finds such vehicles.
    pub fn start(
        case: Arc<Case>,
        rules: &str,
        started: Option<String>,
        learner: Option<String>,
    ) -> Result<Recorder, SolveError> {
        let header = Header {
            format: FORMAT,
            scenario: case.scenario.id.clone(),
            scenario_version: case.scenario.version,
            scenario_sha256: content_sha256(&case.scenario, &case.vehicle),
            seed: case.seed,
            rules: rules.to_owned(),
            engine_revision: ENGINE_REVISION,
            started,
            learner,
        };
        let chain = Chain::start(&header);
        Ok(Recorder {
            session: Session::new(case)?,
            header,
            chain,
            lines: Vec::new(),
        })
    }

    /// Goes on with an attempt: replays it and stands where it ended.
    pub fn resume(case: Arc<Case>, decoded: &Decoded) -> Result<Recorder, ReplayError> {
        let (session, chain) = replay::run(case, &decoded.header, &decoded.lines)?;
        Ok(Recorder {
            session,
            header: decoded.header.clone(),
            chain,
            lines: decoded.lines.clone(),
        })
    }

    /// Does one thing. A refused action changes nothing and makes no line.
    pub fn perform(
        &mut self,
        action: Action,
        at: Option<u64>,
    ) -> Result<(Line, Vec<Observation>), Refusal> {
        let observations = self.session.perform(&action)?;
        let chain = self.chain.advance(&action, &observations).to_owned();
        let line = Line {
            n: self.lines.len() as u32 + 1,
            action,
            at,
            // A thousandth is finer than anyone asks, and short decimals come back from text bit for
            // bit in every reader.
            minutes: libm::round(self.session.minutes() * 1000.0) / 1000.0,
            chain,
        };
        self.lines.push(line.clone());
        Ok((line, observations))
    }

    /// The session, to look at.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// What can be perceived now without doing anything.
    pub fn view(&mut self) -> View {
        self.session.view()
    }

    /// The actions so far, as they stand in the file.
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// The header.
    pub fn header(&self) -> &Header {
        &self.header
    }
}
