//! From where one looks at a thing of the car. Plain arithmetic over the arrangement, so that a test
//! can ask it for every thing there is.

use std::collections::BTreeMap;

use bevy::prelude::*;
use tracebay_core::vehicle::{Station, Vehicle};

use crate::desk::Thing;
use crate::stage::{BayLayout, Spot, Stand, View};

/// Points of a thing that lie further from its place than this are no part of the look at it.
const NEAR: f32 = 0.45;

/// Places and boxes of the car that stands in the scene.
#[derive(Clone, Debug, Default)]
pub struct Gazes {
    spots: BTreeMap<String, Spot>,
    stands: BTreeMap<String, Stand>,
}

impl Gazes {
    /// Those of an arrangement.
    pub fn of(layout: &BayLayout) -> Gazes {
        let stands = layout.boxes.iter();
        Gazes {
            spots: layout.spots.clone(),
            stands: stands.map(|b| (b.id.clone(), b.stand)).collect(),
        }
    }

    /// Where a place is.
    pub fn spot(&self, place: &str) -> Option<&Spot> {
        self.spots.get(place)
    }

    /// Whether a thing is one that the close view of a box shows: the box, what is in it, its place.
    pub fn in_box(&self, vehicle: &Vehicle, thing: &Thing) -> bool {
        self.stand_of(vehicle, thing).is_some()
    }

    fn stand_of(&self, vehicle: &Vehicle, thing: &Thing) -> Option<&Stand> {
        let id = match thing {
            Thing::Box(id) => Some(id.as_str()),
            Thing::Place(place) => {
                let mut boxes = vehicle.boxes.iter();
                boxes
                    .find(|(_, b)| &b.place == place)
                    .map(|(id, _)| id.as_str())
            }
            Thing::Part(_) => thing.slot_box(vehicle),
            Thing::Connector(_) | Thing::Control(_) => None,
        };
        self.stands.get(id?)
    }

    /// The view of a thing; `points` are the places of its own points in the scene. Nothing for
    /// controls: they are at hand.
    pub fn view(&self, vehicle: &Vehicle, thing: &Thing, points: &[Vec3]) -> Option<View> {
        if let Some(stand) = self.stand_of(vehicle, thing) {
            return Some(View::of(stand.middle(), stand.eye, stand.distance));
        }
        let spot = self.spots.get(thing.place(vehicle)?)?;
        let near: Vec<Vec3> = points
            .iter()
            .copied()
            .filter(|p| p.distance(spot.at) < NEAR)
            .collect();
        let target = if near.is_empty() {
            spot.at
        } else {
            near.iter().sum::<Vec3>() / near.len() as f32
        };
        Some(View::of(target, spot.eye, spot.distance))
    }

    /// Direction in which a point's place is free.
    pub fn free_way(&self, vehicle: &Vehicle, place: &str) -> Vec3 {
        let boxed = vehicle.boxes.iter().find(|(_, b)| b.place == place);
        let stand = boxed.and_then(|(id, _)| self.stands.get(id));
        let eye = stand
            .map(|s| s.eye)
            .or_else(|| self.spots.get(place).map(|s| s.eye));
        eye.unwrap_or(Vec3::Y).normalize_or(Vec3::Y)
    }
}

/// Whether a place is in the cabin.
pub fn in_cabin(vehicle: &Vehicle, place: &str) -> bool {
    vehicle
        .places
        .get(place)
        .is_some_and(|p| p.station == Station::Seat)
}
