//! The strip along the bottom that always says how things stand: where one is, the car, the tool
//! in hand and where its first lead is, the minutes.

use tracebay_core::vehicle::Role;

use super::{Cx, names, say, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order};
use crate::egui::{self, Align, Layout, Panel, Ui};
use crate::look::theme;

/// What the strip was asked for beside orders.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Asked {
    /// The job sheet is to be shown or put away.
    pub sheet: bool,
}

/// Below this width only what matters most is said, points.
const SHORT: f32 = 900.0;

/// Draws the strip at the bottom of `ui`. `sheet` says whether the job sheet is shown.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, sheet: bool) -> Asked {
    let mut asked = Asked::default();
    Panel::bottom("state-line")
        .frame(
            egui::Frame::new()
                .fill(cx.look.steel)
                .inner_margin(egui::Margin::symmetric(12, 6)),
        )
        .show_separator_line(false)
        .resizable(false)
        .show(ui, |ui| {
            theme::on_steel(ui, cx.look);
            let short = ui.available_width() < SHORT;
            ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
                asked = buttons(ui, cx, desk, sheet);
                // What is left of the width is the facts', on as many lines as they need.
                let room = egui::vec2(ui.available_width() - 8.0, theme::TARGET);
                ui.allocate_ui_with_layout(room, Layout::top_down(Align::Min), |ui| {
                    ui.add_space(4.0);
                    ui.horizontal_wrapped(|ui| facts(ui, cx, desk, short));
                });
            });
        });
    asked
}

fn buttons(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, sheet: bool) -> Asked {
    let mut asked = Asked::default();
    let (key, order) = if desk.paused {
        ("state-run", Order::Pause(false))
    } else {
        ("state-pause", Order::Pause(true))
    };
    let name = cx.settings.keys.key(KeyAct::Pause).name();
    if widgets::key_button(ui, &cx.t(key), Some(name)).clicked() {
        cx.order(order);
    }
    let words = cx.t(if sheet { "sheet-away" } else { "sheet-open" });
    let name = cx.settings.keys.key(KeyAct::Sheet).name();
    asked.sheet = widgets::key_button(ui, &words, Some(name)).clicked();
    asked
}

fn facts(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, short: bool) {
    ui.spacing_mut().item_spacing = egui::vec2(if short { 12.0 } else { 16.0 }, 2.0);
    let view = desk.view();
    let session = desk.session();
    let vehicle = &session.case().vehicle;
    let soft = cx.look.on_steel_soft;
    let plain = cx.look.on_steel;
    let live = cx.look.steel_chosen;
    let mut fact = |name: &str, value: &str, strong: bool| {
        widgets::fact(ui, soft, name, value, if strong { live } else { plain });
    };

    fact(
        &cx.t("state-station"),
        &say::station(cx, view.station),
        false,
    );
    let minutes = cx
        .text
        .fill("state-minutes", &[("minutes", view.minutes.round().into())]);
    fact(&cx.t("state-time"), &minutes, false);
    for (role, key) in [
        (Role::Key, "state-key"),
        (Role::AirConditioning, "state-ac"),
        (Role::Blower, "state-blower"),
    ] {
        let Some((id, control)) = vehicle.controls.iter().find(|(_, c)| c.role == role) else {
            continue;
        };
        let at = view.controls.get(id).map_or("", String::as_str);
        let off = control.positions.first().is_some_and(|p| p == at);
        // In little room what is off goes without saying.
        if !(short && off && role != Role::Key) {
            let at = match role {
                Role::Key => say::ignition(cx, at),
                _ => say::position(cx, at),
            };
            fact(&cx.t(key), &at, !off);
        }
    }
    let engine = if view.engine_running {
        "engine-runs"
    } else {
        "engine-stands"
    };
    fact(&cx.t("state-engine"), &cx.t(engine), view.engine_running);
    let hand = match desk.hand {
        Some(tool) => say::tool(cx, tool),
        None => cx.t("hand-empty"),
    };
    fact(&cx.t("state-hand"), &hand, desk.hand.is_some());
    if let Some(tool) = desk.hand
        && let Some(first) = tool.leads().first()
    {
        let at = view.leads.get(&tool).and_then(|l| l.get(first));
        let place = match at {
            Some(point) => names::point_in_full(cx.text, session, view, point),
            None => cx.t("lead-loose"),
        };
        fact(&say::lead(cx, *first), &place, at.is_some());
    }
    if view.protected {
        fact(&cx.t("state-eyes"), &cx.t("eyes-on"), false);
    }
}
