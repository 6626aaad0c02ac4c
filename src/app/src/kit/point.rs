//! Probe points: places that can be pointed at, shown only when it matters.
//!
//! A car has hundreds of them. One that is not shown has a mesh for the pointer to hit and no
//! material, so that nothing of it is drawn.

use super::material::{KitAssets, Mat};
use super::solids::*;
use super::state::{PickId, PointShow};
use bevy::light::{NotShadowCaster, NotShadowReceiver};
use bevy::prelude::*;

/// The looks of a point that is shown, swapped as [`PointShow`] changes.
#[derive(Component)]
pub struct PointLooks {
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
        offered: kit.mat(Mat::Clear([90, 200, 255], 110)),
        hover: kit.mat(Mat::Shine([255, 210, 60], 110)),
        touched: kit.mat(Mat::Shine([90, 230, 255], 90)),
    };
    commands
        .spawn((
            Mesh3d(mesh),
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
    mut commands: Commands,
    points: Query<(Entity, &PointShow, &PointLooks), Changed<PointShow>>,
) {
    for (entity, show, looks) in &points {
        let look = match show {
            PointShow::Idle => None,
            PointShow::Offered => Some(&looks.offered),
            PointShow::Hover => Some(&looks.hover),
            PointShow::Touched => Some(&looks.touched),
        };
        let mut point = commands.entity(entity);
        match look {
            Some(look) => point.insert(MeshMaterial3d(look.clone())),
            None => point.remove::<MeshMaterial3d<StandardMaterial>>(),
        };
    }
}
