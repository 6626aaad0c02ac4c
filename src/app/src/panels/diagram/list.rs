//! Beside the drawing: what is selected and the note on it, the parts and connections of the circuit, and all
//! notes. For those who do not see the drawing this is the diagram.

use tracebay_core::vehicle::Vehicle;
use tracebay_diagram::notes::LONGEST;
use tracebay_diagram::{Mark, Note, Of};

use super::{Diagram, canvas, said};
use crate::desk::{Desk, Order};
use crate::egui::{self, Key, RichText, ScrollArea, Ui, WidgetInfo, WidgetType};
use crate::look::theme;
use crate::panels::{Cx, widgets};

/// Draws it.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, diagram: &mut Diagram) {
    let vehicle = desk.session().case().vehicle.clone();
    ScrollArea::vertical()
        .id_salt("diagram-list")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            match diagram.selected.clone() {
                Some(of) => selected(ui, cx, desk, diagram, &vehicle, &of),
                None => {
                    let how = cx.t("diagram-how");
                    ui.label(RichText::new(how).color(cx.look.ink_soft));
                }
            }
            if !desk.notes.is_empty() {
                widgets::subheading(ui, &cx.t("diagram-notes"));
                let noted: Vec<Of> = desk.notes.all().map(|(_, of, _)| of.clone()).collect();
                for of in noted {
                    row(ui, cx, desk, diagram, &vehicle, of, true);
                }
            }
            widgets::subheading(ui, &cx.t("diagram-parts"));
            let mut parts: Vec<String> = diagram
                .drawing
                .parts()
                .into_iter()
                .map(str::to_owned)
                .collect();
            parts.sort_by_key(|id| tracebay_diagram::in_order(id));
            for of in parts.into_iter().map(Of::Part) {
                row(ui, cx, desk, diagram, &vehicle, of, false);
            }
            widgets::subheading(ui, &cx.t("diagram-wires"));
            let mut wires: Vec<String> = diagram
                .drawing
                .wires()
                .into_iter()
                .map(str::to_owned)
                .collect();
            wires.sort_by_key(|id| tracebay_diagram::in_order(id));
            for of in wires.into_iter().map(Of::Wire) {
                row(ui, cx, desk, diagram, &vehicle, of, false);
            }
        });
}

/// A line to press: what it is, and what was noted on it.
fn row(
    ui: &mut Ui,
    cx: &Cx<'_>,
    desk: &Desk,
    diagram: &mut Diagram,
    vehicle: &Vehicle,
    of: Of,
    note_first: bool,
) {
    let name = said::thing(cx, vehicle, &of);
    let words = match said::note(cx, &desk.notes, &of) {
        Some(note) if note_first => format!("{note} · {name}"),
        Some(note) => format!("{name} · {note}"),
        None => name,
    };
    let on = diagram.selected.as_ref() == Some(&of);
    let text = RichText::new(&words).font(theme::narrow(14.5));
    let response = ui.add(egui::Button::selectable(on, text).wrap());
    response.widget_info(|| WidgetInfo::selected(WidgetType::SelectableLabel, true, on, &words));
    if response.clicked() {
        diagram.bring_up(vehicle, &of);
        if let Some(place) = canvas::place_of(diagram, &of) {
            diagram.view.show_place(place);
        }
        diagram.select(desk, of);
    }
}

/// The note on what is selected.
fn selected(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    desk: &Desk,
    diagram: &mut Diagram,
    vehicle: &Vehicle,
    of: &Of,
) {
    widgets::subheading(ui, &said::thing(cx, vehicle, of));
    let noted = desk.notes.find(of).map(|(_, note)| note.clone());
    let now = noted.as_ref().map(|note| note.mark);
    let mut wanted = None;
    ui.horizontal_wrapped(|ui| {
        for mark in [Mark::Good, Mark::Suspect, Mark::Noted] {
            let on = now == Some(mark);
            let name = said::mark(cx, mark);
            let response = ui.add(egui::Button::selectable(on, name.as_str()));
            response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, on, &name));
            if response.clicked() {
                wanted = Some(mark);
            }
        }
    });
    let label = cx.t("diagram-words");
    let field = widgets::field(ui, &label, &mut diagram.writing, 1, LONGEST);
    let enter = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    ui.horizontal_wrapped(|ui| {
        let write = widgets::key_button(ui, &cx.t("note-add"), None).clicked();
        if write || enter {
            wanted = Some(now.unwrap_or_default());
        }
        if noted.is_some() && widgets::key_button(ui, &cx.t("diagram-unmark"), None).clicked() {
            diagram.writing.clear();
            cx.order(Order::MarkOnDiagram(of.clone(), None));
        }
    });
    if let Some(mark) = wanted {
        let text = diagram.writing.clone();
        cx.order(Order::MarkOnDiagram(of.clone(), Some(Note { mark, text })));
    }
    ui.separator();
}
