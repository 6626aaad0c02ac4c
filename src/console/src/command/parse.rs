//! Reading one line.

use tracebay_core::fault::{Failure, Method};
use tracebay_core::session::{Action, Item};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;
use tracebay_words::{Keyed, Words, fold};

use super::names::{Named, Names, pick};
use super::tools;
use super::verb::{Verb, all_spellings, is_word};

/// What a line asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Things to do, one after the other.
    Act(Vec<Action>),
    /// Something to look up.
    Info(Info),
    /// Take a tool in the hand.
    Take(ToolKind),
    /// Take off all leads that are on.
    LiftAll(Option<ToolKind>),
    /// Ask for the work order's three lines, then give the car back.
    AskHandback,
    /// Say what hints cost.
    HintPrices,
    /// The attempt again, step by step.
    WalkBack,
    /// Change the units.
    Units(String),
    /// Try to save again.
    Retry,
    /// Go on without saving.
    Unsaved,
    /// Leave.
    Quit,
    /// An empty line or a comment.
    Nothing,
}

/// Something to look up.
#[derive(Clone, Debug, PartialEq)]
pub enum Info {
    /// A command without anything after it.
    Plain(Verb),
    /// Points, of one part if given.
    Points(Option<String>),
    /// Targets, those with a word in them if given.
    Targets(Option<String>),
    /// The log, the last so many if given.
    Log(Option<usize>),
    /// Help, on one command if given.
    Help(Option<Verb>),
}

/// Why a line was not understood.
#[derive(Clone, Debug, PartialEq)]
pub enum Mistake {
    /// No such command; the nearest one.
    Unknown(String, Option<String>),
    /// Something is missing or too much.
    Usage(Verb),
    /// A word that is none of the choices.
    NotOneOf(String, Vec<String>),
    /// No tool with leads in the hand.
    NoTool,
    /// Not a number of seconds.
    BadNumber(String),
    /// The car has no such control.
    NoControl,
}

/// Reads a line. `hand` is the tool in the hand.
pub fn parse(
    line: &str,
    words: &Words,
    names: &Names,
    hand: Option<ToolKind>,
) -> Result<Command, Mistake> {
    let line = line.trim();
    if line.is_empty() || line.starts_with('#') {
        return Ok(Command::Nothing);
    }
    let (first, rest) = match line.split_once(char::is_whitespace) {
        Some((first, rest)) => (first, rest.trim()),
        None => (line, ""),
    };
    if let Some(verb) = words.parse::<Verb>(first) {
        return Reader {
            words,
            names,
            hand,
            verb,
            rest,
        }
        .command();
    }
    let control = names.control(first);
    if names.controls.iter().any(|(id, _)| *id == control) {
        let reader = Reader {
            words,
            names,
            hand,
            verb: Verb::Set,
            rest,
        };
        return reader.set(&control, rest);
    }
    let mut known = all_spellings(words);
    known.extend(names.controls.iter().map(|(id, _)| id.clone()));
    let nearest = tracebay_core::source::nearest(first, known.iter().map(String::as_str));
    Err(Mistake::Unknown(
        first.to_owned(),
        nearest.map(str::to_owned),
    ))
}

struct Reader<'a> {
    words: &'a Words,
    names: &'a Names,
    hand: Option<ToolKind>,
    verb: Verb,
    rest: &'a str,
}

impl Reader<'_> {
    fn command(&self) -> Result<Command, Mistake> {
        let names = self.names;
        let one = |action: Action| Ok(Command::Act(vec![action]));
        match self.verb {
            Verb::Go => one(Action::Go(self.value::<Station>(self.rest)?)),
            Verb::Set => {
                let (control, to) = self.two()?;
                self.set(&names.control(control), to)
            }
            Verb::Start => self.key("start"),
            Verb::Stop => self.key("off"),
            Verb::Wait => one(Action::Wait(ticks(self.needed()?)?)),
            Verb::Protect => self.alone(Command::Act(vec![Action::Protect])),
            Verb::Uncover => one(Action::Uncover(self.name(&names.covers)?)),
            Verb::Cover => one(Action::Cover(self.name(&names.covers)?)),
            Verb::Pull => one(Action::Pull(self.name(&names.slots)?)),
            Verb::Fit => self.fit(),
            Verb::Unplug => one(Action::Unplug(self.name(&names.plugs)?)),
            Verb::Plug => one(Action::Plug(self.name(&names.plugs)?)),
            Verb::Wiggle => one(Action::Wiggle(self.place()?)),
            Verb::Spray => one(Action::Spray(self.place()?)),
            Verb::Look => one(Action::Look(self.place()?)),
            Verb::Inspect => {
                let all = [names.slots.clone(), names.plugs.clone()].concat();
                let picked = self.name(&all)?;
                // What stays in the car is known by its name as well, to be told so.
                let can = all.iter().any(|(id, _)| *id == picked);
                let what = if can {
                    picked
                } else {
                    self.name(&names.targets)?
                };
                one(Action::Inspect(what))
            }
            Verb::Listen => one(Action::Listen(self.place()?)),
            Verb::Feel => one(Action::Feel(self.place()?)),
            Verb::Lamp if self.is_off() => one(Action::Light(None)),
            Verb::Lamp => one(Action::Light(Some(self.place()?))),
            Verb::Take => Ok(Command::Take(self.value(self.rest)?)),
            Verb::Clip => {
                let tool = tools::light(self.hand);
                let point = self.name(&names.points)?;
                one(Action::Put {
                    tool,
                    lead: Lead::Clip,
                    point,
                })
            }
            Verb::Red | Verb::Black => {
                let lead = if self.verb == Verb::Red {
                    Lead::Red
                } else {
                    Lead::Black
                };
                let point = self.name(&names.points)?;
                one(Action::Put {
                    tool: ToolKind::Meter,
                    lead,
                    point,
                })
            }
            Verb::Put => self.put(),
            Verb::Lift => self.lift(),
            Verb::Touch => self.touch(),
            Verb::Sweep => self.sweep(),
            Verb::Jump => self.jump(),
            Verb::Dial => one(Action::Dial(self.value::<Dial>(self.rest)?)),
            Verb::Renew => one(Action::Renew(self.value::<ToolKind>(self.rest)?)),
            Verb::Breakout if self.is_off() => one(Action::Breakout(None)),
            Verb::Breakout => one(Action::Breakout(Some(self.name(&names.relays)?))),
            Verb::Gauge if self.is_off() => one(Action::Gauge(false)),
            Verb::Gauge if is_word(self.words, "word-on", self.needed()?) => {
                one(Action::Gauge(true))
            }
            Verb::Gauge => Err(Mistake::Usage(self.verb)),
            Verb::Thermometer => one(Action::Thermometer(self.place()?)),
            Verb::Note => one(Action::Note(self.needed()?.to_owned())),
            Verb::Hint => match self.rest {
                "" => Ok(Command::HintPrices),
                level => match level.parse() {
                    Ok(level) => one(Action::Hint(level)),
                    Err(_) => Err(Mistake::Usage(self.verb)),
                },
            },
            Verb::Call => {
                let (target, failure) = self.target_and::<Failure>()?;
                one(Action::Call { target, failure })
            }
            Verb::Repair => {
                let (target, method) = self.target_and::<Method>()?;
                one(Action::Repair { target, method })
            }
            Verb::Handback => self.handback(),
            Verb::Walkback => self.alone(Command::WalkBack),
            Verb::Points => Ok(Command::Info(Info::Points(self.optional()))),
            Verb::Targets => Ok(Command::Info(Info::Targets(self.optional()))),
            Verb::Log => match self.rest {
                "" => Ok(Command::Info(Info::Log(None))),
                last => match last.parse() {
                    Ok(last) => Ok(Command::Info(Info::Log(Some(last)))),
                    Err(_) => Err(Mistake::Usage(self.verb)),
                },
            },
            Verb::Help => match self.rest {
                "" => Ok(Command::Info(Info::Help(None))),
                word => Ok(Command::Info(Info::Help(Some(self.verb_named(word)?)))),
            },
            Verb::Units => Ok(Command::Units(self.rest.to_owned())),
            Verb::Retry => self.alone(Command::Retry),
            Verb::Unsaved => self.alone(Command::Unsaved),
            Verb::Quit => self.alone(Command::Quit),
            Verb::Where
            | Verb::State
            | Verb::Places
            | Verb::Plugs
            | Verb::Controls
            | Verb::Tools
            | Verb::Box
            | Verb::Legend
            | Verb::Card
            | Verb::Failures
            | Verb::Methods
            | Verb::Sheet
            | Verb::Cautions => self.alone(Command::Info(Info::Plain(self.verb))),
        }
    }

    fn needed(&self) -> Result<&str, Mistake> {
        match self.rest {
            "" => Err(Mistake::Usage(self.verb)),
            rest => Ok(rest),
        }
    }

    fn optional(&self) -> Option<String> {
        (!self.rest.is_empty()).then(|| self.rest.to_owned())
    }

    fn alone(&self, command: Command) -> Result<Command, Mistake> {
        match self.rest {
            "" => Ok(command),
            _ => Err(Mistake::Usage(self.verb)),
        }
    }

    fn name(&self, among: &[Named]) -> Result<String, Mistake> {
        Ok(pick(self.needed()?, among))
    }

    fn place(&self) -> Result<String, Mistake> {
        Ok(self.names.place(self.needed()?))
    }

    fn two(&self) -> Result<(&str, &str), Mistake> {
        match self.rest.rsplit_once(char::is_whitespace) {
            Some((first, second)) => Ok((first.trim(), second)),
            None => Err(Mistake::Usage(self.verb)),
        }
    }

    fn is_off(&self) -> bool {
        is_word(self.words, "word-off", self.rest)
    }

    fn value<T: Keyed>(&self, typed: &str) -> Result<T, Mistake> {
        if typed.is_empty() {
            return Err(Mistake::Usage(self.verb));
        }
        self.words.parse(typed).ok_or_else(|| {
            let choices = T::all().iter().map(|value| self.words.spelling(*value));
            Mistake::NotOneOf(typed.to_owned(), choices.collect())
        })
    }

    fn verb_named(&self, word: &str) -> Result<Verb, Mistake> {
        self.words.parse(word).ok_or_else(|| {
            let known = all_spellings(self.words);
            let nearest = tracebay_core::source::nearest(word, known.iter().map(String::as_str));
            Mistake::Unknown(word.to_owned(), nearest.map(str::to_owned))
        })
    }

    fn set(&self, control: &str, to: &str) -> Result<Command, Mistake> {
        if to.is_empty() {
            return Err(Mistake::Usage(Verb::Set));
        }
        let positions = self.names.positions_of(control);
        let exact = positions.iter().find(|position| fold(position) == fold(to));
        // “on” and “off” in the person's own language.
        let own = || {
            ["on", "off"].into_iter().find(|word| {
                positions.iter().any(|p| p == word)
                    && is_word(self.words, &format!("word-{word}"), to)
            })
        };
        let to = exact.map(String::as_str).or_else(own).unwrap_or(to);
        Ok(Command::Act(vec![Action::Set {
            control: control.to_owned(),
            to: to.to_owned(),
        }]))
    }

    fn key(&self, to: &str) -> Result<Command, Mistake> {
        if !self.rest.is_empty() {
            return Err(Mistake::Usage(self.verb));
        }
        let control = self.names.key.as_deref().ok_or(Mistake::NoControl)?;
        self.set(control, to)
    }

    fn fit(&self) -> Result<Command, Mistake> {
        let mut tokens: Vec<&str> = self.needed()?.split_whitespace().collect();
        let (mut item, mut turned) = (Item::Original, false);
        while tokens.len() > 1 {
            let last = tokens[tokens.len() - 1];
            if is_word(self.words, "word-turned", last) {
                turned = true;
            } else if let Some(found) = self.words.parse::<Item>(last) {
                item = found;
            } else {
                break;
            }
            tokens.pop();
        }
        Ok(Command::Act(vec![Action::Fit {
            part: pick(&tokens.join(" "), &self.names.slots),
            item,
            turned,
        }]))
    }

    fn put(&self) -> Result<Command, Mistake> {
        let (first, rest) = self.first_word()?;
        let (tool, lead, point) = match self.words.parse::<Lead>(first) {
            Some(lead) => (tools::of_lead(lead, self.hand), lead, rest),
            None => {
                let tool = self.value::<ToolKind>(first)?;
                let (lead, point) = split_first(rest).ok_or(Mistake::Usage(self.verb))?;
                (tool, self.value::<Lead>(lead)?, point)
            }
        };
        if point.is_empty() {
            return Err(Mistake::Usage(self.verb));
        }
        let point = pick(point, &self.names.points);
        Ok(Command::Act(vec![Action::Put { tool, lead, point }]))
    }

    fn lift(&self) -> Result<Command, Mistake> {
        let rest = self.needed()?;
        if is_word(self.words, "word-all", rest) {
            return Ok(Command::LiftAll(None));
        }
        let lift = |tool, lead| Ok(Command::Act(vec![Action::Lift { tool, lead }]));
        if let Some(lead) = self.words.parse::<Lead>(rest) {
            return lift(tools::of_lead(lead, self.hand), lead);
        }
        match split_first(rest) {
            Some((tool, lead)) if !lead.is_empty() => {
                lift(self.value(tool)?, self.value::<Lead>(lead)?)
            }
            _ => Ok(Command::LiftAll(Some(self.value(rest)?))),
        }
    }

    fn touch(&self) -> Result<Command, Mistake> {
        let rest = self.needed()?;
        let (tool, point) = match split_first(rest) {
            Some((first, point)) if !point.is_empty() => match self.words.parse(first) {
                Some(tool) => (tool, point),
                None => (self.in_hand()?, rest),
            },
            _ => (self.in_hand()?, rest),
        };
        let point = pick(point, &self.names.points);
        Ok(Command::Act(vec![Action::Touch { tool, point }]))
    }

    fn sweep(&self) -> Result<Command, Mistake> {
        let (first, rest) = self.first_word()?;
        let (tool, socket) = match (self.words.parse::<ToolKind>(first), rest) {
            (Some(tool), socket) if !socket.is_empty() => (tool, socket),
            (_, "") => (self.in_hand()?, first),
            (_, tool) => (self.value(tool)?, first),
        };
        let socket = pick(socket, &self.names.relays);
        Ok(Command::Act(vec![Action::Sweep { tool, socket }]))
    }

    fn jump(&self) -> Result<Command, Mistake> {
        let mut points: Vec<&str> = self.needed()?.split_whitespace().collect();
        let mut tool = tools::jumper(self.hand);
        if points.len() == 3 && is_word(self.words, "word-plain", points[2]) {
            tool = ToolKind::PlainJumper;
            points.pop();
        }
        let [from, to] = points[..] else {
            return Err(Mistake::Usage(self.verb));
        };
        let put = |lead, point| Action::Put {
            tool,
            lead,
            point: pick(point, &self.names.points),
        };
        Ok(Command::Act(vec![put(Lead::A, from), put(Lead::B, to)]))
    }

    fn handback(&self) -> Result<Command, Mistake> {
        if self.rest.is_empty() {
            return Ok(Command::AskHandback);
        }
        let lines: Vec<&str> = self.rest.split('|').map(str::trim).collect();
        let [complaint, cause, correction] = lines[..] else {
            return Err(Mistake::Usage(self.verb));
        };
        Ok(Command::Act(vec![Action::HandBack {
            complaint: complaint.to_owned(),
            cause: cause.to_owned(),
            correction: correction.to_owned(),
        }]))
    }

    fn first_word(&self) -> Result<(&str, &str), Mistake> {
        split_first(self.rest).ok_or(Mistake::Usage(self.verb))
    }

    fn in_hand(&self) -> Result<ToolKind, Mistake> {
        self.hand.ok_or(Mistake::NoTool)
    }

    /// A target, whose name may have blanks, and after it a word of a kind, which may have some
    /// too: the longest word that fits is taken.
    fn target_and<T: Keyed>(&self) -> Result<(String, T), Mistake> {
        let tokens: Vec<&str> = self.needed()?.split_whitespace().collect();
        if tokens.len() < 2 {
            return Err(Mistake::Usage(self.verb));
        }
        for split in 1..tokens.len() {
            if let Some(value) = self.words.parse::<T>(&tokens[split..].join(" ")) {
                let target = pick(&tokens[..split].join(" "), &self.names.targets);
                return Ok((target, value));
            }
        }
        self.value::<T>(tokens[tokens.len() - 1])
            .map(|value| (tokens[0].to_owned(), value))
    }
}

fn split_first(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    if text.is_empty() {
        return None;
    }
    Some(match text.split_once(char::is_whitespace) {
        Some((first, rest)) => (first, rest.trim()),
        None => (text, ""),
    })
}

/// `5`, `2.5`, `2,5`, `90s`, `2m`, `2 min`.
fn ticks(typed: &str) -> Result<u32, Mistake> {
    let bad = || Mistake::BadNumber(typed.to_owned());
    let digits = typed.trim_end_matches(|c: char| c.is_alphabetic() || c == ' ');
    let unit = typed[digits.len()..].trim();
    let seconds: f64 = digits.replace(',', ".").trim().parse().map_err(|_| bad())?;
    let seconds = match fold(unit).as_str() {
        "" | "s" | "sec" | "seconds" | "second" | "segundos" => seconds,
        "m" | "min" | "minutes" | "minute" | "minutos" => seconds * 60.0,
        _ => return Err(bad()),
    };
    if !seconds.is_finite() || seconds < 0.0 {
        return Err(bad());
    }
    // Too long a wait is the session's to refuse; the conversion stops at the largest number.
    Ok((seconds * 10.0).round() as u32)
}
