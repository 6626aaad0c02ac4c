//! The shop's side: course, sign-off sheet, practice, a learner's record, the case view, as
//! processes.

#[path = "class/hands.rs"]
mod hands;
#[path = "class/people.rs"]
#[allow(dead_code)]
mod people;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::Arc;

use people::{Dice, Habit, work};
use serde_json::Value;
use tracebay_core::attempt::{HOME_RULES, Recorder, encode_header, encode_line};
use tracebay_grade::course;
use tracebay_grade::library::Library;

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tracebay-grade"))
        .env_remove("TRACEBAY_DATA")
        .args(args)
        .output()
        .unwrap()
}

fn out(output: &Output) -> String {
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn json(output: &Output) -> Value {
    serde_json::from_str(&out(output)).unwrap()
}

/// Writes practice of a learner at silent horns that show the load side.
fn practise(folder: &Path, learner: &str, cases: usize, habit: Habit, day: usize) {
    let library = Library::open(None).unwrap();
    let course = course::open(&library, "relay-circuits").unwrap();
    let skill = course.skills.iter().find(|s| s.id == "load-side").unwrap();
    let fitting = (1..).filter_map(|seed| {
        let case = library.catalogue.draw("horn-silent", seed).ok()?;
        skill
            .covers("horn-silent", &case.culprit()?.id)
            .then_some(case)
    });
    for (i, case) in fitting.take(cases).enumerate() {
        let case = Arc::new(case);
        let actions = work(habit, &case, &mut Dice(i as u64));
        let started = Some(format!("2026-01-{:02}T10:00:00Z", day + i));
        let mut recorder =
            Recorder::start(case, HOME_RULES, started, Some(learner.to_owned())).unwrap();
        let mut text = encode_header(recorder.header());
        for action in actions {
            let (line, _) = recorder.perform(action, None).unwrap();
            text.push_str(&encode_line(&line));
        }
        fs::write(folder.join(format!("{learner}-{i}.jsonl")), text).unwrap();
    }
}

fn path(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn a_sheet_shows_evidence_and_leaves_lines_for_the_trainer() {
    let folder = tempfile::tempdir().unwrap();
    practise(folder.path(), "L07", 2, Habit::Planner, 5);
    practise(folder.path(), "L08", 1, Habit::Guesser, 5);
    let sheet = folder.path().join("sheet.html");
    let live = folder.path().join("live.csv");
    let rows = "learner,skill,date,task,trainer\nL07,load-side,2026-01-20,\"Bench board 2, then a car (invented)\",<b>A. Trainer</b>\n";
    fs::write(&live, rows).unwrap();
    let asked = |learner: &str| {
        run(&[
            "signoff",
            path(folder.path()),
            "--learner",
            learner,
            "--on",
            "2026-02-01",
            "--live",
            path(&live),
            "--out",
            path(&sheet),
            "--json",
        ])
    };
    let found = json(&asked("L07"));
    let skill = |id: &str| {
        let skills = found["skills"].as_array().unwrap();
        skills
            .iter()
            .find(|s| s["skill"]["id"] == id)
            .unwrap()
            .clone()
    };
    assert_eq!(skill("load-side")["reached"], true);
    assert_eq!(skill("load-side")["live"].as_array().unwrap().len(), 1);
    // A horn shows nothing of working around a running engine.
    assert_eq!(skill("safe-work")["reached"], false);
    let page = fs::read_to_string(&sheet).unwrap();
    for said in [
        "Sign-off sheet: L07",
        "2026-02-01",
        "does not replace it",
        "licensed",
        "Name and qualification",
        "Bench board 2, then a car (invented)",
        "&lt;b&gt;A. Trainer&lt;/b&gt;",
        "horn-silent",
    ] {
        assert!(page.contains(said), "{said}");
    }
    let hash = skill("load-side")["shown"][0]["sha256"]
        .as_str()
        .unwrap()
        .to_owned();
    assert!(page.contains(&hash[..16]));
    // Who guesses has shown nothing.
    let other = json(&asked("L08"));
    assert!(other["skills"].as_array().unwrap().iter().any(|s| {
        s["skill"]["id"] == "load-side" && s["reached"] == false && s["not_shown"] == 1
    }));
}

#[test]
fn practice_is_spaced_and_names_a_new_case() {
    let folder = tempfile::tempdir().unwrap();
    practise(folder.path(), "L07", 2, Habit::Planner, 5);
    let asked = |on: &str| {
        let args = [
            "practise",
            path(folder.path()),
            "--learner",
            "L07",
            "--on",
            on,
            "--json",
        ];
        let plans = json(&run(&args));
        let plans = plans.as_array().unwrap().clone();
        plans
            .into_iter()
            .find(|p| p["skill"] == "load-side")
            .unwrap()
    };
    // Shown on the 5th and the 6th: two successes, so three days later.
    let early = asked("2026-01-08");
    assert_eq!(early["due"], "2026-01-09");
    assert_eq!(early["now"], false);
    let later = asked("2026-01-09");
    assert_eq!(later["now"], true);
    let seed = later["case"][1].as_u64().unwrap();
    let library = Library::open(None).unwrap();
    let case = library
        .catalogue
        .draw(later["case"][0].as_str().unwrap(), seed)
        .unwrap();
    let course = course::open(&library, "relay-circuits").unwrap();
    let skill = course.skills.iter().find(|s| s.id == "load-side").unwrap();
    assert!(skill.covers(&case.scenario.id, &case.culprit().unwrap().id));
}

#[test]
fn a_record_is_listed_copied_and_deleted_and_nobody_elses() {
    let folder = tempfile::tempdir().unwrap();
    practise(folder.path(), "L07", 2, Habit::Guesser, 5);
    practise(folder.path(), "L08", 1, Habit::Guesser, 5);
    let copies = folder.path().join("copies");
    let base = ["record", path(folder.path()), "--learner", "L07"];
    let with = |more: &[&str]| run(&[&base[..], more].concat());
    assert!(out(&with(&[])).contains("2 attempts of L07 found"));
    assert!(out(&with(&["--export", path(&copies)])).contains("copied"));
    assert_eq!(fs::read_dir(&copies).unwrap().count(), 2);
    let hasty = with(&["--delete"]);
    assert!(!hasty.status.success());
    fs::remove_dir_all(&copies).unwrap();
    assert!(out(&with(&["--delete", "--yes"])).contains("deleted"));
    let left: Vec<String> = fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(left, ["L08-0.jsonl"]);
}

#[test]
fn a_case_is_shown_whole() {
    let shown = json(&run(&["show", "horn-silent", "--seed", "3", "--json"]));
    let library = Library::open(None).unwrap();
    let case = library.catalogue.draw("horn-silent", 3).unwrap();
    assert_eq!(shown["candidate"], case.culprit().unwrap().id.as_str());
    assert!(shown["readings"].as_array().unwrap().len() > 20);
    assert!(!shown["route"].as_array().unwrap().is_empty());
    let text = out(&run(&["show", "horn-silent", "--seed", "3"]));
    assert!(text.contains("It is: ") && text.contains("best plan"));
}

#[test]
fn every_subcommand_explains_itself_with_an_example() {
    for sub in [
        "assign",
        "rebuild",
        "grade",
        "show",
        "blind",
        "practise",
        "signoff",
        "agreement",
        "record",
    ] {
        let help = out(&run(&[sub, "--help"]));
        assert!(help.contains(&format!("tracebay-grade {sub}")), "{help}");
        assert!(help.contains("Example"), "{sub}");
        assert!(help.contains("--json"), "{sub}");
    }
}

#[test]
fn every_shipped_course_is_sound_and_mistakes_are_told_with_their_place() {
    let library = Library::open(None).unwrap();
    assert!(library.data.skills().count() > 0);
    for file in library.data.skills() {
        let name = file
            .name
            .rsplit('/')
            .next()
            .unwrap()
            .trim_end_matches(".ron");
        let course = course::open(&library, name).unwrap();
        // Every skill can be shown by as many cases as it asks for.
        assert!(
            course
                .skills
                .iter()
                .all(|s| !s.shown_by.is_empty() && !s.live.is_empty())
        );
    }
    let folder = tempfile::tempdir().unwrap();
    let text = library
        .data
        .skills()
        .next()
        .unwrap()
        .text
        .replacen("horn-fuse", "horn-fues", 1);
    let file = folder.path().join("course.ron");
    fs::write(&file, text).unwrap();
    let refused = course::open(&library, path(&file)).unwrap_err();
    assert!(
        refused.contains("horn-fues") && refused.contains("horn-fuse`"),
        "{refused}"
    );
}
