//! What the car's own body hides from where the eye is, is not drawn: from the cabin the dash and the
//! open bonnet stand before everything in the bay.
//!
//! Knows boxes in space, and nothing of what parts are. `src/app/tests/arrangements` asks every
//! car's triangles whether what is left out here could be seen.

use bevy::camera::primitives::Aabb;
use bevy::camera::visibility::RenderLayers;
use bevy::prelude::*;

use super::layout::Bay;
use super::station::{Station, Viewer};
use crate::kit::follow::{Follow, Slides};

/// Where eyes are that sit in the cabin: smallest and largest place, metres.
pub const CABIN_EYES: (Vec3, Vec3) = (Vec3::new(-0.45, -0.30, -2.60), Vec3::new(0.45, 0.50, -1.50));
/// What such eyes cannot see: smallest and largest place, metres.
const BAY_DEPTHS: (Vec3, Vec3) = (Vec3::new(-0.69, -0.80, -0.52), Vec3::new(0.69, -0.07, 0.60));

/// What lies here no eye sees; it still throws its shadow.
const SHADE_ONLY: usize = 1;

/// What a lamp reaches: what is seen, and what is left out only for the eye.
pub fn all_there_is() -> RenderLayers {
    RenderLayers::from_layers(&[0, SHADE_ONLY])
}

/// A mesh that lies wholly deep in the bay.
#[derive(Component)]
pub struct Deep;

/// Whether a place is deep in the bay.
pub fn is_deep(at: Vec3) -> bool {
    within(at, BAY_DEPTHS)
}

fn within(at: Vec3, (min, max): (Vec3, Vec3)) -> bool {
    at.cmpge(min).all() && at.cmple(max).all()
}

/// Marks what lies deep in the bay, once it has a size.
pub fn mark(
    mut commands: Commands,
    bay: Option<Res<Bay>>,
    fresh: Query<(Entity, &Aabb, &GlobalTransform), (With<Mesh3d>, Added<Aabb>)>,
    parents: Query<&ChildOf>,
    slides: Query<&Slides>,
) {
    let Some(bay) = bay else { return };
    for (entity, size, place) in &fresh {
        let mut deep = false;
        for e in std::iter::once(entity).chain(parents.iter_ancestors(entity)) {
            // What is taken off is laid where it can be seen.
            let comes_off = |s: &Slides| s.by != Follow::Seated;
            if slides.get(e).is_ok_and(comes_off) {
                break;
            }
            deep |= e == bay.root;
        }
        let mut corners = (0..8).map(|i| {
            let side = |bit: usize| if i & bit == 0 { -1.0 } else { 1.0 };
            let corner = Vec3::new(side(1), side(2), side(4)) * Vec3::from(size.half_extents);
            place.transform_point(Vec3::from(size.center) + corner)
        });
        if deep && corners.all(is_deep) {
            commands.entity(entity).insert(Deep);
        }
    }
}

/// Leaves out what cannot be seen from where the eye is.
pub fn leave_out(
    viewers: Query<(&Viewer, &GlobalTransform)>,
    fresh: Query<(), Added<Deep>>,
    deep: Query<Entity, With<Deep>>,
    mut before: Local<bool>,
    mut commands: Commands,
) {
    let hidden = !viewers.is_empty()
        && viewers.iter().all(|(viewer, at)| {
            viewer.station == Station::Seat && within(at.translation(), CABIN_EYES)
        });
    if hidden == *before && fresh.is_empty() {
        return;
    }
    *before = hidden;
    for entity in &deep {
        let mut thing = commands.entity(entity);
        if hidden {
            thing.insert(RenderLayers::layer(SHADE_ONLY));
        } else {
            thing.remove::<RenderLayers>();
        }
    }
}
