//! A control unit as written in a vehicle file: its pins and its typed behaviours.
//!
//! There is no scripting: each behaviour is a type with parameters, so that a file can be checked
//! and every refusal of a unit has a reason the debrief can name.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// Pins and behaviours of a control unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ControlUnit {
    /// Supply pin.
    pub supply: String,
    /// Ground pin.
    pub ground: String,
    /// What it draws, as a resistance from supply to ground, in ohms.
    #[cfg_attr(feature = "schema", schemars(range(min = 5.0, max = 100000.0)))]
    pub idle_ohms: f64,
    /// Works at or above this supply voltage.
    #[serde(default = "default_works_above_v")]
    #[cfg_attr(feature = "schema", schemars(range(min = 4.0, max = 11.0)))]
    pub works_above_v: f64,
    /// Five-volt reference for sensors.
    #[serde(default)]
    pub reference: Option<Reference>,
    /// Sensor ground pin.
    #[serde(default)]
    pub sensor_ground: Option<String>,
    /// Inputs by name.
    #[serde(default)]
    pub inputs: BTreeMap<String, Input>,
    /// Outputs by name.
    #[serde(default)]
    pub outputs: BTreeMap<String, Output>,
    /// What it does.
    #[serde(default)]
    pub rules: Vec<Rule>,
}

fn default_works_above_v() -> f64 {
    6.5
}

/// A regulated sensor supply.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Reference {
    /// Pin.
    pub pin: String,
    /// Volts.
    #[cfg_attr(feature = "schema", schemars(range(min = 3.0, max = 6.0)))]
    pub volts: f64,
    /// Source resistance in ohms.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.01, max = 1000.0)))]
    pub ohms: f64,
    /// Current limit in amperes.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 2.0)))]
    pub limit_a: f64,
}

/// An input.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Input {
    /// Pin.
    pub pin: String,
    /// How it is biased.
    pub bias: Bias,
}

/// How an input is biased inside the unit.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Bias {
    /// Resistor to the unit's ground, ohms.
    PullDown(f64),
    /// Resistor to the five-volt reference, ohms.
    PullUp5(f64),
    /// Resistor to the unit's supply, ohms.
    PullUpSupply(f64),
}

/// An output.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Output {
    /// Pin.
    pub pin: String,
    /// Which side it switches.
    pub side: Side,
    /// Resistance when on, in ohms.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.01, max = 20.0)))]
    pub on_ohms: f64,
    /// Current limit in amperes.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.05, max = 50.0)))]
    pub limit_a: f64,
}

/// Which side an output switches.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Side {
    /// Connects the pin to the unit's ground.
    Low,
    /// Connects the pin to the unit's supply.
    High,
}

/// When an input counts as asserted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Asserted {
    /// Input name.
    pub input: String,
    /// True when the voltage is above (or, with `below`, below) this many volts.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.05, max = 20.0)))]
    pub volts: f64,
    /// Asserted below instead of above.
    #[serde(default)]
    pub below: bool,
}

/// A typed behaviour.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub enum Rule {
    /// Permits the compressor clutch.
    Clutch(ClutchRule),
    /// Output follows all of the inputs, with delays.
    Follow {
        /// Output name.
        output: String,
        /// All must be asserted.
        when: Vec<Asserted>,
        /// Only with the engine running.
        #[serde(default)]
        engine_running: bool,
        /// Seconds before it switches on.
        #[serde(default)]
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 600.0)))]
        on_delay_s: f64,
        /// Seconds before it switches off.
        #[serde(default)]
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 600.0)))]
        off_delay_s: f64,
        /// Switches itself off after this many seconds (a timer), if given.
        #[serde(default)]
        #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 3600.0)))]
        at_most_s: Option<f64>,
    },
    /// Fuel pump: primes after power-up, then only while the engine turns.
    FuelPump {
        /// Output name.
        output: String,
        /// Prime time in seconds.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 30.0)))]
        prime_s: f64,
    },
    /// Cooling fan: by coolant temperature, by high-side pressure, or whenever the clutch is permitted.
    Fan {
        /// Output name.
        output: String,
        /// Clutch output whose permission also starts the fan.
        with_output: Option<String>,
        /// Analogue input of the pressure signal, if pressure starts it.
        pressure: Option<Analogue>,
        /// On above this gauge pressure, kilopascals.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 10000.0)))]
        on_kpa: f64,
        /// Off below this.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 10000.0)))]
        off_kpa: f64,
        /// On above this coolant temperature.
        #[cfg_attr(feature = "schema", schemars(range(min = -40.0, max = 300.0)))]
        on_coolant_c: f64,
    },
    /// Glow plugs: by ambient temperature after key on.
    Glow {
        /// Output name.
        output: String,
        /// Seconds at 0 °C; shrinks to nothing at 40 °C.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 60.0)))]
        seconds_at_0c: f64,
    },
}

/// An analogue pressure input and how the unit reads it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Analogue {
    /// Input name.
    pub input: String,
    /// Volts at `low_kpa`.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 15.0)))]
    pub low_v: f64,
    /// Volts at `high_kpa`.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 16.0)))]
    pub high_v: f64,
    /// Gauge pressure at `low_v`, kilopascals.
    #[cfg_attr(feature = "schema", schemars(range(min = -100.0, max = 1000.0)))]
    pub low_kpa: f64,
    /// Gauge pressure at `high_v`, kilopascals.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 6000.0)))]
    pub high_kpa: f64,
    /// Below this the signal is implausible (open or shorted).
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 15.0)))]
    pub plausible_from_v: f64,
    /// Above this the signal is implausible.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 16.0)))]
    pub plausible_to_v: f64,
}

/// When the clutch is permitted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ClutchRule {
    /// Output name.
    pub output: String,
    /// Request and everything else that must be asserted (A/C switch, blower on).
    pub when: Vec<Asserted>,
    /// Pressure signal; none where a switch in the request line does the work.
    #[serde(default)]
    pub pressure: Option<Analogue>,
    /// Refuses below this gauge pressure, kilopascals.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 1000.0)))]
    pub low_cut_kpa: f64,
    /// Refuses above this gauge pressure, kilopascals.
    #[cfg_attr(feature = "schema", schemars(range(min = 100.0, max = 6000.0)))]
    pub high_cut_kpa: f64,
    /// Evaporator thermistor input: refuses below this temperature.
    #[serde(default)]
    pub evaporator: Option<Temperature>,
    /// Coolant thermistor input: refuses above its `limit_c`.
    #[serde(default)]
    pub coolant: Option<Temperature>,
    /// Ambient thermistor input: refuses below its `limit_c`.
    #[serde(default)]
    pub ambient: Option<Temperature>,
    /// Refuses below this supply voltage.
    #[cfg_attr(feature = "schema", schemars(range(min = 4.0, max = 13.0)))]
    pub low_supply_v: f64,
    /// Seconds all conditions must hold before it engages.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 60.0)))]
    pub delay_s: f64,
    /// Seconds after a release before it engages again.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 120.0)))]
    pub restart_delay_s: f64,
    /// An implausible pressure signal is remembered until the key is turned off.
    #[serde(default)]
    pub latches: bool,
}

/// A thermistor input and its limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Temperature {
    /// Input name (biased by a pull-up to five volts).
    pub input: String,
    /// Thermistor ohms at 25 °C the unit expects.
    #[cfg_attr(feature = "schema", schemars(range(min = 50.0, max = 200000.0)))]
    pub ohms_25c: f64,
    /// Beta constant in kelvin the unit expects.
    #[cfg_attr(feature = "schema", schemars(range(min = 1500.0, max = 6000.0)))]
    pub beta_k: f64,
    /// Limit in degrees Celsius.
    #[cfg_attr(feature = "schema", schemars(range(min = -40.0, max = 150.0)))]
    pub limit_c: f64,
}
