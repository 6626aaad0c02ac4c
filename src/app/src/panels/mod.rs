//! The panels at the car. Each is a function from what is to an egui picture and a list of
//! orders; none changes anything itself, so that each can be tested without a window.

pub mod call;
pub mod captions;
pub mod diagram;
pub mod finder;
pub mod first_steps;
pub mod hand;
pub mod keyboard;
pub mod legend;
pub mod names;
pub mod points;
pub mod say;
pub mod scorecard;
pub mod sheet;
pub mod signs;
pub mod socket;
pub mod state_line;
pub mod tag;
pub mod tool_roll;
pub mod walk_back;
pub mod widgets;

use crate::desk::Order;
use crate::look::Palette;
use crate::settings::Settings;
use crate::text::Text;

/// What every panel needs: words, colours, settings, and where orders go.
pub struct Cx<'a> {
    /// Words.
    pub text: &'a Text,
    /// Colours.
    pub look: &'a Palette,
    /// Settings.
    pub settings: &'a Settings,
    /// Orders given so far.
    pub orders: &'a mut Vec<Order>,
}

impl Cx<'_> {
    /// Gives an order.
    pub fn order(&mut self, order: Order) {
        self.orders.push(order);
    }

    /// A sentence.
    pub fn t(&self, key: &str) -> String {
        self.text.get(key)
    }
}
