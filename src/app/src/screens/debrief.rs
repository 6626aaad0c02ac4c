//! After handing back: what it was, what was called and mended, and the way there.

use super::sheet_of_paper;
use crate::desk::{Desk, Order, Screen};
use crate::egui::Ui;
use crate::panels::{Cx, call, say, scorecard, walk_back, widgets};
use crate::platform;
use tracebay_core::session::Action;

/// Draws it. Asks the case what it was: the call has been made.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    sheet_of_paper(ui, cx, 820.0, |ui, cx| {
        let session = desk.session();
        let case = session.case();
        let view = desk.view();
        widgets::heading(ui, &cx.t("debrief-title"));
        widgets::subheading(ui, &cx.t("debrief-was"));
        if let Some(candidate) = case.culprit() {
            for fault in &candidate.faults {
                let failure = say::failure(cx, &case.vehicle, &fault.at, fault.what.failure());
                let target = call::target_words(cx, session, &fault.at);
                ui.label(cx.text.fill(
                    "debrief-fault",
                    &[("target", (&target).into()), ("failure", (&failure).into())],
                ));
            }
        }
        widgets::subheading(ui, &cx.t("debrief-called"));
        if view.calls.is_empty() {
            ui.label(cx.t("debrief-no-call"));
        }
        for (target, failure) in &view.calls {
            let failure = say::failure(cx, &case.vehicle, target, *failure);
            let target = call::target_words(cx, session, target);
            ui.label(cx.text.fill(
                "debrief-fault",
                &[("target", (&target).into()), ("failure", (&failure).into())],
            ));
        }
        let moves = desk
            .log()
            .iter()
            .filter(|(a, _)| !matches!(a, Action::Wait(_) | Action::Note(_)))
            .count();
        ui.label(cx.text.fill(
            "debrief-spent",
            &[
                ("minutes", view.minutes.round().into()),
                ("budget", case.scenario.budget_minutes.round().into()),
                ("moves", (moves as f64).into()),
            ],
        ));
        ui.separator();
        judged(ui, cx, desk);
        ui.add_space(10.0);
        ui.horizontal_wrapped(|ui| {
            if platform::HANDS_OUT_FILES
                && widgets::key_button(ui, &cx.t("attempt-save-file"), None).clicked()
            {
                cx.order(Order::HandOut(desk.attempt()));
            }
            if desk.terms().is_some() {
                if widgets::main_button(ui, cx, &cx.t("assigned-next")).clicked() {
                    cx.order(Order::Leave);
                }
                return;
            }
            if widgets::main_button(ui, cx, &cx.t("debrief-next")).clicked() {
                cx.order(Order::Open(Screen::Choose));
            }
            if widgets::key_button(ui, &cx.t("menu-again-new"), None).clicked() {
                cx.order(Order::Again { same_seed: false });
            }
            if widgets::key_button(ui, &cx.t("menu-again-same"), None).clicked() {
                cx.order(Order::Again { same_seed: true });
            }
        });
    });
}

/// Scorecard and walk-back.
fn judged(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
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
    widgets::subheading(ui, &cx.t("debrief-score"));
    scorecard::show(ui, cx, case, rules, card);
    ui.separator();
    match desk.judged.walk(case, desk.log(), &cx.text.words) {
        Ok(walk) => walk_back::show(ui, cx, &walk, &card.judged),
        Err(why) => {
            ui.label(cx.text.fill("no-score", &[("why", (&why).into())]));
        }
    }
}
