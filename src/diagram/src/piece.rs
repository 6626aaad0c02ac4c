//! What a drawing consists of. Plain data: lengths in units of the drawing, in which a label is
//! [`TextSize::Label`] high; y grows downwards.

use std::collections::BTreeSet;

use crate::colour::WireColour;

/// A place on the sheet.
#[derive(Copy, Clone, Debug, Default, PartialEq)]
pub struct At {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// A place.
pub fn at(x: f64, y: f64) -> At {
    At { x, y }
}

/// An upright rectangle.
#[derive(Copy, Clone, Debug, Default, PartialEq)]
pub struct Area {
    /// Upper left corner.
    pub min: At,
    /// Lower right corner.
    pub max: At,
}

impl Area {
    /// Whether a place is in it.
    pub fn holds(&self, p: At) -> bool {
        p.x >= self.min.x && p.x <= self.max.x && p.y >= self.min.y && p.y <= self.max.y
    }

    /// Whether two share more than an edge.
    pub fn meets(&self, other: &Area) -> bool {
        self.min.x < other.max.x
            && other.min.x < self.max.x
            && self.min.y < other.max.y
            && other.min.y < self.max.y
    }
}

/// What of the car something in the drawing stands for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Of {
    /// A part, by id.
    Part(String),
    /// A wire, by id.
    Wire(String),
    /// A terminal, `part.pin`.
    Terminal(String),
}

/// How a line is drawn.
#[derive(Copy, Clone, Debug, PartialEq)]
pub enum Pen {
    /// Outline of a symbol.
    Symbol,
    /// Joins what is one point of the circuit: no wire of its own.
    Join,
    /// Broken line: moves with, belongs to.
    Link,
    /// A wire in its colours.
    Wire(WireColour),
    /// Sign of a note that says: proved good.
    Good,
    /// Sign of a note that says: suspect.
    Suspect,
    /// Sign of any other note.
    Noted,
}

/// What is inside an outline.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Nothing: what lies below is seen.
    Open,
    /// Paper: what lies below is covered.
    Paper,
    /// The colour of the outline.
    Solid,
}

/// Heights of letters.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum TextSize {
    /// Wires, terminals and second lines.
    Small,
    /// Names of parts.
    Label,
    /// Heading of a circuit.
    Circuit,
    /// Heading of the sheet.
    Title,
}

impl TextSize {
    /// Height of the font, units.
    pub fn units(self) -> f64 {
        match self {
            TextSize::Small => 10.0,
            TextSize::Label => 11.5,
            TextSize::Circuit => 14.5,
            TextSize::Title => 18.0,
        }
    }
}

/// Which part of a text stands at its place.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A shape on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A straight stroke, or several in one go.
    Line {
        /// Corners in order; two at least.
        through: Vec<At>,
        /// How.
        pen: Pen,
    },
    /// A rectangle.
    Rect {
        /// Where.
        area: Area,
        /// Inside.
        fill: Fill,
        /// Outline.
        pen: Pen,
    },
    /// A circle.
    Circle {
        /// Middle.
        centre: At,
        /// Radius, units.
        radius: f64,
        /// Inside.
        fill: Fill,
        /// Outline.
        pen: Pen,
    },
    /// A line of text on its baseline.
    Text {
        /// Where on the baseline.
        at: At,
        /// What it says.
        text: String,
        /// How large.
        size: TextSize,
        /// Which part of it stands there.
        anchor: Anchor,
    },
}

/// One shape and what it stands for; nothing for headings and joins.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Shape.
    pub shape: Shape,
    /// What it stands for.
    pub of: Option<Of>,
}

/// Circuit symbols in the manner of IEC 60617.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Symbol {
    /// Fuse.
    Fuse,
    /// Operating coil of a relay.
    Coil,
    /// Coil of an electromagnetic clutch.
    ClutchCoil,
    /// Make contact of a relay.
    MakeContact,
    /// Break contact of a relay.
    BreakContact,
    /// Make contact moved by hand.
    Switch,
    /// Make contact moved by pressure.
    PressureSwitch,
    /// Lamp.
    Lamp,
    /// Motor.
    Motor,
    /// Generator.
    Generator,
    /// Resistor.
    Resistor,
    /// Heating element.
    Heater,
    /// Horn.
    Horn,
    /// Resistor that depends on temperature.
    Thermistor,
    /// Battery.
    Battery,
    /// Plug and socket.
    PlugAndSocket,
    /// Connection of conductors.
    Junction,
    /// Frame, chassis.
    Frame,
    /// Terminal: the drawing ends and another begins.
    Terminal,
    /// A unit drawn as a box with its terminals at the edge.
    Unit,
}

/// Something of the car, where it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// What it is.
    pub of: Of,
    /// Its symbol; none for a wire.
    pub symbol: Option<Symbol>,
    /// Where a pointer meets it.
    pub area: Area,
    /// Where a note's sign is put.
    pub sign: At,
}

/// A sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Width, units.
    pub width: f64,
    /// Height, units.
    pub height: f64,
    /// Shapes, the lowest first.
    pub pieces: Vec<Piece>,
    /// What of the car is drawn where.
    pub things: Vec<Thing>,
    /// Terminals, `part.pin`, and the points at which they are joined to.
    pub terminals: Vec<(String, At)>,
}

impl Drawing {
    /// What is drawn at a place; the smallest where several lie there.
    pub fn at(&self, p: At) -> Option<&Thing> {
        let size = |t: &Thing| (t.area.max.x - t.area.min.x) * (t.area.max.y - t.area.min.y);
        let here = self.things.iter().filter(|t| t.area.holds(p));
        here.min_by(|a, b| size(a).total_cmp(&size(b)))
    }

    /// Parts whose symbol is drawn, not only a terminal that leads to them.
    pub fn parts(&self) -> BTreeSet<&str> {
        let part = |t: &'_ Thing| t.symbol != Some(Symbol::Terminal);
        self.things
            .iter()
            .filter(|t| part(t))
            .filter_map(|t| match &t.of {
                Of::Part(id) => Some(id.as_str()),
                _ => None,
            })
            .collect()
    }

    /// Wires that are drawn.
    pub fn wires(&self) -> BTreeSet<&str> {
        self.things
            .iter()
            .filter_map(|t| match &t.of {
                Of::Wire(id) => Some(id.as_str()),
                _ => None,
            })
            .collect()
    }
}
