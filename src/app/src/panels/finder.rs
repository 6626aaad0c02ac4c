//! Finding a thing of the car by its name.

use super::{Cx, names, widgets};
use crate::desk::thing::{self, Thing};
use crate::desk::{Desk, Order};
use crate::egui::{self, Key, ScrollArea, Ui};
use crate::look::theme;

/// All things of the car whose name holds all words of `wanted`, those at this station first.
pub fn matching(cx: &Cx<'_>, desk: &Desk, wanted: &str) -> Vec<(Thing, String)> {
    let session = desk.session();
    let vehicle = &session.case().vehicle;
    let here = desk.view().station;
    let mut stations = vec![here];
    for s in [
        tracebay_core::vehicle::Station::Seat,
        tracebay_core::vehicle::Station::Bay,
        tracebay_core::vehicle::Station::Box,
        tracebay_core::vehicle::Station::Bench,
    ] {
        if s != here {
            stations.push(s);
        }
    }
    let words: Vec<String> = wanted.split_whitespace().map(str::to_lowercase).collect();
    stations
        .into_iter()
        .flat_map(|s| thing::within_reach(vehicle, s))
        .map(|t| {
            let name = names::thing(cx.text, session, desk.view(), &t);
            (t, name)
        })
        .filter(|(_, name)| {
            let name = name.to_lowercase();
            words.iter().all(|w| name.contains(w.as_str()))
        })
        .collect()
}

/// A finder that is open.
#[derive(Clone, Debug, Default)]
pub struct Finder {
    /// What is looked for.
    pub wanted: String,
    /// It was shown before; the first time it takes the focus.
    shown: bool,
}

/// Draws the finder. True when it is to be closed.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, finder: &mut Finder) -> bool {
    theme::on_steel(ui, cx.look);
    let wanted = &mut finder.wanted;
    let field = widgets::field(ui, &cx.t("find"), wanted, 1, 60);
    if !finder.shown {
        finder.shown = true;
        field.request_focus();
    }
    let enter = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let mut chosen = None;
    ScrollArea::vertical().max_height(260.0).show(ui, |ui| {
        ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
            let list = matching(cx, desk, wanted);
            if list.is_empty() {
                ui.label(cx.t("find-nothing"));
            }
            for (i, (thing, name)) in list.into_iter().enumerate().take(40) {
                let clicked = widgets::key_button(ui, &name, None).clicked();
                if clicked || (enter && i == 0) {
                    chosen = Some(thing);
                }
            }
        });
    });
    if let Some(thing) = chosen {
        cx.order(Order::Focus(Some(thing.id().to_owned())));
        wanted.clear();
        return true;
    }
    ui.input(|i| i.key_pressed(Key::Escape))
}
