//! Wiring diagrams drawn from a vehicle file, so that they can never disagree with the car.

mod paper;
mod symbols;
mod trace;

use std::process::ExitCode;

use tracebay_core::vehicle::Vehicle;
use tracebay_words::Words;

use crate::cli::Common;
use crate::library;
use trace::{Circuit, Tracer};

/// Prints a vehicle's diagram, or one circuit's, as SVG.
pub fn print(
    words: &Words,
    common: &Common,
    vehicle: &str,
    circuit: Option<&str>,
) -> Result<ExitCode, String> {
    let library = library::open(words, common)?;
    let vehicles = &library.catalogue.vehicles;
    let Some(found) = vehicles.get(vehicle) else {
        let known: Vec<&str> = vehicles.keys().map(String::as_str).collect();
        let args = [("id", vehicle.into()), ("known", known.join(", ").into())];
        return Err(words.get("say-unknown-vehicle", &args));
    };
    match svg(found, circuit) {
        Some(text) => {
            print!("{text}");
            Ok(ExitCode::SUCCESS)
        }
        None => {
            let tracer = Tracer::new(found);
            let known: Vec<String> = tracer.circuits().into_iter().map(|c| c.id).collect();
            let id = circuit.unwrap_or_default();
            let args = [("id", id.into()), ("known", known.join(", ").into())];
            Err(words.get("say-unknown-circuit", &args))
        }
    }
}

/// The diagram of all circuits, or of one; none where no circuit goes by that part.
fn svg(vehicle: &Vehicle, circuit: Option<&str>) -> Option<String> {
    let tracer = Tracer::new(vehicle);
    let circuits = match circuit {
        Some(id) => vec![tracer.circuit(id)?],
        None => tracer.circuits(),
    };
    let named: Vec<(String, Circuit)> = circuits
        .into_iter()
        .map(|c| {
            let label = vehicle.parts.get(&c.id).map_or("", |p| p.label.as_str());
            (format!("{} {label}", c.id), c)
        })
        .collect();
    Some(paper::sheet(vehicle, &vehicle.name, &named))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use tracebay_core::vehicle::Kind;
    use tracebay_shelf::Data;

    use super::*;

    #[test]
    fn every_load_and_relay_is_drawn() {
        let (catalogue, problems) = Data::built_in().catalogue();
        assert!(problems.is_empty(), "{problems:?}");
        for vehicle in catalogue.vehicles.values() {
            let circuits = Tracer::new(vehicle).circuits();
            let drawn: BTreeSet<String> = circuits.iter().flat_map(trace::names).collect();
            for (id, part) in &vehicle.parts {
                let wanted = matches!(
                    part.kind,
                    Kind::Relay(_)
                        | Kind::Motor { .. }
                        | Kind::Lamp { .. }
                        | Kind::Resistor { .. }
                        | Kind::ClutchCoil { .. }
                );
                assert!(!wanted || drawn.contains(id), "{}: {id}", vehicle.id);
            }
        }
    }

    #[test]
    fn a_clutch_circuit_names_fuse_relay_load_and_ground() {
        let (catalogue, _) = Data::built_in().catalogue();
        let vehicle = &catalogue.vehicles["ostrel-lindmoor"];
        let text = svg(vehicle, Some("K3")).unwrap();
        for name in [
            "F9",
            "K3",
            "clutch_coil",
            "G7.1",
            "climate_unit.clutch_relay",
            "GN-RD 1.5 mm\u{b2}",
        ] {
            assert!(text.contains(&format!(">{name}</text>")), "{name}");
        }
        assert!(!text.contains("horn"), "one circuit only");
        // Well-formed: every text that is opened is closed.
        assert_eq!(
            text.matches("<text").count(),
            text.matches("</text>").count()
        );
        assert!(svg(vehicle, Some("nothing")).is_none());
    }
}
