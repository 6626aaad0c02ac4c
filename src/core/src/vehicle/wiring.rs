//! From a vehicle to a network of two-terminal elements.
//!
//! Every pin has two nodes, the part's side and the harness side, with the contact between them as
//! an element of its own: that is where connectors come off, terminals spread and corrosion sits.
//! [`Wired::refresh`] sets the values that follow from hands and faults; what changes with time
//! (switching outputs, sensors, temperatures) is set by [`crate::session`].

use std::collections::BTreeMap;
use std::sync::Arc;

use super::hardware::Hardware;
use super::{Kind, Metal, Suppression, Vehicle, split_pin, unit_file};
use crate::circuit::{Element, ElementId, Network, NodeId, Solution};
use crate::elements::{copper, relay, wire};
use crate::fault::Wrong;

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

/// The terminal that lands in the cavity of `terminal` when a relay is put in turned half round.
fn opposite(arrangements: &Arrangements, part: &str, terminal: &str) -> String {
    let Some(order) = arrangements.get(part) else {
        return terminal.to_owned();
    };
    match order.iter().position(|t| t == terminal) {
        Some(i) => order[order.len() - 1 - i].clone(),
        None => terminal.to_owned(),
    }
}

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

struct Builder<'a> {
    network: Network,
    pins: BTreeMap<String, Pin>,
    vehicle: &'a Vehicle,
    hardware: &'a Hardware,
    arrangements: &'a Arrangements,
    connector_of: BTreeMap<&'a str, &'a str>,
    tolerance: Tolerance<'a>,
    ambient_c: f64,
    body: NodeId,
    engine: NodeId,
}

impl Builder<'_> {
    fn pin(&mut self, part: &str, pin: &str, inner: NodeId) {
        self.pin_meeting(part, pin, inner, inner);
    }

    /// Adds a pin whose harness side meets `meets` instead of its own blade.
    fn pin_meeting(&mut self, part: &str, pin: &str, inner: NodeId, meets: NodeId) {
        let name = format!("{part}.{pin}");
        let base = match self.vehicle.parts[part].kind {
            Kind::Battery { .. } => 0.000_3,
            Kind::GroundStud { .. } | Kind::BusBar { .. } => 0.000_4,
            Kind::Splice { .. } => 0.000_2,
            Kind::Fuse { .. } | Kind::Relay(_) => 0.001_5,
            _ => 0.003,
        };
        let ohms = base * (1.0 + 0.3 * (self.tolerance)(&name));
        let terminal = self.network.node(&name);
        let joint = self.network.add(
            &format!("contact {name}"),
            terminal,
            meets,
            Element::Resistor { ohms },
        );
        self.pins.insert(
            name.clone(),
            Pin {
                inner,
                terminal,
                joint,
                joint_ohms: ohms,
                meets,
                part: part.to_owned(),
                connector: self
                    .connector_of
                    .get(name.as_str())
                    .map(|c| (*c).to_owned()),
            },
        );
    }

    /// Adds the contacts of crossed terminals. Only a fault makes any, so a car without one has
    /// exactly the network it always had.
    fn crossings(&mut self) -> Vec<Crossing> {
        let mut crossings = Vec::new();
        for (fault, state) in self.hardware.faults.iter().enumerate() {
            let at = &state.fault.at;
            let pins = match &state.fault.what {
                Wrong::CrossedWith(other) => [at.clone(), other.clone()],
                // The relay's own blades 30 and 86 have changed places: so have what their
                // cavities meet, in whichever way it was put in.
                Wrong::LookAlike => {
                    let turned = self.hardware.slots.get(at).is_some_and(|s| s.turned);
                    ["30", "86"].map(|t| {
                        let cavity = if turned {
                            opposite(self.arrangements, at, t)
                        } else {
                            t.to_owned()
                        };
                        format!("{at}.{cavity}")
                    })
                }
                _ => continue,
            };
            let (Some(a), Some(b)) = (self.pins.get(&pins[0]), self.pins.get(&pins[1])) else {
                continue;
            };
            let ends = [(a.terminal, b.meets), (b.terminal, a.meets)];
            let across = ends.map(|(terminal, meets)| {
                let name = format!("crossed at {at}");
                self.network.add(&name, terminal, meets, Element::Open)
            });
            crossings.push(Crossing {
                fault,
                pins,
                across,
            });
        }
        crossings
    }

    fn own_pin(&mut self, part: &str, pin: &str) -> NodeId {
        let inner = self.network.node(&format!("{part}:{pin}"));
        self.pin(part, pin, inner);
        inner
    }

    fn two(&mut self, part: &str, element: Element) -> (NodeId, NodeId, ElementId) {
        let a = self.own_pin(part, "1");
        let b = self.own_pin(part, "2");
        (a, b, self.network.add(part, a, b, element))
    }
}

impl Wired {
    /// Builds the network of a vehicle. The vehicle must have passed its checks. `faults` are the
    /// faults whose shorts need an element of their own.
    pub fn build(
        vehicle: &Vehicle,
        hardware: &Hardware,
        arrangements: &Arrangements,
        tolerance: Tolerance<'_>,
        ambient_c: f64,
    ) -> Wired {
        let mut network = Network::new();
        let body = network.node("body");
        let engine = network.node("engine block");
        let paint = network.node("paint");
        let mut connector_of = BTreeMap::new();
        for (id, connector) in &vehicle.connectors {
            for pin in &connector.pins {
                connector_of.insert(pin.as_str(), id.as_str());
            }
        }
        let mut b = Builder {
            network,
            pins: BTreeMap::new(),
            vehicle,
            hardware,
            arrangements,
            connector_of,
            tolerance,
            ambient_c,
            body,
            engine,
        };
        let mut devices = BTreeMap::new();
        let mut battery_positive = NodeId::GROUND;
        for (id, part) in &vehicle.parts {
            let device = b.device(id, &part.kind);
            if let Kind::Battery { .. } = part.kind {
                battery_positive = b.pins[&format!("{id}.pos")].inner;
            }
            devices.insert(id.clone(), device);
        }
        let mut wires = BTreeMap::new();
        for (id, w) in &vehicle.wires {
            let spread = 1.0 + 0.05 * tolerance(id);
            let ohms = wire::ohms_per_km(w.mm2, ambient_c) / 1000.0 * w.length_m * spread;
            let (from, to) = (b.pins[&w.from].terminal, b.pins[&w.to].terminal);
            let element = b.network.add(id, from, to, Element::Resistor { ohms });
            wires.insert(id.clone(), WireElement { element, ohms });
        }
        let mut shorts = Vec::new();
        for state in &hardware.faults {
            let other = match state.fault.what {
                Wrong::ShortToGround(ohms) => Some((body, ohms)),
                Wrong::ShortToSupply(ohms) => Some((battery_positive, ohms)),
                _ => None,
            };
            shorts.push(other.and_then(|(node, ohms)| {
                let at = &state.fault.at;
                let name = vehicle.wires.get(at).map_or(at.as_str(), |w| w.to.as_str());
                // A short inside a part goes with its plug; one in a wire or terminal stays.
                let terminal = match vehicle.parts.get(at) {
                    Some(part) => b.pins.get(&format!("{at}.{}", part.kind.pins()[0]))?.inner,
                    None => b.pins.get(name)?.terminal,
                };
                let id = b
                    .network
                    .add(&format!("short at {at}"), terminal, node, Element::Open);
                Some((id, ohms))
            }));
        }
        b.insulate();
        let crossings = b.crossings();
        let mut wired = Wired {
            network: b.network,
            revision: 0,
            pins: Arc::new(b.pins),
            wires: Arc::new(wires),
            shorts: Arc::new(shorts),
            crossings: Arc::new(crossings),
            devices: Arc::new(devices),
            body,
            engine,
            paint,
            battery_positive,
            ambient_c,
        };
        wired.refresh(vehicle, hardware);
        wired
    }

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
                self.network.set(
                    *element,
                    if there {
                        Element::Resistor { ohms: *ohms }
                    } else {
                        Element::Open
                    },
                );
            }
        }
        for (id, device) in self.devices.iter() {
            let kind = &vehicle.parts[id].kind;
            refresh_device(&mut self.network, id, device, kind, hw, self.ambient_c);
        }
    }

    fn refresh_joints(&mut self, hw: &Hardware) {
        for (name, pin) in self.pins.iter() {
            let mut open = hw.is_out(&pin.part);
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

/// Sets a device's elements from hands, faults and damage. Values that move with time start from
/// their resting value here and are set again by the session's next tick.
fn refresh_device(
    network: &mut Network,
    id: &str,
    device: &Device,
    kind: &Kind,
    hw: &Hardware,
    ambient_c: f64,
) {
    // Resistance added inside the part, by corrosion or worn brushes.
    let extra: f64 = hw
        .acting_in_part(id)
        .map(|w| {
            if let Wrong::Resistance(r) = w {
                *r
            } else {
                0.0
            }
        })
        .sum();
    match (device, kind) {
        (Device::Switch { control, ways }, _) => {
            let position = hw.controls.get(control).map_or("", String::as_str);
            let stuck_open = hw
                .acting(id)
                .chain(hw.acting(control))
                .any(|w| matches!(w, Wrong::StuckOpen | Wrong::Open));
            let stuck_closed = hw
                .acting(id)
                .chain(hw.acting(control))
                .any(|w| matches!(w, Wrong::StuckClosed));
            for (element, closed_in) in ways {
                let closed =
                    (closed_in.iter().any(|p| p == position) || stuck_closed) && !stuck_open;
                network.set(
                    *element,
                    if closed {
                        Element::Resistor {
                            ohms: SWITCH_OHMS + extra,
                        }
                    } else {
                        Element::Open
                    },
                );
            }
        }
        (Device::Fuse { element, ohms, .. }, _) => {
            let gone = hw
                .slots
                .get(id)
                .is_some_and(super::hardware::SlotState::blown)
                || hw
                    .acting_in_part(id)
                    .any(|w| matches!(w, Wrong::Blown | Wrong::Open));
            network.set(
                *element,
                if gone {
                    Element::Open
                } else {
                    Element::Resistor { ohms: ohms + extra }
                },
            );
        }
        (
            Device::Relay {
                coil,
                make,
                rest,
                forward,
                backward,
            },
            Kind::Relay(spec),
        ) => {
            let data = relay_values(spec);
            let coil_ohms = spec.coil_ohms * copper::factor(ambient_c);
            let mut coil_element = Element::Resistor { ohms: coil_ohms };
            let mut make_element = data.contact(*coil, false);
            let mut rest_element = data.contact(*coil, true);
            let (mut there, mut reversed) = (spec.suppression == Suppression::Diode, false);
            for wrong in hw.acting_in_part(id) {
                match wrong {
                    Wrong::CoilOpen | Wrong::Open => coil_element = Element::Open,
                    Wrong::CoilShorted(f) => {
                        coil_element = Element::Resistor {
                            ohms: coil_ohms * f,
                        };
                        // Turns that are bridged no longer pull: more current for the same
                        // ampere-turns.
                        for contact in [&mut make_element, &mut rest_element] {
                            if let Element::Contact {
                                pull_in_a,
                                drop_out_a,
                                ..
                            } = contact
                            {
                                *pull_in_a /= f;
                                *drop_out_a /= f;
                            }
                        }
                    }
                    Wrong::ContactsOpen => make_element = Element::Open,
                    Wrong::ContactsBurnt(r) => {
                        if let Element::Contact { ohms, .. } = &mut make_element {
                            *ohms += r;
                        }
                    }
                    Wrong::ContactsWelded => {
                        make_element = Element::Resistor {
                            ohms: data.contact_ohms,
                        };
                        rest_element = Element::Open;
                    }
                    Wrong::DiodeReversed => reversed = true,
                    Wrong::DiodeOpen => there = false,
                    _ => {}
                }
            }
            network.set(*coil, coil_element);
            network.set(*make, make_element);
            if let Some(rest) = rest {
                network.set(*rest, rest_element);
            }
            let resistor = match spec.suppression {
                Suppression::Resistor(ohms) => Element::Resistor { ohms },
                _ => Element::Open,
            };
            network.set(
                *forward,
                if there && !reversed {
                    rectifier()
                } else {
                    resistor
                },
            );
            network.set(
                *backward,
                if there && reversed {
                    rectifier()
                } else {
                    Element::Open
                },
            );
        }
        (
            Device::Clutch {
                coil,
                forward,
                backward,
            },
            Kind::ClutchCoil { ohms, diode, .. },
        ) => {
            let (mut there, mut reversed) = (*diode, false);
            let mut element = Element::Resistor { ohms: *ohms };
            for wrong in hw.acting_in_part(id) {
                match wrong {
                    Wrong::CoilOpen | Wrong::Open => element = Element::Open,
                    Wrong::CoilShorted(f) => element = Element::Resistor { ohms: ohms * f },
                    Wrong::DiodeReversed => reversed = true,
                    Wrong::DiodeOpen => there = false,
                    _ => {}
                }
            }
            network.set(*coil, element);
            network.set(
                *forward,
                if there && !reversed {
                    rectifier()
                } else {
                    Element::Open
                },
            );
            network.set(
                *backward,
                if there && reversed {
                    rectifier()
                } else {
                    Element::Open
                },
            );
        }
        (
            Device::Motor { element },
            Kind::Motor {
                rated_v,
                rated_a,
                stall_a,
                rated_rpm,
                ..
            },
        ) => {
            let mut value = motor_element(*rated_v, *rated_a, *stall_a, *rated_rpm);
            for wrong in hw.acting_in_part(id) {
                match wrong {
                    Wrong::Open | Wrong::CoilOpen => value = Element::Open,
                    Wrong::Seized => {
                        value = Element::Resistor {
                            ohms: rated_v / stall_a,
                        }
                    }
                    // Fewer turns: less copper, and less back-EMF for the same speed.
                    Wrong::CoilShorted(f) => {
                        if let Element::FanMotor {
                            ohms,
                            volts_per_rad_s,
                            ..
                        } = &mut value
                        {
                            *ohms *= f;
                            *volts_per_rad_s *= f;
                        }
                    }
                    _ => {}
                }
            }
            if let Element::FanMotor { ohms, .. } | Element::Resistor { ohms } = &mut value {
                *ohms += extra;
            }
            network.set(*element, value);
        }
        (Device::Lamp { element }, Kind::Lamp { rated_v, rated_w }) => {
            let gone = hw
                .acting_in_part(id)
                .any(|w| matches!(w, Wrong::Open | Wrong::Blown));
            let lamp = Element::Filament {
                rated_v: *rated_v,
                rated_a: rated_w / rated_v,
                cold_fraction: 0.1,
            };
            network.set(*element, if gone { Element::Open } else { lamp });
        }
        (Device::Resistor { element }, Kind::Resistor { ohms, .. }) => {
            let open = hw.acting_in_part(id).any(|w| matches!(w, Wrong::Open));
            let value = Element::Resistor { ohms: ohms + extra };
            network.set(*element, if open { Element::Open } else { value });
        }
        _ => {}
    }
}

/// A relay's electrical values.
pub struct RelayValues {
    pull_in_a: f64,
    drop_out_a: f64,
    contact_ohms: f64,
}

impl RelayValues {
    fn contact(&self, coil: ElementId, closed_at_rest: bool) -> Element {
        Element::Contact {
            coil,
            pull_in_a: self.pull_in_a,
            drop_out_a: self.drop_out_a,
            closed_at_rest,
            ohms: self.contact_ohms,
        }
    }
}

fn relay_values(spec: &super::Relay) -> RelayValues {
    RelayValues {
        pull_in_a: spec.pull_in_v / spec.coil_ohms,
        drop_out_a: spec.drop_out_v / spec.coil_ohms,
        contact_ohms: relay::GOOD_CONTACT_OHMS,
    }
}

/// A motor with a fan or pump on it, from the figures of a data sheet: winding resistance from the
/// stalled current, back-EMF constant and load from the running point.
fn motor_element(rated_v: f64, rated_a: f64, stall_a: f64, rated_rpm: f64) -> Element {
    let ohms = rated_v / stall_a;
    let speed = rated_rpm * core::f64::consts::TAU / 60.0;
    let volts_per_rad_s = (rated_v - rated_a * ohms) / speed;
    Element::FanMotor {
        ohms,
        volts_per_rad_s,
        load_nms2: volts_per_rad_s * rated_a / (speed * speed),
    }
}

impl Builder<'_> {
    fn device(&mut self, id: &str, kind: &Kind) -> Device {
        match kind {
            Kind::Battery { .. } => {
                let pos = self.own_pin(id, "pos");
                self.pin(id, "neg", NodeId::GROUND);
                let source = self.network.add(
                    id,
                    pos,
                    NodeId::GROUND,
                    Element::Source {
                        emf_v: 12.6,
                        ohms: 0.01,
                    },
                );
                Device::Battery { source }
            }
            Kind::Alternator { .. } => {
                let out = self.own_pin(id, "out");
                let case = self.engine;
                self.pin(id, "body", case);
                Device::Alternator {
                    source: self.network.add(id, out, case, Element::Open),
                }
            }
            Kind::Switch { control, ways } => {
                let mut nodes = BTreeMap::new();
                for pin in kind.pins() {
                    let node = self.own_pin(id, &pin);
                    nodes.insert(pin, node);
                }
                let ways = ways
                    .iter()
                    .enumerate()
                    .map(|(i, w)| {
                        let name = format!("{id} way {}", i + 1);
                        let element =
                            self.network
                                .add(&name, nodes[&w.from], nodes[&w.to], Element::Open);
                        (element, w.closed_in.clone())
                    })
                    .collect();
                Device::Switch {
                    control: control.clone(),
                    ways,
                }
            }
            Kind::PressureSwitch { .. } => Device::PressureSwitch {
                element: self.two(id, Element::Open).2,
            },
            Kind::Fuse { amps, .. } => {
                let ohms = super::fuse_cold_ohms(kind) * (1.0 + 0.05 * (self.tolerance)(id));
                Device::Fuse {
                    element: self.two(id, Element::Resistor { ohms }).2,
                    amps: *amps,
                    ohms,
                }
            }
            Kind::Relay(spec) => self.relay(id, spec),
            Kind::ClutchCoil { ohms, .. } => {
                let (a, b, coil) = self.two(id, Element::Resistor { ohms: *ohms });
                let forward = self
                    .network
                    .add(&format!("{id} diode"), b, a, Element::Open);
                let backward =
                    self.network
                        .add(&format!("{id} diode reversed"), a, b, Element::Open);
                Device::Clutch {
                    coil,
                    forward,
                    backward,
                }
            }
            Kind::Motor { .. } => Device::Motor {
                element: self.two(id, Element::Open).2,
            },
            Kind::Lamp { .. } => Device::Lamp {
                element: self.two(id, Element::Open).2,
            },
            Kind::Resistor { ohms, .. } => Device::Resistor {
                element: self.two(id, Element::Resistor { ohms: *ohms }).2,
            },
            Kind::PressureSensor { .. } => {
                let supply = self.own_pin(id, "supply");
                let ground = self.own_pin(id, "ground");
                let signal = self.own_pin(id, "signal");
                let draw = self.network.add(
                    &format!("{id} draw"),
                    supply,
                    ground,
                    Element::Resistor {
                        ohms: SENSOR_DRAW_OHMS,
                    },
                );
                let output = self.network.add(
                    &format!("{id} output"),
                    signal,
                    ground,
                    Element::Resistor {
                        ohms: UNPOWERED_OHMS,
                    },
                );
                Device::PressureSensor {
                    draw,
                    output,
                    supply,
                    ground,
                    signal,
                }
            }
            Kind::Thermistor { ohms_25c, .. } => Device::Thermistor {
                element: self.two(id, Element::Resistor { ohms: *ohms_25c }).2,
            },
            Kind::ControlUnit(unit) => self.unit(id, unit),
            Kind::GroundStud { on, lugs } => {
                let metal = match on {
                    Metal::Body => self.body,
                    Metal::Engine => self.engine,
                };
                for i in 1..=*lugs {
                    self.pin(id, &i.to_string(), metal);
                }
                Device::Joints
            }
            Kind::Splice { ways } | Kind::BusBar { ways } => {
                let node = self.network.node(id);
                for i in 1..=*ways {
                    self.pin(id, &i.to_string(), node);
                }
                Device::Joints
            }
            Kind::Inline { cavities } => {
                for i in 1..=*cavities {
                    let node = self.network.node(&format!("{id} cavity {i}"));
                    self.pin(id, &format!("{i}a"), node);
                    self.pin(id, &format!("{i}b"), node);
                }
                Device::Joints
            }
        }
    }

    /// Neighbours in a plug or socket leak into each other a little.
    fn insulate(&mut self) {
        let mut rows: Vec<(String, Vec<String>)> = Vec::new();
        for (id, connector) in &self.vehicle.connectors {
            rows.push((id.clone(), connector.pins.clone()));
        }
        for slot in self.vehicle.boxes.values().flat_map(|b| &b.slots) {
            if let Some(order) = self.arrangements.get(&slot.part) {
                let pins = order.iter().map(|t| format!("{}.{t}", slot.part));
                rows.push((slot.part.clone(), pins.collect()));
            }
        }
        for (id, pins) in rows {
            for pair in pins.windows(2) {
                let ends = [&pair[0], &pair[1]].map(|pin| self.pins.get(pin).map(|p| p.terminal));
                if let [Some(a), Some(b)] = ends {
                    let leak = Element::Resistor {
                        ohms: INSULATION_OHMS,
                    };
                    self.network.add(&format!("insulation of {id}"), a, b, leak);
                }
            }
        }
    }

    fn relay(&mut self, id: &str, spec: &super::Relay) -> Device {
        let blades: BTreeMap<&str, NodeId> = spec
            .terminals()
            .iter()
            .map(|t| (*t, self.network.node(&format!("{id}:{t}"))))
            .collect();
        let turned = self.hardware.slots.get(id).is_some_and(|s| s.turned);
        for t in spec.terminals() {
            let meets = if turned {
                opposite(self.arrangements, id, t)
            } else {
                (*t).to_owned()
            };
            self.pin_meeting(id, t, blades[t], blades[meets.as_str()]);
        }
        let (t30, t85, t86, t87) = (blades["30"], blades["85"], blades["86"], blades["87"]);
        let coil = self.network.add(
            &format!("{id} coil"),
            t86,
            t85,
            Element::Resistor {
                ohms: spec.coil_ohms * copper::factor(self.ambient_c),
            },
        );
        let values = relay_values(spec);
        let make = self.network.add(
            &format!("{id} contact"),
            t30,
            t87,
            values.contact(coil, false),
        );
        let rest = spec.changeover.then(|| {
            self.network.add(
                &format!("{id} rest contact"),
                t30,
                blades["87a"],
                values.contact(coil, true),
            )
        });
        let forward = self
            .network
            .add(&format!("{id} suppression"), t85, t86, Element::Open);
        let backward = self.network.add(
            &format!("{id} suppression reversed"),
            t86,
            t85,
            Element::Open,
        );
        Device::Relay {
            coil,
            make,
            rest,
            forward,
            backward,
        }
    }

    fn unit(&mut self, id: &str, unit: &unit_file::ControlUnit) -> Device {
        let mut nodes: BTreeMap<String, NodeId> = BTreeMap::new();
        for pin in Kind::ControlUnit(Box::new(unit.clone())).pins() {
            let node = self.own_pin(id, &pin);
            nodes.insert(pin, node);
        }
        let (supply, ground) = (nodes[&unit.supply], nodes[&unit.ground]);
        self.network.add(
            &format!("{id} draw"),
            supply,
            ground,
            Element::Resistor {
                ohms: unit.idle_ohms,
            },
        );
        let five = match &unit.reference {
            Some(r) => nodes[&r.pin],
            None => self.network.node(&format!("{id} 5 V inside")),
        };
        let needs_five = unit.reference.is_some()
            || unit
                .inputs
                .values()
                .any(|i| matches!(i.bias, unit_file::Bias::PullUp5(_)));
        let reference = needs_five.then(|| {
            self.network.add(
                &format!("{id} reference"),
                five,
                ground,
                Element::Resistor {
                    ohms: UNPOWERED_OHMS,
                },
            )
        });
        if let Some(pin) = &unit.sensor_ground {
            self.network.add(
                &format!("{id} sensor ground"),
                nodes[pin],
                ground,
                Element::Resistor { ohms: 0.02 },
            );
        }
        let mut inputs = BTreeMap::new();
        for (name, input) in &unit.inputs {
            let node = nodes[&input.pin];
            let (to, ohms) = match input.bias {
                unit_file::Bias::PullDown(ohms) => (ground, ohms),
                unit_file::Bias::PullUp5(ohms) => (five, ohms),
                unit_file::Bias::PullUpSupply(ohms) => (supply, ohms),
            };
            self.network.add(
                &format!("{id} input {name}"),
                node,
                to,
                Element::Resistor { ohms },
            );
            inputs.insert(name.clone(), node);
        }
        let mut outputs = BTreeMap::new();
        for (name, output) in &unit.outputs {
            let pin = nodes[&output.pin];
            let (a, b) = match output.side {
                unit_file::Side::Low => (pin, ground),
                unit_file::Side::High => (supply, pin),
            };
            outputs.insert(
                name.clone(),
                self.network
                    .add(&format!("{id} output {name}"), a, b, Element::Open),
            );
        }
        Device::ControlUnit(UnitDevice {
            supply,
            ground,
            reference,
            inputs,
            outputs,
        })
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
