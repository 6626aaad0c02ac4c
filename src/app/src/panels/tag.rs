//! The tag at the thing one has turned to: its name, what can be done there, its points, and what
//! else is at its place. With nothing turned to it says where one is and how to go on from there.

use super::{Cx, names, points, say, widgets};
use crate::desk::choice::{self, Choice, Verb};
use crate::desk::keys::KeyAct;
use crate::desk::thing::{self, Thing};
use crate::desk::{Desk, Order};
use crate::egui::{self, Key, RichText, ScrollArea, Ui};
use crate::look::theme;

/// Digits that pick a choice.
pub const DIGITS: [Key; 9] = [
    Key::Num1,
    Key::Num2,
    Key::Num3,
    Key::Num4,
    Key::Num5,
    Key::Num6,
    Key::Num7,
    Key::Num8,
    Key::Num9,
];

/// What the tag was asked for beside orders.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Asked {
    /// The list of all that is within reach.
    pub list: bool,
}

/// Draws the tag's content into `ui`, at most `height` points high. It has the digits unless a list
/// that lies over the scene has them.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, height: f32, digits: bool) -> Asked {
    theme::on_steel(ui, cx.look);
    match desk.thing() {
        Some(thing) => {
            at_thing(ui, cx, desk, &thing, height, digits);
            Asked::default()
        }
        None => here(ui, cx, desk),
    }
}

fn at_thing(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, thing: &Thing, height: f32, digits: bool) {
    let session = desk.session();
    let name = names::thing(cx.text, session, desk.view(), thing);
    widgets::headed(ui, &name, false, |ui| {
        if widgets::key_button(ui, &cx.t("tag-away"), Some("Esc")).clicked() {
            cx.order(Order::Focus(None));
        }
    });
    if let Some(place) = thing.place(&session.case().vehicle)
        && place != thing.id()
    {
        let label = names::place(session, place);
        ui.label(RichText::new(label).small().color(cx.look.on_steel_soft));
    }
    ui.add_space(2.0);
    let picked = digits.then(|| digit(ui)).flatten();
    ScrollArea::vertical()
        .id_salt("tag")
        .max_height(height - 60.0)
        // The card remembers how small it once was; the list may grow again all the same.
        .min_scrolled_height(height - 60.0)
        .auto_shrink([false, true])
        .show(ui, |ui| {
            let list = choice::choices(session, desk.view(), desk.hand, thing);
            for (i, choice) in list.iter().enumerate() {
                let key = (i < 9).then(|| (i + 1).to_string());
                if offer(ui, cx, desk, choice, key.as_deref()) || picked == Some(i) {
                    // A refused one is done as well: the session's answer says why not.
                    cx.order(Order::Do(choice.action.clone()));
                }
            }
            if let Thing::Box(id) = thing {
                super::legend::show(ui, cx, desk, id);
            }
            points::show(ui, cx, desk, thing);
            also_here(ui, cx, desk, thing);
        });
}

/// Other things at the same place: what is clicked in the scene is one of them. A box's slots are in
/// its own drawing.
fn also_here(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, thing: &Thing) {
    let session = desk.session();
    let vehicle = &session.case().vehicle;
    let boxed = |t: &Thing| t.slot_box(vehicle).is_some();
    let (Some(place), Some(station)) = (thing.place(vehicle), thing.station(vehicle)) else {
        return;
    };
    let things: Vec<Thing> = thing::within_reach(vehicle, station)
        .into_iter()
        .filter(|t| t.place(vehicle) == Some(place) && !boxed(t))
        .collect();
    let called = names::told_apart(cx.text, session, desk.view(), &things);
    let others: Vec<_> = things
        .iter()
        .zip(called)
        .filter(|(t, _)| t.id() != thing.id())
        .collect();
    if others.is_empty() {
        return;
    }
    ui.add_space(6.0);
    widgets::subheading(ui, &cx.t("tag-also-here"));
    ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
        for (other, name) in others {
            if widgets::key_button(ui, &name, None).clicked() {
                cx.order(Order::Focus(Some(other.id().to_owned())));
            }
        }
    });
}

fn digit(ui: &Ui) -> Option<usize> {
    DIGITS.iter().position(|key| widgets::pressed(ui, *key))
}

fn offer(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, choice: &Choice, key: Option<&str>) -> bool {
    let label = label(cx, choice);
    let response = ui
        .scope(|ui| {
            if choice.refusal.is_some() {
                let soft = cx.look.on_steel_soft;
                ui.visuals_mut().widgets.inactive.weak_bg_fill = cx.look.steel;
                ui.visuals_mut().override_text_color = Some(soft);
            }
            ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
                widgets::key_button(ui, &label, key)
            })
            .inner
        })
        .inner;
    let clicked = response.clicked();
    if let Some(refusal) = &choice.refusal {
        response.on_hover_text(say::refusal(cx, desk, refusal));
    }
    clicked
}

/// Words of a choice.
pub fn label(cx: &Cx<'_>, choice: &Choice) -> String {
    let object = choice.object.as_deref().unwrap_or_default();
    let (key, object) = match choice.verb {
        Verb::Look => ("do-look", String::new()),
        Verb::Inspect => ("do-inspect", String::new()),
        Verb::Listen => ("do-listen", String::new()),
        Verb::Feel => ("do-feel", String::new()),
        Verb::Light => ("do-light", String::new()),
        Verb::Wiggle => ("do-wiggle", String::new()),
        Verb::Spray => ("do-spray", String::new()),
        Verb::Uncover => ("do-uncover", say::cover(cx, object)),
        Verb::Cover => ("do-cover", say::cover(cx, object)),
        Verb::Pull => ("do-pull", String::new()),
        Verb::Fit => ("do-fit", String::new()),
        Verb::FitTurned => ("do-fit-turned", String::new()),
        Verb::FitSpare => ("do-fit-spare", String::new()),
        Verb::Unplug => ("do-unplug", String::new()),
        Verb::Plug => ("do-plug", String::new()),
        Verb::Press => ("do-press", String::new()),
        Verb::Set => ("do-set", say::position(cx, object)),
        Verb::Turn => ("do-set", say::ignition(cx, object)),
        Verb::Sweep => ("do-sweep", String::new()),
        Verb::Breakout => ("do-breakout", String::new()),
        Verb::BreakoutOut => ("do-breakout-out", String::new()),
        Verb::Gauge => ("do-gauge", String::new()),
        Verb::GaugeOff => ("do-gauge-off", String::new()),
        Verb::Thermometer => ("do-thermometer", String::new()),
    };
    cx.text.fill(key, &[("object", (&object).into())])
}

/// Where one is, and what can be done from there.
fn here(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) -> Asked {
    let view = desk.view();
    let key = |act| cx.settings.keys.key(act).symbol_or_name();
    let (find, next, previous) = (key(KeyAct::Find), key(KeyAct::Next), key(KeyAct::Previous));
    let mut asked = Asked::default();
    widgets::subheading(ui, &say::station(cx, view.station));
    let how = cx.text.fill(
        "reach-how",
        &[("next", next.into()), ("previous", previous.into())],
    );
    ui.label(RichText::new(how).small().color(cx.look.on_steel_soft));
    ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
        asked.list = widgets::key_button(ui, &cx.t("reach-open"), Some(find)).clicked();
        if !view.protected {
            let label = cx.t("do-protect");
            if widgets::key_button(ui, &label, None).clicked() {
                cx.order(Order::Do(tracebay_core::session::Action::Protect));
            }
        }
    });
    asked
}
