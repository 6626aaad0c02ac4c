//! The app's own sentences, from `assets/words/app.*.ftl`. No other module holds text.
//!
//! What a session says (observations, refusals, names of tools) comes from the shared words.

use std::collections::BTreeMap;

use fluent_bundle::{FluentArgs, FluentResource, FluentValue, concurrent::FluentBundle};

/// Languages the app speaks.
#[derive(
    Copy, Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
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
}

const EN: &str = include_str!("../../../../assets/words/app.en.ftl");
const ES: &str = include_str!("../../../../assets/words/app.es.ftl");

/// The sentences of one language, with English behind it.
pub struct Text {
    language: Language,
    bundles: Vec<FluentBundle<FluentResource>>,
}

impl Text {
    /// Loads a language.
    pub fn new(language: Language) -> Text {
        let english = ("en", EN);
        let wanted = match language {
            Language::En => vec![english],
            Language::Es => vec![("es", ES), english],
        };
        Text {
            language,
            bundles: wanted.into_iter().map(|(id, s)| bundle(id, s)).collect(),
        }
    }

    /// Which language.
    pub fn language(&self) -> Language {
        self.language
    }

    /// A sentence without gaps. A missing key shows as itself, so that it is found and named.
    pub fn get(&self, key: &str) -> String {
        self.fill(key, &[])
    }

    /// A sentence whose gaps are filled.
    pub fn fill(&self, key: &str, gaps: &[(&str, Gap<'_>)]) -> String {
        let mut args = FluentArgs::new();
        for (name, gap) in gaps {
            args.set(*name, gap.value());
        }
        for bundle in &self.bundles {
            if let Some(pattern) = bundle.get_message(key).and_then(|m| m.value()) {
                let mut errors = Vec::new();
                return bundle
                    .format_pattern(pattern, Some(&args), &mut errors)
                    .into_owned();
            }
        }
        key.to_owned()
    }

    /// Whether there is a sentence of this key.
    pub fn has(&self, key: &str) -> bool {
        self.bundles.iter().any(|b| b.has_message(key))
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
    fn value(&self) -> FluentValue<'a> {
        match *self {
            Gap::Word(s) => FluentValue::from(s),
            Gap::Number(n) => FluentValue::from(n),
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

impl From<f64> for Gap<'_> {
    fn from(n: f64) -> Self {
        Gap::Number(n)
    }
}

fn bundle(id: &str, source: &str) -> FluentBundle<FluentResource> {
    // The files are part of the program; a mistake in one is found by the tests below. What could
    // be read is used all the same.
    let resource = match FluentResource::try_new(source.to_owned()) {
        Ok(resource) => resource,
        Err((resource, _)) => resource,
    };
    let langid = id.parse().unwrap_or_default();
    let mut bundle = FluentBundle::new_concurrent(vec![langid]);
    // Marks of writing direction are not in our fonts.
    bundle.set_use_isolating(false);
    bundle.add_resource_overriding(resource);
    bundle
}

/// Keys of a file with the gaps each one uses, for comparing languages.
pub fn keys_of(source: &str) -> BTreeMap<String, Vec<String>> {
    let mut keys: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut current = String::new();
    for line in source.lines() {
        if line.starts_with('#') || line.trim().is_empty() {
            continue;
        }
        if !line.starts_with([' ', '}', '.'])
            && let Some((key, _)) = line.split_once('=')
        {
            current = key.trim().to_owned();
            keys.entry(current.clone()).or_default();
        }
        let mut rest = line;
        while let Some(i) = rest.find("$") {
            rest = &rest[i + 1..];
            let gap: String = rest
                .chars()
                .take_while(|c| c.is_alphanumeric() || *c == '-' || *c == '_')
                .collect();
            if let Some(list) = keys.get_mut(&current)
                && !list.contains(&gap)
            {
                list.push(gap);
            }
        }
    }
    keys
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_languages_say_the_same_things() {
        let (en, es) = (keys_of(EN), keys_of(ES));
        let missing: Vec<_> = en.keys().filter(|k| !es.contains_key(*k)).collect();
        let extra: Vec<_> = es.keys().filter(|k| !en.contains_key(*k)).collect();
        assert!(missing.is_empty(), "not in Spanish: {missing:?}");
        assert!(extra.is_empty(), "only in Spanish: {extra:?}");
        for (key, gaps) in &en {
            let (mut a, mut b) = (gaps.clone(), es[key].clone());
            a.sort();
            b.sort();
            assert_eq!(a, b, "gaps of {key}");
        }
    }

    #[test]
    fn every_line_of_the_files_is_understood() {
        for source in [EN, ES] {
            if let Err((_, errors)) = FluentResource::try_new(source.to_owned()) {
                panic!("{errors:?}");
            }
        }
    }

    #[test]
    fn gaps_are_filled() {
        let text = Text::new(Language::En);
        let s = text.fill("state-minutes", &[("minutes", 12.0.into())]);
        assert!(s.contains("12"), "{s}");
    }
}
