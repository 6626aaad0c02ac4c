//! The app's own sentences, from `assets/words/app.*.ftl`, over the shared words. No other module holds text; what is
//! wrong within a file is told as the crate that reads it words it.

use tracebay_core::source::Told;
use tracebay_words::{Value, Words};

/// Languages the app speaks.
#[derive(
    Copy,
    Clone,
    Debug,
    Default,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    serde::Serialize,
    serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum Language {
    /// English.
    #[default]
    En,
    /// Spanish.
    Es,
}

impl Language {
    /// All languages, each with its own name for itself.
    pub const ALL: [(Language, &'static str); 2] =
        [(Language::En, "English"), (Language::Es, "Español")];

    /// The one that a tag begins with, as `es-MX` (BCP 47) or `es_MX.UTF-8` (POSIX).
    pub fn of_tag(tag: &str) -> Option<Language> {
        let code = tag.split(['-', '_', '.']).next()?.to_lowercase();
        let mut all = Language::ALL.into_iter().map(|(language, _)| language);
        all.find(|language| language.code() == code)
    }

    /// Its code.
    pub fn code(self) -> &'static str {
        match self {
            Language::En => "en",
            Language::Es => "es",
        }
    }
}

/// The app's own words, by language code.
pub const APP_WORDS: [(&str, &str); 2] = [
    ("en", include_str!("../../../../assets/words/app.en.ftl")),
    ("es", include_str!("../../../../assets/words/app.es.ftl")),
];

/// The sentences of one language, with English behind it.
pub struct Text {
    /// The shared words with ours added.
    pub words: Words,
}

impl Text {
    /// Loads a language.
    pub fn new(language: Language) -> Text {
        let mut words = Words::new(language.code());
        words.add(&APP_WORDS);
        Text { words }
    }

    /// A sentence without gaps. A missing key shows as itself, so that it is found and named.
    pub fn get(&self, key: &str) -> String {
        self.words.text(key)
    }

    /// A sentence whose gaps are filled.
    pub fn fill(&self, key: &str, gaps: &[(&str, Gap<'_>)]) -> String {
        let gaps: Vec<(&str, Value<'_>)> = gaps.iter().map(|(n, g)| (*n, g.value())).collect();
        self.words.get(key, &gaps)
    }

    /// Whether there is a sentence of this key.
    pub fn has(&self, key: &str) -> bool {
        self.words.has(key)
    }
}

/// What fills a gap in a sentence.
#[derive(Clone, Copy, Debug)]
pub enum Gap<'a> {
    /// Words.
    Word(&'a str),
    /// A number, written as the sentence says.
    Number(f64),
}

impl<'a> Gap<'a> {
    fn value(&self) -> Value<'a> {
        match *self {
            Gap::Word(s) => Value::from(s),
            Gap::Number(n) => Value::from(n),
        }
    }
}

impl<'a> From<&'a str> for Gap<'a> {
    fn from(s: &'a str) -> Self {
        Gap::Word(s)
    }
}

impl<'a> From<&'a String> for Gap<'a> {
    fn from(s: &'a String) -> Self {
        Gap::Word(s)
    }
}

impl<'a> From<&'a Told> for Gap<'a> {
    fn from(told: &'a Told) -> Self {
        Gap::Word(told)
    }
}

impl From<f64> for Gap<'_> {
    fn from(n: f64) -> Self {
        Gap::Number(n)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tracebay_words::{CORE_WORDS, parity};

    #[test]
    fn both_languages_say_the_same_things() {
        let [en, es] =
            APP_WORDS.map(|(_, s)| parity::messages(s).expect("a file without mistakes"));
        for (key, gaps) in &en {
            assert_eq!(Some(gaps), es.get(key), "{key}");
        }
        let extra: Vec<_> = es.keys().filter(|k| !en.contains_key(*k)).collect();
        assert!(extra.is_empty(), "only in Spanish: {extra:?}");
    }

    #[test]
    fn the_app_s_words_do_not_hide_shared_ones() {
        for ((_, app), (_, core)) in APP_WORDS.iter().zip(CORE_WORDS) {
            let core = parity::messages(core).expect("a file without mistakes");
            for key in parity::messages(app)
                .expect("a file without mistakes")
                .keys()
            {
                assert!(!core.contains_key(key), "{key} is in both");
            }
        }
    }

    #[test]
    fn gaps_are_filled() {
        let text = Text::new(Language::Es);
        let s = text.fill("state-minutes", &[("minutes", 12.0.into())]);
        assert!(s.contains("12"), "{s}");
    }

    /// Tags as BCP 47 and POSIX write them.
    #[test]
    fn a_language_is_known_by_its_tag() {
        for (tag, found) in [
            ("es", Some(Language::Es)),
            ("es-MX", Some(Language::Es)),
            ("es_AR.UTF-8", Some(Language::Es)),
            ("EN-GB", Some(Language::En)),
            ("C.UTF-8", None),
            ("eso", None),
            ("", None),
        ] {
            assert_eq!(Language::of_tag(tag), found, "{tag}");
        }
    }
}
