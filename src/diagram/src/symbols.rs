//! Circuit symbols in the manner of IEC 60617 (from memory), upright: current runs from above.
//!
//! Each symbol fills one row of the sheet: its leads reach the row's upper and lower edge.

use tracebay_core::vehicle::{Acts, Kind, Suppression};

use crate::piece::{Anchor, Area, At, Fill, Of, Pen, Piece, Shape, Symbol, TextSize, at};

/// Puts shapes on the sheet, all for one thing of the car.
pub struct Brush<'a> {
    /// Where they go.
    pub pieces: &'a mut Vec<Piece>,
    /// What they stand for.
    pub of: Option<Of>,
}

impl Brush<'_> {
    /// Puts down a shape.
    pub fn put(&mut self, shape: Shape) {
        let of = self.of.clone();
        self.pieces.push(Piece { shape, of });
    }

    /// A stroke of the outline.
    pub fn line(&mut self, x1: f64, y1: f64, x2: f64, y2: f64) {
        self.stroke(&[at(x1, y1), at(x2, y2)], Pen::Symbol);
    }

    /// A stroke through corners.
    pub fn stroke(&mut self, through: &[At], pen: Pen) {
        self.put(Shape::Line {
            through: through.to_vec(),
            pen,
        });
    }

    /// A rectangle.
    pub fn rect(&mut self, x: f64, y: f64, w: f64, h: f64, fill: Fill) {
        self.put(Shape::Rect {
            area: Area {
                min: at(x, y),
                max: at(x + w, y + h),
            },
            fill,
            pen: Pen::Symbol,
        });
    }

    /// A circle.
    pub fn circle(&mut self, x: f64, y: f64, radius: f64, fill: Fill) {
        self.put(Shape::Circle {
            centre: at(x, y),
            radius,
            fill,
            pen: Pen::Symbol,
        });
    }

    /// A line of text.
    pub fn text(&mut self, x: f64, y: f64, text: &str, size: TextSize, anchor: Anchor) {
        self.put(Shape::Text {
            at: at(x, y),
            text: text.to_owned(),
            size,
            anchor,
        });
    }

    fn letter(&mut self, x: f64, y: f64, text: &str) {
        self.text(x, y, text, TextSize::Label, Anchor::Middle);
    }
}

/// Which symbol a part has, or one way through it from an upper to a lower pin.
pub fn symbol(kind: &Kind, pins: (&str, &str)) -> Symbol {
    match kind {
        Kind::Fuse { .. } => Symbol::Fuse,
        Kind::Relay(_) if matches!(pins.0, "85" | "86") => Symbol::Coil,
        Kind::Relay(_) if pins.0 == "87a" || pins.1 == "87a" => Symbol::BreakContact,
        Kind::Relay(_) => Symbol::MakeContact,
        Kind::ClutchCoil { .. } => Symbol::ClutchCoil,
        Kind::Switch { .. } => Symbol::Switch,
        Kind::PressureSwitch { .. } => Symbol::PressureSwitch,
        Kind::Lamp { .. } => Symbol::Lamp,
        Kind::Motor { .. } => Symbol::Motor,
        Kind::Alternator { .. } => Symbol::Generator,
        Kind::Resistor { acts, .. } => match acts {
            Acts::Horn => Symbol::Horn,
            Acts::WindowHeater | Acts::GlowPlug => Symbol::Heater,
            Acts::Nothing | Acts::Engine => Symbol::Resistor,
        },
        Kind::Thermistor { .. } => Symbol::Thermistor,
        Kind::Battery { .. } => Symbol::Battery,
        Kind::Inline { .. } => Symbol::PlugAndSocket,
        Kind::Splice { .. } | Kind::BusBar { .. } => Symbol::Junction,
        Kind::GroundStud { .. } => Symbol::Frame,
        Kind::ControlUnit(_) | Kind::PressureSensor { .. } => Symbol::Unit,
    }
}

/// How far a symbol reaches to the right of its middle; its name begins beyond.
pub fn reach(kind: &Kind, symbol: Symbol) -> f64 {
    match (symbol, across(kind)) {
        (Symbol::Coil | Symbol::ClutchCoil, Some(_)) => 42.0,
        (Symbol::Coil | Symbol::ClutchCoil, None) => 18.0,
        (Symbol::Horn, _) => 20.0,
        (Symbol::Fuse | Symbol::Resistor | Symbol::Heater, _) => 10.0,
        (Symbol::Junction, _) => 6.0,
        _ => 15.0,
    }
}

/// What lies across a coil; the diode with its cathode at the upper terminal or not.
enum Across {
    Resistor,
    Diode,
}

fn across(kind: &Kind) -> Option<Across> {
    match kind {
        Kind::Relay(relay) => match relay.suppression {
            Suppression::Nothing => None,
            Suppression::Resistor(_) => Some(Across::Resistor),
            Suppression::Diode => Some(Across::Diode),
        },
        Kind::ClutchCoil { diode: true, .. } => Some(Across::Diode),
        _ => None,
    }
}

/// Draws the symbol of a part, or of one way through it.
pub fn part(brush: &mut Brush<'_>, kind: &Kind, pins: (&str, &str), x: f64, y: f64, row: f64) {
    let middle = y + row / 2.0;
    let bottom = y + row;
    let symbol = symbol(kind, pins);
    let half = match symbol {
        Symbol::Coil | Symbol::ClutchCoil => 9.0,
        Symbol::Lamp
        | Symbol::Motor
        | Symbol::Generator
        | Symbol::MakeContact
        | Symbol::Switch
        | Symbol::PressureSwitch
        | Symbol::BreakContact => 12.0,
        Symbol::Horn => 9.0,
        Symbol::Battery => 4.0,
        Symbol::Junction | Symbol::Fuse => 0.0,
        Symbol::PlugAndSocket => 2.0,
        _ => 14.0,
    };
    // A relay's common terminal carries the blade.
    let (pivot, fixed) = if pins.0 == "30" {
        (middle - 12.0, middle + 12.0)
    } else {
        (middle + 12.0, middle - 12.0)
    };
    let upper = if symbol == Symbol::Fuse {
        bottom
    } else {
        middle - half
    };
    brush.line(x, y, x, upper);
    if !matches!(symbol, Symbol::Junction | Symbol::Fuse) {
        brush.line(x, middle + half, x, bottom);
    }
    match symbol {
        // Fuse: a box with its conductor through it.
        Symbol::Fuse => brush.rect(x - 6.0, middle - 14.0, 12.0, 28.0, Fill::Open),
        // Operating coil: a flat box.
        Symbol::Coil => brush.rect(x - 16.0, middle - 9.0, 32.0, 18.0, Fill::Open),
        Symbol::ClutchCoil => {
            brush.line(x - 16.0, middle + 9.0, x + 16.0, middle - 9.0);
            brush.rect(x - 16.0, middle - 9.0, 32.0, 18.0, Fill::Open);
        }
        // Break contact: the blade crosses to the fixed contact and lies against it.
        Symbol::BreakContact => {
            brush.line(x, fixed, x + 9.0, fixed);
            brush.line(x, pivot, x + 7.5, fixed + 0.12 * (fixed - pivot));
        }
        // Make contact: the blade stands off; a hand or a pressure moves those of switches.
        Symbol::MakeContact => brush.line(x, pivot, x - 9.0, fixed),
        Symbol::Switch | Symbol::PressureSwitch => {
            brush.line(x, middle + 12.0, x - 9.0, middle - 12.0);
            brush.stroke(&[at(x - 22.0, middle), at(x - 5.0, middle)], Pen::Link);
            brush.line(x - 22.0, middle - 6.0, x - 22.0, middle + 6.0);
            if symbol == Symbol::PressureSwitch {
                brush.letter(x - 29.0, middle + 4.0, "p");
            }
        }
        // Lamp: a circle with a cross in it.
        Symbol::Lamp => {
            brush.line(x - 8.5, middle - 8.5, x + 8.5, middle + 8.5);
            brush.line(x - 8.5, middle + 8.5, x + 8.5, middle - 8.5);
            brush.circle(x, middle, 12.0, Fill::Open);
        }
        Symbol::Motor | Symbol::Generator => {
            brush.circle(x, middle, 12.0, Fill::Open);
            let letter = if symbol == Symbol::Motor { "M" } else { "G" };
            brush.letter(x, middle + 4.0, letter);
        }
        // Heating element: a resistor with strokes across.
        Symbol::Heater => {
            brush.rect(x - 6.0, middle - 14.0, 12.0, 28.0, Fill::Open);
            for i in 1..4 {
                let y = middle - 14.0 + 7.0 * f64::from(i);
                brush.line(x - 6.0, y, x + 6.0, y);
            }
        }
        // Horn: a box with its bell.
        Symbol::Horn => {
            brush.rect(x - 7.0, middle - 9.0, 14.0, 18.0, Fill::Open);
            let bell = [
                at(x + 7.0, middle - 4.0),
                at(x + 15.0, middle - 11.0),
                at(x + 15.0, middle + 11.0),
                at(x + 7.0, middle + 4.0),
            ];
            brush.stroke(&bell, Pen::Symbol);
        }
        // Thermistor: a resistor with a kinked stroke through it and the sign of temperature.
        Symbol::Thermistor => {
            brush.rect(x - 6.0, middle - 14.0, 12.0, 28.0, Fill::Open);
            let stroke = [
                at(x - 18.0, middle + 12.0),
                at(x - 11.0, middle + 12.0),
                at(x + 11.0, middle - 12.0),
            ];
            brush.stroke(&stroke, Pen::Symbol);
            brush.letter(x - 15.0, middle - 2.0, "t\u{b0}");
        }
        // Battery: the long stroke is positive.
        Symbol::Battery => {
            let (long, short) = if pins.0 == "pos" {
                (middle - 4.0, middle + 4.0)
            } else {
                (middle + 4.0, middle - 4.0)
            };
            brush.line(x - 14.0, long, x + 14.0, long);
            brush.line(x - 7.0, short, x + 7.0, short);
        }
        // Plug in its socket.
        Symbol::PlugAndSocket => {
            let socket: Vec<At> = (0..=8)
                .map(|i| {
                    let turn = std::f64::consts::PI * f64::from(i) / 8.0;
                    at(x - 7.0 * turn.cos(), middle + 5.0 - 7.0 * turn.sin())
                })
                .collect();
            brush.stroke(&socket, Pen::Symbol);
            brush.rect(x - 1.8, middle + 2.0, 3.6, 9.0, Fill::Solid);
        }
        Symbol::Junction => brush.circle(x, middle, 2.8, Fill::Solid),
        _ => brush.rect(x - 6.0, middle - 14.0, 12.0, 28.0, Fill::Open),
    }
    if let Some(across) = across(kind).filter(|_| half == 9.0 && symbol != Symbol::Horn) {
        draw_across(brush, &across, pins, x, middle);
    }
}

/// A resistor or diode beside a coil, joined to its two terminals.
fn draw_across(brush: &mut Brush<'_>, across: &Across, pins: (&str, &str), x: f64, middle: f64) {
    let beside = x + 30.0;
    let (top, bottom) = (middle - 17.0, middle + 17.0);
    for (edge, inner) in [(top, middle - 7.0), (bottom, middle + 7.0)] {
        brush.stroke(
            &[at(x, edge), at(beside, edge), at(beside, inner)],
            Pen::Symbol,
        );
        brush.circle(x, edge, 1.8, Fill::Solid);
    }
    match across {
        Across::Resistor => brush.rect(beside - 4.0, middle - 7.0, 8.0, 14.0, Fill::Open),
        // The cathode is at terminal 86, or at the fed end of a clutch.
        Across::Diode => {
            let up = matches!(pins.0, "86" | "1");
            let (cathode, anode) = if up { (-6.0, 6.0) } else { (6.0, -6.0) };
            let triangle = [
                at(beside - 6.0, middle + anode),
                at(beside + 6.0, middle + anode),
                at(beside, middle + cathode),
                at(beside - 6.0, middle + anode),
            ];
            brush.stroke(&triangle, Pen::Symbol);
            let y = middle + cathode;
            brush.line(beside - 6.0, y, beside + 6.0, y);
            brush.line(beside, middle - 7.0, beside, middle + 7.0);
        }
    }
}

/// Frame or chassis: a bar with strokes hanging from it.
pub fn frame(brush: &mut Brush<'_>, x: f64, y: f64) {
    let bar = y + 14.0;
    brush.line(x, y, x, bar);
    brush.line(x - 12.0, bar, x + 12.0, bar);
    for i in 0..3 {
        let from = x - 12.0 + 12.0 * f64::from(i);
        brush.line(from, bar, from - 6.0, bar + 8.0);
    }
}

/// Where the drawing ends and another begins: a terminal. `above` on the feed's end. Returns the
/// baseline of its name.
pub fn terminal(brush: &mut Brush<'_>, x: f64, y: f64, row: f64, above: bool) -> f64 {
    if above {
        brush.line(x, y + row - 7.0, x, y + row);
        brush.circle(x, y + row - 10.0, 3.0, Fill::Paper);
        y + row - 17.0
    } else {
        brush.line(x, y, x, y + 7.0);
        brush.circle(x, y + 10.0, 3.0, Fill::Paper);
        y + 14.0
    }
}
