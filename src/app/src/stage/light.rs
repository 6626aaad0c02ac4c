//! Cameras and lamps of the workshop, and the inspection lamp's beam.

use super::station::{Places, Station, Viewer};
use super::surroundings::workshop_light;
use super::unseen::all_there_is;
use crate::kit::Glow;
use bevy::anti_alias::fxaa::{Fxaa, Sensitivity};
use bevy::camera::Exposure;
use bevy::core_pipeline::core_3d::CORE_3D_DEPTH_FORMAT;
use bevy::core_pipeline::prepass::DepthPrepass;
use bevy::core_pipeline::tonemapping::Tonemapping;
use bevy::light::cluster::GlobalClusterSettings;
use bevy::light::{CascadeShadowConfigBuilder, DirectionalLightShadowMap, ShadowFilteringMethod};
use bevy::prelude::*;
use bevy::render::render_resource::{TextureFormat, TextureFormatFeatureFlags};
use bevy::render::renderer::{RenderAdapter, RenderDevice};
use bevy::render::settings::{WgpuFeatures, WgpuSettings};

/// How much work drawing may be.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Detail {
    /// No shadows, no relief, edges smoothed afterwards: for machines that draw without a GPU.
    Low,
    /// Shadows, relief, smoothed edges.
    #[default]
    Medium,
    /// Finer shadows with soft edges.
    High,
}

/// What is asked of a graphics driver for a level.
pub fn device(detail: Detail) -> WgpuSettings {
    let mut device = WgpuSettings::default();
    if detail == Detail::Low {
        // Tables of pictures spare a graphics card work; a processor that draws tries every
        // picture of the table for every pixel.
        device.disabled_features = Some(
            WgpuFeatures::TEXTURE_BINDING_ARRAY
                | WgpuFeatures::SAMPLED_TEXTURE_AND_STORAGE_BUFFER_ARRAY_NON_UNIFORM_INDEXING,
        );
    }
    device
}

/// The lamp over the car that casts the shadows.
#[derive(Component)]
pub struct MainLamp;

/// A hand-held inspection lamp's beam; follows its owner's [`Glow`].
#[derive(Component)]
pub struct Beam {
    /// The entity whose glow is followed.
    pub owner: Entity,
}

/// Light output of the inspection lamp at full glow, in the scene's lumens.
const BEAM_LUMENS: f32 = 95_000.0;

/// Spawns the camera at a station.
pub fn spawn_viewer(
    commands: &mut Commands,
    images: &mut Assets<Image>,
    places: &Places,
    station: Station,
) -> Entity {
    let v = Viewer::at(station, places);
    let at = v.now.transform();
    commands
        .spawn((
            Camera3d::default(),
            Projection::Perspective(PerspectiveProjection {
                fov: v.now.fov,
                near: 0.01,
                far: 30.0,
                ..default()
            }),
            at,
            v,
            Tonemapping::AcesFitted,
            Exposure { ev100: 9.7 },
            workshop_light(images, 900.0),
            Msaa::Off,
        ))
        .id()
}

/// Spawns the workshop's lamps.
pub fn spawn_lamps(commands: &mut Commands) {
    commands.spawn((
        DirectionalLight {
            illuminance: 2_600.0,
            color: Color::srgb(1.0, 0.965, 0.90),
            shadow_maps_enabled: true,
            shadow_depth_bias: 0.016,
            shadow_normal_bias: 1.4,
            ..default()
        },
        Transform::from_xyz(0.9, 2.6, 1.5).looking_at(Vec3::new(0.0, -0.2, 0.0), Vec3::Y),
        CascadeShadowConfigBuilder {
            num_cascades: 1,
            minimum_distance: 0.05,
            // Everything in the room: its map follows the station, not the eye.
            maximum_distance: 30.0,
            ..default()
        }
        .build(),
        MainLamp,
        all_there_is(),
    ));
    // A soft lamp in the cabin, or its dash would lie in the roof's shade.
    commands.spawn((
        PointLight {
            intensity: 14_000.0,
            color: Color::srgb(1.0, 0.97, 0.92),
            range: 1.7,
            radius: 0.2,
            shadow_maps_enabled: false,
            ..default()
        },
        Transform::from_xyz(0.1, 0.42, -1.62),
    ));
    commands.insert_resource(GlobalAmbientLight {
        brightness: 0.0,
        ..default()
    });
}

/// Spawns the inspection lamp's beam at `at`, shining along its -z.
pub fn spawn_beam(
    commands: &mut Commands,
    owner: Entity,
    at: Transform,
    parent: Option<Entity>,
) -> Entity {
    let mut e = commands.spawn((
        SpotLight {
            intensity: 0.0,
            color: Color::srgb(0.92, 0.97, 1.0),
            range: 2.5,
            radius: 0.01,
            shadow_maps_enabled: false,
            inner_angle: 0.22,
            outer_angle: 0.48,
            // On what the beam only grazes, as the wing, less would draw the map's own steps.
            shadow_depth_bias: 0.012,
            shadow_normal_bias: 1.6,
            shadow_map_near_z: 0.05,
            ..default()
        },
        at,
        Beam { owner },
    ));
    if let Some(p) = parent {
        e.insert(ChildOf(p));
    }
    e.id()
}

/// Sorts lamps into screen tiles on the processor: there are two or three, the
/// browser build does it so anyway, and then all builds look the same.
pub fn sort_lamps_on_cpu(settings: Option<ResMut<GlobalClusterSettings>>) {
    if let Some(mut s) = settings {
        s.gpu_clustering = None;
    }
}

/// So little light from all round that it is not seen: the small surface shader takes it as the
/// sign that a beam or a small lamp is lit and looks for it.
const SIGN: f32 = 1.0e-3;

/// Tells the small surface shader whether there are lamps to look for: the one in the cabin, and
/// beams.
pub fn sign_of_lamps(
    viewers: Query<&Viewer>,
    beams: Query<&SpotLight, With<Beam>>,
    around: Option<ResMut<GlobalAmbientLight>>,
) {
    let Some(mut around) = around else { return };
    let inside = viewers.iter().any(|v| v.station == Station::Seat);
    let lit = beams.iter().any(|b| b.intensity > 0.0);
    let wanted = if inside || lit { SIGN } else { 0.0 };
    if around.brightness != wanted {
        around.brightness = wanted;
    }
}

/// Brightens and dims beams.
pub fn shine(
    changed: Query<(), Or<(Changed<Glow>, Added<Beam>)>>,
    glows: Query<&Glow>,
    detail: Res<Detail>,
    mut beams: Query<(&Beam, &mut SpotLight)>,
) {
    if changed.is_empty() {
        return;
    }
    for (b, mut light) in &mut beams {
        let g = glows.get(b.owner).map_or(0.0, |g| g.0);
        let want = g * BEAM_LUMENS;
        if light.intensity != want {
            light.intensity = want;
            light.shadow_maps_enabled = want > 0.0 && *detail != Detail::Low;
        }
    }
}

/// Applies the chosen detail, to lamps and cameras that come later too.
pub fn apply_detail(
    detail: Res<Detail>,
    mut commands: Commands,
    mut lamps: Query<&mut DirectionalLight, With<MainLamp>>,
    cameras: Query<Entity, With<Viewer>>,
    fresh: Query<(), Or<(Added<MainLamp>, Added<Viewer>)>>,
    card: Option<Res<RenderAdapter>>,
    driver: Option<Res<RenderDevice>>,
) {
    if !detail.is_changed() && fresh.is_empty() {
        return;
    }
    // What a size costs is paid while something moves that throws a shadow; what a filter costs, always.
    let (shadow, size, filter) = match *detail {
        Detail::Low => (false, 512, ShadowFilteringMethod::Hardware2x2),
        Detail::Medium => (true, 2048, ShadowFilteringMethod::Hardware2x2),
        Detail::High => (true, 2048, ShadowFilteringMethod::Gaussian),
    };
    let msaa = match *detail {
        Detail::Low => Msaa::Off,
        Detail::Medium | Detail::High => edge_samples(card.as_deref(), driver.as_deref()),
    };
    // What is hidden is then not lit, which pays where lighting is dear: half the time under the lamp.
    // WebGL 2 has no such depths of several samples.
    let depths_first = *detail != Detail::Low && cfg!(not(target_arch = "wasm32"));
    // Without samples of their own, edges are smoothed in the finished picture: one pass over it.
    let smooth = Fxaa {
        enabled: *detail == Detail::Low,
        // Only what one would notice: each step more costs a processor that draws.
        edge_threshold: Sensitivity::Medium,
        edge_threshold_min: Sensitivity::Medium,
    };
    for mut l in &mut lamps {
        if l.shadow_maps_enabled != shadow {
            l.shadow_maps_enabled = shadow;
        }
    }
    commands.insert_resource(DirectionalLightShadowMap { size });
    for e in &cameras {
        let mut camera = commands.entity(e);
        camera.insert((msaa, filter, smooth.clone()));
        if depths_first {
            camera.insert(DepthPrepass);
        } else {
            camera.remove::<DepthPrepass>();
        }
    }
}

/// Samples for smooth edges: two look like four at a fifth less work, but only four are promised everywhere.
fn edge_samples(card: Option<&RenderAdapter>, driver: Option<&RenderDevice>) -> Msaa {
    let two = |format| {
        card.is_some_and(|card| {
            let flags = card.get_texture_format_features(format).flags;
            flags.contains(TextureFormatFeatureFlags::MULTISAMPLE_X2)
        })
    };
    let asked = driver.is_some_and(|driver| {
        let wanted = WgpuFeatures::TEXTURE_ADAPTER_SPECIFIC_FORMAT_FEATURES;
        driver.features().contains(wanted)
    });
    let formats = [TextureFormat::Rgba8UnormSrgb, CORE_3D_DEPTH_FORMAT];
    if asked && formats.into_iter().all(two) {
        Msaa::Sample2
    } else {
        Msaa::Sample4
    }
}
