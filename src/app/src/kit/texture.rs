//! Textures worked out in code: noise, grain, weave and scratches, with mipmaps
//! so that they do not shimmer. Knows nothing of cars or materials.

use bevy::asset::RenderAssetUsages;
use bevy::image::{Image, ImageAddressMode, ImageFilterMode, ImageSampler, ImageSamplerDescriptor};
use bevy::prelude::*;
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};

/// A square tile of heights in 0..=1 that repeats without a seam.
pub struct Tile {
    /// Width and height in pixels, a power of two.
    pub size: usize,
    /// Row by row heights.
    pub height: Vec<f32>,
}

/// A repeatable number in 0..1 from three whole numbers.
pub fn hash(x: u32, y: u32, seed: u32) -> f32 {
    let mut h = x
        .wrapping_mul(0x9E37_79B1)
        .wrapping_add(y.wrapping_mul(0x85EB_CA77))
        .wrapping_add(seed.wrapping_mul(0xC2B2_AE3D));
    h ^= h >> 15;
    h = h.wrapping_mul(0x2C1B_3C6D);
    h ^= h >> 12;
    h = h.wrapping_mul(0x297A_2D39);
    h ^= h >> 15;
    (h >> 8) as f32 / (1u32 << 24) as f32
}

/// Smooth value noise that repeats every `period` cells.
fn value_noise(x: f32, y: f32, period: u32, seed: u32) -> f32 {
    let (xi, yi) = (x.floor(), y.floor());
    let (fx, fy) = (x - xi, y - yi);
    let s = |t: f32| t * t * (3.0 - 2.0 * t);
    let wrap = |v: f32| (v as i64).rem_euclid(period as i64) as u32;
    let at = |dx: f32, dy: f32| hash(wrap(xi + dx), wrap(yi + dy), seed);
    let (u, v) = (s(fx), s(fy));
    let a = at(0.0, 0.0) * (1.0 - u) + at(1.0, 0.0) * u;
    let b = at(0.0, 1.0) * (1.0 - u) + at(1.0, 1.0) * u;
    a * (1.0 - v) + b * v
}

impl Tile {
    /// A tile from a function of pixel coordinates.
    pub fn from_fn(size: usize, f: impl Fn(usize, usize) -> f32) -> Tile {
        let height = (0..size * size).map(|i| f(i % size, i / size)).collect();
        Tile { size, height }
    }

    /// Cloudy noise: `cells` across at the coarsest, `octaves` finer ones added.
    pub fn noise(size: usize, cells: u32, octaves: u32, seed: u32) -> Tile {
        Tile::from_fn(size, |x, y| {
            let (mut sum, mut weight, mut total) = (0.0, 1.0, 0.0);
            for o in 0..octaves {
                let c = cells << o;
                let k = c as f32 / size as f32;
                sum += value_noise(x as f32 * k, y as f32 * k, c, seed + o) * weight;
                total += weight;
                weight *= 0.55;
            }
            sum / total
        })
    }

    /// Fine lines along u, as a brush leaves on metal.
    pub fn brushed(size: usize, seed: u32) -> Tile {
        Tile::from_fn(size, |x, y| {
            let long = value_noise(x as f32 * 8.0 / size as f32, y as f32, size as u32, seed);
            0.7 * hash(0, y as u32, seed) + 0.3 * long
        })
    }

    /// Over-and-under threads.
    pub fn weave(size: usize, threads: usize) -> Tile {
        let cell = size / threads;
        Tile::from_fn(size, |x, y| {
            let over = (x / cell + y / cell).is_multiple_of(2);
            let t = |v: usize| ((v % cell) as f32 / cell as f32 * std::f32::consts::PI).sin();
            let fuzz = hash(x as u32, y as u32, 5) * 0.15;
            (if over { t(x) * 0.9 } else { t(y) * 0.65 }) + fuzz
        })
    }

    /// Straight ribs along v, `count` across.
    pub fn ribs(size: usize, count: usize) -> Tile {
        Tile::from_fn(size, |x, _| {
            let p = (x * count) as f32 / size as f32;
            ((p.fract() * std::f32::consts::TAU).cos() * 0.5 + 0.5).powf(0.6)
        })
    }

    /// Rings across v, `count` along, as on corrugated sleeve.
    pub fn rings(size: usize, count: usize) -> Tile {
        Tile::from_fn(size, |_, y| {
            let p = (y * count) as f32 / size as f32;
            ((p.fract() * std::f32::consts::TAU).cos() * 0.5 + 0.5).powf(0.6)
        })
    }

    /// Normal map of the tile; `depth` is the tile's relief over one repeat's width.
    pub fn normal_map(&self, depth: f32) -> Image {
        let n = self.size;
        let at = |x: usize, y: usize| self.height[(y % n) * n + x % n];
        let mut px = Vec::with_capacity(n * n * 4);
        for y in 0..n {
            for x in 0..n {
                let dx = (at(x + 1, y) - at(x + n - 1, y)) * 0.5 * n as f32 * depth;
                let dy = (at(x, y + 1) - at(x, y + n - 1)) * 0.5 * n as f32 * depth;
                let v = Vec3::new(-dx, -dy, 1.0).normalize();
                for c in [v.x, v.y, v.z] {
                    px.push(((c * 0.5 + 0.5) * 255.0) as u8);
                }
                px.push(255);
            }
        }
        drawn_only(image(n, n, px, TextureFormat::Rgba8Unorm, true))
    }

    /// Metal/rough map: the tile's heights spread over `rough`, metal as given.
    pub fn roughness_map(&self, rough: (f32, f32), metal: f32) -> Image {
        let mut px = Vec::with_capacity(self.size * self.size * 4);
        for h in &self.height {
            let r = rough.0 + (rough.1 - rough.0) * h;
            px.extend([255, (r * 255.0) as u8, (metal * 255.0) as u8, 255]);
        }
        drawn_only(image(
            self.size,
            self.size,
            px,
            TextureFormat::Rgba8Unorm,
            true,
        ))
    }

    /// Greyscale colour map between two brightnesses, for blotches and stains.
    pub fn tone_map(&self, low: f32, high: f32) -> Image {
        let mut px = Vec::with_capacity(self.size * self.size * 4);
        for h in &self.height {
            let g = ((low + (high - low) * h).clamp(0.0, 1.0) * 255.0) as u8;
            px.extend([g, g, g, 255]);
        }
        drawn_only(image(
            self.size,
            self.size,
            px,
            TextureFormat::Rgba8UnormSrgb,
            true,
        ))
    }
}

/// What nobody reads or paints again is not kept beside what is drawn from.
pub fn drawn_only(mut image: Image) -> Image {
    image.asset_usage = RenderAssetUsages::RENDER_WORLD;
    image
}

/// Wraps pixels as a GPU image with a full chain of mipmaps.
pub fn image(w: usize, h: usize, px: Vec<u8>, format: TextureFormat, repeat: bool) -> Image {
    let mut data = px.clone();
    let (mut level, mut lw, mut lh, mut mips) = (px, w, h, 1u32);
    while lw > 1 || lh > 1 {
        let (nw, nh) = ((lw / 2).max(1), (lh / 2).max(1));
        let mut next = Vec::with_capacity(nw * nh * 4);
        for y in 0..nh {
            for x in 0..nw {
                for c in 0..4 {
                    let at = |dx: usize, dy: usize| {
                        let (sx, sy) = ((x * 2 + dx).min(lw - 1), (y * 2 + dy).min(lh - 1));
                        level[(sy * lw + sx) * 4 + c] as u32
                    };
                    next.push(((at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1) + 2) / 4) as u8);
                }
            }
        }
        data.extend(&next);
        (level, lw, lh, mips) = (next, nw, nh, mips + 1);
    }
    let mut img = Image::new_uninit(
        Extent3d {
            width: w as u32,
            height: h as u32,
            depth_or_array_layers: 1,
        },
        TextureDimension::D2,
        format,
        RenderAssetUsages::default(),
    );
    img.texture_descriptor.mip_level_count = mips;
    img.data = Some(data);
    let address = if repeat {
        ImageAddressMode::Repeat
    } else {
        ImageAddressMode::ClampToEdge
    };
    img.sampler = ImageSampler::Descriptor(ImageSamplerDescriptor {
        address_mode_u: address,
        address_mode_v: address,
        mag_filter: ImageFilterMode::Linear,
        min_filter: ImageFilterMode::Linear,
        mipmap_filter: ImageFilterMode::Linear,
        // Not sharper along a slope (anisotropy): a software driver may take seconds for it.
        ..ImageSamplerDescriptor::default()
    });
    img
}

/// A strip from black to white, read through the second texture channel as the
/// share of surroundings that a surface can see.
pub fn openness_ramp() -> Image {
    let px = (0..256u32)
        .flat_map(|i| [i as u8, i as u8, i as u8, 255])
        .collect();
    image(256, 1, px, TextureFormat::Rgba8Unorm, false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mip_chain_halves_down_to_one_pixel() {
        let img = image(8, 2, vec![7; 8 * 2 * 4], TextureFormat::Rgba8Unorm, true);
        assert_eq!(img.texture_descriptor.mip_level_count, 4);
        assert_eq!(img.data.unwrap().len(), (16 + 4 + 2 + 1) * 4);
    }

    #[test]
    fn noise_repeats_without_a_seam() {
        let t = Tile::noise(64, 4, 3, 1);
        for y in 0..64 {
            let step = (t.height[y * 64] - t.height[y * 64 + 63]).abs();
            assert!(step < 0.2, "{step}");
        }
    }
}
