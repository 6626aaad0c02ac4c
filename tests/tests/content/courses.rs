//! The shipped courses: they read, and between them every scenario has its lesson.

use std::collections::BTreeSet;

use crate::load;

#[test]
fn every_scenario_has_a_lesson() {
    let catalogue = load::with_courses();
    assert!(!catalogue.courses.is_empty(), "no course is shipped");
    let taught: BTreeSet<&String> = catalogue
        .courses
        .values()
        .flat_map(|c| &c.lessons)
        .flat_map(|l| &l.scenarios)
        .collect();
    let untaught: Vec<&String> = catalogue
        .scenarios
        .keys()
        .filter(|id| !taught.contains(id))
        .collect();
    assert!(untaught.is_empty(), "{untaught:?}");
}

#[test]
fn lessons_get_no_easier_to_give_away() {
    // An idea may name what is found in general, never a scenario's own parts.
    let catalogue = load::with_courses();
    for course in catalogue.courses.values() {
        for lesson in &course.lessons {
            for id in &lesson.scenarios {
                let scenario = &catalogue.scenarios[id];
                for candidate in &scenario.candidates {
                    for fault in &candidate.faults {
                        let named = lesson
                            .idea
                            .split(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.'))
                            .any(|word| word == fault.at);
                        assert!(!named, "{}: {} names {}", course.id, lesson.id, fault.at);
                    }
                }
            }
        }
    }
}
