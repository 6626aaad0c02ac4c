//! Every point a tool can be put on, and whether a hand can get there now.

use std::collections::BTreeMap;

use super::refusal::Refusal;
use super::view::{BladeSize, PointInfo, PointKind};
use crate::circuit::NodeId;
use crate::scenario::Case;
use crate::vehicle::hardware::Hardware;
use crate::vehicle::{Blades, Drives, Kind, Marks, Metal, Relay, Station, Vehicle, Wired};

/// Which node a point is, by name, so that it survives a rebuilt network.
#[derive(Clone, Debug, PartialEq)]
enum At {
    /// The part's side of a pin.
    Inner(String),
    /// The harness side of a pin.
    Terminal(String),
    Metal(Metal),
    Paint,
}

/// What decides whether a point can be reached.
#[derive(Clone, Debug, PartialEq)]
enum Access {
    Always,
    /// Slot must be empty, or the breakout sit in it.
    SlotEmpty,
    /// Part must be out of its slot.
    PartOut,
    /// Fuse in its slot or laid aside.
    Tab,
    /// From behind with the plug on; in its face with the plug off.
    Behind {
        connector: String,
        back_probe: bool,
    },
    /// Plug must be off.
    PlugOff {
        connector: String,
    },
}

/// All points of a car.
#[derive(Clone, Debug)]
pub(crate) struct Points {
    pub infos: Vec<PointInfo>,
    by_id: BTreeMap<String, usize>,
    at: Vec<At>,
    access: Vec<Access>,
}

/// Letter of a position in reading order.
fn letter(i: usize) -> char {
    (b'a' + i as u8) as char
}

/// What is printed for a relay terminal.
pub(crate) fn printed(relay: &Relay, terminal: &str) -> Option<String> {
    match relay.marks {
        Marks::Din => Some(terminal.to_owned()),
        // Coil 1 and 2, contact 3, 4 and 5 (common practice, no source).
        Marks::Numbers => Some(
            match terminal {
                "86" => "1",
                "85" => "2",
                "30" => "3",
                "87a" => "4",
                _ => "5",
            }
            .to_owned(),
        ),
        Marks::Schematic | Marks::Bare => None,
    }
}

fn blade(relay: &Relay, terminal: &str) -> BladeSize {
    let coil = matches!(terminal, "85" | "86");
    if relay.blades == Blades::WideAndNarrow && coil {
        BladeSize::Narrow
    } else {
        BladeSize::Wide
    }
}

impl Points {
    pub fn new(case: &Case) -> Points {
        let mut points = Points {
            infos: Vec::new(),
            by_id: BTreeMap::new(),
            at: Vec::new(),
            access: Vec::new(),
        };
        let vehicle = &case.vehicle;
        let mut connector_of = BTreeMap::new();
        for (id, connector) in &vehicle.connectors {
            for pin in &connector.pins {
                connector_of.insert(pin.as_str(), id);
            }
        }
        for (id, part) in &vehicle.parts {
            points.of_part(case, id, &part.kind, &part.place, &connector_of);
        }
        if let Some((_, place)) = vehicle.parts.values().find_map(|p| match p.kind {
            Kind::GroundStud { .. } => Some((p, p.place.clone())),
            _ => None,
        }) {
            points.add(
                "paint",
                "",
                &place,
                PointKind::Paint,
                None,
                None,
                At::Paint,
                Access::Always,
            );
        }
        points
    }

    #[allow(clippy::too_many_arguments)]
    fn add(
        &mut self,
        id: &str,
        part: &str,
        place: &str,
        kind: PointKind,
        mark: Option<String>,
        blade: Option<BladeSize>,
        at: At,
        access: Access,
    ) {
        self.by_id.insert(id.to_owned(), self.infos.len());
        self.infos.push(PointInfo {
            id: id.to_owned(),
            part: part.to_owned(),
            place: place.to_owned(),
            kind,
            mark,
            blade,
        });
        self.at.push(at);
        self.access.push(access);
    }

    fn of_part(
        &mut self,
        case: &Case,
        id: &str,
        kind: &Kind,
        place: &str,
        connector_of: &BTreeMap<&str, &String>,
    ) {
        match kind {
            // A relay outside the boxes is bolted on; its terminals are studs.
            Kind::Relay(relay) if case.slots.contains_key(id) => {
                for (i, terminal) in case.arrangements[id].iter().enumerate() {
                    let (mark, size) = (printed(relay, terminal), Some(blade(relay, terminal)));
                    let pin = format!("{id}.{terminal}");
                    let name = letter(i);
                    self.add(
                        &format!("{id}.{name}"),
                        id,
                        place,
                        PointKind::Cavity,
                        mark.clone(),
                        size,
                        At::Terminal(pin.clone()),
                        Access::SlotEmpty,
                    );
                    self.add(
                        &format!("{id}:{name}"),
                        id,
                        place,
                        PointKind::Blade,
                        mark,
                        size,
                        At::Inner(pin),
                        Access::PartOut,
                    );
                }
            }
            Kind::Fuse { .. } => {
                for (i, terminal) in case.arrangements[id].iter().enumerate() {
                    let pin = format!("{id}.{terminal}");
                    let name = letter(i);
                    self.add(
                        &format!("{id}.{name}"),
                        id,
                        place,
                        PointKind::Cavity,
                        None,
                        None,
                        At::Terminal(pin.clone()),
                        Access::SlotEmpty,
                    );
                    self.add(
                        &format!("{id}:{name}"),
                        id,
                        place,
                        PointKind::TestTab,
                        None,
                        None,
                        At::Inner(pin),
                        Access::Tab,
                    );
                }
            }
            Kind::Battery { .. } => {
                for (pin, mark) in [("pos", "+"), ("neg", "-")] {
                    let name = format!("{id}.{pin}");
                    self.add(
                        &format!("{id}:{pin}"),
                        id,
                        place,
                        PointKind::Post,
                        Some(mark.into()),
                        None,
                        At::Inner(name.clone()),
                        Access::Always,
                    );
                    self.add(
                        &name.clone(),
                        id,
                        place,
                        PointKind::Stud,
                        Some(mark.into()),
                        None,
                        At::Terminal(name),
                        Access::Always,
                    );
                }
            }
            Kind::GroundStud { on, lugs } => {
                self.add(
                    &format!("{id}:stud"),
                    id,
                    place,
                    PointKind::Stud,
                    None,
                    None,
                    At::Metal(*on),
                    Access::Always,
                );
                for i in 1..=*lugs {
                    let name = format!("{id}.{i}");
                    self.add(
                        &name.clone(),
                        id,
                        place,
                        PointKind::Stud,
                        None,
                        None,
                        At::Terminal(name),
                        Access::Always,
                    );
                }
            }
            Kind::Splice { .. } => {}
            _ => {
                for pin in kind.pins() {
                    let name = format!("{id}.{pin}");
                    let mark = Some(pin.clone());
                    match connector_of.get(name.as_str()) {
                        Some(connector) => {
                            let connector = (*connector).clone();
                            let data = &case.vehicle.connectors[&connector];
                            let behind = Access::Behind {
                                connector: connector.clone(),
                                back_probe: data.back_probe,
                            };
                            self.add(
                                &name,
                                id,
                                &data.place,
                                PointKind::BackProbe,
                                mark.clone(),
                                None,
                                At::Terminal(name.clone()),
                                behind,
                            );
                            self.add(
                                &format!("{id}:{pin}"),
                                id,
                                &data.place,
                                PointKind::Pin,
                                mark,
                                None,
                                At::Inner(name.clone()),
                                Access::PlugOff { connector },
                            );
                        }
                        None => {
                            // What is bolted is a stud; anything else is a terminal in a plug of
                            // its own that nobody takes off here, touched from behind.
                            let bolted = match kind {
                                Kind::Relay(_) | Kind::BusBar { .. } | Kind::Alternator { .. } => {
                                    true
                                }
                                Kind::Motor { drives, .. } => *drives == Drives::Starter,
                                _ => false,
                            };
                            let point = if bolted {
                                PointKind::Stud
                            } else {
                                PointKind::BackProbe
                            };
                            self.add(
                                &name,
                                id,
                                place,
                                point,
                                mark,
                                None,
                                At::Terminal(name.clone()),
                                Access::Always,
                            );
                        }
                    }
                }
            }
        }
    }

    /// Index of a point.
    pub fn find(&self, id: &str) -> Result<usize, Refusal> {
        self.by_id.get(id).copied().ok_or_else(|| Refusal::Unknown {
            name: id.to_owned(),
            nearest: crate::source::nearest(id, self.by_id.keys().map(String::as_str))
                .map(str::to_owned),
        })
    }

    /// The node of a point.
    pub fn node(&self, index: usize, wired: &Wired) -> NodeId {
        match &self.at[index] {
            At::Inner(pin) => wired.pins[pin].inner,
            At::Terminal(pin) => wired.pins[pin].terminal,
            At::Metal(Metal::Body) => wired.body,
            At::Metal(Metal::Engine) => wired.engine,
            At::Paint => wired.paint,
        }
    }

    /// Whether a hand can get there now.
    pub fn reach(
        &self,
        index: usize,
        vehicle: &Vehicle,
        hw: &Hardware,
        station: Station,
        uncovered: &std::collections::BTreeSet<String>,
    ) -> Result<(), Refusal> {
        let info = &self.infos[index];
        reach_place(vehicle, &info.place, station, uncovered)?;
        match &self.access[index] {
            Access::Always | Access::Tab => Ok(()),
            Access::SlotEmpty => {
                if hw.is_out(&info.part) || hw.breakout.as_deref() == Some(&info.part) {
                    Ok(())
                } else {
                    Err(Refusal::Fitted {
                        what: info.part.clone(),
                    })
                }
            }
            Access::PartOut => {
                if hw.is_out(&info.part) {
                    Ok(())
                } else {
                    Err(Refusal::Fitted {
                        what: info.part.clone(),
                    })
                }
            }
            Access::Behind {
                connector,
                back_probe,
            } => {
                if vehicle.connectors[connector].off_limits {
                    Err(Refusal::OffLimits {
                        what: connector.clone(),
                    })
                } else if *back_probe || hw.unplugged.contains(connector) {
                    Ok(())
                } else {
                    Err(Refusal::NoAccess {
                        point: info.id.clone(),
                    })
                }
            }
            Access::PlugOff { connector } => {
                if vehicle.connectors[connector].off_limits {
                    Err(Refusal::OffLimits {
                        what: connector.clone(),
                    })
                } else if hw.unplugged.contains(connector) {
                    Ok(())
                } else {
                    Err(Refusal::Fitted {
                        what: connector.clone(),
                    })
                }
            }
        }
    }
}

/// Whether one stands where a place can be reached, with nothing over it.
pub(crate) fn reach_place(
    vehicle: &Vehicle,
    place: &str,
    station: Station,
    uncovered: &std::collections::BTreeSet<String>,
) -> Result<(), Refusal> {
    let Some(data) = vehicle.places.get(place) else {
        return Err(Refusal::Unknown {
            name: place.to_owned(),
            nearest: crate::source::nearest(place, vehicle.places.keys().map(String::as_str))
                .map(str::to_owned),
        });
    };
    // Bay and fuse box are one place to arms; only the eye comes closer. What lies on the bench is
    // within reach from both.
    let near = |s: Station| match s {
        Station::Seat => 0,
        Station::Bay | Station::Box | Station::Bench => 1,
    };
    if near(station) != near(data.station) {
        return Err(Refusal::GoFirst {
            station: data.station,
        });
    }
    match &data.cover {
        Some(cover) if !uncovered.contains(cover) => Err(Refusal::CoverOn {
            cover: cover.clone(),
        }),
        _ => Ok(()),
    }
}
