//! What a command answers, as sentences for people or as one JSON object a line for programs.

use std::io::Write;

use serde_json::{Value, json};
use tracebay_core::session::{Action, Refusal};
use tracebay_core::vehicle::Vehicle;
use tracebay_shelf::Shown;
use tracebay_words::Words;

/// What a command answers.
#[derive(Clone, Debug)]
pub enum Reply {
    /// Something was done.
    Done(Shown),
    /// Something cannot be done now.
    Refused(Action, Refusal),
    /// Something was looked up.
    Info(&'static str, Vec<String>, Value),
    /// The line was not understood.
    Mistake(String),
    /// Something could not be saved or scored.
    Trouble(String),
}

/// Where answers go.
pub struct Out {
    json: bool,
    closed: bool,
}

impl Out {
    /// Sentences, or JSON.
    pub fn new(json: bool) -> Out {
        Out {
            json,
            closed: false,
        }
    }

    /// Nobody reads any more (`| head`).
    pub fn closed(&self) -> bool {
        self.closed
    }

    /// Gives an answer.
    pub fn reply(&mut self, words: &Words, vehicle: &Vehicle, reply: &Reply) {
        if self.json {
            let object = as_json(words, vehicle, reply);
            self.line(&object.to_string());
            return;
        }
        match reply {
            Reply::Done(shown) => {
                for line in sentences(words, vehicle, shown) {
                    self.line(&line);
                }
            }
            Reply::Refused(_, refusal) => self.line(&words.refusal(vehicle, refusal)),
            Reply::Info(_, lines, _) => {
                for line in lines {
                    self.line(line);
                }
            }
            Reply::Mistake(text) | Reply::Trouble(text) => self.line(text),
        }
    }

    /// A plain line, in text only.
    pub fn say(&mut self, text: &str) {
        if !self.json {
            self.line(text);
        }
    }

    fn line(&mut self, text: &str) {
        let mut out = std::io::stdout().lock();
        if writeln!(out, "{text}").and_then(|()| out.flush()).is_err() {
            self.closed = true;
        }
    }
}

/// What was perceived; what was done, where nothing was.
fn sentences(words: &Words, vehicle: &Vehicle, shown: &Shown) -> Vec<String> {
    if shown.observations.is_empty() {
        return vec![words.action(vehicle, &shown.action)];
    }
    let seen = shown.observations.iter();
    seen.map(|seen| words.observation(vehicle, seen)).collect()
}

fn as_json(words: &Words, vehicle: &Vehicle, reply: &Reply) -> Value {
    match reply {
        Reply::Done(shown) => json!({
            "action": shown.action,
            "observations": shown.observations,
            "minutes": shown.minutes,
            "text": sentences(words, vehicle, shown),
        }),
        Reply::Refused(action, refusal) => json!({
            "refused": refusal,
            "action": action,
            "text": [words.refusal(vehicle, refusal)],
        }),
        Reply::Info(topic, lines, data) => json!({
            "info": topic,
            "data": data,
            "text": lines,
        }),
        Reply::Mistake(text) => json!({ "mistake": text }),
        Reply::Trouble(text) => json!({ "trouble": text }),
    }
}
