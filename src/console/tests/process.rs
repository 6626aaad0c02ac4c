//! The program as a process, as scripts, screen readers' terminals and bad input meet it.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// A scenario the program was built with.
const SCENARIO: &str = "no-cold-air";

fn program(save: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tracebay-console"));
    command
        .env("TRACEBAY_SAVE", save)
        .env_remove("TRACEBAY_DATA")
        .args(["--lang", "en"]);
    command
}

fn run(save: &Path, args: &[&str]) -> Output {
    program(save).args(args).output().unwrap()
}

fn feed(save: &Path, args: &[&str], lines: &str) -> Output {
    let mut child = program(save)
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    input.write_all(lines.as_bytes()).unwrap();
    drop(input);
    child.wait_with_output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn objects(output: &Output) -> Vec<Value> {
    let lines = out(output);
    lines
        .lines()
        .map(|line| serde_json::from_str(line).expect(line))
        .collect()
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

/// The one attempt in a folder.
fn attempt(save: &Path) -> std::path::PathBuf {
    let files: Vec<_> = fs::read_dir(save)
        .unwrap()
        .map(|e| e.unwrap().path())
        .collect();
    assert_eq!(files.len(), 1, "{files:?}");
    files[0].clone()
}

fn path(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn without_arguments_it_explains_itself_and_lists() {
    let save = folder();
    let output = run(save.path(), &[]);
    assert!(output.status.success());
    let text = out(&output);
    assert!(text.lines().count() < 20, "{text}");
    assert!(text.contains("tracebay-console start"));
    assert!(text.contains(" more: list"), "{text}");
    let list = out(&run(save.path(), &["list"]));
    assert!(list.contains(SCENARIO));
    // A topic is for instructors: it may name the kind of fault.
    let (catalogue, _) = tracebay_shelf::Data::built_in().catalogue();
    for scenario in catalogue.scenarios.values() {
        assert!(list.contains(scenario.title.as_str()), "{list}");
        assert!(
            !list.contains(scenario.topic.as_str()),
            "{}: {list}",
            scenario.id
        );
    }
}

#[test]
fn the_first_screen_has_the_cautions_and_the_complaint() {
    let save = folder();
    let output = feed(save.path(), &["start", SCENARIO, "--seed", "3"], "quit\n");
    assert!(output.status.success(), "{}", err(&output));
    let text = out(&output);
    for needed in [
        "belts",
        "burn",
        "eye protection",
        "licensed",
        "Airbag",
        "high-voltage",
        "Local codes",
        "customer says",
        "Outside",
        "resume",
    ] {
        assert!(text.contains(needed), "{needed}: {text}");
    }
    // For screen readers: no colour, no drawn lines.
    assert!(!text.contains('\u{1b}'));
    assert!(!text.chars().any(|c| ('\u{2500}'..='\u{259f}').contains(&c)));
}

#[test]
fn spanish_is_spoken_throughout() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tracebay-console"))
        .args([
            "start",
            SCENARIO,
            "--seed",
            "3",
            "--no-save",
            "--lang",
            "es",
            "--script",
            "-",
        ])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all("ir motor\nestado\n".as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    let text = out(&output);
    assert!(text.contains("Antes de tocar un auto"), "{text}");
    assert!(text.contains("Fue a: compartimiento del motor."), "{text}");
}

#[test]
fn texts_of_files_are_shown_in_the_language_and_typed_in_it() {
    let dir = folder();
    let words = dir.path().join("scenarios/words");
    fs::create_dir_all(&words).unwrap();
    // Invented, and in the place of the shipped file, so that this may hold what it will.
    let texts = "Texts(format: 1, language: \"es\", texts: {
        \"No cold air\": \"Aire que no enfría\",
        \"Condenser face behind the grille\": \"Panel de prueba\",
    })";
    let file = words.join("es.ron");
    fs::write(&file, texts).unwrap();
    let spanish = |args: &[&str], lines: &str| {
        let data = ["--data", path(dir.path()), "--lang", "es"];
        let mut command = Command::new(env!("CARGO_BIN_EXE_tracebay-console"));
        command.env_remove("TRACEBAY_DATA").args(data).args(args);
        let mut child = command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = child.stdin.take().unwrap();
        // One that reads nothing may be gone already.
        let _ = input.write_all(lines.as_bytes());
        drop(input);
        child.wait_with_output().unwrap()
    };
    let list = out(&spanish(&["list"], ""));
    assert!(list.contains("Aire que no enfría"), "{list}");
    let english = out(&run(dir.path(), &["--data", path(dir.path()), "list"]));
    assert!(english.contains("No cold air"), "{english}");
    // By the name shown, by the one written, by the id.
    for name in [
        "panel de prueba",
        "condenser face behind the grille",
        "front_panel",
    ] {
        let lines = format!("ir motor\nmirar {name}\n");
        let args = [
            "start",
            SCENARIO,
            "--seed",
            "3",
            "--no-save",
            "--script",
            "-",
        ];
        let done = spanish(&args, &lines);
        assert!(done.status.success(), "{name}: {}", out(&done));
        assert!(out(&done).contains("Panel de prueba"), "{}", out(&done));
    }
    let good = spanish(&["check", path(&file)], "");
    assert!(good.status.success(), "{}", err(&good));
    assert!(
        out(&good).contains("2 textos en el idioma es"),
        "{}",
        out(&good)
    );
    // What is missing comes as entries to be filled in.
    assert!(out(&good).contains("\": \"\",\n"), "{}", out(&good));
    fs::write(&file, texts.replace("No cold air", "No cold iar")).unwrap();
    let slip = run(dir.path(), &["check", path(&file)]);
    assert_eq!(slip.status.code(), Some(2));
    let told = err(&slip);
    assert!(told.contains("es.ron:2:"), "{told}");
    assert!(told.contains("did you mean \"No cold air\"?"), "{told}");
    fs::write(&file, texts.replace("\"es\"", "\"xx\"")).unwrap();
    let nobody = run(dir.path(), &["check", path(&file)]);
    assert_eq!(nobody.status.code(), Some(2));
    assert!(err(&nobody).contains("es.ron:1:"), "{}", err(&nobody));
}

#[test]
fn json_is_one_object_a_line() {
    let save = folder();
    let script = "key on\nlook nowhere\nwait 1\nstate\nfrobnicate\n";
    let args = ["start", SCENARIO, "--seed", "5", "--json", "--script", "-"];
    let output = feed(
        save.path(),
        &[&args[..], &["--keep-going"]].concat(),
        script,
    );
    assert_eq!(output.status.code(), Some(2));
    let all = objects(&output);
    assert_eq!(all[0]["info"], "start");
    assert_eq!(all[1]["action"]["set"]["to"], "on");
    assert!(all[1]["observations"].is_array());
    assert!(all[1]["minutes"].as_f64().unwrap() > 0.0);
    assert!(all[2]["refused"]["unknown"].is_object(), "{}", all[2]);
    assert_eq!(all[3]["action"]["wait"], 10);
    assert_eq!(all[4]["data"]["controls"]["key"], "on");
    // What moves is seen by looking, not by asking for the state.
    assert!(all[4]["data"].get("motion").is_none());
    assert!(all[5]["mistake"].is_string());
    assert_eq!(all.len(), 6);
}

#[test]
fn a_script_stops_at_what_it_does_not_understand() {
    let save = folder();
    let script = save.path().join("script.txt");
    fs::write(&script, "# a comment\nkey on\nfrobnicate\nkey off\n").unwrap();
    let start = [
        "start",
        SCENARIO,
        "--seed",
        "5",
        "--no-save",
        "--script",
        path(&script),
    ];
    let output = run(save.path(), &start);
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("line 3"), "{}", err(&output));
    assert!(!out(&output).contains("key off"));
    let on = run(save.path(), &[&start[..], &["--keep-going"]].concat());
    assert_eq!(on.status.code(), Some(2));
    assert!(out(&on).contains("> key off"));
    // What the car refuses is part of the work, unless the script says otherwise.
    fs::write(&script, "pull K99\nkey on\n").unwrap();
    assert!(run(save.path(), &start).status.success());
    let strict = run(save.path(), &[&start[..], &["--stop-on-refusal"]].concat());
    assert_eq!(strict.status.code(), Some(2));
    let missing = ["start", SCENARIO, "--no-save", "--script", "/nowhere/x"];
    assert_eq!(run(save.path(), &missing).status.code(), Some(2));
}

#[test]
fn what_was_done_is_on_disk_before_its_answer_and_resumes() {
    let save = folder();
    let mut child = program(save.path())
        .args(["start", SCENARIO, "--seed", "7", "--json"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    let mut answers =
        std::io::BufRead::lines(std::io::BufReader::new(child.stdout.take().unwrap()));
    answers.next().unwrap().unwrap();
    for (done, line) in ["key on", "wait 3", "go bay", "note found nothing yet"]
        .iter()
        .enumerate()
    {
        writeln!(input, "{line}").unwrap();
        let answer: Value = serde_json::from_str(&answers.next().unwrap().unwrap()).unwrap();
        assert!(answer["action"].is_object(), "{answer}");
        let lines = fs::read_to_string(attempt(save.path())).unwrap();
        assert_eq!(lines.lines().count(), done + 2);
    }
    // As a power cut would: no chance to tidy up.
    child.kill().unwrap();
    child.wait().unwrap();
    let file = attempt(save.path());
    let output = feed(save.path(), &["resume", path(&file)], "log\nquit\n");
    assert!(output.status.success(), "{}", err(&output));
    let text = out(&output);
    assert!(text.contains("4 actions"), "{text}");
    assert!(text.contains("found nothing yet"), "{text}");
    assert!(out(&run(save.path(), &["resume"])).contains("4 actions"));
    assert!(run(save.path(), &["check", path(&file)]).status.success());
}

#[test]
fn a_torn_line_is_dropped_with_a_notice_and_work_goes_on() {
    let save = folder();
    let start = ["start", SCENARIO, "--seed", "7", "--script", "-"];
    feed(save.path(), &start, "key on\nwait 3\n");
    let file = attempt(save.path());
    let bytes = fs::read(&file).unwrap();
    fs::write(&file, &bytes[..bytes.len() - 20]).unwrap();
    let checked = run(save.path(), &["check", path(&file)]);
    assert!(checked.status.success());
    assert!(out(&checked).contains("cut off"), "{}", out(&checked));
    let output = feed(save.path(), &["resume", path(&file)], "wait 4\n");
    assert!(
        out(&output).contains("line 3, was cut off"),
        "{}",
        out(&output)
    );
    assert!(out(&output).contains("1 actions"));
    let again = run(save.path(), &["check", path(&file)]);
    assert!(out(&again).contains("2 actions"), "{}", out(&again));
    assert!(!out(&again).contains("cut off"));
}

#[test]
fn an_edited_attempt_is_found_at_its_line() {
    let save = folder();
    let start = ["start", SCENARIO, "--seed", "7", "--script", "-"];
    feed(save.path(), &start, "key on\nwait 3\nwait 4\n");
    let file = attempt(save.path());
    let text = fs::read_to_string(&file).unwrap();
    let edit = |from: &str, to: &str, says: &[&str]| {
        assert!(text.contains(from), "{from} in {text}");
        fs::write(&file, text.replacen(from, to, 1)).unwrap();
        for command in ["check", "resume"] {
            let output = feed(save.path(), &[command, path(&file)], "");
            assert_eq!(output.status.code(), Some(2), "{command} {to}");
            let told = err(&output);
            assert_eq!(told.lines().count(), 1, "{told}");
            for word in says {
                assert!(told.contains(word), "{word}: {told}");
            }
        }
    };
    edit("{\"wait\":30}", "{\"wait\":31}", &["Line 3"]);
    edit("\"n\":2", "\"n\":5", &["Line 3", "5", "2"]);
    edit("\"seed\":7", "\"seed\":8", &["Line 2"]);
    edit(
        "\"scenario_version\":1",
        "\"scenario_version\":99",
        &["99", "version 1"],
    );
    let revision = tracebay_core::attempt::ENGINE_REVISION;
    let now = format!("\"engine_revision\":{revision}");
    edit(&now, "\"engine_revision\":99", &["99"]);
    edit("\"format\":1", "\"format\":9", &["9"]);
    edit("{\"wait\":40}", "{\"fly\":40}", &["Line 4"]);
}

#[test]
fn bad_input_is_one_sentence_and_exit_code_2() {
    let save = folder();
    let cases: [(&[&str], &str); 5] = [
        (&["start", "no-cold-airr"], "Did you mean"),
        (&["start", "zzzz"], "no scenario"),
        (
            &["start", SCENARIO, "--seed", "99999999999999999999"],
            "seed",
        ),
        (&["start", SCENARIO, "--seed", "-1"], "seed"),
        (&["resume", "/nowhere/x.jsonl"], "no file"),
    ];
    for (args, says) in cases {
        let output = run(save.path(), args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(err(&output).contains(says), "{}", err(&output));
        assert!(out(&output).is_empty());
    }
    let missing = ["list", "--data", "/nowhere"];
    assert_eq!(run(save.path(), &missing).status.code(), Some(2));
}

#[test]
fn a_save_folder_that_cannot_be_written_is_said_at_once() {
    let save = folder();
    let taken = save.path().join("taken");
    fs::write(&taken, "").unwrap();
    let below = taken.join("below");
    let start = ["start", SCENARIO, "--seed", "1"];
    let output = run(&below, &start);
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("--no-save"), "{}", err(&output));
    let unsaved = feed(
        &below,
        &[&start[..], &["--no-save"]].concat(),
        "key on\nquit\n",
    );
    assert!(unsaved.status.success());
    assert!(out(&unsaved).contains("Nothing is saved"));
}

#[test]
fn check_tells_file_line_and_column() {
    let save = folder();
    let bad = save.path().join("bad.ron");
    fs::write(&bad, "Scenario(\n    format: 1,\n    colour: \"red\",\n)").unwrap();
    let output = run(save.path(), &["check", path(&bad)]);
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("bad.ron:3:"), "{}", err(&output));
    // Ten megabytes of brackets: one error, at once.
    fs::write(&bad, "(".repeat(10 << 20)).unwrap();
    let output = run(save.path(), &["check", path(&bad)]);
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).len() < 1000);
    let jsonl = save.path().join("bad.jsonl");
    fs::write(&jsonl, "no attempt\n").unwrap();
    assert_eq!(
        run(save.path(), &["check", path(&jsonl)]).status.code(),
        Some(2)
    );
    let root = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../scenarios/",
        "no-cold-air.ron"
    );
    let good = run(save.path(), &["check", root]);
    assert!(good.status.success(), "{}", err(&good));
}

#[test]
fn every_command_has_help_and_none_ends_the_program() {
    let save = folder();
    let help = feed(
        save.path(),
        &["start", SCENARIO, "--no-save", "--json"],
        "help\n",
    );
    let names = objects(&help)[1]["data"].clone();
    let names: Vec<String> = serde_json::from_value(names).unwrap();
    assert!(names.len() > 50);
    let mut lines = String::new();
    for name in &names {
        lines += &format!("help {name}\n");
        // A hint is answered by the judge too, in as many lines as it likes.
        if !["quit", "handback", "hint"].contains(&name.as_str()) {
            lines += &format!("{name}\n{name} x\n{name} x y z\n");
        }
    }
    let args = [
        "start",
        SCENARIO,
        "--no-save",
        "--json",
        "--seed",
        "2",
        "--script",
        "-",
    ];
    let output = feed(
        save.path(),
        &[&args[..], &["--keep-going"]].concat(),
        &lines,
    );
    assert_eq!(objects(&output).len() - 1, lines.lines().count());
}

#[test]
fn the_car_is_given_back_and_told_about() {
    let save = folder();
    let start = ["start", SCENARIO, "--seed", "4", "--json", "--script", "-"];
    let output = feed(
        save.path(),
        &start,
        "handback warm | do not know | nothing\nkey on\nwalkback\n",
    );
    let all = objects(&output);
    assert_eq!(all[1]["action"]["hand_back"]["cause"], "do not know");
    assert_eq!(all[2]["info"], "debrief");
    assert!(all[2]["data"]["still_wrong"].as_u64().unwrap() > 0);
    assert_eq!(all[3]["info"], "scorecard");
    assert!(all[3]["data"]["points"].as_f64().unwrap() < 60.0);
    assert_eq!(all[3]["data"]["passed"], false);
    assert_eq!(all[4]["refused"], "handed_back");
    assert_eq!(all[5]["info"], "walkback");

    // The file alone gives the same card, bit for bit.
    let kept = attempt(save.path());
    let scored = run(save.path(), &["score", path(&kept), "--json"]);
    assert!(scored.status.success(), "{}", err(&scored));
    assert_eq!(objects(&scored)[0], all[3]["data"]);

    // Before that, nothing of it is said: not on screen and not in the file.
    let text = fs::read_to_string(attempt(save.path())).unwrap();
    assert!(
        !text.contains("candidate") && !text.contains("fault"),
        "{text}"
    );
}

#[test]
fn a_plan_is_a_tree_in_words() {
    let save = folder();
    let plan = run(save.path(), &["plan", "horn-silent"]);
    assert!(plan.status.success(), "{}", err(&plan));
    let text = out(&plan);
    assert!(text.contains("call "), "{text}");
    assert!(!text.contains("score-"), "{text}");
    let wrong = run(save.path(), &["plan", "horn-silnt"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(err(&wrong).contains("horn-silent"), "{}", err(&wrong));
}

#[test]
fn check_proves_a_scenario_and_says_so_as_json() {
    let save = folder();
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios/");
    let good = format!("{root}stop-lamps-dark.ron");
    let output = run(save.path(), &["check", "--json", &good]);
    assert!(output.status.success(), "{}", err(&output));
    let proof: Value = serde_json::from_str(out(&output).trim()).unwrap();
    assert_eq!(proof["scenario"], "stop-lamps-dark");
    assert_eq!(proof["weaknesses"].as_array().map(Vec::len), Some(0));
    assert!(proof["best_minutes"].as_f64().unwrap() > 0.0);
    // A fault too weak to matter is told, and the exit code tells as well.
    let text = fs::read_to_string(&good).unwrap();
    let weak = text.replace(
        r#"Fault(at: "w_stop", what: Open)"#,
        r#"Fault(at: "w_stop", what: Resistance(0.01))"#,
    );
    assert_ne!(text, weak);
    let bad = save.path().join("weak.ron");
    fs::write(&bad, weak).unwrap();
    let output = run(save.path(), &["check", path(&bad)]);
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("lamp-wire"), "{}", err(&output));
}

#[test]
fn courses_and_diagrams_are_printed() {
    let save = folder();
    let list = out(&run(save.path(), &["courses"]));
    assert!(list.contains("finding-faults"), "{list}");
    let course = out(&run(save.path(), &["courses", "finding-faults"]));
    assert!(course.contains("start bench-relay"), "{course}");
    let unknown = run(save.path(), &["courses", "nothing"]);
    assert_eq!(unknown.status.code(), Some(2));
    assert!(err(&unknown).contains("first-afternoon"));
    let drawn = out(&run(save.path(), &["diagram", "tolmer-hake", "K6"]));
    assert!(drawn.starts_with("<svg") && drawn.trim_end().ends_with("</svg>"));
    assert!(drawn.contains("Glow plug 4"));
    let unknown = run(save.path(), &["diagram", "tolmer-hake", "K99"]);
    assert_eq!(unknown.status.code(), Some(2));
    assert!(err(&unknown).contains("K6"), "{}", err(&unknown));
}

#[test]
fn every_field_of_every_kind_of_file_can_be_asked_for() {
    let dir = folder();
    let kinds = out(&run(dir.path(), &["fields"]));
    for kind in [
        "vehicle",
        "scenario",
        "course",
        "skills",
        "texts",
        "rubric",
        "safety-rules",
        "assignment",
    ] {
        assert!(kinds.contains(&format!("{kind}: ")), "{kinds}");
        let told = out(&run(dir.path(), &["fields", kind]));
        // No reader knows a constant of ours by its name (what is read today is 1, as `check` says).
        let format = told.lines().find(|l| l.contains(" format: ")).unwrap();
        assert!(format.ends_with("this program reads 1."), "{format}");
        let schema = out(&run(dir.path(), &["fields", kind, "--schema"]));
        let schema: Value = serde_json::from_str(&schema).unwrap();
        assert_eq!(
            schema["$schema"],
            "https://json-schema.org/draft/2020-12/schema"
        );
    }
    let wrong = run(dir.path(), &["fields", "scenery"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(err(&wrong).contains("scenario"), "{}", err(&wrong));
}

#[test]
fn built_in_files_can_be_printed_and_copied() {
    let dir = folder();
    let paths = out(&run(dir.path(), &["files"]));
    assert!(
        paths.contains("scenarios/vehicles/tolmer-hake.ron"),
        "{paths}"
    );
    let file = out(&run(dir.path(), &["files", "scenarios/no-cold-air.ron"]));
    assert_eq!(file, include_str!("../../../scenarios/no-cold-air.ron"));
    let wrong = run(dir.path(), &["files", "scenarios/no-cold-ar.ron"]);
    assert!(
        err(&wrong).contains("scenarios/no-cold-air.ron"),
        "{}",
        err(&wrong)
    );
}

/// Waits until a text has come on the error output.
fn wait_for(lines: &std::sync::mpsc::Receiver<String>, part: &str) -> Vec<String> {
    let mut seen = Vec::new();
    loop {
        let line = lines
            .recv_timeout(std::time::Duration::from_secs(60))
            .unwrap_or_else(|_| panic!("`{part}` never came after {seen:#?}"));
        let found = line.contains(part);
        seen.push(line);
        if found {
            return seen;
        }
    }
}

#[test]
fn a_watched_file_is_checked_again_when_it_is_saved_and_enter_stops() {
    let dir = folder();
    let file = dir.path().join("mine.ron");
    fs::write(&file, "Scenario(\n    format: 1,\n    idd: \"mine\",\n)\n").unwrap();
    let mut child = program(dir.path())
        .args(["check", "--watch", file.to_str().unwrap()])
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let errors = child.stderr.take().unwrap();
    let (tell, lines) = std::sync::mpsc::channel();
    std::thread::spawn(move || {
        use std::io::BufRead;
        for line in std::io::BufReader::new(errors)
            .lines()
            .map_while(Result::ok)
        {
            let _ = tell.send(line);
        }
    });
    let first = wait_for(&lines, "Waiting");
    assert!(first[0].contains("mine.ron:3:5"), "{first:?}");
    // Saved with another mistake, further down.
    fs::write(
        &file,
        "Scenario(\n    format: 1,\n    id: \"mine\",\n    verson: 1,\n)\n",
    )
    .unwrap();
    let second = wait_for(&lines, "Waiting");
    assert!(
        second.iter().any(|l| l.contains("mine.ron:4:5")),
        "{second:?}"
    );
    // Saved good: the guide's example.
    let guide = include_str!("../../../scenarios/README.md");
    let example = guide
        .split_once("```ron\n")
        .unwrap()
        .1
        .split_once("```")
        .unwrap()
        .0;
    fs::write(&file, example).unwrap();
    let third = wait_for(&lines, "Waiting");
    assert!(!third.iter().any(|l| l.contains("mine.ron:")), "{third:?}");
    let mut input = child.stdin.take().unwrap();
    input.write_all(b"\n").unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(0));
}

/// The guide's worked example, which is good.
fn example() -> &'static str {
    let guide = include_str!("../../../scenarios/README.md");
    let (_, rest) = guide.split_once("```ron\n").unwrap();
    rest.split_once("```").unwrap().0
}

#[test]
fn lamps_at_one_place_are_told_by_name() {
    // Common practice, no source: a stop lamp and a tail lamp sit in one housing, and a braking test
    // is about the one of them.
    let save = folder();
    let lines = "set lights side\nlook tail\nset brake down\nlook tail\nquit\n";
    let args = ["start", "hake-washer", "--seed", "1", "--no-save"];
    let text = out(&feed(save.path(), &args, lines));
    let of = |lamp: &str| -> Vec<&str> { text.lines().filter(|l| l.contains(lamp)).collect() };
    assert_eq!(
        of("van, Stop lamp"),
        [
            "Tail of the van, Stop lamp: not lit.",
            "Tail of the van, Stop lamp: lit."
        ]
    );
    assert_eq!(
        of("van, Tail lamp"),
        ["Tail of the van, Tail lamp: lit."; 2]
    );
}

#[test]
fn a_lamp_alone_at_its_place_is_written_as_before() {
    let save = folder();
    let lines = "go bay\nlamp lamp_left\nlook lamp_left\nquit\n";
    let args = ["start", "hake-washer", "--seed", "1", "--no-save", "--json"];
    let text = out(&feed(save.path(), &args, lines));
    assert!(text.contains("\"unlit\""), "{text}");
    assert!(!text.contains("\"lamp\":\""), "{text}");
}

#[test]
fn a_lamp_has_a_bulb_that_blows_and_no_fuse() {
    let save = folder();
    let args = ["start", "hake-rear-dim", "--seed", "1", "--no-save"];
    let lines = "failures\ncall stop_lamp blown\ncall F13 blown\nquit\n";
    let text = out(&feed(save.path(), &args, lines));
    assert!(text.contains("fuse or bulb blown"), "{text}");
    let called = |of: &str| text.lines().any(|l| l.contains(of));
    assert!(called("Stop lamp, bulb blown"), "{text}");
    assert!(called("F13, fuse blown"), "{text}");
}

#[test]
fn what_stays_in_the_car_is_not_denied() {
    let save = folder();
    let args = ["start", "hake-rear-dim", "--seed", "1", "--no-save"];
    let lines = "inspect stop_lamp\ninspect stop lamp\ninspect w_stop\ninspect nonsense\nquit\n";
    let output = feed(save.path(), &args, lines);
    let text = out(&output) + &err(&output);
    assert_eq!(
        text.matches("is not taken out to be looked at").count(),
        3,
        "{text}"
    );
    assert_eq!(text.matches("There is no").count(), 1, "{text}");
}

#[test]
fn the_tool_used_last_is_in_the_hand_again_after_a_pause() {
    let save = folder();
    let lines = "go bay\nclip bat:neg\nquit\n";
    feed(save.path(), &["start", SCENARIO, "--seed", "7"], lines);
    let file = attempt(save.path());
    let output = feed(
        save.path(),
        &["resume", path(&file)],
        "touch bat:pos\nquit\n",
    );
    assert!(out(&output).contains("bright"), "{}", out(&output));
}

#[test]
fn a_scenario_with_something_to_put_right_is_not_called_good() {
    let save = folder();
    let file = save.path().join("mine.ron");
    fs::write(&file, example()).unwrap();
    let good = run(save.path(), &["check", path(&file)]);
    assert!(out(&good).contains("good."), "{}", out(&good));
    fs::write(
        &file,
        example().replace("Resistance(8.0)", "Resistance(1.0)"),
    )
    .unwrap();
    let bad = run(save.path(), &["check", path(&file)]);
    assert_eq!(bad.status.code(), Some(2));
    assert!(out(&bad).contains("not accepted"), "{}", out(&bad));
    assert!(!out(&bad).contains("good"), "{}", out(&bad));
}

#[test]
fn a_slip_in_the_place_of_a_fault_gets_the_nearest_name() {
    let save = folder();
    let file = save.path().join("mine.ron");
    let slip = example().replace("at: \"w_washer_gnd\"", "at: \"w_washer_gdn\"");
    fs::write(&file, slip).unwrap();
    let told = err(&run(save.path(), &["check", path(&file)]));
    assert!(told.contains("did you mean `w_washer_gnd`"), "{told}");
    assert_eq!(told.matches("mine.ron:").count(), 1, "{told}");
}

#[test]
fn two_files_with_one_id_are_told() {
    let data = folder();
    let scenarios = data.path().join("scenarios");
    fs::create_dir(&scenarios).unwrap();
    let one = scenarios.join("one.ron");
    fs::write(&one, example()).unwrap();
    let check = |file: &Path| {
        run(
            data.path(),
            &["--data", path(data.path()), "check", path(file)],
        )
    };
    assert!(check(&one).status.success());
    fs::write(scenarios.join("two.ron"), example()).unwrap();
    let output = check(&one);
    assert_eq!(output.status.code(), Some(2));
    let told = err(&output);
    assert!(
        told.contains("one.ron:3:") && told.contains("two.ron as well"),
        "{told}"
    );
}
