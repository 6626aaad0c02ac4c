//! The files of rules and rubrics: what ships is sound, and what is wrong is told with its place.

use tracebay_core::scenario::SourceFile;

use super::rules;
use crate::rubric::Rubric;
use crate::safety::{Rules, Severity};

#[test]
fn shipped_rules_have_their_own_sentences() {
    let rules = rules();
    let mut messages: Vec<&str> = rules.rules.iter().map(|r| r.message.as_str()).collect();
    for rule in &rules.rules {
        assert_eq!(rule.message, format!("safety-{}", rule.id));
        assert!(rule.says.ends_with('.'), "{}", rule.id);
    }
    messages.sort_unstable();
    messages.dedup();
    assert_eq!(messages.len(), rules.rules.len());
}

#[test]
fn shipped_rubrics_load_and_come_to_a_hundred() {
    let rules = rules();
    let loaded: Vec<Rubric> = Rubric::presets()
        .iter()
        .map(|f| Rubric::load(f, &rules).unwrap_or_else(|p| panic!("{}", p[0])))
        .collect();
    let ids: Vec<&str> = loaded.iter().map(|r| r.id.as_str()).collect();
    assert_eq!(ids, ["home", "assignment", "shop"]);
    for rubric in &loaded {
        let sum: f64 = rubric.weights.each().iter().map(|(_, p)| p).sum();
        assert_eq!(sum, 100.0, "{}", rubric.id);
        assert!(rubric.gates.stop_work_fails, "{}", rubric.id);
        // A rubric never makes a stop-work rule lighter.
        for rule in rules
            .rules
            .iter()
            .filter(|r| r.severity == Severity::StopWork)
        {
            assert_eq!(rubric.severity(&rule.id, rule.severity), Severity::StopWork);
        }
    }
    let shop = &loaded[2];
    assert_eq!(
        shop.severity("plain-jumper", Severity::Caution),
        Severity::Deduction(3.0)
    );
    assert_eq!(
        shop.severity("ohms-on-live", Severity::Caution),
        Severity::Caution
    );
}

fn rubric_with(from: &str, to: &str) -> Vec<String> {
    let [home, ..] = Rubric::presets();
    assert!(home.text.contains(from), "{from}");
    let file = SourceFile {
        name: "mine.ron".into(),
        text: home.text.replacen(from, to, 1),
    };
    match Rubric::load(&file, &rules()) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(ToString::to_string).collect(),
    }
}

#[test]
fn a_wrong_rubric_is_told_with_its_place() {
    assert_eq!(rubric_with("call: 20", "call: 20"), [""; 0]);
    for (from, to, told) in [
        ("call: 20", "call: 21", "come to 101"),
        ("call: 20", "call: -20", "out of range"),
        ("call: 20", "call: 20, luck: 3", "luck"),
        ("format: 1", "format: 9", "format 1"),
        ("id: \"home\"", "id: \"My Rubric\"", "short name"),
        ("full_from: 0.9", "full_from: 0.2", "less than `full_from`"),
        (
            "full_loss_minutes: 12",
            "full_loss_minutes: 0",
            "out of range",
        ),
        (
            "SafetyTerms(caution_points: 2)",
            "SafetyTerms(caution_points: 2, overrides: {\"plain-jumpr\": Caution})",
            "plain-jumper",
        ),
        (
            "SafetyTerms(caution_points: 2)",
            "SafetyTerms(caution_points: 2, overrides: {\"plain-jumper\": Deduction(-3)})",
            "out of range",
        ),
        ("audience: home", "audience: school", "assignment"),
        ("pass_mark: 60", "pass_mark: 101", "out of range"),
    ] {
        let problems = rubric_with(from, to);
        assert!(!problems.is_empty(), "accepted {to}");
        let first = &problems[0];
        assert!(first.starts_with("mine.ron:"), "{first}");
        assert!(
            problems.iter().any(|p| p.contains(told)),
            "{to}: {problems:?}"
        );
    }
}

fn rules_with(from: &str, to: &str) -> Vec<String> {
    let preset = Rules::preset();
    assert!(preset.text.contains(from), "{from}");
    let file = SourceFile {
        name: "mine.ron".into(),
        text: preset.text.replacen(from, to, 1),
    };
    match Rules::load(&file) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.iter().map(ToString::to_string).collect(),
    }
}

#[test]
fn wrong_rules_are_told_with_their_place() {
    for (from, to, told) in [
        (
            "id: \"fan-may-start\"",
            "id: \"hands-in-moving-parts\"",
            "two rules",
        ),
        ("zone: MovingParts", "zone: Volcano", "Volcano"),
        (
            "tools: [meter, fused_jumper]",
            "tools: []",
            "never be broken",
        ),
        ("Deduction(6)", "Deduction(600)", "out of range"),
        ("links: [PlainJumper]", "links: []", "never be broken"),
        (
            "severity: StopWork",
            "severity: StopWork, colour: 3",
            "colour",
        ),
        (
            "LiveWithoutFuse(30)",
            "LiveWithoutFuse(-30)",
            "out of range",
        ),
    ] {
        let problems = rules_with(from, to);
        assert!(!problems.is_empty(), "accepted {to}");
        assert!(problems[0].starts_with("mine.ron:"), "{}", problems[0]);
        assert!(
            problems.iter().any(|p| p.contains(told)),
            "{to}: {problems:?}"
        );
    }
}
