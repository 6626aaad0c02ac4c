//! Choosing a case: by car, the easiest first, with a seed if one wants a certain one. A scenario's
//! topic is for instructors: it would tell where to look.

use std::collections::BTreeMap;
use std::sync::Arc;

use tracebay_core::scenario::{Catalogue, MAX_SEED, Scenario};

use super::{RecentAttempt, recent_list, sheet_of_paper};
use crate::desk::{Order, Screen};
use crate::egui::{self, RichText, Ui};
use crate::look::theme;
use crate::panels::{Cx, widgets};
use crate::platform;

/// What is written or chosen here.
#[derive(Clone, Debug, Default)]
pub struct Choosing {
    /// Scenario chosen.
    pub scenario: Option<String>,
    /// Seed as written.
    pub seed: String,
}

/// Draws it.
pub fn show(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    catalogue: &Catalogue,
    recent: &[RecentAttempt],
    choosing: &mut Choosing,
) {
    sheet_of_paper(ui, cx, 820.0, |ui, cx| {
        let title = cx.t("choose-title");
        widgets::headed(ui, &title, true, |ui| {
            if widgets::key_button(ui, &cx.t("back"), None).clicked() {
                cx.order(Order::Open(Screen::Title));
            }
        });
        let mut cars: BTreeMap<&str, Vec<&Arc<Scenario>>> = BTreeMap::new();
        for s in catalogue.scenarios.values() {
            cars.entry(car(catalogue, s)).or_default().push(s);
        }
        if cars.is_empty() {
            ui.label(cx.t("choose-none"));
        }
        for (car, mut list) in cars {
            list.sort_by_key(|s| (s.difficulty, s.id.clone()));
            widgets::subheading(ui, car);
            for scenario in list {
                one(ui, cx, catalogue, scenario, choosing);
            }
            ui.add_space(4.0);
        }
        if !recent.is_empty() {
            ui.separator();
            widgets::subheading(ui, &cx.t("recent-title"));
            let most = if platform::HANDS_OUT_FILES {
                recent.len()
            } else {
                12
            };
            recent_list(ui, cx, recent, most, true);
        }
    });
}

/// The name of a scenario's car.
fn car<'a>(catalogue: &'a Catalogue, scenario: &'a Scenario) -> &'a str {
    let vehicle = catalogue.vehicles.get(&scenario.vehicle);
    vehicle.map_or(scenario.vehicle.as_str(), |v| v.name.as_str())
}

fn one(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    catalogue: &Catalogue,
    scenario: &Scenario,
    choosing: &mut Choosing,
) {
    let on = choosing.scenario.as_deref() == Some(scenario.id.as_str());
    let car = car(catalogue, scenario);
    let mut frame = theme::card_frame(cx.look).inner_margin(egui::Margin::symmetric(12, 8));
    if on {
        frame = frame.stroke(egui::Stroke::new(2.0, cx.look.chosen));
    }
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        let level = f64::from(scenario.difficulty);
        let level = cx.text.fill("choose-level", &[("level", level.into())]);
        let minutes = cx.text.fill(
            "slip-budget",
            &[("minutes", scenario.budget_minutes.round().into())],
        );
        ui.horizontal_wrapped(|ui| {
            let title = RichText::new(&scenario.title).font(theme::strong(17.0));
            if ui.add(egui::Button::selectable(on, title)).clicked() {
                choosing.scenario = if on { None } else { Some(scenario.id.clone()) };
            }
            ui.label(RichText::new(level).color(cx.look.ink_soft));
        });
        ui.label(RichText::new(format!("{car} · {minutes}")).color(cx.look.ink_soft));
        if !on {
            return;
        }
        ui.horizontal_wrapped(|ui| {
            let label = ui.label(cx.t("choose-seed"));
            ui.add(
                egui::TextEdit::singleline(&mut choosing.seed)
                    .desired_width(120.0)
                    .char_limit(20)
                    .hint_text(cx.t("choose-seed-any")),
            )
            .labelled_by(label.id);
            let seed = choosing.seed.trim();
            let parsed = seed.parse::<u64>().ok().filter(|n| *n <= MAX_SEED);
            if !seed.is_empty() && parsed.is_none() {
                let most = MAX_SEED.to_string();
                let words = cx.text.fill("choose-seed-bad", &[("most", (&most).into())]);
                let words = format!("⚠ {words}");
                ui.label(RichText::new(words).color(cx.look.bad));
                return;
            }
            if widgets::main_button(ui, cx, &cx.t("choose-begin")).clicked() {
                cx.order(Order::Begin {
                    scenario: scenario.id.clone(),
                    seed: parsed,
                });
            }
        });
    });
}
