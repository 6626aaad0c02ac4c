//! Asks the shared words for what a session shows. The only module of the panels that does.

use tracebay_core::fault::{Failure, Method};
use tracebay_core::session::{Action, Observation, Refusal};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::{Station, Vehicle};

use super::Cx;
use crate::desk::Desk;

/// A tool's name.
pub fn tool(cx: &Cx<'_>, tool: ToolKind) -> String {
    begin(&cx.text.words.value(tool))
}

/// A lead's name.
pub fn lead(cx: &Cx<'_>, lead: Lead) -> String {
    begin(&cx.text.words.value(lead))
}

/// A dial position.
pub fn dial(cx: &Cx<'_>, dial: Dial) -> String {
    cx.text.words.value(dial)
}

/// A station's name.
pub fn station(cx: &Cx<'_>, station: Station) -> String {
    begin(&cx.text.words.value(station))
}

/// A control's position: a word of ours for the usual ones, the file's own for the rest.
pub fn position(cx: &Cx<'_>, position: &str) -> String {
    ours(cx, &format!("position-{position}")).unwrap_or_else(|| position.to_owned())
}

/// What the ignition is at: where a switch's words do not fit a key, those that stand on the lock.
pub fn ignition(cx: &Cx<'_>, at: &str) -> String {
    ours(cx, &format!("ignition-{at}")).unwrap_or_else(|| position(cx, at))
}

fn ours(cx: &Cx<'_>, key: &str) -> Option<String> {
    cx.text.has(key).then(|| cx.t(key))
}

/// A cover's name.
pub fn cover(cx: &Cx<'_>, cover: &str) -> String {
    let key = format!("cover-{}", cover.replace(' ', "-"));
    if cx.text.has(&key) {
        cx.t(&key)
    } else {
        cover.to_owned()
    }
}

/// A failure.
pub fn failure(cx: &Cx<'_>, vehicle: &Vehicle, target: &str, failure: Failure) -> String {
    begin(&cx.text.words.failure(vehicle, target, failure))
}

/// A way to mend.
pub fn method(cx: &Cx<'_>, method: Method) -> String {
    begin(&cx.text.words.value(method))
}

/// Something seen, heard, felt or read.
pub fn observation(cx: &Cx<'_>, desk: &Desk, seen: &Observation) -> String {
    let vehicle = &desk.session().case().vehicle;
    cx.text.words.observation(vehicle, seen)
}

/// Why not.
pub fn refusal(cx: &Cx<'_>, desk: &Desk, refusal: &Refusal) -> String {
    let vehicle = &desk.session().case().vehicle;
    cx.text.words.refusal(vehicle, refusal)
}

/// What was done.
pub fn action(cx: &Cx<'_>, desk: &Desk, action: &Action) -> String {
    let vehicle = &desk.session().case().vehicle;
    cx.text.words.action(vehicle, action)
}

/// Names begin with a capital where they stand alone.
pub fn begin(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
