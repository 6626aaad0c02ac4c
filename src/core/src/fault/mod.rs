//! Faults: one thing wrong at one place, and the words a learner may call it by.
//!
//! This module names faults; how each changes the car's network is in
//! [`crate::vehicle::build`]. It knows nothing of scenarios, priors or scores.

use serde::{Deserialize, Serialize};

/// What a leak is named to lead to where it leads to the car's metal.
pub const LEAK_TO_GROUND: &str = "ground";

/// One thing wrong at one place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Fault {
    /// Where: a part (`K3`), a terminal (`K3.86`), a wire (`w12`), a connector (`psensor`), a
    /// control (`ac`) or `refrigerant`.
    pub at: String,
    /// What is wrong there.
    pub what: Wrong,
    /// Only under this condition; always, if absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only: Option<Condition>,
}

impl Fault {
    /// Whether it is there at some times and away at others. A leak is there with the water only.
    pub fn comes_and_goes(&self) -> bool {
        self.only.is_some() || matches!(self.what, Wrong::LeakTo(..))
    }
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Wrong {
    /// Wire broken, terminal not touching, part burnt out: no current passes.
    Open,
    /// Added resistance in a wire or terminal, ohms.
    Resistance(#[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 1e6)))] f64),
    /// A wire's insulation is through to grounded metal, ohms.
    ShortToGround(#[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 1e5)))] f64),
    /// A wire touches a live wire, ohms.
    ShortToSupply(#[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 1e5)))] f64),
    /// Connector pushed on but not home: its terminals do not touch.
    NotSeated,
    /// A terminal pushed back in its connector, which looks seated from outside.
    PushedBack,
    /// A terminal spread so that it hardly grips, ohms.
    Spread(#[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 1e6)))] f64),
    /// Fuse element gone.
    Blown,
    /// Relay or clutch coil open.
    CoilOpen,
    /// Relay or clutch coil with shorted turns: this fraction of its resistance is left.
    CoilShorted(#[cfg_attr(feature = "schema", schemars(range(min = 0.02, max = 0.98)))] f64),
    /// Relay contacts never close.
    ContactsOpen,
    /// Relay contacts burnt: this many ohms when closed.
    ContactsBurnt(#[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 1e6)))] f64),
    /// Relay contacts welded shut.
    ContactsWelded,
    /// Suppression diode fitted the wrong way round.
    DiodeReversed,
    /// Suppression diode open.
    DiodeOpen,
    /// Clutch air gap worn to this many millimetres.
    Gap(#[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 2.0)))] f64),
    /// Motor seized: stalled.
    Seized,
    /// Control unit output never switches on.
    OutputDead(String),
    /// Control unit output always on.
    OutputStuckOn(String),
    /// Control unit does nothing at all.
    UnitDead,
    /// Sensor reads this many kilopascals (or kelvin) too much.
    ReadingOff(#[cfg_attr(feature = "schema", schemars(range(min = -5000.0, max = 5000.0)))] f64),
    /// A switch's contacts no longer close.
    StuckOpen,
    /// A switch's contacts no longer open.
    StuckClosed,
    /// Refrigerant charge: this fraction of the full charge is left.
    Charge(#[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 1.5)))] f64),
    /// Condenser blocked: this fraction of the airflow is lost.
    CondenserBlocked(#[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 1.0)))] f64),
    /// The car is used wrongly; nothing is broken. The control stands in this position.
    Misuse(String),
    /// A relay that looks the same, in the wrong slot: its terminals 30 and 86 have changed places
    /// (both patterns are in use; ISO 7588, from memory).
    LookAlike,
    /// Two terminals put back in each other's cavity by an earlier repair: this one and the named
    /// other.
    CrossedWith(String),
    /// Nothing is wrong: the car does what it is meant to in this weather. Named at the control
    /// that the customer complains of.
    AsDesigned,
    /// Water leads from this terminal to the named other one, or to `ground`: this many ohms when
    /// soaked, more as it dries, nothing when dry.
    LeakTo(
        String,
        #[cfg_attr(feature = "schema", schemars(range(min = 5.0, max = 1e6)))] f64,
    ),
}

/// When an intermittent fault is there.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Condition {
    /// Under-bonnet heat after running for some minutes.
    Hot,
    /// While the harness is moved or the engine shakes.
    Shaken,
    /// While the place is wet: rained on, washed or sprayed, and not dry again.
    Wet,
}

/// What a learner says is wrong. Coarser than [`Wrong`]: what a work order would say.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Failure {
    /// No current passes (wire, terminal or part open).
    Open,
    /// Too much resistance.
    HighResistance,
    /// Short to ground.
    ShortToGround,
    /// Short to supply.
    ShortToSupply,
    /// Connector not seated.
    NotSeated,
    /// Terminal pushed back or spread.
    BadTerminal,
    /// Fuse blown.
    Blown,
    /// Coil failed.
    Coil,
    /// Contacts failed: never close, burnt.
    Contacts,
    /// Contacts stuck or output always on.
    StuckOn,
    /// Worn or seized.
    Mechanical,
    /// Suppression diode.
    Diode,
    /// Control unit does not switch.
    NoOutput,
    /// Sensor or switch reports wrongly.
    ReadingOff,
    /// Low refrigerant.
    LowCharge,
    /// Air path of the condenser blocked.
    Blocked,
    /// Nothing broken: the car is operated wrongly.
    Misuse,
    /// A part of another type than belongs there.
    WrongPart,
    /// Wires or terminals crossed.
    Crossed,
    /// Nothing is wrong: it works as it is meant to.
    NoFault,
    /// Water has got in and leads current where none should go.
    WaterIngress,
}

impl Wrong {
    /// The word for this fault on a work order.
    pub fn failure(&self) -> Failure {
        match self {
            Wrong::Open => Failure::Open,
            Wrong::Resistance(_) => Failure::HighResistance,
            Wrong::ShortToGround(_) => Failure::ShortToGround,
            Wrong::ShortToSupply(_) => Failure::ShortToSupply,
            Wrong::NotSeated => Failure::NotSeated,
            Wrong::PushedBack | Wrong::Spread(_) => Failure::BadTerminal,
            Wrong::Blown => Failure::Blown,
            Wrong::CoilOpen | Wrong::CoilShorted(_) => Failure::Coil,
            Wrong::ContactsOpen | Wrong::ContactsBurnt(_) => Failure::Contacts,
            Wrong::ContactsWelded | Wrong::OutputStuckOn(_) => Failure::StuckOn,
            Wrong::DiodeReversed | Wrong::DiodeOpen => Failure::Diode,
            Wrong::Gap(_) | Wrong::Seized => Failure::Mechanical,
            Wrong::OutputDead(_) | Wrong::UnitDead => Failure::NoOutput,
            Wrong::ReadingOff(_) | Wrong::StuckOpen | Wrong::StuckClosed => Failure::ReadingOff,
            Wrong::Charge(_) => Failure::LowCharge,
            Wrong::CondenserBlocked(_) => Failure::Blocked,
            Wrong::Misuse(_) => Failure::Misuse,
            Wrong::LookAlike => Failure::WrongPart,
            Wrong::CrossedWith(_) => Failure::Crossed,
            Wrong::AsDesigned => Failure::NoFault,
            Wrong::LeakTo(..) => Failure::WaterIngress,
        }
    }
}

/// How something is put right.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// Fit a new part.
    Replace,
    /// Push the connector home until it latches.
    Reseat,
    /// Mend or renew the terminal.
    MendTerminal,
    /// Mend the wire with a joint of the same gauge.
    MendWire,
    /// Clean and tighten the joint.
    CleanJoint,
    /// Leak search and recharge by a licensed person.
    Recharge,
    /// Clean the condenser's face.
    CleanCondenser,
    /// Show the driver how it is operated.
    Explain,
}

impl Method {
    /// Whether this method removes this kind of fault where it is applied.
    pub fn mends(self, wrong: &Wrong) -> bool {
        use Wrong::*;
        match self {
            Method::Replace => !matches!(
                wrong,
                Charge(_) | CondenserBlocked(_) | Misuse(_) | AsDesigned | CrossedWith(_)
            ),
            Method::Reseat => matches!(wrong, NotSeated),
            Method::MendTerminal => matches!(
                wrong,
                PushedBack | Spread(_) | Open | Resistance(_) | CrossedWith(_) | LeakTo(..)
            ),
            Method::MendWire => {
                matches!(
                    wrong,
                    Open | Resistance(_) | ShortToGround(_) | ShortToSupply(_)
                )
            }
            // Cleaned, dried and sealed.
            Method::CleanJoint => matches!(wrong, Resistance(_) | LeakTo(..)),
            Method::Recharge => matches!(wrong, Charge(_)),
            Method::CleanCondenser => matches!(wrong, CondenserBlocked(_)),
            Method::Explain => matches!(wrong, Misuse(_) | AsDesigned),
        }
    }
}
