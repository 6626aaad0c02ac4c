//! The scene is drawn into a picture of its own, of the size that the panels leave free, and only
//! when something in it changed; the panels lie around and over that picture.
//!
//! So a panel can be painted anew at next to no cost, the middle of the scene is the middle of
//! what can be seen of it, and a slow machine can draw the scene coarser than its words while it
//! changes: into a corner of the picture, which always has room for all of it.

use bevy::anti_alias::fxaa::Fxaa;
use bevy::asset::{AssetEventSystems, AssetId, RenderAssetUsages};
use bevy::camera::primitives::{Aabb, Frustum};
use bevy::camera::visibility::VisibilitySystems;
use bevy::camera::{RenderTarget, Viewport};
use bevy::ecs::system::SystemParam;
use bevy::light::SimulationLightSystems;
use bevy::picking::PickingSystems;
use bevy::picking::backend::{HitData, PointerHits};
use bevy::picking::mesh_picking::ray_cast::{MeshRayCast, MeshRayCastSettings, RayCastVisibility};
use bevy::picking::pointer::{PointerId, PointerLocation};
use bevy::platform::collections::HashMap;
use bevy::prelude::*;
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat, TextureUsages};
use bevy::transform::TransformSystems;
use bevy::window::{PrimaryWindow, RequestRedraw};
use bevy_egui::{EguiTextureHandle, EguiUserTextures};

use super::fineness::Fineness;
use crate::desk::Screen;
use crate::egui;
use crate::run::paint::Open;
use crate::run::shot::Waiting;
use crate::run::{InForce, Shown};
use crate::settings::Graphics;
use crate::stage::Viewer;
use crate::stage::shadows::{Altered, Relit};
use crate::stage::surface::Surfaces;

/// Pictures drawn after the last change: what was just made reaches the screen with the first,
/// what had to be prepared for it with the next.
const AFTER: u32 = 2;

/// Seconds without a change after which the scene rests and is drawn in full.
const RESTS_S: f32 = 0.4;

/// Width over height of the free part of a picture that stations' views are made for.
const WIDE: f32 = 1.15;

/// The picture that the scene is drawn into.
#[derive(Resource, Default)]
pub struct Picture {
    image: Handle<Image>,
    /// What panels call it; none before there is a scene.
    pub texture: Option<egui::TextureId>,
    size: UVec2,
    left: u32,
    /// Pixels of the corner that the last drawing filled.
    corner: UVec2,
    /// The last drawing was in full.
    full: bool,
    /// Seconds since the last change.
    still_s: f32,
    fineness: Fineness,
    /// Drawn in every frame, changed or not.
    pub always: bool,
    /// How often the scene was drawn.
    pub drawn: u64,
}

impl Picture {
    /// Whether nothing is left to be drawn.
    pub fn at_rest(&self) -> bool {
        self.left == 0 && self.full
    }

    /// The part of the picture that the scene is in.
    pub fn part(&self) -> egui::Rect {
        let share = |corner: u32, size: u32| {
            // Beyond the corner's last pixel lies what was drawn before.
            let inset = if corner < size { 0.5 } else { 0.0 };
            (corner as f32 - inset) / size.max(1) as f32
        };
        let end = egui::pos2(
            share(self.corner.x, self.size.x),
            share(self.corner.y, self.size.y),
        );
        egui::Rect::from_min_max(egui::Pos2::ZERO, end)
    }
}

/// Adds the picture and the pointing into it.
pub struct PicturePlugin;

impl Plugin for PicturePlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Picture>()
            .add_systems(PreUpdate, point.in_set(PickingSystems::Backend))
            .add_systems(First, fit)
            .add_systems(
                PostUpdate,
                draw_when_changed
                    .after(TransformSystems::Propagate)
                    .after(VisibilitySystems::VisibilityPropagate)
                    .after(AssetEventSystems)
                    .before(VisibilitySystems::CheckVisibility)
                    .before(SimulationLightSystems::AssignLightsToClusters)
                    .before(SimulationLightSystems::UpdateDirectionalLightCascades),
            );
    }

    fn finish(&self, app: &mut App) {
        if !app.world().contains_resource::<Waiting>() {
            Waiting::share(app);
        }
    }
}

/// Makes the picture as large as its place on the screen, and tells the viewer where the middle of
/// what no card covers is.
fn fit(
    open: Res<Open>,
    settings: Res<InForce>,
    windows: Query<&Window, With<PrimaryWindow>>,
    mut viewers: Query<(Entity, &mut Viewer, Option<&RenderTarget>)>,
    mut picture: ResMut<Picture>,
    mut images: ResMut<Assets<Image>>,
    mut textures: ResMut<EguiUserTextures>,
    mut commands: Commands,
) {
    let (Some(place), Ok(window)) = (open.scene, windows.single()) else {
        return;
    };
    let Ok((entity, mut viewer, target)) = viewers.single_mut() else {
        return;
    };
    let k = settings.0.text_percent as f32 / 100.0 * window.scale_factor();
    let whole = place.whole;
    let size = Vec2::new(whole.width(), whole.height()) * k;
    let size = size
        .round()
        .as_uvec2()
        .clamp(UVec2::ONE, UVec2::splat(8192));
    if picture.texture.is_none() {
        picture.image = images.add(blank(size));
        let handle = EguiTextureHandle::Strong(picture.image.clone());
        picture.texture = Some(textures.add_image(handle));
        (picture.size, picture.corner) = (size, size);
    } else if picture.size != size {
        let id = picture.image.id();
        let _ = images.insert(id, blank(size));
        (picture.size, picture.corner) = (size, size);
        picture.left = AFTER;
    }
    if target.and_then(RenderTarget::as_image) != Some(&picture.image) {
        let target = RenderTarget::Image(picture.image.clone().into());
        commands.entity(entity).insert(target);
    }
    // The middle of what no card covers is the middle of the view.
    let aside = (place.clear.center().x - whole.center().x) / whole.height().max(1.0);
    let narrow = widened(place.clear.width() / place.clear.height().max(1.0));
    if viewer.aside != aside || viewer.widened != narrow {
        (viewer.aside, viewer.widened) = (aside, narrow);
    }
}

/// How much more of the scene's height is shown where the free part is narrow, so that its width
/// still holds what a station is about.
fn widened(aspect: f32) -> f32 {
    (WIDE / aspect.max(0.1)).clamp(1.0, 1.5)
}

/// A picture to draw into. It is drawn before it is shown: no pixels are made for its beginning, and none kept
/// here, which on a dense screen are tens of megabytes.
fn blank(size: UVec2) -> Image {
    let size = Extent3d {
        width: size.x,
        height: size.y,
        depth_or_array_layers: 1,
    };
    let (plane, format) = (TextureDimension::D2, TextureFormat::Rgba8UnormSrgb);
    let mut image = Image::new_uninit(size, plane, format, RenderAssetUsages::RENDER_WORLD);
    image.texture_descriptor.usage =
        TextureUsages::TEXTURE_BINDING | TextureUsages::RENDER_ATTACHMENT;
    image
}

/// Everything whose change a picture could show.
#[derive(SystemParam)]
struct Changes<'w, 's> {
    things:
        Query<'w, 's, (&'static GlobalTransform, Option<&'static Aabb>), (With<Mesh3d>, Altered)>,
    wearing: Query<
        'w,
        's,
        (
            &'static GlobalTransform,
            Option<&'static Aabb>,
            &'static MeshMaterial3d<StandardMaterial>,
        ),
    >,
    lamps: Query<'w, 's, (), Or<(Relit, Changed<Msaa>)>>,
    gone: RemovedComponents<'w, 's, Mesh3d>,
    no_longer_shown: RemovedComponents<'w, 's, MeshMaterial3d<StandardMaterial>>,
    materials: MessageReader<'w, 's, AssetEvent<StandardMaterial>>,
    meshes: MessageReader<'w, 's, AssetEvent<Mesh>>,
    images: MessageReader<'w, 's, AssetEvent<Image>>,
}

impl Changes<'_, '_> {
    /// Whether anything changed that this view holds. Reads all there is to read, so that nothing
    /// is left over for the next frame.
    fn within(&mut self, view: &Frustum, own: AssetId<Image>) -> bool {
        let gone = self.gone.read().count() + self.no_longer_shown.read().count() > 0;
        let meshes = self.meshes.read().any(is_modified);
        let images = self
            .images
            .read()
            .any(|e| is_modified(e) && !e.is_modified(own));
        let materials: Vec<_> = self
            .materials
            .read()
            .filter_map(|e| match e {
                AssetEvent::Modified { id } => Some(*id),
                _ => None,
            })
            .collect();
        let seen = |place: &GlobalTransform, size: Option<&Aabb>| {
            size.is_none_or(|s| view.intersects_obb(s, &place.affine(), true, false))
        };
        gone || meshes
            || images
            || !self.lamps.is_empty()
            || self.things.iter().any(|(place, size)| seen(place, size))
            || !materials.is_empty()
                && self
                    .wearing
                    .iter()
                    .any(|(place, size, m)| materials.contains(&m.id()) && seen(place, size))
    }
}

fn is_modified<A: Asset>(event: &AssetEvent<A>) -> bool {
    matches!(event, AssetEvent::Modified { .. })
}

/// Lets the scene's camera draw only when its picture would differ.
fn draw_when_changed(
    shown: Res<State<Shown>>,
    settings: Res<InForce>,
    waiting: Option<Res<Waiting>>,
    surfaces: Res<Surfaces>,
    time: Res<Time<Real>>,
    mut picture: ResMut<Picture>,
    mut changes: Changes,
    mut cameras: Query<
        (
            &mut Camera,
            &Frustum,
            Ref<GlobalTransform>,
            &Projection,
            &RenderTarget,
            Option<&mut Fxaa>,
        ),
        With<Viewer>,
    >,
    mut angle_before: Local<f32>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let Ok((mut camera, frustum, place, projection, target, edges)) = cameras.single_mut() else {
        return;
    };
    // Its other numbers follow from the size of what is drawn.
    let angle = match projection {
        Projection::Perspective(p) => p.fov,
        Projection::Orthographic(_) | Projection::Custom(_) => 0.0,
    };
    let turned = std::mem::replace(&mut *angle_before, angle) != angle;
    let changed = changes.within(frustum, picture.image.id());
    // A shader that is still being compiled leaves out what it should have drawn.
    let compiling = waiting.is_some_and(|w| w.count() > 0);
    let seconds = time.delta_secs();
    if changed
        || compiling
        || turned
        || surfaces.is_changed()
        || place.is_changed()
        || picture.always
    {
        // What lay between two drawings of a changing scene, not between panels alone.
        if camera.is_active && picture.left > 0 && !compiling {
            picture.fineness.took(seconds);
        }
        picture.left = AFTER;
        picture.still_s = 0.0;
    } else {
        picture.still_s += seconds;
    }
    let ready = target.as_image().is_some() && surfaces.ready();
    let at_car = shown.get().0 == Screen::Work && ready;
    // Only the low level has machines in mind that cannot draw everything in time.
    let adapts = settings.0.graphics == Graphics::Low;
    let moving = picture.left > 0;
    let rests = !moving && !picture.full && picture.still_s >= RESTS_S;
    let draw = at_car && (moving || rests);
    if camera.is_active != draw {
        camera.is_active = draw;
    }
    if !draw {
        if at_car && !picture.full {
            redraw.write(RequestRedraw);
        }
        return;
    }
    let (share, smooth) = if adapts && moving {
        (picture.fineness.share(), picture.fineness.smooth())
    } else {
        (1.0, adapts)
    };
    let corner = (picture.size.as_vec2() * share).round().as_uvec2();
    let corner = corner.max(UVec2::ONE);
    let seen = (corner != picture.size).then(|| Viewport {
        physical_size: corner,
        ..default()
    });
    if camera.viewport.as_ref().map(|v| v.physical_size) != seen.as_ref().map(|v| v.physical_size) {
        camera.viewport = seen;
    }
    if let Some(mut edges) = edges
        && edges.enabled != smooth
    {
        edges.enabled = smooth;
    }
    picture.corner = corner;
    picture.full = !adapts || share == 1.0 && smooth;
    picture.left = picture.left.saturating_sub(1);
    picture.drawn += 1;
    redraw.write(RequestRedraw);
}

/// Finds what the pointer is over in the picture.
fn point(
    open: Res<Open>,
    settings: Res<InForce>,
    picture: Res<Picture>,
    pointers: Query<(&PointerId, Ref<PointerLocation>)>,
    cameras: Query<(Entity, &Camera, &GlobalTransform), With<Viewer>>,
    pickables: Query<&Pickable>,
    mut cast: MeshRayCast,
    mut cast_before: Local<HashMap<PointerId, (u64, Vec<(Entity, HitData)>)>>,
    mut hits: MessageWriter<PointerHits>,
) {
    let (Some(place), Ok((eye, camera, from))) = (open.scene, cameras.single()) else {
        return;
    };
    cast_before.retain(|id, _| pointers.iter().any(|(pointer, _)| pointer == id));
    for (pointer, location) in &pointers {
        let last = cast_before.entry(*pointer).or_default();
        let Some(at) = location.location() else {
            continue;
        };
        let zoom = settings.0.text_percent as f32 / 100.0;
        let at = at.position / zoom;
        if !place.whole.contains(egui::pos2(at.x, at.y)) {
            continue;
        }
        // Rays are cast anew only when the pointer or the picture moved.
        if location.is_changed() || last.0 != picture.drawn {
            let share = Vec2::new(
                (at.x - place.whole.left()) / place.whole.width(),
                (at.y - place.whole.top()) / place.whole.height(),
            );
            let size = camera.logical_viewport_size().unwrap_or(Vec2::ONE);
            let Ok(ray) = camera.viewport_to_world(from, share * size) else {
                continue;
            };
            let filter =
                |e| pickables.get(e).is_ok_and(|p| p.is_hoverable) || !pickables.contains(e);
            let how = MeshRayCastSettings::default()
                .with_visibility(RayCastVisibility::Visible)
                .with_filter(&filter);
            last.0 = picture.drawn;
            last.1 = cast
                .cast_ray(ray, &how)
                .iter()
                .map(|(e, hit)| {
                    let found = HitData::new(eye, hit.distance, Some(hit.point), Some(hit.normal));
                    (*e, found)
                })
                .collect();
        }
        if !last.1.is_empty() {
            hits.write(PointerHits::new(*pointer, last.1.clone(), 0.0));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_narrow_place_shows_more_height_and_a_wide_one_the_usual() {
        assert_eq!(widened(16.0 / 9.0), 1.0);
        assert_eq!(widened(0.01), 1.5);
        let (half, same) = (widened(0.92), 1.15 / 0.92);
        assert!((half - same).abs() < 1e-6);
    }
}
