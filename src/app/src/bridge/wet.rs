//! Drops on what was wetted, as long as it is wet. The session tells which places are; on what the
//! water lies there is looked up in the scene.

use bevy::picking::mesh_picking::ray_cast::{MeshRayCast, MeshRayCastSettings, RayCastVisibility};
use bevy::prelude::*;

use super::Standing;
use crate::kit::geo::Geo;
use crate::kit::solids::lathe;
use crate::kit::{KitAssets, Mat, PointShow};
use crate::run::AtDesk;
use crate::stage::{Bay, NoOpenness, Spot};

/// Drops of a place.
const DROPS: usize = 90;
/// How far they lie round its middle, metres.
const ROUND: f32 = 0.085;
/// How far before and behind the place water is looked for something to lie on, metres.
const BEFORE: f32 = 0.16;
const BEHIND: f32 = 0.16;
/// The golden angle, by which points spread evenly over a disc (Vogel 1979), radians.
const GOLDEN: f32 = 2.399_963;

/// The drops of a wet place.
#[derive(Component)]
pub struct Drops(String);

/// How a drop looks.
#[derive(Resource)]
pub struct Look {
    mesh: Handle<Mesh>,
    material: Handle<StandardMaterial>,
}

/// Makes the look of drops once.
pub fn prepare(look: Option<Res<Look>>, mut kit: KitAssets, mut commands: Commands) {
    if look.is_none() {
        commands.insert_resource(Look {
            mesh: kit.mesh("drop", || drop().to_mesh()),
            material: kit.mat(Mat::Clear([214, 228, 238], 165)),
        });
    }
}

/// Puts drops where it is wet, and takes them away where it has dried.
pub fn follow(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    bay: Option<Res<Bay>>,
    drops: Query<(Entity, &Drops)>,
    points: Query<(), With<PointShow>>,
    parents: Query<&ChildOf>,
    look: Option<Res<Look>>,
    mut cast: MeshRayCast,
    mut commands: Commands,
) {
    if !at_desk.is_changed() && !standing.is_changed() {
        return;
    }
    let (Some(desk), Some(bay), Some(look)) = (&at_desk.0, bay, look) else {
        return;
    };
    let wet = &desk.view().wet;
    for (entity, drops) in &drops {
        if !wet.contains(&drops.0) {
            commands.entity(entity).despawn();
        }
    }
    for place in wet {
        let Some(spot) = standing.gazes.spot(place) else {
            continue;
        };
        if drops.iter().any(|(_, d)| &d.0 == place) {
            continue;
        }
        let marker = |e: Entity| {
            points.contains(e) || parents.get(e).is_ok_and(|up| points.contains(up.parent()))
        };
        let solid = |e: Entity| !marker(e);
        let how = MeshRayCastSettings::default()
            .with_visibility(RayCastVisibility::Any)
            .with_filter(&solid);
        let lie: Vec<Transform> = rays(spot)
            .filter_map(|(ray, size)| {
                let (_, hit) = cast.cast_ray(ray, &how).first()?;
                (hit.distance < BEFORE + BEHIND).then(|| lying(hit.point, hit.normal, size))
            })
            .collect();
        let root = commands
            .spawn((
                Drops(place.clone()),
                Transform::IDENTITY,
                Visibility::default(),
                ChildOf(bay.root),
            ))
            .id();
        for at in lie {
            commands.spawn((
                Mesh3d(look.mesh.clone()),
                MeshMaterial3d(look.material.clone()),
                at,
                Pickable::IGNORE,
                NoOpenness,
                ChildOf(root),
            ));
        }
    }
}

/// Rays at a place from where the eye is, spread over a disc, each with the size of its drop.
fn rays(spot: &Spot) -> impl Iterator<Item = (Ray3d, f32)> {
    let eye = spot.eye.normalize_or(Vec3::Y);
    let aside = eye.any_orthonormal_vector();
    let other = eye.cross(aside);
    let middle = spot.at + eye * BEFORE;
    (0..DROPS).filter_map(move |i| {
        let share = (i as f32 + 0.5) / DROPS as f32;
        let (sin, cos) = (i as f32 * GOLDEN).sin_cos();
        let from = middle + (aside * cos + other * sin) * ROUND * share.sqrt();
        let size = 0.0020 + 0.0040 * ((i * 7) % 10) as f32 / 10.0;
        Some((Ray3d::new(from, Dir3::new(-eye).ok()?), size))
    })
}

fn lying(at: Vec3, normal: Vec3, size: f32) -> Transform {
    let up = normal.normalize_or(Vec3::Y);
    Transform::from_translation(at)
        .with_rotation(Quat::from_rotation_arc(Vec3::Y, up))
        .with_scale(Vec3::splat(size))
}

/// A drop of radius 1, flat as water lies on metal.
fn drop() -> Geo {
    let side = [
        (1.0, 0.0),
        (0.92, 0.26),
        (0.66, 0.46),
        (0.30, 0.56),
        (0.0, 0.58),
    ];
    lathe(&side, 12)
}
