//! Choosing what is wrong, or what is to be put right: a thing and a word for it.

use std::collections::BTreeSet;

use tracebay_core::fault::{Failure, Method};
use tracebay_core::session::{Action, Session};
use tracebay_core::vehicle::{Kind, Vehicle};

use super::{Cx, say, widgets};
use crate::desk::{Desk, Order};
use crate::egui::{self, RichText, ScrollArea, Ui};
use crate::look::theme;

/// What is chosen so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chosen {
    /// Words looked for.
    pub wanted: String,
    /// Which kinds of target are listed.
    pub kind: TargetKind,
    /// Target.
    pub target: Option<String>,
    /// What is wrong with it.
    pub failure: Option<Failure>,
    /// How it is put right.
    pub method: Option<Method>,
}

/// Kinds of target.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq)]
pub enum TargetKind {
    /// Parts and how the car is used.
    #[default]
    Part,
    /// Plugs and terminals.
    Joint,
    /// Wires.
    Wire,
    /// The refrigerant.
    Refrigerant,
}

/// What may be named: its id, its words.
pub fn targets(cx: &Cx<'_>, session: &Session, kind: TargetKind) -> Vec<(String, String)> {
    let case = session.case();
    let vehicle = &case.vehicle;
    let suspects = &case.scenario.suspects;
    let listed = |id: &str| suspects.is_empty() || suspects.iter().any(|s| s == id);
    match kind {
        TargetKind::Part => {
            let parts = vehicle
                .parts
                .iter()
                .filter(|(id, p)| listed(id) && !matches!(p.kind, Kind::Splice { .. }))
                .map(|(id, _)| (id.clone(), target_words(cx, session, id)));
            let controls = vehicle.controls.iter().map(|(id, c)| {
                let words = cx
                    .text
                    .fill("target-control", &[("control", (&c.label).into())]);
                (id.clone(), words)
            });
            let places = vehicle
                .places
                .iter()
                .filter(|(id, _)| suspects.iter().any(|s| s == *id))
                .map(|(id, p)| (id.clone(), p.label.to_string()));
            parts.chain(controls).chain(places).collect()
        }
        TargetKind::Joint => {
            let mut list: Vec<_> = vehicle
                .connectors
                .iter()
                .map(|(id, c)| (id.clone(), c.label.to_string()))
                .collect();
            let mut pins = BTreeSet::new();
            for wire in vehicle.wires.values() {
                pins.insert(&wire.from);
                pins.insert(&wire.to);
            }
            list.extend(
                pins.into_iter()
                    .map(|pin| (pin.clone(), pin_words(cx, vehicle, pin))),
            );
            list
        }
        TargetKind::Wire => vehicle
            .wires
            .keys()
            .map(|id| (id.clone(), target_words(cx, session, id)))
            .collect(),
        TargetKind::Refrigerant => {
            vec![("refrigerant".to_owned(), cx.t("target-refrigerant"))]
        }
    }
}

fn pin_words(cx: &Cx<'_>, vehicle: &Vehicle, pin: &str) -> String {
    let (part, name) = pin.split_once('.').unwrap_or((pin, ""));
    let label = say::begin(&cx.text.words.name(vehicle, part));
    cx.text.fill(
        "target-pin",
        &[("part", (&label).into()), ("pin", name.into())],
    )
}

/// Words for any target, to say again what was called.
pub fn target_words(cx: &Cx<'_>, session: &Session, id: &str) -> String {
    let vehicle = &session.case().vehicle;
    if vehicle.wires.contains_key(id) {
        return say::begin(&cx.text.words.wire(vehicle, id));
    }
    if !vehicle.parts.contains_key(id) && id.contains('.') {
        return pin_words(cx, vehicle, id);
    }
    say::begin(&cx.text.words.name(vehicle, id))
}

/// Failures that can be said of a target; which of them it is, is for the learner to find out.
pub fn failures(vehicle: &Vehicle, target: &str) -> Vec<Failure> {
    use Failure::*;
    if target == "refrigerant" {
        return vec![LowCharge];
    }
    if let Some(part) = vehicle.parts.get(target) {
        return match part.kind {
            Kind::Fuse { .. } => vec![Blown, Open, HighResistance, BadTerminal],
            Kind::Relay(_) => vec![
                Coil,
                Contacts,
                StuckOn,
                Diode,
                NotSeated,
                BadTerminal,
                WrongPart,
                WaterIngress,
            ],
            Kind::ClutchCoil { .. } => vec![Coil, Mechanical, Diode, Open, HighResistance],
            Kind::Motor { .. } | Kind::Alternator { .. } => vec![Open, Mechanical, HighResistance],
            Kind::ControlUnit(_) => vec![NoOutput, StuckOn],
            Kind::PressureSensor { .. } | Kind::Thermistor { .. } => {
                vec![ReadingOff, Open, ShortToGround, NotSeated]
            }
            Kind::Switch { .. } | Kind::PressureSwitch { .. } => vec![ReadingOff, Open, StuckOn],
            Kind::GroundStud { .. } | Kind::Inline { .. } | Kind::BusBar { .. } => {
                vec![HighResistance, Open, BadTerminal, WaterIngress]
            }
            _ => vec![Open, HighResistance, ShortToGround, Mechanical, Blocked],
        };
    }
    if vehicle.connectors.contains_key(target) {
        return vec![
            NotSeated,
            BadTerminal,
            HighResistance,
            Open,
            Crossed,
            WaterIngress,
        ];
    }
    if vehicle.wires.contains_key(target) {
        return vec![Open, HighResistance, ShortToGround, ShortToSupply];
    }
    if vehicle.controls.contains_key(target) {
        return vec![Misuse, NoFault];
    }
    if target.contains('.') {
        return vec![Open, HighResistance, BadTerminal, Crossed, WaterIngress];
    }
    vec![Blocked]
}

/// Ways to mend that can be tried on a target.
pub fn methods(vehicle: &Vehicle, target: &str) -> Vec<Method> {
    use Method::*;
    if target == "refrigerant" {
        return vec![Recharge];
    }
    if vehicle.parts.contains_key(target) {
        return vec![Replace, CleanJoint, MendTerminal, Reseat, CleanCondenser];
    }
    if vehicle.connectors.contains_key(target) {
        return vec![Reseat, MendTerminal, CleanJoint, Replace];
    }
    if vehicle.wires.contains_key(target) {
        return vec![MendWire, Replace];
    }
    if vehicle.controls.contains_key(target) {
        return vec![Explain];
    }
    if target.contains('.') {
        return vec![MendTerminal, CleanJoint];
    }
    vec![CleanCondenser]
}

/// Draws the tab.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, chosen: &mut Chosen) {
    let session = desk.session();
    widgets::heading(ui, &cx.t("call-title"));
    ui.label(cx.t("call-how"));
    ui.horizontal_wrapped(|ui| {
        for (kind, key) in [
            (TargetKind::Part, "target-parts"),
            (TargetKind::Joint, "target-joints"),
            (TargetKind::Wire, "target-wires"),
            (TargetKind::Refrigerant, "target-refrigerant"),
        ] {
            if ui.radio(chosen.kind == kind, cx.t(key)).clicked() {
                chosen.kind = kind;
                chosen.target = None;
                chosen.failure = None;
            }
        }
    });
    widgets::field(ui, &cx.t("call-find"), &mut chosen.wanted, 1, 60);
    let words: Vec<String> = chosen
        .wanted
        .split_whitespace()
        .map(str::to_lowercase)
        .collect();
    let list: Vec<_> = targets(cx, session, chosen.kind)
        .into_iter()
        .filter(|(_, name)| {
            let name = name.to_lowercase();
            words.iter().all(|w| name.contains(w.as_str()))
        })
        .collect();
    egui::Frame::new()
        .fill(cx.look.field)
        .stroke(egui::Stroke::new(1.0, cx.look.rule))
        .inner_margin(4.0)
        .show(ui, |ui| {
            ScrollArea::vertical()
                .id_salt("targets")
                .max_height(190.0)
                .auto_shrink([false, false])
                .show(ui, |ui| {
                    if list.is_empty() {
                        ui.label(cx.t("find-nothing"));
                    }
                    ui.with_layout(egui::Layout::top_down_justified(egui::Align::Min), |ui| {
                        for (id, name) in &list {
                            let on = chosen.target.as_ref() == Some(id);
                            let response = ui.add(egui::Button::selectable(on, name).wrap());
                            if response.clicked() {
                                chosen.target = Some(id.clone());
                                chosen.failure = None;
                                chosen.method = None;
                            }
                        }
                    });
                });
        });
    let Some(target) = chosen.target.clone() else {
        ui.label(RichText::new(cx.t("call-choose-first")).color(cx.look.ink_soft));
        return;
    };
    let name = target_words(cx, session, &target);
    widgets::subheading(ui, &name);
    make_call(ui, cx, desk, chosen, &target);
    ui.add_space(8.0);
    mend(ui, cx, desk, chosen, &target);
}

fn make_call(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, chosen: &mut Chosen, target: &str) {
    let label = cx.t("call-failure");
    let vehicle = &desk.session().case().vehicle;
    let list: Vec<_> = failures(vehicle, target)
        .into_iter()
        .map(|f| (f, say::failure(cx, vehicle, target, f)))
        .collect();
    widgets::one_of(ui, "failure", &label, &list, &mut chosen.failure);
    let Some(failure) = chosen.failure else {
        return;
    };
    let cost = desk
        .session()
        .case()
        .vehicle
        .parts
        .get(target)
        .map_or(0.0, |p| p.replace_minutes);
    if cost > 0.0 {
        let warn = cx
            .text
            .fill("call-cost", &[("minutes", cost.round().into())]);
        ui.label(RichText::new(warn).small().color(cx.look.ink_soft));
    }
    if widgets::main_button(ui, cx, &cx.t("call-make")).clicked() {
        cx.order(Order::Do(Action::Call {
            target: target.to_owned(),
            failure,
        }));
    }
}

fn mend(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, chosen: &mut Chosen, target: &str) {
    let label = cx.t("mend-how");
    ui.label(RichText::new(cx.t("mend-title")).font(theme::strong(15.5)));
    let list: Vec<_> = methods(&desk.session().case().vehicle, target)
        .into_iter()
        .map(|m| (m, say::method(cx, m)))
        .collect();
    widgets::one_of(ui, "method", &label, &list, &mut chosen.method);
    let Some(method) = chosen.method else { return };
    if widgets::key_button(ui, &cx.t("mend-do"), None).clicked() {
        cx.order(Order::Do(Action::Repair {
            target: target.to_owned(),
            method,
        }));
    }
}
