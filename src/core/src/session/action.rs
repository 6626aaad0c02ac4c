//! What a learner can do. An attempt file is a list of these; nothing else changes a session.

use serde::{Deserialize, Serialize};

use crate::fault::{Failure, Method};
use crate::tools::{Dial, Lead, ToolKind};
use crate::vehicle::Station;

/// One thing the learner does.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Action {
    /// Walk to a station.
    Go(Station),
    /// Put a control in a position (`key` to `start`, `ac` to `on`).
    Set {
        /// Control id.
        control: String,
        /// Position.
        to: String,
    },
    /// Let time pass, in ticks of 0.1 s.
    Wait(u32),
    /// Put on eye protection (and gloves).
    Protect,
    /// Take a cover or cap off (`box lid`, `service cap`).
    Uncover(String),
    /// Put it back.
    Cover(String),
    /// Pull a relay or fuse out of its slot and lay it aside.
    Pull(String),
    /// Put back what was pulled: the original or a spare.
    Fit {
        /// Part id of the slot.
        part: String,
        /// Which item.
        item: Item,
        /// Put in turned half round, where the blades allow it.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        turned: bool,
    },
    /// Take a plug off.
    Unplug(String),
    /// Push a plug on until it latches. On one that is on already: press it home.
    Plug(String),
    /// Move the harness about at a place while watching.
    Wiggle(String),
    /// Wet a place with the spray bottle, as rain and the car wash do, while watching.
    Spray(String),
    /// Look at a place.
    Look(String),
    /// Look closely at something laid aside or unplugged: a fuse, a relay, a connector's face.
    Inspect(String),
    /// Listen at a place.
    Listen(String),
    /// Feel at a place with the hand.
    Feel(String),
    /// Point the inspection lamp at a place, or away.
    Light(Option<String>),
    /// Put a lead on a point and leave it there.
    Put {
        /// Tool.
        tool: ToolKind,
        /// Lead.
        lead: Lead,
        /// Point.
        point: String,
    },
    /// Take a lead off.
    Lift {
        /// Tool.
        tool: ToolKind,
        /// Lead.
        lead: Lead,
    },
    /// Touch a point with the tool's free lead, read, and let go.
    Touch {
        /// Tool.
        tool: ToolKind,
        /// Point.
        point: String,
    },
    /// Touch all cavities of a socket one after the other.
    Sweep {
        /// Tool.
        tool: ToolKind,
        /// Part id of the relay whose socket it is.
        socket: String,
    },
    /// Put a new bulb or fuse into a tool from the drawer of the bench.
    Renew(ToolKind),
    /// Turn the meter's dial.
    Dial(Dial),
    /// Plug the breakout in at a socket, or take it out.
    Breakout(Option<String>),
    /// Connect the gauge to the low-side port, or take it off.
    Gauge(bool),
    /// Hold the thermometer at a place.
    Thermometer(String),
    /// Write a line on the job sheet.
    Note(String),
    /// Ask for a hint of a level from 1 to 3.
    Hint(u8),
    /// Say what is wrong.
    Call {
        /// Part, terminal, wire, connector or `refrigerant`.
        target: String,
        /// What is wrong with it.
        failure: Failure,
    },
    /// Put something right.
    Repair {
        /// Part, terminal, wire, connector or `refrigerant`.
        target: String,
        /// How.
        method: Method,
    },
    /// Give the car back with three lines on the work order. Ends the session.
    HandBack {
        /// Complaint.
        complaint: String,
        /// Cause.
        cause: String,
        /// Correction.
        correction: String,
    },
}

/// Which item goes into a slot.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Item {
    /// The one that was in it.
    #[default]
    Original,
    /// A known-good one from the bench.
    Spare,
}
