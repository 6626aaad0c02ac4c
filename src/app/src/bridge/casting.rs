//! Who plays whom: the car's parts, by what they are, in the shapes of the kit.
//!
//! Where things stand comes from the stage's own arrangement; which of the car's ids each stands
//! for comes from the vehicle file. Parts without a shape are reached through lists and plugs.

use bevy::math::Vec2;
use tracebay_core::scenario::Case;
use tracebay_core::vehicle::{Kind, Metal, Vehicle};

use super::{board, fuse_box};
use crate::kit::{PartShape, Rgb};
use crate::stage::demo::demo_layout;
use crate::stage::{BayLayout, Placed};

/// What the stage calls tools begins with this.
pub const TOOL: &str = "tool.";

/// The bay for a case.
pub fn cast(case: &Case) -> BayLayout {
    let vehicle = &case.vehicle;
    if vehicle.on_bench() {
        return board::lay_out(case);
    }
    let mut layout = demo_layout();
    (layout.paint, layout.inner_paint) = paint(&vehicle.id);
    for placed in &mut layout.parts {
        if let PartShape::Engine(name) = &mut placed.shape {
            *name = vehicle.name.to_uppercase();
        }
        recast(vehicle, placed);
    }
    if let (Some((id, grid, at, turn)), Some((own, data))) =
        (layout.fuse_box.take(), vehicle.boxes.first_key_value())
    {
        let _ = id;
        let grid = fuse_box::grid(case, data, &grid);
        layout.fuse_box = Some((own.clone(), grid, at, turn));
    }
    layout
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

fn ground(vehicle: &Vehicle, metal: Metal, n: usize) -> Option<String> {
    part_where(
        vehicle,
        |k| matches!(k, Kind::GroundStud { on, .. } if *on == metal),
        n,
    )
}

fn place_with_cover(vehicle: &Vehicle, high: bool) -> Option<String> {
    let shaped = shape(
        vehicle,
        if high {
            "ServicePortHigh"
        } else {
            "ServicePortLow"
        },
        0,
    );
    shaped.map(str::to_owned)
}

/// Gives a part of the arrangement the car's own id, and its points the car's own names.
fn recast(vehicle: &Vehicle, placed: &mut Placed) {
    if placed.id.starts_with(TOOL) {
        return;
    }
    let pins = |part: &str| -> Vec<String> {
        let data = vehicle.parts.get(part);
        data.map_or_else(Vec::new, |p| {
            p.kind
                .pins()
                .iter()
                .map(|pin| format!("{part}.{pin}"))
                .collect()
        })
    };
    let own: Option<(String, Vec<String>)> = match placed.id.as_str() {
        "compressor" => vehicle.air_conditioning.as_ref().map(|ac| {
            let id = ac.clutch.clone();
            let points = pins(&id);
            (id, points)
        }),
        "battery" => part_where(vehicle, |k| matches!(k, Kind::Battery { .. }), 0)
            .map(|id| (id.clone(), vec![format!("{id}:pos"), format!("{id}:neg")])),
        "belt" => part_where(vehicle, |k| matches!(k, Kind::Alternator { .. }), 0)
            .map(|id| (id.clone(), vec![format!("{id}.out")])),
        "pressure" => part_where(vehicle, |k| matches!(k, Kind::PressureSensor { .. }), 0)
            .map(|id| (id.clone(), pins(&id))),
        "fan" => shape(vehicle, "Fan", 0).map(|id| (id.to_owned(), pins(id))),
        "fan2" => shape(vehicle, "Fan", 1).map(|id| (id.to_owned(), pins(id))),
        "engine" => ground(vehicle, Metal::Engine, 0).map(|id| {
            (
                place_of(vehicle, "engine").unwrap_or_default(),
                vec![format!("{id}:stud")],
            )
        }),
        "ground.wing" => {
            ground(vehicle, Metal::Body, 0).map(|id| (id.clone(), vec![format!("{id}:stud")]))
        }
        "ground.bulkhead" => {
            ground(vehicle, Metal::Body, 1).map(|id| (id.clone(), vec![format!("{id}:stud")]))
        }
        "condenser" => shape(vehicle, "Condenser", 0).map(|id| (id.to_owned(), Vec::new())),
        "port.low" => place_with_cover(vehicle, false).map(|id| (id, Vec::new())),
        "port.high" => place_with_cover(vehicle, true).map(|id| (id, Vec::new())),
        "harness.engine" => place_of(vehicle, "engine_side").map(|id| (id, Vec::new())),
        "harness.bulkhead" => place_of(vehicle, "bulkhead").map(|id| (id, Vec::new())),
        "joint" => part_where(vehicle, |k| matches!(k, Kind::Inline { .. }), 0)
            .map(|id| (id.clone(), pins(&id).into_iter().step_by(2).collect())),
        _ => None,
    };
    match own {
        Some((id, points)) => {
            placed.id = id;
            let anchors = std::mem::take(&mut placed.points);
            placed.points = anchors
                .into_iter()
                .zip(points)
                .map(|((anchor, _, radius), point)| (anchor, point, radius))
                .collect();
        }
        None => {
            // Scenery: nothing of this car stands for it, so nothing can be done at it.
            placed.points.clear();
            if placed.id != "cabin" && placed.id != "roll" {
                placed.id.clear();
            }
        }
    }
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
pub fn point_name(scene: &str) -> String {
    if let Some(cavity) = scene.strip_suffix(".cavity") {
        return cavity.to_owned();
    }
    match scene.split_once('.') {
        Some((part, end)) if part.starts_with('F') && matches!(end, "a" | "b") => {
            format!("{part}:{end}")
        }
        _ => scene.to_owned(),
    }
}

/// Middle of a column and row of a grid on a box of this size, metres.
pub fn cell_at(size: Vec2, grid: (u32, u32), at: (u32, u32)) -> Vec2 {
    let share = |n: u32, of: u32| (n as f32 + 0.5) / of.max(1) as f32 - 0.5;
    Vec2::new(share(at.0, grid.0) * size.x, share(at.1, grid.1) * size.y)
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
            .map(|v| paint(&v.id))
            .collect();
        assert!(cars.len() > 2);
        for (i, one) in cars.iter().enumerate() {
            assert!(!cars[..i].contains(one), "car {i}");
        }
    }
}
