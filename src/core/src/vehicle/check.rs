//! What must hold in a vehicle file beyond its types: names that lead somewhere, numbers a car can
//! have. Collects everything that is wrong, each with its place in the text.

use std::collections::{BTreeMap, BTreeSet};

use super::{Kind, Role, Vehicle, unit_file};
use crate::elements::fuse::Fuse;
use crate::elements::wire;
use crate::source::{Check, Path};

/// Gives wires that are written by their American gauge the cross-section it stands for.
pub fn gauges(v: &mut Vehicle, check: &mut Check<'_>) {
    for (id, w) in &mut v.wires {
        let Some(gauge) = w.awg else { continue };
        let path = Path::root().field("wires").key(id).field("awg");
        if w.mm2 != 0.0 {
            check.refuse(
                &path,
                "the wire has a gauge and a cross-section",
                "give `awg` or `mm2`, not both",
            );
        }
        match wire::awg_to_mm2(gauge) {
            Ok(mm2) => w.mm2 = mm2,
            Err(no) => {
                // The cross-section has its own range; one refusal is enough.
                w.mm2 = 1.0;
                check.refuse(&path, no, "give -3 (4/0) to 30");
            }
        }
    }
}

/// Checks a vehicle read from a text.
pub fn check(v: &Vehicle, check: &mut Check<'_>) {
    let root = Path::root();
    if v.format != super::FORMAT {
        check.refuse(
            &root.clone().field("format"),
            format!("format {} is not known to this version", v.format),
            format!("this version reads format {}", super::FORMAT),
        );
    }
    check.number(
        &root.clone().field("idle_rpm"),
        v.idle_rpm,
        400.0..=1500.0,
        "1/min",
    );
    let ids = v
        .parts
        .keys()
        .chain(v.wires.keys())
        .chain(v.connectors.keys());
    let mut seen = BTreeSet::new();
    for id in ids {
        let path = if v.connectors.contains_key(id) {
            root.clone().field("connectors").key(id)
        } else if v.wires.contains_key(id) {
            root.clone().field("wires").key(id)
        } else {
            root.clone().field("parts").key(id)
        };
        if !seen.insert(id) {
            check.refuse(
                &path,
                format!("`{id}` names two things"),
                "parts, wires and connectors share one list of names",
            );
        }
        if id.is_empty()
            || !id
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-')
        {
            check.refuse(
                &path,
                format!("`{id}` is no id"),
                "use letters, digits, `_` and `-`",
            );
        }
    }
    let mut pins = BTreeSet::new();
    for (id, part) in &v.parts {
        let path = root.clone().field("parts").key(id);
        check.known(
            &path.clone().field("place"),
            &part.place,
            v.places.keys().map(String::as_str),
            "place",
        );
        check.number(
            &path.clone().field("replace_minutes"),
            part.replace_minutes,
            0.0..=600.0,
            "min",
        );
        check.number(
            &path.clone().field("price"),
            part.price,
            0.0..=100_000.0,
            "",
        );
        kind(v, &part.kind, &path.field("kind"), check);
        pins.extend(part.kind.pins().into_iter().map(|p| format!("{id}.{p}")));
    }
    if v.parts
        .values()
        .filter(|p| matches!(p.kind, Kind::Battery { .. }))
        .count()
        != 1
    {
        check.refuse(
            &root.clone().field("parts"),
            "a vehicle has exactly one battery",
            "add or remove a `Battery` part",
        );
    }
    for (id, w) in &v.wires {
        let path = root.clone().field("wires").key(id);
        for (field, pin) in [("from", &w.from), ("to", &w.to)] {
            check.known(
                &path.clone().field(field),
                pin,
                pins.iter().map(String::as_str),
                "pin",
            );
        }
        check.number(&path.clone().field("mm2"), w.mm2, 0.13..=120.0, "mm²");
        check.number(
            &path.clone().field("length_m"),
            w.length_m,
            0.02..=15.0,
            "m",
        );
        colour(&w.colour, &path.field("colour"), check);
    }
    let mut held: BTreeMap<&str, &str> = BTreeMap::new();
    for (id, c) in &v.connectors {
        let path = root.clone().field("connectors").key(id);
        check.known(
            &path.clone().field("place"),
            &c.place,
            v.places.keys().map(String::as_str),
            "place",
        );
        for (i, pin) in c.pins.iter().enumerate() {
            let path = path.clone().field("pins").index(i);
            check.known(&path, pin, pins.iter().map(String::as_str), "pin");
            if let Some(other) = held.insert(pin, id) {
                check.refuse(
                    &path,
                    format!("`{pin}` is in connector `{other}` already"),
                    "a terminal sits in one connector",
                );
            }
        }
    }
    boxes(v, check);
    controls(v, check);
    shapes(v, check);
    if let Some(ac) = &v.air_conditioning {
        let path = root.field("air_conditioning");
        check.number(
            &path.clone().field("charge_kg"),
            ac.charge_kg,
            0.1..=3.0,
            "kg",
        );
        check.number(
            &path.clone().field("volume_litres"),
            ac.volume_litres,
            0.8..=20.0,
            "l",
        );
        let named = |want: fn(&Kind) -> bool| {
            v.parts
                .iter()
                .filter(move |(_, p)| want(&p.kind))
                .map(|(id, _)| id.as_str())
        };
        check.known(
            &path.clone().field("clutch"),
            &ac.clutch,
            named(|k| matches!(k, Kind::ClutchCoil { .. })),
            "clutch coil",
        );
        check.known(
            &path.clone().field("blower"),
            &ac.blower,
            named(|k| matches!(k, Kind::Motor { .. })),
            "motor",
        );
        for (i, fan) in ac.fans.iter().enumerate() {
            check.known(
                &path.clone().field("fans").index(i),
                fan,
                named(|k| matches!(k, Kind::Motor { .. })),
                "motor",
            );
        }
    }
}

fn kind(v: &Vehicle, kind: &Kind, path: &Path, check: &mut Check<'_>) {
    let at = |field: &str| path.clone().field(field);
    match kind {
        Kind::Battery {
            capacity_ah,
            internal_ohms,
            charge,
        } => {
            check.number(&at("capacity_ah"), *capacity_ah, 10.0..=250.0, "Ah");
            check.number(&at("internal_ohms"), *internal_ohms, 0.001..=0.5, "Ω");
            check.number(&at("charge"), *charge, 0.0..=1.0, "");
        }
        Kind::Alternator {
            setpoint_v,
            idle_limit_a,
        } => {
            check.number(&at("setpoint_v"), *setpoint_v, 13.0..=15.5, "V");
            check.number(&at("idle_limit_a"), *idle_limit_a, 5.0..=300.0, "A");
        }
        Kind::Switch { control, ways } => {
            check.known(
                &at("control"),
                control,
                v.controls.keys().map(String::as_str),
                "control",
            );
            for (i, way) in ways.iter().enumerate() {
                let path = at("ways").index(i);
                if way.from == way.to {
                    check.refuse(
                        &path,
                        "a way connects two different pins",
                        "give `to` another name",
                    );
                }
                if let Some(data) = v.controls.get(control) {
                    for (j, position) in way.closed_in.iter().enumerate() {
                        check.known(
                            &path.clone().field("closed_in").index(j),
                            position,
                            data.positions.iter().map(String::as_str),
                            "position of the control",
                        );
                    }
                }
            }
        }
        Kind::PressureSwitch {
            closes_above_kpa,
            opens_below_kpa,
            opens_above_kpa,
        } => {
            check.number(
                &at("closes_above_kpa"),
                *closes_above_kpa,
                0.0..=5000.0,
                "kPa",
            );
            check.number(
                &at("opens_below_kpa"),
                *opens_below_kpa,
                0.0..=*closes_above_kpa,
                "kPa",
            );
            check.number(
                &at("opens_above_kpa"),
                *opens_above_kpa,
                *closes_above_kpa..=5000.0,
                "kPa",
            );
        }
        Kind::Fuse { amps, body } => {
            if let Err(no) = Fuse::new(body.blade(), *amps) {
                check.refuse(&at("amps"), no, "choose a rating that is made in this body");
            }
        }
        Kind::Relay(relay) => {
            // From a starter's magnetic switch to the smallest board relay.
            check.number(&at("coil_ohms"), relay.coil_ohms, 0.3..=1000.0, "Ω");
            check.number(&at("pull_in_v"), relay.pull_in_v, 2.0..=20.0, "V");
            check.number(
                &at("drop_out_v"),
                relay.drop_out_v,
                0.3..=relay.pull_in_v,
                "V",
            );
            if let super::Suppression::Resistor(ohms) = relay.suppression {
                check.number(&at("suppression"), ohms, 50.0..=10_000.0, "Ω");
            }
            if relay.arrangements.is_empty() {
                check.refuse(
                    &at("arrangements"),
                    "a relay needs at least one arrangement of its cavities",
                    "list its terminals in reading order",
                );
            }
            for (i, order) in relay.arrangements.iter().enumerate() {
                let mut sorted: Vec<&str> = order.iter().map(String::as_str).collect();
                sorted.sort_unstable();
                if sorted != relay.terminals() {
                    check.refuse(
                        &at("arrangements").index(i),
                        "the arrangement does not name each terminal once",
                        format!("name {} once each", relay.terminals().join(", ")),
                    );
                }
            }
        }
        Kind::ClutchCoil { ohms, gap_mm, .. } => {
            check.number(&at("ohms"), *ohms, 2.0..=10.0, "Ω");
            check.number(&at("gap_mm"), *gap_mm, 0.1..=2.0, "mm");
        }
        Kind::Motor {
            rated_v,
            rated_a,
            stall_a,
            rated_rpm,
            ..
        } => {
            check.number(&at("rated_v"), *rated_v, 6.0..=48.0, "V");
            check.number(&at("rated_a"), *rated_a, 0.1..=300.0, "A");
            check.number(&at("stall_a"), *stall_a, 1.5 * rated_a..=2000.0, "A");
            check.number(&at("rated_rpm"), *rated_rpm, 30.0..=20_000.0, "1/min");
        }
        Kind::Lamp { rated_v, rated_w } => {
            check.number(&at("rated_v"), *rated_v, 3.0..=48.0, "V");
            check.number(&at("rated_w"), *rated_w, 0.1..=200.0, "W");
        }
        Kind::Resistor { ohms, .. } => {
            check.number(&at("ohms"), *ohms, 0.05..=1e6, "Ω");
        }
        Kind::PressureSensor {
            low_kpa, high_kpa, ..
        } => {
            check.number(&at("low_kpa"), *low_kpa, -100.0..=1000.0, "kPa");
            check.number(&at("high_kpa"), *high_kpa, low_kpa + 100.0..=6000.0, "kPa");
        }
        Kind::Thermistor {
            ohms_25c, beta_k, ..
        } => {
            check.number(&at("ohms_25c"), *ohms_25c, 50.0..=200_000.0, "Ω");
            check.number(&at("beta_k"), *beta_k, 1500.0..=6000.0, "K");
        }
        Kind::ControlUnit(unit) => control_unit(unit, path, check),
        Kind::GroundStud { lugs: n, .. }
        | Kind::Splice { ways: n }
        | Kind::BusBar { ways: n }
        | Kind::Inline { cavities: n } => {
            if !(1..=60).contains(n) {
                check.refuse(path, format!("{n} is out of range"), "give 1 to 60");
            }
        }
    }
}

fn control_unit(unit: &unit_file::ControlUnit, path: &Path, check: &mut Check<'_>) {
    use unit_file::{Bias, Rule};
    let at = |field: &str| path.clone().field(field);
    check.number(&at("idle_ohms"), unit.idle_ohms, 5.0..=100_000.0, "Ω");
    check.number(&at("works_above_v"), unit.works_above_v, 4.0..=11.0, "V");
    if let Some(r) = &unit.reference {
        let path = at("reference");
        check.number(&path.clone().field("volts"), r.volts, 3.0..=6.0, "V");
        check.number(&path.clone().field("ohms"), r.ohms, 0.01..=1000.0, "Ω");
        check.number(&path.field("limit_a"), r.limit_a, 0.001..=2.0, "A");
    }
    for (name, input) in &unit.inputs {
        let (Bias::PullDown(ohms) | Bias::PullUp5(ohms) | Bias::PullUpSupply(ohms)) = input.bias;
        check.number(
            &at("inputs").key(name).field("bias"),
            ohms,
            100.0..=1e7,
            "Ω",
        );
    }
    if unit.outputs.len() > 64 {
        check.refuse(
            &at("outputs"),
            format!("{} outputs are too many", unit.outputs.len()),
            "give 64 at most",
        );
    }
    for (name, output) in &unit.outputs {
        let path = at("outputs").key(name);
        check.number(
            &path.clone().field("on_ohms"),
            output.on_ohms,
            0.01..=20.0,
            "Ω",
        );
        check.number(&path.field("limit_a"), output.limit_a, 0.05..=50.0, "A");
    }
    let inputs = || unit.inputs.keys().map(String::as_str);
    let outputs = || unit.outputs.keys().map(String::as_str);
    for (i, rule) in unit.rules.iter().enumerate() {
        let path = at("rules").index(i);
        let (output, names): (&str, Vec<&str>) = match rule {
            Rule::Clutch(c) => {
                clutch_numbers(c, &path, check);
                let mut names: Vec<&str> = c.when.iter().map(|a| a.input.as_str()).collect();
                names.extend(c.pressure.iter().map(|p| p.input.as_str()));
                for t in [&c.evaporator, &c.coolant, &c.ambient]
                    .into_iter()
                    .flatten()
                {
                    names.push(&t.input);
                }
                (&c.output, names)
            }
            Rule::Follow {
                output,
                when,
                on_delay_s,
                off_delay_s,
                at_most_s,
                ..
            } => {
                let at = |field: &str| path.clone().field(field);
                check.number(&at("on_delay_s"), *on_delay_s, 0.0..=600.0, "s");
                check.number(&at("off_delay_s"), *off_delay_s, 0.0..=600.0, "s");
                if let Some(most) = at_most_s {
                    check.number(&at("at_most_s"), *most, 0.1..=3600.0, "s");
                }
                asserted(when, &at("when"), check);
                (output, when.iter().map(|a| a.input.as_str()).collect())
            }
            Rule::Fan {
                output,
                pressure,
                with_output,
                on_kpa,
                off_kpa,
                on_coolant_c,
            } => {
                let at = |field: &str| path.clone().field(field);
                // High figures are how a file says "never".
                check.number(&at("on_kpa"), *on_kpa, 0.0..=10_000.0, "kPa");
                check.number(&at("off_kpa"), *off_kpa, 0.0..=*on_kpa, "kPa");
                check.number(&at("on_coolant_c"), *on_coolant_c, -40.0..=300.0, "°C");
                if let Some(signal) = pressure {
                    analogue(signal, &at("pressure"), check);
                }
                if let Some(with) = with_output {
                    check.known(
                        &path.clone().field("with_output"),
                        with,
                        outputs(),
                        "output",
                    );
                }
                (output, pressure.iter().map(|p| p.input.as_str()).collect())
            }
            Rule::FuelPump { output, prime_s } => {
                check.number(&path.clone().field("prime_s"), *prime_s, 0.0..=30.0, "s");
                (output, Vec::new())
            }
            Rule::Glow {
                output,
                seconds_at_0c,
            } => {
                let path = path.clone().field("seconds_at_0c");
                check.number(&path, *seconds_at_0c, 0.0..=60.0, "s");
                (output, Vec::new())
            }
        };
        check.known(&path.clone().field("output"), output, outputs(), "output");
        for name in names {
            check.known(&path, name, inputs(), "input");
        }
    }
}

fn clutch_numbers(c: &unit_file::ClutchRule, path: &Path, check: &mut Check<'_>) {
    let at = |field: &str| path.clone().field(field);
    check.number(&at("delay_s"), c.delay_s, 0.0..=60.0, "s");
    check.number(&at("restart_delay_s"), c.restart_delay_s, 0.0..=120.0, "s");
    check.number(&at("low_cut_kpa"), c.low_cut_kpa, 0.0..=1000.0, "kPa");
    check.number(
        &at("high_cut_kpa"),
        c.high_cut_kpa,
        c.low_cut_kpa + 100.0..=6000.0,
        "kPa",
    );
    check.number(&at("low_supply_v"), c.low_supply_v, 4.0..=13.0, "V");
    asserted(&c.when, &at("when"), check);
    if let Some(signal) = &c.pressure {
        analogue(signal, &at("pressure"), check);
    }
    for (field, sensor) in [
        ("evaporator", &c.evaporator),
        ("coolant", &c.coolant),
        ("ambient", &c.ambient),
    ] {
        if let Some(t) = sensor {
            let at = |inner: &str| at(field).field(inner);
            check.number(&at("ohms_25c"), t.ohms_25c, 50.0..=200_000.0, "Ω");
            check.number(&at("beta_k"), t.beta_k, 1500.0..=6000.0, "K");
            check.number(&at("limit_c"), t.limit_c, -40.0..=150.0, "°C");
        }
    }
}

fn asserted(when: &[unit_file::Asserted], path: &Path, check: &mut Check<'_>) {
    for (i, a) in when.iter().enumerate() {
        let path = path.clone().index(i).field("volts");
        check.number(&path, a.volts, 0.05..=20.0, "V");
    }
}

fn analogue(a: &unit_file::Analogue, path: &Path, check: &mut Check<'_>) {
    let at = |field: &str| path.clone().field(field);
    check.number(&at("low_v"), a.low_v, 0.0..=15.0, "V");
    check.number(&at("high_v"), a.high_v, a.low_v + 0.1..=16.0, "V");
    check.number(&at("low_kpa"), a.low_kpa, -100.0..=1000.0, "kPa");
    check.number(
        &at("high_kpa"),
        a.high_kpa,
        a.low_kpa + 100.0..=6000.0,
        "kPa",
    );
    check.number(
        &at("plausible_from_v"),
        a.plausible_from_v,
        0.0..=a.low_v,
        "V",
    );
    check.number(
        &at("plausible_to_v"),
        a.plausible_to_v,
        a.high_v..=16.0,
        "V",
    );
}

/// Shapes stand in a bay, not in the next street, and have sizes one can draw.
fn shapes(v: &Vehicle, check: &mut Check<'_>) {
    for (i, shape) in v.bay.iter().enumerate() {
        let path = Path::root().field("bay").index(i);
        let (x, y, z) = shape.at;
        for (axis, metres) in [x, y, z].into_iter().enumerate() {
            let path = path.clone().field("at").index(axis);
            check.number(&path, f64::from(metres), -20.0..=20.0, "m");
        }
        let path_turn = path.clone().field("turn_deg");
        check.number(&path_turn, f64::from(shape.turn_deg), -360.0..=360.0, "°");
        for (j, size) in shape.size.iter().enumerate() {
            let path = path.clone().field("size").index(j);
            check.number(&path, f64::from(*size), -20.0..=20.0, "m");
        }
    }
}

fn boxes(v: &Vehicle, check: &mut Check<'_>) {
    let mut slots: BTreeMap<&str, &str> = BTreeMap::new();
    for (id, b) in &v.boxes {
        let path = Path::root().field("boxes").key(id);
        check.known(
            &path.clone().field("place"),
            &b.place,
            v.places.keys().map(String::as_str),
            "place",
        );
        if !(1..=40).contains(&b.grid.0) || !(1..=40).contains(&b.grid.1) {
            check.refuse(
                &path.clone().field("grid"),
                format!("a grid of {} by {} is out of range", b.grid.0, b.grid.1),
                "give 1 to 40 columns and rows",
            );
        }
        let mut taken: BTreeMap<(u32, u32), &str> = BTreeMap::new();
        for (i, slot) in b.slots.iter().enumerate() {
            let path = path.clone().field("slots").index(i);
            let fits = v
                .parts
                .iter()
                .filter(|(_, p)| p.kind.plugs_in())
                .map(|(id, _)| id.as_str());
            check.known(
                &path.clone().field("part"),
                &slot.part,
                fits,
                "relay or fuse",
            );
            if let Some(other) = slots.insert(&slot.part, id) {
                check.refuse(
                    &path,
                    format!("`{}` sits in box `{other}` already", slot.part),
                    "give each relay and fuse one slot",
                );
            }
            if slot.at.0 >= b.grid.0 || slot.at.1 >= b.grid.1 {
                check.refuse(
                    &path.clone().field("at"),
                    "the slot lies outside the box's grid",
                    format!(
                        "columns 0 to {}, rows 0 to {}",
                        b.grid.0.saturating_sub(1),
                        b.grid.1.saturating_sub(1)
                    ),
                );
            }
            if let Some(other) = taken.insert(slot.at, &slot.part) {
                check.refuse(
                    &path.field("at"),
                    format!("`{other}` sits there already"),
                    "move one of them",
                );
            }
        }
    }
    for (id, part) in &v.parts {
        // A relay may be bolted on elsewhere, as the one on a starter is; a fuse needs its slot.
        if matches!(part.kind, Kind::Fuse { .. }) && !slots.contains_key(id.as_str()) {
            check.refuse(
                &Path::root().field("parts").key(id),
                format!("`{id}` sits in no fuse box"),
                "add a slot for it under `boxes`",
            );
        }
    }
}

fn controls(v: &Vehicle, check: &mut Check<'_>) {
    for (id, control) in &v.controls {
        let path = Path::root().field("controls").key(id).field("positions");
        if control.positions.is_empty() {
            check.refuse(
                &path,
                "a control needs positions",
                "list them, the resting one first",
            );
        }
        let wanted: &[&str] = match control.role {
            Role::Key => &["off", "acc", "on", "start"],
            Role::ParkBrake | Role::AirConditioning | Role::ExhaustHose => &["off", "on"],
            Role::Pedal => &["up", "down"],
            Role::Gear | Role::Blower | Role::Plain => &[],
        };
        for position in wanted {
            if !control.positions.iter().any(|p| p == position) {
                check.refuse(
                    &path,
                    format!("the position `{position}` is missing"),
                    format!(
                        "a control with this role has the positions {}",
                        wanted.join(", ")
                    ),
                );
            }
        }
    }
    if v.controls.values().filter(|c| c.role == Role::Key).count() != 1 {
        check.refuse(
            &Path::root().field("controls"),
            "a vehicle has exactly one control with the role `Key`",
            "add or remove one",
        );
    }
}

/// Colour letters of IEC 60757.
const COLOURS: [&str; 14] = [
    "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR",
];

fn colour(colour: &str, path: &Path, check: &mut Check<'_>) {
    for letters in colour.split('-') {
        check.known(path, letters, COLOURS.into_iter(), "IEC 60757 colour");
    }
}
