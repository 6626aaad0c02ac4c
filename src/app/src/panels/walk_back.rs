//! The walk-back: the attempt again, test by test, with what was still possible at each.
//!
//! Draws what the grader worked out; computes no score and no belief.

use egui_plot::{Legend, Line, MarkerShape, Plot, PlotPoints, Points, VLine};
use tracebay_grading::judge::Judged as JudgedAttempt;
use tracebay_words::WalkStep;

use super::{Cx, widgets};
use crate::desk::judged::Walk;
use crate::egui::{self, Id, Label, RichText, Ui};
use crate::look::theme;

/// Draws it: one step at a time, the curve of what was uncertain, and the best plan.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, walk: &Walk, judged: &JudgedAttempt) {
    let shown: Vec<&WalkStep> = walk.steps.iter().filter(|s| worth_showing(s)).collect();
    widgets::subheading(ui, &cx.t("debrief-way"));
    if shown.is_empty() {
        ui.label(cx.t("walk-none"));
        return;
    }
    let id = Id::new("walk-back-step");
    let mut at = ui.data(|d| d.get_temp::<usize>(id)).unwrap_or(0);
    at = at.min(shown.len() - 1);
    ui.horizontal_wrapped(|ui| {
        let back = ui.add_enabled_ui(at > 0, |ui| {
            widgets::key_button(ui, &cx.t("walk-earlier"), None)
        });
        if back.inner.clicked() {
            at -= 1;
        }
        let on = ui.add_enabled_ui(at + 1 < shown.len(), |ui| {
            widgets::key_button(ui, &cx.t("walk-later"), None)
        });
        if on.inner.clicked() {
            at += 1;
        }
        ui.label(cx.text.fill(
            "walk-at",
            &[
                ("n", ((at + 1) as f64).into()),
                ("count", (shown.len() as f64).into()),
            ],
        ));
    });
    at = at.min(shown.len() - 1);
    ui.data_mut(|d| d.insert_temp(id, at));
    let step = shown[at];
    ui.add_space(4.0);
    if ui.available_width() > 560.0 {
        ui.columns(2, |columns| {
            widgets::ragged(&mut columns[0], |ui| told(ui, cx, step));
            widgets::ragged(&mut columns[1], |ui| bars(ui, cx, step));
        });
    } else {
        told(ui, cx, step);
        bars(ui, cx, step);
    }
    ui.add_space(8.0);
    widgets::subheading(ui, &cx.t("debrief-plot"));
    curve(ui, cx, walk, judged, step.minutes);
    ui.add_space(4.0);
    for (i, line) in walk.best.iter().enumerate() {
        let text = RichText::new(line);
        let text = if i == 0 {
            text.font(theme::strong(15.0))
        } else {
            text
        };
        ui.add(Label::new(text).wrap());
    }
    ui.add_space(4.0);
    egui::CollapsingHeader::new(cx.t("walk-all"))
        .id_salt("walk-all")
        .show(ui, |ui| {
            for step in &walk.steps {
                for (i, line) in step.lines(&cx.text.words).into_iter().enumerate() {
                    let text = RichText::new(line);
                    let text = if i == 0 && step.tested {
                        text.strong()
                    } else {
                        text
                    };
                    ui.add(Label::new(text).wrap());
                }
                ui.add_space(4.0);
            }
        });
}

/// Steps that asked or told something; driving and waiting are in the full list.
fn worth_showing(step: &WalkStep) -> bool {
    step.tested || step.poor.is_some() || step.bits.0 - step.bits.1 > 0.005
}

/// What was done, what it could tell and did tell, and what would have been better.
fn told(ui: &mut Ui, cx: &Cx<'_>, step: &WalkStep) {
    let title = cx.text.words.get(
        "score-walk-action",
        &[
            ("n", step.n.to_string().into()),
            ("action", step.action.as_str().into()),
            ("minutes", cx.text.words.minutes(step.minutes).into()),
        ],
    );
    ui.add(Label::new(RichText::new(title).font(theme::strong(15.0))).wrap());
    for line in step.seen.iter().chain([&step.could, &step.told]) {
        ui.add(Label::new(line).wrap());
    }
    // Never by colour alone: each of these begins with its own word.
    let marked = [
        (&step.poor, cx.look.bad),
        (&step.why, cx.look.ink),
        (&step.better, cx.look.care),
    ];
    for (line, colour) in marked {
        if let Some(line) = line {
            ui.add(Label::new(RichText::new(line).color(colour)).wrap());
        }
    }
}

/// The faults still possible after the step, the likeliest first.
fn bars(ui: &mut Ui, cx: &Cx<'_>, step: &WalkStep) {
    ui.label(
        RichText::new(cx.t("walk-possible"))
            .font(theme::narrow(14.0))
            .color(cx.look.ink_soft),
    );
    for (candidate, share) in &step.possible {
        let percent = cx.text.words.percent(*share);
        let words = format!("{percent} %  {candidate}");
        ui.add(Label::new(&words).wrap());
        let size = egui::vec2(ui.available_width().max(40.0), 7.0);
        widgets::bar(ui, cx.look, size, *share, &words);
    }
}

/// Bits still uncertain against job minutes: the learner's steps, and the best plan's.
fn curve(ui: &mut Ui, cx: &Cx<'_>, walk: &Walk, judged: &JudgedAttempt, now: f64) {
    let mut own: Vec<[f64; 2]> = Vec::new();
    for step in &walk.steps {
        let before = own.last().map_or(0.0, |p| p[0]);
        own.push([before.max(step.minutes), step.bits.0]);
        own.push([before.max(step.minutes), step.bits.1]);
    }
    let mut best: Vec<[f64; 2]> = Vec::new();
    // The best plan starts where the learner's first test did.
    if let Some(first) = judged.steps.iter().find(|s| s.regret.is_some()) {
        let mut bits = first.bits.0;
        let start = judged
            .best_route
            .first()
            .map_or(first.minutes, |b| b.minutes);
        best.push([own.iter().map(|p| p[0]).fold(start, f64::min), bits]);
        for step in &judged.best_route {
            best.push([step.minutes, bits]);
            best.push([step.minutes, step.bits]);
            bits = step.bits;
        }
    }
    let mark = own
        .iter()
        .rev()
        .find(|p| p[0] <= now + 1e-9)
        .copied()
        .unwrap_or([now, 0.0]);
    Plot::new("uncertainty")
        .height(190.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .include_y(0.0)
        .legend(Legend::default())
        .x_axis_label(cx.t("debrief-plot-minutes"))
        .y_axis_label(cx.t("debrief-plot-bits"))
        .show(ui, |plot| {
            plot.line(
                Line::new(cx.t("walk-curve-own"), PlotPoints::from(own))
                    .width(2.5)
                    .color(cx.look.chosen),
            );
            plot.line(
                Line::new(cx.t("walk-curve-best"), PlotPoints::from(best))
                    .width(2.0)
                    .style(egui_plot::LineStyle::dashed_loose())
                    .color(cx.look.care),
            );
            plot.vline(VLine::new("", now).width(1.0).color(cx.look.rule));
            plot.points(
                Points::new("", vec![mark])
                    .shape(MarkerShape::Diamond)
                    .radius(5.0)
                    .color(cx.look.ink),
            );
        });
}
