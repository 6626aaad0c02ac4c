//! The safety rules' file: its types and checks.
//!
//! Plain data. What a condition means on a car is in [`super::watch`]; nothing here knows a session.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use tracebay_core::fault::Method;
use tracebay_core::scenario::SourceFile;
use tracebay_core::source::{Check, Path, Problem, parse};
use tracebay_core::tools::ToolKind;

/// The file format this program reads.
pub const FORMAT: u32 = 1;

/// A file of safety rules.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Rules {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Short name.
    pub id: String,
    /// Raised whenever the same attempt may break other rules than before.
    pub version: u32,
    /// The rules.
    pub rules: Vec<Rule>,
}

/// One rule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Short name, lower-case letters, digits and `-`.
    pub id: String,
    /// What breaks it.
    pub when: Condition,
    /// How grave that is.
    pub severity: Severity,
    /// Counted once an attempt, however often it is broken.
    #[serde(default)]
    pub once: bool,
    /// Name of the sentence for translation.
    pub message: String,
    /// The sentence in English.
    pub says: String,
    /// Where the rule comes from.
    pub source: String,
}

/// How grave a breach is.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub enum Severity {
    /// A sentence is shown; nothing is lost.
    Reminder,
    /// Loses the rubric's points for a caution.
    Caution,
    /// Loses this many points of the part "safety".
    Deduction(f64),
    /// The work would be stopped: the attempt does not pass, where the rubric says so.
    StopWork,
}

/// What breaks a rule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub enum Condition {
    /// A hand, a lead or a probe goes into a zone. Looking and listening are no hand.
    HandAt {
        /// Which zone.
        zone: Zone,
        /// No breach where all of these hold (none: always a breach).
        #[serde(default)]
        unless: Vec<Guard>,
    },
    /// The key is turned to start.
    Starts {
        /// No breach where all of these hold.
        unless: Vec<Guard>,
    },
    /// The engine begins to run, or runs on after a guard was taken away.
    EngineRuns {
        /// No breach where all of these hold.
        unless: Vec<Guard>,
    },
    /// One of these caps or covers is taken off.
    Opens {
        /// Names of covers.
        covers: Vec<String>,
        /// No breach where all of these hold.
        unless: Vec<Guard>,
    },
    /// One of these caps or covers is off when the car is handed back.
    LeftOff {
        /// Names of covers.
        covers: Vec<String>,
    },
    /// The gauge's hose is connected or taken off.
    Hose {
        /// Only in this state of the engine; any, if absent.
        #[serde(default)]
        engine: Option<EngineIs>,
        /// Only connecting (true) or only taking off (false); both, if absent.
        #[serde(default)]
        connecting: Option<bool>,
        /// No breach where all of these hold (none: always a breach).
        #[serde(default)]
        unless: Vec<Guard>,
    },
    /// A tool that carries current joins two nets of the car.
    Bridge {
        /// Which tools.
        links: Vec<Link>,
        /// One end on the first, the other on the second; either way round.
        between: (Net, Net),
        /// Only in this state of the engine; any, if absent.
        #[serde(default)]
        engine: Option<EngineIs>,
        /// No breach where all of these hold (none: always a breach).
        #[serde(default)]
        unless: Vec<Guard>,
    },
    /// A call or a repair rests on a light that stayed dark and was never seen lit with its clip
    /// where it then was.
    LightUnproved {
        /// Any lit reading proves it; otherwise only one with a lead on a battery post.
        any_lit_proves: bool,
    },
    /// The meter is on ohms with a foreign voltage across its leads.
    OhmsOnLive,
    /// The fuse inside one of these tools blows.
    ToolFuseBlows {
        /// Tools.
        tools: Vec<ToolKind>,
    },
    /// A strong spark at a battery post.
    SparkAtBattery,
    /// The battery's positive clamp comes off before the negative one, or goes on after it.
    BatteryClampOrder,
    /// A control unit's plug is taken off or pushed on while the unit has power.
    UnitPlugLive,
    /// Water is sprayed.
    Sprays {
        /// Only into this zone; anywhere, if absent.
        #[serde(default)]
        zone: Option<Zone>,
        /// Only where a part of one of these kinds is; any place, if empty.
        #[serde(default)]
        kinds: Vec<PartKind>,
        /// Only in this state of the engine; any, if absent.
        #[serde(default)]
        engine: Option<EngineIs>,
        /// No breach where all of these hold (none: always a breach).
        #[serde(default)]
        unless: Vec<Guard>,
    },
    /// Something is put right in one of these ways.
    Repairs {
        /// Ways.
        methods: Vec<Method>,
        /// Only on parts of these kinds; any target, if empty.
        #[serde(default)]
        kinds: Vec<PartKind>,
    },
}

/// Zones that hands keep out of.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Zone {
    /// Belts and fans with the engine running.
    MovingParts,
    /// A cooling fan that turns, or that the car's own circuits could start at any moment, with the
    /// engine stopped.
    FanAbleToStart,
    /// A part that is too hot to hold.
    Hot,
}

/// What makes an action safe.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Guard {
    /// Eye protection and gloves are on.
    Protected,
    /// Gear lever in Park or neutral (automatic), in neutral (manual).
    ParkOrNeutral,
    /// Park brake on.
    ParkBrake,
    /// Exhaust extraction hose on, or the car has none to put on.
    ExhaustHose,
    /// Key off.
    KeyOff,
}

/// State of the engine.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum EngineIs {
    /// Runs under its own power.
    Running,
    /// Does not.
    Stopped,
}

/// A tool as something current flows through.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Link {
    /// Jumper with its own fuse.
    FusedJumper,
    /// Jumper without one.
    PlainJumper,
    /// Filament test light.
    TestLight,
    /// Meter with its dial on amperes.
    MeterAmps,
}

/// A net of the car, found from the vehicle's wires and the state hands have left it in.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Net {
    /// Anything.
    Any,
    /// Fed by the battery now.
    Live,
    /// Fed by the battery now with no fuse of at most this many amperes on the way.
    LiveWithoutFuse(f64),
    /// Connected to ground now.
    Ground,
    /// Ends at a control unit's output that switches to ground.
    LowOutput,
    /// Ends at a control unit's output that switches to supply.
    HighOutput,
    /// Ends at a control unit's five-volt reference, sensor ground or sensor signal.
    SensorLine,
    /// Feeds the starter, its solenoid, or the coil of a relay that does.
    StarterFeed,
    /// Feeds the compressor clutch.
    ClutchFeed,
}

/// Kinds of part a rule can name.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum PartKind {
    /// Battery.
    Battery,
    /// Sensor or switch screwed into the refrigerant loop.
    RefrigerantSensor,
    /// Control unit.
    ControlUnit,
    /// Alternator.
    Alternator,
}

/// Longest sentence of a rule, characters.
const MAX_SENTENCE: usize = 400;

impl Rules {
    /// Reads and checks a file of rules.
    ///
    /// # Errors
    /// Everything that is wrong with it, with file, line and column.
    pub fn load(file: &SourceFile) -> Result<Rules, Vec<Problem>> {
        let rules: Rules = parse(&file.name, &file.text).map_err(|p| vec![p])?;
        let mut check = Check::new(&file.name, &file.text);
        rules.check(&mut check);
        check.finish()?;
        Ok(rules)
    }

    /// The file of rules that comes with the program.
    pub fn preset() -> SourceFile {
        SourceFile {
            name: "grading/rubrics/safety.ron".to_owned(),
            text: include_str!("../../rubrics/safety.ron").to_owned(),
        }
    }

    /// The rule of an id.
    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|r| r.id == id)
    }

    fn check(&self, check: &mut Check) {
        let root = Path::root;
        if self.format != FORMAT {
            check.refuse(
                &root().field("format"),
                format!("this program reads format {FORMAT} of safety rules"),
                "a newer program may read this file",
            );
        }
        check_id(&root().field("id"), &self.id, check);
        let mut ids = BTreeSet::new();
        for (i, rule) in self.rules.iter().enumerate() {
            let at = root().field("rules").index(i);
            check_id(&at.clone().field("id"), &rule.id, check);
            if !ids.insert(rule.id.as_str()) {
                check.refuse(
                    &at.clone().field("id"),
                    format!("there are two rules `{}`", rule.id),
                    "give each rule an id of its own",
                );
            }
            check_id(&at.clone().field("message"), &rule.message, check);
            check_severity(&at.clone().field("severity"), rule.severity, check);
            for (field, text) in [("says", &rule.says), ("source", &rule.source)] {
                let long = text.chars().count();
                if text.trim().is_empty() || long > MAX_SENTENCE {
                    check.refuse(
                        &at.clone().field(field),
                        format!("a text of {long} characters"),
                        format!("give 1 to {MAX_SENTENCE} characters"),
                    );
                }
            }
            rule.when.check(&at.field("when"), check);
        }
    }
}

impl Condition {
    fn check(&self, at: &Path, check: &mut Check) {
        let mut some = |field: &str, empty: bool| {
            if empty {
                check.refuse(
                    &at.clone().field(field),
                    "an empty list: the rule could never be broken",
                    "name at least one",
                );
            }
        };
        match self {
            Condition::Opens { covers, .. } | Condition::LeftOff { covers } => {
                some("covers", covers.is_empty());
            }
            Condition::ToolFuseBlows { tools } => some("tools", tools.is_empty()),
            Condition::Repairs { methods, .. } => some("methods", methods.is_empty()),
            Condition::Bridge { links, between, .. } => {
                some("links", links.is_empty());
                for net in [between.0, between.1] {
                    if let Net::LiveWithoutFuse(amps) = net {
                        let path = at.clone().field("between");
                        check.number(&path, amps, 0.0..=1000.0, "A");
                    }
                }
            }
            _ => {}
        }
    }
}

/// Refuses an id that is not lower-case letters, digits and `-`.
pub(crate) fn check_id(at: &Path, id: &str, check: &mut Check) {
    let good = !id.is_empty()
        && id.len() <= 64
        && id
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
    if !good {
        check.refuse(
            at,
            "not a short name",
            "give 1 to 64 lower-case letters, digits and `-`",
        );
    }
}

/// Refuses points out of range.
pub(crate) fn check_severity(at: &Path, severity: Severity, check: &mut Check) {
    if let Severity::Deduction(points) = severity {
        check.number(at, points, 0.0..=100.0, "points");
    }
}
