//! Circuit symbols in the manner of IEC 60617 (from memory), upright: current runs from above.
//!
//! Each symbol fills one row of the sheet: its leads reach the row's upper and lower edge.

use std::fmt::Write;

use tracebay_core::vehicle::Kind;

/// The symbol of a part, or of one way through it.
pub fn part(out: &mut String, kind: &Kind, pins: &(String, String), x: f64, y: f64, row: f64) {
    let middle = y + row / 2.0;
    let bottom = y + row;
    let mut line = |x1: f64, y1: f64, x2: f64, y2: f64| {
        let _ = writeln!(out, r#"<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"/>"#);
    };
    match kind {
        // Fuse: a box with its conductor through it.
        Kind::Fuse { .. } => {
            line(x, y, x, bottom);
            rect(out, x - 6.0, middle - 14.0, 12.0, 28.0, "");
        }
        // Operating coil: a flat box.
        Kind::Relay(_) if matches!(pins.0.as_str(), "85" | "86") => {
            line(x, y, x, middle - 9.0);
            line(x, middle + 9.0, x, bottom);
            rect(out, x - 16.0, middle - 9.0, 32.0, 18.0, "box");
        }
        Kind::ClutchCoil { .. } => {
            line(x, y, x, middle - 9.0);
            line(x, middle + 9.0, x, bottom);
            line(x - 16.0, middle + 9.0, x + 16.0, middle - 9.0);
            rect(out, x - 16.0, middle - 9.0, 32.0, 18.0, "");
        }
        // Break contact: the blade lies against the fixed contact.
        Kind::Relay(_) if pins.1 == "87a" => {
            line(x, y, x, middle - 12.0);
            line(x, middle - 12.0, x + 8.0, middle + 14.0);
            line(x, middle + 10.0, x + 10.0, middle + 10.0);
            line(x, middle + 10.0, x, bottom);
        }
        // Make contact; a hand or a pressure moves those of switches.
        Kind::Relay(_) | Kind::Switch { .. } | Kind::PressureSwitch { .. } => {
            line(x, y, x, middle - 12.0);
            line(x, middle + 12.0, x - 9.0, middle - 12.0);
            line(x, middle + 12.0, x, bottom);
            if !matches!(kind, Kind::Relay(_)) {
                let _ = writeln!(
                    out,
                    r#"<line x1="{}" y1="{middle}" x2="{}" y2="{middle}" class="link"/>"#,
                    x - 22.0,
                    x - 5.0
                );
                let end = x - 22.0;
                let _ = writeln!(
                    out,
                    r#"<line x1="{end}" y1="{}" x2="{end}" y2="{}"/>"#,
                    middle - 6.0,
                    middle + 6.0
                );
            }
            if matches!(kind, Kind::PressureSwitch { .. }) {
                text(out, x - 34.0, middle + 4.0, "p");
            }
        }
        Kind::Lamp { .. } => {
            line(x, y, x, middle - 12.0);
            line(x, middle + 12.0, x, bottom);
            line(x - 8.5, middle - 8.5, x + 8.5, middle + 8.5);
            line(x - 8.5, middle + 8.5, x + 8.5, middle - 8.5);
            circle(out, x, middle, 12.0);
        }
        Kind::Motor { .. } => {
            line(x, y, x, middle - 12.0);
            line(x, middle + 12.0, x, bottom);
            circle(out, x, middle, 12.0);
            text(out, x, middle + 4.0, "M");
        }
        Kind::Thermistor { .. } => {
            line(x, y, x, middle - 14.0);
            line(x, middle + 14.0, x, bottom);
            line(x - 12.0, middle + 12.0, x + 10.0, middle - 12.0);
            rect(out, x - 6.0, middle - 14.0, 12.0, 28.0, "");
            text(out, x - 16.0, middle - 6.0, "\u{3d1}");
        }
        // Plug and socket.
        Kind::Inline { .. } => {
            line(x, y, x, middle - 4.0);
            line(x, middle + 2.0, x, bottom);
            let _ = writeln!(
                out,
                r#"<path d="M {} {} A 7 7 0 0 1 {} {}"/>"#,
                x - 7.0,
                middle + 3.0,
                x + 7.0,
                middle + 3.0
            );
            rect(out, x - 1.6, middle + 2.0, 3.2, 8.0, "dot");
        }
        _ => {
            line(x, y, x, middle - 14.0);
            line(x, middle + 14.0, x, bottom);
            rect(out, x - 6.0, middle - 14.0, 12.0, 28.0, "box");
        }
    }
}

/// Frame or chassis: a bar with strokes hanging from it.
pub fn frame(out: &mut String, x: f64, y: f64) {
    let bar = y + 14.0;
    let _ = writeln!(out, r#"<line x1="{x}" y1="{y}" x2="{x}" y2="{bar}"/>"#);
    let _ = writeln!(
        out,
        r#"<line x1="{}" y1="{bar}" x2="{}" y2="{bar}"/>"#,
        x - 12.0,
        x + 12.0
    );
    for i in 0..3 {
        let from = x - 12.0 + 12.0 * f64::from(i);
        let _ = writeln!(
            out,
            r#"<line x1="{from}" y1="{bar}" x2="{}" y2="{}"/>"#,
            from - 6.0,
            bar + 8.0
        );
    }
}

/// Where the drawing ends and another begins: a terminal with its name. `above` on the feed's end.
pub fn flag(out: &mut String, name: &str, x: f64, y: f64, row: f64, above: bool) {
    let (at, lead, words) = if above {
        (y + row - 10.0, (y + row - 7.0, y + row), y + row - 6.0)
    } else {
        (y + 10.0, (y, y + 7.0), y + 14.0)
    };
    let _ = writeln!(
        out,
        r#"<line x1="{x}" y1="{}" x2="{x}" y2="{}"/>"#,
        lead.0, lead.1
    );
    circle(out, x, at, 3.0);
    let _ = writeln!(out, r#"<text x="{}" y="{words}">{name}</text>"#, x + 8.0);
}

fn rect(out: &mut String, x: f64, y: f64, w: f64, h: f64, class: &str) {
    let _ = writeln!(
        out,
        r#"<rect x="{x}" y="{y}" width="{w}" height="{h}" class="{class}"/>"#
    );
}

fn circle(out: &mut String, x: f64, y: f64, r: f64) {
    let _ = writeln!(out, r#"<circle cx="{x}" cy="{y}" r="{r}" class="box"/>"#);
}

fn text(out: &mut String, x: f64, y: f64, text: &str) {
    let _ = writeln!(out, r#"<text x="{x}" y="{y}" class="mid">{text}</text>"#);
}
