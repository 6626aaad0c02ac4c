//! From texts to a catalogue: every file read and checked, every problem told.

use std::sync::Arc;

use super::{Catalogue, Course, Scenario};
use crate::source::{Check, Path, Problem, parse};
use crate::vehicle::Vehicle;

/// A file's name, as told in problems, and its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceFile {
    /// Name.
    pub name: String,
    /// Text.
    pub text: String,
}

/// Reads and checks one vehicle file.
///
/// # Errors
/// Everything that is wrong with it.
pub fn vehicle(file: &SourceFile) -> Result<Vehicle, Vec<Problem>> {
    let mut vehicle: Vehicle = parse(&file.name, &file.text).map_err(|p| vec![p])?;
    let mut check = Check::new(&file.name, &file.text);
    crate::vehicle::check::gauges(&mut vehicle, &mut check);
    crate::vehicle::check::check(&vehicle, &mut check);
    check.finish()?;
    Ok(vehicle)
}

/// Reads and checks one scenario file against the vehicles of a catalogue.
///
/// # Errors
/// Everything that is wrong with it.
pub fn scenario(file: &SourceFile, catalogue: &Catalogue) -> Result<Scenario, Vec<Problem>> {
    let scenario: Scenario = parse(&file.name, &file.text).map_err(|p| vec![p])?;
    let mut check = Check::new(&file.name, &file.text);
    let vehicles = catalogue.vehicles.keys().map(String::as_str);
    if check.known(
        &Path::root().field("vehicle"),
        &scenario.vehicle,
        vehicles,
        "vehicle",
    ) {
        super::check::check(
            &scenario,
            &catalogue.vehicles[&scenario.vehicle],
            &mut check,
        );
    }
    check.finish()?;
    Ok(scenario)
}

/// Reads and checks one course file against the scenarios of a catalogue.
///
/// # Errors
/// Everything that is wrong with it.
pub fn course(file: &SourceFile, catalogue: &Catalogue) -> Result<Course, Vec<Problem>> {
    let course: Course = parse(&file.name, &file.text).map_err(|p| vec![p])?;
    let mut check = Check::new(&file.name, &file.text);
    super::course::check(&course, catalogue, &mut check);
    check.finish()?;
    Ok(course)
}

/// Files of one kind that have one `id`: told for each of them, with the name of another one. Files
/// that cannot be read are left to the other checks.
pub fn same_ids<T: serde::de::DeserializeOwned>(
    files: &[SourceFile],
    id: impl Fn(&T) -> &str,
) -> Vec<Problem> {
    let ids: Vec<Option<String>> = files
        .iter()
        .map(|file| {
            parse::<T>(&file.name, &file.text)
                .ok()
                .map(|it| id(&it).to_owned())
        })
        .collect();
    let mut problems = Vec::new();
    for (i, file) in files.iter().enumerate() {
        let Some(this) = &ids[i] else { continue };
        let other = (0..files.len()).find(|j| *j != i && ids[*j].as_ref() == Some(this));
        let Some(other) = other else { continue };
        let mut check = Check::new(&file.name, &file.text);
        check.refuse(
            &Path::root().field("id"),
            format!("`{this}` is the id of {} as well", files[other].name),
            "give each file an id of its own; of two with one id only one is used",
        );
        problems.extend(check.finish().err().into_iter().flatten());
    }
    problems
}

impl Catalogue {
    /// Reads courses on the scenarios that are there. What is wrong is left out and told.
    pub fn load_courses(&mut self, courses: &[SourceFile]) -> Vec<Problem> {
        let mut problems = Vec::new();
        for file in courses {
            match course(file, self) {
                Ok(c) => {
                    self.courses.insert(c.id.clone(), Arc::new(c));
                }
                Err(found) => problems.extend(found),
            }
        }
        problems
    }

    /// Loads vehicles first, then scenarios. What is wrong is left out and told; the rest is there.
    pub fn load(vehicles: &[SourceFile], scenarios: &[SourceFile]) -> (Catalogue, Vec<Problem>) {
        let (mut catalogue, mut problems) = (Catalogue::default(), Vec::new());
        for file in vehicles {
            match vehicle(file) {
                Ok(v) => {
                    catalogue.vehicles.insert(v.id.clone(), Arc::new(v));
                }
                Err(found) => problems.extend(found),
            }
        }
        for file in scenarios {
            match scenario(file, &catalogue) {
                Ok(s) => {
                    catalogue.scenarios.insert(s.id.clone(), Arc::new(s));
                }
                Err(found) => problems.extend(found),
            }
        }
        (catalogue, problems)
    }
}
