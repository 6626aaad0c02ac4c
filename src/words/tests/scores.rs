//! What scorecards and reports say is there in both languages: parts, gates, safety rules, rubrics' titles.

use std::collections::BTreeSet;

use tracebay_core::scenario::SourceFile;
use tracebay_grading::rubric::Rubric;
use tracebay_grading::safety::Rules;
use tracebay_words::parity::{differences, messages};
use tracebay_words::{LANGUAGES, SAFETY_WORDS, SCORE_WORDS, Words};

#[test]
fn scores_say_the_same_in_both_languages_and_nothing_is_left_over() {
    let read = |at: usize| messages(SCORE_WORDS[at].1).unwrap();
    let there = read(0);
    assert_eq!(differences(&there, &read(1)), Vec::<String>::new());
    // Prices and plan titles are said by the faces.
    const SOURCES: [&str; 4] = [
        include_str!("../src/score/labels.rs"),
        include_str!("../src/score/mod.rs"),
        include_str!("../src/score/plan.rs"),
        include_str!("../src/score/walk.rs"),
    ];
    let named: BTreeSet<&str> = SOURCES
        .iter()
        .flat_map(|s| s.split('"').skip(1).step_by(2))
        .filter(|key| key.starts_with("score-"))
        .collect();
    let missing: Vec<_> = named.iter().filter(|k| !there.contains_key(**k)).collect();
    assert!(missing.is_empty(), "{missing:?}");
    let left: Vec<_> = there
        .keys()
        .filter(|key| !named.contains(key.as_str()))
        .filter(|key| {
            !["score-hint-price", "score-plan-title", "score-plan-bound"].contains(&key.as_str())
        })
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

/// What keeps people safe is said in their language, every rule of the shipped file.
#[test]
fn safety_rules_are_said_in_every_language_but_that_of_their_file() {
    let rules = Rules::load(&Rules::preset()).expect("shipped");
    let written: BTreeSet<&str> = rules
        .rules
        .iter()
        .map(|rule| rule.message.as_str())
        .collect();
    let codes: Vec<&str> = LANGUAGES
        .iter()
        .map(|(code, _)| *code)
        .filter(|code| *code != "en")
        .collect();
    assert_eq!(codes, SAFETY_WORDS.map(|(code, _)| code));
    for (code, text) in SAFETY_WORDS {
        let there = messages(text).unwrap();
        let there: BTreeSet<&str> = there.keys().map(String::as_str).collect();
        assert_eq!(written, there, "{code}");
    }
    let (english, spanish) = (Words::new("en"), Words::new("es"));
    for rule in &rules.rules {
        assert_eq!(english.safety_rule(&rules, &rule.id), rule.says);
        assert_ne!(spanish.safety_rule(&rules, &rule.id), rule.says);
    }
}

/// Who writes another sentence into a rule gets that one shown, not the translation of the old.
#[test]
fn a_changed_safety_rule_is_shown_as_it_was_changed() {
    let SourceFile { name, text } = Rules::preset();
    let (old, new) = ("with the key off.", "with the battery off.");
    assert_eq!(text.matches(old).count(), 1);
    let text = text.replace(old, new);
    let rules = Rules::load(&SourceFile { name, text }).expect("a rule with another sentence");
    let told = Words::new("es").safety_rule(&rules, "unit-plug-live");
    assert!(told.ends_with(new), "{told}");
    assert_ne!(
        Words::new("es").safety_rule(&rules, "hot-part"),
        Words::new("en").safety_rule(&rules, "hot-part")
    );
}

/// A shipped rubric's title is translated, another's is not.
#[test]
fn rubrics_have_titles_in_both_languages() {
    let rules = Rules::load(&Rules::preset()).expect("shipped");
    for file in Rubric::presets() {
        let rubric = Rubric::load(&file, &rules).expect("shipped");
        assert_eq!(Words::new("en").rubric_title(&rubric.title), rubric.title);
        assert_ne!(Words::new("es").rubric_title(&rubric.title), rubric.title);
    }
    assert_eq!(Words::new("es").rubric_title("Ours"), "Ours");
}
