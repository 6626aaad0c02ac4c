//! Networks for the circuit solver's tests and benches: random ones, and one wired like a vehicle.
#![allow(dead_code, reason = "each test file uses its part")]

use tracebay_core::circuit::{Attachment, Element, ElementId, Network, NodeId};

pub const GROUND: NodeId = NodeId::GROUND;

/// SplitMix64 (Steele, Lea and Flood, 2014): small, and the same everywhere.
pub struct Draw(pub u64);

impl Draw {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn below(&mut self, count: usize) -> usize {
        (self.bits() % count as u64) as usize
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Evenly spread over decades.
    pub fn decades(&mut self, low: f64, high: f64) -> f64 {
        low * libm::pow(high / low, self.unit())
    }
}

#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Kinds {
    Straight,
    Curved,
    WithContacts,
}

pub fn straight(draw: &mut Draw) -> Element {
    match draw.below(8) {
        0 => Element::Open,
        1 => Element::Source {
            emf_v: draw.between(-15.0, 15.0),
            ohms: draw.decades(1e-3, 100.0),
        },
        _ => Element::Resistor {
            ohms: draw.decades(1e-3, 1e7),
        },
    }
}

pub fn curved(draw: &mut Draw) -> Element {
    match draw.below(6) {
        0 => Element::Filament {
            rated_v: 12.0,
            rated_a: draw.decades(0.05, 10.0),
            cold_fraction: draw.between(0.06, 0.2),
        },
        1 | 2 => Element::Diode {
            saturation_a: draw.decades(1e-15, 1e-7),
            slope_v: draw.between(0.025, 0.06),
            ohms: draw.decades(1e-3, 1.0),
        },
        3 => Element::FanMotor {
            ohms: draw.decades(0.05, 5.0),
            volts_per_rad_s: draw.between(0.01, 0.06),
            load_nms2: draw.decades(1e-7, 1e-5),
        },
        4 => Element::Limiter {
            on_ohms: draw.decades(0.01, 10.0),
            limit_a: draw.decades(0.01, 20.0),
        },
        _ => Element::LimitedSource {
            emf_v: draw.between(4.0, 15.0),
            ohms: draw.decades(0.01, 1.0),
            limit_a: draw.decades(0.01, 100.0),
        },
    }
}

/// A random network. Few of the nodes are ground's neighbours, and some parts float.
pub fn random(seed: u64, nodes: usize, elements: usize, kinds: Kinds) -> Network {
    let draw = &mut Draw(seed);
    let mut net = Network::new();
    for at in 0..nodes {
        net.node(&format!("n{at}"));
    }
    for at in 0..elements {
        let (a, b) = (draw.below(nodes + 1) as u32, draw.below(nodes + 1) as u32);
        let element = match (kinds, draw.below(4)) {
            (Kinds::Straight, _) | (_, 2..) => straight(draw),
            (Kinds::WithContacts, 0) if at > 0 => {
                let pull_in_a = draw.decades(1e-3, 1.0);
                Element::Contact {
                    coil: ElementId(draw.below(at) as u32),
                    pull_in_a,
                    drop_out_a: pull_in_a * draw.between(0.1, 0.9),
                    closed_at_rest: draw.below(3) == 0,
                    ohms: draw.decades(1e-3, 0.1),
                }
            }
            _ => curved(draw),
        };
        net.add(&format!("e{at}"), NodeId(a), NodeId(b), element);
    }
    net
}

pub fn random_tools(seed: u64, nodes: usize, count: usize, kinds: Kinds) -> Vec<Attachment> {
    let draw = &mut Draw(seed ^ 0x7001);
    (0..count)
        .map(|_| {
            let (a, b) = (draw.below(nodes + 1) as u32, draw.below(nodes + 1) as u32);
            let element = if kinds == Kinds::Straight || draw.below(2) == 0 {
                straight(draw)
            } else {
                curved(draw)
            };
            Attachment {
                a: NodeId(a),
                b: NodeId(b),
                element,
            }
        })
        .collect()
}

pub fn with_tools(net: &Network, tools: &[Attachment]) -> Network {
    let mut net = net.clone();
    for tool in tools {
        net.add("tool", tool.a, tool.b, tool.element);
    }
    net
}

/// A network of the size and shape of a vehicle's: battery, alternator, fuses, wires, relays, loads, ground
/// straps, insulation. About 150 nodes and 300 elements. `lamps` off makes all loads plain resistors.
pub fn vehicle(lamps: bool) -> Network {
    let mut net = Network::new();
    let ohms = |ohms| Element::Resistor { ohms };
    let post = net.node("battery post");
    let body = net.node("body");
    net.add(
        "battery",
        post,
        GROUND,
        Element::Source {
            emf_v: 12.6,
            ohms: 0.012,
        },
    );
    net.add("ground strap", body, GROUND, ohms(0.001));
    let alternator = Element::LimitedSource {
        emf_v: 14.2,
        ohms: 0.03,
        limit_a: 90.0,
    };
    net.add(
        "alternator",
        post,
        GROUND,
        if lamps { alternator } else { Element::Open },
    );
    for circuit in 0..19 {
        let at = f64::from(circuit);
        let [fused, coil_top, coil_low, out, load, low, stud] =
            ["fused", "86", "85", "87", "load", "load ground", "stud"].map(|name| net.node(name));
        let connector = net.node("connector");
        net.add("fuse", post, fused, ohms(0.004 + 0.0002 * at));
        net.add("feed", fused, coil_top, ohms(0.03));
        let coil = net.add("coil", coil_top, coil_low, ohms(75.0 + at));
        let clamp = Element::Diode {
            saturation_a: 1e-12,
            slope_v: 0.048,
            ohms: 0.05,
        };
        net.add(
            "clamp",
            coil_low,
            coil_top,
            if lamps { clamp } else { ohms(1e6) },
        );
        let driver = Element::Limiter {
            on_ohms: 0.4,
            limit_a: 1.5,
        };
        let on = circuit % 3 != 0;
        let driver = if lamps { driver } else { ohms(0.4) };
        net.add(
            "driver",
            coil_low,
            GROUND,
            if on { driver } else { Element::Open },
        );
        let contact = Element::Contact {
            coil,
            pull_in_a: 0.09,
            drop_out_a: 0.03,
            closed_at_rest: false,
            ohms: 0.004,
        };
        net.add("contact", fused, out, contact);
        net.add("wire", out, connector, ohms(0.02));
        net.add("joint", connector, load, ohms(0.002));
        let amps = 0.4 + 0.9 * at;
        let element = match circuit % 4 {
            _ if !lamps => ohms(12.0 / amps),
            0 | 1 => Element::Filament {
                rated_v: 13.0,
                rated_a: amps,
                cold_fraction: 0.09,
            },
            2 => Element::FanMotor {
                ohms: 0.2,
                volts_per_rad_s: 0.03,
                load_nms2: 3e-6,
            },
            _ => ohms(12.0 / amps),
        };
        net.add("load", load, low, element);
        net.add("ground wire", low, stud, ohms(0.01));
        net.add("stud", stud, body, ohms(0.001));
        for (node, name) in [
            (out, "sense"),
            (connector, "moisture"),
            (coil_low, "pull-up"),
            (stud, "strand"),
        ] {
            net.add(name, node, body, ohms(1e6));
        }
    }
    net
}
