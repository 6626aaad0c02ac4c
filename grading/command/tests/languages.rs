//! Both languages of the reports say everything. The Fluent syntax and its rules are checked by the
//! maintainers' own parser (`fluent-syntax`).

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use tracebay_grade::course;
use tracebay_grade::flags::Flag;
use tracebay_grade::library::Library;
use tracebay_grade::text::{REPORT_WORDS, counted, language, words};
use tracebay_words::LANGUAGES;
use tracebay_words::parity::{Messages, differences, messages};

fn read(code: &str) -> Messages {
    let (_, text) = REPORT_WORDS.iter().find(|(c, _)| *c == code).unwrap();
    messages(text).unwrap()
}

#[test]
fn both_languages_have_the_same_keys_and_arguments() {
    assert_eq!(
        LANGUAGES.map(|(code, _)| code),
        REPORT_WORDS.map(|(code, _)| code)
    );
    assert_eq!(differences(&read("en"), &read("es")), Vec::<String>::new());
}

/// The translations are invented.
#[test]
fn texts_of_the_files_follow_the_language_and_english_stays_beneath() {
    let folder = tempfile::tempdir().unwrap();
    let words = folder.path().join("scenarios/words");
    fs::create_dir_all(&words).unwrap();
    let texts = "Texts(format: 1, language: \"es\", texts: {
        \"Silent horn\": \"Prueba muda\", \"Works safely\": \"Prueba segura\",
    })";
    fs::write(words.join("es-mine.ron"), texts).unwrap();
    let seen = |language: &str| {
        let library = Library::open_in(Some(folder.path()), language).unwrap();
        let course = course::open(&library, "relay-circuits").unwrap();
        let skill = course.skills.iter().find(|s| s.id == "safe-work").unwrap();
        let title = &library.catalogue.scenarios["horn-silent"].title;
        // What machines read is the same in every language.
        assert_eq!(
            serde_json::to_value(title).unwrap(),
            serde_json::json!("Silent horn")
        );
        [title.to_string(), skill.title.to_string()]
    };
    assert_eq!(seen("es"), ["Prueba muda", "Prueba segura"]);
    assert_eq!(seen("en"), ["Silent horn", "Works safely"]);
}

/// Everything that the sources ask for is there, and nothing is there that they do not ask for.
#[test]
fn the_code_and_the_words_know_the_same_keys() {
    let mut asked = BTreeSet::new();
    let mut parts = BTreeSet::new();
    keys_in(
        Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src")),
        &mut asked,
        &mut parts,
    );
    assert!(
        asked.len() > 150,
        "the sources were not read: {}",
        asked.len()
    );
    let known = read("en");
    for key in &asked {
        assert!(known.contains_key(key), "the code asks for {key}");
    }
    for key in known.keys() {
        let composed = parts.iter().any(|part| key.starts_with(part));
        assert!(asked.contains(key) || composed, "nobody asks for {key}");
    }
}

/// Keys in quotes, and beginnings of keys that are put together.
fn keys_in(folder: &Path, keys: &mut BTreeSet<String>, parts: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            keys_in(&path, keys, parts);
            continue;
        }
        let text = fs::read_to_string(&path).unwrap_or_default();
        for rest in text.split("\"report-").skip(1) {
            let (key, _) = rest.split_once('"').unwrap();
            match key.split_once('{') {
                Some((beginning, _)) => parts.insert(format!("report-{beginning}")),
                None if key.contains('.') => continue,
                None => keys.insert(format!("report-{key}")),
            };
        }
    }
}

#[test]
fn every_flag_has_a_name_and_a_sentence_in_both_languages() {
    let text = || "x".to_owned();
    let flags = [
        Flag::Damaged { why: text() },
        Flag::Edited { line: 3 },
        Flag::DoesNotReplay { why: text() },
        Flag::OtherVersion { why: text() },
        Flag::OtherAssignment { rules: text() },
        Flag::OtherTerms,
        Flag::UnknownLearner { id: Some(text()) },
        Flag::UnknownLearner { id: None },
        Flag::NoTask { scenario: text() },
        Flag::WrongSeed {
            whose: Some(text()),
        },
        Flag::WrongSeed { whose: None },
        Flag::Again { first: text() },
        Flag::SameFile { first: text() },
        Flag::SameActions {
            others: vec![text()],
        },
        Flag::SeenBefore { file: text() },
        Flag::ImpossibleTimes { why: text() },
        Flag::NoTimes,
        Flag::Late { by_ms: 90_000 },
        Flag::AgainstRules { n: 2, what: text() },
        Flag::NotGivenBack,
        Flag::Torn,
        Flag::ContentChanged,
        Flag::NotJudged { why: text() },
    ];
    let (english, spanish) = (words("en"), words("es"));
    for flag in &flags {
        for words in [&english, &spanish] {
            for said in [flag.told_name(words), flag.sentence(words)] {
                assert!(
                    !said.contains("report-") && !said.contains('{'),
                    "{flag:?}: {said}"
                );
            }
        }
        assert_ne!(flag.sentence(&english), flag.sentence(&spanish), "{flag:?}");
    }
}

#[test]
fn only_languages_with_words_are_taken() {
    assert_eq!(language("es").unwrap(), "es");
    let refused = language("fr").unwrap_err();
    assert!(
        refused.contains("English") && refused.contains("Español"),
        "{refused}"
    );
}

#[test]
fn what_is_said_again_is_said_once_with_how_often() {
    let said = ["a", "b", "a", "a"].map(str::to_owned);
    assert_eq!(counted(&words("en"), &said), ["a (3 times)", "b"]);
}
