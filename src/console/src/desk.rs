//! A learner at work: the session, what is in the hand, and what each command does.

use std::time::Instant;

use tracebay_core::session::Action;
use tracebay_core::tools::ToolKind;
use tracebay_core::vehicle::Vehicle;
use tracebay_grading::assign::Terms;
use tracebay_shelf::{Data, Shown, Work, WorkClock, WorkError};
use tracebay_words::{Keyed, Pressure, Temperature, Words};

use crate::command::{self, Command, Mistake, Names, Verb, usage};
use crate::reply::Reply;
use crate::{errors, info, judge};

/// A learner at work.
pub struct Desk {
    /// Words and units.
    pub words: Words,
    /// Names of the car's things.
    pub names: Names,
    /// Session and the place that keeps it.
    pub work: Work,
    /// Data files, for the judge's rubrics.
    pub data: Data,
    /// Terms of the assignment this is work for, if it is.
    pub assigned: Option<Terms>,
    /// What the judge worked out so far.
    pub judged: judge::Kept,
    hand: Option<ToolKind>,
    opened: Instant,
    clock: WorkClock,
}

/// What became of a line.
#[derive(Default)]
pub struct Outcome {
    /// Answers in order.
    pub replies: Vec<Reply>,
    /// The line was not understood, or could not be saved.
    pub failed: bool,
    /// Something was refused.
    pub refused: bool,
    /// The person wants to leave.
    pub leave: bool,
    /// The three lines of the work order are to be asked for.
    pub ask_handback: bool,
}

impl Desk {
    /// Sits down at a piece of work.
    pub fn new(words: Words, work: Work, data: Data) -> Desk {
        Desk {
            names: Names::of(work.session()),
            words,
            data,
            assigned: None,
            judged: judge::Kept::default(),
            hand: last_used(&work),
            clock: WorkClock::new(&work, 0),
            opened: Instant::now(),
            work,
        }
    }

    /// The car.
    pub fn vehicle(&self) -> &Vehicle {
        &self.work.session().case().vehicle
    }

    /// Does what a line says.
    pub fn run(&mut self, line: &str) -> Outcome {
        let mut outcome = Outcome::default();
        match command::parse(line, &self.words, &self.names, self.hand) {
            Ok(command) => self.obey(command, &mut outcome),
            Err(mistake) => {
                outcome.failed = true;
                let text = self.mistake(&mistake);
                outcome.replies.push(Reply::Mistake(text));
            }
        }
        outcome
    }

    /// Does one thing.
    pub fn perform(&mut self, action: Action) -> Outcome {
        let mut outcome = Outcome::default();
        self.act(vec![action], &mut outcome);
        outcome
    }

    fn obey(&mut self, command: Command, outcome: &mut Outcome) {
        match command {
            Command::Nothing => {}
            Command::Quit => outcome.leave = true,
            Command::AskHandback => outcome.ask_handback = true,
            Command::Act(actions) => self.act(actions, outcome),
            Command::LiftAll(tool) => {
                let actions = self.all_leads(tool);
                if actions.is_empty() {
                    let text = self.words.text("refused-already-so");
                    outcome.replies.push(Reply::Mistake(text));
                }
                self.act(actions, outcome);
            }
            Command::Take(tool) => {
                if tool.leads().is_empty() {
                    outcome.failed = true;
                    let text = self.mistake(&Mistake::NoTool);
                    outcome.replies.push(Reply::Mistake(text));
                } else {
                    self.hand = Some(tool);
                    let tool = self.words.value(tool);
                    let line = self.words.get("say-in-hand", &[("tool", tool.into())]);
                    outcome.replies.push(info::one("hand", line));
                }
            }
            Command::HintPrices => outcome.replies.push(judge::hint_prices(self)),
            Command::WalkBack => outcome.replies.extend(judge::walk_back(self)),
            Command::Units(typed) => self.units(&typed, outcome),
            Command::Info(asked) => {
                let view = self.work.view();
                let session = self.work.session();
                let desk = info::Desk {
                    words: &self.words,
                    names: &self.names,
                    session,
                    view: &view,
                    hand: self.hand,
                };
                outcome.replies.push(info::look_up(&desk, &asked));
            }
            Command::Retry => match self.work.retry() {
                None => {
                    let line = self.words.text("say-nothing-waiting");
                    outcome.replies.push(info::one("saving", line));
                }
                Some(done) => self.done(done, None, outcome),
            },
            Command::Unsaved => {
                let line = self.words.text("say-now-unsaved");
                let waiting = self.work.go_on_unsaved();
                outcome.replies.push(info::one("saving", line));
                if let Some(shown) = waiting {
                    self.done(Ok(shown), None, outcome);
                }
            }
        }
    }

    fn act(&mut self, actions: Vec<Action>, outcome: &mut Outcome) {
        for action in actions {
            self.hand = used(&action).or(self.hand);
            if let Some(refusal) = self.assigned.as_ref().and_then(|t| t.forbids(&action)) {
                outcome.refused = true;
                outcome.replies.push(Reply::Refused(action, refusal));
                break;
            }
            let at = self.clock.at_ms(self.opened.elapsed().as_millis() as u64);
            let done = self.work.perform(action.clone(), Some(at));
            self.done(done, Some(action), outcome);
            if outcome.refused || outcome.failed {
                // What was to follow rested on this.
                break;
            }
        }
    }

    fn done(
        &mut self,
        done: Result<Shown, WorkError>,
        asked: Option<Action>,
        outcome: &mut Outcome,
    ) {
        match done {
            Ok(shown) => {
                let given_back = matches!(shown.action, Action::HandBack { .. });
                let hint = matches!(shown.action, Action::Hint(_)).then(|| shown.clone());
                outcome.replies.push(Reply::Done(shown));
                if let Some(shown) = hint {
                    outcome.replies.extend(judge::hint(self, &shown));
                }
                if given_back {
                    outcome.replies.extend(judge::after_handback(self));
                }
            }
            Err(WorkError::Refused(refusal)) => {
                outcome.refused = true;
                if let Some(action) = asked {
                    outcome.replies.push(Reply::Refused(action, refusal));
                }
            }
            Err(WorkError::NotKept(error)) => {
                outcome.failed = true;
                let why = errors::shelf(&self.words, &error);
                let what = self.words.text("say-not-kept");
                outcome
                    .replies
                    .push(Reply::Trouble(format!("{why} {what}")));
            }
        }
    }

    fn all_leads(&mut self, of: Option<ToolKind>) -> Vec<Action> {
        let view = self.work.view();
        let tools = view
            .leads
            .iter()
            .filter(|(tool, _)| of.is_none_or(|t| t == **tool));
        let leads = tools.flat_map(|(tool, leads)| leads.keys().map(|lead| (*tool, *lead)));
        leads
            .map(|(tool, lead)| Action::Lift { tool, lead })
            .collect()
    }

    fn units(&mut self, typed: &str, outcome: &mut Outcome) {
        let units = &mut self.words.units;
        match typed.trim().to_lowercase().trim_start_matches('°') {
            "psi" => units.pressure = Pressure::Psi,
            "kpa" => units.pressure = Pressure::Kpa,
            "bar" => units.pressure = Pressure::Bar,
            "c" => units.temperature = Temperature::Celsius,
            "f" => units.temperature = Temperature::Fahrenheit,
            _ => {
                outcome.failed = true;
                let text = self.mistake(&Mistake::Usage(Verb::Units));
                outcome.replies.push(Reply::Mistake(text));
                return;
            }
        }
        let pressure = match self.words.units.pressure {
            Pressure::Psi => "psi",
            Pressure::Kpa => "kPa",
            Pressure::Bar => "bar",
        };
        let temperature = match self.words.units.temperature {
            Temperature::Celsius => "°C",
            Temperature::Fahrenheit => "°F",
        };
        let args = [
            ("pressure", pressure.into()),
            ("temperature", temperature.into()),
        ];
        let line = self.words.get("say-units", &args);
        outcome.replies.push(info::one("units", line));
    }

    /// A mistake in words.
    pub fn mistake(&self, mistake: &Mistake) -> String {
        let words = &self.words;
        match mistake {
            Mistake::Unknown(word, None) => {
                words.get("say-unknown-command", &[("word", word.as_str().into())])
            }
            Mistake::Unknown(word, Some(nearest)) => words.get(
                "say-unknown-command-nearest",
                &[
                    ("word", word.as_str().into()),
                    ("nearest", nearest.as_str().into()),
                ],
            ),
            Mistake::Usage(verb) => {
                words.get("say-usage", &[("usage", usage(words, *verb).into())])
            }
            Mistake::NotOneOf(word, choices) => words.get(
                "say-unknown-word",
                &[
                    ("word", word.as_str().into()),
                    ("choices", choices.join(", ").into()),
                ],
            ),
            Mistake::NoTool => {
                words.get("say-no-tool", &[("usage", usage(words, Verb::Take).into())])
            }
            Mistake::BadNumber(word) => {
                words.get("say-bad-number", &[("word", word.as_str().into())])
            }
            Mistake::NoControl => words.text("say-no-control"),
        }
    }

    /// Prompt: where one stands.
    pub fn prompt(&self) -> String {
        format!("{}> ", self.words.spelling(self.work.session().station()))
    }

    /// Words that complete a line, for each command that takes a name.
    pub fn completions(&self) -> crate::input::Completions {
        crate::input::Completions::new(&self.words, &self.names, Verb::all())
    }
}

/// The tool that an action takes into the hand.
fn used(action: &Action) -> Option<ToolKind> {
    match action {
        Action::Put { tool, .. } | Action::Touch { tool, .. } | Action::Sweep { tool, .. } => {
            Some(*tool)
        }
        _ => None,
    }
}

/// The tool used last in work that is gone on with; its leads may still be on the car.
fn last_used(work: &Work) -> Option<ToolKind> {
    let mut done = work.session().log().iter().rev();
    done.find_map(|(action, _)| used(action))
}
