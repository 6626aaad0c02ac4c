//! What must hold in a scenario file beyond its types, given its vehicle.

use std::collections::BTreeSet;

use super::{Scenario, Shows, Step};
use crate::fault::{Condition, Fault, LEAK_TO_GROUND, Wrong};
use crate::source::{Check, Path};
use crate::vehicle::{Kind, Vehicle, split_pin};

/// Most car states a scenario may declare for planning.
pub const MAX_STATES: usize = 24;
/// Most candidate faults.
pub const MAX_CANDIDATES: usize = 64;

/// Checks a scenario read from a text against its vehicle.
pub fn check(s: &Scenario, v: &Vehicle, check: &mut Check<'_>) {
    let root = Path::root();
    if s.format != super::file::FORMAT {
        check.refuse(
            &root.clone().field("format"),
            format!("format {} is not known to this version", s.format),
            format!("this version reads format {}", super::file::FORMAT),
        );
    }
    if !(1..=5).contains(&s.difficulty) {
        check.refuse(
            &root.clone().field("difficulty"),
            format!("{} is out of range", s.difficulty),
            "give 1 to 5",
        );
    }
    let (low, high) = s.weather.ambient_c;
    check.number(
        &root.clone().field("weather").field("ambient_c").index(0),
        low,
        -30.0..=high,
        "°C",
    );
    check.number(
        &root.clone().field("weather").field("ambient_c").index(1),
        high,
        low..=50.0,
        "°C",
    );
    check.number(
        &root.clone().field("budget_minutes"),
        s.budget_minutes,
        1.0..=600.0,
        "min",
    );
    if s.complaints.is_empty() {
        check.refuse(
            &root.clone().field("complaints"),
            "a customer says something",
            "write at least one complaint",
        );
    }
    for (key, minutes) in &s.minutes {
        let path = root.clone().field("minutes").key(key);
        let keys = crate::session::minutes::STANDARD.iter().map(|(k, _)| *k);
        check.known(&path, key, keys, "action with a cost");
        check.number(&path, *minutes, 0.0..=600.0, "min");
    }
    candidates(s, v, check);
    steps(
        &s.symptom.steps,
        v,
        &root.clone().field("symptom").field("steps"),
        check,
    );
    match &s.symptom.shows {
        Shows::NoColdAir { colder_by_k } => {
            check.number(
                &root
                    .clone()
                    .field("symptom")
                    .field("shows")
                    .field("colder_by_k"),
                *colder_by_k,
                1.0..=30.0,
                "K",
            );
            if v.air_conditioning.is_none() {
                check.refuse(
                    &root.clone().field("symptom"),
                    "the vehicle has no air conditioning",
                    "choose another symptom or vehicle",
                );
            }
        }
        Shows::Weak { part, .. } | Shows::Unwanted { part } => {
            if let Shows::Weak { below, .. } = &s.symptom.shows {
                check.number(
                    &root.clone().field("symptom").field("shows").field("below"),
                    *below,
                    0.01..=1.0,
                    "",
                );
            }
            check.known(
                &root.clone().field("symptom").field("shows").field("part"),
                part,
                v.parts.keys().map(String::as_str),
                "part",
            );
        }
        Shows::NoStart => {}
    }
    if s.states.is_empty() || s.states.len() > MAX_STATES {
        check.refuse(
            &root.clone().field("states"),
            format!("{} states", s.states.len()),
            format!("give 1 to {MAX_STATES}"),
        );
    }
    for (i, state) in s.states.iter().enumerate() {
        steps(
            &state.steps,
            v,
            &root.clone().field("states").index(i).field("steps"),
            check,
        );
    }
    let slots = || {
        v.parts
            .iter()
            .filter(|(_, p)| p.kind.plugs_in())
            .map(|(id, _)| id.as_str())
    };
    for (i, part) in s.spares.iter().enumerate() {
        check.known(
            &root.clone().field("spares").index(i),
            part,
            slots(),
            "relay or fuse",
        );
    }
    if let Some(socket) = &s.socket {
        let relays = v
            .parts
            .iter()
            .filter(|(_, p)| matches!(p.kind, Kind::Relay(_)))
            .map(|(id, _)| id.as_str());
        check.known(&root.clone().field("socket"), socket, relays, "relay");
    }
    let targets = targets(v);
    for (i, name) in s.suspects.iter().enumerate() {
        let names = targets.iter().map(String::as_str);
        let path = root.clone().field("suspects").index(i);
        check.known(&path, name, names, TARGET);
    }
    let points = point_names(v);
    for (i, name) in s.probes.iter().enumerate() {
        let names = points.iter().map(String::as_str);
        let path = root.clone().field("probes").index(i);
        check.known(&path, name, names, "point that a tool can touch");
    }
}

/// What a name that can be called must be.
const TARGET: &str = "part, terminal, connector, wire or control";

/// Everything that can be called faulty.
fn targets(v: &Vehicle) -> Vec<String> {
    let pins = v.parts.iter().flat_map(|(id, p)| {
        let pins = p.kind.pins().into_iter();
        pins.map(move |pin| format!("{id}.{pin}"))
    });
    v.parts
        .keys()
        .chain(v.connectors.keys())
        .chain(v.wires.keys())
        .chain(v.controls.keys())
        .cloned()
        .chain(pins)
        .chain(["refrigerant".to_owned()])
        .collect()
}

/// Names of the points a tool can touch on some case of a vehicle: what
/// [`crate::session::Session::points`] lists, without a case.
pub fn point_names(v: &Vehicle) -> Vec<String> {
    let boxed: BTreeSet<&String> = v
        .boxes
        .values()
        .flat_map(|b| b.slots.iter().map(|s| &s.part))
        .collect();
    let held: BTreeSet<&String> = v.connectors.values().flat_map(|c| &c.pins).collect();
    let mut names = vec!["paint".to_owned()];
    for (id, part) in &v.parts {
        let pins = part.kind.pins();
        match &part.kind {
            Kind::Splice { .. } => {}
            Kind::Relay(_) if !boxed.contains(id) => {
                names.extend(pins.iter().map(|p| format!("{id}.{p}")));
            }
            Kind::Relay(_) | Kind::Fuse { .. } => {
                // Cavities go by letters in reading order, whatever sits in them.
                for letter in ('a'..).take(pins.len()) {
                    names.push(format!("{id}.{letter}"));
                    names.push(format!("{id}:{letter}"));
                }
            }
            Kind::Battery { .. } => {
                for pin in &pins {
                    names.push(format!("{id}.{pin}"));
                    names.push(format!("{id}:{pin}"));
                }
            }
            kind => {
                if matches!(kind, Kind::GroundStud { .. }) {
                    names.push(format!("{id}:stud"));
                }
                for pin in &pins {
                    let name = format!("{id}.{pin}");
                    if held.contains(&name) && !matches!(kind, Kind::GroundStud { .. }) {
                        names.push(format!("{id}:{pin}"));
                    }
                    names.push(name);
                }
            }
        }
    }
    names
}

fn steps(steps: &[Step], v: &Vehicle, path: &Path, check: &mut Check<'_>) {
    for (i, step) in steps.iter().enumerate() {
        let path = path.clone().index(i);
        match step {
            Step::Set(control, to) => {
                if check.known(
                    &path,
                    control,
                    v.controls.keys().map(String::as_str),
                    "control",
                ) {
                    let positions = v.controls[control].positions.iter().map(String::as_str);
                    check.known(&path, to, positions, "position");
                }
            }
            Step::Wait(seconds) => {
                check.number(&path, *seconds, 0.0..=3600.0, "s");
            }
            Step::Pull(part) => {
                let slots = v
                    .parts
                    .iter()
                    .filter(|(_, p)| p.kind.plugs_in())
                    .map(|(id, _)| id.as_str());
                check.known(&path, part, slots, "relay or fuse");
            }
            Step::Spray(place) => {
                let wettable = v
                    .places
                    .keys()
                    .map(String::as_str)
                    .filter(|p| crate::session::in_the_weather(v, p));
                check.known(&path, place, wettable, "place that rain gets to");
            }
            Step::Unplug(connector) => {
                check.known(
                    &path,
                    connector,
                    v.connectors.keys().map(String::as_str),
                    "connector",
                );
            }
        }
    }
}

/// What needs water to be there shows only in rain, or where the steps wet something.
fn water_comes(s: &Scenario, candidate: &super::Candidate) -> bool {
    let day = candidate.weather.as_ref().unwrap_or(&s.weather);
    let sprayed = |step: &Step| matches!(step, Step::Spray(_));
    day.rain || s.symptom.steps.iter().any(sprayed)
}

fn candidates(s: &Scenario, v: &Vehicle, check: &mut Check<'_>) {
    let path = Path::root().field("candidates");
    if s.candidates.is_empty() || s.candidates.len() > MAX_CANDIDATES {
        check.refuse(
            &path,
            format!("{} candidates", s.candidates.len()),
            format!("give 1 to {MAX_CANDIDATES}"),
        );
    }
    let targets = targets(v);
    let mut ids = BTreeSet::new();
    for (i, c) in s.candidates.iter().enumerate() {
        let path = path.clone().index(i);
        if !ids.insert(&c.id) {
            check.refuse(
                &path.clone().field("id"),
                format!("`{}` names two candidates", c.id),
                "give each its own id",
            );
        }
        check.number(&path.clone().field("prior"), c.prior, 1e-6..=1e6, "");
        if c.faults.is_empty() {
            check.refuse(
                &path.clone().field("faults"),
                "a candidate has at least one fault",
                "list what is wrong",
            );
        }
        for (j, fault) in c.faults.iter().enumerate() {
            let known = {
                let at = path.clone().field("faults").index(j).field("at");
                check.known(&at, &fault.at, targets.iter().map(String::as_str), TARGET)
            };
            if !known {
                // A name that means nothing gets the nearest one; nothing else is worth telling.
                continue;
            }
            place(fault, v, &path.clone().field("faults").index(j), check);
            let wet = fault.only == Some(Condition::Wet) || matches!(fault.what, Wrong::LeakTo(..));
            if wet && !water_comes(s, c) {
                check.refuse(
                    &path.clone().field("faults").index(j),
                    "this fault needs water, and none comes",
                    "write `rain: true` in `weather`, or `Spray(place)` in the symptom's steps",
                );
            }
            if !s.suspects.is_empty() {
                check.known(
                    &path.clone().field("faults").index(j).field("at"),
                    &fault.at,
                    s.suspects.iter().map(String::as_str),
                    "one of the scenario's `suspects`",
                );
            }
        }
        for (j, (at, _)) in c.also.iter().enumerate() {
            let names = targets.iter().map(String::as_str);
            let path = path.clone().field("also").index(j).index(0);
            check.known(&path, at, names, TARGET);
        }
        if let Some(weather) = &c.weather {
            let path = path.clone().field("weather").field("ambient_c");
            let (low, high) = weather.ambient_c;
            check.number(&path.clone().index(0), low, -30.0..=high, "°C");
            check.number(&path.index(1), high, low..=50.0, "°C");
        }
    }
}

/// Terminals on metal or on each other, with nothing inside that could fail by itself.
fn joint(kind: &Kind) -> bool {
    matches!(
        kind,
        Kind::GroundStud { .. } | Kind::Splice { .. } | Kind::BusBar { .. } | Kind::Inline { .. }
    )
}

fn is_unit(kind: &Kind) -> bool {
    matches!(kind, Kind::ControlUnit(_))
}

fn takes_resistance(kind: &Kind) -> bool {
    matches!(
        kind,
        Kind::Switch { .. }
            | Kind::PressureSwitch { .. }
            | Kind::Fuse { .. }
            | Kind::Motor { .. }
            | Kind::Resistor { .. }
            | Kind::Thermistor { .. }
            | Kind::Battery { .. }
    )
}

fn has_diode(kind: &Kind) -> bool {
    match kind {
        Kind::Relay(relay) => relay.suppression == crate::vehicle::Suppression::Diode,
        Kind::ClutchCoil { diode, .. } => *diode,
        _ => false,
    }
}

/// Whether a name is a pin of a part.
fn pin_of(v: &Vehicle, name: &str) -> bool {
    split_pin(name).is_some_and(|(p, pin)| {
        v.parts
            .get(p)
            .is_some_and(|p| p.kind.pins().iter().any(|n| n == pin))
    })
}

/// Whether rain gets to what a fault's place names.
fn gets_wet(v: &Vehicle, at: &str) -> bool {
    crate::session::place_in(v, at).is_some_and(|p| crate::session::in_the_weather(v, p))
}

/// A fault's place must be of a kind on which it acts.
fn place(fault: &Fault, v: &Vehicle, path: &Path, check: &mut Check<'_>) {
    let at = fault.at.as_str();
    let part = v.parts.get(at).map(|p| &p.kind);
    let wire = v.wires.contains_key(at);
    let connector = v.connectors.contains_key(at);
    let pin = pin_of(v, at);
    let (fits, wants) = match &fault.what {
        // A unit that is open inside is `UnitDead`; joints are named by their terminals.
        Wrong::Open => (
            wire || pin || connector || part.is_some_and(|k| !joint(k) && !is_unit(k)),
            "a wire, a terminal, a connector, or a part that current passes through",
        ),
        Wrong::Resistance(_) => (
            wire || pin || part.is_some_and(takes_resistance),
            "a wire, a terminal, or a part with one way for the current (switch, fuse, motor, resistor, thermistor, battery)",
        ),
        Wrong::ShortToGround(_) | Wrong::ShortToSupply(_) => (
            wire || pin || part.is_some_and(|k| !k.pins().is_empty()),
            "a wire, a terminal or a part",
        ),
        Wrong::NotSeated => (connector, "a connector"),
        Wrong::PushedBack | Wrong::Spread(_) => (pin, "a terminal (`part.pin`)"),
        Wrong::Blown => (
            matches!(part, Some(Kind::Fuse { .. } | Kind::Lamp { .. })),
            "a fuse or lamp",
        ),
        Wrong::CoilOpen | Wrong::CoilShorted(_) => (
            matches!(
                part,
                Some(Kind::Relay(_) | Kind::ClutchCoil { .. } | Kind::Motor { .. })
            ),
            "a relay, clutch or motor",
        ),
        Wrong::ContactsOpen | Wrong::ContactsBurnt(_) | Wrong::ContactsWelded => {
            (matches!(part, Some(Kind::Relay(_))), "a relay")
        }
        Wrong::DiodeReversed | Wrong::DiodeOpen => (
            part.is_some_and(has_diode),
            "a relay or clutch that has a suppression diode",
        ),
        Wrong::Gap(_) => (
            matches!(part, Some(Kind::ClutchCoil { .. })),
            "a clutch coil",
        ),
        Wrong::Seized => (matches!(part, Some(Kind::Motor { .. })), "a motor"),
        Wrong::OutputDead(name) | Wrong::OutputStuckOn(name) => (
            matches!(part, Some(Kind::ControlUnit(u)) if u.outputs.contains_key(name)),
            "a control unit that has this output",
        ),
        Wrong::UnitDead => (matches!(part, Some(Kind::ControlUnit(_))), "a control unit"),
        Wrong::ReadingOff(_) => (
            matches!(
                part,
                Some(Kind::PressureSensor { .. } | Kind::Thermistor { .. })
            ),
            "a sensor",
        ),
        Wrong::StuckOpen | Wrong::StuckClosed => (
            matches!(
                part,
                Some(Kind::Switch { .. } | Kind::PressureSwitch { .. })
            ) || v.controls.contains_key(at),
            "a switch",
        ),
        Wrong::Charge(_) | Wrong::CondenserBlocked(_) => (
            at == "refrigerant" && v.air_conditioning.is_some(),
            "`refrigerant` on a vehicle with air conditioning",
        ),
        Wrong::LookAlike => (
            matches!(part, Some(Kind::Relay(r)) if !r.changeover),
            "a relay without a rest contact",
        ),
        Wrong::CrossedWith(other) => (
            pin && other != at && pin_of(v, other),
            "a terminal, and another one as the one it is crossed with",
        ),
        Wrong::LeakTo(to, _) => (
            pin && to != at && (to == LEAK_TO_GROUND || pin_of(v, to)) && gets_wet(v, at),
            "a terminal that rain gets to, and another one or `ground` as what it leaks to",
        ),
        Wrong::AsDesigned => (v.controls.contains_key(at), "a control"),
        Wrong::Misuse(position) => (
            v.controls
                .get(at)
                .is_some_and(|c| c.positions.contains(position)),
            "a control that has this position",
        ),
    };
    if !fits {
        check.refuse(
            &path.clone().field("at"),
            format!("this fault cannot be at `{at}`"),
            format!("name {wants}"),
        );
    }
    let lasts = matches!(
        fault.what,
        Wrong::Charge(_)
            | Wrong::CondenserBlocked(_)
            | Wrong::Gap(_)
            | Wrong::Misuse(_)
            | Wrong::LeakTo(..)
    );
    if fault.only.is_some() && lasts {
        check.refuse(
            &path.clone().field("only"),
            "this fault does not come and go",
            "leave `only` out",
        );
    }
    if fault.only == Some(Condition::Wet) && !gets_wet(v, at) {
        check.refuse(
            &path.clone().field("only"),
            format!("no water gets to `{at}`"),
            "choose a place under the bonnet or in its boxes, or another condition",
        );
    }
    let (value, range, unit) = match &fault.what {
        Wrong::Resistance(r) | Wrong::Spread(r) | Wrong::ContactsBurnt(r) => (*r, 0.001..=1e6, "Ω"),
        Wrong::ShortToGround(r) | Wrong::ShortToSupply(r) => (*r, 0.001..=1e5, "Ω"),
        // Brine between neighbours of a socket has some ohms (see `elements::water`).
        Wrong::LeakTo(_, r) => (*r, 5.0..=1e6, "Ω"),
        Wrong::CoilShorted(f) => (*f, 0.02..=0.98, ""),
        Wrong::Gap(mm) => (*mm, 0.1..=2.0, "mm"),
        Wrong::Charge(f) => (*f, 0.0..=1.5, ""),
        Wrong::CondenserBlocked(f) => (*f, 0.0..=1.0, ""),
        Wrong::ReadingOff(by) => {
            if by.abs() < 0.5 {
                check.refuse(
                    &path.clone().field("what"),
                    format!("a sensor that reads {by} too much is sound"),
                    "give 0.5 to 5000, or as much below nothing",
                );
            }
            (*by, -5000.0..=5000.0, "")
        }
        _ => return,
    };
    check.number(&path.clone().field("what"), value, range, unit);
}
