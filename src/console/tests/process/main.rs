//! The program as a process, as scripts, screen readers' terminals and bad input meet it.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

mod cars;
mod files;
mod keeping;
mod languages;

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
    let mut command = program(save);
    command.args(args);
    typed_into(command, lines)
}

/// What a program says whose input is these lines.
fn typed_into(mut command: Command, lines: &str) -> Output {
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
