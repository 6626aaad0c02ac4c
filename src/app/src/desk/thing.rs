//! The things of a car that one can turn to, and what is at each of them.
//!
//! A thing is named by the id the vehicle file gives it. Nothing here asks what is wrong.

use tracebay_core::session::{PointInfo, Session};
use tracebay_core::vehicle::{Kind, Station, Vehicle};

/// What an id stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Thing {
    /// Something electrical.
    Part(String),
    /// A plug.
    Connector(String),
    /// Something to operate.
    Control(String),
    /// A fuse box as a whole.
    Box(String),
    /// A place.
    Place(String),
}

impl Thing {
    /// What `id` stands for on this car.
    pub fn find(vehicle: &Vehicle, id: &str) -> Option<Thing> {
        let own = || id.to_owned();
        if vehicle.parts.contains_key(id) {
            Some(Thing::Part(own()))
        } else if vehicle.connectors.contains_key(id) {
            Some(Thing::Connector(own()))
        } else if vehicle.controls.contains_key(id) {
            Some(Thing::Control(own()))
        } else if vehicle.boxes.contains_key(id) {
            Some(Thing::Box(own()))
        } else if vehicle.places.contains_key(id) {
            Some(Thing::Place(own()))
        } else {
            None
        }
    }

    /// Its id.
    pub fn id(&self) -> &str {
        match self {
            Thing::Part(id)
            | Thing::Connector(id)
            | Thing::Control(id)
            | Thing::Box(id)
            | Thing::Place(id) => id,
        }
    }

    /// The place it is at, if it is at one.
    pub fn place<'a>(&'a self, vehicle: &'a Vehicle) -> Option<&'a str> {
        match self {
            Thing::Part(id) => vehicle.parts.get(id).map(|p| p.place.as_str()),
            Thing::Connector(id) => vehicle.connectors.get(id).map(|c| c.place.as_str()),
            Thing::Box(id) => vehicle.boxes.get(id).map(|b| b.place.as_str()),
            Thing::Place(id) => Some(id),
            Thing::Control(_) => None,
        }
    }

    /// Where one must stand to reach it.
    pub fn station(&self, vehicle: &Vehicle) -> Option<Station> {
        match self {
            Thing::Control(id) => vehicle.controls.get(id).map(|c| c.station),
            _ => self
                .place(vehicle)
                .and_then(|p| vehicle.places.get(p))
                .map(|p| p.station),
        }
    }

    /// Whether it sits in a slot of a fuse box, and in which box.
    pub fn slot_box<'a>(&self, vehicle: &'a Vehicle) -> Option<&'a str> {
        let Thing::Part(id) = self else { return None };
        vehicle
            .boxes
            .iter()
            .find(|(_, b)| b.slots.iter().any(|s| &s.part == id))
            .map(|(name, _)| name.as_str())
    }

    /// Whether it is a relay.
    pub fn is_relay(&self, vehicle: &Vehicle) -> bool {
        matches!(self, Thing::Part(id)
            if vehicle.parts.get(id).is_some_and(|p| matches!(p.kind, Kind::Relay(_))))
    }

    /// The points that belong to it: its own, and for a place all that are there.
    pub fn points<'a>(&self, session: &'a Session) -> Vec<&'a PointInfo> {
        let connectors = &session.case().vehicle.connectors;
        session
            .points()
            .iter()
            .filter(|p| match self {
                Thing::Part(id) => {
                    &p.part == id || (p.part.is_empty() && stud_at(session, id, &p.place))
                }
                Thing::Place(id) => &p.place == id,
                Thing::Connector(id) => {
                    &p.part == id
                        || connectors.get(id).is_some_and(|c| {
                            // `part.pin` is the terminal in the plug, `part:pin` the part's own.
                            c.pins
                                .iter()
                                .any(|pin| p.id == *pin || p.id == pin.replacen('.', ":", 1))
                        })
                }
                Thing::Box(_) | Thing::Control(_) => false,
            })
            .collect()
    }
}

/// All things at a station, place by place, in the file's order: for the list, and for stepping
/// from one to the next by key.
pub fn within_reach(vehicle: &Vehicle, station: Station) -> Vec<Thing> {
    let mut things = Vec::new();
    for (id, control) in &vehicle.controls {
        if control.station == station {
            things.push(Thing::Control(id.clone()));
        }
    }
    for (place, data) in &vehicle.places {
        if data.station != station {
            continue;
        }
        things.push(Thing::Place(place.clone()));
        for (id, b) in &vehicle.boxes {
            if &b.place == place {
                things.push(Thing::Box(id.clone()));
            }
        }
        for (id, c) in &vehicle.connectors {
            if &c.place == place {
                things.push(Thing::Connector(id.clone()));
            }
        }
        let mut parts: Vec<_> = vehicle
            .parts
            .iter()
            .filter(|(id, p)| &p.place == place && Thing::Part((*id).clone()).seen(p))
            .map(|(id, _)| Thing::Part(id.clone()))
            .collect();
        // In a box the eye goes row by row.
        parts.sort_by_key(|t| {
            (
                slot_at(vehicle, t.id()).map(|(c, r)| (r, c)),
                t.id().to_owned(),
            )
        });
        things.extend(parts);
    }
    // A place with the id of its only part would be listed twice.
    let ids: Vec<String> = things
        .iter()
        .filter(|t| !matches!(t, Thing::Place(_)))
        .map(|t| t.id().to_owned())
        .collect();
    things.retain(|t| !matches!(t, Thing::Place(id) if ids.contains(id)));
    things
}

impl Thing {
    /// Splices lie inside the harness: nobody sees one.
    fn seen(&self, part: &tracebay_core::vehicle::Part) -> bool {
        !matches!(part.kind, Kind::Splice { .. })
    }
}

/// Whether `part` is a ground stud at `place`: the painted metal beside it is found with it.
fn stud_at(session: &Session, part: &str, place: &str) -> bool {
    session
        .case()
        .vehicle
        .parts
        .get(part)
        .is_some_and(|p| p.place == place && matches!(p.kind, Kind::GroundStud { .. }))
}

/// Column and row of a part's slot as the file has it.
pub fn slot_at(vehicle: &Vehicle, part: &str) -> Option<(u32, u32)> {
    vehicle
        .boxes
        .values()
        .flat_map(|b| &b.slots)
        .find(|s| s.part == part)
        .map(|s| s.at)
}
