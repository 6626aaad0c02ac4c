//! What the app leaves out because the car's own body hides it could indeed not be seen.

use std::collections::BTreeSet;

use bevy::prelude::*;
use tracebay::stage::unseen::{CABIN_EYES, is_deep};

use crate::has_no;
use crate::scene::{Scene, cars};

/// Every how manieth corner of the triangles deep in a bay is looked for.
const LOOKED_FOR: usize = 61;
/// How far before a corner one looks, metres: a surface does not hide itself.
const BEFORE: f32 = 0.004;

#[test]
fn what_is_left_out_at_the_seat_could_not_be_seen_from_there() {
    let (low, high) = CABIN_EYES;
    let middle = (low + high) * 0.5;
    let eyes: Vec<Vec3> = [low.x, middle.x, high.x]
        .into_iter()
        .flat_map(|x| [(x, low.y), (x, middle.y), (x, high.y)])
        .flat_map(|(x, y)| [low.z, middle.z, high.z].map(|z| Vec3::new(x, y, z)))
        .collect();
    let mut trouble = Vec::new();
    for (case, session) in cars() {
        let scene = Scene::of(&case, session.points());
        let corners = scene
            .bodies
            .iter()
            .filter(|b| !b.comes_off)
            .flat_map(|b| b.triangles.iter().flatten().map(|c| (&b.name, *c)))
            .filter(|(_, c)| is_deep(*c))
            .step_by(LOOKED_FOR);
        let (mut looked, mut seen) = (0, BTreeSet::new());
        for (name, corner) in corners {
            looked += 1;
            let open = eyes.iter().find(|eye| {
                let before = corner + (**eye - corner).normalize() * BEFORE;
                scene.between(**eye, before, "").is_none()
            });
            if let Some(eye) = open
                && seen.insert(name)
            {
                trouble.push(format!(
                    "{}: {name} at {corner} is seen from {eye}",
                    case.vehicle.id
                ));
            }
        }
        assert!(looked > 1000, "only {looked} corners deep in the bay");
    }
    has_no(trouble);
}
