//! What has no shape of its own in an arrangement: plugs, terminals and studs at their places, so
//! that every point of a car has a place in the scene.
//!
//! Knows nothing of any one car: a place is where the arrangement has it, or, for a name that no
//! arrangement knows, on the front panel.

use std::collections::{BTreeMap, BTreeSet};

use bevy::prelude::*;
use tracebay_core::session::PointInfo;
use tracebay_core::vehicle::{Kind, Station, Vehicle};

use super::fuse_box::in_scene;
use crate::kit::{PartShape, plug};
use crate::stage::{BESIDE, BayLayout, Placed, Spot};

/// Free space between two things of a place, metres.
const GAP: f32 = 0.010;
/// A row of things is at most this long.
const ROW: f32 = 0.20;
/// Size of what is touched at a way and at a stud.
const WAY: f32 = 0.0024;
const STUD: f32 = 0.0045;

/// Things of one place that belong together.
struct Group {
    /// Part or plug.
    id: String,
    shape: PartShape,
    size: Vec2,
    points: Vec<(String, String, f32)>,
}

/// Adds places that the arrangement does not know, and shapes for all points that have none yet.
pub fn fill(vehicle: &Vehicle, points: &[PointInfo], layout: &mut BayLayout) {
    unknown_places(vehicle, layout);
    second_points(vehicle, points, layout);
    let mut here: BTreeSet<String> = placed_points(layout);
    here.extend(
        points
            .iter()
            .filter(|p| slotted(vehicle, &p.part))
            .map(|p| p.id.clone()),
    );
    let mut at: BTreeMap<String, Vec<&PointInfo>> = BTreeMap::new();
    for point in points.iter().filter(|p| in_scene(p.kind)) {
        if !here.contains(&point.id) {
            at.entry(point.place.clone()).or_default().push(point);
        }
    }
    for (place, missing) in at {
        let Some(spot) = layout.spots.get(&place).copied() else {
            continue;
        };
        let groups = groups(vehicle, &missing);
        layout.parts.extend(rows(&spot, groups));
    }
}

/// Whether a part sits in a box: its points are the box's.
fn slotted(vehicle: &Vehicle, part: &str) -> bool {
    let mut slots = vehicle.boxes.values().flat_map(|b| &b.slots);
    slots.any(|s| s.part == part)
}

fn placed_points(layout: &BayLayout) -> BTreeSet<String> {
    let all = layout.parts.iter().flat_map(|p| &p.points);
    all.map(|(_, id, _)| id.clone()).collect()
}

/// Places with names of the author's own stand in a row on the front panel, those of the cabin
/// below the dash.
fn unknown_places(vehicle: &Vehicle, layout: &mut BayLayout) {
    let mut n = 0.0;
    for (id, place) in &vehicle.places {
        let boxed = vehicle.boxes.values().find(|b| &b.place == id);
        if let Some(data) = boxed {
            let stand = super::casting::stand(vehicle, data, layout);
            // Terminals of a box that are no slots lie before it.
            let before = super::fuse_box::size(data, &stand).y * 0.5 + 0.032;
            let spot = Spot {
                at: stand.transform() * Vec3::new(0.0, 0.03, before),
                yaw: stand.yaw,
                pitch: stand.pitch,
                eye: stand.eye,
                distance: stand.distance,
            };
            layout.spots.insert(id.clone(), spot);
        }
        if layout.spots.contains_key(id) {
            continue;
        }
        let spot = match place.station {
            Station::Seat => {
                let below = layout.spots.get("under_dash").copied();
                let mut spot = below.unwrap_or(Spot::on(0.0, -0.40, -0.96));
                spot.at.x -= 0.11 * n;
                spot.at.y -= 0.06;
                spot
            }
            _ => Spot::on(-0.30 + 0.15 * (n % 5.0), -0.028, 0.485).from(0.0, 1.0, 0.3),
        };
        n += 1.0;
        layout.spots.insert(id.clone(), spot);
    }
}

/// A part's own pins lie just beside the places where its plug's wires go in, and battery terminals
/// beside the posts.
fn second_points(vehicle: &Vehicle, points: &[PointInfo], layout: &mut BayLayout) {
    let known: BTreeSet<&str> = points.iter().map(|p| p.id.as_str()).collect();
    for placed in &mut layout.parts {
        let battery = vehicle
            .parts
            .get(&placed.id)
            .is_some_and(|p| matches!(p.kind, Kind::Battery { .. }));
        if battery {
            for (pin, clamp) in [("pos", "clamp.plus"), ("neg", "clamp.minus")] {
                let id = format!("{}.{pin}", placed.id);
                if known.contains(id.as_str()) {
                    placed.points.push((clamp.into(), id, 0.006));
                }
            }
            continue;
        }
        if vehicle
            .parts
            .get(&placed.id)
            .is_some_and(|p| matches!(p.kind, Kind::Alternator { .. }))
        {
            let id = format!("{}.body", placed.id);
            if known.contains(id.as_str()) {
                placed.points.push(("alternator.body".into(), id, 0.006));
            }
        }
        let own: Vec<_> = placed
            .points
            .iter()
            .filter_map(|(anchor, id, radius)| {
                let inner = id.replacen('.', ":", 1);
                known
                    .contains(inner.as_str())
                    .then(|| (format!("{anchor}{BESIDE}"), inner, *radius))
            })
            .collect();
        placed.points.extend(own);
    }
}

/// The plug that a terminal is in.
fn plug_of<'a>(vehicle: &'a Vehicle, pin: &str) -> Option<&'a String> {
    vehicle
        .connectors
        .iter()
        .find(|(_, c)| c.pins.iter().any(|p| p == pin))
        .map(|(id, _)| id)
}

/// Points of a place by plug, or by part where there is no plug.
fn groups(vehicle: &Vehicle, missing: &[&PointInfo]) -> Vec<Group> {
    let mut plugs: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut studs: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for point in missing {
        let pin = point.id.replacen(':', ".", 1);
        if let Some(plug) = plug_of(vehicle, &pin) {
            let ways = plugs.entry(plug.clone()).or_default();
            if !ways.contains(&pin) {
                ways.push(pin);
            }
        } else {
            let own = studs.entry(point.part.clone()).or_default();
            own.push(point.id.clone());
        }
    }
    let plugs = plugs.into_iter().map(|(id, ways)| {
        let n = ways.len();
        let mut points = Vec::new();
        for (i, pin) in ways.into_iter().enumerate() {
            let inner = pin.replacen('.', ":", 1);
            points.push((format!("way.{}", i + 1), pin, WAY));
            points.push((format!("pin.{}", i + 1), inner, WAY));
        }
        Group {
            id,
            shape: PartShape::Plug(n),
            size: plug::size(n),
            points,
        }
    });
    let studs = studs.into_iter().map(|(id, own)| {
        let kind = vehicle.parts.get(&id).map(|p| &p.kind);
        if let Some(Kind::GroundStud { lugs, .. }) = kind {
            let n = *lugs as usize;
            let points = own.into_iter().map(|point| {
                let anchor = match point.rsplit_once('.') {
                    Some((_, n)) => format!("lug.{n}"),
                    None => "stud".into(),
                };
                (anchor, point, STUD)
            });
            return Group {
                id,
                shape: PartShape::GroundStud(n, false),
                size: Vec2::new(0.05, 0.04),
                points: points.collect(),
            };
        }
        let bolted = matches!(
            kind,
            Some(Kind::BusBar { .. } | Kind::Relay(_) | Kind::Alternator { .. })
        );
        let n = own.len();
        let (shape, anchor, radius, size) = if bolted {
            let size = Vec2::new(n as f32 * 0.02 + 0.012, 0.03);
            (PartShape::Studs(n), "stud", STUD, size)
        } else {
            (PartShape::Plug(n), "way", WAY, plug::size(n))
        };
        let points = own.into_iter().enumerate();
        Group {
            id,
            shape,
            size,
            points: points
                .map(|(i, point)| (format!("{anchor}.{}", i + 1), point, radius))
                .collect(),
        }
    });
    plugs.chain(studs).collect()
}

/// Sets things side by side along a spot's x, in as many rows as they need.
fn rows(spot: &Spot, groups: Vec<Group>) -> Vec<Placed> {
    let mut lines: Vec<(f32, f32, Vec<Group>)> = Vec::new();
    for group in groups {
        match lines.last_mut() {
            Some((long, deep, line)) if *long + group.size.x <= ROW => {
                *long += group.size.x + GAP;
                *deep = deep.max(group.size.y);
                line.push(group);
            }
            _ => lines.push((group.size.x + GAP, group.size.y, vec![group])),
        }
    }
    let frame = spot.transform();
    let mut placed = Vec::new();
    let mut z = 0.0;
    for (n, (long, deep, line)) in lines.into_iter().enumerate() {
        if n > 0 {
            z += deep * 0.5;
        }
        let mut x = -long * 0.5;
        for group in line {
            let middle = x + (group.size.x + GAP) * 0.5;
            x += group.size.x + GAP;
            let mut part = Placed::new(&group.id, group.shape, frame * Vec3::new(middle, 0.0, z));
            (part.yaw, part.pitch) = (spot.yaw, spot.pitch);
            part.points = group.points;
            placed.push(part);
        }
        // Wires leave at the back of each row.
        z += deep * 0.5 + 0.030;
    }
    placed
}
