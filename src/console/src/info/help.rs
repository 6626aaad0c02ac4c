//! Help on commands.

use serde_json::{Value, json};
use tracebay_words::Keyed;

use super::{Desk, Found};
use crate::command::{Verb, usage};

pub fn help(desk: &Desk, verb: Option<Verb>) -> Found {
    let words = desk.words;
    let line = |verb: Verb| words.get("say-help-line", &[("usage", usage(words, verb).into())]);
    let Some(verb) = verb else {
        let mut lines = vec![words.text("say-help-intro")];
        lines.extend(Verb::all().iter().map(|verb| line(*verb)));
        let names: Vec<_> = Verb::all().iter().map(|verb| verb.name()).collect();
        return ("help", lines, json!(names));
    };
    let spellings = words.spellings(&verb.key());
    let also = spellings.into_iter().skip(1).collect::<Vec<_>>().join(", ");
    let mut lines = vec![line(verb), words.value(verb)];
    if !also.is_empty() {
        lines.push(words.get("say-also", &[("words", also.into())]));
    }
    ("help", lines, Value::from(verb.name()))
}
