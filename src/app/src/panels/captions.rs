//! Lines over the scene: what was just seen, heard or felt, and why something cannot be done; and as
//! long as it lasts, what sounds.

use tracebay_core::session::{Action, Observation, Sound};

use super::{Cx, names, say};
use crate::desk::{Desk, Line, is_reading};
use crate::egui::{self, RichText, Ui};
use crate::look::theme;

/// How long a line stays, seconds.
pub const STAYS_S: f64 = 9.0;
/// How many stay at once.
const AT_ONCE: usize = 5;

/// A line as words, and whether it is a refusal. Nothing, if there is nothing to say.
pub fn words(cx: &Cx<'_>, desk: &Desk, line: &Line) -> Vec<(String, bool)> {
    let say = |seen: &[Observation]| -> Vec<(String, bool)> {
        seen.iter()
            .filter(|o| cx.settings.captions || !matches!(o, Observation::Heard { .. }))
            .map(|o| (say::observation(cx, desk, o), false))
            .filter(|(s, _)| !s.is_empty())
            .collect()
    };
    match line {
        Line::Done(_, seen) => {
            // What a tool shows is read on the tool.
            let seen: Vec<_> = seen.iter().filter(|o| !is_reading(o)).cloned().collect();
            say(&seen)
        }
        Line::Happened(seen) => say(seen),
        Line::Refused(refusal) => vec![(say::refusal(cx, desk, refusal), true)],
        Line::Told(sentence) => vec![(sentence.clone(), false)],
    }
}

/// Everything that sounds at this moment in one line, each sound once, wherever it comes from.
/// Nothing, if it is quiet or captions are off.
pub fn lasting(cx: &Cx<'_>, desk: &Desk) -> Option<String> {
    if !cx.settings.captions {
        return None;
    }
    let named: Vec<String> = desk
        .view()
        .sounds
        .iter()
        .filter(|(sound, _)| *sound != Sound::Silence)
        .map(|(sound, place)| {
            let sound = cx.text.words.value(*sound);
            let place = names::place(desk.session(), place);
            format!("{sound} ({place})")
        })
        .collect();
    (!named.is_empty()).then(|| say::begin(&named.join(" · ")))
}

/// A line without what [`lasting`] says already. What somebody listened for is said all the same.
fn passing(desk: &Desk, line: &Line) -> Line {
    let lasts = |o: &Observation| match o {
        Observation::Heard { sound, place } => {
            desk.view().sounds.contains(&(*sound, place.clone()))
        }
        _ => false,
    };
    let rest = |seen: &[Observation]| seen.iter().filter(|o| !lasts(o)).cloned().collect();
    match line {
        Line::Done(action, seen) if !matches!(action, Action::Listen(_)) => {
            Line::Done(action.clone(), rest(seen))
        }
        Line::Happened(seen) => Line::Happened(rest(seen)),
        _ => line.clone(),
    }
}

/// Draws what sounds, and the lines of the last seconds, newest lowest.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    theme::on_steel(ui, cx.look);
    let mut list: Vec<(String, bool)> = Vec::new();
    for (_, line) in desk.lines.recent(STAYS_S) {
        for said in words(cx, desk, &passing(desk, line)) {
            if list.last() != Some(&said) {
                list.push(said);
            }
        }
    }
    if let Some(sounds) = lasting(cx, desk) {
        // Said once when it begins and when it changes: the name changes only then.
        theme::steel_frame(cx.look)
            .inner_margin(egui::Margin::symmetric(10, 4))
            .show(ui, |ui| {
                let text = RichText::new(format!("♪ {sounds}")).font(theme::narrow(14.5));
                let response = ui.add(egui::Label::new(text.color(cx.look.on_steel)).wrap());
                ui.ctx().accesskit_node_builder(response.id, |node| {
                    node.set_live(egui::accesskit::Live::Polite);
                });
            });
    }
    let from = list.len().saturating_sub(AT_ONCE);
    for (sentence, refused) in &list[from..] {
        theme::steel_frame(cx.look)
            .inner_margin(egui::Margin::symmetric(10, 5))
            .show(ui, |ui| {
                let colour = if *refused {
                    cx.look.steel_bad
                } else {
                    cx.look.on_steel
                };
                let sign = if *refused { "✋ " } else { "" };
                let text = RichText::new(format!("{sign}{sentence}")).color(colour);
                let response = ui.add(egui::Label::new(text).wrap());
                ui.ctx().accesskit_node_builder(response.id, |node| {
                    node.set_live(egui::accesskit::Live::Polite);
                });
            });
    }
}
