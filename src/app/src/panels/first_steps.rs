//! The card that shows someone new to the bench what to try. It can be put away for good.

use super::{Cx, widgets};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order, first_steps};
use crate::egui::{RichText, Ui};

/// Whether there is anything to show.
pub fn wanted(cx: &Cx<'_>, desk: &Desk) -> bool {
    !cx.settings.first_steps_done && first_steps::steps(desk).is_some()
}

/// Draws it.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk) {
    let Some(steps) = first_steps::steps(desk) else {
        return;
    };
    widgets::subheading(ui, &cx.t("first-title"));
    let key = |act| cx.settings.keys.key(act).symbol_or_name();
    let (tools, clip) = (key(KeyAct::Tools), key(KeyAct::FirstLead));
    let keys = [("tools", tools.into()), ("clip", clip.into())];
    let next = steps.iter().position(|(_, done)| !done);
    for (at, (step, done)) in steps.iter().enumerate() {
        let words = cx.text.fill(step.key(), &keys);
        let words = match (done, next == Some(at)) {
            (true, _) => RichText::new(format!("✔ {words}")).weak(),
            (false, true) => RichText::new(format!("▶ {words}")).strong(),
            (false, false) => RichText::new(format!("•  {words}")),
        };
        ui.label(words);
    }
    if next.is_none() {
        ui.add_space(4.0);
        ui.label(RichText::new(cx.t("first-all")).strong());
    }
    ui.add_space(4.0);
    if widgets::key_button(ui, &cx.t("first-away"), None).clicked() {
        let mut settings = cx.settings.clone();
        settings.first_steps_done = true;
        cx.order(Order::Settings(Box::new(settings)));
    }
}
