//! The one place where the grader is asked: for hints, and for the score once the car is back.

use serde_json::json;
use tracebay_shelf::Shown;

use crate::desk::Desk;
use crate::reply::Reply;

/// What the grader says to a request for a hint.
pub fn hint(_desk: &Desk, _shown: &Shown) -> Vec<Reply> {
    Vec::new()
}

/// What there is to say once the car was given back: what had been wrong, whether it was put
/// right, and the score.
pub fn after_handback(desk: &Desk) -> Vec<Reply> {
    let words = &desk.words;
    let session = desk.work.session();
    let case = session.case();
    let vehicle = desk.vehicle();
    let mut lines = Vec::new();
    let mut faults = Vec::new();
    for fault in case.culprit().iter().flat_map(|culprit| &culprit.faults) {
        let failure = fault.what.failure();
        let name = words.name(vehicle, &fault.at);
        // The label alone does not tell two wires or plugs of a kind apart.
        let target = match fault.at.as_str() {
            id if id == "refrigerant" || name.contains(id) => name,
            id => format!("{name} ({id})"),
        };
        let args = [
            ("target", target.into()),
            ("failure", words.value(failure).into()),
        ];
        lines.push(words.get("say-it-was", &args));
        faults.push(json!({ "at": fault.at, "failure": failure }));
    }
    let still_wrong = session.still_wrong();
    lines.push(words.text(if still_wrong == 0 {
        "say-put-right"
    } else {
        "say-still-wrong"
    }));
    let blown = session.blown_in_place();
    for fuse in &blown {
        let args = [("part", words.name(vehicle, fuse).into())];
        lines.push(words.get("say-blown-left", &args));
    }
    let args = [
        ("minutes", words.minutes(session.minutes()).into()),
        ("budget", words.minutes(case.scenario.budget_minutes).into()),
    ];
    lines.push(words.get("say-minutes", &args));
    let data = json!({
        "faults": faults,
        "still_wrong": still_wrong,
        "blown_in_place": blown,
        "minutes": session.minutes(),
    });
    vec![Reply::Info("debrief", lines, data)]
}
