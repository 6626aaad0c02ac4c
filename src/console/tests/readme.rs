//! The first case of the README, run as it stands there.

use std::io::Write as _;
use std::process::{Command, Stdio};

/// Commands between the fences marked as the terminal's.
fn commands(readme: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for line in readme.lines().map(str::trim) {
        match line {
            "```console" => inside = true,
            "```" => inside = false,
            _ if inside => {
                out.push_str(line);
                out.push('\n');
            }
            _ => {}
        }
    }
    out
}

#[test]
fn the_readmes_first_case_goes_as_it_says() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../README.md");
    let commands = commands(&std::fs::read_to_string(path).expect("the README"));
    assert!(commands.lines().count() > 40, "{commands}");
    let mut child = Command::new(env!("CARGO_BIN_EXE_tracebay-console"))
        .args(["--lang", "en", "start", "no-cold-air", "--seed", "11"])
        .args(["--no-save", "--stop-on-refusal", "--script", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("its input");
    input.write_all(commands.as_bytes()).expect("commands");
    drop(input);
    let out = child.wait_with_output().expect("an end");
    let said = String::from_utf8(out.stdout).expect("UTF-8");
    assert!(out.status.success(), "{said}");
    for words in [
        "the pulley turns, the clutch plate stands still",
        "Meter at K3:c: 681 ohms.",
        "pulley and clutch plate turn together",
        "cold.",
        "100.0 of 100 points",
        "Passed.",
        "The best",
    ] {
        assert!(said.contains(words), "{words} is missing from:\n{said}");
    }
}
