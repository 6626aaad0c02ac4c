//! Who plays whom: the car's parts, by what they are, in the shapes of the kit.
//!
//! Where things stand comes from the stage's own arrangement; which of the car's ids each stands
//! for comes from the vehicle file. Parts without a shape are reached through lists and plugs.

use bevy::math::Vec2;
use tracebay_core::scenario::Case;
use tracebay_core::vehicle::{Kind, Metal, Vehicle};

use super::{board, fuse_box};
use crate::stage::demo::demo_layout;
use crate::stage::{BayLayout, Placed};

/// What the stage calls tools begins with this.
pub const TOOL: &str = "tool.";

/// The bay for a case.
pub fn cast(case: &Case) -> BayLayout {
    let vehicle = &case.vehicle;
    if board::is_board(vehicle) {
        return board::lay_out(case);
    }
    let mut layout = demo_layout();
    for placed in &mut layout.parts {
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
