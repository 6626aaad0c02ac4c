//! Work under an assignment, as a process.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tracebay_core::tools::ToolKind;
use tracebay_grading::assign::{Assignment, Counts, FORMAT, Learner, Task, Terms};
use tracebay_grading::rubric::Rubric;
use tracebay_shelf::{AttemptFile, Data};

fn assignment(due: &str, opens: Option<&str>) -> Assignment {
    let (catalogue, problems) = Data::built_in().catalogue();
    assert!(problems.is_empty());
    let tools = [ToolKind::TestLight, ToolKind::Lamp];
    let task = |s| Task::of(&catalogue, s, Some(&tools), Some(25.0)).unwrap();
    Assignment {
        format: FORMAT,
        terms: Terms {
            id: "week-3".into(),
            title: "Week 3".into(),
            opens: opens.map(str::to_owned),
            due: Some(due.into()),
            attempts: 2,
            counts: Counts::Best,
            hints: false,
            tasks: vec![task("horn-silent"), task("fan-still")],
            rubric: Rubric::presets()[1].text.clone(),
        },
        learners: ["L01", "L02"]
            .map(|id| Learner {
                id: id.into(),
                name: format!("{id} (invented)"),
                seeds: vec![vec![11, 12], vec![21, 22]],
            })
            .to_vec(),
    }
}

struct Room {
    folder: tempfile::TempDir,
}

impl Room {
    fn new(assignment: &Assignment) -> Room {
        let folder = tempfile::tempdir().unwrap();
        let room = Room { folder };
        fs::write(room.file(), assignment.to_text()).unwrap();
        room
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("week-3.assignment.json")
    }

    fn save(&self) -> PathBuf {
        self.folder.path().join("attempts")
    }

    fn run(&self, args: &[&str], script: &str) -> Output {
        let commands = self.folder.path().join("script.txt");
        fs::write(&commands, script).unwrap();
        Command::new(env!("CARGO_BIN_EXE_tracebay-console"))
            .env("TRACEBAY_SAVE", self.save())
            .env_remove("TRACEBAY_DATA")
            .args(["--lang", "en"])
            .args(args)
            .args(["--script", path(&commands)])
            .output()
            .unwrap()
    }

    fn assigned(&self, more: &[&str], script: &str) -> Output {
        let file = self.file();
        self.run(&[&["assigned", path(&file)], more].concat(), script)
    }

    fn attempts(&self) -> Vec<PathBuf> {
        let mut files: Vec<PathBuf> = fs::read_dir(self.save())
            .unwrap()
            .map(|e| e.unwrap().path())
            .collect();
        files.sort();
        files
    }
}

fn path(path: &Path) -> &str {
    path.to_str().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

const FAR: &str = "2199-01-01T00:00:00Z";
const OWN: [&str; 4] = ["--learner", "L01", "--task", "horn-silent"];

#[test]
fn the_attempt_carries_assignment_learner_and_seed() {
    let assignment = assignment(FAR, None);
    let room = Room::new(&assignment);
    let first = room.assigned(&OWN, "horn pressed\n");
    let text = out(&first);
    for said in [
        "Week 3",
        "Due 2199",
        "Attempt 1 of 2",
        "Hints are off",
        "Tools allowed",
        "25",
    ] {
        assert!(text.contains(said), "{said}: {text}{}", err(&first));
    }
    let files = room.attempts();
    assert_eq!(files.len(), 1);
    let header = AttemptFile::read(&files[0]).unwrap().header;
    assert_eq!(header.rules, assignment.terms.rules());
    assert_eq!(header.learner.as_deref(), Some("L01"));
    assert_eq!((header.scenario.as_str(), header.seed), ("horn-silent", 11));
    assert_eq!(header.scenario_sha256, assignment.terms.tasks[0].sha256);
}

#[test]
fn nothing_outside_the_rules_can_be_done() {
    let room = Room::new(&assignment(FAR, None));
    let asked = room.assigned(&OWN, "hint 1\n");
    assert!(out(&asked).contains("do not allow"), "{}", out(&asked));
    // The meter is not in this roll.
    let asked = room.assigned(&OWN, "dial volts\ntake meter\nblack bat:neg\n");
    let file = AttemptFile::read(&room.attempts()[0]).unwrap();
    assert!(file.lines.is_empty(), "{:?}", file.lines);
    assert!(!out(&asked).is_empty());
    // Going on by way of `resume` would leave the rules behind.
    let file = room.attempts()[0].clone();
    let resumed = room.run(&["resume", path(&file)], "hint 1\n");
    assert!(!resumed.status.success());
    assert!(err(&resumed).contains("assigned"), "{}", err(&resumed));
}

#[test]
fn it_goes_on_where_it_was_left_and_ends_with_the_attempts() {
    let room = Room::new(&assignment(FAR, None));
    let give_back = "handback a | b | c\n";
    room.assigned(&OWN, "wait 5\n");
    let again = room.assigned(&OWN, &format!("wait 5\n{give_back}"));
    assert!(
        out(&again).contains("Resumed"),
        "{}{}",
        out(&again),
        err(&again)
    );
    assert_eq!(room.attempts().len(), 1);
    let second = room.assigned(&OWN, give_back);
    assert!(out(&second).contains("Attempt 2 of 2"), "{}", out(&second));
    let third = room.assigned(&OWN, "wait 5\n");
    assert!(!third.status.success());
    assert!(err(&third).contains("are used"), "{}", err(&third));
    assert_eq!(room.attempts().len(), 2);
    // The other learner and the other task have theirs.
    let other = room.assigned(&["--learner", "L02", "--task", "horn-silent"], "wait 5\n");
    assert!(out(&other).contains("Attempt 1 of 2"));
    assert!(out(&other).contains("given back here before"));
    let tasks = room.assigned(&["--learner", "L01"], "");
    assert!(
        out(&tasks).contains("horn-silent: 2 of 2"),
        "{}",
        out(&tasks)
    );
}

#[test]
fn wrong_openings_are_refused_in_words() {
    let room = Room::new(&assignment(FAR, Some("2198-01-01T00:00:00Z")));
    let early = room.assigned(&OWN, "");
    assert!(err(&early).contains("opens 2198"), "{}", err(&early));
    let room = Room::new(&assignment("2020-01-01T00:00:00Z", None));
    let late = room.assigned(&OWN, "");
    assert!(out(&late).contains("marked late"), "{}", out(&late));
    let nobody = room.assigned(&["--learner", "L99", "--task", "horn-silent"], "");
    assert!(err(&nobody).contains("L99"));
    assert!(err(&room.assigned(&["--task", "horn-silent"], "")).contains("whole class"));
    let task = room.assigned(&["--learner", "L01", "--task", "no-start"], "");
    assert!(err(&task).contains("no-start"));
    fs::write(room.file(), "{\"format\":2}").unwrap();
    let newer = room.assigned(&OWN, "");
    assert!(err(&newer).contains("another version"), "{}", err(&newer));
}
