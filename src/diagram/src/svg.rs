//! A drawing as SVG text.

use std::fmt::Write;

use crate::colour::Colour;
use crate::piece::{Anchor, At, Drawing, Fill, Pen, Piece, Shape, TextSize};

/// Space for the title above the drawing.
const HEADER: f64 = 44.0;
const MARGIN: f64 = 46.0;
const LINE: f64 = 16.0;

/// A page with a title, the drawing, signs over it and lines of text below.
pub fn page(title: &str, drawing: &Drawing, signs: &[Piece], below: &[String]) -> String {
    let width = drawing.width.max(640.0);
    let foot = if below.is_empty() {
        0.0
    } else {
        LINE * (below.len() as f64 + 1.5)
    };
    let height = HEADER + drawing.height + foot;
    let mut body = String::new();
    for piece in drawing.pieces.iter().chain(signs) {
        write_shape(&mut body, &piece.shape);
    }
    let mut notes = String::new();
    for (i, line) in below.iter().enumerate() {
        let y = HEADER + drawing.height + LINE * (i as f64 + 1.0);
        let line = escape(line);
        let _ = writeln!(notes, r#"<text x="{MARGIN}" y="{y}">{line}</text>"#);
    }
    format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" font-family="sans-serif">
<style>
polyline,circle,rect{{fill:none;stroke:#111;stroke-width:1.6;stroke-linejoin:round}}
.join{{stroke-width:2.2}} .link{{stroke-dasharray:5 4;stroke-width:1.1}} .dot{{fill:#111}} .box{{fill:#fff}}
.edge{{stroke:#222;stroke-width:4.6}} .wire{{stroke-width:3}} .stripe{{stroke-width:3;stroke-dasharray:5 9}}
.good{{stroke:#1e5631;stroke-width:2}} .suspect{{stroke:#8f1d16;stroke-width:2}} .noted{{stroke:#1f4f73;stroke-width:2}}
text{{font-size:{}px;fill:#111}} .title{{font-size:{}px;font-weight:bold}} .circuit{{font-size:{}px;font-weight:bold}}
.small{{font-size:{}px;fill:#333}} .mid{{text-anchor:middle}} .end{{text-anchor:end}}
</style>
<rect x="0" y="0" width="{width}" height="{height}" style="fill:#fff;stroke:none"/>
<text x="{MARGIN}" y="30" class="title">{}</text>
<g transform="translate(0 {HEADER})">
{body}</g>
{notes}</svg>
"##,
        TextSize::Label.units(),
        TextSize::Title.units(),
        TextSize::Circuit.units(),
        TextSize::Small.units(),
        escape(title)
    )
}

fn write_shape(out: &mut String, shape: &Shape) {
    let written = match shape {
        Shape::Line { through, pen } => {
            let points = points(through);
            match pen {
                Pen::Wire(colours) => {
                    let main = hex(colours.main);
                    let mut lines = writeln!(
                        out,
                        r#"<polyline points="{points}" class="edge"/><polyline points="{points}" class="wire" style="stroke:{main}"/>"#
                    );
                    if let Some(stripe) = colours.stripe {
                        lines = writeln!(
                            out,
                            r#"<polyline points="{points}" class="stripe" style="stroke:{}"/>"#,
                            hex(stripe)
                        );
                    }
                    lines
                }
                pen => {
                    let class = class(*pen, Fill::Open);
                    writeln!(out, r#"<polyline points="{points}"{class}/>"#)
                }
            }
        }
        Shape::Rect { area, fill, pen } => writeln!(
            out,
            r#"<rect x="{}" y="{}" width="{}" height="{}"{}/>"#,
            n(area.min.x),
            n(area.min.y),
            n(area.max.x - area.min.x),
            n(area.max.y - area.min.y),
            class(*pen, *fill)
        ),
        Shape::Circle {
            centre,
            radius,
            fill,
            pen,
        } => writeln!(
            out,
            r#"<circle cx="{}" cy="{}" r="{}"{}/>"#,
            n(centre.x),
            n(centre.y),
            n(*radius),
            class(*pen, *fill)
        ),
        Shape::Text {
            at,
            text,
            size,
            anchor,
        } => {
            let size = match size {
                TextSize::Small => "small",
                TextSize::Label => "",
                TextSize::Circuit => "circuit",
                TextSize::Title => "title",
            };
            let anchor = match anchor {
                Anchor::Start => "",
                Anchor::Middle => "mid",
                Anchor::End => "end",
            };
            writeln!(
                out,
                r#"<text x="{}" y="{}" class="{}">{}</text>"#,
                n(at.x),
                n(at.y),
                format!("{size} {anchor}").trim(),
                escape(text)
            )
        }
    };
    // Writing to a text cannot fail.
    debug_assert!(written.is_ok());
}

fn class(pen: Pen, fill: Fill) -> String {
    let pen = match pen {
        Pen::Join => "join",
        Pen::Link => "link",
        Pen::Good => "good",
        Pen::Suspect => "suspect",
        Pen::Noted => "noted",
        Pen::Symbol | Pen::Wire(_) => "",
    };
    let fill = match fill {
        Fill::Open => "",
        Fill::Paper => "box",
        Fill::Solid => "dot",
    };
    match format!("{pen} {fill}").trim() {
        "" => String::new(),
        both => format!(r#" class="{both}""#),
    }
}

fn points(through: &[At]) -> String {
    let each: Vec<String> = through
        .iter()
        .map(|p| format!("{},{}", n(p.x), n(p.y)))
        .collect();
    each.join(" ")
}

/// A number with no more digits than a drawing needs.
fn n(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

fn hex(colour: Colour) -> String {
    let [r, g, b] = colour.rgb;
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// Text that is safe in SVG: its special signs are written out, and signs that XML 1.0 forbids are left
/// out.
fn escape(text: &str) -> String {
    text.replace(
        |c: char| c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}'),
        " ",
    )
    .replace('&', "&amp;")
    .replace('<', "&lt;")
    .replace('>', "&gt;")
    .replace('"', "&quot;")
}
