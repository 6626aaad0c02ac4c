//! Where the inspection lamp shines.

use bevy::camera::primitives::Aabb;
use bevy::prelude::*;

use super::Standing;
use crate::run::AtDesk;
use crate::stage::light::{Beam, spawn_beam};

/// How far above what it lights the lamp is held, and how far to the side, metres.
const HELD: Vec3 = Vec3::new(0.10, 0.42, 0.22);
/// What is lit where the scene has nothing for the place: the bottom of the bay.
const DEEP: Vec3 = Vec3::new(0.05, -0.35, 0.10);

/// Holds the lamp over the place that the session says it lights.
pub fn hold(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    children: Query<&Children>,
    bodies: Query<(&GlobalTransform, &Aabb), With<Mesh3d>>,
    mut beams: Query<(&Beam, &mut Transform)>,
    mut commands: Commands,
) {
    if !at_desk.is_changed() && !standing.is_changed() {
        return;
    }
    let (Some(desk), Some(lamp)) = (&at_desk.0, standing.tools.get("lamp")) else {
        return;
    };
    let Some(place) = &desk.view().lamp_at else {
        return;
    };
    let part = standing.parts.get(place);
    let lit = part.and_then(|p| middle(p.entity, &children, &bodies));
    let lit = lit.unwrap_or(DEEP);
    let at = Transform::from_translation(lit + HELD).looking_at(lit, Vec3::Y);
    match beams.iter_mut().find(|(b, _)| b.owner == lamp.entity) {
        Some((_, mut held)) => {
            held.set_if_neq(at);
        }
        None => {
            spawn_beam(&mut commands, lamp.entity, at, None);
        }
    }
}

/// The middle of a part's bodies: a hose's own origin is the bay's.
fn middle(
    root: Entity,
    children: &Query<&Children>,
    bodies: &Query<(&GlobalTransform, &Aabb), With<Mesh3d>>,
) -> Option<Vec3> {
    let (mut sum, mut n) = (Vec3::ZERO, 0.0);
    for (place, body) in children
        .iter_descendants(root)
        .filter_map(|e| bodies.get(e).ok())
    {
        sum += place.transform_point(Vec3::from(body.center));
        n += 1.0;
    }
    (n > 0.0).then(|| sum / n)
}
