//! The tests worth planning for in a case, from what was kept if it is there: work looked at again, or
//! graded again under another rubric, need not try every fault again.

use tracebay_core::circuit::SolveError;
use tracebay_core::scenario::Case;
use tracebay_grading::survey::Survey;
use tracebay_grading::worlds::Worlds;

/// As [`Survey::of`], kept between runs where there are files.
///
/// # Errors
/// As [`Survey::of`].
pub fn survey(case: &Case) -> Result<Survey, SolveError> {
    kept_or(case, || Survey::of(case))
}

/// As [`Survey::in_worlds`], kept between runs where there are files.
#[must_use]
pub fn survey_in(case: &Case, worlds: &Worlds, threads: usize) -> Survey {
    let make = || Survey::in_worlds(worlds, Some(threads));
    kept_or(case, || Ok(make())).unwrap_or_else(|_| make())
}

fn kept_or(
    case: &Case,
    make: impl FnOnce() -> Result<Survey, SolveError>,
) -> Result<Survey, SolveError> {
    #[cfg(target_arch = "wasm32")]
    {
        let _ = case;
        make()
    }
    #[cfg(not(target_arch = "wasm32"))]
    {
        let keep = crate::Keep::of_user();
        Survey::kept_or(
            case,
            |name| keep.get(name),
            |name, bytes| keep.put(name, bytes),
            make,
        )
    }
}
