//! A wiring rule: no wire is thinner than the fuse before it allows.
//!
//! Source of the currents: ISO 10133 (small craft, d.c. systems), table of allowable continuous
//! current of single conductors, column for insulation rated 70 °C; from memory. Road vehicle
//! insulation is rated higher (ISO 6722 class B and up), so the column is on the safe side.

use std::collections::{BTreeMap, BTreeSet};

use tracebay_core::vehicle::{Kind, Vehicle};

use crate::load;

const ALLOWED: &[(f64, f64)] = &[
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

/// Amperes a wire of this cross-section may carry; none for sizes that only carry signals.
fn allowed_a(mm2: f64) -> Option<f64> {
    ALLOWED
        .iter()
        .rev()
        .find(|(size, _)| *size <= mm2)
        .map(|(_, amps)| *amps)
}

/// Pins that are one piece of metal once every switch and relay contact is closed.
struct Nets {
    of: BTreeMap<String, usize>,
}

impl Nets {
    fn new(vehicle: &Vehicle) -> Nets {
        let mut nets = Nets {
            of: BTreeMap::new(),
        };
        for (id, part) in &vehicle.parts {
            for pin in part.kind.pins() {
                let n = nets.of.len();
                nets.of.insert(format!("{id}.{pin}"), n);
            }
        }
        for wire in vehicle.wires.values() {
            nets.join(&wire.from, &wire.to);
        }
        let mut metal: Vec<String> = Vec::new();
        for (id, part) in &vehicle.parts {
            let name = |pin: &str| format!("{id}.{pin}");
            let pins = part.kind.pins();
            match &part.kind {
                Kind::Splice { .. } | Kind::BusBar { .. } => {
                    pins.windows(2)
                        .for_each(|w| nets.join(&name(&w[0]), &name(&w[1])));
                }
                Kind::Inline { .. } => {
                    pins.chunks(2)
                        .for_each(|w| nets.join(&name(&w[0]), &name(&w[1])));
                }
                Kind::Switch { ways, .. } => {
                    ways.iter()
                        .for_each(|w| nets.join(&name(&w.from), &name(&w.to)));
                }
                Kind::Relay(_) => nets.join(&name("30"), &name("87")),
                Kind::GroundStud { .. } => metal.extend(pins.iter().map(|p| name(p))),
                Kind::Battery { .. } => metal.push(name("neg")),
                _ => {}
            }
        }
        metal.windows(2).for_each(|w| nets.join(&w[0], &w[1]));
        nets
    }

    fn join(&mut self, a: &str, b: &str) {
        let (a, b) = (self.of[a], self.of[b]);
        if a != b {
            self.of
                .values_mut()
                .filter(|n| **n == b)
                .for_each(|n| *n = a);
        }
    }
}

#[test]
fn fuses_protect_their_wires() {
    for vehicle in &load::vehicles() {
        let nets = Nets::new(vehicle);
        // What feeds each net: the largest fuse whose load side is in it.
        let mut fed: BTreeMap<usize, f64> = BTreeMap::new();
        let mut live: BTreeSet<usize> = BTreeSet::new();
        let mut ground = None;
        for (id, part) in &vehicle.parts {
            match part.kind {
                Kind::Fuse { amps, .. } => {
                    let net = fed.entry(nets.of[&format!("{id}.2")]).or_insert(0.0);
                    *net = net.max(amps);
                }
                Kind::Battery { .. } => {
                    live.insert(nets.of[&format!("{id}.pos")]);
                    ground = Some(nets.of[&format!("{id}.neg")]);
                }
                _ => {}
            }
        }
        // What comes back from a load that a fuse feeds.
        let mut back: BTreeMap<String, f64> = BTreeMap::new();
        for (id, part) in &vehicle.parts {
            if !matches!(
                part.kind,
                Kind::Motor { .. }
                    | Kind::Lamp { .. }
                    | Kind::Resistor { .. }
                    | Kind::ClutchCoil { .. }
            ) {
                continue;
            }
            for (near, far) in [("1", "2"), ("2", "1")] {
                if let Some(amps) = fed.get(&nets.of[&format!("{id}.{near}")]) {
                    back.insert(format!("{id}.{far}"), *amps);
                }
            }
        }
        for (id, wire) in &vehicle.wires {
            let net = nets.of[&wire.from];
            if Some(net) != ground {
                if let Some(amps) = fed.get(&net) {
                    let may = allowed_a(wire.mm2).unwrap_or(0.0);
                    assert!(
                        *amps <= may,
                        "{}: {id} ({} mm2) behind {amps} A",
                        vehicle.id,
                        wire.mm2
                    );
                } else if live.contains(&net) {
                    // Starter and battery cables have no fuse (common practice, no source): thick
                    // and short, or they are a mistake.
                    assert!(
                        wire.mm2 >= 16.0 && wire.length_m <= 1.5,
                        "{}: {id} is live from the battery without a fuse",
                        vehicle.id
                    );
                }
            }
            for end in [&wire.from, &wire.to] {
                if let Some(amps) = back.get(end) {
                    let may = allowed_a(wire.mm2).unwrap_or(0.0);
                    assert!(
                        *amps <= may,
                        "{}: return {id} of {end} behind {amps} A",
                        vehicle.id
                    );
                }
            }
        }
    }
}

#[test]
fn fuses_are_made_in_these_ratings() {
    // ISO 8820-3, types F (mini), C (regular) and E (maxi), from memory.
    use tracebay_core::vehicle::FuseBody;
    for vehicle in &load::vehicles() {
        for (id, part) in &vehicle.parts {
            if let Kind::Fuse { amps, body } = part.kind {
                let made: &[f64] = match body {
                    FuseBody::Mini => &[2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0],
                    FuseBody::Regular => &[
                        1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0,
                    ],
                    FuseBody::Maxi => &[20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0],
                };
                assert!(made.contains(&amps), "{}: {id} {amps} A", vehicle.id);
            }
        }
    }
}
