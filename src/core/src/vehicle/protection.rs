//! The wiring rule: no wire is thinner than the fuse before it allows.
//!
//! Source of the currents: ISO 10133 (small craft, d.c. systems), table of allowable continuous
//! current of single conductors, column for insulation rated 70 °C; from memory. Road vehicle
//! insulation is rated higher (ISO 6722 class B and up), so the column is on the safe side.
//! That starter and battery cables have no fuse is common practice, no source.
//!
//! Knows wires, fuses and what joins them; nothing of faults or of how a circuit is solved.

use std::collections::{BTreeMap, BTreeSet};

use super::{Kind, Vehicle};

/// Cross-section in square millimetres and the amperes it may carry for good.
pub const ALLOWED: &[(f64, f64)] = &[
    (0.75, 10.0),
    (1.0, 14.0),
    (1.5, 18.0),
    (2.5, 25.0),
    (4.0, 35.0),
    (6.0, 45.0),
    (10.0, 65.0),
    (16.0, 90.0),
    (25.0, 120.0),
    (35.0, 160.0),
];

/// Cross-section from which a cable may be live without a fuse, square millimetres.
const UNFUSED_MM2: f64 = 16.0;
/// Longest cable without a fuse, metres.
const UNFUSED_M: f64 = 1.5;

/// Amperes a wire of this cross-section may carry; none for sizes that only carry signals.
pub fn allowed_a(mm2: f64) -> Option<f64> {
    ALLOWED
        .iter()
        .rev()
        .find(|(size, _)| *size <= mm2)
        .map(|(_, amps)| *amps)
}

/// A wire that its fuse does not protect.
#[derive(Clone, Debug, PartialEq)]
pub struct Unprotected {
    /// Wire id.
    pub wire: String,
    /// Its cross-section, square millimetres.
    pub mm2: f64,
    /// What it may carry, amperes; none for a signal wire.
    pub may_a: Option<f64>,
    /// The largest fuse that feeds it, amperes; none where it is live without a fuse.
    pub fuse_a: Option<f64>,
}

/// Pins that are one piece of metal once every switch and relay contact is closed.
struct Nets {
    of: BTreeMap<String, usize>,
    /// Parent of each net, as far as it was joined to another.
    up: Vec<usize>,
}

impl Nets {
    fn new(vehicle: &Vehicle) -> Nets {
        let mut nets = Nets {
            of: BTreeMap::new(),
            up: Vec::new(),
        };
        for (id, part) in &vehicle.parts {
            for pin in part.kind.pins() {
                nets.of.insert(format!("{id}.{pin}"), nets.up.len());
                nets.up.push(nets.up.len());
            }
        }
        for wire in vehicle.wires.values() {
            nets.join(&wire.from, &wire.to);
        }
        let mut metal: Vec<String> = Vec::new();
        for (id, part) in &vehicle.parts {
            let name = |pin: &str| format!("{id}.{pin}");
            let pins = part.kind.pins();
            let mut one = |pins: &[String]| {
                for two in pins.windows(2) {
                    nets.join(&name(&two[0]), &name(&two[1]));
                }
            };
            match &part.kind {
                Kind::Splice { .. } | Kind::BusBar { .. } | Kind::PressureSwitch { .. } => {
                    one(&pins);
                }
                Kind::Inline { .. } => pins.chunks(2).for_each(one),
                Kind::Switch { ways, .. } => {
                    for way in ways {
                        one(&[way.from.clone(), way.to.clone()]);
                    }
                }
                // Terminal 87a is its own circuit: a relay is either at rest or pulled in.
                Kind::Relay(_) => one(&["30".to_owned(), "87".to_owned()]),
                Kind::GroundStud { .. } => metal.extend(pins.iter().map(|p| name(p))),
                Kind::Battery { .. } => metal.push(name("neg")),
                _ => {}
            }
        }
        for two in metal.windows(2) {
            nets.join(&two[0], &two[1]);
        }
        nets
    }

    fn root(&self, mut net: usize) -> usize {
        while self.up[net] != net {
            net = self.up[net];
        }
        net
    }

    fn get(&self, pin: &str) -> Option<usize> {
        self.of.get(pin).map(|net| self.root(*net))
    }

    fn join(&mut self, a: &str, b: &str) {
        if let (Some(a), Some(b)) = (self.get(a), self.get(b)) {
            self.up[a.max(b)] = a.min(b);
        }
    }
}

/// Every wire that its fuse does not protect, by id.
pub fn unprotected(vehicle: &Vehicle) -> Vec<Unprotected> {
    let nets = Nets::new(vehicle);
    // What feeds each net: the largest fuse whose load side is in it.
    let mut fed: BTreeMap<usize, f64> = BTreeMap::new();
    let mut live: BTreeSet<usize> = BTreeSet::new();
    let mut ground = None;
    for (id, part) in &vehicle.parts {
        match part.kind {
            Kind::Fuse { amps, .. } => {
                if let Some(net) = nets.get(&format!("{id}.2")) {
                    let most = fed.entry(net).or_insert(0.0);
                    *most = if amps > *most { amps } else { *most };
                }
            }
            Kind::Battery { .. } => {
                live.extend(nets.get(&format!("{id}.pos")));
                ground = nets.get(&format!("{id}.neg"));
            }
            _ => {}
        }
    }
    // What comes back from a load that a fuse feeds.
    let mut back: BTreeMap<String, f64> = BTreeMap::new();
    for (id, part) in &vehicle.parts {
        let load = matches!(
            part.kind,
            Kind::Motor { .. }
                | Kind::Lamp { .. }
                | Kind::Resistor { .. }
                | Kind::ClutchCoil { .. }
        );
        for (near, far) in [("1", "2"), ("2", "1")] {
            let net = nets.get(&format!("{id}.{near}")).filter(|_| load);
            if let Some(amps) = net.and_then(|net| fed.get(&net)) {
                back.insert(format!("{id}.{far}"), *amps);
            }
        }
    }
    let mut found = Vec::new();
    for (id, wire) in &vehicle.wires {
        let may_a = allowed_a(wire.mm2);
        let mut refuse = |fuse_a| {
            found.push(Unprotected {
                wire: id.clone(),
                mm2: wire.mm2,
                may_a,
                fuse_a,
            });
        };
        let net = nets.get(&wire.from);
        let behind = [&wire.from, &wire.to]
            .into_iter()
            .filter_map(|end| back.get(end))
            .chain(net.filter(|_| net != ground).and_then(|net| fed.get(&net)))
            .copied()
            .fold(0.0, f64::max);
        if behind > may_a.unwrap_or(0.0) {
            refuse(Some(behind));
        } else if behind == 0.0
            && net != ground
            && net.is_some_and(|net| live.contains(&net))
            && !(wire.mm2 >= UNFUSED_MM2 && wire.length_m <= UNFUSED_M)
        {
            refuse(None);
        }
    }
    found
}
