//! Lines over the scene: what was just seen, heard or felt, and why something cannot be done.

use tracebay_core::session::Observation;

use super::{Cx, say};
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

/// Draws the lines of the last seconds, newest lowest.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    theme::on_steel(ui, cx.look);
    let mut list: Vec<(String, bool)> = Vec::new();
    for (_, line) in desk.lines.recent(STAYS_S) {
        for said in words(cx, desk, line) {
            if list.last() != Some(&said) {
                list.push(said);
            }
        }
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
