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

/// What a session shows may lag behind what warms slowly, since such drifts reach its network every
/// few seconds only: this share of the voltage, and a millivolt.
const LAG_SHARE: f64 = 2e-3;
/// See [`LAG_SHARE`].
const LAG_FLOOR_V: f64 = 1e-3;

/// The shipped cars of this moment, not those committed, through ngspice; the session's own answer,
/// found as the car was driven there, may lag a little.
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
        let found = spice::solved(nodes, &rows);
        for (at, now) in found.iter().enumerate() {
            let node = tracebay_core::circuit::NodeId(at as u32 + 1);
            // A part that floats has no voltage of its own.
            let Some(shown) = car.solution().voltage(node) else {
                continue;
            };
            let off = (shown - now).abs();
            assert!(
                off <= LAG_SHARE * now.abs() + LAG_FLOOR_V,
                "{name} node {}: the session shows {shown} V, its network gives {now} V",
                at + 1
            );
        }
        worst = worst.and(spice::compare(&name, &rows, &found, &volts));
        count += 1;
    }
    let _ = fs::remove_dir_all(&folder);
    println!("{count} cars live beside {version} | {}", told(worst));
}
