//! Turns typed values into sentences, in English and Spanish.
//!
//! All text is in Fluent files under `assets/words`; the code holds keys only. Nothing here
//! knows what a value means for the case or the score.
#![warn(missing_docs)]

mod action;
mod errors;
mod keyed;
mod names;
mod observation;
pub mod parity;
mod refusal;
mod score;
mod units;

pub use fluent_bundle::FluentValue as Value;
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
pub use keyed::Keyed;
pub use score::{PlanWords, WalkStep, gate_key, part_key};
use unic_langid::LanguageIdentifier;
pub use units::{Pressure, Temperature, Units};

/// Languages with complete words: code and own name.
pub const LANGUAGES: [(&str, &str); 2] = [("en", "English"), ("es", "Español")];

/// The core's words, by language code.
pub const CORE_WORDS: [(&str, &str); 2] = [
    ("en", include_str!("../../../assets/words/en.ftl")),
    ("es", include_str!("../../../assets/words/es.ftl")),
];

/// The words of scorecards, walk-backs, hints and plans, by language code.
pub const SCORE_WORDS: [(&str, &str); 2] = [
    ("en", include_str!("../../../assets/words/score.en.ftl")),
    ("es", include_str!("../../../assets/words/score.es.ftl")),
];

/// The sentences of the shipped safety rules, by language code. English ones stand in the rules' own file.
pub const SAFETY_WORDS: [(&str, &str); 1] =
    [("es", include_str!("../../../assets/words/safety.es.ftl"))];

/// Sentences in one language.
pub struct Words {
    language: &'static str,
    /// The chosen language, and English behind it.
    bundles: Vec<FluentBundle<FluentResource>>,
    /// Units that readings are given in.
    pub units: Units,
}

impl Words {
    /// Words in a language, `es` or `es-MX`. A language there are no words for gives English.
    pub fn new(language: &str) -> Words {
        let wanted = language.split(['-', '_', '.']).next().unwrap_or_default();
        let language = LANGUAGES
            .iter()
            .map(|(code, _)| *code)
            .find(|code| code.eq_ignore_ascii_case(wanted))
            .unwrap_or("en");
        let mut bundles = vec![bundle(language)];
        if language != "en" {
            bundles.push(bundle("en"));
        }
        let mut words = Words {
            language,
            bundles,
            units: Units::usual_for(language),
        };
        words.add(&CORE_WORDS);
        words.add(&SCORE_WORDS);
        words.add(&SAFETY_WORDS);
        words
    }

    /// Adds a face's own words: pairs of language code and Fluent text.
    pub fn add(&mut self, texts: &[(&str, &'static str)]) {
        for bundle in &mut self.bundles {
            let code = bundle.locales.first().map(|l| l.language.as_str());
            let text = texts.iter().find(|(language, _)| Some(*language) == code);
            if let Some((_, text)) = text {
                // What can be read of a file with mistakes is used; tests see to it that ours
                // have none.
                let resource = match FluentResource::try_new((*text).to_owned()) {
                    Ok(resource) | Err((resource, _)) => resource,
                };
                bundle.add_resource_overriding(resource);
            }
        }
    }

    /// Code of the language.
    pub fn language(&self) -> &'static str {
        self.language
    }

    /// The sentence of a key. A key there is no sentence for comes back as it is.
    pub fn get(&self, key: &str, args: &[(&str, Value)]) -> String {
        let args: FluentArgs = args.iter().map(|(k, v)| (*k, v.clone())).collect();
        for bundle in &self.bundles {
            if let Some(pattern) = bundle.get_message(key).and_then(|m| m.value()) {
                let mut errors = Vec::new();
                let text = bundle.format_pattern(pattern, Some(&args), &mut errors);
                return text.into_owned();
            }
        }
        key.to_owned()
    }

    /// The sentence of a key that needs nothing.
    pub fn text(&self, key: &str) -> String {
        self.get(key, &[])
    }

    /// Whether there is a sentence for a key.
    pub fn has(&self, key: &str) -> bool {
        self.bundles.iter().any(|bundle| bundle.has_message(key))
    }

    /// What a person may type for the thing a key stands for: its `.words`, own language first,
    /// then English.
    pub fn spellings(&self, key: &str) -> Vec<String> {
        let mut all = Vec::new();
        for bundle in &self.bundles {
            let attribute = bundle
                .get_message(key)
                .and_then(|m| m.get_attribute("words"));
            if let Some(attribute) = attribute {
                let mut errors = Vec::new();
                let text = bundle.format_pattern(attribute.value(), None, &mut errors);
                all.extend(text.split(',').map(|word| word.trim().to_owned()));
            }
        }
        all
    }

    /// An attribute of a key's message in the chosen language, else in English; empty if there is
    /// none.
    pub fn attribute(&self, key: &str, attribute: &str) -> String {
        let found = self.bundles.iter().find_map(|bundle| {
            let pattern = bundle.get_message(key)?.get_attribute(attribute)?.value();
            let mut errors = Vec::new();
            Some(
                bundle
                    .format_pattern(pattern, None, &mut errors)
                    .into_owned(),
            )
        });
        found.unwrap_or_default()
    }

    /// The sentence for a plain value.
    pub fn value<T: Keyed>(&self, value: T) -> String {
        self.text(&value.key())
    }

    /// The word to show for a plain value where it is to be typed.
    pub fn spelling<T: Keyed>(&self, value: T) -> String {
        let first = self.spellings(&value.key()).into_iter().next();
        first.unwrap_or_else(|| value.name().to_owned())
    }

    /// The plain value that a typed word stands for: one of its spellings in this language or in
    /// English, or its name in files. Case, accents and `_` for `-` do not matter.
    pub fn parse<T: Keyed>(&self, typed: &str) -> Option<T> {
        let typed = fold(typed);
        let own = |value: &T| {
            let spellings = self.spellings(&value.key());
            fold(value.name()) == typed || spellings.iter().any(|word| fold(word) == typed)
        };
        T::all().iter().copied().find(own)
    }

    /// A number with so many decimals, written as the language does.
    pub fn number(&self, value: f64, decimals: usize) -> String {
        let text = format!("{value:.decimals$}");
        // Minus zero is an artefact of rounding, not something a display shows.
        let text = match text.strip_prefix('-') {
            Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
            _ => text,
        };
        text.replace('.', &self.text("decimal-separator"))
    }
}

fn bundle(language: &str) -> FluentBundle<FluentResource> {
    let locale: LanguageIdentifier = language.parse().unwrap_or_default();
    let mut bundle = FluentBundle::new_concurrent(vec![locale]);
    // The marks that isolate arguments confuse terminals and screen readers, and both our
    // languages run left to right.
    bundle.set_use_isolating(false);
    bundle
}

/// Lower case, without accents, `-` for `_` and blanks.
pub fn fold(text: &str) -> String {
    text.trim()
        .chars()
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            'á' => 'a',
            'é' => 'e',
            'í' => 'i',
            'ó' => 'o',
            'ú' | 'ü' => 'u',
            'ñ' => 'n',
            '_' | ' ' => '-',
            other => other,
        })
        .collect()
}
