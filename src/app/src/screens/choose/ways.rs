//! The ways to look for a case: by what it is about, car and level; by course; assigned; one's own.

use super::{Area, Choosing, Shelves, Way, soft};
use crate::egui::{self, Align, Layout, Ui};
use crate::panels::{Cx, widgets};

/// What complaints are about. In a row, if there is little room.
pub fn areas(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &Shelves<'_>,
    choosing: &mut Choosing,
    row: bool,
) {
    let all = shelves.catalogue.scenarios.len();
    let any = choosing.way == Way::All && choosing.area.is_none();
    let mut list = vec![(None, cx.t("area-all"), all)];
    for area in Area::ALL {
        let of_area = shelves.catalogue.scenarios.values();
        let n = of_area.filter(|s| shelves.area(s) == area).count();
        if n > 0 {
            list.push((Some(area), cx.t(area.key()), n));
        }
    }
    lined(ui, row, |ui| {
        for (area, name, n) in list {
            let on = match area {
                None => any,
                Some(_) => choosing.way == Way::All && choosing.area == area,
            };
            if entry(ui, &name, Some(n), on) {
                choosing.area = area;
                choosing.way = Way::All;
            }
        }
    });
}

/// What narrows the list further: level, car, what was tried.
pub fn narrower(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &Shelves<'_>,
    choosing: &mut Choosing,
    row: bool,
) {
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.label(soft(cx, cx.t("choose-by-level")));
        for level in 1..=5u8 {
            let on = choosing.level == Some(level);
            let gap = [("level", f64::from(level).into())];
            let spoken = cx.text.fill("choose-level", &gap);
            let response = ui.add(egui::Button::selectable(on, level.to_string()));
            response.widget_info(|| {
                egui::WidgetInfo::selected(egui::WidgetType::Checkbox, true, on, &spoken)
            });
            if response.clicked() {
                choosing.level = if on { None } else { Some(level) };
                choosing.way = Way::All;
            }
        }
    });
    ui.add_space(2.0);
    lined(ui, row, |ui| {
        if !row {
            ui.label(soft(cx, cx.t("choose-by-car")));
        }
        for (id, vehicle) in &shelves.catalogue.vehicles {
            let cases = shelves.catalogue.scenarios.values();
            let n = cases.filter(|s| &s.vehicle == id).count();
            let on = choosing.car.as_ref() == Some(id);
            if n > 0 && entry(ui, &vehicle.name, Some(n), on) {
                choosing.car = (!on).then(|| id.clone());
                choosing.way = Way::All;
            }
        }
    });
    ui.add_space(2.0);
    if ui
        .checkbox(&mut choosing.fresh, cx.t("choose-fresh"))
        .changed()
    {
        choosing.way = Way::All;
    }
}

/// Courses, assigned work, one's own attempts.
pub fn others(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    shelves: &Shelves<'_>,
    choosing: &mut Choosing,
    row: bool,
) {
    ui.add_space(4.0);
    lined(ui, row, |ui| list_of_others(ui, cx, shelves, choosing));
}

fn list_of_others(ui: &mut Ui, cx: &mut Cx<'_>, shelves: &Shelves<'_>, choosing: &mut Choosing) {
    if let Some((card, _)) = &shelves.assigned {
        let on = choosing.way == Way::Assigned;
        let name = cx
            .text
            .fill("assigned-title", &[("title", (&card.title).into())]);
        if entry(ui, &name, None, on) {
            choosing.way = Way::Assigned;
        }
    }
    if !shelves.recent.is_empty() {
        let on = choosing.way == Way::Attempts;
        if entry(ui, &cx.t("recent-title"), Some(shelves.recent.len()), on) {
            choosing.way = Way::Attempts;
        }
    }
    for course in shelves.catalogue.courses.values() {
        let gap = [("course", (&course.title).into())];
        let title = cx.text.fill("choose-course", &gap);
        ui.add_space(4.0);
        widgets::ragged(ui, |ui| widgets::subheading(ui, &title));
        for (i, lesson) in course.lessons.iter().enumerate() {
            let way = Way::Lesson {
                course: course.id.clone(),
                lesson: lesson.id.clone(),
            };
            let on = choosing.way == way;
            let name = format!("{}. {}", i + 1, lesson.title);
            if entry(ui, &name, None, on) {
                choosing.way = way;
            }
        }
    }
}

fn lined(ui: &mut Ui, row: bool, add: impl FnOnce(&mut Ui)) {
    if row {
        ui.horizontal_wrapped(add);
    } else {
        ui.with_layout(Layout::top_down_justified(Align::Min), |ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            add(ui);
        });
    }
}

/// A line to choose, with how many there are.
fn entry(ui: &mut Ui, name: &str, n: Option<usize>, on: bool) -> bool {
    let mut button = egui::Button::selectable(on, name).wrap();
    if let Some(n) = n {
        let mut n = egui::RichText::new(n.to_string()).small();
        if on {
            n = n.color(ui.visuals().selection.stroke.color);
        }
        button = button.shortcut_text(n);
    }
    let response = ui.add(button);
    response.widget_info(|| {
        egui::WidgetInfo::selected(egui::WidgetType::SelectableLabel, true, on, name)
    });
    response.clicked()
}
