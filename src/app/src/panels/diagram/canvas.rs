//! The drawing itself: the pieces of `tracebay-diagram`, painted; dragged, zoomed and pressed.

use std::cell::RefCell;

use tracebay_diagram::colour::Colour;
use tracebay_diagram::piece::{Anchor, Fill, Pen, Piece, Shape, TextSize};
use tracebay_diagram::{Of, marks};

use super::{Diagram, view};
use crate::desk::Desk;
use crate::egui::{
    self, Align2, Color32, Event, EventFilter, Key, Painter, Rect, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, WidgetType, vec2,
};
use crate::look::{Palette, theme};
use crate::panels::{Cx, widgets};

/// Points that an arrow key moves the drawing by.
const ARROW: f32 = 60.0;
/// Height of letters below which none are drawn, points.
const UNREADABLE: f32 = 3.0;
/// Height of the circuits' names at least, points.
const OVERVIEW: f32 = 9.5;

/// Draws it in this part of the window.
pub fn show(ui: &mut Ui, cx: &Cx<'_>, desk: &Desk, diagram: &mut Diagram, room: Rect) {
    let id = ui.id().with("drawing");
    let response = ui.interact(room, id, Sense::click_and_drag());
    let name = match diagram.circuits.get(diagram.chosen) {
        Some((_, name)) => name.clone(),
        None => cx.t("diagram-whole"),
    };
    let words = cx.text.fill("diagram-drawing", &[("name", (&name).into())]);
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Other, true, &words));
    if std::mem::take(&mut diagram.take_focus) {
        response.request_focus();
    }
    diagram.view.take_room(room, &diagram.drawing);
    moved(ui, &response, diagram);
    if response.clicked()
        && let Some(p) = response.interact_pointer_pos()
    {
        response.request_focus();
        match diagram.drawing.at(diagram.view.place(p)).cloned() {
            Some(thing) => diagram.select(desk, thing.of),
            None => diagram.selected = None,
        }
    }
    diagram.view.take_room(room, &diagram.drawing);

    let painter = ui.painter_at(room);
    painter.rect_filled(room, 2, cx.look.field);
    let paint = Paint {
        painter: &painter,
        look: cx.look,
        view: &diagram.view,
        room,
        named: RefCell::default(),
    };
    if let Some(selected) = &diagram.selected {
        let things = diagram.drawing.things.iter();
        for thing in things.filter(|t| t.of == *selected) {
            let rect = diagram.view.rect(thing.area.min, thing.area.max);
            painter.rect(
                rect,
                4,
                cx.look.paper_shade,
                Stroke::new(2.0, cx.look.chosen),
                StrokeKind::Outside,
            );
        }
    }
    for piece in &diagram.drawing.pieces {
        paint.piece(piece);
    }
    for sign in marks::signs(&diagram.drawing, &desk.notes) {
        paint.piece(&sign);
    }
    let ring = if response.has_focus() {
        Stroke::new(2.5, cx.look.chosen)
    } else {
        Stroke::new(1.0, cx.look.rule)
    };
    painter.rect_stroke(room, 2, ring, StrokeKind::Inside);
}

/// Dragging, the wheel, two fingers, and the keys.
fn moved(ui: &Ui, response: &egui::Response, diagram: &mut Diagram) {
    let view = &mut diagram.view;
    view.drag(response.drag_delta());
    if response.hovered() || response.dragged() {
        let (wheel, pinch, pointer) = ui.input(|i| {
            let pointer = i.pointer.latest_pos();
            (i.smooth_scroll_delta().y, i.zoom_delta(), pointer)
        });
        let factor = pinch * (wheel / 240.0).exp2();
        if factor != 1.0 {
            view.zoom(factor, pointer);
        }
    }
    if response.has_focus() {
        let arrows = EventFilter {
            horizontal_arrows: true,
            vertical_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, arrows));
        for (key, by) in [
            (Key::ArrowLeft, vec2(ARROW, 0.0)),
            (Key::ArrowRight, vec2(-ARROW, 0.0)),
            (Key::ArrowUp, vec2(0.0, ARROW)),
            (Key::ArrowDown, vec2(0.0, -ARROW)),
        ] {
            if widgets::pressed(ui, key) {
                view.drag(by);
            }
        }
    }
    if ui.ctx().text_edit_focused() {
        return;
    }
    // Plus needs Shift on many keyboards.
    let keys: Vec<Key> = ui.input(|i| {
        let down = i.events.iter().filter_map(|e| match e {
            Event::Key {
                key,
                pressed: true,
                modifiers,
                ..
            } if !modifiers.command && !modifiers.alt => Some(*key),
            _ => None,
        });
        down.collect()
    });
    for key in keys {
        match key {
            Key::Plus | Key::Equals => view.zoom(view::STEP, None),
            Key::Minus => view.zoom(1.0 / view::STEP, None),
            Key::Num0 => view.fit(),
            _ => {}
        }
    }
}

struct Paint<'a> {
    painter: &'a Painter,
    look: &'a Palette,
    view: &'a view::View,
    room: Rect,
    /// Where names of circuits stand in the overview.
    named: RefCell<Vec<Rect>>,
}

impl Paint<'_> {
    fn piece(&self, piece: &Piece) {
        let scale = self.view.scale();
        match &piece.shape {
            Shape::Line { through, pen } => {
                let points: Vec<egui::Pos2> = through.iter().map(|p| self.view.at(*p)).collect();
                let around = Rect::from_points(&points).expand(6.0 * scale);
                if !self.room.intersects(around) {
                    return;
                }
                match pen {
                    Pen::Wire(colours) => {
                        let wide = (3.2 * scale).max(1.2);
                        let edge = Stroke::new(wide + 1.6, self.look.ink);
                        self.painter.line(points.clone(), edge);
                        let main = Stroke::new(wide, rgb(colours.main));
                        self.painter.line(points.clone(), main);
                        if let Some(stripe) = colours.stripe {
                            let stroke = Stroke::new(wide, rgb(stripe));
                            let (dash, gap) = (5.0 * scale, 9.0 * scale);
                            let dashes = egui::Shape::dashed_line(&points, stroke, dash, gap);
                            self.painter.extend(dashes);
                        }
                    }
                    Pen::Link => {
                        let (dash, gap) = (5.0 * scale, 4.0 * scale);
                        let dashes =
                            egui::Shape::dashed_line(&points, self.stroke(*pen), dash, gap);
                        self.painter.extend(dashes);
                    }
                    pen => {
                        self.painter.line(points, self.stroke(*pen));
                    }
                }
            }
            Shape::Rect { area, fill, pen } => {
                let rect = self.view.rect(area.min, area.max);
                if self.room.intersects(rect) {
                    let stroke = self.stroke(*pen);
                    let fill = self.fill(*fill, stroke.color);
                    let middle = StrokeKind::Middle;
                    self.painter.rect(rect, 0, fill, stroke, middle);
                }
            }
            Shape::Circle {
                centre,
                radius,
                fill,
                pen,
            } => {
                let stroke = self.stroke(*pen);
                let fill_kind = *fill;
                let fill = self.fill(fill_kind, stroke.color);
                let radius = *radius as f32 * scale;
                // An outline of its own would show as a ring around a small dot.
                let stroke = match fill_kind {
                    Fill::Solid => Stroke::NONE,
                    _ => stroke,
                };
                let centre = self.view.at(*centre);
                if self.room.expand(radius).contains(centre) {
                    self.painter.circle(centre, radius, fill, stroke);
                }
            }
            Shape::Text {
                at,
                text,
                size,
                anchor,
            } => {
                let points = size.units() as f32 * scale;
                if *size == TextSize::Circuit && points < OVERVIEW {
                    return self.far_away(self.view.at(*at), text);
                }
                if points < UNREADABLE {
                    return;
                }
                let place = self.view.at(*at);
                // Wider than any letters are.
                let wide = text.len() as f32 * points;
                if !self.room.expand2(vec2(wide, points)).contains(place) {
                    return;
                }
                let align = match anchor {
                    Anchor::Start => Align2::LEFT_BOTTOM,
                    Anchor::Middle => Align2::CENTER_BOTTOM,
                    Anchor::End => Align2::RIGHT_BOTTOM,
                };
                let (font, ink) = match size {
                    TextSize::Small => (theme::narrow(points), self.look.ink_soft),
                    _ => (theme::strong(points), self.look.ink),
                };
                // The font's letters stand a little above the bottom of their line.
                let below = vec2(0.0, points * 0.26);
                self.painter.text(place + below, align, text, font, ink);
            }
        }
    }

    /// A circuit's name in the overview: what it goes by, in letters that can be read and do not run into the
    /// name before it.
    fn far_away(&self, place: egui::Pos2, name: &str) {
        let short = name.split(' ').next().unwrap_or_default();
        let mut named = self.named.borrow_mut();
        for points in [OVERVIEW, 8.0, 7.0] {
            let font = theme::narrow(points);
            let letters = self
                .painter
                .layout_no_wrap(short.to_owned(), font, self.look.ink);
            let corner = place - vec2(0.0, letters.size().y * 0.8);
            let rect = Rect::from_min_size(corner, letters.size());
            if named.iter().any(|other: &Rect| other.intersects(rect)) {
                continue;
            }
            named.push(rect.expand2(vec2(3.0, 0.0)));
            self.painter.galley(corner, letters, self.look.ink);
            return;
        }
    }

    fn stroke(&self, pen: Pen) -> Stroke {
        let scale = self.view.scale();
        let (wide, colour) = match pen {
            Pen::Join => (2.2, self.look.ink),
            Pen::Link => (1.1, self.look.ink_soft),
            Pen::Good => (2.0, self.look.good),
            Pen::Suspect => (2.0, self.look.bad),
            Pen::Noted => (2.0, self.look.chosen),
            Pen::Symbol | Pen::Wire(_) => (1.6, self.look.ink),
        };
        Stroke::new((wide * scale).max(0.8), colour)
    }

    fn fill(&self, fill: Fill, outline: Color32) -> Color32 {
        match fill {
            Fill::Open => Color32::TRANSPARENT,
            Fill::Paper => self.look.field,
            Fill::Solid => outline,
        }
    }
}

fn rgb(colour: Colour) -> Color32 {
    let [r, g, b] = colour.rgb;
    Color32::from_rgb(r, g, b)
}

/// Where something is drawn first.
pub fn place_of(diagram: &Diagram, of: &Of) -> Option<tracebay_diagram::piece::At> {
    let things = diagram.drawing.things.iter();
    let thing = things.filter(|t| t.of == *of).min_by_key(|t| {
        // Its symbol before terminals that only lead to it.
        t.symbol == Some(tracebay_diagram::Symbol::Terminal)
    })?;
    Some(thing.sign)
}
