//! A shipped car's real scene, built without a window: its bodies as triangles, and what lies between two places.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use bevy::ecs::system::RunSystemOnce;
use bevy::prelude::*;
use tracebay::bridge::casting::{self, TOOL};
use tracebay::bridge::gaze::Gazes;
use tracebay::kit::{KitAssets, KitCache, PickId, PointShow};
use tracebay::stage::{self, Bay, BayLayout};
use tracebay_core::scenario::Case;
use tracebay_core::session::{PointInfo, Session};
use tracebay_core::vehicle::Kind;

use crate::common;

/// Triangles of one part of the scene that belong together.
pub struct Body {
    pub name: String,
    /// Lid of a box, or what sits in its slots: both come off.
    pub comes_off: bool,
    /// A plug on its socket.
    pub plug: bool,
    pub min: Vec3,
    pub max: Vec3,
    pub triangles: Vec<[Vec3; 3]>,
    /// A tool, or the roll they lie on.
    pub tool: bool,
}

pub struct Scene {
    pub bodies: Vec<Body>,
    pub points: BTreeMap<String, Vec3>,
    pub layout: BayLayout,
    pub gazes: Gazes,
    pub light: Vec3,
}

impl Scene {
    pub fn of(case: &Case, points: &[PointInfo]) -> Scene {
        let mut app = App::new();
        app.add_plugins((MinimalPlugins, AssetPlugin::default(), TransformPlugin));
        app.init_asset::<Mesh>()
            .init_asset::<StandardMaterial>()
            .init_asset::<Image>()
            .init_resource::<KitCache>();
        let layout = casting::cast(case, points);
        let laid = layout.clone();
        let bay = app
            .world_mut()
            .run_system_once(move |mut commands: Commands, mut kit: KitAssets| {
                stage::spawn_bay(&mut commands, &mut kit, &laid, Transform::IDENTITY)
            })
            .expect("a scene");
        app.update();
        let fuses: BTreeSet<&String> = case
            .vehicle
            .parts
            .iter()
            .filter(|(_, p)| matches!(p.kind, Kind::Fuse { .. }))
            .map(|(id, _)| id)
            .collect();
        let world = app.world_mut();
        let mut found = BTreeMap::new();
        let mut query = world.query_filtered::<(&PickId, &GlobalTransform), With<PointShow>>();
        for (id, at) in query.iter(world) {
            let name = casting::point_name(&id.0, |part| fuses.contains(&part.to_owned()));
            found.insert(name, at.translation());
        }
        let light = bay.places[&format!("{TOOL}test_light")].translation;
        Scene {
            bodies: bodies(world, &bay),
            points: found,
            gazes: Gazes::of(&layout),
            layout,
            light,
        }
    }

    /// The first body that lies between, if one does.
    /// Lids and relays are off, and so is the plug of the thing named `without`.
    pub fn between(&self, from: Vec3, to: Vec3, without: &str) -> Option<&str> {
        self.behind(from, to, without, false)
    }

    /// The same, where tools that lie on the wing count as well.
    pub fn behind(&self, from: Vec3, to: Vec3, without: &str, tools: bool) -> Option<&str> {
        let hit = |body: &&Body| {
            let off = body.comes_off || body.plug && body.name == without || body.tool && !tools;
            !off && touches(body, from, to) && body.triangles.iter().any(|t| crosses(t, from, to))
        };
        self.bodies.iter().find(hit).map(|b| b.name.as_str())
    }
}

pub fn bodies(world: &mut World, bay: &Bay) -> Vec<Body> {
    let names: BTreeMap<Entity, &String> = bay.parts.iter().map(|(n, p)| (p.entity, n)).collect();
    let loose: BTreeSet<Entity> = bay
        .parts
        .values()
        .flat_map(|p| &p.pieces)
        .filter(|(name, _)| *name == "lid" || name.starts_with(['K', 'F', 'M']))
        .map(|(_, e)| *e)
        .collect();
    let plugs: BTreeSet<Entity> = bay
        .parts
        .values()
        .filter_map(|p| p.pieces.get("connector").copied())
        .collect();
    let mut query = world.query_filtered::<(
        Entity,
        &Mesh3d,
        &MeshMaterial3d<StandardMaterial>,
        &GlobalTransform,
    ), Without<PointShow>>();
    let meshes = world.resource::<Assets<Mesh>>();
    let materials = world.resource::<Assets<StandardMaterial>>();
    let mut all: BTreeMap<(Entity, bool, bool), Body> = BTreeMap::new();
    for (entity, mesh, material, at) in query.iter(world) {
        let clear = materials
            .get(&material.0)
            .is_some_and(|m| !matches!(m.alpha_mode, AlphaMode::Opaque));
        let Some(mesh) = meshes.get(&mesh.0).filter(|_| !clear) else {
            continue;
        };
        let (mut root, mut comes_off, mut plug) = (entity, false, false);
        while let Some(up) = world.get::<ChildOf>(root).map(ChildOf::parent) {
            if up == bay.root {
                break;
            }
            root = up;
            comes_off |= loose.contains(&root);
            plug |= plugs.contains(&root);
        }
        let name = names.get(&root).map_or("scenery", |n| n.as_str());
        let tool = name.starts_with(TOOL) || name == "roll";
        let body = all.entry((root, comes_off, plug)).or_insert_with(|| Body {
            name: name.to_owned(),
            comes_off,
            plug,
            min: Vec3::INFINITY,
            max: Vec3::NEG_INFINITY,
            triangles: Vec::new(),
            tool,
        });
        let Some(bevy::mesh::VertexAttributeValues::Float32x3(positions)) =
            mesh.attribute(Mesh::ATTRIBUTE_POSITION)
        else {
            continue;
        };
        let corners: Vec<Vec3> = positions
            .iter()
            .map(|p| at.transform_point(Vec3::from(*p)))
            .collect();
        for c in &corners {
            (body.min, body.max) = (body.min.min(*c), body.max.max(*c));
        }
        let indices: Vec<usize> = mesh.indices().expect("indices").iter().collect();
        let triangles = indices.chunks_exact(3);
        body.triangles
            .extend(triangles.map(|t| [corners[t[0]], corners[t[1]], corners[t[2]]]));
    }
    all.into_values().collect()
}

/// Whether a stretch meets a body's bounds (slab test).
fn touches(body: &Body, from: Vec3, to: Vec3) -> bool {
    let way = to - from;
    let (mut near, mut far) = (0.0f32, 1.0f32);
    for axis in 0..3 {
        let (f, w) = (from[axis], way[axis]);
        let (a, b) = ((body.min[axis] - f) / w, (body.max[axis] - f) / w);
        if w.abs() < 1e-9 {
            if f < body.min[axis] || f > body.max[axis] {
                return false;
            }
            continue;
        }
        near = near.max(a.min(b));
        far = far.min(a.max(b));
    }
    near <= far
}

/// Whether a stretch goes through a triangle (Möller and Trumbore 1997).
fn crosses([a, b, c]: &[Vec3; 3], from: Vec3, to: Vec3) -> bool {
    let way = to - from;
    let (e1, e2) = (*b - *a, *c - *a);
    let p = way.cross(e2);
    let det = e1.dot(p);
    if det.abs() < 1e-12 {
        return false;
    }
    let s = (from - *a) / det;
    let u = s.dot(p);
    let q = s.cross(e1);
    let v = way.dot(q);
    let t = e2.dot(q);
    u >= 0.0 && v >= 0.0 && u + v <= 1.0 && (0.0..=1.0).contains(&t)
}

/// A case of each car, with the session's points.
pub fn cars() -> Vec<(Arc<Case>, Session)> {
    let catalogue = common::catalogue();
    let cars = catalogue.vehicles.values().filter(|v| !v.on_bench());
    cars.map(|vehicle| {
        let mut scenarios = catalogue.scenarios.values();
        let scenario = scenarios
            .find(|s| s.vehicle == vehicle.id)
            .expect("a scenario for each car");
        let case = Arc::new(catalogue.draw(&scenario.id, 3).expect("a case"));
        let session = Session::new(case.clone()).expect("a car that settles");
        (case, session)
    })
    .collect()
}
