//! The tools: what each is, which leads it has, and what it can show.
//!
//! How a tool joins the circuit and how a reading is made from the solution is in
//! [`reading`]; this module only names things. It knows nothing of vehicles or scores.

pub mod reading;

use serde::{Deserialize, Serialize};

/// Kinds of tool in the roll.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ToolKind {
    /// Filament test light, 12 V 3 W: leads `clip` and `probe`.
    TestLight,
    /// Test light with a light-emitting diode: leads `clip` and `probe`.
    LedLight,
    /// Jumper lead with an inline 15 A fuse: leads `a` and `b`.
    FusedJumper,
    /// Jumper lead without a fuse: leads `a` and `b`.
    PlainJumper,
    /// Digital multimeter: leads `red` and `black`, and a dial.
    Meter,
    /// Socket breakout: fits between a relay and its socket so that the cavities can be touched
    /// with the relay in place.
    Breakout,
    /// Gauge for the low-side service port.
    Gauge,
    /// Inspection lamp.
    Lamp,
    /// Thermometer with a thin probe.
    Thermometer,
}

/// A lead of a tool.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Lead {
    /// Clip of a light.
    Clip,
    /// Probe tip of a light.
    Probe,
    /// One end of a jumper.
    A,
    /// Other end of a jumper.
    B,
    /// Red lead of the meter.
    Red,
    /// Black lead of the meter.
    Black,
}

/// The meter's dial.
#[derive(
    Copy, Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Dial {
    /// Off.
    #[default]
    Off,
    /// Direct voltage.
    Volts,
    /// Resistance.
    Ohms,
    /// Direct current, 10 A socket.
    Amps,
}

impl ToolKind {
    /// All tools, in the roll's order.
    pub const ALL: [ToolKind; 9] = [
        ToolKind::TestLight,
        ToolKind::LedLight,
        ToolKind::FusedJumper,
        ToolKind::PlainJumper,
        ToolKind::Meter,
        ToolKind::Breakout,
        ToolKind::Gauge,
        ToolKind::Lamp,
        ToolKind::Thermometer,
    ];

    /// The leads of this tool; the second is the one a hand moves from point to point.
    pub fn leads(self) -> &'static [Lead] {
        match self {
            ToolKind::TestLight | ToolKind::LedLight => &[Lead::Clip, Lead::Probe],
            ToolKind::FusedJumper | ToolKind::PlainJumper => &[Lead::A, Lead::B],
            ToolKind::Meter => &[Lead::Black, Lead::Red],
            _ => &[],
        }
    }
}

pub use crate::elements::lamp::Glow;
