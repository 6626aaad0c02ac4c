//! Which element values are accepted. Everything behind this gate may divide without looking.

use super::error::SolveError;
use super::network::{Attachment, Element, Network, NodeId};
use std::ops::RangeInclusive;

/// Below ten microohms a vehicle's voltage's last bit is more than a nanoampere, so that Kirchhoff's law could not be kept.
const OHMS: RangeInclusive<f64> = 1e-5..=1e12;
const EMF_V: RangeInclusive<f64> = -1e3..=1e3;
const LIMIT_A: RangeInclusive<f64> = 1e-6..=1e4;
const RATED_V: RangeInclusive<f64> = 0.1..=1e3;
const RATED_A: RangeInclusive<f64> = 1e-4..=1e3;
const COLD_FRACTION: RangeInclusive<f64> = 0.01..=0.99;
const SATURATION_A: RangeInclusive<f64> = 1e-20..=1e-3;
const JUNCTION_OHMS: RangeInclusive<f64> = 1e-5..=1e6;
const SLOPE_V: RangeInclusive<f64> = 0.01..=1.0;
const VOLTS_PER_RAD_S: RangeInclusive<f64> = 1e-6..=1e3;
const LOAD_NMS2: RangeInclusive<f64> = 1e-12..=1e3;
const COIL_A: RangeInclusive<f64> = 1e-9..=1e5;

pub(super) fn check_network(net: &Network) -> Result<(), SolveError> {
    (0..net.element_count()).try_for_each(|index| check_one(net, index))
}

pub(super) fn check_one(net: &Network, index: usize) -> Result<(), SolveError> {
    let element = &net.elements()[index];
    let problem = check_ends(net.structure().ends[index], net.node_count())
        .or_else(|| check_element(element))
        .or_else(|| check_coil(element, index, net));
    match problem {
        None => Ok(()),
        Some(problem) => {
            let element = net.element_name(super::ElementId(index as u32)).to_owned();
            Err(SolveError::BadValue { element, problem })
        }
    }
}

pub(super) fn check_tools(tools: &[Attachment], nodes: usize) -> Result<(), SolveError> {
    for (index, tool) in tools.iter().enumerate() {
        let problem = match tool.element {
            Element::Contact { .. } => {
                Some("is a relay contact, which cannot be put on as a tool".to_owned())
            }
            ref element => check_ends((tool.a, tool.b), nodes).or_else(|| check_element(element)),
        };
        if let Some(problem) = problem {
            return Err(SolveError::BadValue {
                element: tool_name(index),
                problem,
            });
        }
    }
    Ok(())
}

/// What a tool is called in messages.
pub(super) fn tool_name(index: usize) -> String {
    format!("tool {}", index + 1)
}

fn check_ends((a, b): (NodeId, NodeId), nodes: usize) -> Option<String> {
    let outside = [a, b].into_iter().find(|end| end.0 as usize >= nodes)?;
    Some(format!(
        "is connected to node number {}, but the network has only {nodes} nodes",
        outside.0
    ))
}

fn check_coil(element: &Element, index: usize, net: &Network) -> Option<String> {
    let Element::Contact { coil, .. } = element else {
        return None;
    };
    if coil.0 as usize == index {
        return Some("is a contact that names itself as its coil".to_owned());
    }
    if coil.0 as usize >= net.element_count() {
        return Some(format!(
            "names element number {} as its coil, but the network has only {} elements",
            coil.0,
            net.element_count()
        ));
    }
    None
}

fn check_element(element: &Element) -> Option<String> {
    match *element {
        Element::Open => None,
        Element::Resistor { ohms } => outside("a resistance", ohms, "ohms", &OHMS),
        Element::Source { emf_v, ohms } => outside("a source voltage", emf_v, "V", &EMF_V)
            .or_else(|| outside("an internal resistance", ohms, "ohms", &OHMS)),
        Element::LimitedSource { emf_v, ohms, limit_a } => outside("a source voltage", emf_v, "V", &EMF_V)
            .or_else(|| outside("an internal resistance", ohms, "ohms", &OHMS))
            .or_else(|| outside("a current limit", limit_a, "A", &LIMIT_A)),
        Element::Filament { rated_v, rated_a, cold_fraction } => outside("a rated voltage", rated_v, "V", &RATED_V)
            .or_else(|| outside("a rated current", rated_a, "A", &RATED_A))
            .or_else(|| outside("a rated resistance", rated_v / rated_a, "ohms", &OHMS))
            .or_else(|| outside("a cold resistance", rated_v / rated_a * cold_fraction, "ohms", &OHMS))
            .or_else(|| outside("a cold fraction", cold_fraction, "of the hot resistance", &COLD_FRACTION)),
        Element::Diode { saturation_a, slope_v, ohms } => {
            outside("a saturation current", saturation_a, "A", &SATURATION_A)
                .or_else(|| outside("a slope voltage", slope_v, "V", &SLOPE_V))
                .or_else(|| outside("a series resistance", ohms, "ohms", &JUNCTION_OHMS))
        }
        Element::FanMotor { ohms, volts_per_rad_s, load_nms2 } => outside("a winding resistance", ohms, "ohms", &OHMS)
            .or_else(|| outside("a back-EMF constant", volts_per_rad_s, "V·s/rad", &VOLTS_PER_RAD_S))
            .or_else(|| outside("a load constant", load_nms2, "N·m·s²", &LOAD_NMS2)),
        Element::Limiter { on_ohms, limit_a } => outside("a resistance", on_ohms, "ohms", &OHMS)
            .or_else(|| outside("a current limit", limit_a, "A", &LIMIT_A)),
        Element::Contact { pull_in_a, drop_out_a, ohms, .. } => outside("a contact resistance", ohms, "ohms", &OHMS)
            .or_else(|| outside("a pull-in current", pull_in_a, "A", &COIL_A))
            .or_else(|| outside("a drop-out current", drop_out_a, "A", &COIL_A))
            .or_else(|| {
                (drop_out_a > pull_in_a).then(|| {
                    format!("has a drop-out current of {drop_out_a} A, above its pull-in current of {pull_in_a} A")
                })
            }),
    }
}

/// Written so that "not a number" counts as outside.
fn outside(what: &str, value: f64, unit: &str, range: &RangeInclusive<f64>) -> Option<String> {
    if range.contains(&value) {
        return None;
    }
    Some(format!(
        "has {what} of {value} {unit}; it must lie between {} and {} {unit}",
        range.start(),
        range.end()
    ))
}
