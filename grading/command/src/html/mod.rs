//! Reports as pages of their own: no script, no file beside them, nothing from elsewhere.
//!
//! Lays out what the [`Classbook`] holds; computes nothing but positions in plots. Every text comes from
//! the words and goes through the template's escaping.

mod class;
mod learner;
mod plots;
mod side;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use tracebay_grading::plan::PoorCheck;
use tracebay_grading::scorecard::Part;
use tracebay_words::{Words, gate_key, part_key};

use crate::classbook::Classbook;
use crate::flags::{Flag, Gravity};
use crate::judging::Scored;

pub use class::class_page;
pub use learner::learner_page;
pub use side::side_by_side_page;

const STYLE: &str = include_str!("report.css");

/// A page.
pub fn page(words: &Words, title: &str, body: &Markup) -> String {
    html! {
        (DOCTYPE)
        html lang=(words.language()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body { (body) }
        }
    }
    .into_string()
}

/// Name of a learner's page in the folder of pages, by their place in the assignment: no id, which
/// might lead anywhere.
pub fn page_name(index: usize) -> String {
    format!("{:04}.html", index + 1)
}

/// A sentence with texts put in.
pub fn say(words: &Words, key: &str, args: &[(&str, &str)]) -> String {
    let args: Vec<_> = args.iter().map(|(k, v)| (*k, (*v).into())).collect();
    words.get(key, &args)
}

/// Points or minutes with a decimal.
pub fn tenths(words: &Words, number: f64) -> String {
    words.number(number, 1)
}

/// A share as a whole percentage.
fn percent(words: &Words, share: f64) -> String {
    let value = words.number(share * 100.0, 0);
    say(words, "report-percent", &[("value", &value)])
}

/// A figure, or a dash where there is none.
fn or_dash(words: &Words, value: Option<f64>, decimals: usize) -> String {
    value.map_or("–".to_owned(), |v| words.number(v, decimals))
}

/// What stood between an attempt and passing; nothing if it passed.
fn not_passed(words: &Words, s: &Scored) -> Markup {
    html! {
        @if !s.gates.is_empty() {
            p class="fail" {
                (words.text("report-not-passed"))
                @for gate in &s.gates { " " (words.text(gate_key(*gate))) }
            }
        }
    }
}

/// Name of a part of the card.
fn part_name(words: &Words, part: Part) -> String {
    words.text(part_key(part))
}

/// What was poor about a test, in a word or two.
fn poor_name(words: &Words, kind: Option<PoorCheck>) -> String {
    words.text(match kind {
        Some(PoorCheck::Redundant) => "report-poor-redundant",
        Some(PoorCheck::Irrelevant) => "report-poor-irrelevant",
        Some(PoorCheck::Premature) => "report-poor-premature",
        None => "report-better-test",
    })
}

/// A flag as a small sign that does not rely on colour.
fn flag_sign(words: &Words, flag: &Flag) -> Markup {
    let (class, sign) = gravity_sign(flag.gravity());
    html! {
        span class={ "flag " (class) } title=(flag.sentence(words)) { (sign) " " (flag.told_name(words)) }
    }
}

fn gravity_sign(gravity: Gravity) -> (&'static str, &'static str) {
    match gravity {
        Gravity::Void => ("void", "✕"),
        Gravity::Look => ("look", "!"),
        Gravity::Note => ("note", "·"),
    }
}

/// What stands at the end of every page.
fn invented(words: &Words, book: &Classbook) -> Markup {
    let engine = book.engine_revision.to_string();
    let args = [("program", book.program), ("engine", engine.as_str())];
    html! { p class="soft" { (say(words, "report-invented", &args)) } }
}
