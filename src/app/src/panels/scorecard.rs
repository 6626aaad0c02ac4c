//! The scorecard on screen: the head, then each part with its points as a bar and the actions that
//! earned or lost them.
//!
//! Draws a computed card; gives no points.

use tracebay_core::scenario::Case;
use tracebay_grading::safety::Rules;
use tracebay_grading::scorecard::{PartScore, Scorecard};

use super::{Cx, widgets};
use crate::egui::{self, Label, RichText, Ui};
use crate::look::theme;

/// Draws it.
pub fn show(ui: &mut Ui, cx: &Cx<'_>, case: &Case, rules: &Rules, card: &Scorecard) {
    let spacing = ui.spacing().item_spacing;
    for (i, line) in cx.text.words.card_head(case, card).into_iter().enumerate() {
        let text = RichText::new(line);
        let text = match i {
            0 => text.font(theme::strong(24.0)),
            1 => text.font(theme::strong(15.5)).color(if card.passed {
                cx.look.good
            } else {
                cx.look.bad
            }),
            _ => text,
        };
        ui.add(Label::new(text).wrap());
    }
    ui.add_space(4.0);
    ui.spacing_mut().item_spacing.y = 2.0;
    for part in &card.parts {
        row(ui, cx, part);
        for line in &part.lines {
            let words = cx.text.words.score_line(case, rules, card, line);
            small(ui, words);
        }
        ui.add_space(3.0);
    }
    for hint in &card.hints {
        let words = cx.text.words.score_line(case, rules, card, hint);
        small(ui, words);
    }
    ui.spacing_mut().item_spacing = spacing;
}

fn small(ui: &mut Ui, words: String) {
    let margin = egui::Margin {
        left: 18,
        ..egui::Margin::ZERO
    };
    egui::Frame::new().inner_margin(margin).show(ui, |ui| {
        ui.add(Label::new(RichText::new(words).font(theme::narrow(14.5))).wrap());
    });
}

/// A part's name, its points as a bar, and as figures.
fn row(ui: &mut Ui, cx: &Cx<'_>, part: &PartScore) {
    let words = &cx.text.words;
    let full = words.get(
        "score-part",
        &[
            ("part", words.part_name(part.part).into()),
            ("points", words.number(part.points, 1).into()),
            ("most", words.number(part.most, 0).into()),
        ],
    );
    ui.horizontal(|ui| {
        let size = egui::vec2(150.0_f32.min(ui.available_width() * 0.3), 9.0);
        let share = part.points / part.most.max(f64::MIN_POSITIVE);
        widgets::bar(ui, cx.look, size, share, &full);
        ui.label(RichText::new(&full).font(theme::strong(15.0)));
    });
}
