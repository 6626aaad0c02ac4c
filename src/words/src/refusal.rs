//! Why something cannot be done, in words that say what to do next.

use tracebay_core::session::Refusal;
use tracebay_core::vehicle::Vehicle;

use crate::observation::capital;
use crate::{Value, Words};

impl Words {
    /// Why something cannot be done, and what to do.
    pub fn refusal(&self, vehicle: &Vehicle, refusal: &Refusal) -> String {
        let name = |id: &str| Value::from(self.name(vehicle, id));
        let plain = |text: &str| Value::from(text.to_owned());
        let (key, args): (&str, Vec<(&str, Value)>) = match refusal {
            Refusal::HandedBack => ("refused-handed-back", vec![]),
            Refusal::Unknown {
                name,
                nearest: None,
            } => ("refused-unknown", vec![("name", plain(name))]),
            Refusal::Unknown {
                name,
                nearest: Some(nearest),
            } => (
                "refused-unknown-nearest",
                vec![("name", plain(name)), ("nearest", plain(nearest))],
            ),
            Refusal::NoSuchPosition { control, positions } => (
                "refused-no-such-position",
                vec![
                    ("control", name(control)),
                    ("positions", positions.join(", ").into()),
                ],
            ),
            Refusal::GoFirst { station } => (
                "refused-go-first",
                vec![("station", self.value(*station).into())],
            ),
            Refusal::NothingThere { station } => (
                "refused-nothing-there",
                vec![("station", self.value(*station).into())],
            ),
            Refusal::CoverOn { cover } => ("refused-cover-on", vec![("cover", name(cover))]),
            Refusal::Fitted { what } => ("refused-fitted", vec![("what", name(what))]),
            Refusal::StaysIn { what, place } => (
                "refused-stays-in",
                vec![("what", name(what)), ("place", name(place))],
            ),
            Refusal::NotFitted { what } => ("refused-not-fitted", vec![("what", name(what))]),
            Refusal::NoAccess { point } => (
                "refused-no-access",
                vec![("point", self.point(vehicle, point).into())],
            ),
            Refusal::OffLimits { what } => ("refused-off-limits", vec![("what", name(what))]),
            Refusal::NoSuchTool { tool } => (
                "refused-no-such-tool",
                vec![("tool", self.value(*tool).into())],
            ),
            Refusal::WrongUse { tool } => (
                "refused-wrong-use",
                vec![("tool", self.value(*tool).into())],
            ),
            Refusal::LeadFree { tool } => (
                "refused-lead-free",
                vec![("tool", self.value(*tool).into())],
            ),
            Refusal::LeadInTheWay { tool } => (
                "refused-lead-in-the-way",
                vec![("tool", self.value(*tool).into())],
            ),
            Refusal::SamePoint => ("refused-same-point", vec![]),
            Refusal::AlreadySo => ("refused-already-so", vec![]),
            Refusal::NoSpare { part } => ("refused-no-spare", vec![("part", name(part))]),
            Refusal::DoesNotTurn { part } => ("refused-does-not-turn", vec![("part", name(part))]),
            Refusal::NotThatWay { target } => {
                ("refused-not-that-way", vec![("target", name(target))])
            }
            // A wait is counted in tenths of a second, which nobody types.
            Refusal::OutOfRange { what, most } if what == "wait" => (
                "refused-wait-too-long",
                vec![("seconds", (most / 10).to_string().into())],
            ),
            Refusal::OutOfRange { what, most } => (
                "refused-out-of-range",
                vec![("what", plain(what)), ("most", most.to_string().into())],
            ),
            Refusal::TooLong { most } => {
                ("refused-too-long", vec![("most", most.to_string().into())])
            }
            Refusal::Forbidden { rule } => ("refused-forbidden", vec![("rule", plain(rule))]),
            Refusal::StopFirst => ("refused-stop-first", vec![]),
            Refusal::NoWaterThere => ("refused-no-water-there", vec![]),
            Refusal::CoverOff { cover } => ("refused-cover-off", vec![("cover", name(cover))]),
            Refusal::StandsOpen { what } => ("refused-stands-open", vec![("what", name(what))]),
            Refusal::Unsettled { parts } => {
                let parts: Vec<_> = parts.iter().map(|part| self.name(vehicle, part)).collect();
                (
                    "refused-unsettled",
                    vec![("parts", parts.join(", ").into())],
                )
            }
            Refusal::Unsolved { parts } => {
                let parts: Vec<_> = parts.iter().map(|part| self.name(vehicle, part)).collect();
                ("refused-unsolved", vec![("parts", parts.join(", ").into())])
            }
        };
        capital(&self.get(key, &args))
    }
}
