//! The state of the car and the tools, as the learner left them.

use serde_json::json;
use tracebay_core::tools::{Dial, ToolKind};
use tracebay_words::{Keyed, Value};

use super::places::cover_lines;
use super::{Desk, Found};

pub fn state(desk: &Desk) -> Found {
    let (words, view) = (desk.words, desk.view);
    let case = desk.session.case();
    let vehicle = &case.vehicle;
    let name = |id: &str| Value::from(words.name(vehicle, id));
    let one = |key: &str, arg: &str, value: Value| words.get(key, &[(arg, value)]);
    let mut lines = vec![
        one("say-you-are", "station", words.value(view.station).into()),
        words.get(
            "say-minutes",
            &[
                ("minutes", words.minutes(view.minutes).into()),
                ("budget", words.minutes(case.scenario.budget_minutes).into()),
            ],
        ),
        one(
            "say-car-time",
            "seconds",
            words.number(view.ticks as f64 / 10.0, 0).into(),
        ),
    ];
    for (id, position) in &view.controls {
        let args = [
            ("id", id.as_str().into()),
            ("position", position.as_str().into()),
        ];
        lines.push(words.get("say-control", &args));
    }
    lines.push(words.text(if view.engine_running {
        "say-engine-running"
    } else {
        "say-engine-off"
    }));
    if view.station == tracebay_core::vehicle::Station::Seat {
        lines.push(words.dash(&view.dash));
    }
    lines.push(words.text(if view.protected {
        "say-protected"
    } else {
        "say-not-protected"
    }));
    lines.extend(cover_lines(desk));
    lines.extend(
        view.pulled
            .iter()
            .map(|id| one("say-pulled", "part", name(id))),
    );
    lines.extend(
        view.spares_fitted
            .iter()
            .map(|id| one("say-spare-in", "part", name(id))),
    );
    lines.extend(
        view.unplugged
            .iter()
            .map(|id| one("say-unplugged", "plug", name(id))),
    );
    lines.extend(tool_lines(desk));
    lines.extend(view.sounds.iter().map(|(sound, place)| {
        let args = [
            ("sound", words.value(*sound).into()),
            ("place", name(place)),
        ];
        words.get("say-heard-now", &args)
    }));
    let readings = view.readings.iter();
    lines.extend(readings.map(|reading| words.observation(vehicle, reading)));
    let mut data = json!(view);
    if let Some(view) = data.as_object_mut() {
        // What moves is for drawing. Whoever wants to know has to look, which is an action.
        view.remove("motion");
    }
    ("state", lines, data)
}

fn tool_lines(desk: &Desk) -> Vec<String> {
    let (words, view) = (desk.words, desk.view);
    let vehicle = &desk.session.case().vehicle;
    let mut lines = Vec::new();
    if let Some(tool) = desk.hand {
        lines.push(words.get("say-in-hand", &[("tool", words.value(tool).into())]));
    }
    for (tool, leads) in &view.leads {
        for (lead, point) in leads {
            let args = [
                ("tool", words.value(*tool).into()),
                ("lead", words.value(*lead).into()),
                ("point", words.point(vehicle, point).into()),
            ];
            lines.push(words.get("say-lead-on", &args));
        }
    }
    if view.dial != Dial::Off {
        lines.push(words.get("say-dial-at", &[("dial", words.value(view.dial).into())]));
    }
    if let Some(socket) = &view.breakout {
        let args = [("part", words.name(vehicle, socket).into())];
        lines.push(words.get("say-breakout-in", &args));
    }
    if view.gauge_on {
        lines.push(words.text("say-gauge-on"));
    }
    if let Some(place) = &view.lamp_at {
        let args = [("place", words.name(vehicle, place).into())];
        lines.push(words.get("say-lamp-at", &args));
    }
    for tool in &view.blown_tools {
        lines.push(words.get("say-tool-blown", &[("tool", words.value(*tool).into())]));
    }
    lines
}

pub fn controls(desk: &Desk) -> Found {
    let words = desk.words;
    let vehicle = &desk.session.case().vehicle;
    let lines = vehicle.controls.iter().map(|(id, control)| {
        let position = desk.session.control(id).unwrap_or_default();
        let args = [
            ("id", id.as_str().into()),
            ("label", control.label.as_str().into()),
            ("station", words.value(control.station).into()),
            ("positions", control.positions.join(", ").into()),
            ("position", position.to_owned().into()),
        ];
        words.get("say-control-positions", &args)
    });
    ("controls", lines.collect(), json!(vehicle.controls))
}

pub fn tools(desk: &Desk) -> Found {
    let words = desk.words;
    let roll = &desk.session.case().scenario.tools;
    let line = |tool: &ToolKind| {
        let leads: Vec<_> = tool
            .leads()
            .iter()
            .map(|lead| words.spelling(*lead))
            .collect();
        let mut args = vec![
            ("word", words.spelling(*tool).into()),
            ("tool", words.value(*tool).into()),
        ];
        if leads.is_empty() {
            return words.get("say-tool", &args);
        }
        args.push(("leads", leads.join(", ").into()));
        words.get("say-tool-leads", &args)
    };
    let names: Vec<_> = roll.iter().map(|tool| tool.name()).collect();
    ("tools", roll.iter().map(line).collect(), json!(names))
}
