//! The shipped translations: they fit the shipped files, and the first course is whole in them.
//!
//! Reads `scenarios/words/es.ron` as it is shipped.

use std::collections::BTreeSet;

use tracebay_core::scenario::texts::{texts, unused};
use tracebay_core::scenario::{SourceFile, Tells, Texts};
use tracebay_core::source::parse;
use tracebay_grading::skills;

use crate::load;

/// The file of Spanish texts.
fn spanish() -> (SourceFile, Texts) {
    let files = load::folder("words");
    let file = files.into_iter().find(|f| f.name.ends_with("es.ron"));
    let file = file.expect("Spanish texts are shipped");
    let read = texts(&file).unwrap_or_else(|p| panic!("{p:#?}"));
    assert_eq!(read.language, "es");
    (file, read)
}

#[test]
fn every_entry_translates_what_some_file_says() {
    let mut written = load::with_courses().written();
    for file in load::folder("skills") {
        let course: skills::Course =
            parse(&file.name, &file.text).unwrap_or_else(|p| panic!("{p}"));
        written.extend(course.written());
    }
    let (file, _) = spanish();
    let told: Vec<String> = unused(&file, &written)
        .iter()
        .map(ToString::to_string)
        .collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
}

/// Course, scenarios (but for the topic, which is for instructors) and the cars they are about.
#[test]
fn the_first_course_is_whole_in_spanish() {
    let catalogue = load::with_courses();
    let course = &catalogue.courses["first-afternoon"];
    let mut needed: BTreeSet<String> = course.written();
    for id in course.lessons.iter().flat_map(|l| &l.scenarios) {
        let scenario = &catalogue.scenarios[id];
        let vehicle = &catalogue.vehicles[&scenario.vehicle];
        let mut own = scenario.written();
        own.remove(scenario.topic.as_written());
        needed.extend(own);
        let mut labels = vehicle.written();
        labels.remove(vehicle.about.as_written());
        needed.extend(labels);
    }
    let (_, spanish) = spanish();
    let missing = spanish.missing(&needed);
    assert!(
        missing.is_empty(),
        "{} of {} are missing:\n{}",
        missing.len(),
        needed.len(),
        missing.join("\n")
    );
}
