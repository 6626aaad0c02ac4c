//! The invented bay of the demonstration: an arrangement with a box in it, to show the kit without a
//! session.

use super::bays::longitudinal_petrol;
use super::demo_box::demo_box;
use super::layout::{BayLayout, PlacedBox};

/// The demonstration's bay.
pub fn demo_layout() -> BayLayout {
    let mut layout = longitudinal_petrol();
    layout.boxes.push(PlacedBox {
        id: "box".into(),
        grid: demo_box(),
        stand: layout.stands.bay,
    });
    layout
}
