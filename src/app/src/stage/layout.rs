//! How a bay is arranged: plain data, so that several cars can share the kit.

use crate::kit::{BaySize, BoxGrid, PartShape, PickId, Rgb, SpawnedPart, spawn_part};
use crate::kit::{KitAssets, body, spawn_point};
use bevy::prelude::*;
use std::collections::BTreeMap;

use super::openness::WorkOutOpenness;

/// One part of a bay.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Caller's id: becomes the part's [`PickId`] when not empty.
    pub id: String,
    /// What it is.
    pub shape: PartShape,
    /// Where its origin is, in the bay's frame.
    pub at: Vec3,
    /// Turned about +Y, degrees.
    pub yaw: f32,
    /// Tilted about its own x, degrees, before the turn.
    pub pitch: f32,
    /// Anchors that can be probed: (anchor's name, id for its [`PickId`], radius in metres).
    pub points: Vec<(String, String, f32)>,
}

/// A whole bay.
#[derive(Clone, Debug)]
pub struct BayLayout {
    /// Body measures.
    pub size: BaySize,
    /// Body colour.
    pub paint: Rgb,
    /// Colour inside the bay.
    pub inner_paint: Rgb,
    /// How far the bonnet is open, degrees.
    pub bonnet_deg: f32,
    /// Everything else.
    pub parts: Vec<Placed>,
    /// The work is on the bench, and nothing of it in the bay.
    pub on_bench: bool,
    /// The fuse box and where it stands: position and yaw in degrees.
    pub fuse_box: Option<(String, BoxGrid, Vec3, f32)>,
}

/// A bay standing in the scene.
#[derive(Resource, Clone, Debug)]
pub struct Bay {
    /// Root of everything.
    pub root: Entity,
    /// Parts by id.
    pub parts: BTreeMap<String, SpawnedPart>,
    /// Where each part stands.
    pub places: BTreeMap<String, Transform>,
}

impl Bay {
    /// A part's anchor in the bay's frame.
    pub fn anchor(&self, part: &str, name: &str) -> Option<Transform> {
        let a = self.parts.get(part)?.anchors.get(name)?;
        Some(*self.places.get(part)? * *a)
    }
}

impl Placed {
    /// A part that is only looked at.
    pub fn new(id: &str, shape: PartShape, at: Vec3) -> Placed {
        Placed {
            id: id.into(),
            shape,
            at,
            yaw: 0.0,
            pitch: 0.0,
            points: Vec::new(),
        }
    }

    /// The same part turned about +Y.
    pub fn yaw(mut self, degrees: f32) -> Placed {
        self.yaw = degrees;
        self
    }

    /// The same part tilted about its own x.
    pub fn pitch(mut self, degrees: f32) -> Placed {
        self.pitch = degrees;
        self
    }

    /// The same part with one more probe point.
    pub fn point(mut self, anchor: &str, id: &str, radius: f32) -> Placed {
        self.points.push((anchor.into(), id.into(), radius));
        self
    }

    fn transform(&self) -> Transform {
        Transform::from_translation(self.at).with_rotation(
            Quat::from_rotation_y(self.yaw.to_radians())
                * Quat::from_rotation_x(self.pitch.to_radians()),
        )
    }
}

/// Spawns a bay with its body round it.
pub fn spawn_bay(
    commands: &mut Commands,
    kit: &mut KitAssets,
    layout: &BayLayout,
    at: Transform,
) -> Bay {
    let root = commands.spawn((at, Visibility::default())).id();
    let mut bay = Bay {
        root,
        parts: BTreeMap::new(),
        places: BTreeMap::new(),
    };
    let s = layout.size;
    let mut wings = body::wings(s, layout.inner_paint);
    // Wings are painted inside by the bay's own colour, outside by the body's.
    wings.repaint(
        crate::kit::Mat::Paint(layout.inner_paint),
        crate::kit::Mat::Paint(layout.paint),
    );
    let wings = wings.spawn(commands, kit, Transform::IDENTITY, None);
    commands.entity(wings.entity).insert(ChildOf(root));
    let shell = [
        PartShape::Bulkhead(s, layout.inner_paint),
        PartShape::FrontPanel(s, layout.paint),
        PartShape::Bonnet(s, layout.paint, layout.bonnet_deg),
    ];
    for shape in &shell {
        let p = spawn_part(commands, kit, shape, Transform::IDENTITY);
        commands.entity(p.entity).insert(ChildOf(root));
    }
    bay.places.insert("wings".into(), Transform::IDENTITY);
    bay.parts.insert("wings".into(), wings);
    for placed in &layout.parts {
        let t = placed.transform();
        let part = spawn_part(commands, kit, &placed.shape, t);
        let mut e = commands.entity(part.entity);
        e.insert(ChildOf(root));
        if !placed.id.is_empty() {
            e.insert(PickId(placed.id.clone()));
        }
        for (anchor, id, radius) in &placed.points {
            match part.anchors.get(anchor) {
                Some(a) => {
                    spawn_point(commands, kit, part.entity, *a, PickId(id.clone()), *radius);
                }
                None => warn!(
                    "The bay's layout asks for a probe point at '{anchor}' of part '{}', which has only: {}",
                    placed.id,
                    part.anchors.keys().cloned().collect::<Vec<_>>().join(", ")
                ),
            }
        }
        if !placed.id.is_empty() {
            bay.places.insert(placed.id.clone(), t);
            bay.parts.insert(placed.id.clone(), part);
        }
    }
    if let Some((id, grid, place, yaw)) = &layout.fuse_box {
        let t = Transform::from_translation(*place)
            .with_rotation(Quat::from_rotation_y(yaw.to_radians()));
        let part = spawn_part(commands, kit, &PartShape::FuseBox(grid.clone()), t);
        commands
            .entity(part.entity)
            .insert((ChildOf(root), PickId(id.clone())));
        bay.places.insert(id.clone(), t);
        bay.parts.insert(id.clone(), part);
    }
    let o = at.translation;
    commands.entity(root).insert(WorkOutOpenness {
        cell: 0.022,
        min: o + Vec3::new(-1.0, -0.75, -0.95),
        max: o + Vec3::new(1.0, 1.15, 0.85),
    });
    bay
}
