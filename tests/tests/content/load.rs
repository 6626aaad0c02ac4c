//! Reads the shipped files from the repository.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use tracebay_core::scenario::load::SourceFile;
use tracebay_core::scenario::{Catalogue, Scenario};
use tracebay_core::vehicle::Vehicle;

fn ron_files(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .unwrap_or_else(|e| panic!("{}: {e}", folder.display()))
        .map(|entry| entry.expect("a folder entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "ron"))
        .collect();
    // By id: `no-start` comes before `no-start-after-work`, whatever follows in the file's name.
    files.sort_by_key(|path| path.file_stem().map(std::ffi::OsStr::to_owned));
    files
}

fn texts(folder: &Path) -> Vec<SourceFile> {
    ron_files(folder)
        .iter()
        .map(|path| {
            let text =
                std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
            SourceFile {
                name: path.display().to_string(),
                text,
            }
        })
        .collect()
}

/// The shipped files of a folder below `scenarios`.
pub fn folder(name: &str) -> Vec<SourceFile> {
    texts(
        &Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("../scenarios")
            .join(name),
    )
}

/// Everything shipped, read and checked.
pub fn catalogue() -> Catalogue {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios");
    let (vehicles, scenarios) = (texts(&folder.join("vehicles")), texts(&folder));
    assert!(
        !vehicles.is_empty() && !scenarios.is_empty(),
        "nothing is shipped"
    );
    let (catalogue, problems) = Catalogue::load(&vehicles, &scenarios);
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
    for (id, file) in catalogue.vehicles.keys().zip(&vehicles) {
        assert!(
            file.name.ends_with(&format!("{id}.ron")),
            "{id} is in {}",
            file.name
        );
    }
    for (id, file) in catalogue.scenarios.keys().zip(&scenarios) {
        assert!(
            file.name.ends_with(&format!("{id}.ron")),
            "{id} is in {}",
            file.name
        );
    }
    catalogue
}

/// Everything shipped, courses too.
pub fn with_courses() -> Catalogue {
    let mut catalogue = catalogue();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../scenarios/courses");
    let told: Vec<String> = catalogue
        .load_courses(&texts(&folder))
        .iter()
        .map(ToString::to_string)
        .collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
    catalogue
}

/// All shipped vehicles.
pub fn vehicles() -> Vec<Arc<Vehicle>> {
    catalogue().vehicles.into_values().collect()
}

/// All shipped scenarios with their vehicles.
pub fn scenarios() -> Vec<(Arc<Scenario>, Arc<Vehicle>)> {
    let catalogue = catalogue();
    let vehicle = |s: &Scenario| catalogue.vehicles[&s.vehicle].clone();
    catalogue
        .scenarios
        .values()
        .map(|s| (s.clone(), vehicle(s)))
        .collect()
}
