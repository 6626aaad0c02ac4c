//! The job: sheet, log, what usually fails, and the words for calls and repairs.

use std::collections::BTreeMap;

use serde_json::json;
use tracebay_core::fault::{Failure, Method};
use tracebay_core::scenario::Case;
use tracebay_core::session::Action;
use tracebay_core::vehicle::Vehicle;
use tracebay_words::{Keyed, Words, fold};

use super::{Desk, Found};

/// Candidate faults by how common they are, in the words a call uses. Which relay or fuse is
/// which is not told: there the label says what it is for, and the box is to be read.
pub fn card(desk: &Desk) -> Found {
    let words = desk.words;
    let case = desk.session.case();
    let vehicle = &case.vehicle;
    let mut shares: BTreeMap<(String, Failure, String), f64> = BTreeMap::new();
    let mut total = 0.0;
    for candidate in &case.scenario.candidates {
        let Some(fault) = candidate.faults.first() else {
            continue;
        };
        let what = plain_name(words, vehicle, &fault.at);
        let failure = fault.what.failure();
        let called = words.failure(vehicle, &fault.at, failure);
        *shares.entry((what, failure, called)).or_default() += candidate.prior;
        total += candidate.prior;
    }
    let mut entries: Vec<_> = shares.into_iter().collect();
    entries.sort_by(|(a, x), (b, y)| y.total_cmp(x).then_with(|| a.cmp(b)));
    let mut lines = vec![words.text("say-card")];
    let mut data = Vec::new();
    for ((what, failure, called), share) in entries {
        let percent = (100.0 * share / total).round();
        let args = [
            ("percent", words.number(percent, 0).into()),
            ("what", what.as_str().into()),
            ("failure", called.into()),
        ];
        lines.push(words.get("say-card-line", &args));
        data.push(json!({ "what": what, "failure": failure, "percent": percent }));
    }
    ("card", lines, json!(data))
}

fn plain_name(words: &Words, vehicle: &Vehicle, at: &str) -> String {
    let (part, pin) = match at.split_once('.') {
        Some((part, pin)) => (part, Some(pin)),
        None => (at, None),
    };
    let label = match vehicle.parts.get(part) {
        Some(part) => part.label.to_string(),
        None if vehicle.wires.contains_key(at) => return words.wire(vehicle, at),
        None => return words.name(vehicle, at),
    };
    match pin {
        Some(pin) => {
            let args = [("id", pin.into()), ("part", label.into())];
            words.get("say-terminal-of", &args)
        }
        None => label,
    }
}

/// What can be called and repaired, those with a word in them if given.
pub fn targets(desk: &Desk, word: Option<&str>) -> Found {
    let words = desk.words;
    let vehicle = &desk.session.case().vehicle;
    let wanted = word.map(fold);
    let mut lines = Vec::new();
    let mut data = Vec::new();
    for (id, _) in &desk.names.targets {
        let label = if vehicle.wires.contains_key(id) {
            words.wire(vehicle, id)
        } else {
            words.name(vehicle, id)
        };
        let fits = wanted
            .as_ref()
            .is_none_or(|wanted| fold(id).contains(wanted) || fold(&label).contains(wanted));
        if fits {
            let args = [("id", id.as_str().into()), ("label", label.into())];
            lines.push(words.get("say-target", &args));
            data.push(id);
        }
    }
    ("targets", lines, json!(data))
}

pub fn failures(desk: &Desk) -> Found {
    let meaning = |failure: Failure| desk.words.failure_meaning(failure);
    let lines = word_list(desk, meaning);
    ("failures", lines, names::<Failure>())
}

pub fn methods(desk: &Desk) -> Found {
    let meaning = |method: Method| desk.words.value(method);
    ("methods", word_list(desk, meaning), names::<Method>())
}

fn word_list<T: Keyed>(desk: &Desk, meaning: impl Fn(T) -> String) -> Vec<String> {
    let words = desk.words;
    let line = |value: &T| {
        let args = [
            ("word", words.spelling(*value).into()),
            ("meaning", meaning(*value).into()),
        ];
        words.get("say-word", &args)
    };
    T::all().iter().map(line).collect()
}

fn names<T: Keyed>() -> serde_json::Value {
    let names: Vec<_> = T::all().iter().map(|value| value.name()).collect();
    json!(names)
}

/// Complaint, weather, notes, calls and repairs.
pub fn sheet(desk: &Desk) -> Found {
    let (words, view) = (desk.words, desk.view);
    let case = desk.session.case();
    let vehicle = &case.vehicle;
    let mut lines = complaint(words, case);
    for (action, _) in desk.session.log() {
        if let Action::Note(text) = action {
            lines.push(words.get("say-note", &[("text", text.as_str().into())]));
        }
    }
    for (target, failure) in &view.calls {
        let args = [
            ("target", words.name(vehicle, target).into()),
            ("failure", words.failure(vehicle, target, *failure).into()),
        ];
        lines.push(words.get("say-called", &args));
    }
    for (target, method) in &view.repairs {
        let args = [
            ("target", words.name(vehicle, target).into()),
            ("method", words.value(*method).into()),
        ];
        lines.push(words.get("say-repaired", &args));
    }
    let args = [
        ("minutes", words.minutes(view.minutes).into()),
        ("budget", words.minutes(case.scenario.budget_minutes).into()),
    ];
    lines.push(words.get("say-minutes", &args));
    let data = json!({
        "complaint": case.complaint,
        "ambient_c": case.ambient_c,
        "rain": case.rain(),
        "calls": view.calls,
        "repairs": view.repairs,
        "minutes": view.minutes,
        "budget_minutes": case.scenario.budget_minutes,
    });
    ("sheet", lines, data)
}

/// What the customer says, and the weather.
pub fn complaint(words: &Words, case: &Case) -> Vec<String> {
    let weather = words.temperature(case.ambient_c);
    let mut lines = vec![
        words.get("say-complaint", &[("text", case.complaint.as_str().into())]),
        words.get("say-weather", &[("temperature", weather.into())]),
    ];
    if case.rain() {
        lines.push(words.text("say-rain"));
    }
    lines
}

/// What was done and what it showed.
pub fn log(desk: &Desk, last: Option<usize>) -> Found {
    let words = desk.words;
    let vehicle = &desk.session.case().vehicle;
    let all = desk.session.log();
    let skip = last.map_or(0, |last| all.len().saturating_sub(last));
    let mut lines = Vec::new();
    for (index, (action, seen)) in all.iter().enumerate().skip(skip) {
        let args = [
            ("n", (index + 1).to_string().into()),
            ("text", words.action(vehicle, action).into()),
        ];
        lines.push(words.get("say-log-entry", &args));
        lines.extend(seen.iter().map(|seen| words.observation(vehicle, seen)));
    }
    (
        "log",
        lines,
        json!(all.iter().skip(skip).collect::<Vec<_>>()),
    )
}
