//! Files that are checked, printed, copied and asked about.

use super::*;

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
    assert_eq!(file, include_str!("../../../../scenarios/no-cold-air.ron"));
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
    let guide = include_str!("../../../../scenarios/README.md");
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
    let guide = include_str!("../../../../scenarios/README.md");
    let (_, rest) = guide.split_once("```ron\n").unwrap();
    rest.split_once("```").unwrap().0
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
