//! The two boxes that come before everything else at the car: the menu, and the question what to
//! do when an action could not be kept.

use super::work::Board;
use crate::desk::{Desk, Order, Screen};
use crate::egui::{Align, Id, Layout, Modal, Ui};
use crate::look::theme;
use crate::panels::{Cx, widgets};
use crate::platform;

/// The menu behind Escape, which opens and closes it where keys are read.
pub fn menu(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, board: &mut Board) {
    let frame = theme::card_frame(cx.look);
    Modal::new(Id::new("menu"))
        .frame(frame)
        .show(ui.ctx(), |ui| {
            ui.set_width(300.0);
            widgets::heading(ui, &cx.t("menu-title"));
            let seed = desk.session().case().seed;
            ui.label(cx.text.fill(
                "menu-case",
                &[
                    ("title", (&desk.session().case().scenario.title).into()),
                    ("seed", (&seed.to_string()).into()),
                ],
            ));
            ui.with_layout(Layout::top_down_justified(Align::Min), |ui| {
                let resume = widgets::main_button(ui, cx, &cx.t("menu-resume"));
                if ui.memory(|m| m.focused().is_none()) {
                    resume.request_focus();
                }
                if resume.clicked() {
                    board.menu = false;
                    cx.order(Order::Pause(false));
                }
                // In the middle too: where a browser keeps nothing, the file is all that stays.
                if platform::HANDS_OUT_FILES
                    && widgets::key_button(ui, &cx.t("attempt-save-file"), None).clicked()
                {
                    cx.order(Order::HandOut(desk.attempt()));
                }
                for (key, order) in [
                    ("menu-settings", Order::Open(Screen::Settings)),
                    ("menu-again-same", Order::Again { same_seed: true }),
                    ("menu-again-new", Order::Again { same_seed: false }),
                    ("menu-leave", Order::Leave),
                ] {
                    if desk.terms().is_some() && matches!(order, Order::Again { .. }) {
                        continue;
                    }
                    if widgets::key_button(ui, &cx.t(key), None).clicked() {
                        cx.order(order);
                    }
                }
            });
        });
}

/// An action was done but is not on disk: nothing is shown until the learner decides.
pub fn not_kept(ui: &mut Ui, cx: &mut Cx<'_>, why: &str) {
    let frame = theme::card_frame(cx.look);
    Modal::new(Id::new("not-kept"))
        .frame(frame)
        .show(ui.ctx(), |ui| {
            ui.set_width(360.0);
            widgets::heading(ui, &cx.t("not-kept-title"));
            ui.label(why);
            let how = if platform::IN_A_PAGE {
                "page-not-kept-how"
            } else {
                "not-kept-how"
            };
            ui.label(cx.t(how));
            if !platform::IN_A_PAGE {
                ui.label(cx.t("not-kept-file"));
            }
            let retry = widgets::main_button(ui, cx, &cx.t("not-kept-retry"));
            if ui.memory(|m| m.focused().is_none()) {
                retry.request_focus();
            }
            if retry.clicked() {
                cx.order(Order::Retry);
            }
            if widgets::key_button(ui, &cx.t("not-kept-go-on"), None).clicked() {
                cx.order(Order::GoOnUnkept);
            }
        });
}
