//! The scenario file's types: what a person writes in `scenarios/*.ron`.
//!
//! A scenario is a complaint on a vehicle with the faults that could cause it. It holds no answer
//! table: what each test shows under each fault is computed.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::fault::{Failure, Fault};
use crate::source::Told;
use crate::tools::ToolKind;

/// The file format this program reads.
pub const FORMAT: u32 = 1;

/// A complaint on a vehicle with its candidate faults.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Scenario {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Short name, letters, digits and `-`.
    pub id: String,
    /// Raised whenever a published seed's case may change.
    pub version: u32,
    /// Title shown to people; must not give the fault away.
    pub title: Told,
    /// Topic it practises, for instructors. It may name the kind of fault, so that no learner is
    /// shown it before the car is given back.
    pub topic: Told,
    /// 1 (first steps) to 5.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 5)))]
    pub difficulty: u8,
    /// Vehicle id.
    pub vehicle: String,
    /// What the customer says; the seed draws one.
    pub complaints: Vec<Told>,
    /// What the complaint means, and how it is reproduced.
    pub symptom: Symptom,
    /// Weather the seed draws from.
    pub weather: Weather,
    /// Tools in the roll.
    pub tools: Vec<ToolKind>,
    /// Minutes a customer would accept.
    #[cfg_attr(feature = "schema", schemars(range(min = 1.0, max = 600.0)))]
    pub budget_minutes: f64,
    /// Minutes for actions that differ from the standard table.
    #[serde(default)]
    pub minutes: BTreeMap<String, f64>,
    /// Candidate faults.
    pub candidates: Vec<Candidate>,
    /// States of the car worth planning for (at most 24). The first is as found.
    pub states: Vec<CarState>,
    /// What the sheet offers to be called, as in a fault's `at`; everything, if empty.
    #[serde(default)]
    pub suspects: Vec<String>,
    /// Known-good spares on the bench, by part id they can replace for a trial.
    #[serde(default)]
    pub spares: Vec<String>,
    /// Probe points worth planning for, beside the cavities of the relay in question.
    #[serde(default)]
    pub probes: Vec<String>,
    /// The relay the lesson is about: its socket is swept in planning.
    #[serde(default)]
    pub socket: Option<String>,
}

/// A complaint as something the car does or does not do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Symptom {
    /// What a driver does to meet it.
    pub steps: Vec<Step>,
    /// What is then wrong.
    pub shows: Shows,
}

/// What is wrong once the steps are done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Shows {
    /// The vents blow less than this many kelvin colder than outside (or do not blow).
    NoColdAir {
        /// Sound cars are colder than outside by at least this much, kelvin.
        #[cfg_attr(feature = "schema", schemars(range(min = 1.0, max = 30.0)))]
        colder_by_k: f64,
    },
    /// A load gets less than this fraction of the power it gets on the sound car.
    Weak {
        /// Part id of the load.
        part: String,
        /// Fraction of the sound car's power, 0 to 1.
        #[cfg_attr(feature = "schema", schemars(range(min = 0.01, max = 1.0)))]
        below: f64,
    },
    /// The engine does not start.
    NoStart,
    /// A load works although it should not.
    Unwanted {
        /// Part id of the load.
        part: String,
    },
}

/// One step with the car's own controls.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Step {
    /// Put a control in a position.
    Set(String, String),
    /// Let this many seconds pass.
    Wait(f64),
    /// Pull a relay or fuse.
    Pull(String),
    /// Take a plug off.
    Unplug(String),
    /// Wet a place with the spray bottle.
    Spray(String),
}

/// Weather the seed draws from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Weather {
    /// Lowest and highest outside temperature, degrees Celsius.
    pub ambient_c: (f64, f64),
    /// The customer meets it in the rain. The car is dry when it is found in the workshop.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub rain: bool,
}

/// A fault that could be behind the complaint.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Candidate {
    /// Short name, used in reports after the call.
    pub id: String,
    /// How common, relative to the other candidates.
    #[cfg_attr(feature = "schema", schemars(range(min = 1e-06, max = 1000000.0)))]
    pub prior: f64,
    /// What is wrong; more than one for double faults and caused-by.
    pub faults: Vec<Fault>,
    /// Other calls that count as right, beside the fault's own place and failure.
    #[serde(default)]
    pub also: Vec<(String, Failure)>,
    /// Candidates with the same group cannot be told apart by test and are repaired alike.
    #[serde(default)]
    pub group: Option<String>,
    /// Weather of the day this one is met, where it needs its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weather: Option<Weather>,
}

/// A state of the car that tests are planned in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CarState {
    /// Short name.
    pub id: String,
    /// Shown to people.
    pub label: Told,
    /// Steps from the car as found.
    pub steps: Vec<Step>,
}
