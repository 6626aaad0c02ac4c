//! The author's guide says what the program says: its worked example is run step by step.

use std::fs;
use std::path::Path;
use std::process::Command;

use tracebay_core::fault::Wrong;
use tracebay_words::{Keyed, Words};

const GUIDE: &str = include_str!("../../../scenarios/README.md");

/// The fenced blocks of one kind.
fn blocks(kind: &str) -> Vec<&'static str> {
    let open = format!("```{kind}\n");
    let starts = GUIDE.match_indices(&open).map(|(at, _)| at + open.len());
    starts
        .map(|at| GUIDE[at..].split("```").next().unwrap())
        .collect()
}

/// All that a check says, on both outputs.
fn check(folder: &Path, text: &str) -> String {
    fs::create_dir_all(folder.join("scenarios")).unwrap();
    fs::write(folder.join("scenarios/my-washer.ron"), text).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_tracebay-console"))
        .current_dir(folder)
        .env_remove("TRACEBAY_DATA")
        .args([
            "--lang",
            "en",
            "--data",
            ".",
            "check",
            "scenarios/my-washer.ron",
        ])
        .output()
        .unwrap();
    String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap()
}

/// The example with the lines of one field, from its name to an end, put another way.
fn with(text: &str, from: &str, to: &str, by: &str) -> String {
    let start = text.find(from).unwrap();
    let end = start + text[start..].find(to).unwrap() + to.len();
    [&text[..start], by, &text[end..]].concat()
}

#[test]
fn each_step_of_the_worked_example_says_what_the_guide_promises() {
    let folder = tempfile::tempdir().unwrap();
    let whole = blocks("ron")[0];
    let one_state = "states: [CarState(id: \"as-found\", label: \"As found\", steps: [])],\n";
    let touched = with(whole, "states: [", "\n    ],\n", one_state);
    let listed = with(&touched, "    suspects:", "\n)", ")");
    let weak = listed.replace(
        "\"w_washer_gnd\", what: Resistance(8.0)",
        "\"w_washer_gnd\", what: Resistance(1.0)",
    );
    assert_ne!(weak, listed);
    let empty = with(&listed, "candidates: [", "\n    ],\n", "candidates: [],\n");
    let promised = blocks("text");
    let steps = [empty.as_str(), &weak, &listed, &touched, whole];
    assert_eq!(promised.len(), steps.len());
    for (step, promised) in steps.iter().zip(promised) {
        let said = check(folder.path(), step);
        for line in promised.lines() {
            assert!(said.lines().any(|l| l == line), "{line}\nis not in\n{said}");
        }
    }
    // "One pair is left": the states of the last step are there for it alone.
    let said = check(folder.path(), &touched);
    assert_eq!(said.matches("no test tells").count(), 1, "{said}");
}

#[test]
fn the_guide_s_words_for_calls_are_those_of_the_program() {
    use Wrong::*;
    let s = String::new;
    let all = [
        Open,
        Resistance(1.0),
        ShortToGround(1.0),
        ShortToSupply(1.0),
        NotSeated,
        PushedBack,
        Spread(1.0),
        Blown,
        CoilOpen,
        CoilShorted(0.5),
        ContactsOpen,
        ContactsBurnt(1.0),
        ContactsWelded,
        DiodeReversed,
        DiodeOpen,
        Gap(1.0),
        Seized,
        OutputDead(s()),
        OutputStuckOn(s()),
        UnitDead,
        ReadingOff(1.0),
        StuckOpen,
        StuckClosed,
        Charge(0.5),
        CondenserBlocked(0.5),
        Misuse(s()),
        LookAlike,
        CrossedWith(s()),
        AsDesigned,
        LeakTo(s(), 1.0),
    ];
    let words = Words::new("en");
    for wrong in all {
        let debug = format!("{wrong:?}");
        let name = format!("`{}`", debug.split('(').next().unwrap());
        let failure = wrong.failure();
        let end = format!("| `{}` | `{}` |", words.spelling(failure), failure.name());
        let row = |line: &&str| line.ends_with(&end) && line.contains(&name);
        assert!(GUIDE.lines().any(|line| row(&line)), "{name} {end}");
    }
}
