//! Choosing a case: ways to look for one at the left, the cases in the middle, the chosen one at the
//! right. What a complaint is about is told by the complaint; a scenario's topic is for instructors:
//! it would tell where to look.

mod area;
mod card;
mod lesson;
mod ways;

pub use area::Area;

use std::collections::BTreeMap;

use tracebay_core::scenario::{Catalogue, Scenario};

use super::{RecentAttempt, recent_list, title};
use crate::assigned::Card;
use crate::desk::{Order, Screen};
use crate::egui::{
    self, Align, CentralPanel, Frame, Layout, Margin, Rect, RichText, ScrollArea, Ui, UiBuilder,
    pos2, vec2,
};
use crate::look::theme;
use crate::panels::{Cx, widgets};
use crate::platform;

/// Where one looks for a case.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Way {
    /// Among all of them.
    #[default]
    All,
    /// In a lesson of a course.
    Lesson {
        /// The course.
        course: String,
        /// Its lesson.
        lesson: String,
    },
    /// In the open assignment.
    Assigned,
    /// Among one's own attempts.
    Attempts,
}

/// What is written or chosen here.
#[derive(Clone, Debug, Default)]
pub struct Choosing {
    /// Scenario chosen.
    pub scenario: Option<String>,
    /// Seed as written.
    pub seed: String,
    /// Where one looks.
    pub way: Way,
    /// Words looked for.
    pub wanted: String,
    /// Only complaints about this.
    pub area: Option<Area>,
    /// Only this car, by id.
    pub car: Option<String>,
    /// Only this level.
    pub level: Option<u8>,
    /// Only what was never tried.
    pub fresh: bool,
    /// The keyboard is to go to the button that begins.
    to_begin: bool,
}

/// What the screen draws from.
pub struct Shelves<'a> {
    /// Cars, scenarios, courses.
    pub catalogue: &'a Catalogue,
    /// The latest attempts.
    pub recent: &'a [RecentAttempt],
    /// The open assignment, with what is being written to say who works on it.
    pub assigned: Option<(&'a Card, &'a mut String)>,
}

impl Shelves<'_> {
    /// The name of a scenario's car.
    fn car<'b>(&'b self, scenario: &'b Scenario) -> &'b str {
        let vehicle = self.catalogue.vehicles.get(&scenario.vehicle);
        vehicle.map_or(scenario.vehicle.as_str(), |v| v.name.as_str())
    }

    fn area(&self, scenario: &Scenario) -> Area {
        let vehicle = self.catalogue.vehicles.get(&scenario.vehicle);
        Area::of(scenario, vehicle.map(|v| &**v))
    }

    /// How often a scenario was tried.
    fn tried(&self, scenario: &str) -> usize {
        let tries = self.recent.iter().filter(|r| r.scenario == scenario);
        tries.count()
    }

    /// All scenarios that meet what is asked for, the easiest first.
    fn found(&self, choosing: &Choosing) -> Vec<&Scenario> {
        let words: Vec<String> = choosing
            .wanted
            .split_whitespace()
            .map(str::to_lowercase)
            .collect();
        let mut list: Vec<&Scenario> = self
            .catalogue
            .scenarios
            .values()
            .map(|s| &**s)
            .filter(|s| choosing.area.is_none_or(|a| a == self.area(s)))
            .filter(|s| choosing.car.as_ref().is_none_or(|c| *c == s.vehicle))
            .filter(|s| choosing.level.is_none_or(|l| l == s.difficulty))
            .filter(|s| !choosing.fresh || self.tried(&s.id) == 0)
            .filter(|s| {
                let mut said = format!("{} {}", s.title, self.car(s));
                s.complaints.iter().for_each(|c| said.push_str(c));
                let said = said.to_lowercase();
                words.iter().all(|w| said.contains(w.as_str()))
            })
            .collect();
        list.sort_by_key(|s| (s.difficulty, self.area(s), s.id.clone()));
        list
    }
}

/// From this width on ways, cases and the chosen case lie side by side, points.
const WIDE: f32 = 1000.0;
/// Widest that the paper gets, points.
const PAPER: f32 = 1640.0;
/// Room between columns, points.
const GAP: f32 = 22.0;

/// Draws it.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, shelves: &mut Shelves<'_>, choosing: &mut Choosing) {
    let bench = Frame::new().fill(cx.look.steel);
    CentralPanel::default().frame(bench).show(ui, |ui| {
        let room = ui.available_rect_before_wrap();
        let wide = room.width() >= WIDE;
        let edge = if wide { 20.0 } else { 6.0 };
        let size = vec2(
            (room.width() - 2.0 * edge).min(PAPER),
            room.height() - 2.0 * edge,
        );
        let paper = Rect::from_min_size(
            pos2(room.center().x - size.x / 2.0, room.top() + edge),
            size,
        );
        ui.painter().rect_filled(paper, 3, cx.look.paper);
        let inside = paper.shrink2(if wide {
            vec2(26.0, 16.0)
        } else {
            vec2(12.0, 10.0)
        });
        let top = within(ui, "choose-head", inside, |ui| head(ui, cx, choosing, wide));
        let rest = Rect::from_min_max(pos2(inside.left(), top.bottom() + 10.0), inside.max);
        if wide {
            side_by_side(ui, cx, shelves, choosing, rest);
        } else {
            scrolled(ui, "choose-all", rest, |ui| {
                ways::areas(ui, cx, shelves, choosing, true);
                let more = cx.t("choose-more");
                egui::CollapsingHeader::new(more)
                    .id_salt("choose-more")
                    .show(ui, |ui| {
                        ways::narrower(ui, cx, shelves, choosing, true);
                        ways::others(ui, cx, shelves, choosing, true);
                    });
                ui.separator();
                middle(ui, cx, shelves, choosing, true);
            });
        }
    });
}

/// Title, search and the way back.
fn head(ui: &mut Ui, cx: &mut Cx<'_>, choosing: &mut Choosing, wide: bool) {
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if widgets::key_button(ui, &cx.t("back"), None).clicked() {
                cx.order(Order::Open(Screen::Title));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                widgets::heading(ui, &cx.t("choose-title"));
                ui.add_space(if wide { 24.0 } else { 8.0 });
                let label = ui.label(cx.t("choose-find"));
                let field = egui::TextEdit::singleline(&mut choosing.wanted)
                    .desired_width((ui.available_width() - 16.0).clamp(60.0, 320.0))
                    .char_limit(60)
                    .hint_text(cx.t("choose-find-hint"));
                if ui.add(field).labelled_by(label.id).changed() {
                    choosing.way = Way::All;
                }
            });
        });
    });
}

fn side_by_side(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &mut Shelves<'_>,
    choosing: &mut Choosing,
    rest: Rect,
) {
    let left = (rest.width() * 0.19).clamp(206.0, 270.0);
    let right = (rest.width() * 0.30).clamp(310.0, 440.0);
    let column =
        |from: f32, to: f32| Rect::from_min_max(pos2(from, rest.top()), pos2(to, rest.bottom()));
    let (a, b) = (rest.left() + left, rest.right() - right);
    scrolled(ui, "choose-ways", column(rest.left(), a), |ui| {
        ways::areas(ui, cx, shelves, choosing, false);
        ways::narrower(ui, cx, shelves, choosing, false);
        ui.separator();
        ways::others(ui, cx, shelves, choosing, false);
    });
    scrolled(ui, "choose-list", column(a + GAP, b - GAP), |ui| {
        middle(ui, cx, shelves, choosing, false);
    });
    let chosen = column(b, rest.right());
    ui.painter().vline(
        b - GAP / 2.0,
        rest.y_range(),
        egui::Stroke::new(1.0, cx.look.rule),
    );
    scrolled(ui, "choose-case", chosen, |ui| {
        match chosen_scenario(shelves, choosing) {
            Some(scenario) => card::in_full(ui, cx, shelves, &scenario, choosing),
            None => card::nothing_chosen(ui, cx, shelves),
        }
    });
}

fn chosen_scenario(shelves: &Shelves<'_>, choosing: &Choosing) -> Option<Scenario> {
    let id = choosing.scenario.as_ref()?;
    shelves.catalogue.scenarios.get(id).map(|s| (**s).clone())
}

/// What the way leads to. With `inline` the chosen case opens below its card.
fn middle(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &mut Shelves<'_>,
    choosing: &mut Choosing,
    inline: bool,
) {
    match choosing.way.clone() {
        Way::All => {
            let found: Vec<Scenario> = shelves.found(choosing).into_iter().cloned().collect();
            if shelves.catalogue.scenarios.is_empty() {
                ui.label(cx.t("choose-none"));
            } else if found.is_empty() {
                ui.label(cx.t("choose-none-found"));
            } else if choosing.area.is_none() && choosing.wanted.trim().is_empty() {
                let mut areas: BTreeMap<Area, Vec<Scenario>> = BTreeMap::new();
                for scenario in found {
                    areas
                        .entry(shelves.area(&scenario))
                        .or_default()
                        .push(scenario);
                }
                for (area, list) in areas {
                    widgets::subheading(ui, &cx.t(area.key()));
                    card::grid(ui, cx, shelves, &list, choosing, inline);
                    ui.add_space(6.0);
                }
            } else {
                card::grid(ui, cx, shelves, &found, choosing, inline);
            }
        }
        Way::Lesson { course, lesson } => {
            lesson::show(ui, cx, shelves, choosing, (&course, &lesson), inline);
        }
        Way::Assigned => match &mut shelves.assigned {
            Some((card, id)) => title::assignment(ui, cx, card, id),
            None => {
                ui.label(cx.t("title-drop"));
            }
        },
        Way::Attempts => {
            widgets::heading(ui, &cx.t("recent-title"));
            if shelves.recent.is_empty() {
                ui.label(cx.t("recent-none"));
            }
            let most = if platform::HANDS_OUT_FILES {
                shelves.recent.len()
            } else {
                20
            };
            recent_list(ui, cx, shelves.recent, most, true);
        }
    }
}

/// Draws into a part of the window; returns what was used of it.
fn within(ui: &mut Ui, id: &str, rect: Rect, add: impl FnOnce(&mut Ui)) -> Rect {
    let mut inner = ui.new_child(
        UiBuilder::new()
            .id_salt(id)
            .max_rect(rect)
            .layout(Layout::top_down(Align::Min)),
    );
    add(&mut inner);
    inner.min_rect()
}

/// The same with a scroll bar where it is longer.
fn scrolled(ui: &mut Ui, id: &str, rect: Rect, add: impl FnOnce(&mut Ui)) {
    within(ui, id, rect, |ui| {
        ScrollArea::vertical()
            .id_salt(id)
            .auto_shrink([false, false])
            .show(ui, |ui| {
                // The bar lies beside what it scrolls, never over it.
                Frame::new()
                    .inner_margin(Margin {
                        right: 8,
                        left: 3,
                        top: 3,
                        bottom: 8,
                    })
                    .show(ui, |ui| {
                        ui.set_width(ui.available_width());
                        add(ui);
                    });
            });
    });
}

/// Small print in the colour of less important things.
fn soft(cx: &Cx<'_>, words: String) -> RichText {
    RichText::new(words)
        .font(theme::narrow(14.5))
        .color(cx.look.ink_soft)
}
