//! The tool roll spread out as a list: for those who take a tool by key or cannot see the scene.

use super::{Cx, say, tag, widgets};
use crate::desk::{Desk, Order};
use crate::egui::{self, Key, RichText, Ui};
use crate::look::theme;

/// Draws the roll's list, at most so high. True when it is to be closed.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, height: f32) -> bool {
    theme::on_steel(ui, cx.look);
    let mut close = false;
    widgets::headed(ui, &cx.t("roll"), false, |ui| {
        close = widgets::key_button(ui, &cx.t("close"), Some("Esc")).clicked();
    });
    let how = cx.t("roll-how");
    ui.label(RichText::new(how).small().color(cx.look.on_steel_soft));
    let tools = &desk.session().case().scenario.tools;
    let list = egui::ScrollArea::vertical()
        .auto_shrink([false, true])
        .max_height((height - 80.0).max(80.0))
        .min_scrolled_height((height - 80.0).max(80.0));
    list.show(ui, |ui| {
        ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
            for (i, tool) in tools.iter().enumerate() {
                let key = (i < 9).then(|| (i + 1).to_string());
                let mut name = say::tool(cx, *tool);
                if desk.view().leads.get(tool).is_some_and(|l| !l.is_empty()) {
                    name = cx.text.fill("roll-connected", &[("tool", (&name).into())]);
                }
                let response = widgets::key_button(ui, &name, key.as_deref());
                let by_key = tag::DIGITS
                    .get(i)
                    .is_some_and(|key| widgets::pressed(ui, *key));
                if response.clicked() || by_key {
                    cx.order(Order::Take(Some(*tool)));
                    close = true;
                }
            }
        });
    });
    close || widgets::pressed(ui, Key::Escape)
}
