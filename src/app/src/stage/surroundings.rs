//! Light from the surroundings: a workshop drawn as a small cube of light and
//! blurred on the processor, so that metal has something to mirror and the
//! browser build needs no compute shaders.

use bevy::asset::RenderAssetUsages;
use bevy::image::{ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::prelude::*;
use bevy::render::render_resource::{
    Extent3d, TextureDimension, TextureFormat, TextureViewDescriptor, TextureViewDimension,
};

/// Side of the sharpest cube face, pixels.
const SIDE: usize = 64;
/// Blur steps of the mirror cube, sharpest first.
const LEVELS: usize = 6;

/// Brightness and colour of the workshop in direction `d` (y up, +z is the open
/// door behind someone who stands in front of the car).
fn workshop(d: Vec3) -> Vec3 {
    let edge =
        |x: f32, half: f32, soft: f32| 1.0 - ((x.abs() - half) / soft).clamp(0.0, 1.0).powi(2);
    // Walls, warmer and darker towards the floor.
    let up = d.y;
    let wall = Vec3::new(0.34, 0.35, 0.37);
    let ceiling = Vec3::new(0.24, 0.25, 0.27);
    let floor = Vec3::new(0.115, 0.108, 0.10);
    let mut c = if up >= 0.0 {
        wall.lerp(ceiling, (up * 2.2).min(1.0))
    } else {
        wall.lerp(floor, (-up * 3.5).min(1.0))
    };
    // Two rows of ceiling lights along the car, seen on a ceiling plane 3 m up.
    if up > 0.12 {
        let p = Vec2::new(d.x, d.z) / up;
        for row in [-0.62f32, 0.62] {
            let on = edge(p.x - row, 0.10, 0.05) * edge(p.y - 0.1, 1.05, 0.1);
            c += Vec3::new(1.0, 0.97, 0.91) * 9.0 * on.max(0.0);
        }
        // Skylight further back, cool.
        let sky = edge(p.x + 1.9, 0.35, 0.15) * edge(p.y, 0.9, 0.25);
        c += Vec3::new(0.72, 0.86, 1.0) * 3.2 * sky.max(0.0);
    }
    // The open door: a broad cool panel low in front.
    if d.z > 0.15 {
        let p = Vec2::new(d.x, d.y) / d.z;
        let door = edge(p.x - 0.5, 0.85, 0.25) * edge(p.y - 0.42, 0.42, 0.18);
        c += Vec3::new(0.78, 0.89, 1.0) * 2.3 * door.max(0.0);
    }
    c
}

/// Direction of pixel (x, y) of a cube face.
fn face_dir(face: usize, x: f32, y: f32) -> Vec3 {
    let (u, v) = (x * 2.0 - 1.0, y * 2.0 - 1.0);
    match face {
        0 => Vec3::new(1.0, -v, -u),
        1 => Vec3::new(-1.0, -v, u),
        2 => Vec3::new(u, 1.0, v),
        3 => Vec3::new(u, -1.0, -v),
        4 => Vec3::new(u, -v, 1.0),
        _ => Vec3::new(-u, -v, -1.0),
    }
    .normalize()
}

/// Half-precision bits of a non-negative number below 65504.
fn half(v: f32) -> u16 {
    let bits = v.clamp(0.0, 60000.0).to_bits();
    let exp = ((bits >> 23) & 0xFF) as i32 - 127 + 15;
    if exp <= 0 {
        0
    } else {
        ((exp as u16) << 10) | ((bits >> 13) & 0x3FF) as u16
    }
}

/// Light gathered round `n` with a lobe of the given width (0 = mirror).
fn gather(n: Vec3, rough: f32) -> Vec3 {
    if rough < 0.02 {
        return workshop(n);
    }
    let a = rough * rough;
    let turn = Quat::from_rotation_arc(Vec3::Z, n);
    let count = 160;
    let (mut sum, mut weight) = (Vec3::ZERO, 0.0);
    for i in 0..count {
        let u = (i as f32 + 0.5) / count as f32;
        let phi = i as f32 * 2.399_963;
        // Halfway directions spread as the GGX distribution says.
        let cos = ((1.0 - u) / (1.0 + (a * a - 1.0) * u)).sqrt();
        let sin = (1.0 - cos * cos).max(0.0).sqrt();
        let h = turn * Vec3::new(sin * phi.cos(), sin * phi.sin(), cos);
        let l = h * (2.0 * n.dot(h)) - n;
        let w = n.dot(l);
        if w > 0.0 {
            sum += workshop(l).min(Vec3::splat(12.0)) * w;
            weight += w;
        }
    }
    sum / weight.max(1e-6)
}

/// Light on a matt surface facing `n`.
fn gather_matt(n: Vec3) -> Vec3 {
    let turn = Quat::from_rotation_arc(Vec3::Y, n);
    let count = 400;
    (0..count)
        .map(|i| {
            let r2 = (i as f32 + 0.5) / count as f32;
            let (y, r) = ((1.0 - r2).sqrt(), r2.sqrt());
            let a = i as f32 * 2.399_963;
            workshop(turn * Vec3::new(r * a.cos(), y, r * a.sin()))
        })
        .sum::<Vec3>()
        / count as f32
}

fn cube(side: usize, levels: usize, light: impl Fn(Vec3, usize) -> Vec3) -> Image {
    let mut data = Vec::new();
    for face in 0..6 {
        for level in 0..levels {
            let n = side >> level;
            for y in 0..n {
                for x in 0..n {
                    let d = face_dir(
                        face,
                        (x as f32 + 0.5) / n as f32,
                        (y as f32 + 0.5) / n as f32,
                    );
                    let c = light(d, level);
                    for v in [c.x, c.y, c.z, 1.0] {
                        data.extend(half(v).to_le_bytes());
                    }
                }
            }
        }
    }
    let mut img = Image::new_uninit(
        Extent3d {
            width: side as u32,
            height: side as u32,
            depth_or_array_layers: 6,
        },
        TextureDimension::D2,
        TextureFormat::Rgba16Float,
        RenderAssetUsages::RENDER_WORLD,
    );
    img.texture_descriptor.mip_level_count = levels as u32;
    img.data = Some(data);
    img.texture_view_descriptor = Some(TextureViewDescriptor {
        dimension: Some(TextureViewDimension::Cube),
        ..default()
    });
    img.sampler = ImageSampler::Descriptor(ImageSamplerDescriptor {
        mag_filter: ImageFilterMode::Linear,
        min_filter: ImageFilterMode::Linear,
        mipmap_filter: ImageFilterMode::Linear,
        ..ImageSamplerDescriptor::default()
    });
    img
}

/// The workshop's light, to be put on a camera.
pub fn workshop_light(images: &mut Assets<Image>, intensity: f32) -> EnvironmentMapLight {
    let specular = cube(SIDE, LEVELS, |d, level| {
        gather(d, level as f32 / (LEVELS - 1) as f32)
    });
    let diffuse = cube(8, 1, |d, _| gather_matt(d));
    EnvironmentMapLight {
        diffuse_map: images.add(diffuse),
        specular_map: images.add(specular),
        intensity,
        ..default()
    }
}

/// The light on a matt surface that faces +x, -x, +y, -y, +z and -z.
pub fn six_sides() -> [Vec3; 6] {
    [
        Vec3::X,
        Vec3::NEG_X,
        Vec3::Y,
        Vec3::NEG_Y,
        Vec3::Z,
        Vec3::NEG_Z,
    ]
    .map(gather_matt)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IEEE 754 half precision: 1.0 is 0x3C00, 0.5 is 0x3800, 2.0 is 0x4000.
    #[test]
    fn halves_have_the_standard_bits() {
        assert_eq!(half(1.0), 0x3C00);
        assert_eq!(half(0.5), 0x3800);
        assert_eq!(half(2.0), 0x4000);
        assert_eq!(half(0.0), 0);
    }

    #[test]
    fn it_is_brighter_above_than_below() {
        let (up, down) = (gather_matt(Vec3::Y), gather_matt(-Vec3::Y));
        assert!(up.x > 2.0 * down.x, "{up} {down}");
    }
}
