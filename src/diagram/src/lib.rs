//! Wiring diagrams drawn from a vehicle file, so that they can never disagree with the car.
//!
//! A vehicle goes in, typed pieces come out (lines, symbols, texts, each with the part, wire or terminal it
//! stands for). Who shows them decides how: as SVG here, by a painter in the window. Knows no files, no
//! window, no session and no fault: a diagram shows the car as it was built.
#![warn(missing_docs)]

pub mod colour;
mod layout;
pub mod marks;
pub mod notes;
pub mod piece;
pub mod svg;
mod symbols;
mod trace;

pub use notes::{Mark, Note, Notes};
pub use piece::{Drawing, Of, Piece, Shape, Symbol, Thing};

use tracebay_core::vehicle::Vehicle;

/// The circuits of a vehicle: what they go by, in the order in which they are drawn.
pub fn circuits(vehicle: &Vehicle) -> Vec<String> {
    let circuits = trace::Tracer::new(vehicle).circuits();
    circuits.into_iter().map(|c| c.id).collect()
}

/// The circuit of a relay, load or control unit; of any other part, the first circuit it is in.
pub fn circuit(vehicle: &Vehicle, id: &str) -> Option<Drawing> {
    let circuit = trace::Tracer::new(vehicle).circuit(id)?;
    Some(layout::sheet(vehicle, &[circuit], f64::INFINITY))
}

/// The circuit to look in for something: the one that goes by it, else the first in which it is drawn.
pub fn circuit_with(vehicle: &Vehicle, of: &Of) -> Option<String> {
    let circuits = trace::Tracer::new(vehicle).circuits();
    let by_it = |circuit: &&trace::Circuit| matches!(of, Of::Part(id) if *id == circuit.id);
    let with_it = |circuit: &&trace::Circuit| {
        let drawing = layout::sheet(vehicle, std::slice::from_ref(*circuit), f64::INFINITY);
        match of {
            Of::Part(id) => drawing.parts().contains(id.as_str()),
            Of::Wire(id) => drawing.wires().contains(id.as_str()),
            Of::Terminal(_) => false,
        }
    };
    let found = circuits.iter().find(by_it);
    let found = found.or_else(|| circuits.iter().find(with_it));
    found.map(|c| c.id.clone())
}

/// All circuits, side by side as long as the sheet stays narrower than this, then below.
pub fn whole(vehicle: &Vehicle, widest: f64) -> Drawing {
    let circuits = trace::Tracer::new(vehicle).circuits();
    layout::sheet(vehicle, &circuits, widest)
}

/// The order in which a person looks for names: K2 before K10.
pub fn in_order(id: &str) -> (String, u64, String) {
    let digits = id.find(|c: char| c.is_ascii_digit()).unwrap_or(id.len());
    let (name, rest) = id.split_at(digits);
    let end = rest
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(rest.len());
    let (number, rest) = rest.split_at(end);
    // A number too long to be one goes last.
    let number = if number.is_empty() {
        0
    } else {
        number.parse().unwrap_or(u64::MAX)
    };
    (name.to_owned(), number, rest.to_owned())
}

/// What a circuit is called: the part it goes by, with its label.
pub fn title(vehicle: &Vehicle, id: &str) -> String {
    let label = vehicle.parts.get(id).map_or("", |p| p.label.as_str());
    format!("{id} {label}").trim_end().to_owned()
}
