//! The diagram in words: parts, connections and notes as sentences, for lists, readers and the file.

use tracebay_core::vehicle::Vehicle;
use tracebay_diagram::{Mark, Notes, Of, marks, svg, title};

use super::Diagram;
use crate::desk::{Desk, Order};
use crate::panels::Cx;

/// A part or a wire, as one reads it.
pub fn thing(cx: &Cx<'_>, vehicle: &Vehicle, of: &Of) -> String {
    match of {
        Of::Part(id) => title(vehicle, id),
        Of::Terminal(id) => id.clone(),
        Of::Wire(id) => {
            let Some(wire) = vehicle.wires.get(id) else {
                return id.clone();
            };
            let size = match wire.awg {
                Some(gauge) => format!("AWG {gauge}"),
                None => format!("{} mm²", wire.mm2),
            };
            cx.text.fill(
                "diagram-wire",
                &[
                    ("id", id.into()),
                    ("colour", (&wire.colour).into()),
                    ("size", (&size).into()),
                    ("from", (&wire.from).into()),
                    ("to", (&wire.to).into()),
                ],
            )
        }
    }
}

/// What a mark says.
pub fn mark(cx: &Cx<'_>, mark: Mark) -> String {
    cx.t(match mark {
        Mark::Good => "diagram-good",
        Mark::Suspect => "diagram-suspect",
        Mark::Noted => "diagram-noted",
    })
}

/// The note on something in one line with its number; none if there is none.
pub fn note(cx: &Cx<'_>, notes: &Notes, of: &Of) -> Option<String> {
    let (number, note) = notes.find(of)?;
    let mark = mark(cx, note.mark);
    Some(if note.text.is_empty() {
        format!("{number} {mark}")
    } else {
        format!("{number} {mark}: {}", note.text)
    })
}

/// The order that hands out what is shown, notes included.
pub fn file(cx: &Cx<'_>, desk: &Desk, diagram: &Diagram) -> Order {
    let vehicle = &desk.session().case().vehicle;
    let drawing = &diagram.drawing;
    let signs = marks::signs(drawing, &desk.notes);
    let drawn = |of: &Of| drawing.things.iter().any(|t| t.of == *of);
    let below: Vec<String> = desk
        .notes
        .all()
        .filter(|(_, of, _)| drawn(of))
        .filter_map(|(_, of, _)| {
            let note = note(cx, &desk.notes, of)?;
            Some(format!("{note} ({})", thing(cx, vehicle, of)))
        })
        .collect();
    let circuit = diagram.circuit().unwrap_or("car");
    let safe = |text: &str| -> String {
        let letters = text.chars();
        letters
            .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
            .take(60)
            .collect()
    };
    Order::HandOutDiagram {
        name: format!("{}-{}.svg", safe(&vehicle.id), safe(circuit)),
        svg: svg::page(&vehicle.name, drawing, &signs, &below),
    }
}
