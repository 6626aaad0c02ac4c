//! The circuit solver against ngspice: 200 random networks up to 300 elements, straight and curved. The networks,
//! ngspice's voltages and its version are in `tests/reference/ngspice`; where ngspice is installed its netlists
//! are run again.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use serde::Deserialize;
use serde_json::Value;
use tracebay_core::circuit::{Element, Network, NodeId, Solver, State};

/// Straight networks: a millionth of the voltage. The floor is ngspice's: at node 1 of linear-099, which exact
/// rational arithmetic puts at 0 V, it finds 7.6 nV.
const STRAIGHT_SHARE: f64 = 1e-6;
const STRAIGHT_FLOOR_V: f64 = 2e-8;
/// Networks with lamps, junctions and motors.
const CURVED_SHARE: f64 = 1e-4;
const CURVED_FLOOR_V: f64 = 1e-6;

#[derive(Deserialize)]
struct Reference {
    ngspice: String,
    networks: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    nodes: u32,
    /// Kind, ends, values.
    elements: Vec<Vec<Value>>,
    volts: Vec<f64>,
}

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/reference/ngspice")
}

fn reference() -> Reference {
    let text = fs::read_to_string(folder().join("expected.json"))
        .expect("expected.json is in the repository");
    serde_json::from_str(&text).expect("expected.json is as generate.py writes it")
}

fn element(kind: &str, values: &[f64]) -> Element {
    match (kind, values) {
        ("R", &[ohms]) => Element::Resistor { ohms },
        ("V", &[emf_v, ohms]) => Element::Source { emf_v, ohms },
        ("D", &[saturation_a, slope_v, ohms]) => Element::Diode {
            saturation_a,
            slope_v,
            ohms,
        },
        ("F", &[rated_v, rated_a, cold_fraction]) => Element::Filament {
            rated_v,
            rated_a,
            cold_fraction,
        },
        ("M", &[ohms, volts_per_rad_s, load_nms2]) => Element::FanMotor {
            ohms,
            volts_per_rad_s,
            load_nms2,
        },
        _ => panic!("{kind} with {} values", values.len()),
    }
}

fn network(case: &Case) -> Network {
    let mut net = Network::new();
    for node in 1..=case.nodes {
        net.node(&node.to_string());
    }
    for row in &case.elements {
        let numbers: Vec<f64> = row[1..]
            .iter()
            .map(|value| value.as_f64().expect("a number"))
            .collect();
        let kind = row[0].as_str().expect("a kind");
        let (a, b) = (NodeId(numbers[0] as u32), NodeId(numbers[1] as u32));
        net.add(kind, a, b, element(kind, &numbers[2..]));
    }
    net
}

/// The solver's voltages, by node from 1.
fn solved(case: &Case) -> Vec<f64> {
    let net = network(case);
    let solution = Solver::new(&net)
        .solve(&net, &[], &mut State::rest(&net))
        .unwrap_or_else(|error| panic!("{}: {error}", case.name));
    (1..=case.nodes)
        .map(|node| solution.voltage(NodeId(node)).expect("tied to ground"))
        .collect()
}

/// The largest deviation as a share of what is allowed.
fn compare(case: &Case, found: &[f64], expected: &[f64]) -> f64 {
    assert_eq!(found.len(), expected.len(), "{}", case.name);
    let (share, floor) = if case.name.starts_with("linear") {
        (STRAIGHT_SHARE, STRAIGHT_FLOOR_V)
    } else {
        (CURVED_SHARE, CURVED_FLOOR_V)
    };
    let mut worst = 0.0f64;
    for (node, (found, expected)) in found.iter().zip(expected).enumerate() {
        let deviation = (found - expected).abs() / (share * expected.abs() + floor);
        assert!(
            deviation <= 1.0,
            "{} node {}: {found} V, ngspice {expected} V",
            case.name,
            node + 1
        );
        worst = worst.max(deviation);
    }
    worst
}

#[test]
fn committed_values() {
    let reference = reference();
    assert!(reference.networks.len() >= 200);
    assert!(
        reference
            .networks
            .iter()
            .any(|case| case.elements.len() == 300)
    );
    let mut worst = [0.0f64; 2];
    for case in &reference.networks {
        let deviation = compare(case, &solved(case), &case.volts);
        let kind = usize::from(case.name.starts_with("curved"));
        worst[kind] = worst[kind].max(deviation);
    }
    println!(
        "{} networks against {}: largest deviation {:.1e} straight, {:.1e} curved, as shares of what is allowed",
        reference.networks.len(),
        reference.ngspice,
        worst[0],
        worst[1]
    );
}

/// Runs every netlist where ngspice is installed, and says so where it is not.
#[test]
fn live_values() {
    if Command::new("ngspice").arg("--version").output().is_err() {
        println!("ngspice is not installed: only the committed values were compared");
        return;
    }
    for case in &reference().networks {
        let netlist = folder().join("netlists").join(format!("{}.cir", case.name));
        let run = Command::new("ngspice")
            .arg("-b")
            .arg(&netlist)
            .output()
            .expect("ngspice runs");
        let text = String::from_utf8_lossy(&run.stdout);
        let mut volts = vec![f64::NAN; case.nodes as usize];
        for line in text.lines() {
            // v(12) = 1.234e+00
            let Some((name, value)) = line.split_once(" = ") else {
                continue;
            };
            let Some(node) = name
                .strip_prefix("v(")
                .and_then(|rest| rest.strip_suffix(')'))
            else {
                continue;
            };
            let node: usize = node.parse().expect("nodes are numbers");
            volts[node - 1] = value.trim().parse().expect("a voltage");
        }
        compare(case, &solved(case), &volts);
    }
}
