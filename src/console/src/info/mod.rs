//! What can be looked up: it costs nothing, changes nothing and is not recorded. All of it comes
//! from the session's view and the files' open parts; nothing here asks for the fault.

mod car;
mod help;
mod job;
mod places;

pub use job::complaint;

use serde_json::{Value, json};
use tracebay_core::session::{Session, View};
use tracebay_core::tools::ToolKind;
use tracebay_words::Words;

use crate::command::{Info, Names, Verb};
use crate::reply::Reply;

/// What there is to look at.
pub struct Desk<'a> {
    /// Words.
    pub words: &'a Words,
    /// Names.
    pub names: &'a Names,
    /// Session.
    pub session: &'a Session,
    /// Its view.
    pub view: &'a View,
    /// The tool in the hand.
    pub hand: Option<ToolKind>,
}

/// Looks something up.
pub fn look_up(desk: &Desk, asked: &Info) -> Reply {
    let (topic, lines, data) = match asked {
        Info::Points(part) => places::points(desk, part.as_deref()),
        Info::Targets(word) => job::targets(desk, word.as_deref()),
        Info::Log(last) => job::log(desk, *last),
        Info::Help(verb) => help::help(desk, *verb),
        Info::Plain(verb) => match verb {
            Verb::Where => places::here(desk),
            Verb::Places => places::places(desk),
            Verb::Plugs => places::plugs(desk),
            Verb::Box => places::boxes(desk),
            Verb::Legend => places::legend(desk),
            Verb::State => car::state(desk),
            Verb::Controls => car::controls(desk),
            Verb::Tools => car::tools(desk),
            Verb::Card => job::card(desk),
            Verb::Failures => job::failures(desk),
            Verb::Methods => job::methods(desk),
            Verb::Sheet => job::sheet(desk),
            Verb::Cautions => ("cautions", cautions(desk.words), Value::Null),
            // The others do something; their own branch handles them before it comes to this.
            _ => help::help(desk, Some(*verb)),
        },
    };
    Reply::Info(topic, lines, data)
}

/// One line of information.
pub fn one(topic: &'static str, line: String) -> Reply {
    Reply::Info(topic, vec![line], json!(null))
}

/// The cautions, title first.
pub fn cautions(words: &Words) -> Vec<String> {
    const CAUTIONS: [&str; 8] = [
        "cautions-title",
        "caution-law",
        "caution-belts",
        "caution-hot",
        "caution-eyes",
        "caution-refrigerant",
        "caution-off-limits",
        "caution-exhaust",
    ];
    CAUTIONS.iter().map(|key| words.text(key)).collect()
}

type Found = (&'static str, Vec<String>, Value);
