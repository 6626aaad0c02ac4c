//! The screens. Like the panels they only draw what is and collect orders.

pub mod choose;
pub mod debrief;
pub mod pause;
pub mod settings;
pub mod slip;
pub mod title;
pub mod work;

use crate::desk::Order;
use crate::egui::{self, Align, CentralPanel, Frame, Layout, Margin, RichText, ScrollArea, Ui};
use crate::look::{backdrop, theme};
use crate::panels::{Cx, widgets};
use crate::platform;

/// An attempt in the save folder, for lists.
#[derive(Clone, Debug, PartialEq)]
pub struct RecentAttempt {
    /// Name to open it by.
    pub name: String,
    /// Scenario id.
    pub scenario: String,
    /// Its title, if the scenario is known here.
    pub title: String,
    /// Seed.
    pub seed: u64,
    /// Actions done.
    pub actions: u32,
    /// Job minutes spent.
    pub minutes: f64,
    /// Given back.
    pub done: bool,
}

/// A sheet of paper in the middle of a dim bench, for screens that are one page. What is shorter than
/// the window lies in its middle.
pub fn sheet_of_paper(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    width: f32,
    add: impl FnOnce(&mut Ui, &mut Cx<'_>),
) {
    let bench = Frame::new().inner_margin(Margin::same(0));
    CentralPanel::default().frame(bench).show(ui, |ui| {
        let window = ui.max_rect();
        backdrop::paint(ui.painter(), window, cx.look);
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show(ui, |ui| {
                ui.with_layout(Layout::top_down(Align::Center), |ui| {
                    let room = ui.available_width();
                    let edge: f32 = if room > 700.0 { 28.0 } else { 6.0 };
                    // How high it was when it was last drawn.
                    let id = egui::Id::new("paper");
                    let high = ui.data(|d| d.get_temp::<f32>(id));
                    let free = window.height() - high.unwrap_or(window.height());
                    ui.add_space(edge.max(free * 0.42));
                    let width = width.min(room - 2.0 * edge);
                    let page = ui.allocate_ui_with_layout(
                        egui::vec2(width, 0.0),
                        Layout::top_down(Align::Min),
                        |ui| {
                            Frame::new()
                                .fill(cx.look.paper)
                                .corner_radius(3)
                                .shadow(egui::Shadow {
                                    offset: [0, 6],
                                    blur: 24,
                                    spread: 0,
                                    color: egui::Color32::from_black_alpha(120),
                                })
                                .inner_margin(Margin::symmetric(28, 20))
                                .show(ui, |ui| {
                                    ui.set_width(ui.available_width());
                                    add(ui, cx);
                                });
                        },
                    );
                    let now = page.response.rect.height();
                    if high.is_none_or(|before| (before - now).abs() > 0.5) {
                        ui.data_mut(|d| d.insert_temp(id, now));
                        ui.ctx().request_repaint();
                    }
                    ui.add_space(edge);
                });
            });
    });
}

/// The latest attempts, each to go on with or to look at again. With `care` each can be handed out
/// and forgotten, where there is no folder to do that in.
pub fn recent_list(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    recent: &[RecentAttempt],
    most: usize,
    care: bool,
) {
    for attempt in recent.iter().take(most) {
        ui.horizontal_wrapped(|ui| {
            let words = cx.text.fill(
                "recent-entry",
                &[
                    ("title", (&attempt.title).into()),
                    ("seed", (&attempt.seed.to_string()).into()),
                    ("minutes", attempt.minutes.round().into()),
                ],
            );
            let open = cx.t(if attempt.done {
                "recent-look"
            } else {
                "recent-resume"
            });
            let response = widgets::key_button(ui, &open, None);
            let full = format!("{open}: {words}");
            response.widget_info(|| {
                egui::WidgetInfo::labeled(egui::WidgetType::Button, true, full.as_str())
            });
            if response.clicked() {
                cx.order(Order::Resume(attempt.name.clone()));
            }
            if care && platform::HANDS_OUT_FILES {
                if widgets::key_button(ui, &cx.t("attempt-save-file"), None).clicked() {
                    cx.order(Order::HandOut(attempt.name.clone()));
                }
                forget(ui, cx, &attempt.name);
            }
            ui.label(RichText::new(words).font(theme::narrow(15.0)));
        });
    }
}

/// Forgets an attempt, asked twice: there is no getting it back. The second time the first button is
/// another, so that pressing twice by mistake keeps it.
fn forget(ui: &mut Ui, cx: &mut Cx<'_>, name: &str) {
    let asked = egui::Id::new("forget");
    let sure = ui.data(|d| d.get_temp::<String>(asked)).as_deref() == Some(name);
    if !sure {
        if widgets::key_button(ui, &cx.t("attempt-forget"), None).clicked() {
            ui.data_mut(|d| d.insert_temp(asked, name.to_owned()));
        }
        return;
    }
    let mut done = widgets::key_button(ui, &cx.t("attempt-keep"), None).clicked();
    if widgets::key_button(ui, &cx.t("attempt-forget-sure"), None).clicked() {
        cx.order(Order::Forget(name.to_owned()));
        done = true;
    }
    if done {
        ui.data_mut(|d| d.remove::<String>(asked));
    }
}

/// A strip at the top that says what went wrong. True when it is to be closed.
pub fn trouble(ui: &mut Ui, cx: &Cx<'_>, words: &str) -> bool {
    let mut close = false;
    egui::Panel::top("trouble")
        .frame(
            Frame::new()
                .fill(cx.look.paper_shade)
                .inner_margin(Margin::symmetric(14, 8)),
        )
        .show(ui, |ui| {
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new(format!("⚠ {words}")).color(cx.look.bad));
                close = widgets::key_button(ui, &cx.t("close"), None).clicked();
            });
        });
    close
}

/// The easiest case: where a newcomer begins.
pub fn first_case(catalogue: &tracebay_core::scenario::Catalogue) -> Option<String> {
    catalogue
        .scenarios
        .values()
        .min_by_key(|s| (s.difficulty, &s.id))
        .map(|s| s.id.clone())
}
