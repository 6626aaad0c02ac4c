//! Why an action cannot be done now. A refused action changes nothing and is not recorded.

use serde::Serialize;

use crate::circuit::SolveError;
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
    /// There is nothing to do there on this vehicle.
    NothingThere {
        /// Where.
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
    /// It is not taken out to be looked at.
    StaysIn {
        /// Part, wire or terminal.
        what: String,
        /// Where it is, to look there.
        place: String,
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
    /// Water has no business there: the cabin, the bench.
    NoWaterThere,
    /// The cover must be on: rain falls on the closed box.
    CoverOff {
        /// Which.
        cover: String,
    },
    /// A slot or plug stands open there: water on bare terminals would be a fault of one's own.
    StandsOpen {
        /// Slot or connector.
        what: String,
    },
    /// Contacts would open and close without end with this done; names the parts that flip.
    Unsettled {
        /// Parts, wires or terminals.
        parts: Vec<String>,
    },
    /// No operating point was found for a part of the car's circuits with this done; names what is
    /// in that part, at most [`MOST_NAMED`] of it.
    Unsolved {
        /// Parts, wires or terminals.
        parts: Vec<String>,
    },
}

/// Most names given of an island of the circuit.
pub const MOST_NAMED: usize = 8;

impl From<SolveError> for Refusal {
    fn from(error: SolveError) -> Refusal {
        let mut parts: Vec<String> = Vec::new();
        for element in error.elements() {
            let part = thing(element).to_owned();
            if !parts.contains(&part) {
                parts.push(part);
            }
        }
        match error {
            SolveError::Unsettled { .. } => Refusal::Unsettled { parts },
            SolveError::NoConvergence { .. } | SolveError::BadValue { .. } => {
                parts.truncate(MOST_NAMED);
                Refusal::Unsolved { parts }
            }
        }
    }
}

/// The part, wire or terminal that an element of the car's network stands for: elements are named
/// `K3 coil`, `contact K3.86`, `short at w12`.
fn thing(element: &str) -> &str {
    let name = ["contact ", "short at ", "crossed at ", "insulation of "]
        .iter()
        .find_map(|prefix| element.strip_prefix(prefix))
        .unwrap_or(element);
    name.split(' ').next().unwrap_or(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_wrong_with_a_network_is_told_by_its_parts() {
        let names = |list: &[&str]| list.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>();
        let flips = SolveError::Unsettled {
            contacts: names(&["K3 contact", "K3 rest contact", "K7 contact"]),
        };
        assert_eq!(
            Refusal::from(flips),
            Refusal::Unsettled {
                parts: names(&["K3", "K7"])
            }
        );
        let island = SolveError::NoConvergence {
            elements: names(&["contact K3.86", "K3 coil", "short at w_k3_86", "w_k3_86"]),
        };
        assert_eq!(
            Refusal::from(island),
            Refusal::Unsolved {
                parts: names(&["K3.86", "K3", "w_k3_86"])
            }
        );
    }
}
