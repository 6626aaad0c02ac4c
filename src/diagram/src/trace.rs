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
    /// Paths from left to right. Around a unit: those that come in above.
    pub paths: Vec<Path>,
    /// The unit is drawn as a box; these are what leaves it below: terminal and what follows.
    pub below: Vec<(String, Vec<Tree>)>,
}

impl Circuit {
    fn of(id: &str, paths: Vec<Path>) -> Circuit {
        Circuit {
            id: id.to_owned(),
            paths,
            below: Vec::new(),
        }
    }

    /// Drawn around the box of a unit.
    pub fn around_unit(&self) -> bool {
        !self.below.is_empty()
    }

    /// All items.
    pub fn items(&self) -> Vec<&Item> {
        fn of<'t>(tree: &'t Tree, into: &mut Vec<&'t Item>) {
            into.push(&tree.item);
            tree.then.iter().for_each(|t| of(t, into));
        }
        let mut items = Vec::new();
        for path in &self.paths {
            items.extend(&path.feed);
            of(&path.load, &mut items);
        }
        for (_, trees) in &self.below {
            trees.iter().for_each(|t| of(t, &mut items));
        }
        items
    }
}

/// How far a walk along the wires goes.
#[derive(Copy, Clone)]
struct Walk<'w> {
    /// Through this many fuses.
    fuses: u32,
    /// Through this many splices; the next is drawn where it belongs.
    splices: u32,
    /// Not through this part, from which it began.
    about: &'w str,
}

impl<'w> Walk<'w> {
    /// As far as there is something.
    fn far(about: &'w str) -> Walk<'w> {
        Walk {
            fuses: 9,
            splices: 9,
            about,
        }
    }

    /// From the battery to the fuses behind the first ones.
    fn feeds(about: &'w str) -> Walk<'w> {
        Walk {
            fuses: 1,
            ..Walk::far(about)
        }
    }
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

    /// All circuits: one for each relay, one for each load that hangs on none, the ignition switch, the units and
    /// sensors, alternator and battery, and what is left. Every wire is in at least one.
    pub fn circuits(&self) -> Vec<Circuit> {
        let parts = &self.vehicle.parts;
        let mut circuits: Vec<Circuit> = Vec::new();
        let of_kind = |wanted: fn(&Tracer<'_>, &Kind) -> bool| {
            let mut found: Vec<_> = parts
                .iter()
                .filter(|(_, p)| wanted(self, &p.kind))
                .collect();
            found.sort_by_key(|(id, _)| crate::in_order(id));
            found
        };
        for (id, _) in of_kind(|_, kind| matches!(kind, Kind::Relay(_))) {
            circuits.extend(self.direct(id));
        }
        let mut drawn: BTreeSet<String> = circuits.iter().flat_map(names).collect();
        for (id, _) in of_kind(|_, kind| load(kind)) {
            if !drawn.contains(id)
                && let Some(circuit) = self.direct(id)
            {
                drawn.extend(names(&circuit));
                circuits.push(circuit);
            }
        }
        let others: [fn(&Tracer<'_>, &Kind) -> bool; 4] = [
            |tracer, kind| matches!(kind, Kind::Switch { control, .. } if tracer.key(control)),
            |_, kind| matches!(kind, Kind::ControlUnit(_) | Kind::PressureSensor { .. }),
            |_, kind| matches!(kind, Kind::Alternator { .. }),
            |_, kind| matches!(kind, Kind::Battery { .. }),
        ];
        for other in others {
            for (id, _) in of_kind(other) {
                circuits.extend(self.direct(id));
            }
        }
        self.left_over(&mut circuits);
        circuits
    }

    /// What is in none of these circuits: its wires, each part that has no symbol yet.
    fn left_over(&self, circuits: &mut Vec<Circuit>) {
        let wires = |circuits: &[Circuit]| -> BTreeSet<&'a str> {
            let items = circuits.iter().flat_map(Circuit::items);
            items
                .filter_map(|item| match item {
                    Item::Wire(id) => self.vehicle.wires.get_key_value(id),
                    _ => None,
                })
                .map(|(id, _)| id.as_str())
                .collect()
        };
        let mut seen = wires(circuits);
        let mut add = |id: &str, path: Path| match circuits.iter_mut().find(|c| c.id == id) {
            Some(circuit) if !circuit.around_unit() => circuit.paths.push(path),
            _ => circuits.push(Circuit::of(id, vec![path])),
        };
        for (id, wire) in &self.vehicle.wires {
            if !seen.insert(id) {
                continue;
            }
            let far = self.enter(&wire.to, &mut seen, Walk::feeds(""));
            let path = Path {
                feed: Vec::new(),
                load: Tree {
                    item: end(&wire.from),
                    then: vec![Tree {
                        item: Item::Wire(id.clone()),
                        then: far,
                    }],
                },
            };
            let (part, _) = split_pin(&wire.from).unwrap_or((&wire.from, ""));
            add(part, path);
        }
        let drawn: BTreeSet<String> = circuits.iter().flat_map(names).collect();
        for (id, part) in &self.vehicle.parts {
            // A stud is drawn wherever a wire ends at it.
            let wired = |pin: &&str| split_pin(pin).is_some_and(|(part, _)| part == id);
            let stud = matches!(part.kind, Kind::GroundStud { .. });
            if drawn.contains(id) || stud && self.at.keys().any(wired) {
                continue;
            }
            let pins = part.kind.pins();
            let pin = |i: usize| pins.get(i).cloned().unwrap_or_default();
            let load = Tree {
                item: Item::Part {
                    id: id.clone(),
                    pins: (pin(0), pin(1)),
                },
                then: Vec::new(),
            };
            let feed = Vec::new();
            circuits.push(Circuit::of(id, vec![Path { feed, load }]));
        }
    }

    /// The circuit that goes by this part; of any other part, the first circuit it is in.
    pub fn circuit(&self, id: &str) -> Option<Circuit> {
        self.vehicle.parts.get(id)?;
        if let Some(circuit) = self.direct(id) {
            return Some(circuit);
        }
        let all = self.circuits();
        let by_it = all.iter().position(|c| c.id == id);
        let with_it = || all.iter().position(|c| names(c).contains(id));
        let found = by_it.or_else(with_it)?;
        all.into_iter().nth(found)
    }

    /// The circuit of a part that a circuit can go by.
    fn direct(&self, id: &str) -> Option<Circuit> {
        let part = self.vehicle.parts.get(id)?;
        let mut seen = BTreeSet::new();
        let paths = match &part.kind {
            Kind::Relay(relay) => {
                let mut paths = vec![self.path(id, "30", "87", &mut seen)];
                if relay.changeover && self.at.contains_key(format!("{id}.87a").as_str()) {
                    paths.push(self.path(id, "30", "87a", &mut seen));
                }
                paths.push(self.path(id, "86", "85", &mut seen));
                paths
            }
            kind if load(kind) => vec![self.path(id, "1", "2", &mut seen)],
            Kind::Switch { control, ways } if self.key(control) => ways
                .iter()
                .map(|way| self.key_way(id, &way.from, &way.to))
                .collect(),
            Kind::ControlUnit(_) | Kind::PressureSensor { .. } => {
                return Some(self.around(id, &part.kind));
            }
            Kind::Alternator { .. } => vec![self.path(id, "out", "body", &mut seen)],
            Kind::Battery { .. } => {
                let mut battery = self.path(id, "pos", "neg", &mut seen);
                let feed = vec![end(&format!("{id}.pos"))];
                battery.feed.clone_from(&feed);
                let mut out = self.beyond(&format!("{id}.pos"), &mut seen, Walk::feeds(id));
                out.sort_by_key(columns);
                let path = |load| Path {
                    feed: feed.clone(),
                    load,
                };
                std::iter::once(battery)
                    .chain(out.into_iter().map(path))
                    .collect()
            }
            _ => return None,
        };
        Some(Circuit::of(id, paths))
    }

    /// One way of the ignition switch: its feed, and where its wires lead.
    fn key_way(&self, id: &str, from: &str, to: &str) -> Path {
        let out = format!("{id}.{to}");
        let wires = self.at.get(out.as_str()).into_iter().flatten();
        let mut then: Vec<Tree> = wires
            .map(|(wire, far)| Tree {
                item: Item::Wire((*wire).to_owned()),
                then: vec![leaf(far)],
            })
            .collect();
        if then.is_empty() {
            then.push(leaf(&out));
        }
        Path {
            feed: self.feed(&format!("{id}.{from}")),
            load: Tree {
                item: Item::Part {
                    id: id.to_owned(),
                    pins: (from.to_owned(), to.to_owned()),
                },
                then,
            },
        }
    }

    /// A unit with all its terminals: what comes from a source above, the rest below.
    fn around(&self, id: &str, kind: &Kind) -> Circuit {
        let mut pins = kind.pins();
        let sends = |pin: &String| match kind {
            Kind::ControlUnit(unit) => unit.outputs.values().any(|o| o.pin == *pin),
            Kind::PressureSensor { .. } => pin == "signal",
            _ => false,
        };
        let grounds = |pin: &String| match kind {
            Kind::ControlUnit(unit) => unit.ground == *pin,
            _ => pin == "ground",
        };
        let shares = |pin: &String| match kind {
            Kind::ControlUnit(unit) => {
                unit.sensor_ground.as_ref() == Some(pin)
                    || unit.reference.as_ref().is_some_and(|r| r.pin == *pin)
            }
            _ => false,
        };
        // Sensors end at the splices, which hang from the terminals that are there for many; these come last.
        pins.sort_by_key(shares);
        let mut paths = Vec::new();
        let mut left = Vec::new();
        for pin in pins {
            let full = format!("{id}.{pin}");
            let feed = if sends(&pin) || grounds(&pin) || shares(&pin) {
                Vec::new()
            } else {
                self.feed(&full)
            };
            if feed.is_empty() {
                left.push((pin, full));
            } else {
                let load = leaf(&full);
                paths.push(Path { feed, load });
            }
        }
        let mut seen: BTreeSet<&str> = BTreeSet::new();
        for path in &paths {
            self.mark(&path.feed, &mut seen);
        }
        // Each terminal's own wires first, so that no other's tree swallows them.
        // A sensor may lead back to the terminal that is there for many.
        let own = |pin: &str| {
            let wires = self.at.get(pin).into_iter().flatten();
            wires.map(|(wire, _)| *wire).collect::<Vec<&str>>()
        };
        let alone = left.iter().filter(|(pin, _)| !shares(pin));
        let all: BTreeSet<&str> = alone.flat_map(|(_, full)| own(full)).collect();
        let fed = seen.clone();
        seen.extend(&all);
        let mut below = Vec::new();
        for (pin, full) in left {
            let mut then = Vec::new();
            for (wire, far) in self.at.get(full.as_str()).into_iter().flatten() {
                if fed.contains(wire) || shares(&pin) && !seen.insert(wire) {
                    continue;
                }
                let item = Item::Wire((*wire).to_owned());
                let walk = Walk {
                    splices: u32::from(self.splice(far) && shares(&pin)),
                    ..Walk::far(id)
                };
                let then_far = self.enter(far, &mut seen, walk);
                then.push(Tree {
                    item,
                    then: then_far,
                });
            }
            below.push((pin, then));
        }
        Circuit {
            below,
            ..Circuit::of(id, paths)
        }
    }

    fn splice(&self, pin: &str) -> bool {
        let part = split_pin(pin).and_then(|(part, _)| self.vehicle.parts.get(part));
        matches!(part.map(|p| &p.kind), Some(Kind::Splice { .. }))
    }

    /// Counts the wires of a feed as drawn.
    fn mark(&self, feed: &[Item], seen: &mut BTreeSet<&'a str>) {
        for item in feed {
            if let Item::Wire(wire) = item {
                let found = self.vehicle.wires.get_key_value(wire);
                seen.extend(found.map(|(id, _)| id.as_str()));
            }
        }
    }

    fn path(&self, id: &str, top: &str, bottom: &str, seen: &mut BTreeSet<&'a str>) -> Path {
        let feed = self.feed(&format!("{id}.{top}"));
        self.mark(&feed, seen);
        let out = format!("{id}.{bottom}");
        let mut then = self.beyond(&out, seen, Walk::far(id));
        if then.is_empty() {
            then.push(leaf(&out));
        }
        Path {
            load: Tree {
                item: Item::Part {
                    id: id.to_owned(),
                    pins: (top.to_owned(), bottom.to_owned()),
                },
                then,
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
    fn beyond(&self, pin: &str, seen: &mut BTreeSet<&'a str>, walk: Walk<'_>) -> Vec<Tree> {
        let mut then = Vec::new();
        for (wire, far) in self.at.get(pin).into_iter().flatten() {
            if seen.insert(wire) {
                let item = Item::Wire((*wire).to_owned());
                let then_far = self.enter(far, seen, walk);
                then.push(Tree {
                    item,
                    then: then_far,
                });
            }
        }
        then
    }

    /// What follows where a wire ends: other wires at the same pin, and what is behind it.
    fn enter(&self, pin: &str, seen: &mut BTreeSet<&'a str>, walk: Walk<'_>) -> Vec<Tree> {
        let Some((id, name)) = split_pin(pin) else {
            return Vec::new();
        };
        let Some(part) = self.vehicle.parts.get(id) else {
            return Vec::new();
        };
        if id == walk.about {
            return vec![leaf(pin)];
        }
        let mut left = walk;
        let outs: Vec<String> = match &part.kind {
            Kind::Fuse { .. } if name == "1" && walk.fuses > 0 => {
                left.fuses -= 1;
                vec!["2".to_owned()]
            }
            Kind::Inline { .. } => vec![other_half(name)],
            Kind::Switch { ways, control } if !self.key(control) => ways
                .iter()
                .filter_map(|w| match (w.from == name, w.to == name) {
                    (true, _) => Some(w.to.clone()),
                    (_, true) => Some(w.from.clone()),
                    _ => None,
                })
                .collect(),
            Kind::Splice { .. } if walk.splices == 0 => return vec![leaf(pin)],
            Kind::Splice { .. } | Kind::BusBar { .. } => {
                let walk = Walk {
                    splices: walk.splices.saturating_sub(1),
                    ..walk
                };
                let pins = part.kind.pins().into_iter();
                let mut then = self.beyond(pin, seen, walk);
                for out in pins.filter(|p| p != name) {
                    then.extend(self.beyond(&format!("{id}.{out}"), seen, walk));
                }
                let item = Item::Part {
                    id: id.to_owned(),
                    pins: (String::new(), String::new()),
                };
                return vec![Tree { item, then }];
            }
            kind if load(kind)
                || matches!(kind, Kind::Thermistor { .. } | Kind::PressureSwitch { .. }) =>
            {
                vec![if name == "1" { "2" } else { "1" }.to_owned()]
            }
            _ => return vec![leaf(pin)],
        };
        let mut then = self.beyond(pin, seen, walk);
        for out in outs {
            let item = Item::Part {
                id: id.to_owned(),
                pins: (name.to_owned(), out.clone()),
            };
            let out = format!("{id}.{out}");
            let mut after = self.beyond(&out, seen, left);
            if after.is_empty() {
                after.push(leaf(&out));
            }
            then.push(Tree { item, then: after });
        }
        then
    }
}

/// Columns that a tree takes side by side.
pub fn columns(tree: &Tree) -> usize {
    tree.then.iter().map(columns).sum::<usize>().max(1)
}

fn leaf(pin: &str) -> Tree {
    Tree {
        item: end(pin),
        then: Vec::new(),
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

/// Parts whose symbol is drawn in a circuit: not those that only a terminal names.
fn names(circuit: &Circuit) -> BTreeSet<String> {
    let mut found: BTreeSet<String> = BTreeSet::new();
    if circuit.around_unit() {
        found.insert(circuit.id.clone());
    }
    for item in circuit.items() {
        if let Item::Part { id, .. } = item {
            found.insert(id.clone());
        }
    }
    found
}
