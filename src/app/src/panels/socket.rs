//! A small picture of a relay's socket, or of its underside: where the cavities or blades lie,
//! how wide they are, what is printed beside them.

use tracebay_core::session::{BladeSize, PointInfo};

use super::{Cx, names};
use crate::desk::Desk;
use crate::desk::socket::{self, Side};
use crate::egui::{
    self, Align2, Color32, CornerRadius, Rect, Response, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
    WidgetType, pos2, vec2,
};
use crate::look::theme;

/// Width and height of the picture in points.
const SIZE: f32 = 148.0;

/// Draws it; returns the point that was clicked.
pub fn show(
    ui: &mut Ui,
    cx: &Cx<'_>,
    desk: &Desk,
    points: &[&PointInfo],
    side: Side,
    chosen: Option<&str>,
) -> Option<String> {
    let caption = cx.t(match side {
        Side::Socket => "socket-from-above",
        Side::Underside => "relay-from-below",
    });
    let mut clicked = None;
    ui.vertical_centered(|ui| {
        ui.label(
            egui::RichText::new(&caption)
                .small()
                .color(cx.look.on_steel_soft),
        );
        let (rect, _) = ui.allocate_exact_size(vec2(SIZE, SIZE), Sense::hover());
        let body = match side {
            Side::Socket => Color32::from_rgb(0x14, 0x16, 0x18),
            Side::Underside => Color32::from_rgb(0x2E, 0x2B, 0x27),
        };
        let p = ui.painter().clone();
        p.rect(
            rect,
            CornerRadius::same(8),
            body,
            Stroke::new(1.5, cx.look.steel_rule),
            StrokeKind::Inside,
        );
        for spot in socket::spots(points, side) {
            let Some(info) = points.iter().find(|i| i.id == spot.point) else {
                continue;
            };
            let centre = rect.min + vec2(spot.at.0, spot.at.1) * SIZE;
            let hot = Rect::from_center_size(centre, vec2(52.0, 58.0));
            let response = ui.interact(hot, ui.id().with((&spot.point, "spot")), Sense::click());
            let name = names::point(cx.text, desk.session(), info);
            response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &name));
            draw_spot(&p, cx, info, centre, spot.letter, &response, side);
            let on = chosen == Some(spot.point.as_str());
            if on || response.has_focus() || response.hovered() {
                p.rect_stroke(
                    hot,
                    4,
                    Stroke::new(2.0, cx.look.steel_chosen),
                    StrokeKind::Inside,
                );
            }
            let lead_here = desk
                .view()
                .leads
                .values()
                .any(|leads| leads.values().any(|at| *at == spot.point));
            if lead_here {
                p.circle_filled(centre, 5.0, cx.look.steel_chosen);
            }
            if response.clicked() {
                clicked = Some(spot.point.clone());
            }
        }
    });
    clicked
}

fn draw_spot(
    p: &egui::Painter,
    cx: &Cx<'_>,
    info: &PointInfo,
    centre: egui::Pos2,
    letter: char,
    _response: &Response,
    side: Side,
) {
    // 6.3 mm and 4.8 mm blades, drawn to the same scale.
    let long = match info.blade {
        Some(BladeSize::Wide) => 30.0,
        Some(BladeSize::Narrow) => 19.0,
        None => 24.0,
    };
    let slot = Rect::from_center_size(centre, vec2(7.0, long));
    let fill = match side {
        Side::Socket => Color32::from_rgb(0x00, 0x00, 0x00),
        Side::Underside => Color32::from_rgb(0xC9, 0xB0, 0x78),
    };
    p.rect(
        slot,
        1,
        fill,
        Stroke::new(1.0, cx.look.on_steel_soft),
        StrokeKind::Outside,
    );
    let left = pos2(centre.x - 20.0, centre.y - 20.0);
    p.text(
        left,
        Align2::CENTER_CENTER,
        letter,
        theme::strong(14.0),
        cx.look.on_steel,
    );
    if let Some(mark) = &info.mark {
        let right = pos2(centre.x + 17.0, centre.y + 20.0);
        p.text(
            right,
            Align2::CENTER_CENTER,
            mark,
            theme::narrow(13.5),
            cx.look.steel_chosen,
        );
    }
}
