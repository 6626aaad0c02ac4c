//! The courses: what there is, and the lessons of one with their ideas.

use std::process::ExitCode;

use tracebay_words::Words;

use crate::cli::Common;
use crate::library;

/// Lists the courses, or one course's lessons.
pub fn show(words: &Words, common: &Common, course: Option<&str>) -> Result<ExitCode, String> {
    let library = library::open(words, common)?;
    let courses = &library.catalogue.courses;
    let Some(id) = course else {
        for course in courses.values() {
            let args = [
                ("id", course.id.as_str().into()),
                ("title", course.title.as_str().into()),
                ("about", course.about.as_str().into()),
                ("lessons", course.lessons.len().to_string().into()),
            ];
            println!("{}", words.get("say-course", &args));
        }
        if courses.is_empty() {
            println!("{}", words.text("say-no-courses"));
        }
        return Ok(ExitCode::SUCCESS);
    };
    let Some(course) = courses.get(id) else {
        let known: Vec<&str> = courses.keys().map(String::as_str).collect();
        let args = [("id", id.into()), ("known", known.join(", ").into())];
        return Err(words.get("say-unknown-course", &args));
    };
    println!("{}", course.title);
    for (i, lesson) in course.lessons.iter().enumerate() {
        println!();
        let args = [
            ("number", (i + 1).to_string().into()),
            ("title", lesson.title.as_str().into()),
        ];
        println!("{}", words.get("say-lesson", &args));
        println!();
        println!("{}", lesson.idea.trim());
        println!();
        println!("{}", lesson.task.trim());
        let seeds: Vec<String> = lesson.seeds.iter().map(u64::to_string).collect();
        for scenario in &lesson.scenarios {
            let title = library
                .catalogue
                .scenarios
                .get(scenario)
                .map_or("", |s| s.title.as_str());
            let args = [("id", scenario.as_str().into()), ("title", title.into())];
            println!("{}", words.get("say-lesson-scenario", &args));
        }
        if !seeds.is_empty() {
            let args = [("seeds", seeds.join(", ").into())];
            println!("{}", words.get("say-lesson-seeds", &args));
        }
    }
    Ok(ExitCode::SUCCESS)
}
