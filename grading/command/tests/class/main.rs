//! A class of thirty invented learners with known habits, and planted cheats, graded end to end:
//! every cheat is flagged, nobody honest is.

mod hands;
mod people;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use people::{Dice, Habit, work};
use serde_json::Value;
use tracebay_core::attempt::{HOME_RULES, Recorder, encode_header, encode_line};
use tracebay_core::scenario::Case;
use tracebay_core::session::Action;
use tracebay_grade::classbook::{AttemptResult, Classbook};
use tracebay_grade::flags::Gravity;
use tracebay_grade::grading::{self, Wanted};
use tracebay_grade::library::Library;
use tracebay_grade::parallel::{Progress, in_order};
use tracebay_grade::{assigning, gradebook, statements, times};
use tracebay_grading::assign::{Assignment, Counts, FORMAT, Learner, Sequence, Task, Terms};

const SCENARIOS: [&str; 2] = ["horn-silent", "fan-still"];
const OPENS: &str = "2026-02-01T08:00:00Z";
const DUE: &str = "2026-02-08T08:00:00Z";
const CLASS: usize = 30;

/// Habits by place on the roster.
fn habit(learner: usize) -> Habit {
    match learner % 6 {
        0 | 1 => Habit::Planner,
        2 => Habit::Careful,
        3 => Habit::Swapper,
        4 => Habit::Guesser,
        _ => Habit::Careless,
    }
}

fn assignment(library: &Library) -> Assignment {
    let terms = Terms {
        id: "invented-class".into(),
        title: "Invented class, week 3".into(),
        opens: Some(OPENS.into()),
        due: Some(DUE.into()),
        attempts: 2,
        counts: Counts::Best,
        hints: false,
        tasks: SCENARIOS
            .map(|s| Task::of(&library.catalogue, s, None, None).unwrap())
            .to_vec(),
        rubric: library.rubric("assignment").unwrap().0.text,
    };
    let mut sequence = Sequence::new(
        "an invented secret",
        &terms.id,
        &terms.tasks,
        terms.attempts,
        &library.catalogue,
    );
    let learners = (0..CLASS)
        .map(|i| {
            let id = format!("L{:02}", i + 1);
            Learner {
                // Names that would break a careless report.
                name: match i {
                    3 => "=HYPERLINK(\"x\") (invented)".to_owned(),
                    4 => "<script>alert(1)</script> (invented)".to_owned(),
                    5 => "Ünï \"Quote\", Jr (invented)".to_owned(),
                    _ => format!("Learner {:02} (invented)", i + 1),
                },
                seeds: sequence.next(&id).unwrap(),
                id,
            }
        })
        .collect();
    Assignment {
        format: FORMAT,
        terms,
        learners,
    }
}

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

/// A class's folder, and which file was planted for which flag.
struct Class {
    _folder: tempfile::TempDir,
    folder: PathBuf,
    assignment: Assignment,
    planted: BTreeMap<String, &'static str>,
    book: Classbook,
}

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(|| Library::open(None).unwrap())
}

fn class() -> &'static Class {
    static MADE: OnceLock<Class> = OnceLock::new();
    MADE.get_or_init(|| {
        let library = library();
        let folder = tempfile::tempdir().unwrap();
        let assignment = assignment(library);
        let planted = hand_in(library, &assignment, folder.path());
        let book = grade(folder.path(), &assignment, 2, None);
        Class {
            folder: folder.path().to_owned(),
            _folder: folder,
            assignment,
            planted,
            book,
        }
    })
}

fn grade(folder: &Path, assignment: &Assignment, threads: usize, out: Option<&Path>) -> Classbook {
    let wanted = Wanted {
        assignment,
        other: None,
        corrections: Vec::new(),
        verify: false,
        walks: true,
        threads,
        progress: false,
        time: false,
        without: out,
    };
    grading::grade(library(), folder, wanted).unwrap()
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
fn hand_in(
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

fn attempt<'a>(book: &'a Classbook, file: &str) -> &'a AttemptResult {
    book.attempts.iter().find(|a| a.file == file).expect(file)
}

#[test]
fn every_planted_cheat_is_flagged() {
    let class = class();
    for (file, flag) in &class.planted {
        let found = attempt(&class.book, file);
        let names: Vec<&str> = found.flags.iter().map(|f| f.name()).collect();
        assert!(names.contains(flag), "{file}: {names:?}, not {flag}");
        println!("{file}: {}", names.join(", "));
        // What is void has no score.
        let void = found.gravity() == Some(Gravity::Void);
        assert_eq!(void, found.scored.is_none(), "{file}");
    }
}

#[test]
fn nobody_honest_is_flagged() {
    let class = class();
    // Those whose honest work was copied or repeated are flagged with it, as they must be.
    let partners: BTreeSet<&str> = ["box-0/21/horn-silent.jsonl"].into();
    for found in class
        .book
        .attempts
        .iter()
        .filter(|a| a.file.starts_with("box-"))
    {
        let grave: Vec<&str> = found
            .flags
            .iter()
            .filter(|f| f.gravity() >= Gravity::Look)
            .map(|f| f.name())
            .collect();
        if !partners.contains(found.file.as_str()) {
            assert!(grave.is_empty(), "{}: {grave:?}", found.file);
        }
        assert!(found.scored.is_some(), "{}", found.file);
    }
    let unfinished = attempt(&class.book, "box-0/27/fan-still.jsonl");
    assert_eq!(unfinished.flags[0].name(), "not given back");
    assert!(!unfinished.scored.as_ref().unwrap().passed);
    assert_eq!(class.book.flags["missing work"], 2);
}

#[test]
fn habits_are_told_apart() {
    let book = &class().book;
    let mean = |habit_: Habit| {
        let points: Vec<f64> = (0..27)
            .filter(|l| habit(*l) == habit_)
            .flat_map(|l| {
                book.attempts
                    .iter()
                    .filter(move |a| a.file.starts_with("box-") && a.learner == Some(l))
            })
            .map(|a| a.scored.as_ref().unwrap().points)
            .collect();
        points.iter().sum::<f64>() / points.len() as f64
    };
    let [planner, careful, swapper, guesser, careless] = [
        Habit::Planner,
        Habit::Careful,
        Habit::Swapper,
        Habit::Guesser,
        Habit::Careless,
    ]
    .map(mean);
    println!(
        "planner {planner:.1}, careful {careful:.1}, careless {careless:.1}, swapper {swapper:.1}, guesser {guesser:.1}"
    );
    // As an instructor would put them (common practice, no source): those who look for proof far
    // above those who swap, guess or take no care. One or two tests more are forgiven.
    let sound = planner.min(careful);
    assert!(sound > 85.0 && sound > careless + 15.0);
    assert!(careless > swapper && swapper > guesser);
}

#[test]
fn other_files_each_have_a_row() {
    let book = &class().book;
    let told: BTreeMap<&str, &str> = book
        .files
        .iter()
        .map(|row| (row.file.as_str(), row.what.as_str()))
        .collect();
    for (file, what) in [
        ("notes.txt", "no attempt"),
        ("picture.jsonl", "no attempt"),
        ("empty.jsonl", "no attempt"),
        ("newer.jsonl", "another version"),
        ("huge.jsonl", "larger than any attempt"),
        ("link.jsonl", "a link"),
        ("loop", "a link"),
    ] {
        let said = told
            .get(file)
            .unwrap_or_else(|| panic!("no row for {file}"));
        assert!(said.contains(what), "{file}: {said}");
    }
    assert_eq!(told.len(), 7);
}

/// The reports' files, by name.
fn reports(book: &Classbook, out: &Path) -> BTreeMap<String, Vec<u8>> {
    grading::write(book, out, "https://school.example").unwrap();
    let mut files = BTreeMap::new();
    for folder in [out.to_owned(), out.join("learners")] {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_file() {
                let name = path.strip_prefix(out).unwrap().display().to_string();
                files.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    files
}

#[test]
fn the_same_bytes_whatever_the_threads() {
    let class = class();
    let out = tempfile::tempdir().unwrap();
    // The part of the folder that has everything in it; the whole takes minutes.
    let folder = class.folder.join("cheats");
    let one = grade(&folder, &class.assignment, 1, None);
    let five = grade(&folder, &class.assignment, 5, None);
    let one = reports(&one, &out.path().join("one"));
    let five = reports(&five, &out.path().join("five"));
    assert!(one.len() > CLASS);
    assert_eq!(
        one.keys().collect::<Vec<_>>(),
        five.keys().collect::<Vec<_>>()
    );
    for (name, bytes) in &one {
        assert!(five[name] == *bytes, "{name}");
    }
}

/// Writes the class to a folder of the tester's, for looking at its reports.
#[test]
#[ignore = "only where INVENTED_CLASS names a folder"]
fn write_the_class_to_a_folder() {
    let folder = PathBuf::from(std::env::var("INVENTED_CLASS").expect("a folder"));
    let library = library();
    let assignment = assignment(library);
    hand_in(library, &assignment, &folder.join("handed-in"));
    fs::write(folder.join("class.assignment.json"), assignment.to_text()).unwrap();
}

#[test]
fn pages_load_nothing_and_escape_names() {
    let class = class();
    let out = tempfile::tempdir().unwrap();
    for (name, bytes) in reports(&class.book, out.path()) {
        let text = String::from_utf8(bytes).unwrap();
        if !name.ends_with(".html") {
            continue;
        }
        for never in [
            "<script",
            "src=",
            "@import",
            "url(",
            "http-equiv",
            "<link",
            "<iframe",
        ] {
            assert!(!text.contains(never), "{name}: {never}");
        }
    }
    let page = fs::read_to_string(out.path().join("report.html")).unwrap();
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
}

/// RFC 4180: 2.1 CRLF, 2.3 a header, 2.4 the same number of fields in each line, 2.5 to 2.7 quotes.
#[test]
fn the_gradebook_keeps_rfc_4180_and_begins_no_formula() {
    let class = class();
    let text = gradebook::gradebook(&class.book).unwrap();
    // A reader of our own, by the grammar of section 2, so that writer and reader do not agree on
    // the same mistake.
    let rows = rfc_4180(&text);
    assert_eq!(rows.len(), CLASS + 1);
    assert!(rows.iter().all(|row| row.len() == rows[0].len()));
    assert_eq!(&rows[0][..2], ["id", "name"]);
    for cell in rows.iter().flatten() {
        assert!(
            !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
            "{cell}"
        );
    }
    assert_eq!(rows[4][1], "'=HYPERLINK(\"x\") (invented)");
    assert_eq!(rows[6][1], "Ünï \"Quote\", Jr (invented)");
}

fn rfc_4180(text: &str) -> Vec<Vec<String>> {
    let mut rows = vec![vec![String::new()]];
    let mut letters = text.chars().peekable();
    let mut quoted = false;
    while let Some(c) = letters.next() {
        let last = rows.last_mut().unwrap();
        let cell = last.last_mut().unwrap();
        match (quoted, c) {
            (true, '"') if letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            (true, '"') => {
                quoted = false;
                // 2.5: after a closing quote only a comma or a line end.
                assert!(matches!(letters.peek(), None | Some(',' | '\r')));
            }
            (true, c) => cell.push(c),
            (false, '"') => {
                assert!(cell.is_empty(), "2.5: quotes only around a whole field");
                quoted = true;
            }
            (false, ',') => last.push(String::new()),
            (false, '\r') => {
                assert_eq!(letters.next(), Some('\n'), "2.1: CRLF");
                rows.push(vec![String::new()]);
            }
            (false, '\n') => panic!("2.1: a line feed alone"),
            (false, c) => cell.push(c),
        }
    }
    assert!(!quoted);
    assert_eq!(
        rows.pop(),
        Some(vec![String::new()]),
        "the last line ends too"
    );
    rows
}

/// IEEE 9274.1.1-2023, section 4.2 (data: statements); section numbers from memory.
#[test]
fn statements_keep_the_standard() {
    let class = class();
    let text = statements::statements(&class.book, "https://school.example");
    let mut ids = BTreeSet::new();
    let mut count = 0;
    for line in text.lines() {
        count += 1;
        let statement: Value = serde_json::from_str(line).unwrap();
        let known = [
            "id",
            "actor",
            "verb",
            "object",
            "result",
            "context",
            "timestamp",
        ];
        // A statement has no property the standard does not know.
        assert!(
            statement
                .as_object()
                .unwrap()
                .keys()
                .all(|k| known.contains(&k.as_str()))
        );
        no_null(&statement);
        let id = statement["id"].as_str().unwrap();
        is_uuid(id);
        assert!(ids.insert(id.to_owned()), "{id} twice");
        // An agent has exactly one inverse functional identifier.
        let actor = statement["actor"].as_object().unwrap();
        let identifiers = ["mbox", "mbox_sha1sum", "openid", "account"];
        assert_eq!(
            identifiers
                .iter()
                .filter(|i| actor.contains_key(**i))
                .count(),
            1
        );
        is_iri(&actor["account"]["homePage"]);
        assert!(!actor["account"]["name"].as_str().unwrap().is_empty());
        is_iri(&statement["verb"]["id"]);
        assert_eq!(statement["object"]["objectType"], "Activity");
        is_iri(&statement["object"]["id"]);
        is_iri(&statement["object"]["definition"]["type"]);
        let score = &statement["result"]["score"];
        let scaled = score["scaled"].as_f64().unwrap();
        assert!((-1.0..=1.0).contains(&scaled));
        let [raw, min, max] = ["raw", "min", "max"].map(|k| score[k].as_f64().unwrap());
        assert!(min < max && (min..=max).contains(&raw));
        assert!(statement["result"]["completion"].is_boolean());
        let duration = statement["result"]["duration"].as_str().unwrap();
        is_duration(duration);
        let time = statement["timestamp"].as_str().unwrap();
        assert!(times::milliseconds(time).is_some() && time.ends_with('Z'));
        for key in statement["context"]["extensions"]
            .as_object()
            .unwrap()
            .keys()
        {
            is_iri(&Value::from(key.as_str()));
        }
        let verb = statement["verb"]["id"].as_str().unwrap();
        let success = statement["result"]["success"].as_bool();
        match verb.rsplit('/').next().unwrap() {
            "passed" => assert_eq!(success, Some(true)),
            "failed" => assert_eq!(success, Some(false)),
            "attempted" => assert_eq!(success, None),
            other => panic!("{other}"),
        }
    }
    let scored = class
        .book
        .attempts
        .iter()
        .filter(|a| a.scored.is_some())
        .count();
    assert_eq!(count, scored);
    // The same results give the same ids, so that a store keeps them once.
    assert_eq!(
        text,
        statements::statements(&class.book, "https://school.example")
    );
}

/// No property is null, but inside extensions.
fn no_null(value: &Value) {
    match value {
        Value::Null => panic!("null"),
        Value::Object(map) => map.values().for_each(no_null),
        Value::Array(list) => list.iter().for_each(no_null),
        _ => {}
    }
}

/// RFC 9562 section 4: 8-4-4-4-12 hex digits, variant 10.
fn is_uuid(text: &str) {
    let parts: Vec<usize> = text.split('-').map(str::len).collect();
    assert_eq!(parts, [8, 4, 4, 4, 12], "{text}");
    assert!(text.chars().all(|c| c == '-' || c.is_ascii_hexdigit()));
    assert_eq!(&text[14..15], "5");
    assert!(matches!(&text[19..20], "8" | "9" | "a" | "b"), "{text}");
}

/// RFC 3987: a scheme, and nothing that must be escaped.
fn is_iri(value: &Value) {
    let text = value.as_str().unwrap();
    let (scheme, rest) = text.split_once(':').expect("a scheme");
    assert!(scheme.chars().all(|c| c.is_ascii_alphanumeric()));
    assert!(
        !rest.is_empty() && !rest.contains([' ', '<', '>', '"', '{', '}', '|', '\\', '^', '`'])
    );
}

/// ISO 8601 4.4.3.2, seconds to a hundredth at most.
fn is_duration(text: &str) {
    let rest = text
        .strip_prefix("PT")
        .expect("PT")
        .strip_suffix('S')
        .expect("S");
    let seconds = rest.rsplit(['H', 'M']).next().unwrap();
    let (whole, part) = seconds.split_once('.').unwrap_or((seconds, ""));
    assert!(!whole.is_empty() && whole.chars().all(|c| c.is_ascii_digit()));
    assert!(part.len() <= 2 && part.chars().all(|c| c.is_ascii_digit()));
}

#[test]
fn a_report_can_leave_names_out() {
    let class = class();
    let mut book = class.book.clone();
    book.without_names();
    let out = tempfile::tempdir().unwrap();
    for (name, bytes) in reports(&book, out.path()) {
        let text = String::from_utf8(bytes).unwrap();
        for told in ["(invented)</", "L17", "L01", "typed-a", "box-0", "L77"] {
            assert!(!text.contains(told), "{name}: {told}");
        }
    }
}

#[test]
fn a_folder_that_is_not_there_and_a_file_that_is_no_assignment_are_refused() {
    let gone = Path::new("/nowhere/at/all");
    let wanted = |assignment| Wanted {
        assignment,
        other: None,
        corrections: Vec::new(),
        verify: true,
        walks: false,
        threads: 1,
        progress: false,
        time: false,
        without: None,
    };
    let refused = grading::grade(library(), gone, wanted(&class().assignment));
    assert!(refused.unwrap_err().contains("/nowhere"));
    let file = tempfile::NamedTempFile::new().unwrap();
    fs::write(file.path(), "{\"format\": 7}").unwrap();
    let refused = assigning::read(file.path()).unwrap_err();
    assert!(
        refused.contains("another version of the program"),
        "{refused}"
    );
}
