//! Which points of the car are one net, and what each net is, found by walking the vehicle's wires.
//!
//! Walks the car as it is meant to be and as hands have left it: plugs off, slots empty, switches in
//! their positions. It knows no fault, so that what is safe never depends on what is broken, and it
//! solves no circuit: it asks what a wire is for, not what it carries.

use std::collections::{BTreeMap, BTreeSet};

use tracebay_core::scenario::Case;
use tracebay_core::session::{PointInfo, PointKind, View};
use tracebay_core::vehicle::unit_file::{ControlUnit, Side};
use tracebay_core::vehicle::{Kind, Vehicle};

/// The two sides of a pin: its terminal in the harness, and the part's own blade or post.
#[derive(Copy, Clone)]
struct Pin {
    terminal: usize,
    inner: usize,
}

/// What of a vehicle never changes: its pins, wires and points.
pub(super) struct Wiring {
    pins: BTreeMap<String, Pin>,
    /// Bare metal of body and engine, strapped together.
    ground: usize,
    nodes: usize,
    fixed: Vec<(usize, usize)>,
    points: BTreeMap<String, usize>,
    /// Parts that each battery point belongs to.
    battery_points: BTreeSet<String>,
    connector_of: BTreeMap<String, String>,
}

/// How switches and control units are taken.
#[derive(Copy, Clone, PartialEq, Eq)]
pub(super) enum Walk {
    /// As they are: switches in their positions, control units switching nothing.
    AsIs,
    /// As they could be at any moment: control units that have power switch what they like.
    UnitsMaySwitch,
    /// Every switch closed: what a wire leads to in the end.
    SwitchesClosed,
}

/// The nets of the car in one state.
pub(super) struct Nets<'a> {
    wiring: &'a Wiring,
    pub(super) vehicle: &'a Vehicle,
    walk: Walk,
    root: Vec<usize>,
    pub(super) live: BTreeSet<usize>,
    pub(super) grounded: BTreeSet<usize>,
}

impl Wiring {
    pub fn new(case: &Case, points: &[PointInfo]) -> Wiring {
        let vehicle = &case.vehicle;
        let mut pins = BTreeMap::new();
        let mut nodes = 1;
        for (id, part) in &vehicle.parts {
            for pin in part.kind.pins() {
                let pair = Pin {
                    terminal: nodes,
                    inner: nodes + 1,
                };
                pins.insert(format!("{id}.{pin}"), pair);
                nodes += 2;
            }
        }
        let mut wiring = Wiring {
            pins,
            ground: 0,
            nodes,
            fixed: Vec::new(),
            points: BTreeMap::new(),
            battery_points: BTreeSet::new(),
            connector_of: BTreeMap::new(),
        };
        for wire in vehicle.wires.values() {
            if let (Some(a), Some(b)) = (wiring.pins.get(&wire.from), wiring.pins.get(&wire.to)) {
                wiring.fixed.push((a.terminal, b.terminal));
            }
        }
        for (id, part) in &vehicle.parts {
            wiring.join_inside(id, &part.kind);
        }
        for (id, connector) in &vehicle.connectors {
            for pin in &connector.pins {
                wiring.connector_of.insert(pin.clone(), id.clone());
            }
        }
        for point in points {
            if let Some(node) = wiring.node_of(case, point) {
                wiring.points.insert(point.id.clone(), node);
            }
            let part = vehicle.parts.get(&point.part).map(|p| &p.kind);
            if matches!(part, Some(Kind::Battery { .. })) {
                wiring.battery_points.insert(point.id.clone());
            }
        }
        wiring
    }

    /// Copper inside a part that is always one piece.
    fn join_inside(&mut self, id: &str, kind: &Kind) {
        let inner = |pin: &str| self.pins.get(&format!("{id}.{pin}")).map(|p| p.inner);
        let mut joins = Vec::new();
        match kind {
            Kind::Splice { .. } | Kind::BusBar { .. } => {
                let all: Vec<usize> = kind.pins().iter().filter_map(|p| inner(p)).collect();
                joins.extend(all.windows(2).map(|w| (w[0], w[1])));
            }
            Kind::GroundStud { .. } => {
                joins.extend(
                    kind.pins()
                        .iter()
                        .filter_map(|p| inner(p))
                        .map(|n| (n, self.ground)),
                );
            }
            Kind::Inline { cavities } => {
                joins
                    .extend((1..=*cavities).filter_map(|i| {
                        Some((inner(&format!("{i}a"))?, inner(&format!("{i}b"))?))
                    }));
            }
            _ => {}
        }
        self.fixed.extend(joins);
    }

    /// The node a tool meets at a point; none on paint.
    fn node_of(&self, case: &Case, point: &PointInfo) -> Option<usize> {
        let by_letter = |separator: char| {
            let letter = point.id.rsplit(separator).next()?.bytes().next()?;
            let order = case.arrangements.get(&point.part)?;
            let terminal = order.get(usize::from(letter.checked_sub(b'a')?))?;
            self.pins.get(&format!("{}.{terminal}", point.part))
        };
        let by_name = || {
            let name = match point.id.strip_prefix(&format!("{}:", point.part)) {
                Some(pin) => format!("{}.{pin}", point.part),
                None => point.id.clone(),
            };
            self.pins.get(&name)
        };
        match point.kind {
            PointKind::Cavity => by_letter('.').map(|p| p.terminal),
            PointKind::Blade | PointKind::TestTab => by_letter(':').map(|p| p.inner),
            PointKind::Pin | PointKind::Post => by_name().map(|p| p.inner),
            PointKind::BackProbe | PointKind::PlugFace => by_name().map(|p| p.terminal),
            // A stud's bare metal is ground; its lugs and other open terminals are pins.
            PointKind::Stud => by_name().map(|p| p.terminal).or_else(|| {
                let part = case.vehicle.parts.get(&point.part)?;
                part.kind.ground_metal().map(|_| self.ground)
            }),
            PointKind::Paint => None,
        }
    }

    /// The point is on a battery post or clamp.
    pub fn on_battery(&self, point: &str) -> bool {
        self.battery_points.contains(point)
    }

    /// The nets of the car in a state.
    pub fn nets<'a>(&'a self, vehicle: &'a Vehicle, view: &View, walk: Walk) -> Nets<'a> {
        self.nets_with(vehicle, view, walk, 0.0)
    }

    /// As [`Wiring::nets`], with fuses up to a rating taken out.
    pub fn nets_with<'a>(
        &'a self,
        vehicle: &'a Vehicle,
        view: &View,
        walk: Walk,
        fuses_above_a: f64,
    ) -> Nets<'a> {
        let mut nets = Nets {
            wiring: self,
            vehicle,
            root: (0..self.nodes).collect(),
            live: BTreeSet::new(),
            grounded: BTreeSet::new(),
            walk,
        };
        for (a, b) in &self.fixed {
            nets.join(*a, *b);
        }
        for (name, pin) in &self.pins {
            let part = name.rsplit_once('.').map_or("", |(part, _)| part);
            let off = view.pulled.contains(part)
                || self
                    .connector_of
                    .get(name)
                    .is_some_and(|c| view.unplugged.contains(c));
            if !off {
                nets.join(pin.terminal, pin.inner);
            }
        }
        for (id, part) in &vehicle.parts {
            match &part.kind {
                Kind::Fuse { amps, .. } if *amps > fuses_above_a && !view.pulled.contains(id) => {
                    nets.join_pins(id, "1", "2");
                }
                Kind::PressureSwitch { .. } if walk != Walk::AsIs => {
                    nets.join_pins(id, "1", "2");
                }
                Kind::Switch { control, ways } => {
                    let position = view.controls.get(control);
                    for way in ways {
                        let closed = position.is_some_and(|p| way.closed_in.contains(p));
                        if closed || walk == Walk::SwitchesClosed {
                            nets.join_pins(id, &way.from, &way.to);
                        }
                    }
                }
                _ => {}
            }
        }
        nets.settle(view);
        nets
    }
}

impl Nets<'_> {
    pub(super) fn find(&self, node: usize) -> usize {
        let mut at = node;
        while self.root[at] != at {
            at = self.root[at];
        }
        at
    }

    /// True where they were two.
    fn join(&mut self, a: usize, b: usize) -> bool {
        let (a, b) = (self.find(a), self.find(b));
        // The lower number stays, so that the outcome does not depend on the order.
        self.root[a.max(b)] = a.min(b);
        a != b
    }

    pub(super) fn inner(&self, part: &str, pin: &str) -> Option<usize> {
        let pin = self.wiring.pins.get(&format!("{part}.{pin}"))?;
        Some(self.find(pin.inner))
    }

    fn join_pins(&mut self, part: &str, a: &str, b: &str) -> bool {
        match (self.inner(part, a), self.inner(part, b)) {
            (Some(a), Some(b)) => self.join(a, b),
            _ => false,
        }
    }

    /// Relays pull in, units switch, until nothing changes any more. Joins only add up, so this ends.
    fn settle(&mut self, view: &View) {
        self.settle_made(view);
        // Resting contacts come last: which relays rest is only known once the others have pulled in.
        for (id, part) in &self.vehicle.parts {
            if let Kind::Relay(relay) = &part.kind
                && relay.changeover
                && !view.pulled.contains(id)
                && (self.walk != Walk::AsIs || !self.pulled_in(id))
            {
                self.join_pins(id, "30", "87a");
            }
        }
        self.settle_made(view);
    }

    fn settle_made(&mut self, view: &View) {
        let mut again = true;
        while again {
            again = false;
            self.note_sources();
            for (id, part) in &self.vehicle.parts {
                match &part.kind {
                    Kind::Relay(_) if !view.pulled.contains(id) && self.pulled_in(id) => {
                        again |= self.join_pins(id, "30", "87");
                    }
                    Kind::ControlUnit(unit) if self.walk == Walk::UnitsMaySwitch => {
                        again |= self.settle_unit(id, unit);
                    }
                    _ => {}
                }
            }
        }
    }

    /// Live is what the battery's positive post reaches, ground what its negative post reaches: with
    /// the ground clamp off the body is neither.
    fn note_sources(&mut self) {
        let posts = |pin: &str| -> BTreeSet<usize> {
            self.vehicle
                .parts
                .iter()
                .filter(|(_, p)| matches!(p.kind, Kind::Battery { .. }))
                .filter_map(|(id, _)| self.inner(id, pin))
                .collect()
        };
        let (live, mut grounded) = (posts("pos"), posts("neg"));
        if self.walk == Walk::SwitchesClosed {
            // What a wire leads to in the end does not depend on a clamp.
            grounded.insert(self.find(self.wiring.ground));
        }
        (self.live, self.grounded) = (live, grounded);
    }

    fn pulled_in(&self, id: &str) -> bool {
        match (self.inner(id, "85"), self.inner(id, "86")) {
            (Some(a), Some(b)) => {
                (self.is_live(a) && self.is_ground(b)) || (self.is_live(b) && self.is_ground(a))
            }
            _ => false,
        }
    }

    fn settle_unit(&mut self, id: &str, unit: &ControlUnit) -> bool {
        if !self.powered(id, unit) {
            return false;
        }
        let mut joined = false;
        for output in unit.outputs.values() {
            let rail = match output.side {
                Side::Low => &unit.ground,
                Side::High => &unit.supply,
            };
            joined |= self.join_pins(id, &output.pin, rail);
        }
        joined
    }

    fn powered(&self, id: &str, unit: &ControlUnit) -> bool {
        self.inner(id, &unit.supply)
            .is_some_and(|n| self.is_live(n))
            && self
                .inner(id, &unit.ground)
                .is_some_and(|n| self.is_ground(n))
    }

    pub(super) fn is_live(&self, net: usize) -> bool {
        self.live.contains(&net)
    }

    pub(super) fn is_ground(&self, net: usize) -> bool {
        self.grounded.contains(&net)
    }

    /// The net of a point; none on paint.
    pub fn at(&self, point: &str) -> Option<usize> {
        self.wiring.points.get(point).map(|n| self.find(*n))
    }

    /// The harness brings power to a control unit's supply, its plug on or off.
    pub fn supply_arrives(&self, id: &str, unit: &ControlUnit) -> bool {
        self.wiring
            .pins
            .get(&format!("{id}.{}", unit.supply))
            .is_some_and(|p| self.is_live(self.find(p.terminal)))
    }

    /// A load has supply on one side and ground on the other.
    pub fn load_runs(&self, id: &str) -> bool {
        match (self.inner(id, "1"), self.inner(id, "2")) {
            (Some(a), Some(b)) => {
                (self.is_live(a) && self.is_ground(b)) || (self.is_live(b) && self.is_ground(a))
            }
            _ => false,
        }
    }

    /// Every net, by its number.
    pub(super) fn all(&self) -> BTreeSet<usize> {
        (0..self.wiring.nodes).map(|n| self.find(n)).collect()
    }
}
