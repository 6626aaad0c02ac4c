//! The complaint slip: what the customer says, the weather, and the cautions before work.

use super::sheet_of_paper;
use crate::desk::{Desk, Order, Screen};
use crate::egui::{RichText, Ui};
use crate::look::theme;
use crate::panels::{Cx, sheet, widgets};

/// Cautions that come before any work at a car.
pub const CAUTIONS: [&str; 7] = [
    "caution-law",
    "caution-belts",
    "caution-hot",
    "caution-eyes",
    "caution-refrigerant",
    "caution-off-limits",
    "caution-exhaust",
];

/// Draws it.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    sheet_of_paper(ui, cx, 700.0, |ui, cx| {
        let case = desk.session().case();
        widgets::heading(ui, &cx.t("slip-title"));
        theme::card_frame(cx.look).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(RichText::new(&case.vehicle.name).font(theme::strong(17.0)));
            ui.label(RichText::new(case.vehicle.about.as_str()).small());
            ui.add_space(8.0);
            ui.label(RichText::new(cx.t("slip-says")).color(cx.look.ink_soft));
            let says = format!("“{}”", case.complaint);
            ui.label(RichText::new(says).size(20.0).italics());
            ui.add_space(8.0);
            sheet::conditions(ui, cx, case);
        });
        ui.add_space(8.0);
        widgets::subheading(ui, &cx.t("cautions-title"));
        for key in CAUTIONS {
            ui.horizontal_top(|ui| {
                ui.label(RichText::new("▲").color(cx.look.care));
                ui.add(crate::egui::Label::new(cx.t(key)).wrap());
            });
        }
        ui.add_space(10.0);
        ui.horizontal_wrapped(|ui| {
            let go = widgets::main_button(ui, cx, &cx.t("slip-go"));
            if ui.memory(|m| m.focused().is_none()) {
                go.request_focus();
            }
            if go.clicked() {
                cx.order(Order::Open(Screen::Work));
            }
            if widgets::key_button(ui, &cx.t("back"), None).clicked() {
                cx.order(Order::Leave);
            }
        });
    });
}
