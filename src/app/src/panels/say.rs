//! Asks the words for what a session shows. The only module of the app that knows how.

use tracebay_core::fault::{Failure, Method};
use tracebay_core::session::{Action, Observation, Refusal};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;

use super::Cx;

fn plain(value: impl std::fmt::Debug) -> String {
    format!("{value:?}")
}

/// A tool's name.
pub fn tool(_cx: &Cx<'_>, tool: ToolKind) -> String {
    plain(tool)
}

/// A lead's name.
pub fn lead(_cx: &Cx<'_>, lead: Lead) -> String {
    plain(lead)
}

/// A dial position.
pub fn dial(_cx: &Cx<'_>, dial: Dial) -> String {
    plain(dial)
}

/// A station's name.
pub fn station(_cx: &Cx<'_>, station: Station) -> String {
    plain(station)
}

/// A control's position.
pub fn position(_cx: &Cx<'_>, position: &str) -> String {
    position.to_owned()
}

/// A cover's name.
pub fn cover(_cx: &Cx<'_>, cover: &str) -> String {
    cover.to_owned()
}

/// A failure.
pub fn failure(_cx: &Cx<'_>, failure: Failure) -> String {
    plain(failure)
}

/// A way to mend.
pub fn method(_cx: &Cx<'_>, method: Method) -> String {
    plain(method)
}

/// Something seen, heard, felt or read.
pub fn observation(_cx: &Cx<'_>, _desk: &crate::desk::Desk, seen: &Observation) -> String {
    plain(seen)
}

/// Why not.
pub fn refusal(_cx: &Cx<'_>, _desk: &crate::desk::Desk, refusal: &Refusal) -> String {
    plain(refusal)
}

/// What was done.
pub fn action(_cx: &Cx<'_>, _desk: &crate::desk::Desk, action: &Action) -> String {
    plain(action)
}
