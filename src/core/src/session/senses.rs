//! Looking, listening and feeling: what the senses find in the car as it is.
//!
//! Evidence follows from the faults that act, never from a list of answers. Knows nothing of what
//! has been looked at before.

use super::car::Car;
use super::observation::{Dash, Finding, Observation, Sound, Touch};
use crate::elements::lamp::DULL_BELOW;
use crate::fault::{Condition, Wrong};
use crate::vehicle::hardware::FaultState;
use crate::vehicle::{Acts, Drives, Kind, Vehicle, split_pin};

/// Airflow, as a fraction of rated blower speed, from which a hand feels something and plenty.
const SOME_AIR: f64 = 0.15;
const PLENTY_OF_AIR: f64 = 0.3;

/// What the dash shows.
pub(crate) fn dash(car: &Car) -> Dash {
    let key = car
        .case
        .vehicle
        .controls
        .iter()
        .find(|(_, c)| c.role == crate::vehicle::Role::Key);
    let awake = key.is_some_and(|(id, _)| {
        matches!(
            car.hw.controls.get(id).map(String::as_str),
            Some("on" | "start")
        )
    });
    Dash {
        rpm: (libm::round(car.engine.rpm / 10.0) * 10.0) as u32,
        charge_lamp: awake && !car.engine.running(),
        awake,
    }
}

/// Lasting sounds and their places.
pub(crate) fn sounds(car: &Car) -> std::collections::BTreeSet<(Sound, String)> {
    let mut sounds = std::collections::BTreeSet::new();
    for load in car.loads.iter() {
        let working = car.working(load);
        let sound = match (load.drives, load.acts) {
            (Some(Drives::Blower), _) if working > SOME_AIR => Sound::Blower,
            (Some(Drives::CoolingFan), _) if working > 0.2 => Sound::Fan,
            (Some(Drives::FuelPump), _) if working > 0.3 => Sound::Pump,
            (Some(Drives::Starter), _) if car.engine.cranking() && working > 0.75 => {
                Sound::Cranking
            }
            (Some(Drives::Starter), _) if car.engine.cranking() => Sound::SlowCranking,
            (_, Acts::Horn) if working > 0.5 => Sound::Horn,
            _ => continue,
        };
        sounds.insert((sound, load.place.clone()));
    }
    if car.engine.running() {
        let place = car
            .case
            .vehicle
            .parts
            .values()
            .find(|p| matches!(p.kind, Kind::Alternator { .. }))
            .map_or(String::new(), |p| p.place.clone());
        sounds.insert((Sound::Engine, place));
    }
    sounds
}

/// The place a fault can be seen at.
pub(crate) fn place_of<'a>(car: &'a Car, at: &'a str) -> Option<&'a str> {
    place_in(&car.case.vehicle, at)
}

/// The place a part, connector, wire's end or terminal is at.
pub(crate) fn place_in<'a>(vehicle: &'a Vehicle, at: &'a str) -> Option<&'a str> {
    if let Some(connector) = vehicle.connectors.get(at) {
        return Some(&connector.place);
    }
    if let Some(part) = vehicle.parts.get(at) {
        return Some(&part.place);
    }
    let pin = crate::vehicle::wiring::fault_pin(vehicle, at)?;
    if let Some(connector) = vehicle
        .connectors
        .values()
        .find(|c| c.pins.iter().any(|p| p == pin))
    {
        return Some(&connector.place);
    }
    let (part, _) = split_pin(pin)?;
    vehicle.parts.get(part).map(|p| p.place.as_str())
}

/// A fault of the wet that has dried: nothing of it is left to be seen, unless the insulation is through.
fn dried(state: &FaultState) -> bool {
    let wet_only = state.fault.only == Some(Condition::Wet)
        && matches!(state.fault.what, Wrong::Resistance(_));
    state.away && (wet_only || matches!(state.fault.what, Wrong::LeakTo(..)))
}

/// What an eye finds at a lit place without taking anything apart.
pub(crate) fn look(car: &Car, place: &str) -> Vec<Observation> {
    let vehicle = &car.case.vehicle;
    let mut found = Vec::new();
    let mut lamps = Vec::new();
    for state in car.hw.faults.iter().filter(|f| !f.mended && !dried(f)) {
        let at = state.fault.at.as_str();
        let finding = match &state.fault.what {
            // A connector that is off is handled by unplugging it; on but not home it shows a gap.
            Wrong::NotSeated if !car.hw.unplugged.contains(at) => Finding::NotSeated,
            Wrong::ShortToGround(_) | Wrong::ShortToSupply(_) if vehicle.wires.contains_key(at) => {
                Finding::Chafed
            }
            Wrong::Resistance(_)
                if split_pin(at).is_some_and(|(p, _)| {
                    vehicle.parts.get(p).is_some_and(|p| {
                        matches!(
                            p.kind,
                            Kind::GroundStud { .. } | Kind::BusBar { .. } | Kind::Battery { .. }
                        )
                    })
                }) =>
            {
                Finding::Corrosion
            }
            Wrong::Charge(left) if *left < 0.7 => {
                let seen_at = car
                    .climate
                    .as_ref()
                    .and_then(|c| vehicle.parts.get(&c.clutch));
                if seen_at.is_some_and(|p| p.place == place) {
                    found.push(Finding::OilTrace);
                }
                continue;
            }
            Wrong::CondenserBlocked(_) => {
                let fan = car.climate.as_ref().and_then(|c| c.fans.first());
                if fan
                    .and_then(|f| vehicle.parts.get(f))
                    .is_some_and(|p| p.place == place)
                {
                    found.push(Finding::FinsBlocked);
                }
                continue;
            }
            Wrong::Gap(mm) if *mm > 0.8 => Finding::WideGap,
            _ => continue,
        };
        if place_of(car, at) == Some(place) {
            found.push(finding);
        }
    }
    if let Some(climate) = &car.climate
        && vehicle
            .parts
            .get(&climate.clutch)
            .is_some_and(|p| p.place == place)
    {
        found.push(match (car.engine.running(), climate.engaged) {
            (false, _) => Finding::PulleyStill,
            (true, false) => Finding::PlateStill,
            (true, true) => Finding::PlateTurns,
        });
    }
    for load in car.loads.iter().filter(|l| l.place == place) {
        match (load.drives, &vehicle.parts[&load.part].kind) {
            (Some(Drives::CoolingFan), _) => {
                found.push(if car.working(load) > 0.2 {
                    Finding::FanTurns
                } else {
                    Finding::FanStill
                });
            }
            (_, Kind::Lamp { .. }) => {
                let finding = if car.working(load) <= 0.4 {
                    Finding::Unlit
                } else if car.lamp_light(load) < DULL_BELOW {
                    Finding::Dull
                } else {
                    Finding::Lit
                };
                lamps.push((finding, load.part.clone()));
            }
            _ => {}
        }
    }
    if car.wet_places().any(|p| p == place) {
        found.push(Finding::Wet);
    }
    if vehicle.places.get(place).is_some_and(|p| p.wear) {
        found.push(Finding::Dust);
    }
    // A lamp alone at its place needs no name: the place says which is meant.
    let several = lamps.len() > 1;
    let mut found: Vec<_> = found.into_iter().map(|f| (f, None)).collect();
    found.extend(
        lamps
            .into_iter()
            .map(|(f, lamp)| (f, several.then_some(lamp))),
    );
    found.sort_unstable();
    found.dedup();
    let mut seen: Vec<Observation> = found
        .into_iter()
        .map(|(finding, lamp)| Observation::Seen {
            place: place.to_owned(),
            finding,
            lamp,
        })
        .collect();
    if vehicle
        .places
        .get(place)
        .is_some_and(|p| p.station == crate::vehicle::Station::Seat)
    {
        seen.push(Observation::Dash(dash(car)));
    }
    if seen.is_empty() {
        seen.push(Observation::NothingSeen {
            place: place.to_owned(),
        });
    }
    seen
}

/// What an eye finds on something held in the hand: a fuse or relay laid aside, the two faces of a
/// plug that is off, the empty socket of a relay.
pub(crate) fn inspect(car: &Car, what: &str) -> Vec<Observation> {
    let vehicle = &car.case.vehicle;
    let mut found = Vec::new();
    if let Some(part) = vehicle.parts.get(what) {
        if let Kind::Fuse { .. } = part.kind {
            let gone = car.hw.slots.get(what).is_some_and(|s| s.blown())
                || car
                    .hw
                    .acting_in_part(what)
                    .any(|w| matches!(w, Wrong::Blown | Wrong::Open));
            found.push(if gone {
                Finding::ElementGone
            } else {
                Finding::ElementWhole
            });
        }
        if car
            .hw
            .acting_in_part(what)
            .any(|w| matches!(w, Wrong::ContactsBurnt(_)))
        {
            found.push(Finding::HeatMarks);
        }
    }
    let in_reach = |pin: &str| match vehicle.connectors.get(what) {
        Some(connector) => connector.pins.iter().any(|p| p == pin),
        None => split_pin(pin).is_some_and(|(part, _)| part == what),
    };
    for state in car.hw.faults.iter().filter(|f| !f.mended && !dried(f)) {
        let Some(pin) = crate::vehicle::wiring::fault_pin(vehicle, &state.fault.at) else {
            continue;
        };
        if vehicle.wires.contains_key(&state.fault.at) || !in_reach(pin) {
            continue;
        }
        match &state.fault.what {
            Wrong::PushedBack => found.push(Finding::TerminalBack),
            Wrong::Spread(_) => found.push(Finding::TerminalSpread),
            // Water creeps into the crimp, where no eye gets to; what is seen is that it is wet.
            Wrong::LeakTo(..) => found.push(Finding::Wet),
            Wrong::Resistance(_) if state.fault.only == Some(Condition::Wet) => {
                found.push(Finding::Wet);
            }
            Wrong::Resistance(_) => found.push(Finding::Corrosion),
            _ => {}
        }
    }
    if found.is_empty() {
        return vec![Observation::NothingSeen {
            place: what.to_owned(),
        }];
    }
    found.sort_unstable();
    found.dedup();
    found
        .into_iter()
        .map(|finding| Observation::Seen {
            place: what.to_owned(),
            finding,
            lamp: None,
        })
        .collect()
}

/// What an ear finds at a place.
pub(crate) fn listen(car: &Car, place: &str) -> Vec<Observation> {
    let heard: Vec<Observation> = sounds(car)
        .into_iter()
        .filter(|(_, at)| at == place)
        .map(|(sound, at)| Observation::Heard { sound, place: at })
        .collect();
    if heard.is_empty() {
        vec![Observation::Heard {
            sound: Sound::Silence,
            place: place.to_owned(),
        }]
    } else {
        heard
    }
}

/// What a hand finds at a place.
pub(crate) fn feel(car: &Car, place: &str) -> Vec<Observation> {
    let vehicle = &car.case.vehicle;
    let felt = |touch| Observation::Felt {
        place: place.to_owned(),
        touch,
    };
    let blower = car.climate.as_ref().and_then(|c| {
        car.loads
            .iter()
            .find(|l| l.part == c.blower && l.place == place)
    });
    if let (Some(load), Some(climate)) = (blower, &car.climate) {
        let air = car.working(load);
        let colder = car.case.ambient_c - climate.duct_c();
        return vec![felt(if air < SOME_AIR {
            Touch::NoAir
        } else if air < PLENTY_OF_AIR {
            Touch::WeakAir
        } else if colder < 4.0 {
            Touch::WarmAir
        } else if colder < 10.0 {
            Touch::CoolAir
        } else {
            Touch::ColdAir
        })];
    }
    if car
        .loads
        .iter()
        .any(|l| l.place == place && l.drives.is_some() && car.working(l) > 0.2)
    {
        return vec![felt(Touch::Vibrates)];
    }
    let data = vehicle.places.get(place);
    if data.is_some_and(|p| p.hot) {
        let hot = car.engine.coolant_c;
        return vec![felt(if hot > 70.0 {
            Touch::Hot
        } else if hot > 45.0 {
            Touch::Warm
        } else {
            Touch::Still
        })];
    }
    vec![felt(Touch::Still)]
}
