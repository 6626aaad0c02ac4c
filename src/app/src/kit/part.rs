//! Gathers a part's geometry by material, so that a part is a handful of meshes
//! however many pieces it has, and spawns it with its named anchors.

use super::geo::Geo;
use super::material::{KitAssets, Mat};
use bevy::prelude::*;
use std::collections::BTreeMap;

/// Names of places on a part (probe points, handles, where leads leave) and
/// where they are in the part's own frame. +Y of an anchor points out of the surface.
pub type Anchors = BTreeMap<String, Transform>;

/// A part standing in the scene.
#[derive(Clone, Debug)]
pub struct SpawnedPart {
    /// The part's root; state components go on it.
    pub entity: Entity,
    /// Named places on the part in its own frame.
    pub anchors: Anchors,
    /// Named pieces that one may pick by themselves (a cap, a lid, a plate).
    pub pieces: BTreeMap<String, Entity>,
}

/// A part under construction.
#[derive(Default)]
pub struct PartBuilder {
    by_mat: BTreeMap<Mat, Geo>,
    own: Vec<(Handle<StandardMaterial>, Geo)>,
    /// Named places gathered so far.
    pub anchors: Anchors,
}

impl PartBuilder {
    /// An empty part.
    pub fn new() -> PartBuilder {
        PartBuilder::default()
    }

    /// Adds geometry in one of the kit's materials.
    pub fn add(&mut self, m: Mat, geo: Geo) -> &mut Self {
        self.by_mat.entry(m).or_default().append(&geo);
        self
    }

    /// Adds geometry in a material of the part's own (a label, a display).
    pub fn add_own(&mut self, m: Handle<StandardMaterial>, geo: Geo) -> &mut Self {
        self.own.push((m, geo));
        self
    }

    /// Names a place.
    pub fn anchor(&mut self, name: &str, at: Transform) -> &mut Self {
        self.anchors.insert(name.into(), at);
        self
    }

    /// Names a place whose outward direction is `out`.
    pub fn anchor_out(&mut self, name: &str, at: Vec3, out: Vec3) -> &mut Self {
        let turn = Quat::from_rotation_arc(Vec3::Y, out.normalize_or(Vec3::Y));
        self.anchor(name, Transform::from_translation(at).with_rotation(turn))
    }

    /// Adds everything another builder holds, placed by `t`.
    pub fn absorb(&mut self, other: PartBuilder, t: Transform) {
        for (m, g) in other.by_mat {
            self.add(m, g.at(t));
        }
        for (m, g) in other.own {
            self.own.push((m, g.at(t)));
        }
        for (name, a) in other.anchors {
            self.anchors.insert(name, t * a);
        }
    }

    /// Changes all geometry of one material to another.
    pub fn repaint(&mut self, from: Mat, to: Mat) {
        if let Some(g) = self.by_mat.remove(&from) {
            self.add(to, g);
        }
    }

    /// The same part with left and right changed; letters on it stay readable.
    pub fn mirrored(self) -> PartBuilder {
        let mut b = PartBuilder::new();
        for (m, g) in self.by_mat {
            b.add(m, g.mirror_x());
        }
        for (m, g) in self.own {
            let mut g = g.mirror_x();
            for uv in &mut g.uv {
                uv.x = 1.0 - uv.x;
            }
            b.add_own(m, g);
        }
        for (name, a) in self.anchors {
            let flip = Vec3::new(-1.0, 1.0, 1.0);
            b.anchor_out(&name, a.translation * flip, a.rotation * Vec3::Y * flip);
        }
        b
    }

    /// Number of triangles.
    pub fn triangles(&self) -> usize {
        self.by_mat.values().map(Geo::triangles).sum::<usize>()
            + self.own.iter().map(|(_, g)| g.triangles()).sum::<usize>()
    }

    /// Spawns the part's meshes under `parent` and returns the anchors.
    /// With a `key`, meshes are shared by all parts of the same key.
    pub fn spawn_under(
        self,
        commands: &mut Commands,
        kit: &mut KitAssets,
        parent: Entity,
        key: Option<&str>,
    ) -> Anchors {
        for (m, g) in self.by_mat {
            let mesh = match key {
                Some(k) => kit.mesh(&format!("{k}/{m:?}"), || g.to_mesh()),
                None => kit.meshes.add(g.to_mesh()),
            };
            let material = kit.mat(m);
            let mut e = commands.spawn((Mesh3d(mesh), MeshMaterial3d(material), ChildOf(parent)));
            if matches!(m, Mat::Clear(..) | Mat::Glass) {
                e.insert(bevy::light::NotShadowCaster);
            }
        }
        for (i, (m, g)) in self.own.into_iter().enumerate() {
            let mesh = match key {
                Some(k) => kit.mesh(&format!("{k}/own{i}"), || g.to_mesh()),
                None => kit.meshes.add(g.to_mesh()),
            };
            commands.spawn((Mesh3d(mesh), MeshMaterial3d(m), ChildOf(parent)));
        }
        self.anchors
    }

    /// Spawns the part as a new root at `at`.
    pub fn spawn(
        self,
        commands: &mut Commands,
        kit: &mut KitAssets,
        at: Transform,
        key: Option<&str>,
    ) -> SpawnedPart {
        let entity = commands.spawn((at, Visibility::default())).id();
        let anchors = self.spawn_under(commands, kit, entity, key);
        SpawnedPart {
            entity,
            anchors,
            pieces: BTreeMap::new(),
        }
    }
}

impl SpawnedPart {
    /// Spawns a piece that can move by itself, as a child of the part.
    pub fn piece(
        &mut self,
        commands: &mut Commands,
        kit: &mut KitAssets,
        name: &str,
        at: Transform,
        b: PartBuilder,
    ) -> Entity {
        let e = commands
            .spawn((at, Visibility::default(), ChildOf(self.entity)))
            .id();
        let anchors = b.spawn_under(commands, kit, e, None);
        for (n, a) in anchors {
            self.anchors.insert(n, at * a);
        }
        self.pieces.insert(name.into(), e);
        e
    }
}
