//! Where lines come from: a person at a terminal with history and completion, or plain text.

use std::borrow::Cow;
use std::io::{BufRead, IsTerminal, Write};

use rustyline::completion::Completer;
use rustyline::error::ReadlineError;
use rustyline::highlight::Highlighter;
use rustyline::hint::Hinter;
use rustyline::history::MemHistory;
use rustyline::validate::Validator;
use rustyline::{CompletionType, Config, Context, Editor, Helper};
use tracebay_words::{Keyed, Words, fold};

use crate::command::{Named, Names, Verb};

/// Where lines come from.
pub enum Input {
    /// A person at a terminal.
    Terminal(Box<Editor<Completions, MemHistory>>),
    /// A pipe, or a terminal that cannot edit lines.
    Plain {
        /// Show a prompt: somebody may be typing.
        prompt: bool,
    },
}

impl Input {
    /// The best that standard input and output allow.
    pub fn new(plain: bool) -> Input {
        let (from, to) = (
            std::io::stdin().is_terminal(),
            std::io::stdout().is_terminal(),
        );
        if !plain && from && to {
            let config = Config::builder()
                .completion_type(CompletionType::List)
                .build();
            if let Ok(editor) = Editor::with_history(config, MemHistory::new()) {
                return Input::Terminal(Box::new(editor));
            }
        }
        Input::Plain { prompt: from && to }
    }

    /// The next line, or none at the end.
    pub fn line(&mut self, prompt: &str, completions: Completions) -> Option<String> {
        match self {
            Input::Terminal(editor) => {
                editor.set_helper(Some(completions));
                loop {
                    match editor.readline(prompt) {
                        Ok(line) => {
                            // A line that is not kept in the history was still typed.
                            let _ = editor.add_history_entry(line.as_str());
                            return Some(line);
                        }
                        // Ctrl-C drops the line that is being typed, not the work.
                        Err(ReadlineError::Interrupted) => {}
                        Err(_) => return None,
                    }
                }
            }
            Input::Plain { prompt: show } => {
                if *show {
                    print!("{prompt}");
                    let _ = std::io::stdout().flush();
                }
                read_line(&mut std::io::stdin().lock())
            }
        }
    }
}

/// One line of text; bytes that are no text are replaced, and refused as what they then say.
fn read_line(from: &mut impl BufRead) -> Option<String> {
    let mut bytes = Vec::new();
    match from.read_until(b'\n', &mut bytes) {
        Ok(0) | Err(_) => None,
        Ok(_) => Some(String::from_utf8_lossy(&bytes).trim_end().to_owned()),
    }
}

/// What completes a line.
#[derive(Clone, Debug, Default)]
pub struct Completions {
    first: Vec<String>,
    /// Spellings of a command and what may follow it.
    after: Vec<(Vec<String>, Vec<String>)>,
}

impl Completions {
    /// Completions for all commands of a car.
    pub fn new(words: &Words, names: &Names, verbs: &[Verb]) -> Completions {
        let mut first: Vec<String> = Vec::new();
        let mut after = Vec::new();
        for verb in verbs {
            let spellings = words.spellings(&verb.key());
            first.extend(spellings.first().cloned());
            let spellings = spellings.iter().map(|word| fold(word)).collect();
            after.push((spellings, following(words, names, *verb)));
        }
        for (control, positions) in &names.positions {
            first.push(control.clone());
            after.push((vec![fold(control)], positions.clone()));
        }
        first.sort();
        Completions { first, after }
    }

    /// Where the completed word begins, and what it can be.
    fn complete_line(&self, line: &str) -> (usize, Vec<String>) {
        let Some((verb, _)) = line.split_once(char::is_whitespace) else {
            return (0, starting_with(&self.first, line));
        };
        let verb = fold(verb);
        let Some((_, following)) = self.after.iter().find(|(words, _)| words.contains(&verb))
        else {
            return (line.len(), Vec::new());
        };
        // Names may have blanks: first everything after the command is tried as one name, then
        // the last word.
        let rest = line.len() - line[verb_end(line)..].trim_start().len();
        let whole = starting_with(following, &line[rest..]);
        if !whole.is_empty() {
            return (rest, whole);
        }
        let last = line.rfind(char::is_whitespace).map_or(0, |at| at + 1);
        (last, starting_with(following, &line[last..]))
    }
}

fn verb_end(line: &str) -> usize {
    line.find(char::is_whitespace).unwrap_or(line.len())
}

fn starting_with(among: &[String], typed: &str) -> Vec<String> {
    let typed = fold_start(typed);
    let fits = among
        .iter()
        .filter(|name| fold_start(name).starts_with(&typed));
    fits.cloned().collect()
}

/// As [`fold`], but a blank at the end still counts: it is being typed.
fn fold_start(text: &str) -> String {
    let folded = fold(text);
    if text.ends_with(' ') {
        folded + "-"
    } else {
        folded
    }
}

fn ids(named: &[Named]) -> Vec<String> {
    named.iter().map(|(id, _)| id.clone()).collect()
}

fn spellings<T: Keyed>(words: &Words) -> Vec<String> {
    T::all()
        .iter()
        .map(|value| words.spelling(*value))
        .collect()
}

fn following(words: &Words, names: &Names, verb: Verb) -> Vec<String> {
    use tracebay_core::fault::{Failure, Method};
    use tracebay_core::tools::{Dial, Lead, ToolKind};
    use tracebay_core::vehicle::Station;
    match verb {
        Verb::Go => spellings::<Station>(words),
        Verb::Set => ids(&names.controls),
        Verb::Uncover | Verb::Cover => names.covers.iter().map(|(id, _)| id.clone()).collect(),
        Verb::Pull | Verb::Fit => ids(&names.slots),
        Verb::Unplug | Verb::Plug => ids(&names.plugs),
        Verb::Inspect => [ids(&names.slots), ids(&names.plugs)].concat(),
        Verb::Wiggle
        | Verb::Spray
        | Verb::Look
        | Verb::Listen
        | Verb::Feel
        | Verb::Lamp
        | Verb::Thermometer => ids(&names.places),
        Verb::Take | Verb::Renew => spellings::<ToolKind>(words),
        Verb::Clip | Verb::Red | Verb::Black | Verb::Jump => ids(&names.points),
        Verb::Put | Verb::Touch => [
            ids(&names.points),
            spellings::<Lead>(words),
            spellings::<ToolKind>(words),
        ]
        .concat(),
        Verb::Lift => [spellings::<Lead>(words), spellings::<ToolKind>(words)].concat(),
        Verb::Sweep | Verb::Breakout => ids(&names.relays),
        Verb::Dial => spellings::<Dial>(words),
        Verb::Call => [ids(&names.targets), spellings::<Failure>(words)].concat(),
        Verb::Repair => [ids(&names.targets), spellings::<Method>(words)].concat(),
        Verb::Points | Verb::Targets => [ids(&names.slots), ids(&names.places)].concat(),
        Verb::Help => spellings::<Verb>(words),
        _ => Vec::new(),
    }
}

impl Completer for Completions {
    type Candidate = String;

    fn complete(
        &self,
        line: &str,
        pos: usize,
        _: &Context<'_>,
    ) -> rustyline::Result<(usize, Vec<String>)> {
        Ok(self.complete_line(&line[..pos]))
    }
}

impl Hinter for Completions {
    type Hint = String;
}

impl Highlighter for Completions {
    fn highlight<'l>(&self, line: &'l str, _: usize) -> Cow<'l, str> {
        Cow::Borrowed(line)
    }
}

impl Validator for Completions {}

impl Helper for Completions {}

#[cfg(test)]
mod tests {
    use super::*;

    fn some() -> Completions {
        Completions {
            first: vec!["look".into(), "lift".into(), "uncover".into()],
            after: vec![
                (
                    vec!["uncover".into()],
                    vec!["box lid".into(), "service cap".into()],
                ),
                (
                    vec!["put".into()],
                    vec!["clip".into(), "K3.a".into(), "K3.b".into()],
                ),
            ],
        }
    }

    #[test]
    fn commands_names_with_blanks_and_last_words_complete() {
        assert_eq!(some().complete_line("l").1, ["look", "lift"]);
        assert_eq!(
            some().complete_line("uncover box l"),
            (8, vec!["box lid".into()])
        );
        assert_eq!(
            some().complete_line("put clip k3"),
            (9, vec!["K3.a".into(), "K3.b".into()])
        );
        assert_eq!(some().complete_line("put  ").1.len(), 3);
        assert_eq!(some().complete_line("nothing x").1, Vec::<String>::new());
        assert_eq!(some().complete_line("ñandú é").1, Vec::<String>::new());
    }

    #[test]
    fn lines_that_are_no_text_are_still_lines() {
        let mut bytes: &[u8] = b"look \xff\r\nquit";
        assert_eq!(read_line(&mut bytes).unwrap(), "look \u{fffd}");
        assert_eq!(read_line(&mut bytes).unwrap(), "quit");
        assert_eq!(read_line(&mut bytes), None);
    }
}
