//! What a learner can perceive at any moment without doing anything, and what a face needs to draw.
//!
//! A view never holds what the learner could not know: no fault, no node voltage, no verdict.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::{Dash, Observation, Sound};
use crate::tools::{Dial, Lead, ToolKind};
use crate::vehicle::Station;

/// The state a face draws.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct View {
    /// Where the learner stands.
    pub station: Station,
    /// Job minutes spent.
    pub minutes: f64,
    /// Car time since the start, in ticks of 0.1 s.
    pub ticks: u64,
    /// Position of every control.
    pub controls: BTreeMap<String, String>,
    /// What the dash shows.
    pub dash: Dash,
    /// Engine turning under its own power.
    pub engine_running: bool,
    /// Eye protection on.
    pub protected: bool,
    /// Covers and caps that are off.
    pub uncovered: BTreeSet<String>,
    /// Slots whose relay or fuse is out.
    pub pulled: BTreeSet<String>,
    /// Slots that hold a known-good spare.
    pub spares_fitted: BTreeSet<String>,
    /// Plugs that are off.
    pub unplugged: BTreeSet<String>,
    /// Where the inspection lamp points.
    pub lamp_at: Option<String>,
    /// Leads that are on a point.
    pub leads: BTreeMap<ToolKind, BTreeMap<Lead, String>>,
    /// Meter dial.
    pub dial: Dial,
    /// Socket the breakout sits in.
    pub breakout: Option<String>,
    /// Gauge connected.
    pub gauge_on: bool,
    /// Tools whose fuse has blown.
    pub blown_tools: BTreeSet<ToolKind>,
    /// What the connected tools show right now.
    pub readings: Vec<Observation>,
    /// Lasting sounds and where they come from.
    pub sounds: BTreeSet<(Sound, String)>,
    /// Shapes that move, for drawing.
    pub motion: Motion,
    /// Calls made so far.
    pub calls: Vec<(String, crate::fault::Failure)>,
    /// Repairs made so far.
    pub repairs: Vec<(String, crate::fault::Method)>,
    /// Handed back: nothing more can be done.
    pub handed_back: bool,
    /// Places that are wet.
    pub wet: BTreeSet<String>,
}

/// What turns and lights, for drawing. Evidence counts only when looked at by an action.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Motion {
    /// Engine speed, revolutions a minute.
    pub engine_rpm: f64,
    /// Compressor clutch plate locked to its pulley.
    pub clutch_engaged: bool,
    /// Motor part id and its speed as a fraction of rated speed; 0 where friction holds it.
    pub motors: BTreeMap<String, f64>,
    /// Lamp part id and its light output as a fraction of rated.
    pub lamps: BTreeMap<String, f64>,
}

/// A point a tool can be put on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PointInfo {
    /// How actions name it (`K3.a`, `F12:1`, `battery:pos`).
    pub id: String,
    /// Part it belongs to.
    pub part: String,
    /// Place where it is.
    pub place: String,
    /// What kind of point.
    pub kind: PointKind,
    /// What is printed beside it, if anything (`30`, `1`, `+`).
    pub mark: Option<String>,
    /// Blade size, for cavities and blades.
    pub blade: Option<BladeSize>,
}

/// Kinds of point.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PointKind {
    /// Cavity of a relay or fuse socket, reachable with the relay or fuse out, or through the
    /// breakout.
    Cavity,
    /// Blade of a relay or fuse laid aside.
    Blade,
    /// Test tab on top of a fuse in its slot.
    TestTab,
    /// Terminal reached from behind in its connector.
    BackProbe,
    /// A part's own pin, reachable with its plug off.
    Pin,
    /// Terminal in the face of a plug that is off.
    PlugFace,
    /// Battery post.
    Post,
    /// Ground stud or bare metal.
    Stud,
    /// Painted metal: looks like ground and is none.
    Paint,
}

/// Blade sizes as one sees them.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BladeSize {
    /// 6.3 mm and up.
    Wide,
    /// 4.8 mm and less.
    Narrow,
}
