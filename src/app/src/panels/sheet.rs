//! The job sheet: one sheet of paper with four tabs.

use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Observation};

use super::call::{self, Chosen};
use super::{Cx, first_steps, say, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order};
use crate::egui::{self, RichText, ScrollArea, Ui};
use crate::look::theme;

/// Tabs of the sheet.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq)]
pub enum Tab {
    /// What the customer says.
    #[default]
    Complaint,
    /// What was found.
    Findings,
    /// Call and repair.
    Call,
    /// Three lines and the keys back.
    WorkOrder,
}

/// What is written on the sheet but not yet done.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    /// Tab on top.
    pub tab: Tab,
    /// Line being written.
    pub note: String,
    /// Call being made.
    pub chosen: Chosen,
    /// Complaint, in the learner's words.
    pub complaint: String,
    /// Cause.
    pub cause: String,
    /// Correction.
    pub correction: String,
    /// Handing back was asked for once.
    pub sure: bool,
    /// It was asked for in this moment.
    asked_now: bool,
    /// The wiring diagram was asked for.
    pub ask_diagram: bool,
    /// The keyboard is to go to the tab on top.
    pub take_focus: bool,
}

/// Longest note and longest line of the work order, characters.
const LONGEST: usize = 400;

/// Draws the sheet.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, sheet: &mut Sheet) {
    let names = [
        (Tab::Complaint, cx.t("tab-complaint")),
        (Tab::Findings, cx.t("tab-findings")),
        (Tab::Call, cx.t("tab-call")),
        (Tab::WorkOrder, cx.t("tab-work-order")),
    ];
    let focus = std::mem::take(&mut sheet.take_focus);
    widgets::tabs(ui, cx, &names, &mut sheet.tab, focus);
    ui.add_space(6.0);
    ScrollArea::vertical()
        .id_salt(("sheet", sheet.tab as usize))
        .auto_shrink([false, false])
        .show(ui, |ui| match sheet.tab {
            Tab::Complaint => complaint(ui, cx, desk, sheet),
            Tab::Findings => findings(ui, cx, desk, sheet),
            Tab::Call => call::show(ui, cx, desk, &mut sheet.chosen),
            Tab::WorkOrder => work_order(ui, cx, desk, sheet),
        });
}

fn complaint(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, sheet: &mut Sheet) {
    let case = desk.session().case();
    widgets::heading(ui, &case.scenario.title);
    ui.label(RichText::new(&case.vehicle.name).color(cx.look.ink_soft));
    ui.add_space(2.0);
    theme::card_frame(cx.look)
        .inner_margin(egui::Margin::symmetric(12, 10))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            let says = RichText::new(cx.t("slip-says")).font(theme::narrow(14.0));
            ui.label(says.color(cx.look.ink_soft));
            ui.label(
                RichText::new(format!("“{}”", case.complaint))
                    .size(17.5)
                    .italics(),
            );
            ui.add_space(4.0);
            conditions(ui, cx, case);
        });
    ui.add_space(4.0);
    let key = cx.settings.keys.key(KeyAct::Diagram);
    if widgets::key_button(ui, &cx.t("diagram-open"), Some(key.name())).clicked() {
        sheet.ask_diagram = true;
    }
    ui.separator();
    if first_steps::wanted(cx, desk) {
        first_steps::show(ui, cx, desk);
        ui.separator();
    }
    let room = ui.clip_rect().bottom() - ui.cursor().top();
    if room > ROOM && listed(desk).next().is_some() {
        latest(ui, cx, desk);
        ui.separator();
    }
    if desk.terms().is_some_and(|terms| !terms.hints) {
        ui.label(cx.t("assigned-no-hints"));
        return;
    }
    widgets::subheading(ui, &cx.t("hint-title"));
    ui.label(cx.t("hint-how"));
    ui.horizontal_wrapped(|ui| {
        for level in 1..=3u8 {
            let label = cx
                .text
                .fill("hint-ask", &[("level", f64::from(level).into())]);
            if widgets::key_button(ui, &label, None).clicked() {
                cx.order(Order::Do(Action::Hint(level)));
            }
        }
    });
    for hint in desk.judged.hints(case, desk.log()) {
        ui.add_space(4.0);
        match hint {
            Ok(hint) => ui.label(cx.text.words.hint(case, &hint)),
            Err(why) => ui.label(cx.text.fill("no-score", &[("why", (&why).into())])),
        };
    }
}

/// Height from which the first tab also says what was found last, points.
const ROOM: f32 = 330.0;
/// How many findings, and lines of each.
const LATEST: usize = 5;
const LINES: usize = 4;

/// What was done and showed something or asked for something; waiting alone is no finding.
fn listed(desk: &Desk) -> impl Iterator<Item = (usize, &(Action, Vec<Observation>))> {
    let log = desk.log().iter().enumerate().rev();
    log.filter(|(_, (action, seen))| !(matches!(action, Action::Wait(_)) && seen.is_empty()))
}

/// The last findings under the complaint, so that both can be read together.
fn latest(ui: &mut Ui, cx: &Cx<'_>, desk: &Desk) {
    widgets::subheading(ui, &cx.t("findings-latest"));
    for (number, (action, seen)) in listed(desk).take(LATEST) {
        // What was heard on the way is on the next tab.
        let seen: Vec<Observation> = seen
            .iter()
            .filter(|o| {
                matches!(action, Action::Listen(_)) || !matches!(o, Observation::Heard { .. })
            })
            .take(LINES)
            .cloned()
            .collect();
        entry(ui, cx, desk, number + 1, action, &seen);
    }
}

fn findings(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, sheet: &mut Sheet) {
    let response = widgets::field(ui, &cx.t("note-write"), &mut sheet.note, 1, LONGEST);
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
    let add = widgets::key_button(ui, &cx.t("note-add"), None).clicked();
    if (enter || add) && !sheet.note.trim().is_empty() {
        cx.order(Order::Do(Action::Note(sheet.note.trim().to_owned())));
        sheet.note.clear();
        response.request_focus();
    }
    ui.separator();
    widgets::heading(ui, &cx.t("findings-title"));
    let mut any = false;
    for (number, (action, seen)) in listed(desk) {
        any = true;
        entry(ui, cx, desk, number + 1, action, seen);
    }
    if !any {
        ui.label(RichText::new(cx.t("findings-none")).color(cx.look.ink_soft));
    }
}

fn entry(
    ui: &mut Ui,
    cx: &Cx<'_>,
    desk: &Desk,
    number: usize,
    action: &Action,
    seen: &[Observation],
) {
    ui.horizontal_top(|ui| {
        ui.label(
            RichText::new(number.to_string())
                .font(theme::narrow(13.5))
                .color(cx.look.ink_soft),
        );
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            if let Action::Note(text) = action {
                ui.label(RichText::new(format!("✎ {text}")).color(cx.look.chosen));
                return;
            }
            ui.label(
                RichText::new(say::action(cx, desk, action))
                    .font(theme::narrow(14.5))
                    .color(cx.look.ink_soft),
            );
            for o in seen {
                let words = say::observation(cx, desk, o);
                if !words.is_empty() {
                    ui.label(words);
                }
            }
        });
    });
    ui.painter().hline(
        ui.min_rect().x_range(),
        ui.cursor().top() - 3.0,
        egui::Stroke::new(0.5, cx.look.rule),
    );
}

fn work_order(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, sheet: &mut Sheet) {
    let session = desk.session();
    widgets::heading(ui, &cx.t("order-title"));
    for (target, failure) in &desk.view().calls {
        let failure = say::failure(cx, &session.case().vehicle, target, *failure);
        let target = call::target_words(cx, session, target);
        ui.label(cx.text.fill(
            "order-call",
            &[("target", (&target).into()), ("failure", (&failure).into())],
        ));
    }
    for (target, method) in &desk.view().repairs {
        let target = call::target_words(cx, session, target);
        let method = say::method(cx, *method);
        ui.label(cx.text.fill(
            "order-repair",
            &[("target", (&target).into()), ("method", (&method).into())],
        ));
    }
    ui.label(cx.t("order-how"));
    widgets::field(
        ui,
        &cx.t("order-complaint"),
        &mut sheet.complaint,
        2,
        LONGEST,
    );
    widgets::field(ui, &cx.t("order-cause"), &mut sheet.cause, 2, LONGEST);
    widgets::field(
        ui,
        &cx.t("order-correction"),
        &mut sheet.correction,
        2,
        LONGEST,
    );
    ui.add_space(6.0);
    if !sheet.sure {
        if widgets::main_button(ui, cx, &cx.t("order-hand-back")).clicked() {
            sheet.sure = true;
            sheet.asked_now = true;
        }
        return;
    }
    // Ends the session for good: asked twice, since there is no undo.
    ui.label(cx.t("order-sure"));
    ui.horizontal_wrapped(|ui| {
        if widgets::main_button(ui, cx, &cx.t("order-yes")).clicked() {
            sheet.sure = false;
            cx.order(Order::Do(Action::HandBack {
                complaint: sheet.complaint.trim().to_owned(),
                cause: sheet.cause.trim().to_owned(),
                correction: sheet.correction.trim().to_owned(),
            }));
        }
        let no = widgets::key_button(ui, &cx.t("order-no"), None);
        if std::mem::take(&mut sheet.asked_now) {
            // Pressed twice by mistake, the key must not give the car away.
            no.request_focus();
        }
        if no.clicked() {
            sheet.sure = false;
        }
    });
}

/// The weather and the time that the customer accepts, as a complaint slip has them.
pub fn conditions(ui: &mut Ui, cx: &Cx<'_>, case: &Case) {
    let (value, unit) = cx.settings.temperature.show(case.ambient_c);
    let outside = format!("{value:.0} {unit}");
    let weather = [("temperature", (&outside).into())];
    ui.label(cx.text.fill("slip-weather", &weather));
    if case.rain() {
        ui.label(cx.t("slip-rain"));
    }
    let budget = case.scenario.budget_minutes.round();
    ui.label(cx.text.fill("slip-budget", &[("minutes", budget.into())]));
}
