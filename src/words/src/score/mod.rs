//! The scorecard and the walk-back in plain lines, one fact a line, so that a screen reader and a
//! terminal read them alike.
//!
//! Everything is taken from a computed card; nothing is judged here. To be shown only once the car
//! was given back, since the card says what was wrong.

mod labels;
mod plan;
mod walk;

pub use plan::PlanWords;
pub use walk::WalkStep;

use std::sync::OnceLock;

use tracebay_core::scenario::Case;
use tracebay_core::session::Action;
use tracebay_grading::plan::PoorCheck;
use tracebay_grading::safety::Rules;
use tracebay_grading::scorecard::{Gate, HabitName, Line, Part, Reason, Scorecard};

use crate::{Value, Words};

impl Words {
    /// A scorecard as plain lines.
    pub fn scorecard(&self, case: &Case, rules: &Rules, card: &Scorecard) -> Vec<String> {
        let mut lines = self.card_head(case, card);
        for part in &card.parts {
            lines.push(self.get(
                "score-part",
                &[
                    ("part", self.part_name(part.part).into()),
                    ("points", self.number(part.points, 1).into()),
                    ("most", self.number(part.most, 0).into()),
                ],
            ));
            for line in &part.lines {
                lines.push(self.score_line(case, rules, card, line));
            }
        }
        for hint in &card.hints {
            lines.push(self.score_line(case, rules, card, hint));
        }
        lines
    }

    /// What a part of a card is called.
    pub fn part_name(&self, part: Part) -> String {
        self.text(part_key(part))
    }

    /// The head of a card: points, whether it passed and if not why, what was wrong.
    pub fn card_head(&self, case: &Case, card: &Scorecard) -> Vec<String> {
        let mut lines = vec![self.get(
            "score-total",
            &[
                ("points", self.number(card.points, 1).into()),
                ("rubric", card.rubric.as_str().into()),
                ("version", card.rubric_version.to_string().into()),
            ],
        )];
        if card.passed {
            lines.push(self.text("score-passed"));
        } else {
            lines.push(self.text("score-not-passed"));
            lines.extend(card.gates.iter().map(|gate| self.text(gate_key(*gate))));
        }
        if let Some((_, faults)) = &card.truth {
            for fault in faults {
                let fault = self.fault(case, fault);
                lines.push(self.get("score-it-was", &[("fault", fault.into())]));
            }
        }
        lines
    }

    /// One line of a card: points, the action they come from, and why.
    pub fn score_line(&self, case: &Case, rules: &Rules, card: &Scorecard, line: &Line) -> String {
        let sign = if line.points > 0.05 { "+" } else { "" };
        let points = format!("{sign}{}", self.number(line.points, 1));
        let why = self.reason(case, rules, card, &line.reason);
        match line_action(card, line) {
            Some((n, action)) => self.get(
                "score-line",
                &[
                    ("points", points.into()),
                    ("n", (n + 1).to_string().into()),
                    ("action", self.action(&case.vehicle, action).into()),
                    ("why", why.into()),
                ],
            ),
            None => self.get(
                "score-line-whole",
                &[("points", points.into()), ("why", why.into())],
            ),
        }
    }

    /// A line of a card without its points, for where they stand in a column of their own: the action and
    /// why.
    pub fn score_told(&self, case: &Case, rules: &Rules, card: &Scorecard, line: &Line) -> String {
        let why = self.reason(case, rules, card, &line.reason);
        match line_action(card, line) {
            Some((n, action)) => self.get(
                "score-line-told",
                &[
                    ("n", (n + 1).to_string().into()),
                    ("action", self.action(&case.vehicle, action).into()),
                    ("why", why.into()),
                ],
            ),
            None => why,
        }
    }

    /// Why points were earned or lost.
    fn reason(&self, case: &Case, rules: &Rules, card: &Scorecard, reason: &Reason) -> String {
        let minutes = |m: f64| -> Value<'static> { self.minutes(m).into() };
        match reason {
            Reason::CallRight { share } if *share >= 1.0 => self.text("score-call-right"),
            Reason::CallRight { .. } => self.text("score-call-place"),
            Reason::CallWrong => self.text("score-call-wrong"),
            Reason::NoCall => self.text("score-no-call"),
            Reason::EarlierCallWrong => self.text("score-earlier-wrong"),
            Reason::Proof { posterior, rivals } => self.proof(case, *posterior, rivals),
            Reason::Regret {
                minutes: given,
                poor,
            } => {
                let lost = self.get("score-regret", &[("minutes", minutes(*given))]);
                match poor {
                    Some(poor) => format!("{lost} {}", self.text(poor_key(*poor))),
                    None => lost,
                }
            }
            Reason::Economy { used, best } => self.get(
                "score-economy",
                &[("used", minutes(*used)), ("best", minutes(*best))],
            ),
            Reason::OverBudget { minutes: over } => {
                self.get("score-over-budget", &[("minutes", minutes(*over))])
            }
            Reason::Breach { rule, .. } => self.safety_rule(rules, rule),
            Reason::SoundPart { target } => {
                let part = self.label(case, target);
                self.get("score-sound-part", &[("part", part.into())])
            }
            Reason::Kept { habit } => {
                let habit = self.text(habit_key(*habit));
                self.get("score-kept", &[("habit", habit.into())])
            }
            Reason::Missed { habit } => {
                let name = self.text(habit_key(*habit));
                let told = self.get("score-missed", &[("habit", name.into())]);
                let left = match habit {
                    HabitName::SparesBack => &card.finish.spares_left_in,
                    HabitName::FusesIn => &card.finish.blown_left_in,
                    _ => return told,
                };
                let left: Vec<String> = left.iter().map(|part| self.label(case, part)).collect();
                if left.is_empty() {
                    return told;
                }
                format!("{told} {}.", left.join(", "))
            }
            Reason::Hint { level } => {
                self.get("score-hint", &[("level", level.to_string().into())])
            }
        }
    }

    fn proof(&self, case: &Case, posterior: f64, rivals: &[usize]) -> String {
        let percent = self.percent(posterior);
        let told = self.get("score-proof", &[("percent", percent.into())]);
        // Rivals that hardly counted any more are not worth a line.
        let named: Vec<String> = rivals
            .iter()
            .take(MOST_RIVALS)
            .filter_map(|i| case.scenario.candidates.get(*i))
            .map(|candidate| self.candidate(case, candidate))
            .collect();
        if named.is_empty() || posterior >= 0.95 {
            return told;
        }
        let rivals = self.get("score-rivals", &[("rivals", named.join("; ").into())]);
        format!("{told} {rivals}")
    }

    /// The sentence of a safety rule: in this language where there is one, else the file's own. Who changed a
    /// shipped sentence wants the changed one read, in whatever language it is.
    pub fn safety_rule(&self, rules: &Rules, id: &str) -> String {
        let Some(rule) = rules.rule(id) else {
            return id.to_owned();
        };
        let shipped = shipped_rules().and_then(|rules| rules.rule(id));
        let changed = shipped.is_some_and(|shipped| shipped.says != rule.says);
        if self.has(&rule.message) && !changed {
            self.text(&rule.message)
        } else {
            rule.says.clone()
        }
    }

    /// The title of a rubric: a shipped one's in this language, any other's as its author wrote it.
    pub fn rubric_title(&self, title: &str) -> String {
        let key = match title {
            "Practice at home" => "score-rubric-home",
            "Graded assignment" => "score-rubric-assignment",
            "Shop sign-off" => "score-rubric-shop",
            _ => return title.to_owned(),
        };
        self.text(key)
    }

    /// A probability as people say it.
    pub fn percent(&self, share: f64) -> String {
        // Near certainty is not certainty.
        let percent = (share * 100.0).clamp(0.0, 100.0);
        let decimals = usize::from(percent > 99.0 && percent < 99.95);
        self.number(percent, decimals)
    }
}

fn shipped_rules() -> Option<&'static Rules> {
    static RULES: OnceLock<Option<Rules>> = OnceLock::new();
    RULES
        .get_or_init(|| Rules::load(&Rules::preset()).ok())
        .as_ref()
}

/// The action that a line is about, with its number from 0.
fn line_action<'a>(card: &'a Scorecard, line: &Line) -> Option<(usize, &'a Action)> {
    let n = line.step?;
    card.judged.steps.get(n).map(|step| (n, &step.action))
}

/// Most rivals that a line names.
const MOST_RIVALS: usize = 4;

/// Key of the name of a part of the card.
pub fn part_key(part: Part) -> &'static str {
    match part {
        Part::Call => "score-part-call",
        Part::Proof => "score-part-proof",
        Part::Order => "score-part-order",
        Part::Economy => "score-part-economy",
        Part::Safety => "score-part-safety",
        Part::Parts => "score-part-parts",
        Part::Finish => "score-part-finish",
    }
}

/// Key of the sentence that says why a card does not pass.
pub fn gate_key(gate: Gate) -> &'static str {
    match gate {
        Gate::StopWork => "score-gate-stop-work",
        Gate::WrongCall => "score-gate-wrong-call",
        Gate::ComplaintLeft => "score-gate-complaint-left",
        Gate::BelowPassMark => "score-gate-below-pass-mark",
        Gate::OverBudget => "score-gate-over-budget",
        Gate::NotHandedBack => "score-gate-not-handed-back",
    }
}

pub(crate) fn poor_key(poor: PoorCheck) -> &'static str {
    match poor {
        PoorCheck::Redundant => "score-poor-redundant",
        PoorCheck::Irrelevant => "score-poor-irrelevant",
        PoorCheck::Premature => "score-poor-premature",
    }
}

fn habit_key(habit: HabitName) -> &'static str {
    match habit {
        HabitName::ReproducedBeforeWork => "score-habit-reproduced",
        HabitName::RetestedSameWay => "score-habit-retested",
        HabitName::CheckedAtVent => "score-habit-vent",
        HabitName::RelaysIn => "score-habit-relays",
        HabitName::FusesIn => "score-habit-fuses",
        HabitName::PlugsOn => "score-habit-plugs",
        HabitName::CoversOn => "score-habit-covers",
        HabitName::ToolsOff => "score-habit-tools",
        HabitName::KeyOff => "score-habit-key",
        HabitName::SparesBack => "score-habit-spares",
        HabitName::HandedBack => "score-habit-handed-back",
    }
}
