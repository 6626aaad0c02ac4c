//! A case's card in the list, and the chosen case in full. Neither says more of what is behind the
//! complaint than the customer does.

use tracebay_core::scenario::{MAX_SEED, Scenario};

use super::{Choosing, Shelves, soft};
use crate::desk::Order;
use crate::egui::{self, Align, Layout, RichText, Ui, vec2};
use crate::look::theme;
use crate::panels::{Cx, say, widgets};
use crate::screens::{RecentAttempt, first_case, recent_list};

/// Least width of a card, points.
const CARD: f32 = 214.0;
/// Its height, points.
const HIGH: f32 = 76.0;

/// Levels as filled and empty dots.
fn dots(level: u8) -> String {
    let level = usize::from(level.min(5));
    format!("{}{}", "●".repeat(level), "○".repeat(5 - level))
}

/// Cards in as many columns as there is room for. With `inline` the chosen case opens below its row.
pub fn grid(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &Shelves<'_>,
    list: &[Scenario],
    choosing: &mut Choosing,
    inline: bool,
) {
    let gap = 8.0;
    let n = ((ui.available_width() + gap) / (CARD + gap))
        .floor()
        .max(1.0) as usize;
    let width = (ui.available_width() - gap * (n as f32 - 1.0)) / n as f32;
    for row in list.chunks(n) {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for scenario in row {
                if small(ui, cx, shelves, scenario, choosing, width) {
                    choosing.scenario = Some(scenario.id.clone());
                    choosing.to_begin = true;
                }
            }
        });
        let open = row
            .iter()
            .find(|s| choosing.scenario.as_ref() == Some(&s.id));
        if inline && let Some(scenario) = open {
            theme::card_frame(cx.look).show(ui, |ui| {
                ui.set_width(ui.available_width());
                in_full(ui, cx, shelves, scenario, choosing);
            });
        }
    }
}

/// A card; true when it was pressed.
fn small(
    ui: &mut Ui,
    cx: &Cx<'_>,
    shelves: &Shelves<'_>,
    scenario: &Scenario,
    choosing: &Choosing,
    width: f32,
) -> bool {
    let on = choosing.scenario.as_deref() == Some(scenario.id.as_str());
    let car = shelves.car(scenario);
    let level = f64::from(scenario.difficulty);
    let level = cx.text.fill("choose-level", &[("level", level.into())]);
    let minutes = minutes(cx, scenario);
    let tried = shelves.tried(&scenario.id);
    let mut job = egui::text::LayoutJob::default();
    let mut line = |words: &str, font, colour| {
        let format = egui::TextFormat {
            font_id: font,
            color: colour,
            ..Default::default()
        };
        job.append(words, 0.0, format);
    };
    line(&scenario.title, theme::strong(16.5), cx.look.ink);
    line(&format!("\n{car}\n"), theme::narrow(14.0), cx.look.ink_soft);
    line(
        &dots(scenario.difficulty),
        egui::FontId::proportional(12.0),
        cx.look.chosen,
    );
    line(
        &format!("  {minutes}"),
        theme::narrow(14.0),
        cx.look.ink_soft,
    );
    if tried > 0 {
        line(&format!("  ✔ {tried}×"), theme::narrow(14.0), cx.look.good);
    }
    let edge = if on {
        egui::Stroke::new(2.5, cx.look.chosen)
    } else {
        egui::Stroke::new(1.0, cx.look.rule)
    };
    let button = egui::Button::new(job)
        .fill(if on { cx.look.card } else { cx.look.field })
        .stroke(edge)
        .corner_radius(2)
        .wrap()
        .min_size(vec2(width, HIGH));
    let layout = Layout::top_down_justified(Align::Min);
    let shown = ui.allocate_ui_with_layout(vec2(width, HIGH), layout, |ui| ui.add(button));
    let response = shown.inner;
    response.widget_info(|| {
        egui::WidgetInfo::selected(egui::WidgetType::Button, true, on, &scenario.title)
    });
    let mut more = format!("{car}, {level}, {minutes}");
    if tried > 0 {
        let gap = [("n", (tried as f64).into())];
        more = format!("{more}, {}", cx.text.fill("choose-tried", &gap));
    }
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_description(more);
        node.set_selected(on);
    });
    widgets::ring(ui, &response, cx.look.chosen);
    response.clicked()
}

fn minutes(cx: &Cx<'_>, scenario: &Scenario) -> String {
    let minutes = [("minutes", scenario.budget_minutes.round().into())];
    cx.text.fill("state-minutes", &minutes)
}

/// The chosen case: what one needs to know to take it.
pub fn in_full(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &Shelves<'_>,
    scenario: &Scenario,
    choosing: &mut Choosing,
) {
    widgets::heading(ui, &scenario.title);
    ui.label(RichText::new(shelves.car(scenario)).font(theme::strong(15.5)));
    if let Some(vehicle) = shelves.catalogue.vehicles.get(&scenario.vehicle) {
        ui.label(soft(cx, vehicle.about.to_string()));
    }
    ui.add_space(6.0);
    begin(ui, cx, scenario, choosing);
    ui.add_space(6.0);
    ui.separator();
    let level = f64::from(scenario.difficulty);
    let level = cx.text.fill("choose-level", &[("level", level.into())]);
    let level = format!("{}  {level}", dots(scenario.difficulty));
    let budget = [("minutes", scenario.budget_minutes.round().into())];
    let causes = [("n", (scenario.candidates.len() as f64).into())];
    for words in [
        level,
        cx.text.fill("slip-budget", &budget),
        cx.text.fill("choose-causes", &causes),
    ] {
        ui.label(words);
    }
    ui.add_space(4.0);
    widgets::subheading(ui, &cx.t("choose-practise"));
    let area = shelves.area(scenario).key();
    ui.label(cx.t(&format!("{area}-learn")));
    ui.add_space(4.0);
    widgets::subheading(ui, &cx.t("choose-tools"));
    let tools: Vec<String> = scenario.tools.iter().map(|t| say::tool(cx, *t)).collect();
    ui.label(soft(cx, tools.join(" · ")));
    let own: Vec<RecentAttempt> = shelves
        .recent
        .iter()
        .filter(|r| r.scenario == scenario.id)
        .cloned()
        .collect();
    if !own.is_empty() {
        ui.add_space(6.0);
        widgets::subheading(ui, &cx.t("choose-own"));
        recent_list(ui, cx, &own, 6, false);
    }
}

/// Seed and the button that begins.
fn begin(ui: &mut Ui, cx: &mut Cx<'_>, scenario: &Scenario, choosing: &mut Choosing) {
    let seed = choosing.seed.trim();
    let parsed = seed.parse::<u64>().ok().filter(|n| *n <= MAX_SEED);
    let bad = !seed.is_empty() && parsed.is_none();
    ui.horizontal_wrapped(|ui| {
        ui.add_enabled_ui(!bad, |ui| {
            let button = widgets::main_button(ui, cx, &cx.t("choose-begin"));
            if std::mem::take(&mut choosing.to_begin) {
                button.request_focus();
            }
            if button.clicked() {
                cx.order(Order::Begin {
                    scenario: scenario.id.clone(),
                    seed: parsed,
                });
            }
        });
        let label = ui.label(cx.t("choose-seed"));
        ui.add(
            egui::TextEdit::singleline(&mut choosing.seed)
                .desired_width(90.0)
                .char_limit(20)
                .hint_text(cx.t("choose-seed-any")),
        )
        .labelled_by(label.id);
    });
    if bad {
        let most = MAX_SEED.to_string();
        let words = cx.text.fill("choose-seed-bad", &[("most", (&most).into())]);
        ui.label(RichText::new(format!("⚠ {words}")).color(cx.look.bad));
    } else {
        ui.label(soft(cx, cx.t("choose-seed-how")));
    }
}

/// With nothing chosen: how to begin, and what was left off last.
pub fn nothing_chosen(ui: &mut Ui, cx: &mut Cx<'_>, shelves: &Shelves<'_>) {
    ui.label(cx.t("choose-how"));
    ui.add_space(8.0);
    if shelves.recent.is_empty() {
        if let Some(id) = first_case(shelves.catalogue)
            && widgets::main_button(ui, cx, &cx.t("title-first")).clicked()
        {
            cx.order(Order::Begin {
                scenario: id,
                seed: Some(1),
            });
        }
        return;
    }
    widgets::subheading(ui, &cx.t("recent-title"));
    recent_list(ui, cx, shelves.recent, 8, false);
}
