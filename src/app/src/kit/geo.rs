//! Plain triangle geometry that the kit's families add together before it becomes meshes.
//!
//! Lengths are metres, and a texture coordinate step of 1 is 40 mm, so that a
//! tiling texture has the same grain on every part. Knows nothing of cars.

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

/// Texture repeats per metre.
pub const UV_PER_METRE: f32 = 25.0;

/// Triangles with normals and texture coordinates.
#[derive(Clone, Debug, Default)]
pub struct Geo {
    /// Vertex positions in metres.
    pub pos: Vec<Vec3>,
    /// Unit vertex normals.
    pub nor: Vec<Vec3>,
    /// Texture coordinates.
    pub uv: Vec<Vec2>,
    /// Triangle indices, counter-clockwise seen from outside.
    pub idx: Vec<u32>,
}

impl Geo {
    /// Adds one vertex and returns its index.
    pub fn vertex(&mut self, pos: Vec3, nor: Vec3, uv: Vec2) -> u32 {
        self.pos.push(pos);
        self.nor.push(nor);
        self.uv.push(uv);
        self.pos.len() as u32 - 1
    }

    /// Adds a flat four-cornered face; corners run counter-clockwise seen from outside.
    pub fn quad(&mut self, c: [Vec3; 4], uv: [Vec2; 4]) {
        let n = (c[1] - c[0]).cross(c[3] - c[0]).normalize_or_zero();
        let first = self.pos.len() as u32;
        for i in 0..4 {
            self.vertex(c[i], n, uv[i]);
        }
        self.idx
            .extend([0, 1, 2, 0, 2, 3].into_iter().map(|i| first + i));
    }

    /// Adds all of `other`.
    pub fn append(&mut self, other: &Geo) {
        let first = self.pos.len() as u32;
        self.pos.extend(&other.pos);
        self.nor.extend(&other.nor);
        self.uv.extend(&other.uv);
        self.idx.extend(other.idx.iter().map(|i| i + first));
    }

    /// The same geometry together with `other`.
    pub fn with(mut self, other: Geo) -> Geo {
        self.append(&other);
        self
    }

    /// The same geometry placed by `t`.
    pub fn at(mut self, t: Transform) -> Geo {
        for p in &mut self.pos {
            *p = t.transform_point(*p);
        }
        let inverse = t.scale.recip();
        for n in &mut self.nor {
            *n = (t.rotation * (*n * inverse)).normalize_or_zero();
        }
        if t.scale.x * t.scale.y * t.scale.z < 0.0 {
            for tri in self.idx.chunks_exact_mut(3) {
                tri.swap(1, 2);
            }
        }
        self
    }

    /// The same geometry moved.
    pub fn mv(self, x: f32, y: f32, z: f32) -> Geo {
        self.at(Transform::from_xyz(x, y, z))
    }

    /// The same geometry turned about an axis, in degrees.
    pub fn turn(self, axis: Vec3, degrees: f32) -> Geo {
        self.at(Transform::from_rotation(Quat::from_axis_angle(
            axis,
            degrees.to_radians(),
        )))
    }

    /// The same geometry mirrored left to right.
    pub fn mirror_x(self) -> Geo {
        self.at(Transform::from_scale(Vec3::new(-1.0, 1.0, 1.0)))
    }

    /// The same geometry with its faces seen from the other side.
    pub fn inside_out(mut self) -> Geo {
        for n in &mut self.nor {
            *n = -*n;
        }
        for tri in self.idx.chunks_exact_mut(3) {
            tri.swap(1, 2);
        }
        self
    }

    /// Texture coordinates multiplied, for a finer or coarser grain.
    pub fn uv_scale(mut self, u: f32, v: f32) -> Geo {
        for t in &mut self.uv {
            *t *= Vec2::new(u, v);
        }
        self
    }

    /// Number of triangles.
    pub fn triangles(&self) -> usize {
        self.idx.len() / 3
    }

    /// Turns the geometry into a mesh that can be drawn, picked and shaded with
    /// normal maps. The second texture channel holds how open the surface is to
    /// the surroundings (1 = fully), until the stage works it out.
    pub fn to_mesh(&self) -> Mesh {
        let tangents = self.tangents();
        let mut mesh = Mesh::new(
            PrimitiveTopology::TriangleList,
            RenderAssetUsages::default(),
        );
        let open = vec![[1.0f32, 0.5]; self.pos.len()];
        mesh.insert_attribute(
            Mesh::ATTRIBUTE_POSITION,
            self.pos.iter().map(Vec3::to_array).collect::<Vec<_>>(),
        );
        mesh.insert_attribute(
            Mesh::ATTRIBUTE_NORMAL,
            self.nor.iter().map(Vec3::to_array).collect::<Vec<_>>(),
        );
        mesh.insert_attribute(
            Mesh::ATTRIBUTE_UV_0,
            self.uv.iter().map(Vec2::to_array).collect::<Vec<_>>(),
        );
        mesh.insert_attribute(Mesh::ATTRIBUTE_UV_1, open);
        mesh.insert_attribute(Mesh::ATTRIBUTE_TANGENT, tangents);
        mesh.insert_indices(Indices::U32(self.idx.clone()));
        mesh
    }

    fn tangents(&self) -> Vec<[f32; 4]> {
        let mut sum = vec![Vec3::ZERO; self.pos.len()];
        let mut bisum = vec![Vec3::ZERO; self.pos.len()];
        for t in self.idx.chunks_exact(3) {
            let [a, b, c] = [t[0] as usize, t[1] as usize, t[2] as usize];
            let (e1, e2) = (self.pos[b] - self.pos[a], self.pos[c] - self.pos[a]);
            let (d1, d2) = (self.uv[b] - self.uv[a], self.uv[c] - self.uv[a]);
            let det = d1.x * d2.y - d2.x * d1.y;
            if det.abs() < 1e-12 {
                continue;
            }
            let tangent = (e1 * d2.y - e2 * d1.y) / det;
            let bitangent = (e2 * d1.x - e1 * d2.x) / det;
            for i in [a, b, c] {
                sum[i] += tangent;
                bisum[i] += bitangent;
            }
        }
        (0..self.pos.len())
            .map(|i| {
                let n = self.nor[i];
                let t = (sum[i] - n * n.dot(sum[i])).normalize_or_zero();
                let t = if t == Vec3::ZERO {
                    n.any_orthonormal_vector()
                } else {
                    t
                };
                let w = if n.cross(t).dot(bisum[i]) < 0.0 {
                    -1.0
                } else {
                    1.0
                };
                [t.x, t.y, t.z, w]
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::solids::*;
    use super::*;

    /// Every triangle's winding agrees with its vertex normals, or faces would vanish.
    fn wound_outward(geo: &Geo) {
        for t in geo.idx.chunks_exact(3) {
            let [a, b, c] = [t[0] as usize, t[1] as usize, t[2] as usize];
            let n = (geo.pos[b] - geo.pos[a]).cross(geo.pos[c] - geo.pos[a]);
            let mean = geo.nor[a] + geo.nor[b] + geo.nor[c];
            assert!(
                n.length() < 1e-12 || n.dot(mean) >= -1e-9,
                "a triangle at {} faces inward",
                geo.pos[a]
            );
        }
    }

    /// Volume by the divergence theorem: positive and right only when closed and outward.
    fn volume(geo: &Geo) -> f32 {
        geo.idx
            .chunks_exact(3)
            .map(|t| {
                let p = [t[0], t[1], t[2]].map(|i| geo.pos[i as usize]);
                p[0].dot(p[1].cross(p[2])) / 6.0
            })
            .sum()
    }

    #[test]
    fn solids_are_closed_and_face_outward() {
        let pi = std::f32::consts::PI;
        let rod = cylinder(0.1, 0.5, 64, 0.0);
        wound_outward(&rod);
        assert!((volume(&rod) - pi * 0.01 * 0.5).abs() < 1e-4);
        let cube = rounded_box(Vec3::splat(0.2), 0.0001);
        wound_outward(&cube);
        assert!((volume(&cube) - 0.008).abs() < 1e-4);
        let plain = block(Vec3::new(0.1, 0.2, 0.3));
        wound_outward(&plain);
        assert!((volume(&plain) - 0.006).abs() < 1e-6);
        let ball = sphere(0.1, 32);
        wound_outward(&ball);
        assert!((volume(&ball) - 4.0 / 3.0 * pi * 0.001).abs() < 1e-4);
        let pipe = tube(&[Vec3::ZERO, Vec3::X * 0.5, Vec3::X], 0.1, 64, true);
        wound_outward(&pipe);
        assert!((volume(&pipe) - pi * 0.01).abs() < 1e-3);
        let l = [[0., 0.], [2., 0.], [2., 1.], [1., 1.], [1., 2.], [0., 2.]].map(Vec2::from);
        let slab = extrude(&l, 0.5, 0.0);
        wound_outward(&slab);
        assert!((volume(&slab) - 1.5).abs() < 1e-4);
    }

    #[test]
    fn mirrored_solids_still_face_outward() {
        let g = rounded_box(Vec3::new(0.1, 0.2, 0.3), 0.01).mirror_x();
        wound_outward(&g);
        assert!(volume(&g) > 0.0);
    }
}
