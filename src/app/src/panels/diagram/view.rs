//! Which piece of the drawing is seen, and how large. Plain sums; points of the window are egui's, units are the
//! drawing's.

use tracebay_diagram::Drawing;
use tracebay_diagram::piece::{At, at};

use crate::egui::{Pos2, Rect, Vec2};

/// Factor of one press of a zoom key.
pub const STEP: f32 = 1.25;
/// Points a unit below which small letters cannot be read.
const READABLE: f32 = 1.15;
const SMALLEST: f32 = 0.04;
const LARGEST: f32 = 6.0;

/// How the view is to be set when the room for it is known.
#[derive(Copy, Clone, Debug, Default, PartialEq)]
enum Wanted {
    /// As large as letters need, from the upper left.
    #[default]
    Readable,
    /// All of it.
    Whole,
    /// As it is.
    Kept,
}

/// The view.
#[derive(Clone, Debug, Default)]
pub struct View {
    /// Points a unit.
    scale: f32,
    /// Units at the upper left corner of the room.
    corner: Vec2,
    room: Option<Rect>,
    wanted: Wanted,
}

impl View {
    /// Everything within the room, at the next picture.
    pub fn fit(&mut self) {
        self.wanted = Wanted::Whole;
    }

    /// Larger or smaller; what lies at `around`, or in the middle, stays where it is.
    pub fn zoom(&mut self, factor: f32, around: Option<Pos2>) {
        let Some(room) = self.room else { return };
        let around = around.unwrap_or_else(|| room.center()) - room.min;
        let before = self.corner + around / self.scale;
        self.scale = (self.scale * factor).clamp(SMALLEST, LARGEST);
        self.corner = before - around / self.scale;
        self.wanted = Wanted::Kept;
    }

    /// Moves the drawing by this many points.
    pub fn drag(&mut self, by: Vec2) {
        if self.scale > 0.0 {
            self.corner -= by / self.scale;
        }
    }

    /// Brings a place into the middle, if it is not seen.
    pub fn show_place(&mut self, p: At) {
        let Some(room) = self.room else { return };
        if !room.shrink(30.0).contains(self.at(p)) {
            self.corner = Vec2::new(p.x as f32, p.y as f32) - room.size() / 2.0 / self.scale;
        }
    }

    /// Takes its room, and sets what was wanted.
    pub fn take_room(&mut self, room: Rect, drawing: &Drawing) {
        let size = Vec2::new(drawing.width as f32, drawing.height as f32).max(Vec2::splat(1.0));
        let room_ = (room.size() - Vec2::splat(12.0)).max(Vec2::splat(1.0));
        let whole = (room_.x / size.x).min(room_.y / size.y).min(1.6);
        let scale = match self.wanted {
            Wanted::Readable => whole.max(READABLE),
            Wanted::Whole => whole,
            Wanted::Kept => self.scale,
        };
        self.scale = scale.clamp(SMALLEST, LARGEST);
        let seen = room.size() / self.scale;
        if self.wanted != Wanted::Kept {
            // In the middle where there is room, else from the beginning.
            self.corner = ((size - seen) / 2.0).min(Vec2::ZERO);
            self.wanted = Wanted::Kept;
        }
        // Some of it always stays in sight.
        let margin = seen * 0.8;
        self.corner = self
            .corner
            .clamp(-margin, (size - seen + margin).max(-margin));
        self.room = Some(room);
    }

    /// Points a unit.
    pub fn scale(&self) -> f32 {
        self.scale
    }

    /// Where a place of the drawing is in the window.
    pub fn at(&self, p: At) -> Pos2 {
        let corner = self.room.map_or(Pos2::ZERO, |room| room.min);
        corner + (Vec2::new(p.x as f32, p.y as f32) - self.corner) * self.scale
    }

    /// Which place of the drawing is there in the window.
    pub fn place(&self, p: Pos2) -> At {
        let corner = self.room.map_or(Pos2::ZERO, |room| room.min);
        let v = (p - corner) / self.scale + self.corner;
        at(f64::from(v.x), f64::from(v.y))
    }

    /// An area of the drawing in the window.
    pub fn rect(&self, min: At, max: At) -> Rect {
        Rect::from_min_max(self.at(min), self.at(max))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::egui::pos2;

    fn view() -> (View, Drawing) {
        let drawing = Drawing {
            width: 2000.0,
            height: 500.0,
            ..Drawing::default()
        };
        let mut view = View::default();
        let room = Rect::from_min_max(pos2(100.0, 50.0), pos2(900.0, 650.0));
        view.take_room(room, &drawing);
        (view, drawing)
    }

    #[test]
    fn what_is_under_the_pointer_stays_there() {
        let (mut view, _) = view();
        let pointer = pos2(300.0, 200.0);
        let before = view.place(pointer);
        view.zoom(STEP, Some(pointer));
        let after = view.place(pointer);
        assert!((before.x - after.x).abs() < 0.01 && (before.y - after.y).abs() < 0.01);
        let back = view.at(after);
        assert!((back - pointer).length() < 0.01);
    }

    #[test]
    fn fitted_all_of_it_is_inside_and_it_can_never_be_lost() {
        let (mut view, drawing) = view();
        view.fit();
        let room = view.room.unwrap();
        view.take_room(room, &drawing);
        assert!(room.contains_rect(view.rect(at(0.0, 0.0), at(2000.0, 500.0))));
        for by in [Vec2::new(1e6, -1e6), Vec2::new(-1e7, 1e7)] {
            view.drag(by);
            view.take_room(room, &drawing);
            assert!(room.intersects(view.rect(at(0.0, 0.0), at(2000.0, 500.0))));
        }
        for _ in 0..100 {
            view.zoom(STEP, None);
        }
        view.take_room(room, &drawing);
        assert!(view.scale() <= LARGEST);
    }
}
