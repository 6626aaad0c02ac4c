//! The tag at the thing one has turned to: its name, what can be done there, its points. With
//! nothing turned to it lists what is within reach.

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

/// Draws the tag's content into `ui`, at most `height` points high.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, height: f32) {
    theme::on_steel(ui, cx.look);
    match desk.thing() {
        Some(thing) => at_thing(ui, cx, desk, &thing, height),
        None => within_reach(ui, cx, desk, height),
    }
}

fn at_thing(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, thing: &Thing, height: f32) {
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
    let picked = digit(ui);
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
        Verb::Sweep => ("do-sweep", String::new()),
        Verb::Breakout => ("do-breakout", String::new()),
        Verb::BreakoutOut => ("do-breakout-out", String::new()),
        Verb::Gauge => ("do-gauge", String::new()),
        Verb::GaugeOff => ("do-gauge-off", String::new()),
        Verb::Thermometer => ("do-thermometer", String::new()),
    };
    cx.text.fill(key, &[("object", (&object).into())])
}

fn within_reach(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, height: f32) {
    let session = desk.session();
    let view = desk.view();
    let find = cx.settings.keys.key(KeyAct::Find).symbol_or_name();
    let (next, previous) = (
        cx.settings.keys.key(KeyAct::Next).symbol_or_name(),
        cx.settings.keys.key(KeyAct::Previous).symbol_or_name(),
    );
    let station = say::station(cx, view.station);
    widgets::subheading(ui, &station);
    let how = cx.text.fill(
        "reach-how",
        &[
            ("next", next.into()),
            ("previous", previous.into()),
            ("find", find.into()),
        ],
    );
    ui.label(RichText::new(how).small().color(cx.look.on_steel_soft));
    if !view.protected {
        let label = cx.t("do-protect");
        if widgets::key_button(ui, &label, None).clicked() {
            cx.order(Order::Do(tracebay_core::session::Action::Protect));
        }
    }
    ScrollArea::vertical()
        .id_salt("reach")
        .max_height(height - 70.0)
        .min_scrolled_height(height - 70.0)
        .auto_shrink([false, true])
        .show(ui, |ui| {
            ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
                let things = thing::within_reach(&session.case().vehicle, view.station);
                let called = names::told_apart(cx.text, session, view, &things);
                for (thing, name) in things.iter().zip(called) {
                    if widgets::key_button(ui, &name, None).clicked() {
                        cx.order(Order::Focus(Some(thing.id().to_owned())));
                    }
                }
            });
        });
}
