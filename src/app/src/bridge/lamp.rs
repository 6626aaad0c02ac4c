//! Where the inspection lamp shines.

use bevy::prelude::*;

use super::Standing;
use crate::run::AtDesk;
use crate::stage::light::{Beam, spawn_beam};

/// How far from what it lights the lamp is held, and how far to the side, metres.
const HELD: f32 = 0.42;
const ASIDE: f32 = 0.10;
/// What is lit where the scene has nothing for the place: the bottom of the bay.
const DEEP: Vec3 = Vec3::new(0.05, -0.35, 0.10);

/// Holds the lamp over the place that the session says it lights.
pub fn hold(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
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
    let spot = standing.gazes.spot(place);
    let (lit, held) = match spot {
        // Held beside the eye, where one sees what it lights.
        Some(spot) => {
            let eye = spot.eye.normalize_or(Vec3::Y);
            let aside = eye.cross(Vec3::Y).normalize_or(Vec3::X) * ASIDE;
            (spot.at, spot.at + eye * HELD + aside)
        }
        None => (DEEP, DEEP + Vec3::Y * HELD),
    };
    let at = Transform::from_translation(held).looking_at(lit, Vec3::Z);
    match beams.iter_mut().find(|(b, _)| b.owner == lamp.entity) {
        Some((_, mut held)) => {
            held.set_if_neq(at);
        }
        None => {
            spawn_beam(&mut commands, lamp.entity, at, None);
        }
    }
}
