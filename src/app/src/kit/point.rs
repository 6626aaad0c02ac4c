//! Probe points: places that can be pointed at, shown only when it matters.

use super::material::{KitAssets, Mat};
use super::solids::*;
use super::state::{PickId, PointShow};
use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

/// The two looks of a point, swapped as [`PointShow`] changes.
#[derive(Component)]
pub struct PointLooks {
    idle: Handle<StandardMaterial>,
    offered: Handle<StandardMaterial>,
    hover: Handle<StandardMaterial>,
    touched: Handle<StandardMaterial>,
}

/// Spawns a point at an anchor of `parent`; `radius` in metres is the size of
/// what can be touched there. The point carries [`PickId`] and [`PointShow`].
pub fn spawn_point(
    commands: &mut Commands,
    kit: &mut KitAssets,
    parent: Entity,
    anchor: Transform,
    id: PickId,
    radius: f32,
) -> Entity {
    let key = format!("point {:.4}", radius);
    let mesh = kit.mesh(&key, || {
        // A ring with a dome inside: the dome is easy to hit, the ring to see.
        ring(radius * 0.9, radius * 1.25, radius * 0.3, 12)
            .with(lathe(
                &[
                    (radius * 0.9, 0.0),
                    (radius * 0.6, radius * 0.35),
                    (0.0, radius * 0.45),
                ],
                8,
            ))
            .to_mesh()
    });
    let looks = PointLooks {
        idle: kit.mat(Mat::Unseen),
        offered: kit.mat(Mat::Clear([90, 200, 255], 110)),
        hover: kit.mat(Mat::Shine([255, 210, 60], 110)),
        touched: kit.mat(Mat::Shine([90, 230, 255], 90)),
    };
    commands
        .spawn((
            Mesh3d(mesh),
            MeshMaterial3d(looks.idle.clone()),
            looks,
            anchor,
            ChildOf(parent),
            id,
            PointShow::Idle,
            NotShadowCaster,
            NotShadowReceiver,
            crate::stage::NoOpenness,
        ))
        .id()
}

/// Shows points as their [`PointShow`] says.
pub fn show_points(
    mut points: Query<
        (
            &PointShow,
            &PointLooks,
            &mut MeshMaterial3d<StandardMaterial>,
        ),
        Changed<PointShow>,
    >,
) {
    for (show, looks, mut material) in &mut points {
        material.0 = match show {
            PointShow::Idle => looks.idle.clone(),
            PointShow::Offered => looks.offered.clone(),
            PointShow::Hover => looks.hover.clone(),
            PointShow::Touched => looks.touched.clone(),
        };
    }
}
