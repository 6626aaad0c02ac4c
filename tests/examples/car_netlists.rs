//! Writes the shipped cars as ngspice netlists and what ngspice makes of them, into
//! `tests/reference/ngspice/cars`. Needs ngspice (Debian: `apt-get install ngspice`).
//!
//! `cargo run --release -p tracebay-tests --example car_netlists`

use std::fs;

use tracebay_tests::spice;

fn main() {
    let Some(version) = spice::version() else {
        eprintln!(
            "ngspice is not installed; install it (Debian: apt-get install ngspice) and run this again"
        );
        std::process::exit(1);
    };
    let folder = spice::folder();
    fs::create_dir_all(&folder).expect("the reference folder can be written");
    for old in fs::read_dir(&folder).expect("readable").flatten() {
        fs::remove_file(old.path()).expect("an old netlist can be removed");
    }
    let mut networks = Vec::new();
    for (name, car) in spice::shipped() {
        let (nodes, rows) = spice::rows(&car);
        match spice::find(&name, nodes, &rows, &folder) {
            Ok(volts) => {
                println!("{name}: {nodes} nodes, {} elements", rows.len());
                networks.push(spice::CarNetwork {
                    name,
                    nodes,
                    rows,
                    volts,
                });
            }
            Err(said) => {
                eprintln!("{name}: ngspice found no operating point\n{said}");
                std::process::exit(1);
            }
        }
    }
    let lines: Vec<String> = networks
        .iter()
        .map(|n| serde_json::to_string(n).expect("numbers and names"))
        .collect();
    let head = serde_json::to_string(&version).expect("a word");
    let text = format!(
        "{{\"ngspice\": {head}, \"networks\": [\n{}\n]}}\n",
        lines.join(",\n")
    );
    fs::write(folder.join("expected.json"), text).expect("the folder can be written");
    println!("{} networks by {version}", networks.len());
}
