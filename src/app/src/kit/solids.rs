//! The shapes everything in the kit is built from: bevelled boxes, turned parts,
//! swept tubes, cut-out plates and curved panels. Knows nothing of cars.

use super::geo::{Geo, UV_PER_METRE};
use bevy::prelude::*;
use std::f32::consts::TAU;

/// A box whose edges are bevelled by `bevel` and shaded round, centred on the origin.
pub fn rounded_box(size: Vec3, bevel: f32) -> Geo {
    let h = size * 0.5;
    let b = bevel.min(h.min_element() * 0.98);
    let mut g = Geo::default();
    // One vertex for each (corner, face): all share their face's normal, so the
    // bevels between them are shaded as a smooth round at no extra cost.
    let corner = |s: Vec3, axis: usize| {
        let mut p = s * (h - b);
        p[axis] = s[axis] * h[axis];
        p
    };
    let mut id = [[0u32; 3]; 8];
    for (ci, row) in id.iter_mut().enumerate() {
        let s = sign(ci);
        for (axis, slot) in row.iter_mut().enumerate() {
            let mut n = Vec3::ZERO;
            n[axis] = s[axis];
            let p = corner(s, axis);
            let (u, v) = match axis {
                0 => (p.z * -s.x, -p.y),
                1 => (p.x, p.z * s.y),
                _ => (p.x * s.z, -p.y),
            };
            *slot = g.vertex(p, n, Vec2::new(u, v) * UV_PER_METRE);
        }
    }
    let mut quad = |a: u32, b: u32, c: u32, d: u32| {
        let p = [a, b, c].map(|i| g.pos[i as usize]);
        let n = g.nor[a as usize] + g.nor[c as usize];
        if (p[1] - p[0]).cross(p[2] - p[0]).dot(n) >= 0.0 {
            g.idx.extend([a, b, c, a, c, d]);
        } else {
            g.idx.extend([a, c, b, a, d, c]);
        }
    };
    for axis in 0..3 {
        let (u, v) = (1 << ((axis + 1) % 3), 1 << ((axis + 2) % 3));
        for side in [0usize, 1 << axis] {
            quad(
                id[side][axis],
                id[side | u][axis],
                id[side | u | v][axis],
                id[side | v][axis],
            );
        }
        // Edges along this axis join the two other faces.
        let (fa, fb) = ((axis + 1) % 3, (axis + 2) % 3);
        for k in 0..4usize {
            let base = ((k & 1) << fa) | ((k >> 1) << fb);
            let top = base | (1 << axis);
            quad(id[base][fa], id[top][fa], id[top][fb], id[base][fb]);
        }
    }
    for row in id {
        let [a, b, c] = row;
        let p = row.map(|i| g.pos[i as usize]);
        let n: Vec3 = row.iter().map(|i| g.nor[*i as usize]).sum();
        if (p[1] - p[0]).cross(p[2] - p[0]).dot(n) >= 0.0 {
            g.idx.extend([a, b, c]);
        } else {
            g.idx.extend([a, c, b]);
        }
    }
    g
}

/// A plain sharp-edged box, for things too small for their edges to show.
pub fn block(size: Vec3) -> Geo {
    let h = size * 0.5;
    let mut g = Geo::default();
    let uv = [Vec2::ZERO, Vec2::X, Vec2::ONE, Vec2::Y];
    for axis in 0..3 {
        for s in [1.0f32, -1.0] {
            let (mut n, mut u) = (Vec3::ZERO, Vec3::ZERO);
            n[axis] = s;
            u[(axis + 1) % 3] = 1.0;
            let v = n.cross(u);
            g.quad([-u - v, u - v, u + v, -u + v].map(|c| (n + c) * h), uv);
        }
    }
    g
}

fn sign(corner: usize) -> Vec3 {
    Vec3::new(
        if corner & 1 != 0 { 1.0 } else { -1.0 },
        if corner & 2 != 0 { 1.0 } else { -1.0 },
        if corner & 4 != 0 { 1.0 } else { -1.0 },
    )
}

/// A part turned about +Y from a profile of (radius, height) points, listed so
/// that the surface is outside when walking up. Corners sharper than 35° stay sharp.
pub fn lathe(profile: &[(f32, f32)], segments: usize) -> Geo {
    let mut g = Geo::default();
    let seg_normal = |i: usize| {
        let d = Vec2::new(
            profile[i + 1].0 - profile[i].0,
            profile[i + 1].1 - profile[i].1,
        );
        Vec2::new(d.y, -d.x).normalize_or_zero()
    };
    let last = profile.len() - 1;
    let mut walked = 0.0;
    for i in 0..last {
        let (p0, p1) = (profile[i], profile[i + 1]);
        let n = seg_normal(i);
        if n == Vec2::ZERO {
            continue;
        }
        let blend = |other: Vec2| {
            if other != Vec2::ZERO && n.dot(other) > 0.82 {
                (n + other).normalize()
            } else {
                n
            }
        };
        let n0 = if i > 0 { blend(seg_normal(i - 1)) } else { n };
        let n1 = if i + 1 < last {
            blend(seg_normal(i + 1))
        } else {
            n
        };
        let len = Vec2::new(p1.0 - p0.0, p1.1 - p0.1).length();
        let first = g.pos.len() as u32;
        let round = p0.0.max(p1.0) * TAU;
        let repeats = (round * UV_PER_METRE).round().max(1.0);
        for s in 0..=segments {
            let f = s as f32 / segments as f32;
            let (sin, cos) = (f * TAU).sin_cos();
            for (p, n, v) in [(p0, n0, walked), (p1, n1, walked + len)] {
                g.vertex(
                    Vec3::new(cos * p.0, p.1, sin * p.0),
                    Vec3::new(cos * n.x, n.y, sin * n.x),
                    Vec2::new(f * repeats, v * UV_PER_METRE),
                );
            }
        }
        for s in 0..segments as u32 {
            let a = first + s * 2;
            if p1.0 > 1e-6 {
                g.idx.extend([a, a + 1, a + 3]);
            }
            if p0.0 > 1e-6 {
                g.idx.extend([a, a + 3, a + 2]);
            }
        }
        walked += len;
    }
    g
}

/// A rod along +Y from 0 to `height`, with bevelled rims.
pub fn cylinder(radius: f32, height: f32, segments: usize, bevel: f32) -> Geo {
    let b = bevel.min(radius * 0.5).min(height * 0.5);
    if b <= 0.0 {
        return lathe(
            &[(0.0, 0.0), (radius, 0.0), (radius, height), (0.0, height)],
            segments,
        );
    }
    lathe(
        &[
            (0.0, 0.0),
            (radius - b, 0.0),
            (radius, b),
            (radius, height - b),
            (radius - b, height),
            (0.0, height),
        ],
        segments,
    )
}

/// A ring along +Y from 0 to `height`, open in the middle.
pub fn ring(inner: f32, outer: f32, height: f32, segments: usize) -> Geo {
    lathe(
        &[
            (inner, 0.0),
            (outer, 0.0),
            (outer, height),
            (inner, height),
            (inner, 0.0),
        ],
        segments,
    )
}

/// A hexagon head along +Y, `across` flats wide.
pub fn hexagon(across: f32, height: f32) -> Geo {
    let r = across / 3f32.sqrt();
    let outline: Vec<Vec2> = (0..6)
        .map(|i| Vec2::from_angle(i as f32 / 6.0 * TAU) * r)
        .collect();
    extrude(&outline, height, across * 0.05).turn(Vec3::X, -90.0)
}

/// A ball.
pub fn sphere(radius: f32, segments: usize) -> Geo {
    let rows = (segments / 2).max(4);
    let profile: Vec<(f32, f32)> = (0..=rows)
        .map(|i| {
            let a = (i as f32 / rows as f32 - 0.5) * std::f32::consts::PI;
            let r = if i == 0 || i == rows { 0.0 } else { a.cos() };
            (r * radius, a.sin() * radius)
        })
        .collect();
    lathe(&profile, segments)
}

/// A round tube of one radius swept along `path`.
pub fn tube(path: &[Vec3], radius: f32, segments: usize, capped: bool) -> Geo {
    sweep(path, segments, capped, |_| radius)
}

/// A round tube whose radius depends on the distance walked (metres), for
/// corrugated sleeve, bellows, crimps and beads.
pub fn sweep(path: &[Vec3], segments: usize, capped: bool, radius: impl Fn(f32) -> f32) -> Geo {
    let mut g = Geo::default();
    if path.len() < 2 {
        return g;
    }
    let tangent = |i: usize| {
        let a = path[i.saturating_sub(1)];
        let b = path[(i + 1).min(path.len() - 1)];
        (b - a).normalize_or(Vec3::X)
    };
    let mut side = tangent(0).any_orthonormal_vector();
    let mut walked = 0.0;
    let mut rings = Vec::with_capacity(path.len());
    for (i, p) in path.iter().enumerate() {
        let t = tangent(i);
        side = (side - t * t.dot(side)).normalize_or(t.any_orthonormal_vector());
        let up = t.cross(side);
        if i > 0 {
            walked += p.distance(path[i - 1]);
        }
        let r = radius(walked);
        let slope = (radius(walked + 5e-4) - radius(walked - 5e-4)) / 1e-3;
        let repeats = (TAU * r * UV_PER_METRE).round().max(1.0);
        let first = g.pos.len() as u32;
        for s in 0..=segments {
            let f = s as f32 / segments as f32;
            let (sin, cos) = (f * TAU).sin_cos();
            let out = side * cos + up * sin;
            g.vertex(
                *p + out * r,
                (out - t * slope).normalize(),
                Vec2::new(f * repeats, walked * UV_PER_METRE),
            );
        }
        rings.push((first, t, r));
    }
    let n = segments as u32 + 1;
    for pair in rings.windows(2) {
        let (a, b) = (pair[0].0, pair[1].0);
        for s in 0..n - 1 {
            g.idx.extend([a + s, a + s + 1, b + s]);
            g.idx.extend([a + s + 1, b + s + 1, b + s]);
        }
    }
    if capped {
        for (end, flip) in [(0usize, true), (path.len() - 1, false)] {
            let (first, t, r) = rings[end];
            if r < 1e-6 {
                continue;
            }
            let normal = if flip { -t } else { t };
            let centre = g.vertex(path[end], normal, Vec2::ZERO);
            let rim: Vec<u32> = (0..n)
                .map(|s| {
                    let p = g.pos[(first + s) as usize];
                    g.vertex(p, normal, Vec2::ZERO)
                })
                .collect();
            for w in rim.windows(2) {
                if flip {
                    g.idx.extend([centre, w[1], w[0]]);
                } else {
                    g.idx.extend([centre, w[0], w[1]]);
                }
            }
        }
    }
    g
}

/// A plate cut along `outline` (counter-clockwise in XY), from z = 0 to `depth`,
/// its front rim bevelled.
pub fn extrude(outline: &[Vec2], depth: f32, bevel: f32) -> Geo {
    let mut g = Geo::default();
    let n = outline.len();
    let inset: Vec<Vec2> = (0..n)
        .map(|i| {
            let (a, b, c) = (outline[(i + n - 1) % n], outline[i], outline[(i + 1) % n]);
            let e0 = (b - a).normalize_or_zero();
            let e1 = (c - b).normalize_or_zero();
            let (n0, n1) = (e0.perp(), e1.perp());
            let m = (n0 + n1).normalize_or(n0);
            b + m * (bevel / m.dot(n0).max(0.4))
        })
        .collect();
    let tri = triangulate(outline);
    for (z, ring, normal) in [(depth, &inset, Vec3::Z), (0.0, &outline.to_vec(), -Vec3::Z)] {
        let first = g.pos.len() as u32;
        for p in ring {
            g.vertex(
                p.extend(z),
                normal,
                *p * Vec2::new(1.0, -1.0) * UV_PER_METRE,
            );
        }
        for t in &tri {
            let [a, b, c] = t.map(|i| first + i as u32);
            if normal.z > 0.0 {
                g.idx.extend([a, b, c]);
            } else {
                g.idx.extend([a, c, b]);
            }
        }
    }
    let mut walked = 0.0;
    for i in 0..n {
        let j = (i + 1) % n;
        let (a, b) = (outline[i], outline[j]);
        let len = a.distance(b);
        let out = -(b - a).normalize_or_zero().perp().extend(0.0);
        let (u0, u1) = (walked * UV_PER_METRE, (walked + len) * UV_PER_METRE);
        let z1 = depth - bevel;
        let f = g.pos.len() as u32;
        for (p, z, u) in [(a, 0.0, u0), (b, 0.0, u1), (b, z1, u1), (a, z1, u0)] {
            g.vertex(p.extend(z), out, Vec2::new(u, z * UV_PER_METRE));
        }
        g.idx.extend([f, f + 1, f + 2, f, f + 2, f + 3]);
        if bevel > 0.0 {
            let soft = (out + Vec3::Z).normalize();
            let f = g.pos.len() as u32;
            for (p, z, nn) in [
                (a, z1, out),
                (b, z1, out),
                (inset[j], depth, soft),
                (inset[i], depth, soft),
            ] {
                g.vertex(p.extend(z), nn, Vec2::new(u0, z * UV_PER_METRE));
            }
            g.idx.extend([f, f + 1, f + 2, f, f + 2, f + 3]);
        }
        walked += len;
    }
    g
}

/// Cuts a simple counter-clockwise polygon into triangles by clipping ears.
fn triangulate(p: &[Vec2]) -> Vec<[usize; 3]> {
    let cross = |a: Vec2, b: Vec2, c: Vec2| (b - a).perp_dot(c - a);
    let mut left: Vec<usize> = (0..p.len()).collect();
    let mut out = Vec::new();
    while left.len() > 3 {
        let n = left.len();
        let ear = (0..n).find(|&i| {
            let [a, b, c] = [left[(i + n - 1) % n], left[i], left[(i + 1) % n]];
            cross(p[a], p[b], p[c]) > 0.0
                && left.iter().all(|&q| {
                    q == a
                        || q == b
                        || q == c
                        || cross(p[a], p[b], p[q]) < 0.0
                        || cross(p[b], p[c], p[q]) < 0.0
                        || cross(p[c], p[a], p[q]) < 0.0
                })
        });
        // An outline that crosses itself has no ear left; clip any corner so that it ends.
        let i = ear.unwrap_or(0);
        out.push([left[(i + n - 1) % n], left[i], left[(i + 1) % n]]);
        left.remove(i);
    }
    if left.len() == 3 {
        out.push([left[0], left[1], left[2]]);
    }
    out
}

/// A curved panel: `f(u, v)` for u, v in 0..=1 gives the point. The outside is
/// where u×v points.
pub fn panel(nu: usize, nv: usize, f: impl Fn(f32, f32) -> Vec3) -> Geo {
    let mut g = Geo::default();
    let e = 1e-3;
    for j in 0..=nv {
        for i in 0..=nu {
            let (u, v) = (i as f32 / nu as f32, j as f32 / nv as f32);
            let du = f((u + e).min(1.0), v) - f((u - e).max(0.0), v);
            let dv = f(u, (v + e).min(1.0)) - f(u, (v - e).max(0.0));
            let size = Vec2::new(f(1.0, v).distance(f(0.0, v)), f(u, 1.0).distance(f(u, 0.0)));
            g.vertex(
                f(u, v),
                du.cross(dv).normalize_or(Vec3::Y),
                Vec2::new(u, v) * size * UV_PER_METRE,
            );
        }
    }
    let w = nu as u32 + 1;
    for j in 0..nv as u32 {
        for i in 0..nu as u32 {
            let a = j * w + i;
            g.idx.extend([a, a + 1, a + w + 1, a, a + w + 1, a + w]);
        }
    }
    g
}

/// A [`panel`] whose texture coordinates run 0..1 across it, for a picture on it.
pub fn panel_unit(nu: usize, nv: usize, f: impl Fn(f32, f32) -> Vec3) -> Geo {
    let mut g = panel(nu, nv, f);
    for (k, uv) in g.uv.iter_mut().enumerate() {
        let (i, j) = (k % (nu + 1), k / (nu + 1));
        *uv = Vec2::new(i as f32 / nu as f32, 1.0 - j as f32 / nv as f32);
    }
    g
}

/// A single face of the given size in XY facing +Z with texture corners 0..1,
/// for labels, dials and displays.
pub fn decal(width: f32, height: f32) -> Geo {
    let (w, h) = (width * 0.5, height * 0.5);
    let mut g = Geo::default();
    g.quad(
        [
            Vec3::new(-w, -h, 0.0),
            Vec3::new(w, -h, 0.0),
            Vec3::new(w, h, 0.0),
            Vec3::new(-w, h, 0.0),
        ],
        [
            Vec2::new(0., 1.),
            Vec2::new(1., 1.),
            Vec2::new(1., 0.),
            Vec2::new(0., 0.),
        ],
    );
    g
}

/// A closed band of the given width (along Z) and thickness, following a closed
/// counter-clockwise path in XY: a drive belt. v runs along the belt.
pub fn band(path: &[Vec2], width: f32, thickness: f32) -> Geo {
    let n = path.len();
    let mut g = Geo::default();
    let normal = |i: usize| {
        -(path[(i + 1) % n] - path[(i + n - 1) % n])
            .normalize()
            .perp()
    };
    let mut walked = 0.0;
    for i in 0..=n {
        let k = i % n;
        if i > 0 {
            walked += path[k].distance(path[i - 1]);
        }
        let (p, o) = (path[k], normal(k));
        let v = walked * 100.0;
        let (inn, out) = (p - o * thickness * 0.5, p + o * thickness * 0.5);
        let o3 = o.extend(0.0);
        let (z0, z1) = (-width * 0.5, width * 0.5);
        for (q, z, nn, u) in [
            (out, z0, o3, 0.0),
            (out, z1, o3, 1.0),
            (out, z1, Vec3::Z, 0.0),
            (inn, z1, Vec3::Z, 0.1),
            (inn, z1, -o3, 1.0),
            (inn, z0, -o3, 0.0),
            (inn, z0, -Vec3::Z, 0.0),
            (out, z0, -Vec3::Z, 0.1),
        ] {
            g.vertex(q.extend(z), nn, Vec2::new(u, v));
        }
    }
    for i in 0..n as u32 {
        for face in 0..4 {
            let a = i * 8 + face * 2;
            let b = a + 8;
            g.idx.extend([a, b, b + 1, a, b + 1, a + 1]);
        }
    }
    g
}
