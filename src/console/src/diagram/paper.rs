//! A circuit on paper: current paths from the feed above to the ground below, as SVG text.
//!
//! Knows where things go on a sheet; [`super::symbols`] knows what they look like.

use std::fmt::Write;

use tracebay_core::vehicle::{Kind, Vehicle};

use super::symbols;
use super::trace::{Circuit, Item, Path, Tree};

/// Width of a column and height of a row, in SVG units.
const COLUMN: f64 = 168.0;
const ROW: f64 = 62.0;
const MARGIN: f64 = 46.0;
const HEADER: f64 = 58.0;

/// A sheet with these circuits one below the other.
pub fn sheet(vehicle: &Vehicle, title: &str, circuits: &[(String, Circuit)]) -> String {
    let mut body = String::new();
    let mut top = HEADER;
    let mut width: f64 = 640.0;
    for (name, circuit) in circuits {
        let mut x = MARGIN + COLUMN / 2.0;
        let feed_rows = circuit
            .paths
            .iter()
            .map(|p| p.feed.len())
            .max()
            .unwrap_or(0);
        let _ = writeln!(
            body,
            r#"<text x="{MARGIN}" y="{}" class="circuit">{}</text>"#,
            top + 4.0,
            escape(name)
        );
        let first_row = top + 26.0;
        let mut rows = 0;
        let mut roots = Vec::new();
        for path in &circuit.paths {
            let y = first_row + feed_rows as f64 * ROW;
            let (wide, deep) = draw_path(vehicle, path, x, y, &mut body);
            roots.push((x, y, path));
            rows = rows.max(feed_rows + deep);
            x += wide as f64 * COLUMN;
        }
        // Two contacts of a changeover relay share their feed.
        if let [(a, y, first), (b, _, second), _] = roots.as_slice()
            && second.feed.is_empty()
            && !first.feed.is_empty()
        {
            let _ = writeln!(body, r#"<line x1="{a}" y1="{y}" x2="{b}" y2="{y}"/>"#);
        }
        // The coil moves its contact.
        if let [(a, y, contact), .., (b, _, coil)] = roots.as_slice()
            && let (Item::Part { id, .. }, Item::Part { id: same, .. }) =
                (&contact.load.item, &coil.load.item)
            && id == same
        {
            let _ = writeln!(
                body,
                r#"<line x1="{}" y1="{m}" x2="{}" y2="{m}" class="link"/>"#,
                a + 8.0,
                b - 16.0,
                m = y + ROW / 2.0
            );
        }
        width = width.max(x + MARGIN);
        top = first_row + rows as f64 * ROW + 30.0;
    }
    format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {top}" width="{width}" height="{top}" font-family="sans-serif">
<style>
line,path,circle,rect{{fill:none;stroke:#111;stroke-width:1.6}}
.link{{stroke-dasharray:5 4;stroke-width:1.1}} .dot{{fill:#111}} .box{{fill:#fff}}
text{{font-size:11px;fill:#111}} .title{{font-size:18px;font-weight:bold}} .circuit{{font-size:14px;font-weight:bold}}
.small{{font-size:9.5px;fill:#333}} .mid{{text-anchor:middle}}
</style>
<rect x="0" y="0" width="{width}" height="{top}" style="fill:#fff;stroke:none"/>
<text x="{MARGIN}" y="30" class="title">{}</text>
{body}</svg>
"##,
        escape(title)
    )
}

/// Draws a path with its root at (`x`, `y`); columns and rows below the feed that it takes.
fn draw_path(vehicle: &Vehicle, path: &Path, x: f64, y: f64, out: &mut String) -> (usize, usize) {
    let start = y - path.feed.len() as f64 * ROW;
    for (i, item) in path.feed.iter().enumerate() {
        draw_item(vehicle, item, x, start + i as f64 * ROW, true, out);
    }
    draw_tree(vehicle, &path.load, x, y, out)
}

fn draw_tree(vehicle: &Vehicle, tree: &Tree, x: f64, y: f64, out: &mut String) -> (usize, usize) {
    draw_item(vehicle, &tree.item, x, y, false, out);
    let below = y + ROW;
    let (mut wide, mut deep) = (0, 0);
    let mut last = x;
    for child in &tree.then {
        let at = x + wide as f64 * COLUMN;
        let (w, d) = draw_tree(vehicle, child, at, below, out);
        wide += w;
        deep = deep.max(d);
        last = at;
    }
    if tree.then.len() > 1 {
        let _ = writeln!(
            out,
            r#"<line x1="{x}" y1="{below}" x2="{last}" y2="{below}"/>"#
        );
        let _ = writeln!(
            out,
            r#"<circle cx="{x}" cy="{below}" r="2.6" class="dot"/>"#
        );
    }
    (wide.max(1), deep + 1)
}

fn draw_item(vehicle: &Vehicle, item: &Item, x: f64, y: f64, above: bool, out: &mut String) {
    match item {
        Item::Wire(id) => {
            let _ = writeln!(
                out,
                r#"<line x1="{x}" y1="{y}" x2="{x}" y2="{}"/>"#,
                y + ROW
            );
            if let Some(wire) = vehicle.wires.get(id) {
                let text = format!("{} {} mm\u{b2}", wire.colour, wire.mm2);
                label(out, x + 6.0, y + ROW / 2.0, &text, "small");
                label(out, x + 6.0, y + ROW / 2.0 + 11.0, id, "small");
            }
        }
        Item::Part { id, pins } => {
            let Some(part) = vehicle.parts.get(id) else {
                return;
            };
            symbols::part(out, &part.kind, pins, x, y, ROW);
            let right = x + 24.0;
            // A relay is named in full at its coil; its contact's link runs where a name would be.
            if matches!(part.kind, Kind::Relay(_)) && pins.0 == "30" {
                label(out, right, y + ROW / 2.0 - 5.0, id, "");
                label(out, x + 4.0, y + 9.0, &pins.0, "small");
                label(out, x + 4.0, y + ROW - 3.0, &pins.1, "small");
                return;
            }
            label(out, right, y + ROW / 2.0 - 4.0, id, "");
            for (i, line) in wrapped(&part.label).iter().enumerate() {
                label(
                    out,
                    right,
                    y + ROW / 2.0 + 7.0 + 10.0 * i as f64,
                    line,
                    "small",
                );
            }
            if !matches!(part.kind, Kind::Fuse { .. }) {
                label(out, x + 4.0, y + 9.0, &pins.0, "small");
                label(out, x + 4.0, y + ROW - 3.0, &pins.1, "small");
            }
        }
        Item::End { id, pin } => {
            let kind = vehicle.parts.get(id).map(|p| &p.kind);
            if let Some(Kind::GroundStud { .. }) = kind {
                symbols::frame(out, x, y);
                label(out, x + 20.0, y + 22.0, &format!("{id}.{pin}"), "");
                return;
            }
            let name = match kind {
                Some(Kind::BusBar { .. }) => "30".to_owned(),
                Some(Kind::Battery { .. }) => {
                    if pin == "pos" { "+" } else { "\u{2212}" }.to_owned()
                }
                Some(Kind::Switch { .. }) => format!("{pin} ({id})"),
                _ => format!("{id}.{pin}"),
            };
            symbols::flag(out, &escape(&name), x, y, ROW, above);
        }
    }
}

/// A label in lines of at most some twenty letters.
fn wrapped(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + word.chars().count() < 24 => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

fn label(out: &mut String, x: f64, y: f64, text: &str, class: &str) {
    let _ = writeln!(
        out,
        r#"<text x="{x}" y="{y}" class="{class}">{}</text>"#,
        escape(text)
    );
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}
