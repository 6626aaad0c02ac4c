//! After handing back: what it was, what was called and mended, and the way there.

use super::sheet_of_paper;
use crate::desk::{Desk, Order, Screen};
use crate::egui::{RichText, Ui};
use crate::look::theme;
use crate::panels::{Cx, call, say, scorecard, walk_back, widgets};
use crate::platform;
use tracebay_core::session::Action;

/// From this width on there are two columns, points.
const WIDE: f32 = 1060.0;

/// Draws it. Asks the case what it was: the call has been made.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    sheet_of_paper(ui, cx, 1500.0, |ui, cx| {
        let wide = ui.available_width() >= WIDE;
        widgets::heading(ui, &cx.t("debrief-title"));
        if wide {
            widgets::two_columns(
                ui,
                cx,
                |ui, cx| was(ui, cx, desk),
                |ui, cx| called(ui, cx, desk),
            );
        } else {
            was(ui, cx, desk);
            called(ui, cx, desk);
        }
        spent(ui, cx, desk);
        onward(ui, cx, desk);
        ui.separator();
        judged(ui, cx, desk, wide);
    });
}

/// What it was.
fn was(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    let session = desk.session();
    let case = session.case();
    theme::card_frame(cx.look).show(ui, |ui| {
        ui.set_width(ui.available_width());
        widgets::subheading(ui, &cx.t("debrief-was"));
        for fault in case.culprit().iter().flat_map(|c| &c.faults) {
            let failure = say::failure(cx, &case.vehicle, &fault.at, fault.what.failure());
            fault_line(ui, cx, desk, &fault.at, &failure);
        }
    });
}

/// What it was taken for.
fn called(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    let calls = &desk.view().calls;
    theme::card_frame(cx.look).show(ui, |ui| {
        ui.set_width(ui.available_width());
        widgets::subheading(ui, &cx.t("debrief-called"));
        if calls.is_empty() {
            ui.label(cx.t("debrief-no-call"));
        }
        for (target, failure) in calls {
            let vehicle = &desk.session().case().vehicle;
            let failure = say::failure(cx, vehicle, target, *failure);
            fault_line(ui, cx, desk, target, &failure);
        }
    });
}

fn fault_line(ui: &mut Ui, cx: &Cx<'_>, desk: &Desk, target: &str, failure: &str) {
    let target = call::target_words(cx, desk.session(), target);
    let gaps = [("target", (&target).into()), ("failure", failure.into())];
    let words = cx.text.fill("debrief-fault", &gaps);
    ui.label(RichText::new(words).font(theme::strong(17.0)));
}

fn spent(ui: &mut Ui, cx: &Cx<'_>, desk: &Desk) {
    let moves = desk
        .log()
        .iter()
        .filter(|(a, _)| !matches!(a, Action::Wait(_) | Action::Note(_)))
        .count();
    ui.label(cx.text.fill(
        "debrief-spent",
        &[
            ("minutes", desk.view().minutes.round().into()),
            (
                "budget",
                desk.session().case().scenario.budget_minutes.round().into(),
            ),
            ("moves", (moves as f64).into()),
        ],
    ));
}

/// Where one can go from here.
fn onward(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    ui.horizontal_wrapped(|ui| {
        if desk.terms().is_some() {
            if widgets::main_button(ui, cx, &cx.t("assigned-next")).clicked() {
                cx.order(Order::Leave);
            }
        } else {
            if widgets::main_button(ui, cx, &cx.t("debrief-next")).clicked() {
                cx.order(Order::Open(Screen::Choose));
            }
            if widgets::key_button(ui, &cx.t("menu-again-new"), None).clicked() {
                cx.order(Order::Again { same_seed: false });
            }
            if widgets::key_button(ui, &cx.t("menu-again-same"), None).clicked() {
                cx.order(Order::Again { same_seed: true });
            }
        }
        if platform::HANDS_OUT_FILES
            && widgets::key_button(ui, &cx.t("attempt-save-file"), None).clicked()
        {
            cx.order(Order::HandOut(desk.attempt()));
        }
    });
}

/// Scorecard and walk-back.
fn judged(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, wide: bool) {
    if !desk.judged.may_begin() {
        ui.label(cx.t("debrief-working"));
        ui.ctx().request_repaint();
        return;
    }
    let case = desk.session().case();
    let (card, rules) = match desk.judged.card(case, desk.log()) {
        Ok(both) => both,
        Err(why) => {
            ui.label(cx.text.fill("no-score", &[("why", (&why).into())]));
            return;
        }
    };
    let walk = desk.judged.walk(case, desk.log(), &cx.text.words);
    let score = |ui: &mut Ui, cx: &mut Cx<'_>| {
        widgets::subheading(ui, &cx.t("debrief-score"));
        scorecard::show(ui, cx, case, rules, card);
    };
    let way = |ui: &mut Ui, cx: &mut Cx<'_>| match &walk {
        Ok(walk) => walk_back::show(ui, cx, walk, &card.judged),
        Err(why) => {
            ui.label(cx.text.fill("no-score", &[("why", why.into())]));
        }
    };
    if wide {
        widgets::two_columns(ui, cx, score, way);
    } else {
        score(ui, cx);
        ui.separator();
        way(ui, cx);
    }
}
