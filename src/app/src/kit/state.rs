//! What the outside tells a part: components that the kit's systems follow.
//!
//! They are put on the part's root. None holds physics; each says how a thing
//! looks right now.

use bevy::prelude::*;

/// The caller's own name for a thing that can be picked; the kit never reads it.
#[derive(Component, Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PickId(pub String);

/// Speed of the engine (on belt drives) or of the part itself, turns per minute.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct SpinRpm(pub f32);

/// Whether a compressor's clutch plate is pulled to its pulley.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct ClutchPlate {
    /// Pulled in: the plate turns with the pulley.
    pub engaged: bool,
}

/// Whether a connector is pushed home. When not, it stands off by a few millimetres.
#[derive(Component, Clone, Copy, Debug, PartialEq)]
pub struct Seated(pub bool);

/// Whether a service port's cap is on.
#[derive(Component, Clone, Copy, Debug, PartialEq)]
pub struct CapOn(pub bool);

/// Whether a lid is on; off, it lies aside.
#[derive(Component, Clone, Copy, Debug, PartialEq)]
pub struct LidOn(pub bool);

/// Whether a lid that lies aside is turned half round against its box.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct LidTurned(pub bool);

/// Brightness of a bulb or lamp, 0 (dark) to 1 (full).
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct Glow(pub f32);

/// Where a needle stands, 0 (start of scale) to 1 (end of scale).
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct Needle(pub f32);

/// Text on a display.
#[derive(Component, Clone, Debug, Default, PartialEq)]
pub struct Display(pub String);

/// How far a key, knob, stalk or dial is turned, in its own steps (0 = rest).
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct KeyTurn(pub f32);

/// Whether a fuse's element is melted through.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct BlownElement(pub bool);

/// Whether a part is pulled out and lies on the tray.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct Pulled(pub bool);

/// Whether a push button or pedal is held in.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq)]
pub struct Pressed(pub bool);

/// Marks a thing as pointed at (or chosen by keyboard): it is lit up.
#[derive(Component, Clone, Copy, Debug, Default)]
pub struct Highlight;

/// How a probe point shows itself.
#[derive(Component, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PointShow {
    /// Not seen, but can be pointed at.
    #[default]
    Idle,
    /// A faint ring: the tool in hand could go here.
    Offered,
    /// A bright ring: the pointer or the keyboard is here.
    Hover,
    /// A filled dot: a tool is here.
    Touched,
}

/// A lead that hangs between two points in the world.
#[derive(Component, Clone, Copy, Debug, PartialEq)]
pub struct LeadBetween {
    /// One end, in world metres.
    pub a: Vec3,
    /// The other end, in world metres.
    pub b: Vec3,
    /// Direction in which the other end is free of bodies: the lead leaves it that way and is led
    /// over all that stands between. Without one it just hangs.
    pub free: Option<Vec3>,
    /// Its insulation's colour.
    pub colour: super::material::Rgb,
}

/// Length of a lead over the distance of its ends; without it 1.25.
#[derive(Component, Clone, Copy, Debug, PartialEq)]
pub struct LeadSlack(pub f32);
