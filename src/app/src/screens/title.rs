//! The first screen.

use tracebay_grading::assign::Next;

use super::{RecentAttempt, recent_list, sheet_of_paper};
use crate::assigned::{Card, Row};
use crate::desk::{Order, Screen};
use crate::egui::{RichText, Ui};
use crate::look::theme;
use crate::panels::{Cx, widgets};
use crate::platform;

/// Draws it.
///
/// `assigned` is the open assignment, with what is being written to say who works on it.
pub fn show(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    first_case: Option<&str>,
    recent: &[RecentAttempt],
    assigned: Option<(&Card, &mut String)>,
) {
    sheet_of_paper(ui, cx, 1120.0, |ui, cx| {
        if ui.available_width() < WIDE {
            begin(ui, cx, first_case, recent);
            ui.add_space(10.0);
            work(ui, cx, recent, assigned);
        } else {
            widgets::two_columns(
                ui,
                cx,
                |ui, cx| {
                    begin(ui, cx, first_case, recent);
                    how(ui, cx);
                },
                |ui, cx| {
                    ui.add_space(8.0);
                    work(ui, cx, recent, assigned);
                },
            );
        }
        ui.add_space(10.0);
        ui.separator();
        ui.label(RichText::new(cx.t("title-invented")).small());
        ui.label(
            RichText::new(cx.t("title-caution"))
                .small()
                .color(cx.look.care),
        );
    });
}

/// From this width on there are two columns, points.
const WIDE: f32 = 820.0;

/// Name, and the buttons to begin with.
fn begin(ui: &mut Ui, cx: &mut Cx<'_>, first_case: Option<&str>, recent: &[RecentAttempt]) {
    ui.add_space(8.0);
    ui.label(RichText::new(cx.t("title-name")).font(theme::strong(52.0)));
    ui.label(RichText::new(cx.t("title-line")).size(19.0));
    ui.add_space(14.0);
    ui.horizontal_wrapped(|ui| {
        let choose = widgets::main_button(ui, cx, &cx.t("title-choose"));
        if ui.memory(|m| m.focused().is_none()) {
            choose.request_focus();
        }
        if choose.clicked() {
            cx.order(Order::Open(Screen::Choose));
        }
        if let Some(id) = first_case
            && recent.is_empty()
            && widgets::key_button(ui, &cx.t("title-first"), None).clicked()
        {
            cx.order(Order::Begin {
                scenario: id.to_owned(),
                seed: Some(1),
            });
        }
        if widgets::key_button(ui, &cx.t("title-settings"), None).clicked() {
            cx.order(Order::Open(Screen::Settings));
        }
        if !platform::IN_A_PAGE && widgets::key_button(ui, &cx.t("title-quit"), None).clicked() {
            cx.order(Order::Quit);
        }
    });
}

/// What one does here, in three lines.
fn how(ui: &mut Ui, cx: &Cx<'_>) {
    ui.add_space(24.0);
    for (i, key) in ["title-how-1", "title-how-2", "title-how-3"]
        .iter()
        .enumerate()
    {
        ui.horizontal_top(|ui| {
            let number = (i + 1).to_string();
            ui.label(
                RichText::new(number)
                    .font(theme::strong(22.0))
                    .color(cx.look.chosen),
            );
            ui.add(crate::egui::Label::new(RichText::new(cx.t(key)).size(16.5)).wrap());
        });
        ui.add_space(8.0);
    }
    ui.add_space(14.0);
}

/// Work that waits: an assignment, and what was left off.
fn work(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    recent: &[RecentAttempt],
    assigned: Option<(&Card, &mut String)>,
) {
    if !recent.is_empty() {
        widgets::subheading(ui, &cx.t("recent-title"));
        recent_list(ui, cx, recent, 5, false);
        ui.add_space(10.0);
    }
    match assigned {
        Some((card, id)) => assignment(ui, cx, card, id),
        None => {
            theme::card_frame(cx.look).show(ui, |ui| {
                ui.set_width(ui.available_width());
                widgets::subheading(ui, &cx.t("title-assigned"));
                ui.label(cx.t("title-drop"));
                if platform::IN_A_PAGE
                    && widgets::key_button(ui, &cx.t("title-choose-file"), None).clicked()
                {
                    cx.order(Order::ChooseFile);
                }
            });
        }
    }
}

/// The open assignment: its rules, who works, and its cases.
pub fn assignment(ui: &mut Ui, cx: &mut Cx<'_>, card: &Card, id: &mut String) {
    theme::card_frame(cx.look).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let title = cx
            .text
            .fill("assigned-title", &[("title", (&card.title).into())]);
        widgets::subheading(ui, &title);
        if let Some(due) = &card.due {
            let key = if card.late {
                "assigned-late"
            } else {
                "assigned-due"
            };
            let words = cx.text.fill(key, &[("due", due.into())]);
            let colour = if card.late { cx.look.bad } else { cx.look.ink };
            ui.label(RichText::new(words).color(colour));
        }
        let most = [("most", f64::from(card.most).into())];
        ui.label(cx.text.fill("assigned-rules", &most));
        let hints = if card.hints {
            "assigned-hints-on"
        } else {
            "assigned-no-hints"
        };
        ui.label(cx.t(hints));
        if let Some(opens) = &card.opens {
            ui.label(
                cx.text
                    .fill("assigned-not-open", &[("opens", opens.into())]),
            );
            return;
        }
        let Some(name) = &card.who else {
            ui.horizontal_wrapped(|ui| {
                let label = ui.label(cx.t("assigned-who-field"));
                ui.add(
                    crate::egui::TextEdit::singleline(id)
                        .desired_width(140.0)
                        .char_limit(64),
                )
                .labelled_by(label.id);
                if widgets::main_button(ui, cx, &cx.t("assigned-who-say")).clicked() {
                    cx.order(Order::Identify(id.trim().to_owned()));
                }
            });
            return;
        };
        ui.label(cx.text.fill("assigned-worker", &[("name", name.into())]));
        for (index, row) in card.tasks.iter().enumerate() {
            ui.separator();
            task(ui, cx, card, index, row);
        }
    });
}

fn task(ui: &mut Ui, cx: &mut Cx<'_>, card: &Card, index: usize, row: &Row) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&row.title).font(theme::strong(17.0)));
        let over = [("over", (row.handed_back as f64).into())];
        let over = cx.text.fill("assigned-over", &over);
        ui.label(RichText::new(over).color(cx.look.ink_soft));
    });
    let tools: Vec<String> = row.tools.iter().map(|t| cx.text.words.value(*t)).collect();
    let tools = tools.join(", ");
    let tools = cx
        .text
        .fill("assigned-tools", &[("tools", (&tools).into())]);
    ui.label(RichText::new(tools).font(theme::narrow(15.0)));
    let label = match &row.next {
        Next::NoneLeft => {
            ui.label(cx.t("assigned-used"));
            return;
        }
        Next::GoOn { .. } => cx.t("assigned-go-on"),
        Next::Begin { number, .. } => cx.text.fill(
            "assigned-begin",
            &[
                ("n", (*number as f64).into()),
                ("most", f64::from(card.most).into()),
            ],
        ),
    };
    if let Next::Begin { seen: true, .. } = row.next {
        ui.label(RichText::new(cx.t("assigned-seen")).color(cx.look.care));
    }
    if widgets::main_button(ui, cx, &label).clicked() {
        cx.order(Order::Task(index));
    }
}
