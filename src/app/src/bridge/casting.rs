//! Who plays whom: the car's parts, by what they are, in the shapes of the kit.
//!
//! Where things stand comes from the stage's arrangements; which of the car's ids each stands for
//! comes from the vehicle file. What has no shape of its own gets plugs and terminals at its place,
//! so that every point of a car can be seen and pointed at.

use tracebay_core::scenario::Case;
use tracebay_core::session::PointInfo;
use tracebay_core::vehicle::{Arrangement, FuseBox, Kind, Metal, Side, Station, Vehicle};

use super::{board, fill, fuse_box};
use crate::kit::{PartShape, Rgb};
use crate::stage::{BayLayout, Placed, PlacedBox, Stand, bays};

/// What the stage calls tools begins with this.
pub const TOOL: &str = "tool.";
/// A box of so few slots is a carrier on the battery.
const CARRIER: usize = 6;

/// The bay for a case, with all its points.
pub fn cast(case: &Case, points: &[PointInfo]) -> BayLayout {
    let vehicle = &case.vehicle;
    if vehicle.on_bench() {
        return board::lay_out(case);
    }
    let mut layout = match vehicle.arrangement {
        Arrangement::LongitudinalPetrol => bays::longitudinal_petrol(),
        Arrangement::TransversePetrol => bays::transverse_petrol(),
        Arrangement::LongitudinalDiesel => bays::longitudinal_diesel(),
    };
    (layout.paint, layout.inner_paint) = paint(&vehicle.id);
    for placed in &mut layout.parts {
        if let PartShape::Engine(look) = &mut placed.shape {
            look.name = vehicle.name.to_uppercase();
        }
        recast(vehicle, placed);
    }
    for (id, data) in &vehicle.boxes {
        let stand = stand(vehicle, data, &layout);
        layout.boxes.push(PlacedBox {
            id: id.clone(),
            grid: fuse_box::grid(case, data, &stand, true),
            stand,
        });
    }
    fill::fill(vehicle, points, &mut layout);
    layout
}

/// Where a box stands: below the dash if one reaches it from the seat, else in the bay.
pub fn stand(vehicle: &Vehicle, data: &FuseBox, layout: &BayLayout) -> Stand {
    let station = vehicle.places.get(&data.place).map(|p| p.station);
    match station {
        Some(Station::Seat) => match data.side {
            Side::Driver => layout.stands.driver,
            Side::Passenger => layout.stands.passenger,
        },
        _ if data.slots.len() <= CARRIER => layout.stands.battery,
        _ => layout.stands.bay,
    }
}

/// A car's colour outside and inside the bay: always the same one, and told by nothing but its id, so
/// that one sees which car one is at.
fn paint(id: &str) -> (Rgb, Rgb) {
    const PAINTS: [(Rgb, Rgb); 6] = [
        ([118, 30, 34], [104, 34, 36]),
        ([26, 78, 96], [30, 74, 90]),
        ([170, 172, 168], [150, 152, 150]),
        ([38, 66, 40], [42, 66, 44]),
        ([196, 160, 70], [172, 142, 68]),
        ([44, 52, 92], [48, 56, 90]),
    ];
    let sum: usize = id
        .bytes()
        .enumerate()
        .map(|(i, byte)| (i + 1) * usize::from(byte))
        .sum();
    PAINTS[sum % PAINTS.len()]
}

/// The id a shape has in the vehicle file's picture, the `n`th of its kind.
fn shape<'a>(vehicle: &'a Vehicle, kind: &str, n: usize) -> Option<&'a str> {
    vehicle
        .bay
        .iter()
        .filter(|s| s.kind == kind && !s.id.is_empty())
        .nth(n)
        .map(|s| s.id.as_str())
}

fn part_where(vehicle: &Vehicle, is: impl Fn(&Kind) -> bool, n: usize) -> Option<String> {
    vehicle
        .parts
        .iter()
        .filter(|(_, p)| is(&p.kind))
        .nth(n)
        .map(|(id, _)| id.clone())
}

/// A motor that turns a fan, the `n`th: as the file's picture names it, else by what the loop says.
fn fan(vehicle: &Vehicle, n: usize) -> Option<String> {
    shape(vehicle, "Fan", n).map(str::to_owned).or_else(|| {
        let fans = &vehicle.air_conditioning.as_ref()?.fans;
        fans.get(n).cloned()
    })
}

/// A place with a cover: the `n`th that the file's picture calls so.
fn port(vehicle: &Vehicle, kind: &str, like: &str) -> Option<String> {
    let shaped = shape(vehicle, kind, 0).map(str::to_owned);
    shaped.or_else(|| place_of(vehicle, like))
}

/// Pins of a part in the file's order, as points.
fn pins(vehicle: &Vehicle, part: &str) -> Vec<String> {
    let data = vehicle.parts.get(part);
    data.map_or_else(Vec::new, |p| {
        let pins = p.kind.pins();
        pins.iter().map(|pin| format!("{part}.{pin}")).collect()
    })
}

/// Gives a part of the arrangement the car's own id, and its points the car's own names.
fn recast(vehicle: &Vehicle, placed: &mut Placed) {
    if placed.id.starts_with(TOOL) || placed.id == "cabin" || placed.id == "roll" {
        return;
    }
    let with_pins = |id: String| {
        let points = pins(vehicle, &id);
        (id, points)
    };
    let bare = |id: String| (id, Vec::new());
    let own: Option<(String, Vec<String>)> = match placed.id.as_str() {
        "compressor" => vehicle
            .air_conditioning
            .as_ref()
            .map(|ac| with_pins(ac.clutch.clone())),
        "battery" => part_where(vehicle, |k| matches!(k, Kind::Battery { .. }), 0)
            .map(|id| (id.clone(), vec![format!("{id}:pos"), format!("{id}:neg")])),
        "belt" => part_where(vehicle, |k| matches!(k, Kind::Alternator { .. }), 0)
            .map(|id| (id.clone(), vec![format!("{id}.out")])),
        "pressure" => part_where(
            vehicle,
            |k| matches!(k, Kind::PressureSensor { .. } | Kind::PressureSwitch { .. }),
            0,
        )
        .map(with_pins),
        "fan" => fan(vehicle, 0).map(with_pins),
        "fan2" => fan(vehicle, 1).map(with_pins),
        "engine" => Some((
            place_of(vehicle, "engine_top").unwrap_or_default(),
            glow_plugs(vehicle),
        )),
        "condenser" => shape(vehicle, "Condenser", 0)
            .map(str::to_owned)
            .or_else(|| place_of(vehicle, "front_panel"))
            .map(bare),
        "port.low" => port(vehicle, "ServicePortLow", "service_low").map(bare),
        "port.high" => port(vehicle, "ServicePortHigh", "service_high").map(bare),
        "harness.engine" => place_of(vehicle, "engine_side").map(bare),
        "harness.bulkhead" => place_of(vehicle, "bulkhead").map(bare),
        "starter" => starter(vehicle).map(|id| (id.clone(), starter_studs(vehicle, &id))),
        "horn" => shape(vehicle, "Horn", 0).map(str::to_owned).map(bare),
        "unit" => part_where(vehicle, |k| matches!(k, Kind::ControlUnit(_)), 0)
            .and_then(|_| place_of(vehicle, "unit_tray"))
            .map(bare),
        "washer" => place_of(vehicle, "washer_bottle").map(bare),
        _ => None,
    };
    match own {
        Some((id, points)) => {
            placed.id = id;
            let anchors = std::mem::take(&mut placed.points);
            let anchors = if anchors.is_empty() && matches!(placed.shape, PartShape::Starter) {
                (1..=6)
                    .map(|i| (format!("stud.{i}"), String::new(), 0.0045))
                    .collect()
            } else {
                anchors
            };
            placed.points = anchors
                .into_iter()
                .zip(points)
                .map(|((anchor, _, radius), point)| (anchor, point, radius))
                .collect();
        }
        None => {
            // Scenery: nothing of this car stands for it, so nothing can be done at it.
            placed.points.clear();
            placed.id.clear();
        }
    }
}

/// The upper terminals of parts that heat the cylinders, at most one a cylinder.
fn glow_plugs(vehicle: &Vehicle) -> Vec<String> {
    let Some(place) = place_of(vehicle, "engine_top") else {
        return Vec::new();
    };
    vehicle
        .parts
        .iter()
        .filter(|(_, p)| p.place == place && matches!(p.kind, Kind::Resistor { .. }))
        .filter(|(id, _)| id.starts_with("glow"))
        .map(|(id, _)| format!("{id}.1"))
        .collect()
}

fn starter(vehicle: &Vehicle) -> Option<String> {
    use tracebay_core::vehicle::Drives;
    part_where(
        vehicle,
        |k| matches!(k, Kind::Motor { drives, .. } if *drives == Drives::Starter),
        0,
    )
}

/// Terminals of the magnetic switch that is bolted to the starter, then the starter's own.
fn starter_studs(vehicle: &Vehicle, starter: &str) -> Vec<String> {
    let place = &vehicle.parts[starter].place;
    let boxed = |id: &str| {
        let mut slots = vehicle.boxes.values().flat_map(|b| &b.slots);
        slots.any(|s| s.part == id)
    };
    let switch = vehicle
        .parts
        .iter()
        .find(|(id, p)| &p.place == place && matches!(p.kind, Kind::Relay(_)) && !boxed(id));
    let mut all = switch.map_or_else(Vec::new, |(id, _)| pins(vehicle, id));
    all.truncate(4);
    while all.len() < 4 {
        all.push(String::new());
    }
    all.extend(pins(vehicle, starter));
    all
}

/// Whether a stud is on this metal.
pub fn is_stud(kind: &Kind, metal: Metal) -> bool {
    matches!(kind, Kind::GroundStud { on, .. } if *on == metal)
}

fn place_of(vehicle: &Vehicle, like: &str) -> Option<String> {
    let exact = vehicle.places.contains_key(like).then(|| like.to_owned());
    exact.or_else(|| {
        vehicle
            .places
            .keys()
            .find(|id| id.starts_with(like))
            .cloned()
    })
}

/// The session's name for a point of the scene. The kit names a fuse's cavity `F9.a.cavity` and
/// its test tab `F9.a`; the session says `F9.a` and `F9:a`.
pub fn point_name(scene: &str, is_fuse: impl Fn(&str) -> bool) -> String {
    if let Some(cavity) = scene.strip_suffix(".cavity") {
        return cavity.to_owned();
    }
    match scene.split_once('.') {
        Some((part, end)) if is_fuse(part) && matches!(end, "a" | "b") => {
            format!("{part}:{end}")
        }
        _ => scene.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_shipped_cars_look_alike() {
        let (catalogue, _) = tracebay_shelf::Data::built_in().catalogue();
        let cars: Vec<_> = catalogue
            .vehicles
            .values()
            .filter(|v| !v.on_bench())
            .map(|v| (paint(&v.id), v.arrangement))
            .collect();
        assert!(cars.len() > 2);
        for (i, (paint, arrangement)) in cars.iter().enumerate() {
            for (other, way) in &cars[..i] {
                assert_ne!(paint, other, "car {i}");
                assert_ne!(arrangement, way, "car {i}");
            }
        }
    }
}
