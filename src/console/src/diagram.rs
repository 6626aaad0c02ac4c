//! The command that prints a wiring diagram; `tracebay-diagram` draws it.

use std::process::ExitCode;

use tracebay_diagram::{circuit, circuits, svg, whole};
use tracebay_words::Words;

use crate::cli::Common;
use crate::library;

/// Prints a vehicle's diagram, or one circuit's, as SVG.
pub fn print(
    words: &Words,
    common: &Common,
    vehicle: &str,
    part: Option<&str>,
) -> Result<ExitCode, String> {
    let library = library::open(words, common)?;
    let vehicles = &library.catalogue.vehicles;
    let Some(found) = vehicles.get(vehicle) else {
        let known: Vec<&str> = vehicles.keys().map(String::as_str).collect();
        let args = [("id", vehicle.into()), ("known", known.join(", ").into())];
        return Err(words.get("say-unknown-vehicle", &args));
    };
    let drawing = match part {
        // One below the other, as on a roll of paper.
        None => whole(found, 0.0),
        Some(id) => circuit(found, id).ok_or_else(|| {
            let known = circuits(found).join(", ");
            let args = [("id", id.into()), ("known", known.into())];
            words.get("say-unknown-circuit", &args)
        })?,
    };
    print!("{}", svg::page(&found.name, &drawing, &[], &[]));
    Ok(ExitCode::SUCCESS)
}
