//! Reads the shipped files from the repository.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use tracebay_core::scenario::Scenario;
use tracebay_core::source;
use tracebay_core::vehicle::Vehicle;

fn ron_files(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap_or_else(|e| panic!("{}: {e}", folder.display()))
        .map(|entry| entry.expect("a folder entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "ron"))
        .collect();
    files.sort();
    files
}

fn read<T: serde::de::DeserializeOwned>(path: &Path) -> T {
    let text = std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let name = path.display().to_string();
    source::parse(&name, &text).unwrap_or_else(|problem| panic!("{problem}"))
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios")
}

/// All shipped vehicles by id.
pub fn vehicles() -> BTreeMap<String, Arc<Vehicle>> {
    let all = ron_files(&folder().join("vehicles"));
    assert!(!all.is_empty(), "no vehicle is shipped");
    all.iter()
        .map(|path| {
            let vehicle: Vehicle = read(path);
            let stem = path.file_stem().and_then(|s| s.to_str()).unwrap_or_default();
            assert_eq!(vehicle.id, stem, "a vehicle's id is its file's name");
            (vehicle.id.clone(), Arc::new(vehicle))
        })
        .collect()
}

/// All shipped scenarios with their vehicles.
pub fn scenarios() -> Vec<(Arc<Scenario>, Arc<Vehicle>)> {
    let vehicles = vehicles();
    let all = ron_files(&folder());
    assert!(!all.is_empty(), "no scenario is shipped");
    all.iter()
        .map(|path| {
            let scenario: Scenario = read(path);
            let stem = path.file_stem().and_then(|s| s.to_str()).unwrap_or_default();
            assert_eq!(scenario.id, stem, "a scenario's id is its file's name");
            let vehicle = vehicles
                .get(&scenario.vehicle)
                .unwrap_or_else(|| panic!("{}: no vehicle {}", scenario.id, scenario.vehicle));
            (Arc::new(scenario), vehicle.clone())
        })
        .collect()
}
