//! How a bay is arranged: plain data, so that several cars can share the kit.

use crate::kit::{BaySize, BoxGrid, PartShape, PickId, Rgb, SpawnedPart, spawn_part};
use crate::kit::{KitAssets, body, spawn_point};
use bevy::prelude::*;
use std::collections::BTreeMap;

use super::openness::WorkOutOpenness;

/// Ends an anchor's name where a point lies just beside it.
pub const BESIDE: &str = "@beside";

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
    /// Fuse boxes that stand here.
    pub boxes: Vec<PlacedBox>,
    /// Where fuse boxes may stand.
    pub stands: Stands,
    /// Places that a vehicle file may name, by the name it uses.
    pub spots: BTreeMap<String, Spot>,
}

/// A fuse box and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedBox {
    /// Caller's id.
    pub id: String,
    /// What is in it.
    pub grid: BoxGrid,
    /// Where its foot is.
    pub stand: Stand,
}

/// Where a fuse box can stand, and where its lid and what is pulled from it are laid.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stand {
    /// Middle of its foot.
    pub at: Vec3,
    /// Turned about +Y, degrees.
    pub yaw: f32,
    /// Tilted about its own x, degrees, before the turn.
    pub pitch: f32,
    /// Where the lid lies when off, in the box's frame.
    pub lid_aside: Transform,
    /// Where the tray lies, in the box's frame.
    pub tray: Transform,
    /// Smallest size that the body has here.
    pub least: Vec2,
    /// What the eye looks at besides the box: how far the view's middle lies from the box's, in the
    /// box's frame.
    pub aside: Vec3,
    /// From its middle towards the eye that reads it.
    pub eye: Vec3,
    /// How far that eye is away.
    pub distance: f32,
}

/// The stands of an arrangement.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Stands {
    /// In the bay.
    pub bay: Stand,
    /// On the battery, for a few large fuses.
    pub battery: Stand,
    /// Below the dash, on the driver's side.
    pub driver: Stand,
    /// Below the dash, on the passenger's side.
    pub passenger: Stand,
}

/// A place one can turn to: where small things of it are fixed, and from where it is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Where.
    pub at: Vec3,
    /// Turned about +Y, degrees; things of the place stand in a row along its x.
    pub yaw: f32,
    /// Tilted about its own x, degrees, before the turn; wires leave towards its +Y.
    pub pitch: f32,
    /// Towards the eye.
    pub eye: Vec3,
    /// How far the eye is away, metres.
    pub distance: f32,
}

impl Spot {
    /// On what faces up, seen from above and in front.
    pub fn on(x: f32, y: f32, z: f32) -> Spot {
        Spot {
            at: Vec3::new(x, y, z),
            yaw: 0.0,
            pitch: 0.0,
            eye: Vec3::new(0.0, 1.0, 0.45),
            distance: 0.50,
        }
    }

    /// The same turned.
    pub fn turned(mut self, yaw: f32, pitch: f32) -> Spot {
        (self.yaw, self.pitch) = (yaw, pitch);
        self
    }

    /// The same seen from elsewhere.
    pub fn from(mut self, x: f32, y: f32, z: f32) -> Spot {
        self.eye = Vec3::new(x, y, z);
        self
    }

    /// The same seen from so far.
    pub fn away(mut self, metres: f32) -> Spot {
        self.distance = metres;
        self
    }

    /// Place and turn.
    pub fn transform(&self) -> Transform {
        turned(self.at, self.yaw, self.pitch)
    }
}

impl Stand {
    /// Place and turn.
    pub fn transform(&self) -> Transform {
        turned(self.at, self.yaw, self.pitch)
    }

    /// What an eye looks at that reads the box.
    pub fn middle(&self) -> Vec3 {
        self.transform() * (self.aside + Vec3::new(0.0, 0.06, 0.0))
    }
}

fn turned(at: Vec3, yaw: f32, pitch: f32) -> Transform {
    Transform::from_translation(at).with_rotation(
        Quat::from_rotation_y(yaw.to_radians()) * Quat::from_rotation_x(pitch.to_radians()),
    )
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

    /// Place and turn.
    pub fn transform(&self) -> Transform {
        turned(self.at, self.yaw, self.pitch)
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
            // A part's own pins lie just beside where the plug's wires go in.
            let (anchor, beside) = match anchor.strip_suffix(BESIDE) {
                Some(anchor) => (anchor, Vec3::new(0.0, 0.0, *radius * 2.6)),
                None => (anchor.as_str(), Vec3::ZERO),
            };
            match part.anchors.get(anchor) {
                Some(a) => {
                    let a = *a * Transform::from_translation(beside);
                    spawn_point(commands, kit, part.entity, a, PickId(id.clone()), *radius);
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
    for placed in &layout.boxes {
        let t = placed.stand.transform();
        let part = spawn_part(commands, kit, &PartShape::FuseBox(placed.grid.clone()), t);
        commands
            .entity(part.entity)
            .insert((ChildOf(root), PickId(placed.id.clone())));
        bay.places.insert(placed.id.clone(), t);
        bay.parts.insert(placed.id.clone(), part);
    }
    let o = at.translation;
    commands.entity(root).insert(WorkOutOpenness {
        cell: 0.022,
        min: o + Vec3::new(-1.0, -0.75, -0.95),
        max: o + Vec3::new(1.0, 1.15, 0.85),
    });
    bay
}
