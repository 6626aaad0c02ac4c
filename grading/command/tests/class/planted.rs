//! What the invented class hands in: honest work by habit, planted cheats, and files that are no
//! attempts.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::Arc;

use tracebay_core::attempt::{HOME_RULES, Recorder, encode_header, encode_line};
use tracebay_core::scenario::Case;
use tracebay_core::session::Action;
use tracebay_grade::library::Library;
use tracebay_grade::parallel::{Progress, in_order};
use tracebay_grading::assign::Assignment;

use crate::people::{Dice, Habit, work};
use crate::{CLASS, SCENARIOS, habit};

/// How an attempt is written.
struct Pen<'a> {
    rules: &'a str,
    learner: Option<&'a str>,
    started: &'a str,
    /// Milliseconds between two actions: least, and how many more at most.
    pace_ms: (u64, usize),
}

fn write(case: &Arc<Case>, actions: &[Action], pen: &Pen, dice: &mut Dice) -> String {
    let mut recorder = Recorder::start(
        case.clone(),
        pen.rules,
        Some(pen.started.to_owned()),
        pen.learner.map(str::to_owned),
    )
    .unwrap();
    let mut text = encode_header(recorder.header());
    let mut at = 0;
    for action in actions {
        at += pen.pace_ms.0 + dice.below(pen.pace_ms.1) as u64;
        let (line, _) = recorder.perform(action.clone(), Some(at)).unwrap();
        text.push_str(&encode_line(&line));
    }
    text
}

fn case(
    library: &Library,
    assignment: &Assignment,
    learner: usize,
    task: usize,
    n: usize,
) -> Arc<Case> {
    let seed = assignment.learners[learner].seeds[task][n];
    let task = &assignment.terms.tasks[task];
    Arc::new(task.case(&library.catalogue, seed).unwrap())
}

/// Writes what the class hands in.
pub fn hand_in(
    library: &Library,
    assignment: &Assignment,
    folder: &Path,
) -> BTreeMap<String, &'static str> {
    let rules = assignment.terms.rules();
    let mut planted = BTreeMap::new();
    let save = |name: &str, text: &[u8]| {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    };
    let honest = |learner: usize, task: usize, n: usize, dice: &mut Dice| {
        let case = case(library, assignment, learner, task, n);
        let actions = work(habit(learner), &case, dice);
        (case, actions)
    };
    let texts = in_order(CLASS * 2, 2, &Progress::new("made", false), |i| {
        let (learner, task) = (i / 2, i % 2);
        let mut dice = Dice(1000 + i as u64);
        let (case, actions) = honest(learner, task, 0, &mut dice);
        let started = format!("2026-02-0{}T1{}:00:00Z", 2 + learner % 5, learner % 10);
        let pen = Pen {
            rules: &rules,
            learner: Some(&assignment.learners[learner].id),
            started: &started,
            pace_ms: (1500, 12_000),
        };
        write(&case, &actions, &pen, &mut dice)
    });
    let text = |learner: usize, task: usize| texts[learner * 2 + task].as_ref().unwrap();
    for learner in 0..CLASS {
        for (task, scenario) in SCENARIOS.iter().enumerate() {
            let own = text(learner, task);
            let name = format!("box-{}/{learner:02}/{scenario}.jsonl", learner % 3);
            // Two learners hand nothing in at the second task, one leaves off.
            match (learner, task) {
                (28 | 29, 1) => {}
                (27, 1) => {
                    let lines: Vec<&str> = own.lines().take(12).collect();
                    save(&name, (lines.join("\n") + "\n").as_bytes());
                }
                _ => save(&name, own.as_bytes()),
            }
        }
    }
    let mut plant = |name: &str, flag: &'static str, text: &str| {
        save(name, text.as_bytes());
        planted.insert(name.to_owned(), flag);
    };
    let pen = |learner: usize| Pen {
        rules: &rules,
        learner: Some(&assignment.learners[learner].id),
        started: "2026-02-06T09:00:00Z",
        pace_ms: (2000, 9000),
    };
    let dice = &mut Dice(77);

    // Edits of honest work; the originals of these second attempts are not handed in.
    let second = |learner: usize, dice: &mut Dice| {
        let (case, actions) = honest(learner, 0, 1, dice);
        write(&case, &actions, &pen(learner), dice)
    };
    let whole = second(0, dice);
    let called = whole
        .lines()
        .position(|line| line.contains("\"call\""))
        .unwrap();
    let mut lines: Vec<String> = whole.lines().map(str::to_owned).collect();
    assert!(called > 4);
    lines[2] = lines[3].replace(&format!("\"n\":{}", 3), &format!("\"n\":{}", 2));
    plant(
        "cheats/copied-line.jsonl",
        "edited",
        &(lines.join("\n") + "\n"),
    );

    let whole = second(1, dice);
    let edited = whole.replacen("{\"light\":", "{\"look\":", 1);
    assert_ne!(edited, whole);
    plant("cheats/changed-action.jsonl", "edited", &edited);

    let mut lines: Vec<&str> = whole.lines().collect();
    lines.swap(4, 5);
    plant(
        "cheats/swapped.jsonl",
        "damaged",
        &(lines.join("\n") + "\n"),
    );

    let whole = second(6, dice);
    let lines: Vec<&str> = whole.lines().collect();
    let without = [&lines[..5], &lines[6..]].concat().join("\n");
    plant("cheats/left-out.jsonl", "damaged", &(without + "\n"));

    let whole = second(2, dice);
    let other = whole.replacen("\"learner\":\"L03\"", "\"learner\":\"L09\"", 1);
    assert_ne!(other, whole);
    plant("cheats/other-name.jsonl", "wrong seed", &other);

    // A score written into a file is no part of the format.
    let boasted = whole.replacen("\"n\":1,", "\"n\":1,\"score\":100,", 1);
    plant("cheats/boasted.jsonl", "damaged", &boasted);

    // Someone else's car, done by oneself.
    let theirs = case(library, assignment, 8, 0, 1);
    let actions = work(Habit::Planner, &theirs, dice);
    let text_ = write(&theirs, &actions, &pen(9), dice);
    plant("cheats/neighbours-car.jsonl", "wrong seed", &text_);

    // A car nobody was given.
    let task = &assignment.terms.tasks[0];
    let nobodys = Arc::new(task.case(&library.catalogue, 5).unwrap());
    let actions = work(Habit::Planner, &nobodys, dice);
    let text_ = write(&nobodys, &actions, &pen(10), dice);
    plant("cheats/own-choice.jsonl", "wrong seed", &text_);

    // A script: forty actions in a blink.
    let (car, actions) = honest(12, 0, 1, dice);
    let fast = Pen {
        pace_ms: (1, 3),
        ..pen(12)
    };
    plant(
        "cheats/script.jsonl",
        "impossible times",
        &write(&car, &actions, &fast, dice),
    );

    // Begun before the assignment was opened.
    let (car, actions) = honest(13, 0, 1, dice);
    let early = Pen {
        started: "2026-01-20T09:00:00Z",
        ..pen(13)
    };
    plant(
        "cheats/early.jsonl",
        "impossible times",
        &write(&car, &actions, &early, dice),
    );

    let (car, actions) = honest(14, 0, 1, dice);
    let late = Pen {
        started: "2026-02-09T09:00:00Z",
        ..pen(14)
    };
    plant(
        "cheats/late.jsonl",
        "late",
        &write(&car, &actions, &late, dice),
    );

    let (car, actions) = honest(16, 0, 1, dice);
    let stranger = Pen {
        learner: Some("L77"),
        ..pen(16)
    };
    plant(
        "cheats/stranger.jsonl",
        "unknown learner",
        &write(&car, &actions, &stranger, dice),
    );

    // The learner's copy of the assignment was changed to allow hints.
    let mut easier = assignment.terms.clone();
    easier.hints = true;
    let easier = easier.rules();
    let (car, actions) = honest(18, 0, 1, dice);
    let changed = Pen {
        rules: &easier,
        ..pen(18)
    };
    plant(
        "cheats/changed-rules.jsonl",
        "changed rules",
        &write(&car, &actions, &changed, dice),
    );

    // A hint taken although they are off, by a program that lets it.
    let (car, mut actions) = honest(19, 0, 1, dice);
    actions.insert(1, Action::Hint(3));
    plant(
        "cheats/hint.jsonl",
        "against the rules",
        &write(&car, &actions, &pen(19), dice),
    );

    // The case was tried out at home first.
    let (car, actions) = honest(20, 0, 1, dice);
    let home = Pen {
        rules: HOME_RULES,
        learner: None,
        started: "2026-02-05T09:00:00Z",
        ..pen(20)
    };
    save(
        "home/practice.jsonl",
        write(&car, &actions, &home, dice).as_bytes(),
    );
    let actions = work(Habit::Planner, &car, dice);
    plant(
        "cheats/tried-before.jsonl",
        "seen before",
        &write(&car, &actions, &pen(20), dice),
    );

    // The same case once more.
    let (car, actions) = honest(21, 0, 0, dice);
    plant(
        "cheats/once-more.jsonl",
        "same case again",
        &write(&car, &actions, &pen(21), dice),
    );

    // The very same file again, under another name.
    plant("cheats/again.jsonl", "same file", text(22, 0));

    // What one did, typed in by another on their own car.
    let (a, b) = (
        case(library, assignment, 24, 1, 1),
        case(library, assignment, 25, 1, 1),
    );
    let actions = work(Habit::Guesser, &a, &mut Dice(5));
    let copied = fits_both(&a, &b, actions);
    plant(
        "cheats/typed-a.jsonl",
        "same actions",
        &write(&a, &copied, &pen(24), dice),
    );
    plant(
        "cheats/typed-b.jsonl",
        "same actions",
        &write(&b, &copied, &pen(25), dice),
    );

    others(folder);
    planted
}

/// The actions that both cars allow.
fn fits_both(a: &Arc<Case>, b: &Arc<Case>, actions: Vec<Action>) -> Vec<Action> {
    use tracebay_core::session::Session;
    let (mut a, mut b) = (
        Session::new(a.clone()).unwrap(),
        Session::new(b.clone()).unwrap(),
    );
    let mut both = Vec::new();
    for action in actions {
        let (mut tried_a, mut tried_b) = (a.clone(), b.clone());
        if tried_a.perform(&action).is_ok() && tried_b.perform(&action).is_ok() {
            both.push(action);
            (a, b) = (tried_a, tried_b);
        }
    }
    assert!(both.len() > 20);
    both
}

/// Files that are no attempts.
fn others(folder: &Path) {
    fs::write(folder.join("notes.txt"), "Hello").unwrap();
    fs::write(
        folder.join("picture.jsonl"),
        [0x89, b'P', b'N', b'G', 0, 255],
    )
    .unwrap();
    fs::write(folder.join("empty.jsonl"), "").unwrap();
    let newer = "{\"format\":9,\"scenario\":\"horn-silent\",\"new\":true}\n";
    fs::write(folder.join("newer.jsonl"), newer).unwrap();
    // Two gigabytes that take no room on the disk.
    let huge = fs::File::create(folder.join("huge.jsonl")).unwrap();
    huge.set_len(2 << 30).unwrap();
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("/etc/passwd", folder.join("link.jsonl")).unwrap();
        std::os::unix::fs::symlink("..", folder.join("loop")).unwrap();
    }
}
