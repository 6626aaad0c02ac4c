//! The points of the thing one has turned to, with what the tool in hand can do at each.

use tracebay_core::session::{Action, PointInfo, PointKind, Session};
use tracebay_core::tools::ToolKind;

use super::{Cx, names, say, socket, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::socket::Side;
use crate::desk::thing::Thing;
use crate::desk::{Desk, Order};
use crate::egui::{self, RichText, Ui};
use crate::look::theme;

/// The points worth showing now: blades only while the relay or fuse is out, cavities likewise
/// or through the breakout; the rest always, so that a refusal can say why not.
pub fn shown<'a>(desk: &'a Desk, thing: &Thing) -> Vec<&'a PointInfo> {
    let view = desk.view();
    let id = thing.id();
    let out = view.pulled.contains(id);
    let breakout = view.breakout.as_deref() == Some(id);
    let session: &Session = desk.session();
    thing
        .points(session)
        .into_iter()
        .filter(|p| match p.kind {
            PointKind::Cavity => out || breakout,
            PointKind::Blade => out,
            _ => true,
        })
        .collect()
}

/// Draws the points of `thing`.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, thing: &Thing) {
    let list = shown(desk, thing);
    if list.is_empty() {
        return;
    }
    ui.add_space(6.0);
    widgets::subheading(ui, &cx.t("points"));
    let session = desk.session();
    let chosen = desk.point.min(list.len() - 1);
    for (kind, side) in [
        (PointKind::Cavity, Side::Socket),
        (PointKind::Blade, Side::Underside),
    ] {
        let of_kind: Vec<_> = list.iter().copied().filter(|p| p.kind == kind).collect();
        if of_kind.len() >= 4 {
            let letter = of_kind
                .iter()
                .position(|p| p.id == list[chosen].id)
                .map(|_| list[chosen].id.as_str());
            if let Some(point) = socket::show(ui, cx, desk, &of_kind, side, letter) {
                cx.order(Order::UsePoint(point));
            }
        }
    }
    let usable = desk.hand.filter(|t| !t.leads().is_empty());
    if usable.is_none() {
        let how = cx.t("points-need-tool");
        ui.label(RichText::new(how).small().color(cx.look.on_steel_soft));
    }
    for (i, info) in list.iter().enumerate() {
        // At a place with several things each point says whose it is.
        let name = match thing {
            Thing::Place(_) => names::point_in_full(cx.text, session, desk.view(), &info.id),
            _ => names::point(cx.text, session, info),
        };
        row(ui, cx, desk, info, &name, (usable, i == chosen));
    }
}

fn row(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    desk: &Desk,
    info: &PointInfo,
    name: &str,
    (tool, chosen): (Option<ToolKind>, bool),
) {
    let here: Vec<String> = desk
        .view()
        .leads
        .iter()
        .flat_map(|(t, leads)| leads.iter().map(move |(l, p)| (*t, *l, p)))
        .filter(|(_, _, p)| **p == info.id)
        .map(|(t, l, _)| format!("{} · {}", say::tool(cx, t), say::lead(cx, l)))
        .collect();
    let frame = egui::Frame::new()
        .inner_margin(egui::Margin::symmetric(6, 3))
        .corner_radius(3)
        .stroke(if chosen {
            egui::Stroke::new(2.0, cx.look.steel_chosen)
        } else {
            egui::Stroke::new(1.0, cx.look.steel)
        });
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_wrapped(|ui| {
            // Not by the frame alone: the chosen one has an arrow before it.
            let arrow = if chosen { "▸ " } else { "" };
            ui.label(RichText::new(format!("{arrow}{name}")).font(theme::narrow(15.0)));
            for lead in &here {
                ui.label(
                    RichText::new(format!("● {lead}"))
                        .small()
                        .color(cx.look.steel_chosen),
                );
            }
        });
        let Some(tool) = tool else { return };
        ui.horizontal_wrapped(|ui| buttons(ui, cx, desk, info, name, tool, chosen));
    });
}

fn buttons(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    desk: &Desk,
    info: &PointInfo,
    name: &str,
    tool: ToolKind,
    chosen: bool,
) {
    let leads = tool.leads();
    let [first, second] = leads else { return };
    let point = || info.id.clone();
    let placed = desk.view().leads.get(&tool).and_then(|l| l.get(first));
    let keys = &cx.settings.keys;
    let mut list = Vec::new();
    let put = |lead| Action::Put {
        tool,
        lead,
        point: point(),
    };
    if placed.is_some() {
        let action = Action::Touch {
            tool,
            point: point(),
        };
        let key = keys.key(KeyAct::Touch).symbol_or_name();
        list.push((cx.t("point-touch"), action, key));
    }
    let gap = [("lead", say::lead(cx, *first))];
    let words = cx.text.fill("point-put", &[("lead", (&gap[0].1).into())]);
    let key = keys.key(KeyAct::FirstLead).symbol_or_name();
    list.push((words, put(*first), key));
    if placed.is_some() {
        let lead = say::lead(cx, *second);
        let words = cx.text.fill("point-leave", &[("lead", (&lead).into())]);
        let key = keys.key(KeyAct::SecondLead).symbol_or_name();
        list.push((words, put(*second), key));
    }
    for (words, action, key) in list {
        let response = widgets::key_button(ui, &words, chosen.then_some(key));
        let full = format!("{words}: {name}");
        response.widget_info(|| {
            egui::WidgetInfo::labeled(egui::WidgetType::Button, true, full.as_str())
        });
        if response.clicked() {
            cx.order(Order::Do(action));
        }
    }
}
