//! What is kept of an attempt, when, and what becomes of it where that fails.

use super::*;

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
