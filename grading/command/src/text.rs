//! The words of the reports and sheets, in the language asked for.
//!
//! All text is in Fluent files under `assets/words`. What machines read (columns, keys, names of flags in
//! files) is the same in every language and not here.

use std::io::{ErrorKind, Write, stdout};

use tracebay_words::{LANGUAGES, Words};

/// Words of reports, sign-off and blind sheets, by language code.
pub const REPORT_WORDS: [(&str, &str); 2] = [
    ("en", include_str!("../../../assets/words/report.en.ftl")),
    ("es", include_str!("../../../assets/words/report.es.ftl")),
];

/// Words in a language that has them.
pub fn words(language: &str) -> Words {
    let mut words = Words::new(language);
    words.add(&REPORT_WORDS);
    words
}

/// Reads the option `--language`.
///
/// # Errors
/// There are no words in that language.
pub fn language(asked: &str) -> Result<String, String> {
    let known = LANGUAGES.iter().find(|(code, _)| *code == asked);
    known.map(|(code, _)| (*code).to_owned()).ok_or_else(|| {
        let all: Vec<String> = LANGUAGES
            .iter()
            .map(|(code, name)| format!("{code} ({name})"))
            .collect();
        format!("there are words in {}", all.join(" and "))
    })
}

/// Sentences with those that stand there several times said once, with how often.
pub fn counted(words: &Words, said: &[String]) -> Vec<String> {
    let mut all: Vec<(&String, usize)> = Vec::new();
    for text in said {
        match all.iter_mut().find(|(known, _)| *known == text) {
            Some((_, count)) => *count += 1,
            None => all.push((text, 1)),
        }
    }
    all.into_iter()
        .map(|(text, count)| match count {
            1 => text.clone(),
            _ => words.get(
                "report-times",
                &[
                    ("text", text.as_str().into()),
                    ("count", count.to_string().into()),
                ],
            ),
        })
        .collect()
}

/// Prints a line; ends the program where it cannot, quietly if only nobody reads on.
pub fn tell(text: &str) {
    let Err(error) = writeln!(stdout(), "{text}") else {
        return;
    };
    if error.kind() == ErrorKind::BrokenPipe {
        std::process::exit(0);
    }
    eprintln!("what was found cannot be printed: {error}");
    std::process::exit(2);
}
