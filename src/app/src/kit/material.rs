//! The materials a car is made of, made once and shared.
//!
//! Metal, rubber, plastic and cloth differ in three ways that an eye reads at
//! once: how much they mirror, how broad their highlights are, and their grain.

use super::glyphs::Canvas;
use super::texture::{Tile, drawn_only, openness_ramp};
use bevy::ecs::system::SystemParam;
use bevy::image::Image;
use bevy::mesh::UvChannel;
use bevy::prelude::*;
use std::collections::BTreeMap;
use std::f32::consts::TAU;

/// A colour as three sRGB bytes.
pub type Rgb = [u8; 3];

/// A surface from the kit's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mat {
    /// Glossy body paint.
    Paint(Rgb),
    /// Thin satin paint, as inside a bay.
    Satin(Rgb),
    /// Sand-cast aluminium: pale, rough, pitted.
    CastAluminium,
    /// Drawn or machined aluminium: pipes, brackets.
    BareAluminium,
    /// Plated steel: bolts, clamps, pulleys.
    Steel,
    /// Blackened steel: brackets, studs, hot parts.
    DarkSteel,
    /// Rusted steel.
    Rust,
    /// Hoses, belts, grommets, tyres of clips.
    Rubber,
    /// Grained moulded plastic.
    Plastic(Rgb),
    /// Smooth moulded plastic.
    Gloss(Rgb),
    /// See-through plastic or fluid: colour and opacity.
    Clear(Rgb, u8),
    /// Window and lens glass.
    Glass,
    /// Bare copper.
    Copper,
    /// Brass and gold-coloured terminals.
    Brass,
    /// Lead battery posts.
    Lead,
    /// Woven cloth.
    Cloth(Rgb),
    /// Corrugated wiring sleeve.
    Sleeve,
    /// Ribbed belt surface (u across, v along).
    Belt,
    /// Radiator and condenser core.
    Fins,
    /// A hole one cannot see into.
    Void,
    /// Painted workshop floor.
    Floor,
    /// Workshop wall.
    Wall(Rgb),
    /// A surface that shines by itself, 0–255 of the light's strength.
    Shine(Rgb, u8),
}

/// What the kit has made so far, so that it is made once.
#[derive(Resource, Default)]
pub struct KitCache {
    mats: BTreeMap<Mat, Handle<StandardMaterial>>,
    labels: BTreeMap<String, Handle<StandardMaterial>>,
    meshes: BTreeMap<String, Handle<Mesh>>,
    textures: Option<Textures>,
}

#[derive(Clone)]
struct Textures {
    open: Handle<Image>,
    grain: Handle<Image>,
    cast: Handle<Image>,
    blotch: Handle<Image>,
    rough: Handle<Image>,
    cast_rough: Handle<Image>,
    brushed: Handle<Image>,
    weave: Handle<Image>,
    weave_tone: Handle<Image>,
    ribs: Handle<Image>,
    sleeve: Handle<Image>,
    sleeve_tone: Handle<Image>,
    floor_tone: Handle<Image>,
    fins_tone: Handle<Image>,
    fins: Handle<Image>,
    belt_tone: Handle<Image>,
}

/// Access to the kit's stores of meshes, materials and pictures.
#[derive(SystemParam)]
pub struct KitAssets<'w> {
    /// Meshes of the app.
    pub meshes: ResMut<'w, Assets<Mesh>>,
    /// Materials of the app.
    pub materials: ResMut<'w, Assets<StandardMaterial>>,
    /// Pictures of the app.
    pub images: ResMut<'w, Assets<Image>>,
    cache: ResMut<'w, KitCache>,
}

/// An sRGB colour from bytes.
pub fn srgb(c: Rgb) -> Color {
    Color::srgb_u8(c[0], c[1], c[2])
}

/// A colour with some scattered light added: real black plastic is never darker
/// than a few per cent, and shapes vanish when it is drawn darker.
fn lifted(c: Rgb, by: f32) -> Color {
    let l = srgb(c).to_linear();
    Color::linear_rgb(l.red + by, l.green + by, l.blue + by)
}

impl KitAssets<'_> {
    /// The shared material for a surface.
    pub fn mat(&mut self, m: Mat) -> Handle<StandardMaterial> {
        if let Some(h) = self.cache.mats.get(&m) {
            return h.clone();
        }
        let made = self.make(m);
        let h = self.materials.add(made);
        self.cache.mats.insert(m, h.clone());
        h
    }

    /// A printed label, drawn the first time that its key is asked for.
    pub fn label(&mut self, key: &str, draw: impl FnOnce() -> Canvas) -> Handle<StandardMaterial> {
        if let Some(h) = self.cache.labels.get(key) {
            return h.clone();
        }
        let img = self.images.add(drawn_only(draw().into_image()));
        let m = self.printed(img);
        let h = self.materials.add(m);
        self.cache.labels.insert(key.into(), h.clone());
        h
    }

    /// A material of printed foil carrying the picture.
    pub fn printed(&mut self, picture: Handle<Image>) -> StandardMaterial {
        let t = self.textures();
        StandardMaterial {
            base_color_texture: Some(picture),
            perceptual_roughness: 0.45,
            reflectance: 0.35,
            alpha_mode: AlphaMode::Mask(0.5),
            occlusion_texture: Some(t.open),
            occlusion_channel: UvChannel::Uv1,
            depth_bias: 10.0,
            ..default()
        }
    }

    /// A mesh made the first time that its key is asked for.
    pub fn mesh(&mut self, key: &str, make: impl FnOnce() -> Mesh) -> Handle<Mesh> {
        if let Some(h) = self.cache.meshes.get(key) {
            return h.clone();
        }
        let h = self.meshes.add(make());
        self.cache.meshes.insert(key.into(), h.clone());
        h
    }

    /// A private copy of a kit material, for parts whose look changes by themselves.
    pub fn own(&mut self, m: Mat) -> Handle<StandardMaterial> {
        let made = self.make(m);
        self.materials.add(made)
    }

    fn textures(&mut self) -> Textures {
        if let Some(t) = &self.cache.textures {
            return t.clone();
        }
        let i = &mut self.images;
        let blotch = Tile::noise(128, 3, 5, 11);
        let cast = Tile::noise(256, 20, 4, 3);
        let grain = Tile::noise(256, 48, 2, 7);
        let brushed = Tile::brushed(128, 9);
        let weave = Tile::weave(128, 16);
        let fins = Tile::ribs(128, 32);
        let t = Textures {
            open: i.add(openness_ramp()),
            grain: i.add(grain.normal_map(0.0026)),
            cast: i.add(cast.normal_map(0.0085)),
            blotch: i.add(blotch.tone_map(0.92, 1.0)),
            rough: i.add(blotch.roughness_map((0.75, 1.0), 1.0)),
            cast_rough: i.add(cast.roughness_map((0.7, 1.0), 1.0)),
            brushed: i.add(brushed.roughness_map((0.6, 1.0), 1.0)),
            weave: i.add(weave.normal_map(0.012)),
            weave_tone: i.add(weave.tone_map(0.75, 1.0)),
            ribs: i.add(Tile::ribs(64, 6).normal_map(0.06)),
            sleeve: i.add(Tile::rings(64, 8).normal_map(0.05)),
            sleeve_tone: i.add(Tile::rings(64, 8).tone_map(0.25, 1.0)),
            floor_tone: i.add(Tile::noise(256, 4, 6, 21).tone_map(0.84, 1.0)),
            fins_tone: i.add(fins.tone_map(0.05, 1.0)),
            fins: i.add(fins.normal_map(0.03)),
            belt_tone: i.add(
                Tile::from_fn(64, |x, y| {
                    let rib = (x * 6 % 64) as f32 / 64.0;
                    let mark = if y < 5 { 0.8 } else { 0.0 };
                    0.35 + 0.3 * (rib * TAU).cos().abs() + mark
                })
                .tone_map(0.1, 1.0),
            ),
        };
        self.cache.textures = Some(t.clone());
        t
    }

    fn make(&mut self, m: Mat) -> StandardMaterial {
        let t = self.textures();
        let base = StandardMaterial {
            occlusion_texture: Some(t.open.clone()),
            occlusion_channel: UvChannel::Uv1,
            ..default()
        };
        let metal = |r: f32, g: f32, b: f32, rough: f32| StandardMaterial {
            base_color: Color::linear_rgb(r, g, b),
            metallic: 1.0,
            perceptual_roughness: rough,
            ..base.clone()
        };
        match m {
            Mat::Paint(c) => StandardMaterial {
                base_color: srgb(c),
                perceptual_roughness: 0.22,
                reflectance: 0.55,
                ..base
            },
            Mat::Satin(c) => StandardMaterial {
                base_color: srgb(c),
                base_color_texture: Some(t.blotch),
                perceptual_roughness: 0.5,
                metallic_roughness_texture: None,
                ..base
            },
            Mat::CastAluminium => StandardMaterial {
                base_color_texture: Some(t.blotch),
                metallic_roughness_texture: Some(t.cast_rough),
                normal_map_texture: Some(t.cast),
                ..metal(0.60, 0.60, 0.59, 0.62)
            },
            Mat::BareAluminium => StandardMaterial {
                metallic_roughness_texture: Some(t.brushed),
                ..metal(0.80, 0.81, 0.82, 0.36)
            },
            Mat::Steel => StandardMaterial {
                metallic_roughness_texture: Some(t.rough),
                ..metal(0.56, 0.55, 0.51, 0.38)
            },
            Mat::DarkSteel => StandardMaterial {
                metallic_roughness_texture: Some(t.rough),
                ..metal(0.12, 0.12, 0.13, 0.5)
            },
            Mat::Rust => StandardMaterial {
                base_color: Color::srgb(0.42, 0.22, 0.12),
                base_color_texture: Some(t.floor_tone),
                normal_map_texture: Some(t.cast),
                perceptual_roughness: 0.9,
                ..base
            },
            Mat::Rubber => StandardMaterial {
                base_color: Color::linear_rgb(0.026, 0.026, 0.027),
                perceptual_roughness: 0.78,
                reflectance: 0.35,
                normal_map_texture: Some(t.grain),
                ..base
            },
            Mat::Plastic(c) => StandardMaterial {
                base_color: lifted(c, 0.014),
                perceptual_roughness: 0.52,
                reflectance: 0.45,
                normal_map_texture: Some(t.grain),
                ..base
            },
            Mat::Gloss(c) => StandardMaterial {
                base_color: lifted(c, 0.006),
                perceptual_roughness: 0.24,
                ..base
            },
            Mat::Clear(c, a) => StandardMaterial {
                base_color: srgb(c).with_alpha(a as f32 / 255.0),
                perceptual_roughness: 0.22,
                alpha_mode: AlphaMode::Blend,
                ..base
            },
            Mat::Glass => StandardMaterial {
                base_color: Color::srgba(0.75, 0.85, 0.82, 0.10),
                perceptual_roughness: 0.05,
                alpha_mode: AlphaMode::Blend,
                double_sided: true,
                cull_mode: None,
                ..base
            },
            Mat::Copper => metal(0.93, 0.52, 0.36, 0.35),
            Mat::Brass => metal(0.86, 0.68, 0.34, 0.34),
            Mat::Lead => metal(0.36, 0.36, 0.38, 0.55),
            Mat::Cloth(c) => StandardMaterial {
                base_color: srgb(c),
                base_color_texture: Some(t.weave_tone),
                normal_map_texture: Some(t.weave),
                perceptual_roughness: 0.95,
                reflectance: 0.2,
                ..base
            },
            Mat::Sleeve => StandardMaterial {
                base_color: Color::linear_rgb(0.035, 0.035, 0.037),
                base_color_texture: Some(t.sleeve_tone),
                normal_map_texture: Some(t.sleeve),
                perceptual_roughness: 0.42,
                ..base
            },
            Mat::Belt => StandardMaterial {
                base_color: Color::linear_rgb(0.05, 0.05, 0.05),
                base_color_texture: Some(t.belt_tone),
                normal_map_texture: Some(t.ribs),
                perceptual_roughness: 0.7,
                reflectance: 0.35,
                ..base
            },
            Mat::Fins => StandardMaterial {
                base_color_texture: Some(t.fins_tone),
                normal_map_texture: Some(t.fins),
                ..metal(0.30, 0.30, 0.31, 0.6)
            },
            Mat::Void => StandardMaterial {
                base_color: Color::linear_rgb(0.004, 0.004, 0.004),
                perceptual_roughness: 1.0,
                reflectance: 0.0,
                ..base
            },
            Mat::Floor => StandardMaterial {
                base_color: Color::srgb(0.42, 0.43, 0.43),
                base_color_texture: Some(t.floor_tone),
                perceptual_roughness: 0.55,
                reflectance: 0.4,
                ..base
            },
            Mat::Wall(c) => StandardMaterial {
                base_color: srgb(c),
                perceptual_roughness: 0.9,
                reflectance: 0.2,
                ..base
            },
            Mat::Shine(c, strength) => {
                let glow = srgb(c).to_linear() * (strength as f32 / 255.0 * 6.0);
                StandardMaterial {
                    base_color: srgb(c),
                    emissive: glow,
                    ..base
                }
            }
        }
    }
}
