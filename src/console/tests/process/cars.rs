//! What a car and a plan are in words.

use super::*;

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
