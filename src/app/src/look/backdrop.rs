//! What lies behind the paper on the screens that are no car: the bench's steel with a circuit drawn
//! on it. Ornament: no reader hears of it, and nothing depends on it.

use super::Palette;
use crate::egui::{Color32, Painter, Pos2, Rect, Stroke, pos2, vec2};

/// Paints it on all of `rect`.
pub fn paint(painter: &Painter, rect: Rect, look: &Palette) {
    painter.rect_filled(rect, 0, look.steel);
    let pen = Pen {
        painter,
        line: Stroke::new(2.0, faint(look.steel_rule, 0.55)),
        u: (rect.height() / 26.0).clamp(14.0, 40.0),
    };
    let lamp = pen.circuit(rect);
    // Current flows there: the lamp shines, softly.
    for (radius, alpha) in [(4.2, 0.030), (2.8, 0.045), (1.7, 0.08)] {
        painter.circle_filled(lamp, radius * pen.u, faint(look.steel_chosen, alpha));
    }
    pen.with(faint(look.steel_chosen, 0.9)).lamp(lamp);
}

fn faint(colour: Color32, share: f32) -> Color32 {
    colour.gamma_multiply(share)
}

/// Draws signs of circuit diagrams (IEC 60617), `u` being their module.
struct Pen<'a> {
    painter: &'a Painter,
    line: Stroke,
    u: f32,
}

impl Pen<'_> {
    fn with(&self, colour: Color32) -> Pen<'_> {
        Pen {
            painter: self.painter,
            line: Stroke::new(self.line.width, colour),
            u: self.u,
        }
    }

    fn wire(&self, points: &[Pos2]) {
        self.painter.line(points.to_vec(), self.line);
    }

    fn dot(&self, at: Pos2) {
        self.painter
            .circle_filled(at, self.u * 0.18, self.line.color);
    }

    /// A relay's two circuits: at the left the battery, and a switch that is closed and the coil it
    /// feeds; at the right the contact it has pulled, a fuse, and the lamp. Says where the lamp is.
    fn circuit(&self, rect: Rect) -> Pos2 {
        let u = self.u;
        let (left, right) = (rect.left() + 2.6 * u, rect.right() - 3.0 * u);
        let (top, bottom) = (rect.top() + 2.2 * u, rect.bottom() - 3.0 * u);
        let low = rect.bottom() - 7.5 * u;
        let down = |x: f32, from: f32, to: f32| self.wire(&[pos2(x, from), pos2(x, to)]);
        self.wire(&[pos2(left, top), pos2(right, top)]);
        self.wire(&[pos2(left, bottom), pos2(right, bottom)]);
        self.battery(pos2(left, low));
        down(left, top, low - 0.4 * u);
        down(left, low + 0.4 * u, bottom);
        self.ground(pos2(left, bottom));
        // The coil's circuit.
        let a = left + 4.6 * u;
        self.fuse(pos2(a, top + 2.2 * u));
        down(a, top, top + 1.2 * u);
        down(a, top + 3.2 * u, low - 6.0 * u);
        self.closed(pos2(a, low - 5.0 * u));
        down(a, low - 4.0 * u, low - u);
        self.coil(pos2(a, low));
        down(a, low + u, bottom);
        // The load's.
        self.fuse(pos2(right, top + 2.2 * u));
        down(right, top, top + 1.2 * u);
        down(right, top + 3.2 * u, low - 6.0 * u);
        self.closed(pos2(right, low - 5.0 * u));
        down(right, low - 4.0 * u, low - u);
        down(right, low + u, bottom);
        for at in [pos2(a, top), pos2(a, bottom), pos2(left, bottom)] {
            self.dot(at);
        }
        pos2(right, low)
    }

    fn battery(&self, at: Pos2) {
        let u = self.u;
        let line = |y: f32, half: f32, width: f32| {
            let stroke = Stroke::new(width, self.line.color);
            let y = at.y + y * u;
            let ends = [pos2(at.x - half * u, y), pos2(at.x + half * u, y)];
            self.painter.line_segment(ends, stroke);
        };
        line(-0.4, 1.2, self.line.width);
        line(0.4, 0.6, self.line.width * 2.0);
    }

    fn fuse(&self, at: Pos2) {
        let u = self.u;
        let rect = Rect::from_center_size(at, vec2(0.8, 2.0) * u);
        self.painter
            .rect_stroke(rect, 0, self.line, crate::egui::StrokeKind::Middle);
        self.wire(&[rect.center_top(), rect.center_bottom()]);
    }

    fn coil(&self, at: Pos2) {
        let rect = Rect::from_center_size(at, vec2(2.4, 2.0) * self.u);
        self.painter
            .rect_stroke(rect, 0, self.line, crate::egui::StrokeKind::Middle);
        let (l, r) = (rect.left(), rect.right());
        let lean = 0.35 * self.u;
        self.wire(&[pos2(l, at.y + lean), pos2(r, at.y - lean)]);
    }

    /// A contact that is closed: its arm lies on the point above it.
    fn closed(&self, at: Pos2) {
        let u = self.u;
        self.wire(&[at + vec2(0.0, u), at + vec2(-0.22 * u, -1.15 * u)]);
        self.dot(at + vec2(0.0, u));
        self.dot(at - vec2(0.0, u));
    }

    fn lamp(&self, at: Pos2) {
        let r = self.u;
        self.painter.circle_stroke(at, r, self.line);
        let d = r * std::f32::consts::FRAC_1_SQRT_2;
        self.wire(&[at - vec2(d, d), at + vec2(d, d)]);
        self.wire(&[at + vec2(d, -d), at + vec2(-d, d)]);
    }

    fn ground(&self, at: Pos2) {
        let u = self.u;
        for (i, half) in [0.9, 0.6, 0.3].into_iter().enumerate() {
            let y = at.y + 0.6 * u + i as f32 * 0.4 * u;
            self.wire(&[pos2(at.x - half * u, y), pos2(at.x + half * u, y)]);
        }
        self.wire(&[at, at + vec2(0.0, 0.6 * u)]);
    }
}
