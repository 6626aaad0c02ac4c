//! A course: skills, what shows each, and the level needed. Read from a RON file.

use std::path::Path;

use tracebay_core::source::{Check, Path as Field, Problem, parse};
pub use tracebay_grading::skills::{Course, FORMAT, ShownBy, Skill};
use tracebay_shelf::read_source;

use crate::library::{Library, told};

/// Opens a course by its name among the data files, or a file.
///
/// # Errors
/// It cannot be read, or is not sound: with line and column.
pub fn open(library: &Library, named: &str) -> Result<Course, String> {
    let file = match library.data.file(&format!("scenarios/skills/{named}.ron")) {
        Some(file) => file.clone(),
        None => read_source(Path::new(named)).map_err(|e| {
            let known: Vec<&str> = library
                .data
                .skills()
                .filter_map(|f| f.name.rsplit('/').next()?.strip_suffix(".ron"))
                .collect();
            format!(
                "{e}. Name a course ({}) or a course file.",
                known.join(", ")
            )
        })?,
    };
    let mut course: Course = parse(&file.name, &file.text).map_err(|p| told(&[p]))?;
    check_course(&course, library, &file.name, &file.text).map_err(|p| told(&p))?;
    library.show(&mut course);
    Ok(course)
}

/// What must hold in a course beyond its types.
fn check_course(
    course: &Course,
    library: &Library,
    name: &str,
    text: &str,
) -> Result<(), Vec<Problem>> {
    let mut check = Check::new(name, text);
    let root = Field::root;
    if course.format != FORMAT {
        check.refuse(
            &root().field("format"),
            format!("this program reads format {FORMAT} of courses"),
            "a newer program may read this file",
        );
    }
    let scenarios = &library.catalogue.scenarios;
    for (s, skill) in course.skills.iter().enumerate() {
        let at = || root().field("skills").index(s);
        check.number(
            &at().field("times"),
            f64::from(skill.times),
            1.0..=1000.0,
            "cases",
        );
        if course.skills[..s].iter().any(|other| other.id == skill.id) {
            check.refuse(
                &at().field("id"),
                format!("the skill `{}` is there twice", skill.id),
                "",
            );
        }
        for (i, (_, share)) in skill.least.iter().enumerate() {
            check.number(&at().field("least").index(i), *share, 0.0..=1.0, "");
        }
        for (b, by) in skill.shown_by.iter().enumerate() {
            let by_at = || at().field("shown_by").index(b);
            let ids = scenarios.keys().map(String::as_str);
            if !check.known(&by_at().field("scenario"), &by.scenario, ids, "scenario") {
                continue;
            }
            for (f, fault) in by.faults.iter().enumerate() {
                let ids = scenarios[&by.scenario]
                    .candidates
                    .iter()
                    .map(|c| c.id.as_str());
                check.known(
                    &by_at().field("faults").index(f),
                    fault,
                    ids,
                    "candidate fault",
                );
            }
        }
    }
    check.finish()
}
