//! The tests worth planning for in a case, from what was kept if it is there: work looked at again, or
//! graded again under another rubric, need not try every fault again.

use tracebay_core::circuit::SolveError;
use tracebay_core::scenario::Case;
use tracebay_grading::survey::Survey;

/// As [`Survey::of`], kept between runs where there are files.
///
/// # Errors
/// As [`Survey::of`].
pub fn survey(case: &Case) -> Result<Survey, SolveError> {
    #[cfg(target_arch = "wasm32")]
    return Survey::of(case);
    #[cfg(not(target_arch = "wasm32"))]
    {
        let keep = crate::Keep::of_user();
        Survey::of_kept(
            case,
            |name| keep.get(name),
            |name, bytes| keep.put(name, bytes),
        )
    }
}
