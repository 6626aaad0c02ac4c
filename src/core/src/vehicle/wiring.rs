//! From a vehicle to a network of two-terminal elements.
//!
//! Every pin has two nodes, the part's side and the harness side, with the contact between them as
//! an element of its own: that is where connectors come off, terminals spread and corrosion sits.
//! [`Wired::refresh`] sets the values that follow from hands and faults; what changes with time
//! (switching outputs, sensors, temperatures) is set by [`crate::session`].

mod build;
mod refresh;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::hardware::{Hardware, WET_STEPS};
use super::{Vehicle, split_pin, unit_file};
use crate::circuit::{Element, ElementId, Network, NodeId, Solution};
use crate::elements::water;
use crate::fault::Wrong;
use refresh::refresh_device;

/// A pin's two sides and the contact between them.
#[derive(Clone, Debug)]
pub struct Pin {
    /// The part's side.
    pub inner: NodeId,
    /// The harness side: terminal or cavity.
    pub terminal: NodeId,
    joint: ElementId,
    joint_ohms: f64,
    /// The part's node this terminal meets; not its own blade on a relay put in turned.
    meets: NodeId,
    part: String,
    /// Connector that holds it, if any.
    pub connector: Option<String>,
}

/// A wire's element.
#[derive(Clone, Debug)]
struct WireElement {
    element: ElementId,
    ohms: f64,
}

/// Two terminals that a fault makes meet each other's counterpart.
#[derive(Clone, Debug)]
struct Crossing {
    /// Index of the fault.
    fault: usize,
    /// The two pins.
    pins: [String; 2],
    /// Contacts from each pin's terminal to what the other's terminal meets.
    across: [ElementId; 2],
}

/// What a part is in the network.
#[derive(Clone, Debug)]
#[allow(missing_docs)]
pub enum Device {
    Battery {
        source: ElementId,
    },
    Alternator {
        source: ElementId,
    },
    Switch {
        control: String,
        ways: Vec<(ElementId, Vec<String>)>,
    },
    PressureSwitch {
        element: ElementId,
    },
    Fuse {
        element: ElementId,
        amps: f64,
        ohms: f64,
    },
    Relay {
        coil: ElementId,
        make: ElementId,
        rest: Option<ElementId>,
        forward: ElementId,
        backward: ElementId,
    },
    Clutch {
        coil: ElementId,
        forward: ElementId,
        backward: ElementId,
    },
    Motor {
        element: ElementId,
    },
    Lamp {
        element: ElementId,
    },
    Resistor {
        element: ElementId,
    },
    PressureSensor {
        draw: ElementId,
        output: ElementId,
        supply: NodeId,
        ground: NodeId,
        signal: NodeId,
    },
    Thermistor {
        element: ElementId,
    },
    ControlUnit(UnitDevice),
    Joints,
}

/// A control unit's elements and nodes.
#[derive(Clone, Debug)]
pub struct UnitDevice {
    /// Supply node, part side.
    pub supply: NodeId,
    /// Ground node, part side.
    pub ground: NodeId,
    /// Reference source element and its volts, ohms, limit.
    pub reference: Option<ElementId>,
    /// Input nodes by name.
    pub inputs: BTreeMap<String, NodeId>,
    /// Output elements by name.
    pub outputs: BTreeMap<String, ElementId>,
}

/// A vehicle as a network, with the way back from names to nodes and elements.
#[derive(Clone, Debug)]
pub struct Wired {
    /// The network.
    pub network: Network,
    /// Raised whenever an element's value changes.
    pub revision: u64,
    /// Pins by `part.pin`.
    pub pins: Arc<BTreeMap<String, Pin>>,
    wires: Arc<BTreeMap<String, WireElement>>,
    shorts: Arc<Vec<Option<(ElementId, f64)>>>,
    crossings: Arc<Vec<Crossing>>,
    /// Devices by part id.
    pub devices: Arc<BTreeMap<String, Device>>,
    /// Body shell.
    pub body: NodeId,
    /// Engine block.
    pub engine: NodeId,
    /// A node that is connected to nothing: painted metal.
    pub paint: NodeId,
    /// The inside of the battery's positive post.
    pub battery_positive: NodeId,
    /// What the wiring and the relays' coils are warmed to.
    ambient_c: f64,
}

/// Which terminal sits at which position of each relay socket: terminals in reading order from
/// above. Drawn by the seed.
pub type Arrangements = BTreeMap<String, Vec<String>>;

/// Spread of a value from car to car: −1 to 1 for each part, wire and pin name.
pub type Tolerance<'a> = &'a dyn Fn(&str) -> f64;

const SWITCH_OHMS: f64 = 0.01;
const SENSOR_DRAW_OHMS: f64 = 1_200.0;
const SENSOR_OUTPUT_OHMS: f64 = 120.0;
const UNPOWERED_OHMS: f64 = 10_000.0;
/// Insulation between neighbouring terminals of a plug or socket, dry and some years old. New
/// connectors are accepted from 100 MΩ at 500 V (from memory) and measure far above that. It is why
/// a meter of 10 MΩ never reads quite nothing on a wire that hangs in the air.
const INSULATION_OHMS: f64 = 2e9;

/// Diode of a relay or clutch: a small silicon rectifier (handbook values, from memory).
fn rectifier() -> Element {
    Element::Diode {
        saturation_a: 1e-9,
        slope_v: 0.045,
        ohms: 0.05,
    }
}

impl Wired {
    /// Gives an element a value; notes whether that changed anything.
    pub fn set(&mut self, id: ElementId, element: Element) {
        if *self.network.element(id) != element {
            self.network.set(id, element);
            self.revision += 1;
        }
    }

    /// Sets everything that follows from hands, faults and damage.
    pub fn refresh(&mut self, vehicle: &Vehicle, hw: &Hardware) {
        self.revision += 1;
        self.refresh_joints(hw);
        self.refresh_crossings(hw);
        for (id, w) in self.wires.iter() {
            let mut element = Element::Resistor { ohms: w.ohms };
            for wrong in hw.acting(id) {
                match wrong {
                    Wrong::Open => element = Element::Open,
                    Wrong::Resistance(extra) => {
                        element = Element::Resistor {
                            ohms: w.ohms + extra,
                        }
                    }
                    _ => {}
                }
            }
            self.network.set(w.element, element);
        }
        for (state, short) in hw.faults.iter().zip(self.shorts.iter()) {
            if let Some((element, ohms)) = short {
                let there = !state.mended && !state.away;
                // A leak is as good as its film of water is thick.
                let ohms = match state.fault.what {
                    Wrong::LeakTo(..) => {
                        let share = f64::from(state.wet_steps) / f64::from(WET_STEPS);
                        water::leak_ohms(*ohms, share)
                    }
                    _ => Some(*ohms),
                };
                self.network.set(
                    *element,
                    match ohms {
                        Some(ohms) if there => Element::Resistor { ohms },
                        _ => Element::Open,
                    },
                );
            }
        }
        // Both in the order of their names.
        let mut parts = vehicle.parts.iter();
        for (id, device) in self.devices.iter() {
            let kind = &parts
                .find(|(part, _)| *part == id)
                .expect("made from these parts")
                .1
                .kind;
            refresh_device(&mut self.network, id, device, kind, hw, self.ambient_c);
        }
    }

    fn refresh_joints(&mut self, hw: &Hardware) {
        let out: Vec<&str> = hw
            .slots
            .iter()
            .filter(|(_, slot)| slot.out)
            .map(|(part, _)| part.as_str())
            .collect();
        for (name, pin) in self.pins.iter() {
            let mut open = out.iter().any(|part| *part == pin.part);
            let mut ohms = pin.joint_ohms;
            if let Some(connector) = &pin.connector {
                open |= hw.unplugged.contains(connector);
                open |= hw
                    .acting(connector)
                    .any(|w| matches!(w, Wrong::NotSeated | Wrong::Open));
            }
            for wrong in hw.acting(name) {
                match wrong {
                    Wrong::Open | Wrong::PushedBack => open = true,
                    Wrong::Resistance(extra) | Wrong::Spread(extra) => ohms += extra,
                    _ => {}
                }
            }
            self.network.set(
                pin.joint,
                if open {
                    Element::Open
                } else {
                    Element::Resistor { ohms }
                },
            );
        }
    }

    /// Crossed terminals meet each other's counterpart instead of their own.
    fn refresh_crossings(&mut self, hw: &Hardware) {
        for crossing in self.crossings.iter() {
            let state = &hw.faults[crossing.fault];
            // A known-good spare in the slot of a look-alike is the right relay.
            let acts = !state.mended
                && !state.away
                && (state.fault.what != Wrong::LookAlike
                    || hw
                        .acting_in_part(&state.fault.at)
                        .any(|w| *w == Wrong::LookAlike));
            for (pin, across) in crossing.pins.iter().zip(crossing.across) {
                let own = self.pins[pin].joint;
                let value = *self.network.element(own);
                self.network
                    .set(across, if acts { value } else { Element::Open });
                if acts {
                    self.network.set(own, Element::Open);
                }
            }
        }
    }

    /// The contact element of a pin.
    pub fn joint(&self, pin: &str) -> Option<ElementId> {
        self.pins.get(pin).map(|p| p.joint)
    }

    /// The largest current through a terminal of a part, or of a plug, amperes.
    pub fn carried(&self, of: &str, solution: &Solution) -> f64 {
        self.pins
            .values()
            .filter(|pin| pin.part == of || pin.connector.as_deref() == Some(of))
            .map(|pin| solution.current(pin.joint).abs())
            .fold(0.0, f64::max)
    }

    /// The element of a wire.
    pub fn wire(&self, id: &str) -> Option<ElementId> {
        self.wires.get(id).map(|w| w.element)
    }
}

/// What a powered sensor's output is: the fraction `ratio` of its supply.
pub fn sensor_output(supply_v: f64, ratio: f64) -> Element {
    if supply_v < 3.0 {
        Element::Resistor {
            ohms: UNPOWERED_OHMS,
        }
    } else {
        Element::Source {
            emf_v: ratio * supply_v,
            ohms: SENSOR_OUTPUT_OHMS,
        }
    }
}

/// What a unit's reference is, powered or not.
pub fn reference_source(data: Option<&unit_file::Reference>, powered: bool) -> Element {
    match data {
        _ if !powered => Element::Resistor {
            ohms: UNPOWERED_OHMS,
        },
        Some(r) => Element::LimitedSource {
            emf_v: r.volts,
            ohms: r.ohms,
            limit_a: r.limit_a,
        },
        None => Element::LimitedSource {
            emf_v: 5.0,
            ohms: 1.0,
            limit_a: 0.1,
        },
    }
}

/// The pin a fault's place names, for wires their `to` end.
pub fn fault_pin<'a>(vehicle: &'a Vehicle, at: &'a str) -> Option<&'a str> {
    if let Some(w) = vehicle.wires.get(at) {
        return Some(&w.to);
    }
    split_pin(at).map(|_| at)
}
