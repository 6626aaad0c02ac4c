//! The vehicle file's types: what a person writes in `scenarios/vehicles/*.ron`.
//!
//! Plain data with units in the field names. Nothing here knows how a circuit is solved, what a
//! fault does or how a car is drawn; [`super::model`] turns these types into a checked model.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::source::Told;

/// The file format this program reads.
pub const FORMAT: u32 = 1;

/// A whole invented car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Vehicle {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Short name used by scenarios, letters, digits and `-`.
    pub id: String,
    /// The invented name shown to people.
    pub name: String,
    /// One line that says the car is invented and what is particular about it.
    pub about: Told,
    /// Automatic or manual gearbox: decides what "safe to start" means.
    pub gearbox: Gearbox,
    /// Idle speed of the warm engine in revolutions a minute.
    #[cfg_attr(feature = "schema", schemars(range(min = 400.0, max = 1500.0)))]
    pub idle_rpm: f64,
    /// The refrigerant loop, if the car has air conditioning.
    #[serde(default)]
    pub air_conditioning: Option<AirConditioning>,
    /// Everything electrical, by id (`K3`, `F12`, `clutch`).
    pub parts: BTreeMap<String, Part>,
    /// Every wire, by id.
    pub wires: BTreeMap<String, Wire>,
    /// Plugs that can be taken off: each groups terminals that open together.
    #[serde(default)]
    pub connectors: BTreeMap<String, Connector>,
    /// Fuse and relay boxes.
    pub boxes: BTreeMap<String, FuseBox>,
    /// Places one can look at, listen at, feel or point the lamp at.
    pub places: BTreeMap<String, Place>,
    /// What the driver or technician can operate, by id (`key`, `ac`, `blower`).
    pub controls: BTreeMap<String, Control>,
    /// How the engine bay is arranged when it is drawn. The circuits do not depend on it.
    #[serde(default, skip_serializing_if = "Arrangement::is_usual")]
    pub arrangement: Arrangement,
    /// How the bay is drawn: shapes and where they stand. The circuits do not depend on it.
    #[serde(default)]
    pub bay: Vec<Shape>,
}

/// How an engine bay is arranged: which way the engine lies and what stands beside it.
///
/// Whether the fuse box stands in the bay or below the dash is told by the station of its place.
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Arrangement {
    /// Petrol engine along the car, belt in front, battery and box at the left.
    #[default]
    LongitudinalPetrol,
    /// Petrol engine across the car, belt at the right, battery over the gearbox at the left, box at
    /// the right beside the bulkhead.
    TransversePetrol,
    /// Diesel engine along the car, belt in front and the other way about, injection pipes,
    /// intercooler; battery at the left.
    LongitudinalDiesel,
}

impl Arrangement {
    /// Whether it is the one that a file without a word about it gets.
    fn is_usual(&self) -> bool {
        *self == Arrangement::default()
    }
}

/// Gearbox kind.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Gearbox {
    /// Starts in Park or neutral.
    Automatic,
    /// Starts in neutral with the clutch pedal down.
    Manual,
}

/// The refrigerant loop's fixed data.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct AirConditioning {
    /// Which refrigerant.
    pub refrigerant: Fluid,
    /// Full charge in kilograms.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 3.0)))]
    pub charge_kg: f64,
    /// Inner volume of the whole loop in litres.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.8, max = 20.0)))]
    pub volume_litres: f64,
    /// Part id of the compressor clutch.
    pub clutch: String,
    /// Part id of the blower motor: its power moves air over the evaporator.
    pub blower: String,
    /// Part ids of the condenser fan motors.
    #[serde(default)]
    pub fans: Vec<String>,
}

/// Refrigerants the core has tables for.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Fluid {
    /// R-134a.
    R134a,
    /// R-1234yf (mildly flammable).
    R1234yf,
}

/// One electrical thing with pins.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// The trade's name for it, shown to people.
    pub label: Told,
    /// Id of the place where it stands.
    pub place: String,
    /// What it is.
    pub kind: Kind,
    /// Minutes to replace it, part in hand.
    #[serde(default = "default_replace_minutes")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 600.0)))]
    pub replace_minutes: f64,
    /// What a replacement costs in the shop's currency (invented).
    #[serde(default)]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 100000.0)))]
    pub price: f64,
}

fn default_replace_minutes() -> f64 {
    15.0
}

/// What a part is, with its data. Pins are named by kind; see each variant.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub enum Kind {
    /// Lead-acid battery. Pins `pos`, `neg`.
    Battery {
        /// Rated capacity in ampere-hours.
        #[cfg_attr(feature = "schema", schemars(range(min = 10.0, max = 250.0)))]
        capacity_ah: f64,
        /// Internal resistance when full at 25 °C, in ohms.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 0.5)))]
        internal_ohms: f64,
        /// State of charge, 0 to 1.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 1.0)))]
        charge: f64,
    },
    /// Regulated alternator on the engine. Pins `out`, `body` (its case on the engine block).
    Alternator {
        /// Regulated voltage at 25 °C.
        #[cfg_attr(feature = "schema", schemars(range(min = 13.0, max = 15.5)))]
        setpoint_v: f64,
        /// Current limit at idle in amperes.
        #[cfg_attr(feature = "schema", schemars(range(min = 5.0, max = 300.0)))]
        idle_limit_a: f64,
    },
    /// A switch with named positions. Pins as named by its ways.
    Switch {
        /// Id of the control that moves it.
        control: String,
        /// Connections; each is closed in the listed positions of the control.
        ways: Vec<Way>,
    },
    /// A switch moved by the refrigerant's high-side pressure. Pins `1`, `2`.
    PressureSwitch {
        /// Closed at or above this gauge pressure in kilopascals.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 5000.0)))]
        closes_above_kpa: f64,
        /// Opens again below this.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 5000.0)))]
        opens_below_kpa: f64,
        /// Opens above this (high cut-out).
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 5000.0)))]
        opens_above_kpa: f64,
    },
    /// Blade fuse. Pins `1` (feed side), `2` (load side).
    Fuse {
        /// Rating in amperes.
        amps: f64,
        /// Body size.
        body: FuseBody,
    },
    /// Plug-in relay. Pins `30`, `85`, `86`, `87`, and `87a` on a changeover relay.
    Relay(Relay),
    /// Electromagnetic compressor clutch. Pins `1`, `2`.
    ClutchCoil {
        /// Coil resistance at 20 °C in ohms.
        #[cfg_attr(feature = "schema", schemars(range(min = 2.0, max = 10.0)))]
        ohms: f64,
        /// Air gap in millimetres.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 2.0)))]
        gap_mm: f64,
        /// Suppression diode across the coil.
        diode: bool,
    },
    /// Permanent-magnet motor with a fan or pump on it. Pins `1` (positive), `2`.
    Motor {
        /// Volts the next figures are given at.
        #[cfg_attr(feature = "schema", schemars(range(min = 6.0, max = 48.0)))]
        rated_v: f64,
        /// Running current in amperes.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 300.0)))]
        rated_a: f64,
        /// Stalled current in amperes.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.15, max = 2000.0)))]
        stall_a: f64,
        /// Running speed in revolutions a minute.
        #[cfg_attr(feature = "schema", schemars(range(min = 30.0, max = 20000.0)))]
        rated_rpm: f64,
        /// What it does.
        drives: Drives,
    },
    /// Filament lamp. Pins `1`, `2`.
    Lamp {
        /// Volts of the rating.
        #[cfg_attr(feature = "schema", schemars(range(min = 3.0, max = 48.0)))]
        rated_v: f64,
        /// Watts at that voltage.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 200.0)))]
        rated_w: f64,
    },
    /// A plain resistive load or resistor (heater, resistor pack step, glow plug). Pins `1`, `2`.
    Resistor {
        /// Ohms at 20 °C.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.05, max = 1000000.0)))]
        ohms: f64,
        /// What it does.
        #[serde(default)]
        acts: Acts,
    },
    /// Three-wire ratiometric pressure sensor. Pins `supply`, `ground`, `signal`.
    PressureSensor {
        /// Gauge pressure at 10 % of supply, in kilopascals.
        #[cfg_attr(feature = "schema", schemars(range(min = -100.0, max = 1000.0)))]
        low_kpa: f64,
        /// Gauge pressure at 90 % of supply, in kilopascals.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 6000.0)))]
        high_kpa: f64,
        /// Which side of the loop it sits on.
        side: LoopSide,
    },
    /// Negative-temperature-coefficient thermistor. Pins `1`, `2`.
    Thermistor {
        /// Ohms at 25 °C.
        #[cfg_attr(feature = "schema", schemars(range(min = 50.0, max = 200000.0)))]
        ohms_25c: f64,
        /// Beta constant in kelvin.
        #[cfg_attr(feature = "schema", schemars(range(min = 1500.0, max = 6000.0)))]
        beta_k: f64,
        /// What temperature it feels.
        feels: Feels,
    },
    /// A control unit: see [`super::unit_file`]. Pins as named in its data.
    ControlUnit(Box<super::unit_file::ControlUnit>),
    /// Bolted ring terminals on metal. Pins `1`, `2`, … one for each lug.
    GroundStud {
        /// Which metal.
        on: Metal,
        /// Number of lugs.
        lugs: u32,
    },
    /// A joint inside the harness where wires are welded. Pins `1`, `2`, … all one node.
    Splice {
        /// Number of wires.
        ways: u32,
    },
    /// A connector between two harnesses. For each cavity `n`: pins `na` and `nb`.
    Inline {
        /// Number of cavities.
        cavities: u32,
    },
    /// A bus bar or stud that distributes a feed. Pins `1`, `2`, … all one node.
    BusBar {
        /// Number of screws.
        ways: u32,
    },
}

/// A plug-in relay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Relay {
    /// Coil resistance at 20 °C in ohms.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.3, max = 1000.0)))]
    pub coil_ohms: f64,
    /// Pulls in at or above this voltage at 20 °C.
    #[cfg_attr(feature = "schema", schemars(range(min = 2.0, max = 20.0)))]
    pub pull_in_v: f64,
    /// Drops out below this voltage at 20 °C.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.3, max = 20.0)))]
    pub drop_out_v: f64,
    /// What is across the coil.
    pub suppression: Suppression,
    /// Has a fifth terminal 87a.
    #[serde(default)]
    pub changeover: bool,
    /// What is printed on the relay and its socket.
    pub marks: Marks,
    /// Blade sizes.
    pub blades: Blades,
    /// Possible arrangements of the socket's cavities: terminals in reading order from above
    /// (upper left, upper right, …). The seed draws one.
    pub arrangements: Vec<Vec<String>>,
}

/// What limits the coil's release voltage.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Suppression {
    /// Nothing.
    Nothing,
    /// A resistor of this many ohms.
    Resistor(f64),
    /// A diode, cathode to terminal 86.
    Diode,
}

/// What is printed on a relay.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Marks {
    /// 30, 85, 86, 87 (DIN 72552, ISO 7588).
    Din,
    /// 1, 2, 3, 5: coil 1 and 2, contact 3 and 5.
    Numbers,
    /// Only a schematic on the case.
    Schematic,
    /// Nothing.
    Bare,
}

/// Blade sizes of a relay.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Blades {
    /// Contact blades wide, coil blades narrow: the clue on small relays.
    WideAndNarrow,
    /// All equal: no clue.
    Equal,
}

/// Fuse bodies.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum FuseBody {
    /// Small blade (type F of ISO 8820-3).
    Mini,
    /// Regular blade (type C).
    Regular,
    /// Large blade (type E).
    Maxi,
}

/// What a motor does.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Drives {
    /// Cabin blower.
    Blower,
    /// Condenser and radiator fan.
    CoolingFan,
    /// Fuel pump: the engine does not run without it.
    FuelPump,
    /// Starter motor.
    Starter,
    /// Washer pump.
    Washer,
    /// Wiper.
    Wiper,
}

/// What a resistive load does.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Acts {
    /// Nothing one notices.
    #[default]
    Nothing,
    /// Sounds the horn.
    Horn,
    /// Heats a window.
    WindowHeater,
    /// Injectors and ignition: the engine does not run without it.
    Engine,
    /// Glow plug.
    GlowPlug,
}

/// Side of the refrigerant loop.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum LoopSide {
    /// Suction.
    Low,
    /// Discharge.
    High,
}

/// What a thermistor feels.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Feels {
    /// Evaporator fins.
    Evaporator,
    /// Engine coolant.
    Coolant,
    /// Outside air.
    Ambient,
}

/// Metal that carries ground.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Metal {
    /// The body shell.
    Body,
    /// The engine block.
    Engine,
}

/// One connection of a switch.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Way {
    /// Pin on one side.
    pub from: String,
    /// Pin on the other.
    pub to: String,
    /// Positions of the control in which they are connected.
    pub closed_in: Vec<String>,
}

/// A wire between two pins, written `part.pin`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Wire {
    /// Pin at one end.
    pub from: String,
    /// Pin at the other.
    pub to: String,
    /// Copper cross-section in square millimetres. Left out where `awg` is given.
    #[serde(default)]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.13, max = 120.0)))]
    pub mm2: f64,
    /// American wire gauge instead (ASTM B258); 0 is 1/0, -1 is 2/0 and so on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub awg: Option<i32>,
    /// Length in metres.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.02, max = 15.0)))]
    pub length_m: f64,
    /// IEC 60757 colour letters, main colour first (`RD`, `BK-WH`).
    pub colour: String,
}

/// A plug that can be taken off and pushed on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Connector {
    /// Shown to people.
    pub label: Told,
    /// Place where it is.
    pub place: String,
    /// Pins whose terminals it holds, `part.pin`.
    pub pins: Vec<String>,
    /// One can reach the terminals from behind with a thin probe.
    #[serde(default = "yes")]
    pub back_probe: bool,
    /// Part of an airbag or high-voltage circuit: nobody touches it here.
    #[serde(default)]
    pub off_limits: bool,
}

fn yes() -> bool {
    true
}

/// A fuse and relay box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FuseBox {
    /// Shown to people.
    pub label: Told,
    /// Place where it is. A place at the seat's station puts the box below the dash.
    pub place: String,
    /// Which side of the cabin a box below the dash is on. Only for drawing.
    #[serde(default, skip_serializing_if = "Side::is_usual")]
    pub side: Side,
    /// The lid's legend is printed turned half round against the box.
    #[serde(default)]
    pub legend_turned: bool,
    /// Columns and rows of the drawing grid.
    pub grid: (u32, u32),
    /// Slots.
    pub slots: Vec<Slot>,
}

/// Side of the cabin.
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Side {
    /// Where the steering wheel is.
    #[default]
    Driver,
    /// The other.
    Passenger,
}

impl Side {
    /// Whether it is the one that a file without a word about it gets.
    fn is_usual(&self) -> bool {
        *self == Side::default()
    }
}

/// A slot of a fuse box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Slot {
    /// Part in it.
    pub part: String,
    /// The legend's abbreviation.
    pub legend: String,
    /// Column and row in the grid, from the upper left.
    pub at: (u32, u32),
    /// Slots with the same group number may change places from seed to seed.
    #[serde(default)]
    pub group: Option<u32>,
}

/// A place one can look at, feel, listen at or light.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// Shown to people.
    pub label: Told,
    /// Where one must stand.
    pub station: Station,
    /// Too dark to see anything without the inspection lamp.
    #[serde(default)]
    pub dark: bool,
    /// Close to belts or fans: no hands here while the engine runs or a fan can start.
    #[serde(default)]
    pub moving_parts: bool,
    /// Burns when the engine has run.
    #[serde(default)]
    pub hot: bool,
    /// Harmless dust, surface rust or dirt, whatever the case.
    #[serde(default)]
    pub wear: bool,
    /// Cover over it, if any, by name.
    #[serde(default)]
    pub cover: Option<String>,
}

/// Where one stands.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Station {
    /// Driver's seat.
    Seat,
    /// Engine bay.
    Bay,
    /// Close up at the fuse box.
    Box,
    /// Work bench.
    Bench,
}

/// Something with positions that a person operates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Control {
    /// Shown to people.
    pub label: Told,
    /// What it means to the car.
    pub role: Role,
    /// Where one must be to operate it.
    pub station: Station,
    /// Positions; the first is where it is at the start of a case.
    pub positions: Vec<String>,
}

/// What a control means to the car beyond the switches it moves.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Role {
    /// Ignition switch; positions must be `off`, `acc`, `on`, `start`. `start` springs back to `on`.
    Key,
    /// Gear lever; positions must include `park` or `neutral`.
    Gear,
    /// Park brake; positions `on`, `off`.
    ParkBrake,
    /// Foot brake or clutch pedal; positions `up`, `down`.
    Pedal,
    /// A/C request; positions `off`, `on`.
    AirConditioning,
    /// Blower speed; first position is off.
    Blower,
    /// Exhaust extraction hose; positions `off`, `on`.
    ExhaustHose,
    /// Any other switch.
    Plain,
}

/// A shape in the bay's picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Shape {
    /// Part, connector or place id that it stands for, or empty for scenery.
    #[serde(default)]
    pub id: String,
    /// Name of the kit's shape.
    pub kind: String,
    /// Position in metres: x to the car's left, y up, z forward; origin on the floor below the
    /// middle of the bulkhead.
    pub at: (f32, f32, f32),
    /// Turn about the upright axis in degrees.
    #[serde(default)]
    #[cfg_attr(feature = "schema", schemars(range(min = -360.0, max = 360.0)))]
    pub turn_deg: f32,
    /// Scale or size numbers whose meaning the shape defines.
    #[serde(default)]
    pub size: Vec<f32>,
}
