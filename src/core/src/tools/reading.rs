//! How a tool joins the circuit, and what it shows for the solution.
//!
//! Knows nodes, volts and amperes; nothing of vehicles, places or hands.

use super::{Dial, Glow, ToolKind};
use crate::circuit::{Attachment, Element, NodeId, Solution};
use crate::elements::fuse::{BladeBody, Fuse};
use crate::elements::lamp::{LED_TEST_LIGHT, TEST_LIGHT};
use crate::elements::meter::{
    AMPS_FUSE_A, AMPS_SHUNT_OHMS, Function, LEADS_OHMS, Shown, VOLTS_INPUT_OHMS,
};

/// Resistance of a jumper lead with its clips, ohms (common practice, no source).
const JUMPER_OHMS: f64 = 0.01;
/// Fuse in the fused jumper, amperes.
pub const JUMPER_FUSE_A: f64 = 15.0;
/// Open-circuit voltage of the meter's ohms source.
const OHMS_SOURCE_V: f64 = crate::elements::meter::OHMS_SOURCE_V;
/// Foreign voltage, across [`OHMS_LOAD_OHMS`], above which an ohms reading means nothing.
const LIVE_V: f64 = 0.002;
/// What the lowest ohms range loads the circuit with. A voltage that this pulls down was no supply,
/// only leakage, and does not disturb the reading.
const OHMS_LOAD_OHMS: f64 = 500.0;

/// The fuse inside a tool, if it has one.
pub fn inline_fuse(tool: ToolKind, dial: Dial) -> Option<Fuse> {
    let amps = match (tool, dial) {
        (ToolKind::FusedJumper, _) => JUMPER_FUSE_A,
        (ToolKind::Meter, Dial::Amps) => AMPS_FUSE_A,
        _ => return None,
    };
    Fuse::new(BladeBody::Regular, amps).ok()
}

/// Elements a tool puts between its two leads. `first` is the clip, the black lead or end a.
pub fn attachments(
    tool: ToolKind,
    dial: Dial,
    blown: bool,
    first: NodeId,
    second: NodeId,
    series_ohms: f64,
) -> Vec<Attachment> {
    let between = |element| {
        vec![Attachment {
            a: second,
            b: first,
            element,
        }]
    };
    match tool {
        ToolKind::TestLight => between(Element::Filament {
            rated_v: TEST_LIGHT.rated_v,
            rated_a: TEST_LIGHT.rated_a,
            cold_fraction: crate::elements::lamp::COLD_FRACTION,
        }),
        ToolKind::LedLight => {
            // Two diodes back to back: it lights whichever way round it is held.
            let element = Element::Diode {
                saturation_a: LED_TEST_LIGHT.saturation_a,
                slope_v: LED_TEST_LIGHT.slope_v,
                ohms: LED_TEST_LIGHT.ohms,
            };
            vec![
                Attachment {
                    a: second,
                    b: first,
                    element,
                },
                Attachment {
                    a: first,
                    b: second,
                    element,
                },
            ]
        }
        ToolKind::FusedJumper if blown => Vec::new(),
        ToolKind::FusedJumper => {
            let fuse = inline_fuse(tool, dial).map_or(0.005, |f| f.cold_ohms());
            between(Element::Resistor {
                ohms: JUMPER_OHMS + fuse,
            })
        }
        ToolKind::PlainJumper => between(Element::Resistor { ohms: JUMPER_OHMS }),
        ToolKind::Meter => match dial {
            Dial::Off => Vec::new(),
            Dial::Volts => between(Element::Resistor {
                ohms: VOLTS_INPUT_OHMS,
            }),
            Dial::Amps if blown => Vec::new(),
            Dial::Amps => between(Element::Resistor {
                ohms: AMPS_SHUNT_OHMS,
            }),
            Dial::Ohms => between(Element::Source {
                emf_v: OHMS_SOURCE_V,
                ohms: series_ohms + LEADS_OHMS,
            }),
        },
        ToolKind::Breakout | ToolKind::Gauge | ToolKind::Lamp | ToolKind::Thermometer => Vec::new(),
    }
}

/// The ohms function with its source off, for finding a foreign voltage.
pub fn ohms_load(first: NodeId, second: NodeId) -> Attachment {
    Attachment {
        a: second,
        b: first,
        element: Element::Resistor {
            ohms: OHMS_LOAD_OHMS,
        },
    }
}

/// Brightness of a light: the eye's class and light output in percent of rated.
pub fn glow(
    tool: ToolKind,
    solution: &Solution,
    index: usize,
    first: NodeId,
    second: NodeId,
) -> (Glow, u8) {
    if tool == ToolKind::LedLight {
        let amps = solution
            .tool_current(index)
            .abs()
            .max(solution.tool_current(index + 1).abs());
        return (
            LED_TEST_LIGHT.glow(amps),
            percent(LED_TEST_LIGHT.relative_light(amps)),
        );
    }
    bulb(solution.difference(first, second).unwrap_or(0.0))
}

/// Brightness of a test light's bulb: the eye's class and light output in percent of rated.
pub fn bulb(volts: f64) -> (Glow, u8) {
    let light = TEST_LIGHT.relative_light(volts.abs());
    (Glow::of(light), percent(light))
}

fn percent(light: f64) -> u8 {
    libm::round(100.0 * light.clamp(0.0, 2.0)) as u8
}

/// What the meter measures, before its display.
#[derive(Clone, Debug, PartialEq)]
pub enum Measured {
    /// Volts, ohms or amperes.
    Value(f64),
    /// No current flows out of the ohms source.
    Open,
    /// A foreign voltage drives the ohms reading.
    Foreign(f64),
}

/// Reads the meter's jacks. On ohms, `foreign_v` is the voltage found there before the test source
/// was switched on.
pub fn measure(
    dial: Dial,
    solution: &Solution,
    index: usize,
    red: NodeId,
    black: NodeId,
    foreign_v: f64,
) -> Measured {
    let volts = solution.difference(red, black).unwrap_or(0.0);
    match dial {
        Dial::Off | Dial::Volts => Measured::Value(volts),
        Dial::Amps => Measured::Value(solution.tool_current(index)),
        Dial::Ohms => {
            // The source pushes current out of the red jack: into node `red`.
            let amps = -solution.tool_current(index);
            let ohms = crate::elements::meter::ohms_from(volts + LEADS_OHMS * amps, amps);
            if foreign_v.abs() > LIVE_V {
                Measured::Foreign(if ohms.is_finite() { ohms } else { 0.0 })
            } else if ohms.is_finite() {
                Measured::Value(ohms)
            } else {
                Measured::Open
            }
        }
    }
}

/// The meter's function for a dial position.
pub fn function(dial: Dial) -> Option<Function> {
    match dial {
        Dial::Off => None,
        Dial::Volts => Some(Function::Volts),
        Dial::Ohms => Some(Function::Ohms),
        Dial::Amps => Some(Function::Amps),
    }
}

/// Number and decimals of a display, if it is not overloaded.
pub fn number(shown: Shown) -> Option<(f64, u8)> {
    match shown {
        Shown::Number { decimals, .. } => Some((shown.value()?, decimals.clamp(0, 9) as u8)),
        Shown::Overload => None,
    }
}
