//! A lesson of a course: its idea, its task, the cases that practise it.

use tracebay_core::scenario::Scenario;

use super::{Choosing, Shelves, card, soft};
use crate::egui::Ui;
use crate::look::theme;
use crate::panels::{Cx, widgets};

/// Draws it; `which` names course and lesson.
pub fn show(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &Shelves<'_>,
    choosing: &mut Choosing,
    which: (&str, &str),
    inline: bool,
) {
    let course = shelves.catalogue.courses.get(which.0);
    let lesson = course.and_then(|c| c.lessons.iter().find(|l| l.id == which.1));
    let (Some(course), Some(lesson)) = (course, lesson) else {
        return;
    };
    ui.label(soft(cx, format!("{}: {}", course.title, course.about)));
    widgets::heading(ui, &lesson.title);
    // Lines of a page's length, however wide the window is.
    let width = ui.available_width().min(680.0);
    ui.scope(|ui| {
        ui.set_max_width(width);
        for paragraph in lesson.idea.split("\n\n") {
            ui.label(paragraph.replace('\n', " "));
            ui.add_space(3.0);
        }
        theme::card_frame(cx.look).show(ui, |ui| {
            ui.set_width(ui.available_width());
            widgets::subheading(ui, &cx.t("lesson-task"));
            ui.label(lesson.task.as_str());
            if !lesson.seeds.is_empty() {
                let seeds: Vec<String> = lesson.seeds.iter().map(u64::to_string).collect();
                let seeds = seeds.join(", ");
                let words = cx.text.fill("lesson-seeds", &[("seeds", (&seeds).into())]);
                ui.label(soft(cx, words));
            }
        });
    });
    ui.add_space(6.0);
    let scenarios = &shelves.catalogue.scenarios;
    let list: Vec<Scenario> = lesson
        .scenarios
        .iter()
        .filter_map(|id| scenarios.get(id).map(|s| (**s).clone()))
        .collect();
    card::grid(ui, cx, shelves, &list, choosing, inline);
}
