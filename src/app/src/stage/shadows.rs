//! Shadow maps are drawn only when something that throws a shadow moved.
//!
//! The lamp over the car has one map of all that a station is about, wherever the eye is, and the
//! inspection lamp's beam has one of its own. Neither changes while one looks round, so both are
//! kept from picture to picture. Knows nothing of what the parts are.

use bevy::camera::visibility::VisibilitySystems;
use bevy::core_pipeline::schedule::RootNonCameraView;
use bevy::ecs::system::SystemParam;
use bevy::light::cascade::{Cascade, Cascades};
use bevy::light::{DirectionalLightShadowMap, NotShadowCaster, SimulationLightSystems};
use bevy::pbr::{PointAndSpotLightViewEntities, ViewLightEntities, ViewShadowBindings};
use bevy::prelude::*;
use bevy::render::render_resource::{PipelineCache, TextureId};
use bevy::render::view::ExtractedView;
use bevy::render::{Extract, ExtractSchedule, Render, RenderApp, RenderSystems};
use bevy::transform::TransformSystems;

use super::light::{Detail, MainLamp};
use super::station::{Station, Viewer};
use super::workshop::BENCH;

/// Pictures that a map is drawn for after the last change: what was just made reaches the card with
/// the first or the second.
const AFTER: u32 = 3;

/// What the lamp's map holds at the car, the middle and half of the size: the bay with its open bonnet,
/// the cabin, and the rear where there is something to reach. Metres.
pub const CAR: (Vec3, Vec3) = (Vec3::new(0.0, 0.1, -0.57), Vec3::new(1.0, 1.05, 1.9));
/// What it holds at the bench, around [`BENCH`].
const AT_BENCH: Vec3 = Vec3::new(0.6, 0.8, 1.0);

/// Adds the keeping of shadow maps.
pub struct ShadowsPlugin;

impl Plugin for ShadowsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Moves>().add_systems(
            PostUpdate,
            (
                notice
                    .after(TransformSystems::Propagate)
                    .after(VisibilitySystems::VisibilityPropagate),
                hold_still
                    .after(SimulationLightSystems::UpdateDirectionalLightCascades)
                    .before(SimulationLightSystems::UpdateLightFrusta),
            ),
        );
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render
                .init_resource::<Kept>()
                .add_systems(ExtractSchedule, hear)
                // After everything has been queued: what is new must be in the maps' lists even
                // where they are not drawn this time.
                .add_systems(Render, keep.in_set(RenderSystems::PrepareBindGroups));
        }
    }
}

/// How often something happened that shadow maps show.
#[derive(Resource, Default)]
struct Moves(u64);

/// What stands elsewhere, is another or looks otherwise than before.
pub type Altered = Or<(
    Changed<GlobalTransform>,
    Changed<Mesh3d>,
    Changed<MeshMaterial3d<StandardMaterial>>,
    Changed<InheritedVisibility>,
)>;

/// What shines elsewhere or otherwise than before.
pub type Relit = Or<(
    Changed<SpotLight>,
    Changed<PointLight>,
    Changed<DirectionalLight>,
    (
        Or<(With<SpotLight>, With<PointLight>, With<DirectionalLight>)>,
        Changed<GlobalTransform>,
    ),
)>;

/// Everything that a shadow map would show.
#[derive(SystemParam)]
struct Changes<'w, 's> {
    things: Query<'w, 's, (), (With<Mesh3d>, Without<NotShadowCaster>, Altered)>,
    lamps: Query<'w, 's, (), Relit>,
    hidden: Query<'w, 's, (), Added<NotShadowCaster>>,
    shown: RemovedComponents<'w, 's, NotShadowCaster>,
    gone: RemovedComponents<'w, 's, Mesh3d>,
    meshes: MessageReader<'w, 's, AssetEvent<Mesh>>,
}

impl Changes<'_, '_> {
    /// Whether there are any. Reads all there is to read, so that nothing is left over.
    fn any(&mut self) -> bool {
        let shown = self.shown.read().count() > 0;
        let gone = self.gone.read().count() > 0;
        let meshes = self
            .meshes
            .read()
            .filter(|e| !matches!(e, AssetEvent::Unused { .. } | AssetEvent::Removed { .. }))
            .count()
            > 0;
        shown
            || gone
            || meshes
            || !self.things.is_empty()
            || !self.lamps.is_empty()
            || !self.hidden.is_empty()
    }
}

fn notice(
    mut changes: Changes,
    detail: Res<Detail>,
    size: Res<DirectionalLightShadowMap>,
    viewers: Query<&Viewer>,
    mut station: Local<Option<Station>>,
    mut moves: ResMut<Moves>,
) {
    let now = viewers.single().ok().map(|v| v.station);
    let walked = *station != now;
    *station = now;
    if changes.any() || walked || detail.is_changed() || size.is_changed() {
        moves.0 += 1;
    }
}

/// Puts one map of the whole station in place of one that follows the eye.
fn hold_still(
    size: Res<DirectionalLightShadowMap>,
    viewers: Query<(Entity, &Viewer)>,
    mut lamps: Query<(&GlobalTransform, &DirectionalLight, &mut Cascades), With<MainLamp>>,
) {
    for (place, lamp, mut cascades) in &mut lamps {
        if !lamp.shadow_maps_enabled {
            continue;
        }
        for (entity, viewer) in &viewers {
            let Some(own) = cascades.cascades.get_mut(&entity) else {
                continue;
            };
            let (middle, half) = match viewer.station {
                Station::Bench => (BENCH + Vec3::Y * 0.3, AT_BENCH),
                Station::Seat | Station::Bay | Station::Box => CAR,
            };
            let map = around(middle, half, place.rotation(), size.size as f32);
            own.fill(map);
        }
    }
}

/// The map that holds a block, `half` of its size on each side of `middle`, in the light of a lamp turned by `turn`, `pixels`
/// wide.
fn around(middle: Vec3, half: Vec3, turn: Quat, pixels: f32) -> Cascade {
    let world_from_light = Mat3::from_quat(turn);
    let light_from_world = world_from_light.transpose();
    let spread = |row: Vec3| row.abs().dot(half);
    let at = light_from_world * middle;
    let rows = light_from_world.transpose();
    let reach = Vec3::new(
        spread(rows.x_axis),
        spread(rows.y_axis),
        spread(rows.z_axis),
    );
    // Square, as the map is. The near side is where the light comes from: its +z.
    let wide = reach.x.max(reach.y) * 2.0;
    let near = at + Vec3::Z * reach.z;
    let mut cascade_from_world = Mat4::from_mat3(light_from_world);
    cascade_from_world.w_axis = (-near).extend(1.0);
    let mut world_from_cascade = Mat4::from_mat3(world_from_light);
    world_from_cascade.w_axis = (world_from_light * near).extend(1.0);
    // Depth runs from one at the near side to zero at the far one.
    let clip_from_cascade = Mat4::from_cols(
        Vec4::new(2.0 / wide, 0.0, 0.0, 0.0),
        Vec4::new(0.0, 2.0 / wide, 0.0, 0.0),
        Vec4::new(0.0, 0.0, 0.5 / reach.z, 0.0),
        Vec4::new(0.0, 0.0, 1.0, 1.0),
    );
    Cascade {
        world_from_cascade,
        clip_from_cascade,
        clip_from_world: clip_from_cascade * cascade_from_world,
        texel_size: wide / pixels,
    }
}

/// What the maps on the card show.
#[derive(Resource, Default)]
struct Kept {
    moves: u64,
    /// Pictures for which they are still to be drawn.
    left: u32,
    /// Where they lie: another texture has nothing in it.
    texture: Option<TextureId>,
}

fn hear(moves: Extract<Res<Moves>>, mut kept: ResMut<Kept>) {
    if kept.moves != moves.0 {
        kept.moves = moves.0;
        kept.left = AFTER;
    }
}

/// Takes the maps that would come out the same off the list of what is drawn.
fn keep(
    mut kept: ResMut<Kept>,
    pipelines: Res<PipelineCache>,
    mut views: Query<(&mut ViewLightEntities, &ViewShadowBindings), With<ExtractedView>>,
    lamps: Query<&PointAndSpotLightViewEntities>,
    mut commands: Commands,
) {
    for (mut own, maps) in &mut views {
        let texture = maps.directional_light_depth_texture.id();
        // A shader that is still being compiled leaves out what it should have drawn.
        if kept.texture != Some(texture) || pipelines.waiting_pipelines().next().is_some() {
            kept.texture = Some(texture);
            kept.left = AFTER;
        }
        if kept.left > 0 {
            kept.left -= 1;
            return;
        }
        own.lights.clear();
    }
    for views in &lamps {
        for &view in views.iter() {
            commands.entity(view).remove::<RootNonCameraView>();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_map_holds_its_block_and_little_else() {
        let turn = Transform::from_xyz(0.9, 2.6, 1.5)
            .looking_at(Vec3::new(0.0, -0.2, 0.0), Vec3::Y)
            .rotation;
        let (middle, half) = CAR;
        let map = around(middle, half, turn, 2048.0);
        let (mut least, mut most) = (Vec3::MAX, Vec3::MIN);
        for corner in 0..8 {
            let side = |bit: i32| if corner & bit == 0 { -1.0 } else { 1.0 };
            let at = middle + half * Vec3::new(side(1), side(2), side(4));
            let clip = map.clip_from_world.project_point3(at);
            least = least.min(clip);
            most = most.max(clip);
        }
        let close = |a: f32, b: f32| (a - b).abs() < 1e-4;
        assert!(least.cmpge(Vec3::new(-1.0001, -1.0001, -0.0001)).all());
        assert!(most.cmple(Vec3::splat(1.0001)).all());
        assert!(close(least.z, 0.0) && close(most.z, 1.0), "{least} {most}");
        assert!(close(most.x.max(most.y), 1.0), "{most}");
    }

    #[test]
    fn a_map_is_seen_from_the_lamp_and_back() {
        let turn = Quat::from_rotation_x(-1.2);
        let map = around(Vec3::new(0.3, 0.2, 0.1), Vec3::ONE, turn, 1024.0);
        let there_and_back =
            map.world_from_cascade * (map.clip_from_cascade.inverse() * map.clip_from_world);
        let p = Vec3::new(0.4, -0.2, 0.7);
        assert!((there_and_back.transform_point3(p) - p).length() < 1e-5);
        // Nearer to the lamp is nearer to one.
        let towards = turn * Vec3::Z;
        let near = map.clip_from_world.project_point3(towards * 0.5).z;
        let far = map.clip_from_world.project_point3(towards * -0.5).z;
        assert!(near > far, "{near} {far}");
    }
}
