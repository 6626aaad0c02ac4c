//! The shipped cars against ngspice: committed values, and live where ngspice is installed.

use std::fs;

use tracebay_tests::{catalogue, spice};

fn reference() -> spice::Reference {
    let path = spice::folder().join("expected.json");
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    serde_json::from_str(&text).expect("as the example car_netlists writes it")
}

#[test]
fn cars_as_committed() {
    let reference = reference();
    let mut worst = spice::Deviation::default();
    for car in &reference.networks {
        let found = spice::solved(car.nodes, &car.rows);
        worst = worst.and(spice::compare(&car.name, &car.rows, &found, &car.volts));
    }
    for vehicle in catalogue().vehicles.keys() {
        let states = reference
            .networks
            .iter()
            .filter(|n| n.name.starts_with(vehicle.as_str()))
            .count();
        assert!(
            states >= 8,
            "{vehicle}: {states} committed states; run `cargo run --release -p tracebay-tests --example car_netlists`"
        );
    }
    println!(
        "shipped cars as netlists | {} | {} networks, {} nodes | {}",
        reference.ngspice,
        reference.networks.len(),
        worst.nodes,
        told(worst)
    );
}

fn told(worst: spice::Deviation) -> String {
    format!(
        "{:.1e} of the voltage, {:.2} of what is allowed; {} nodes on leakage alone within {:.1} %",
        worst.of_voltage,
        worst.of_allowed,
        worst.faint,
        100.0 * worst.of_faint
    )
}

/// The shipped cars of this moment, not those committed, through ngspice; the session's own answer
/// is compared, found as the car was driven there.
#[test]
fn cars_run_live() {
    let Some(version) = spice::version() else {
        println!("ngspice is not installed: only the committed values were compared");
        return;
    };
    let folder = std::env::temp_dir().join(format!("tracebay-cars-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a temporary folder");
    let (mut count, mut worst) = (0, spice::Deviation::default());
    for (name, car) in spice::shipped() {
        let (nodes, rows) = spice::rows(&car);
        let volts = spice::find(&name, nodes, &rows, &folder)
            .unwrap_or_else(|said| panic!("{name}: {said}"));
        let found: Vec<f64> = volts
            .iter()
            .enumerate()
            .map(|(at, spice_v)| {
                let node = tracebay_core::circuit::NodeId(at as u32 + 1);
                // A part that floats has no voltage of its own; its differences are compared with
                // the committed networks.
                car.solution().voltage(node).unwrap_or(*spice_v)
            })
            .collect();
        worst = worst.and(spice::compare(&name, &rows, &found, &volts));
        count += 1;
    }
    let _ = fs::remove_dir_all(&folder);
    println!("{count} cars live beside {version} | {}", told(worst));
}
