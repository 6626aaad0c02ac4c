//! The lid's legend as printed inside the lid, and the box as it lies before one. The two may be
//! turned against each other: a notch is drawn at the same corner of the plastic in both.

use tracebay_core::session::Session;
use tracebay_core::vehicle::{FuseBox, Kind};

use super::{Cx, names, widgets};
use crate::desk::thing::Thing;
use crate::desk::{Desk, Order};
use crate::egui::{
    self, Align2, Rect, RichText, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, vec2,
};
use crate::look::theme;

/// Column and row of a part's slot in this case.
pub fn place_in_box(session: &Session, part: &str) -> Option<(u32, u32)> {
    session.case().slots.get(part).copied()
}

/// Draws the box's slots, and the legend once its lid is off.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, desk: &Desk, id: &str) {
    let session = desk.session();
    let Some(fuse_box) = session.case().vehicle.boxes.get(id) else {
        return;
    };
    let cover = session
        .case()
        .vehicle
        .places
        .get(&fuse_box.place)
        .and_then(|p| p.cover.as_ref());
    let open = cover.is_none_or(|c| desk.view().uncovered.contains(c));
    if !open {
        ui.label(RichText::new(cx.t("box-lid-on")).color(cx.look.on_steel_soft));
        return;
    }
    widgets::subheading(ui, &cx.t("box-inside"));
    if let Some(part) = grid(ui, cx, desk, fuse_box, false) {
        cx.order(Order::Focus(Some(part)));
    }
    ui.add_space(6.0);
    widgets::subheading(ui, &cx.t("box-legend"));
    let how = cx.t("box-legend-how");
    ui.label(RichText::new(how).small().color(cx.look.on_steel_soft));
    grid(ui, cx, desk, fuse_box, true);
}

fn grid(ui: &mut Ui, cx: &Cx<'_>, desk: &Desk, fuse_box: &FuseBox, legend: bool) -> Option<String> {
    let (columns, rows) = (fuse_box.grid.0.max(1), fuse_box.grid.1.max(1));
    let width = ui.available_width().min(420.0);
    let cell = vec2(width / columns as f32, 30.0);
    let size = vec2(width, cell.y * rows as f32);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let p = ui.painter().clone();
    let ground = if legend {
        cx.look.paper
    } else {
        egui::Color32::from_rgb(0x14, 0x16, 0x18)
    };
    p.rect(
        rect,
        3,
        ground,
        Stroke::new(1.5, cx.look.steel_rule),
        StrokeKind::Outside,
    );
    // The notch of the plastic: lower left in the box as it lies; in a lid that is printed the
    // other way round it is upper right.
    let turned = legend && fuse_box.legend_turned;
    let notch = if turned {
        rect.right_top()
    } else {
        rect.left_bottom()
    };
    p.circle_filled(notch, 5.0, cx.look.steel_chosen);
    let mut clicked = None;
    for slot in &fuse_box.slots {
        let (mut column, mut row) = place_in_box(desk.session(), &slot.part).unwrap_or(slot.at);
        if turned {
            column = columns - 1 - column.min(columns - 1);
            row = rows - 1 - row.min(rows - 1);
        }
        let at = rect.min + vec2(cell.x * column as f32, cell.y * row as f32);
        let r = Rect::from_min_size(at, cell).shrink(1.5);
        let response = ui.interact(
            r,
            ui.id().with((legend, &slot.part)),
            if legend {
                Sense::hover()
            } else {
                Sense::click()
            },
        );
        if legend {
            label(&p, cx, r, &slot.legend);
            let spoken = cx.text.fill(
                "legend-entry",
                &[
                    ("row", f64::from(row + 1).into()),
                    ("column", f64::from(column + 1).into()),
                    ("legend", (&slot.legend).into()),
                ],
            );
            response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &spoken));
            continue;
        }
        let thing = Thing::Part(slot.part.clone());
        let name = names::thing(cx.text, desk.session(), desk.view(), &thing);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &name));
        draw_slot(&p, cx, desk, &slot.part, r);
        if response.hovered() || response.has_focus() {
            p.rect_stroke(
                r,
                2,
                Stroke::new(2.0, cx.look.steel_chosen),
                StrokeKind::Inside,
            );
        }
        if response.clicked() {
            clicked = Some(slot.part.clone());
        }
        response.on_hover_text(name);
    }
    clicked
}

fn label(p: &egui::Painter, cx: &Cx<'_>, r: Rect, text: &str) {
    p.rect_stroke(r, 1, Stroke::new(1.0, cx.look.rule), StrokeKind::Inside);
    let mut size = 12.5;
    let mut galley = p.layout_no_wrap(text.to_owned(), theme::narrow(size), cx.look.ink);
    while galley.size().x > r.width() - 3.0 && size > 7.0 {
        size -= 0.5;
        galley = p.layout_no_wrap(text.to_owned(), theme::narrow(size), cx.look.ink);
    }
    p.galley(r.center() - galley.size() / 2.0, galley, cx.look.ink);
}

fn draw_slot(p: &egui::Painter, cx: &Cx<'_>, desk: &Desk, part: &str, r: Rect) {
    let vehicle = &desk.session().case().vehicle;
    let out = desk.view().pulled.contains(part);
    let kind = vehicle.parts.get(part).map(|p| &p.kind);
    let (fill, text) = match kind {
        Some(Kind::Fuse { amps, .. }) => (fuse_colour(*amps), format!("{amps:.0}")),
        _ => (egui::Color32::from_rgb(0x3A, 0x3D, 0x40), String::new()),
    };
    let body = r.shrink(2.0);
    if out {
        p.rect_stroke(
            body,
            2,
            Stroke::new(1.0, cx.look.on_steel_soft),
            StrokeKind::Inside,
        );
        return;
    }
    p.rect_filled(body, 2, fill);
    if !text.is_empty() {
        let dark = crate::look::palette::contrast(fill, cx.look.ink)
            >= crate::look::palette::contrast(fill, cx.look.on_steel);
        let ink = if dark { cx.look.ink } else { cx.look.on_steel };
        p.text(
            body.center(),
            Align2::CENTER_CENTER,
            text,
            theme::strong(13.0),
            ink,
        );
    }
}

/// Body colour of a blade fuse (ISO 8820-3, colour table; the shades are ours).
pub fn fuse_colour(amps: f64) -> egui::Color32 {
    let (r, g, b) = match amps.round() as i64 {
        1 => (0x30, 0x30, 0x30),
        2 => (0x8A, 0x8F, 0x94),
        3 => (0x8E, 0x5A, 0xA8),
        4 => (0xE7, 0x9A, 0xB4),
        5 => (0xB9, 0x8A, 0x5A),
        7 => (0x7A, 0x4A, 0x26),
        8 => (0x7A, 0x4A, 0x26),
        10 => (0xC9, 0x2A, 0x2A),
        15 => (0x2E, 0x7D, 0xC4),
        20 => (0xE8, 0xC4, 0x2E),
        25 => (0xE6, 0xE6, 0xE0),
        30 => (0x3F, 0xA3, 0x4D),
        35 => (0x3F, 0xA8, 0x9E),
        40 => (0xE0, 0x7B, 0x2A),
        50 => (0xC9, 0x2A, 0x2A),
        60 => (0x2E, 0x7D, 0xC4),
        70 => (0xB9, 0x8A, 0x5A),
        80 => (0xF0, 0xF0, 0xEA),
        _ => (0x8A, 0x8F, 0x94),
    };
    egui::Color32::from_rgb(r, g, b)
}
