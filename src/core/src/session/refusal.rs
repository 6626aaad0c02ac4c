//! Why an action cannot be done now. A refused action changes nothing and is not recorded.

use serde::Serialize;

use crate::tools::ToolKind;
use crate::vehicle::Station;

/// Why not. Words are made by the faces.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Refusal {
    /// The session is over.
    HandedBack,
    /// No such control, part, place, point, connector or cover; the nearest name, if any.
    Unknown {
        /// What was asked for.
        name: String,
        /// Closest known name.
        nearest: Option<String>,
    },
    /// The control has no such position.
    NoSuchPosition {
        /// Control.
        control: String,
        /// Positions it has.
        positions: Vec<String>,
    },
    /// One must stand elsewhere.
    GoFirst {
        /// Where to.
        station: Station,
    },
    /// A cover is in the way.
    CoverOn {
        /// Which.
        cover: String,
    },
    /// The point is hidden while this is fitted.
    Fitted {
        /// Part in the slot, or connector that is on.
        what: String,
    },
    /// Nothing is fitted there.
    NotFitted {
        /// Slot or connector.
        what: String,
    },
    /// It cannot be reached with a probe.
    NoAccess {
        /// Point.
        point: String,
    },
    /// Airbag or high-voltage circuit.
    OffLimits {
        /// Connector.
        what: String,
    },
    /// The tool is not in the roll for this case.
    NoSuchTool {
        /// Tool.
        tool: ToolKind,
    },
    /// The tool has no such lead, or it cannot be used that way.
    WrongUse {
        /// Tool.
        tool: ToolKind,
    },
    /// The first lead must be put somewhere before the other one can touch.
    LeadFree {
        /// Tool.
        tool: ToolKind,
    },
    /// A lead of this tool would be shut in: take it off first.
    LeadInTheWay {
        /// Tool.
        tool: ToolKind,
    },
    /// The two leads would be on the same point.
    SamePoint,
    /// The control is already there, the cover already off, the lead already lifted.
    AlreadySo,
    /// There is no spare of this part on the bench.
    NoSpare {
        /// Part.
        part: String,
    },
    /// It does not fit turned.
    DoesNotTurn {
        /// Part.
        part: String,
    },
    /// It cannot be repaired this way.
    NotThatWay {
        /// What.
        target: String,
    },
    /// A number out of range.
    OutOfRange {
        /// What it is.
        what: String,
        /// Largest accepted value.
        most: u32,
    },
    /// Text too long.
    TooLong {
        /// Largest number of characters.
        most: u32,
    },
    /// The assignment's rules forbid it.
    Forbidden {
        /// Rule.
        rule: String,
    },
    /// The engine must be stopped, or the key off, for this.
    StopFirst,
    /// The car's circuits would not settle with this done; names the parts.
    Unsettled {
        /// Parts.
        parts: Vec<String>,
    },
}
