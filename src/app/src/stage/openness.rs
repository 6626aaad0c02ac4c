//! Works out how much of the surroundings each surface can see, once, when a
//! scene has been built.
//!
//! Light from the surroundings cannot reach the bottom of an engine bay. The
//! share that does is found by casting rays through a coarse grid of the scene
//! and is stored with the vertices, so that it costs nothing while drawing and
//! works without compute shaders. Lamps are not affected: a lamp held into a
//! dark corner lights it.

use std::sync::Arc;

use bevy::mesh::VertexAttributeValues;
use bevy::prelude::*;
use bevy::tasks::ComputeTaskPool;

/// Put on a scene's root: its surfaces' openness is worked out once and the marker removed.
#[derive(Component, Clone, Copy, Debug)]
pub struct WorkOutOpenness {
    /// Grid cell, metres.
    pub cell: f32,
    /// Corner of the grid.
    pub min: Vec3,
    /// Opposite corner of the grid.
    pub max: Vec3,
}

/// Put on entities whose mesh, and whatever hangs below them, neither blocks nor receives (glass,
/// markers, a lid that comes off).
#[derive(Component, Clone, Copy, Debug)]
pub struct NoOpenness;

struct Grid {
    cell: f32,
    min: Vec3,
    n: [i32; 3],
    full: Vec<bool>,
}

impl Grid {
    fn new(w: &WorkOutOpenness) -> Grid {
        let size = (w.max - w.min) / w.cell;
        let n = [size.x, size.y, size.z].map(|v| v.ceil().max(1.0) as i32);
        Grid {
            cell: w.cell,
            min: w.min,
            n,
            full: vec![false; (n[0] * n[1] * n[2]) as usize],
        }
    }

    fn index(&self, p: Vec3) -> Option<usize> {
        let q = (p - self.min) / self.cell;
        let (x, y, z) = (q.x.floor() as i32, q.y.floor() as i32, q.z.floor() as i32);
        let inside = x >= 0 && y >= 0 && z >= 0 && x < self.n[0] && y < self.n[1] && z < self.n[2];
        inside.then(|| ((z * self.n[1] + y) * self.n[0] + x) as usize)
    }

    fn fill_triangle(&mut self, a: Vec3, b: Vec3, c: Vec3) {
        let longest = a.distance(b).max(a.distance(c)).max(b.distance(c));
        let steps = ((longest / (self.cell * 0.6)).ceil() as usize).clamp(1, 200);
        for i in 0..=steps {
            for j in 0..=steps - i {
                let (u, v) = (i as f32 / steps as f32, j as f32 / steps as f32);
                if let Some(k) = self.index(a + (b - a) * u + (c - a) * v) {
                    self.full[k] = true;
                }
            }
        }
    }

    /// How far a ray gets before it meets something, up to `reach`.
    fn free(&self, from: Vec3, dir: Vec3, reach: f32) -> f32 {
        let step = self.cell * 0.9;
        let mut t = self.cell * 1.3;
        while t < reach {
            match self.index(from + dir * t) {
                Some(k) if self.full[k] => return t,
                None => return reach,
                _ => t += step,
            }
        }
        reach
    }
}

/// Ray directions over the upper half, evenly spread (golden-angle spiral).
fn directions(count: usize) -> Vec<Vec3> {
    (0..count)
        .map(|i| {
            let y = (i as f32 + 0.5) / count as f32;
            let r = (1.0 - y * y).sqrt();
            let a = i as f32 * 2.399_963;
            Vec3::new(r * a.cos(), y, r * a.sin())
        })
        .collect()
}

/// Meshes worked on at a time.
const AT_ONCE: usize = 48;

/// Surroundings further away than this do not darken a surface, metres.
const REACH: f32 = 0.9;

/// Runs once for each root marked with [`WorkOutOpenness`].
pub fn work_out_openness(
    mut commands: Commands,
    roots: Query<(Entity, &WorkOutOpenness)>,
    children: Query<&Children>,
    things: Query<
        (&Mesh3d, &GlobalTransform, &MeshMaterial3d<StandardMaterial>),
        Without<NoOpenness>,
    >,
    apart: Query<(), With<NoOpenness>>,
    materials: Res<Assets<StandardMaterial>>,
    mut meshes: ResMut<Assets<Mesh>>,
) {
    for (root, want) in &roots {
        let below_apart: std::collections::BTreeSet<Entity> = children
            .iter_descendants(root)
            .filter(|e| apart.contains(*e))
            .flat_map(|e| children.iter_descendants(e))
            .collect();
        let found: Vec<_> = children
            .iter_descendants(root)
            .filter(|e| !below_apart.contains(e))
            .filter_map(|e| {
                things
                    .get(e)
                    .ok()
                    .map(|(m, t, s)| (e, m.0.clone(), *t, s.0.clone()))
            })
            .collect();
        if found.is_empty() {
            continue;
        }
        let mut grid = Grid::new(want);
        for (_, handle, place, _) in &found {
            let Some((mesh, pos)) = meshes
                .get(handle)
                .and_then(|m| Some((m, placed(m, place)?)))
            else {
                continue;
            };
            if let Some(idx) = mesh.indices() {
                let idx: Vec<usize> = idx.iter().collect();
                for t in idx.chunks_exact(3) {
                    grid.fill_triangle(pos[t[0]], pos[t[1]], pos[t[2]]);
                }
            }
        }
        let dirs = directions(28);
        let (grid, dirs) = (&grid, &dirs);
        // Some at a time: a browser never gets back what a program once took.
        for some in found.chunks(AT_ONCE) {
            let work: Vec<_> = some
                .iter()
                .filter_map(|(e, handle, place, surface)| {
                    let mesh = meshes.get(handle)?;
                    let pos = placed(mesh, place)?;
                    let m = place.affine();
                    let nor: Vec<Vec3> = floats(mesh, Mesh::ATTRIBUTE_NORMAL.id)?
                        .iter()
                        .map(|n| m.transform_vector3((*n).into()).normalize_or(Vec3::Y))
                        .collect();
                    let ground = materials.get(surface).and_then(dust_ground);
                    Some((*e, own(&mut meshes, handle)?, pos, nor, ground))
                })
                .collect();
            let done: Vec<_> = ComputeTaskPool::get().scope(|s| {
                for (e, (mut mesh, place), pos, nor, ground) in work {
                    s.spawn(async move {
                        let open: Vec<[f32; 2]> = pos
                            .iter()
                            .zip(&nor)
                            .map(|(p, n)| [openness(grid, dirs, *p, *n), 0.5])
                            .collect();
                        if let Some(base) = ground {
                            let dust: Vec<[f32; 4]> = (0..pos.len())
                                .map(|i| dusty(base, pos[i], nor[i], open[i][0]))
                                .collect();
                            mesh.insert_attribute(Mesh::ATTRIBUTE_COLOR, dust);
                        }
                        mesh.insert_attribute(Mesh::ATTRIBUTE_UV_1, open);
                        (e, mesh, place)
                    });
                }
            });
            for (e, mesh, place) in done {
                match place {
                    // The one who knows it is there to know it still: its place is never gone.
                    Some(id) => {
                        let _ = meshes.insert(id, mesh);
                    }
                    None => {
                        commands.entity(e).insert(Mesh3d(meshes.add(mesh)));
                    }
                }
            }
        }
        commands.entity(root).remove::<WorkOutOpenness>();
    }
}

/// A mesh to be changed for one thing, and where it goes back to. One that other things look like too stays as it
/// is, and a copy goes to a place of its own; copies of all would be twice what a scene takes.
fn own(meshes: &mut Assets<Mesh>, handle: &Handle<Mesh>) -> Option<(Mesh, Option<AssetId<Mesh>>)> {
    // The thing's own handle and the one asked with.
    let alone = matches!(handle, Handle::Strong(known) if Arc::strong_count(known) == 2);
    if alone {
        let mesh = meshes.remove_untracked(handle)?;
        Some((mesh, Some(handle.id())))
    } else {
        Some((meshes.get(handle)?.clone(), None))
    }
}

/// Where a mesh's corners are in the scene.
fn placed(mesh: &Mesh, place: &GlobalTransform) -> Option<Vec<Vec3>> {
    let m = place.affine();
    let pos = floats(mesh, Mesh::ATTRIBUTE_POSITION.id)?;
    // A mesh without normals is left as it is.
    mesh.attribute(Mesh::ATTRIBUTE_NORMAL)?;
    Some(
        pos.iter()
            .map(|p| m.transform_point3((*p).into()))
            .collect(),
    )
}

/// The colour that dust lies on, or nothing where dust would not be seen.
fn dust_ground(m: &StandardMaterial) -> Option<LinearRgba> {
    let seen = m.metallic < 0.5 && !m.unlit && matches!(m.alpha_mode, AlphaMode::Opaque);
    let lit = m.emissive.red + m.emissive.green + m.emissive.blue > 0.0;
    (seen && !lit && m.perceptual_roughness > 0.2).then(|| m.base_color.to_linear())
}

/// Colour factor of a vertex under a thin film of dust: most on what faces up,
/// more in corners, in soft patches.
fn dusty(base: LinearRgba, p: Vec3, n: Vec3, open: f32) -> [f32; 4] {
    let patch = (p.x * 9.0 + (p.z * 7.0).sin()).sin() * (p.z * 8.0 + (p.x * 5.0).cos()).sin();
    let up = (n.y * 1.25 - 0.25).clamp(0.0, 1.0);
    let film = up * (0.055 + 0.045 * patch) * (1.2 - 0.5 * open);
    let dust = [0.24f32, 0.215, 0.18];
    let b = [base.red, base.green, base.blue];
    let f = |i: usize| (b[i] + (dust[i] - b[i]) * film) / b[i].max(0.004);
    [f(0), f(1), f(2), 1.0]
}

fn floats(mesh: &Mesh, id: bevy::mesh::MeshVertexAttributeId) -> Option<&Vec<[f32; 3]>> {
    match mesh.attribute(id)? {
        VertexAttributeValues::Float32x3(v) => Some(v),
        _ => None,
    }
}

fn openness(grid: &Grid, dirs: &[Vec3], p: Vec3, n: Vec3) -> f32 {
    let turn = Quat::from_rotation_arc(Vec3::Y, n);
    let start = p + n * grid.cell * 0.6;
    let (mut seen, mut total) = (0.0, 0.0);
    for d in dirs {
        let w = d.y; // a matt surface takes light from straight above it best
        let ray = turn * *d;
        // Light comes from above; what is seen below the horizon is the dim floor.
        let sky = if ray.y < -0.2 { 0.45 } else { 1.0 };
        let free = grid.free(start, ray, REACH) / REACH;
        seen += w * sky * free * free;
        total += w * sky;
    }
    let open = seen / total;
    // Deep places get darker than a single bounce-free estimate by eye adaptation;
    // the square keeps open surfaces as they are.
    (open * open * 0.5 + open * 0.5).clamp(0.02, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_floor_sees_all_and_a_pit_little() {
        let want = WorkOutOpenness {
            cell: 0.02,
            min: Vec3::splat(-0.5),
            max: Vec3::splat(0.5),
        };
        let mut grid = Grid::new(&want);
        let dirs = directions(28);
        let open = openness(&grid, &dirs, Vec3::ZERO, Vec3::Y);
        assert!(open > 0.99, "{open}");
        for (sx, sz) in [(0.06, 0.0), (-0.06, 0.0), (0.0, 0.06), (0.0, -0.06)] {
            let side = if sx == 0.0 { Vec3::X } else { Vec3::Z } * 0.06;
            let c = Vec3::new(sx, 0.0, sz);
            let up = Vec3::Y * 0.4;
            grid.fill_triangle(c - side, c + side, c + side + up);
            grid.fill_triangle(c - side, c + side + up, c - side + up);
        }
        let pit = openness(&grid, &dirs, Vec3::ZERO, Vec3::Y);
        assert!(pit < 0.3, "{pit}");
    }
}
