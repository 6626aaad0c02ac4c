//! What faults, candidates and tests are called: labels of the vehicle, never bare ids.

use tracebay_core::fault::Fault;
use tracebay_core::scenario::{Candidate, Case};
use tracebay_core::vehicle::{Kind, split_pin};
use tracebay_grading::hint::{Family, Hint, Section};
use tracebay_grading::survey::Probe;

use crate::{Value, Words};

impl Words {
    /// A part, terminal, wire or plug with what it is for. Says what relays and fuses are, so it is
    /// for the debrief.
    pub fn label(&self, case: &Case, id: &str) -> String {
        let vehicle = &case.vehicle;
        if let Some(wire) = vehicle.wires.get(id) {
            let end = |pin: &str| match split_pin(pin) {
                Some((part, _)) => self.label(case, part),
                None => pin.to_owned(),
            };
            let args = [
                ("colour", wire.colour.as_str().into()),
                ("from", end(&wire.from).into()),
                ("to", end(&wire.to).into()),
            ];
            return self.get("score-label-wire", &args);
        }
        if let Some(part) = vehicle.parts.get(id) {
            return match part.kind {
                Kind::Relay(_) | Kind::Fuse { .. } => {
                    let name = self.name(vehicle, id);
                    let args = [("name", name.into()), ("label", part.label.as_str().into())];
                    self.get("score-label-slot", &args)
                }
                _ => part.label.to_string(),
            };
        }
        if let Some((part, pin)) = split_pin(id)
            && vehicle.parts.contains_key(part)
        {
            let args = [("pin", pin.into()), ("part", self.label(case, part).into())];
            return self.get("score-label-terminal", &args);
        }
        self.name(vehicle, id)
    }

    /// A fault: where and what.
    pub fn fault(&self, case: &Case, fault: &Fault) -> String {
        let args = [
            ("place", self.label(case, &fault.at).into()),
            (
                "failure",
                self.failure(&case.vehicle, &fault.at, fault.what.failure())
                    .into(),
            ),
        ];
        self.get("score-fault", &args)
    }

    /// A candidate: all its faults.
    pub fn candidate(&self, case: &Case, candidate: &Candidate) -> String {
        let faults: Vec<String> = candidate
            .faults
            .iter()
            .map(|fault| self.fault(case, fault))
            .collect();
        faults.join(" + ")
    }

    /// A test a person could make. Names points as actions do, so it may be said before the car is
    /// given back.
    pub fn probe(&self, case: &Case, probe: &Probe) -> String {
        let vehicle = &case.vehicle;
        let at = |id: &str| -> Value<'static> { self.point(vehicle, id).into() };
        let name = |id: &str| -> Value<'static> { self.name(vehicle, id).into() };
        let post = |to_positive: bool| -> Value<'static> {
            self.text(if to_positive {
                "score-post-positive"
            } else {
                "score-post-negative"
            })
            .into()
        };
        match probe {
            Probe::Light { to_positive, point } => self.get(
                "score-probe-light",
                &[("post", post(*to_positive)), ("point", at(point))],
            ),
            Probe::Sweep {
                to_positive,
                socket,
            } => self.get(
                "score-probe-sweep",
                &[("post", post(*to_positive)), ("part", name(socket))],
            ),
            Probe::Volts { point } => self.get("score-probe-volts", &[("point", at(point))]),
            Probe::Ohms { a, b } => self.get("score-probe-ohms", &[("a", at(a)), ("b", at(b))]),
            Probe::Bridge { socket } => self.get("score-probe-bridge", &[("part", name(socket))]),
            Probe::Look { place } => self.get("score-probe-look", &[("place", name(place))]),
            Probe::Feel { place } => self.get("score-probe-feel", &[("place", name(place))]),
            Probe::Inspect { what } => self.get("score-probe-inspect", &[("part", name(what))]),
            Probe::Press { connector } => {
                self.get("score-probe-press", &[("plug", name(connector))])
            }
            Probe::Gauge => self.text("score-probe-gauge"),
            Probe::Swap { part } => self.get("score-probe-swap", &[("part", name(part))]),
        }
    }

    /// A section of the circuit, for the first hint.
    pub fn section(&self, section: &Section) -> String {
        match section {
            Section::Relay => self.text("score-section-relay"),
            Section::Beyond => self.text("score-section-beyond"),
            Section::Terminal(terminal) => {
                let key = match terminal.as_str() {
                    "30" => "score-section-feed",
                    "87" | "87a" => "score-section-load",
                    "86" => "score-section-coil-feed",
                    "85" => "score-section-control",
                    _ => "score-section-other",
                };
                self.get(key, &[("terminal", terminal.as_str().into())])
            }
        }
    }

    /// A family of tests, for the second hint.
    pub fn family(&self, family: Family) -> String {
        self.text(match family {
            Family::Light => "score-family-light",
            Family::Jumper => "score-family-jumper",
            Family::Meter => "score-family-meter",
            Family::Senses => "score-family-senses",
            Family::Inspect => "score-family-inspect",
            Family::Swap => "score-family-swap",
            Family::Gauge => "score-family-gauge",
        })
    }

    /// What a hint says.
    pub fn hint(&self, case: &Case, hint: &Hint) -> String {
        let state = |index: usize| -> Value<'static> {
            let states = &case.scenario.states;
            let label = states.get(index).map_or("", |s| s.label.as_str());
            label.to_owned().into()
        };
        match hint {
            Hint::NothingLeft => self.text("score-hint-nothing-left"),
            Hint::Where { section, share } => self.get(
                "score-hint-where",
                &[
                    ("section", self.section(section).into()),
                    ("percent", self.number(share * 100.0, 0).into()),
                ],
            ),
            Hint::Half { family, state: at } => self.get(
                "score-hint-half",
                &[
                    ("family", self.family(*family).into()),
                    ("state", state(*at)),
                ],
            ),
            Hint::Test { probe, state: at } => self.get(
                "score-hint-test",
                &[
                    ("test", self.probe(case, probe).into()),
                    ("state", state(*at)),
                ],
            ),
        }
    }
}
