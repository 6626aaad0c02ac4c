//! Tells the panels where the other stations lie in the picture, and what the pointer is over.

use bevy::prelude::*;
use tracebay_core::vehicle;

use super::pick::Pointed;
use crate::run::paint::Open;
use crate::stage::{Places, Station, Viewer};

/// Height over the floor's middle at which a sign of a station hangs, metres.
const SEAT: Vec3 = Vec3::new(0.30, 0.30, -1.35);
/// The middle of the bay.
const BAY: Vec3 = Vec3::new(0.0, 0.02, 0.0);
/// How far outside the picture's edge, in its heights, what lies behind the eye is taken to be.
const BEHIND: f32 = 4.0;

/// Writes down where stations lie in the picture.
pub fn point_out(
    places: Option<Res<Places>>,
    viewers: Query<(&Viewer, &Transform)>,
    pointed: Res<Pointed>,
    mut open: ResMut<Open>,
) {
    let over = pointed.0.as_ref().map(|(_, id)| id);
    if open.board.pointed.as_ref() != over {
        open.board.pointed = over.cloned();
    }
    let (Some(places), Ok((viewer, at)), Some(scene)) = (places, viewers.single(), open.scene)
    else {
        return;
    };
    let aspect = scene.whole.width() / scene.whole.height().max(1.0);
    let wide = (viewer.now.fov * 0.5).tan() * viewer.widened;
    let ways = [
        (vehicle::Station::Seat, SEAT),
        (vehicle::Station::Bay, BAY),
        (
            vehicle::Station::Box,
            places.get(Station::Box).home.target + Vec3::Y * 0.06,
        ),
        (
            vehicle::Station::Bench,
            places.get(Station::Bench).home.target,
        ),
    ];
    let ways = ways.map(|(station, to)| (station, share(at, wide, aspect, to)));
    if !ways.iter().all(|(s, w)| open.board.ways.get(s) == Some(w)) {
        open.board.ways.extend(ways);
    }
}

/// Where a place lies in a picture, as shares of its width and height from the upper left. What lies
/// behind the eye lies outside, on the side to which one would turn.
fn share(eye: &Transform, wide: f32, aspect: f32, place: Vec3) -> [f32; 2] {
    let seen = eye.compute_affine().inverse().transform_point3(place);
    let (x, y) = if seen.z < -0.01 {
        (seen.x / -seen.z / wide / aspect, seen.y / -seen.z / wide)
    } else {
        let aside = Vec2::new(seen.x, seen.y).normalize_or(Vec2::NEG_Y);
        (aside.x * BEHIND, aside.y * BEHIND)
    };
    // As precisely as a sign can be placed, so that a breath of the camera moves none.
    let round = |v: f32| (v * 500.0).round() / 500.0;
    [round(0.5 + x / 2.0), round(0.5 - y / 2.0)]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pinhole projection: what lies on the axis is in the middle, what lies half the view's height
    /// above it at the upper edge (geometry of the pinhole camera).
    #[test]
    fn places_are_found_where_a_pinhole_shows_them() {
        let eye = Transform::IDENTITY;
        assert_eq!(share(&eye, 1.0, 2.0, Vec3::new(0.0, 0.0, -3.0)), [0.5, 0.5]);
        assert_eq!(share(&eye, 1.0, 2.0, Vec3::new(0.0, 3.0, -3.0)), [0.5, 0.0]);
        assert_eq!(share(&eye, 1.0, 2.0, Vec3::new(6.0, 0.0, -3.0)), [1.0, 0.5]);
        let [x, _] = share(&eye, 1.0, 2.0, Vec3::new(2.0, 0.0, 3.0));
        assert!(x > 1.0, "behind and to the right is beyond the right edge");
    }
}
