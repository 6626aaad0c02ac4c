//! What a learner then sees, hears, feels or reads. Typed values, never sentences: words are made
//! by the faces.

use serde::{Deserialize, Serialize};

use crate::tools::{Dial, Glow, ToolKind};

/// One thing perceived.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Observation {
    /// A test light at a point.
    Light {
        /// Which light.
        tool: ToolKind,
        /// Where its free lead is.
        point: String,
        /// What the eye says.
        glow: Glow,
        /// Light output in percent of rated, for drawing.
        percent: u8,
    },
    /// The meter's display.
    Meter {
        /// Where its red lead is.
        point: String,
        /// The display.
        display: MeterDisplay,
    },
    /// Low-side gauge needle, gauge pressure.
    Gauge {
        /// Kilopascals above atmosphere.
        kpa: f64,
    },
    /// Thermometer.
    Temperature {
        /// Place.
        place: String,
        /// Degrees Celsius.
        celsius: f64,
    },
    /// Heard.
    Heard {
        /// What kind of sound.
        sound: Sound,
        /// From which place.
        place: String,
    },
    /// Seen at a place.
    Seen {
        /// Place or thing looked at.
        place: String,
        /// What.
        finding: Finding,
        /// Which lamp is meant, where several stand at one place.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lamp: Option<String>,
    },
    /// Nothing remarkable there.
    NothingSeen {
        /// Place or thing looked at.
        place: String,
    },
    /// Too dark to see anything there.
    TooDark {
        /// Place.
        place: String,
    },
    /// Felt at a place.
    Felt {
        /// Place.
        place: String,
        /// What.
        touch: Touch,
    },
    /// A spark where a lead was put or taken off.
    Spark {
        /// Where.
        point: String,
        /// Strong sparks pit contacts.
        strong: bool,
    },
    /// The jumper's inline fuse or the meter's fuse blew.
    ToolFuseBlew {
        /// Which tool.
        tool: ToolKind,
    },
    /// Smoke.
    Smoke {
        /// From which place.
        place: String,
    },
    /// A position of the gear lever, a lamp in the cluster, the rev counter: what the dash shows.
    Dash(Dash),
    /// A replaced or repaired thing is as new.
    Repaired {
        /// What.
        target: String,
    },
    /// The hint that was asked for is to be shown by the face; its words come from the grader.
    HintAsked {
        /// Level.
        level: u8,
    },
}

/// The meter's display.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MeterDisplay {
    /// A number.
    Value {
        /// Dial position.
        dial: Dial,
        /// Value in volts, ohms or amperes, rounded to the display's resolution.
        value: f64,
        /// Decimals shown.
        decimals: u8,
    },
    /// Over range (open circuit on ohms).
    OverRange {
        /// Dial position.
        dial: Dial,
    },
    /// Ohms on a live circuit: the number means nothing.
    Nonsense {
        /// Number shown all the same, ohms.
        value: f64,
    },
    /// Dial off, a lead not connected, or its fuse blown.
    Blank,
}

/// Sounds, each also written as a caption.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sound {
    /// A relay pulls in or drops out.
    RelayClick,
    /// A relay buzzes.
    RelayBuzz,
    /// The compressor clutch snaps in.
    ClutchIn,
    /// The compressor clutch lets go.
    ClutchOut,
    /// Starter cranks.
    Cranking,
    /// Starter cranks slowly.
    SlowCranking,
    /// A single click at the starter.
    StarterClick,
    /// The engine starts.
    EngineStarts,
    /// The engine stops.
    EngineStops,
    /// Engine runs.
    Engine,
    /// Blower.
    Blower,
    /// Cooling fan.
    Fan,
    /// Fuel pump.
    Pump,
    /// Horn.
    Horn,
    /// Hiss of refrigerant.
    Hiss,
    /// Nothing.
    Silence,
}

/// What an eye can find.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Finding {
    /// Connector stands off its seat.
    NotSeated,
    /// A terminal sits back in its cavity.
    TerminalBack,
    /// A terminal stands open.
    TerminalSpread,
    /// Green or white bloom on a terminal or lug.
    Corrosion,
    /// Insulation rubbed through.
    Chafed,
    /// Fuse element gone.
    ElementGone,
    /// Fuse element whole.
    ElementWhole,
    /// Heat marks.
    HeatMarks,
    /// Oily dirt as refrigerant oil leaves at a leak.
    OilTrace,
    /// Fins full of dirt.
    FinsBlocked,
    /// Harmless dust, dirt or surface rust.
    Dust,
    /// Pulley turns, clutch plate stands still.
    PlateStill,
    /// Pulley and clutch plate turn together.
    PlateTurns,
    /// Pulley stands still.
    PulleyStill,
    /// A wide gap at the clutch plate.
    WideGap,
    /// Fan turns.
    FanTurns,
    /// Fan stands still.
    FanStill,
    /// Lamp lit.
    Lit,
    /// Lamp lit, plainly weaker than it should be.
    Dull,
    /// Lamp not lit.
    Unlit,
    /// Wet.
    Wet,
}

/// What a hand can feel.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Touch {
    /// No air comes.
    NoAir,
    /// Little air comes.
    WeakAir,
    /// Plenty of air comes, as warm as outside.
    WarmAir,
    /// Plenty of air comes, a little cooler than outside.
    CoolAir,
    /// Plenty of air comes, cold.
    ColdAir,
    /// Ambient temperature, still.
    Still,
    /// Vibrates.
    Vibrates,
    /// Warm.
    Warm,
    /// Too hot to hold.
    Hot,
    /// Cold.
    Cold,
    /// A plug pushed on moves and latches with a click.
    PlugMoved,
    /// A plug is firm.
    PlugFirm,
    /// A fuse or relay slides in with hardly any grip.
    LooseFit,
    /// A relay or fuse grips.
    FirmFit,
}

/// What the dash shows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Dash {
    /// Engine speed in revolutions a minute, rounded to 10.
    pub rpm: u32,
    /// Charge warning lamp.
    pub charge_lamp: bool,
    /// Instruments have power.
    pub awake: bool,
}
