//! The network of a vehicle, built part by part, wire by wire.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::refresh::relay_values;
use super::{
    Arrangements, Crossing, Device, INSULATION_OHMS, Pin, SENSOR_DRAW_OHMS, Tolerance,
    UNPOWERED_OHMS, UnitDevice, WireElement, Wired,
};
use crate::circuit::{Element, ElementId, Network, NodeId};
use crate::elements::{copper, wire};
use crate::fault::{LEAK_TO_GROUND, Wrong};
use crate::vehicle::hardware::Hardware;
use crate::vehicle::{Kind, Metal, Relay, Vehicle, unit_file};

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
                Wrong::LeakTo(ref to, ohms) if to == LEAK_TO_GROUND => Some((body, ohms)),
                Wrong::LeakTo(ref to, ohms) => b.pins.get(to).map(|p| (p.terminal, ohms)),
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
                let ohms =
                    crate::vehicle::fuse_cold_ohms(kind) * (1.0 + 0.05 * (self.tolerance)(id));
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

    fn relay(&mut self, id: &str, spec: &Relay) -> Device {
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
