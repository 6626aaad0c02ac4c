//! Reports as pages of their own: no script, no file beside them, nothing from elsewhere.
//!
//! Lays out what the [`Classbook`] holds; computes nothing but positions in plots. Every text goes
//! through the template's escaping.

mod class;
mod learner;
mod plots;
mod side;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use tracebay_grading::scorecard::Part;

use crate::flags::{Flag, Gravity};

pub use class::class_page;
pub use learner::learner_page;
pub use side::side_by_side_page;

const STYLE: &str = include_str!("report.css");

/// A page.
pub fn page(title: &str, body: &Markup) -> String {
    html! {
        (DOCTYPE)
        html lang="en" {
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

/// Points with a decimal.
fn points(points: f64) -> String {
    format!("{points:.1}")
}

/// A share as a whole percentage.
fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// Minutes with a decimal.
fn minutes(minutes: f64) -> String {
    format!("{minutes:.1}")
}

/// Name of a part of the card.
fn part_name(part: Part) -> &'static str {
    match part {
        Part::Call => "Call",
        Part::Proof => "Proof",
        Part::Order => "Order",
        Part::Economy => "Economy",
        Part::Safety => "Safety",
        Part::Parts => "Parts",
        Part::Finish => "Finish",
    }
}

/// A flag as a small sign that does not rely on colour.
fn flag_sign(flag: &Flag) -> Markup {
    let (class, sign) = gravity_sign(flag.gravity());
    html! { span class={ "flag " (class) } title=(flag.sentence()) { (sign) " " (flag.name()) } }
}

fn gravity_sign(gravity: Gravity) -> (&'static str, &'static str) {
    match gravity {
        Gravity::Void => ("void", "✕"),
        Gravity::Look => ("look", "!"),
        Gravity::Note => ("note", "·"),
    }
}
