//! From a vehicle to trees of what follows what, along the wires: a circuit as one reads it.
//!
//! Knows pins, wires and parts; nothing of paper.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use tracebay_core::vehicle::unit_file::{Output, Side};
use tracebay_core::vehicle::{Kind, Role, Vehicle, split_pin};

/// One thing on the way, drawn as a symbol.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A wire with its id.
    Wire(String),
    /// A two-terminal part, or one way through a part, drawn by its kind.
    Part {
        /// Part id.
        id: String,
        /// Pins at its upper and lower end.
        pins: (String, String),
    },
    /// Where the drawing ends: a rail, a ground, a control unit, another relay.
    End {
        /// Part id.
        id: String,
        /// Pin.
        pin: String,
    },
}

/// A thing and what follows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    /// The thing.
    pub item: Item,
    /// What follows, from left to right.
    pub then: Vec<Tree>,
}

/// One current path: what feeds it, what it is about, what follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// From the source down to what it is about.
    pub feed: Vec<Item>,
    /// What it is about and all that follows.
    pub load: Tree,
}

/// A circuit: a load path, and the coil's path where a relay is in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// Relay or load it goes by.
    pub id: String,
    /// Paths from left to right.
    pub paths: Vec<Path>,
}

/// Whether a part takes current to do something.
fn load(kind: &Kind) -> bool {
    matches!(
        kind,
        Kind::Motor { .. } | Kind::Lamp { .. } | Kind::Resistor { .. } | Kind::ClutchCoil { .. }
    )
}

/// A vehicle with its wires by pin.
pub struct Tracer<'a> {
    vehicle: &'a Vehicle,
    at: BTreeMap<&'a str, Vec<(&'a str, &'a str)>>,
}

impl<'a> Tracer<'a> {
    /// Sorts a vehicle's wires.
    pub fn new(vehicle: &'a Vehicle) -> Tracer<'a> {
        let mut at: BTreeMap<&str, Vec<(&str, &str)>> = BTreeMap::new();
        for (id, wire) in &vehicle.wires {
            at.entry(&wire.from).or_default().push((id, &wire.to));
            at.entry(&wire.to).or_default().push((id, &wire.from));
        }
        Tracer { vehicle, at }
    }

    /// All circuits: one for each relay, and one for each load that hangs on none.
    pub fn circuits(&self) -> Vec<Circuit> {
        let relays = self.vehicle.parts.iter();
        let relays = relays.filter(|(_, p)| matches!(p.kind, Kind::Relay(_)));
        let mut circuits: Vec<Circuit> = relays.filter_map(|(id, _)| self.circuit(id)).collect();
        let mut drawn: BTreeSet<String> = BTreeSet::new();
        for circuit in &circuits {
            drawn.extend(names(circuit));
        }
        for (id, part) in &self.vehicle.parts {
            if !load(&part.kind) || drawn.contains(id) {
                continue;
            }
            if let Some(circuit) = self.circuit(id) {
                drawn.extend(names(&circuit));
                circuits.push(circuit);
            }
        }
        circuits
    }

    /// The circuit of a relay or a load; of any other part, the first circuit it is in.
    pub fn circuit(&self, id: &str) -> Option<Circuit> {
        let part = self.vehicle.parts.get(id)?;
        let paths = match &part.kind {
            Kind::Relay(relay) => {
                let mut paths = vec![self.path(id, "30", "87"), self.path(id, "86", "85")];
                if relay.changeover && self.at.contains_key(format!("{id}.87a").as_str()) {
                    let rest = self.path(id, "30", "87a");
                    paths.insert(
                        1,
                        Path {
                            feed: Vec::new(),
                            ..rest
                        },
                    );
                }
                paths
            }
            kind if load(kind) => vec![self.path(id, "1", "2")],
            _ => {
                let all = self.circuits();
                return all.into_iter().find(|c| names(c).contains(id));
            }
        };
        Some(Circuit {
            id: id.to_owned(),
            paths,
        })
    }

    fn path(&self, id: &str, top: &str, bottom: &str) -> Path {
        let feed = self.feed(&format!("{id}.{top}"));
        let mut seen: BTreeSet<&str> = BTreeSet::new();
        for item in &feed {
            if let Item::Wire(wire) = item {
                seen.extend(
                    self.vehicle
                        .wires
                        .get_key_value(wire)
                        .map(|(k, _)| k.as_str()),
                );
            }
        }
        Path {
            load: Tree {
                item: Item::Part {
                    id: id.to_owned(),
                    pins: (top.to_owned(), bottom.to_owned()),
                },
                then: self.beyond(&format!("{id}.{bottom}"), &mut seen),
            },
            feed,
        }
    }

    /// Whether a pin is where current comes from.
    fn source(&self, pin: &str) -> bool {
        let Some((part, name)) = split_pin(pin) else {
            return false;
        };
        match self.vehicle.parts.get(part).map(|p| &p.kind) {
            Some(Kind::Battery { .. }) => name == "pos",
            Some(Kind::BusBar { .. }) => true,
            Some(Kind::ControlUnit(unit)) => {
                let feeds = |o: &Output| o.pin == name && o.side == Side::High;
                unit.outputs.values().any(feeds)
                    || unit.reference.as_ref().is_some_and(|r| r.pin == name)
            }
            Some(Kind::Relay(_)) => name.starts_with("87"),
            Some(Kind::Switch { control, .. }) => self.key(control),
            _ => false,
        }
    }

    fn key(&self, control: &str) -> bool {
        let controls = &self.vehicle.controls;
        controls.get(control).is_some_and(|c| c.role == Role::Key)
    }

    /// Ways through a part from one of its pins, for looking upstream.
    fn through(&self, part: &str, name: &str) -> Vec<String> {
        match self.vehicle.parts.get(part).map(|p| &p.kind) {
            // Upstream of a fuse is its feed side only.
            Some(Kind::Fuse { .. }) if name == "2" => vec!["1".to_owned()],
            Some(Kind::Inline { .. }) => vec![other_half(name)],
            Some(Kind::Switch { ways, control }) if !self.key(control) => ways
                .iter()
                .filter(|w| w.to == name)
                .map(|w| w.from.clone())
                .collect(),
            // Where loads stand in a row, the one above is the feed of the one below.
            Some(Kind::Resistor { .. } | Kind::Motor { .. } | Kind::PressureSwitch { .. }) => {
                vec![if name == "1" { "2" } else { "1" }.to_owned()]
            }
            Some(kind @ Kind::Splice { .. }) => {
                kind.pins().into_iter().filter(|p| p != name).collect()
            }
            _ => Vec::new(),
        }
    }

    /// The shortest way from a source to a pin, from the source down.
    fn feed(&self, pin: &str) -> Vec<Item> {
        let mut came: BTreeMap<String, (String, Item)> = BTreeMap::new();
        let mut next = VecDeque::from([pin.to_owned()]);
        let mut found = None;
        'search: while let Some(at) = next.pop_front() {
            for (wire, far) in self.at.get(at.as_str()).into_iter().flatten() {
                if *far == pin || came.contains_key(*far) {
                    continue;
                }
                came.insert(
                    (*far).to_owned(),
                    (at.clone(), Item::Wire((*wire).to_owned())),
                );
                if self.source(far) {
                    found = Some((*far).to_owned());
                    break 'search;
                }
                next.push_back((*far).to_owned());
                let Some((part, name)) = split_pin(far) else {
                    continue;
                };
                for up in self.through(part, name) {
                    let through = format!("{part}.{up}");
                    if !came.contains_key(&through) {
                        let item = Item::Part {
                            id: part.to_owned(),
                            pins: (up, name.to_owned()),
                        };
                        came.insert(through.clone(), ((*far).to_owned(), item));
                        next.push_back(through);
                    }
                }
            }
        }
        let Some(mut at) = found else {
            return Vec::new();
        };
        let mut items = vec![end(&at)];
        while let Some((towards, item)) = came.get(&at) {
            items.push(item.clone());
            at.clone_from(towards);
        }
        items
    }

    /// What follows a pin along its wires.
    fn beyond<'t>(&'t self, pin: &str, seen: &mut BTreeSet<&'t str>) -> Vec<Tree> {
        let mut then = Vec::new();
        for (wire, far) in self.at.get(pin).into_iter().flatten() {
            if seen.insert(wire) {
                let item = Item::Wire((*wire).to_owned());
                let then_far = self.enter(far, seen);
                then.push(Tree {
                    item,
                    then: then_far,
                });
            }
        }
        then
    }

    /// What follows where a wire ends: other wires at the same pin, and what is behind it.
    fn enter<'t>(&'t self, pin: &str, seen: &mut BTreeSet<&'t str>) -> Vec<Tree> {
        let Some((id, name)) = split_pin(pin) else {
            return Vec::new();
        };
        let Some(part) = self.vehicle.parts.get(id) else {
            return Vec::new();
        };
        let ends = vec![Tree {
            item: end(pin),
            then: Vec::new(),
        }];
        let outs: Vec<String> = match &part.kind {
            Kind::Fuse { .. } if name == "1" => vec!["2".to_owned()],
            Kind::Inline { .. } => vec![other_half(name)],
            Kind::Switch { ways, control } if !self.key(control) => ways
                .iter()
                .filter_map(|w| match (w.from == name, w.to == name) {
                    (true, _) => Some(w.to.clone()),
                    (_, true) => Some(w.from.clone()),
                    _ => None,
                })
                .collect(),
            Kind::Splice { .. } | Kind::BusBar { .. } => {
                let pins = part.kind.pins().into_iter();
                let mut then = Vec::new();
                for out in pins.filter(|p| p != name) {
                    then.extend(self.beyond(&format!("{id}.{out}"), seen));
                }
                return then;
            }
            kind if load(kind)
                || matches!(kind, Kind::Thermistor { .. } | Kind::PressureSwitch { .. }) =>
            {
                vec![if name == "1" { "2" } else { "1" }.to_owned()]
            }
            _ => return ends,
        };
        let mut then = self.beyond(pin, seen);
        for out in outs {
            let item = Item::Part {
                id: id.to_owned(),
                pins: (name.to_owned(), out.clone()),
            };
            let mut after = self.beyond(&format!("{id}.{out}"), seen);
            if after.is_empty() {
                after.push(Tree {
                    item: end(&format!("{id}.{out}")),
                    then: Vec::new(),
                });
            }
            then.push(Tree { item, then: after });
        }
        then
    }
}

fn end(pin: &str) -> Item {
    let (id, name) = split_pin(pin).unwrap_or((pin, ""));
    Item::End {
        id: id.to_owned(),
        pin: name.to_owned(),
    }
}

/// The other side of a cavity: `3a` and `3b`.
fn other_half(name: &str) -> String {
    match name.strip_suffix('a') {
        Some(cavity) => format!("{cavity}b"),
        None => format!("{}a", name.trim_end_matches('b')),
    }
}

/// Parts drawn in a circuit.
pub fn names(circuit: &Circuit) -> BTreeSet<String> {
    fn of(tree: &Tree, into: &mut BTreeSet<String>) {
        if let Item::Part { id, .. } = &tree.item {
            into.insert(id.clone());
        }
        tree.then.iter().for_each(|t| of(t, into));
    }
    let mut found = BTreeSet::new();
    for path in &circuit.paths {
        for item in &path.feed {
            if let Item::Part { id, .. } = item {
                found.insert(id.clone());
            }
        }
        of(&path.load, &mut found);
    }
    found
}
