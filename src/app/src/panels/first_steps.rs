//! The card that shows someone new what to try on the bench, and at a car how a job goes. It can be
//! put away for good.

use super::{Cx, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order, first_steps, job_steps};
use crate::egui::{RichText, Ui};

/// Whether there is anything to show.
pub fn wanted(cx: &Cx<'_>, desk: &Desk) -> bool {
    let taught = desk.terms().is_some_and(|terms| !terms.hints);
    let bench = first_steps::steps(desk).is_some();
    !cx.settings.first_steps_done && (bench || !taught)
}

/// Draws it.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    let Some(steps) = first_steps::steps(desk) else {
        return job(ui, cx, desk);
    };
    widgets::subheading(ui, &cx.t("first-title"));
    let key = |act| cx.settings.keys.key(act).symbol_or_name();
    let (tools, clip) = (key(KeyAct::Tools), key(KeyAct::FirstLead));
    let keys = [("tools", tools.into()), ("clip", clip.into())];
    let lines = steps
        .iter()
        .map(|(step, done)| (cx.text.fill(step.key(), &keys), *done))
        .collect();
    if list(ui, lines) {
        ui.add_space(4.0);
        ui.label(RichText::new(cx.t("first-all")).strong());
    }
    away(ui, cx);
}

/// How a job goes: the same for every complaint.
fn job(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    widgets::subheading(ui, &cx.t("job-title"));
    let key = |act| cx.settings.keys.key(act).symbol_or_name();
    let keys = [
        ("seat", key(KeyAct::GoSeat).into()),
        ("bay", key(KeyAct::GoBay).into()),
        ("tools", key(KeyAct::Tools).into()),
    ];
    let lines = job_steps::parts(desk)
        .iter()
        .map(|(part, begun)| (cx.text.fill(part.key(), &keys), *begun))
        .collect();
    list(ui, lines);
    away(ui, cx);
}

/// Draws lines with what is done ticked and the next one marked; true when all are done.
fn list(ui: &mut Ui, lines: Vec<(String, bool)>) -> bool {
    let next = lines.iter().position(|(_, done)| !done);
    for (at, (words, done)) in lines.into_iter().enumerate() {
        let words = match (done, next == Some(at)) {
            (true, _) => RichText::new(format!("✔ {words}")).weak(),
            (false, true) => RichText::new(format!("▶ {words}")).strong(),
            (false, false) => RichText::new(format!("•  {words}")),
        };
        ui.label(words);
    }
    next.is_none()
}

fn away(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.add_space(4.0);
    if widgets::key_button(ui, &cx.t("first-away"), None).clicked() {
        let mut settings = cx.settings.clone();
        settings.first_steps_done = true;
        cx.order(Order::Settings(Box::new(settings)));
    }
}
