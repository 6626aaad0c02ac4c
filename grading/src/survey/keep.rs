//! Surveys kept between runs: what one depends on, as a name, and the survey as bytes.
//!
//! Opens no file: whoever has a place to keep bytes gives two functions.

use sha2::{Digest, Sha256};
use tracebay_core::attempt::{ENGINE_REVISION, content_sha256};
use tracebay_core::circuit::SolveError;
use tracebay_core::scenario::Case;

use super::Survey;

/// Raised whenever the survey of a case may come out otherwise than an earlier program's.
const SURVEY_REVISION: u32 = 1;

/// The name under which a case's survey may be kept: another for another scenario, vehicle (both
/// by their content), seed, tools allowed or program. Which fault the case has does not matter: a
/// survey tries them all.
#[must_use]
pub fn kept_name(case: &Case) -> String {
    let content = content_sha256(&case.scenario, &case.vehicle);
    let seed = case.seed;
    let all = format!("survey {SURVEY_REVISION}, engine {ENGINE_REVISION}, {content}, seed {seed}");
    let digest = Sha256::digest(all.as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

impl Survey {
    /// As [`Survey::of`], but taken from what was kept if it is there, and kept if it is not.
    /// `get` gives the bytes kept under a name, `put` keeps some. What cannot be read is made anew.
    ///
    /// # Errors
    /// As [`Survey::of`].
    pub fn of_kept(
        case: &Case,
        get: impl FnOnce(&str) -> Option<Vec<u8>>,
        put: impl FnOnce(&str, &[u8]),
    ) -> Result<Survey, SolveError> {
        Survey::kept_or(case, get, put, || Survey::of(case))
    }

    /// As [`Survey::of_kept`], but made by `make` if it is not there.
    ///
    /// # Errors
    /// As `make`.
    pub fn kept_or(
        case: &Case,
        get: impl FnOnce(&str) -> Option<Vec<u8>>,
        put: impl FnOnce(&str, &[u8]),
        make: impl FnOnce() -> Result<Survey, SolveError>,
    ) -> Result<Survey, SolveError> {
        let name = kept_name(case);
        // RON, since it gives every number back to the last bit.
        let kept = get(&name).and_then(|bytes| ron::de::from_bytes(&bytes).ok());
        if let Some(survey) = kept {
            let mut survey: Survey = survey;
            // Kept as written; shown as the case is.
            survey.states.clone_from(&case.scenario.states);
            return Ok(survey);
        }
        let survey = make()?;
        if let Ok(text) = ron::to_string(&survey) {
            put(&name, text.as_bytes());
        }
        Ok(survey)
    }
}
