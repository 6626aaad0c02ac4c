//! The first screen.

use super::{RecentAttempt, recent_list, sheet_of_paper};
use crate::desk::{Order, Screen};
use crate::egui::{RichText, Ui};
use crate::look::theme;
use crate::panels::{Cx, widgets};

/// Draws it.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, first_case: Option<&str>, recent: &[RecentAttempt]) {
    sheet_of_paper(ui, cx, 640.0, |ui, cx| {
        ui.add_space(8.0);
        let name = RichText::new(cx.t("title-name")).font(theme::strong(46.0));
        ui.label(name);
        ui.label(RichText::new(cx.t("title-line")).size(18.0));
        ui.add_space(14.0);
        ui.horizontal_wrapped(|ui| {
            let choose = widgets::main_button(ui, cx, &cx.t("title-choose"));
            if ui.memory(|m| m.focused().is_none()) {
                choose.request_focus();
            }
            if choose.clicked() {
                cx.order(Order::Open(Screen::Choose));
            }
            if let Some(id) = first_case
                && recent.is_empty()
                && widgets::key_button(ui, &cx.t("title-first"), None).clicked()
            {
                cx.order(Order::Begin {
                    scenario: id.to_owned(),
                    seed: Some(1),
                });
            }
            if widgets::key_button(ui, &cx.t("title-settings"), None).clicked() {
                cx.order(Order::Open(Screen::Settings));
            }
            if widgets::key_button(ui, &cx.t("title-quit"), None).clicked() {
                cx.order(Order::Quit);
            }
        });
        if !recent.is_empty() {
            ui.add_space(12.0);
            widgets::subheading(ui, &cx.t("recent-title"));
            recent_list(ui, cx, recent, 4);
        }
        ui.add_space(14.0);
        ui.separator();
        ui.label(RichText::new(cx.t("title-invented")).small());
        ui.label(
            RichText::new(cx.t("title-caution"))
                .small()
                .color(cx.look.care),
        );
    });
}
