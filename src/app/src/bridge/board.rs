//! A board on the bench: what its file says stands there, and the wires between, all in the open.
//!
//! Nothing here is known of any one board: parts get their shape by what they are, and their places
//! by how many there are.

use std::collections::BTreeMap;

use bevy::prelude::*;
use tracebay_core::scenario::Case;
use tracebay_core::vehicle::{Kind, Role, Vehicle};

use super::fuse_box;
use crate::kit::bench::{BULB_ENDS, SUPPLY_POSTS};
use crate::kit::board::{self, TOP, switch_ends, wire_colour};
use crate::kit::{BoxGrid, PartShape};
use crate::stage::bays::{longitudinal_petrol, tool_roll};
use crate::stage::{BENCH, BayLayout, Placed, PlacedBox, Stand};

/// Size of the case (x, z).
const CASE: Vec2 = Vec2::new(0.52, 0.36);
/// Middle of the case, from the middle of the bench: x to the right, z towards the learner.
const MIDDLE: Vec3 = Vec3::new(0.075, 0.0, -0.07);
/// Row of lamps, of sockets, of switches: distance from the case's middle.
const LAMPS: f32 = -0.118;
const SOCKETS: f32 = 0.0;
const SWITCHES: f32 = 0.105;
/// How far wires that run side by side are apart.
const LANE: f32 = 0.0042;

/// From the board's frame (x to the right, z towards the learner) into the scene's.
fn on_bench(at: Vec3) -> Vec3 {
    BENCH + Quat::from_rotation_y((-90.0f32).to_radians()) * at
}

/// The bench for a case.
pub fn lay_out(case: &Case) -> BayLayout {
    let vehicle = &case.vehicle;
    let mut spots = Spots::default();
    let mut parts = vec![facing(Placed::new(
        "",
        PartShape::BoardCase(CASE),
        on_bench(MIDDLE),
    ))];
    let boxed: Vec<&str> = vehicle
        .boxes
        .values()
        .flat_map(|b| b.slots.iter().map(|s| s.part.as_str()))
        .collect();
    let loose = vehicle
        .parts
        .iter()
        .filter(|(id, _)| !boxed.contains(&id.as_str()));
    // Printed on the board, whose plates are as wide as these texts need: as they were written.
    let loose: Vec<(&String, &Kind, String)> = loose
        .map(|(id, p)| (id, &p.kind, p.label.as_written().to_uppercase()))
        .collect();
    let of = |is: fn(&Kind) -> bool| loose.iter().filter(move |(_, kind, _)| is(kind));

    let lamps = of(|k| matches!(k, Kind::Lamp { .. })).collect::<Vec<_>>();
    for (i, (id, kind, label)) in lamps.iter().enumerate() {
        let x = (i as f32 - (lamps.len() as f32 - 1.0) * 0.5) * 0.150;
        let at = MIDDLE + Vec3::new(x, TOP, LAMPS);
        parts.push(spots.put(
            id,
            kind,
            PartShape::BulbHolder(label.clone()),
            at,
            &BULB_ENDS,
        ));
    }
    let switches = of(|k| matches!(k, Kind::Switch { .. })).collect::<Vec<_>>();
    for (i, (id, kind, label)) in switches.iter().enumerate() {
        let at = MIDDLE + Vec3::new(0.085 - i as f32 * 0.205, TOP, SWITCHES);
        let (shape, ends) = switch(vehicle, kind, label);
        let mut placed = spots.put(id, kind, shape, at, &switch_ends(ends.len()));
        if let Kind::Switch { control, .. } = kind {
            // One turns or presses what one points at.
            placed.id.clone_from(control);
        }
        parts.push(placed);
    }
    for (i, (id, kind, label)) in of(|k| matches!(k, Kind::GroundStud { .. })).enumerate() {
        let Kind::GroundStud { lugs, .. } = kind else {
            continue;
        };
        let at = MIDDLE + Vec3::new(0.175, TOP, 0.01 + i as f32 * 0.05);
        let count = *lugs as usize;
        let shape = PartShape::ReturnPost(label.clone(), count);
        let mut placed = spots.put(id, kind, shape, at, &board::lugs(count));
        placed = placed.point("stud", &format!("{id}:stud"), 0.005);
        parts.push(placed);
    }
    for (id, ..) in of(|k| matches!(k, Kind::Battery { .. })) {
        let at = Vec3::new(-0.28, 0.0, -0.16);
        let placed = Placed::new(id, PartShape::BenchSupply, on_bench(at))
            .yaw(-90.0)
            .point("plus", &format!("{id}:pos"), 0.006)
            .point("minus", &format!("{id}:neg"), 0.006);
        for (pin, post) in ["neg", "pos"].into_iter().zip(SUPPLY_POSTS) {
            // Under the cap.
            spots.pin(&format!("{id}.{pin}"), at + post + Vec3::Y * 0.008);
        }
        parts.push(placed);
    }
    let mut layout = longitudinal_petrol();
    layout.on_bench = true;
    if let Some((id, data)) = vehicle.boxes.first_key_value() {
        let at = MIDDLE + Vec3::new(-0.03, 0.0, SOCKETS);
        let stand = Stand {
            at: on_bench(at),
            yaw: -90.0,
            tray: Transform::from_xyz(0.0, 0.0, 0.250),
            ..default()
        };
        let grid = fuse_box::grid(case, data, &stand, false);
        spots.sockets(case, &grid, at);
        layout.boxes.push(PlacedBox {
            id: id.clone(),
            grid,
            stand,
        });
    }
    parts.extend(spots.wires(vehicle));
    let roll = on_bench(Vec3::new(0.0, 0.006, 0.275));
    parts.extend(tool_roll(roll).into_iter().map(|tool| about(roll, tool)));
    layout.parts = parts;
    layout
}

/// Turned half round: on the wing one stands at the roll's other side.
fn about(roll: Vec3, mut tool: Placed) -> Placed {
    let off = tool.at - roll;
    tool.at = roll + Vec3::new(-off.x, off.y, -off.z);
    tool.yaw += 180.0;
    tool
}

fn facing(placed: Placed) -> Placed {
    placed.yaw(-90.0)
}

/// A switch's shape and its terminals, left to right.
fn switch(vehicle: &Vehicle, kind: &Kind, label: &str) -> (PartShape, Vec<String>) {
    let ends = kind.pins();
    let Kind::Switch { control, .. } = kind else {
        return (PartShape::PushButton(label.to_owned(), ends.clone()), ends);
    };
    let control = vehicle.controls.get(control);
    let positions = control.map_or_else(Vec::new, |c| c.positions.clone());
    if control.is_some_and(|c| c.role == Role::Key) || positions.len() > 2 {
        let shape = PartShape::TurnSwitch(label.to_owned(), positions, ends.clone());
        (shape, ends)
    } else {
        (PartShape::PushButton(label.to_owned(), ends.clone()), ends)
    }
}

/// Where each pin's wire ends, in the board's frame.
#[derive(Default)]
struct Spots {
    pins: BTreeMap<String, Vec3>,
}

impl Spots {
    fn pin(&mut self, pin: &str, at: Vec3) {
        self.pins.insert(pin.to_owned(), at);
    }

    /// A part at a place; `xs` says how far its terminals are to its right.
    fn put(&mut self, id: &str, kind: &Kind, shape: PartShape, at: Vec3, xs: &[f32]) -> Placed {
        let mut placed = facing(Placed::new(id, shape, on_bench(at)));
        for (pin, x) in kind.pins().iter().zip(xs) {
            let name = format!("{id}.{pin}");
            self.pin(&name, at + Vec3::new(*x, 0.004, 0.0));
            placed = placed.point(pin, &name, 0.005);
        }
        placed
    }

    /// A socket's wires come out beside it, in the order of their pins.
    fn sockets(&mut self, case: &Case, grid: &BoxGrid, at: Vec3) {
        let edge = grid.size.y * 0.5 + 0.002;
        for cell in &grid.cells {
            let Some(part) = case.vehicle.parts.get(&cell.id) else {
                continue;
            };
            let pins = part.kind.pins();
            let n = pins.len() as f32;
            for (i, pin) in pins.iter().enumerate() {
                let x = cell.at.x + (i as f32 - (n - 1.0) * 0.5) * 0.0055;
                let side = Vec3::new(x, TOP + 0.002, edge);
                self.pin(&format!("{}.{pin}", cell.id), at + side);
            }
        }
        // Those whose other end lies behind leave at the back.
        let back: Vec<String> = case
            .vehicle
            .wires
            .values()
            .flat_map(|w| [(&w.from, &w.to), (&w.to, &w.from)])
            .filter(|(own, other)| {
                let behind = self.pins.get(*other).is_some_and(|p| p.z < at.z - edge);
                behind
                    && grid
                        .cells
                        .iter()
                        .any(|c| own.split('.').next() == Some(&c.id))
            })
            .map(|(own, _)| own.clone())
            .collect();
        for pin in back {
            if let Some(spot) = self.pins.get_mut(&pin) {
                spot.z = at.z - edge;
            }
        }
    }

    /// The wires, each in a lane of its own.
    fn wires(&self, vehicle: &Vehicle) -> Vec<Placed> {
        let lie = TOP + 0.0025;
        let (mut behind, mut before) = (0.0f32, 0.0f32);
        let mut laid = Vec::new();
        for wire in vehicle.wires.values() {
            let (Some(&a), Some(&b)) = (self.pins.get(&wire.from), self.pins.get(&wire.to)) else {
                continue;
            };
            let middle = MIDDLE.z + SOCKETS;
            let lane = if a.z < middle - 0.01 || b.z < middle - 0.01 {
                behind += 1.0;
                MIDDLE.z + LAMPS + 0.040 + behind * LANE
            } else {
                before += 1.0;
                MIDDLE.z + SWITCHES - 0.030 - before * LANE
            };
            let radius = (wire.mm2 as f32 / std::f32::consts::PI).sqrt() * 1e-3 + 0.0005;
            let radius = radius.min(0.0022);
            let mut knots = vec![a];
            // Down to the board first, out of the way of hands; along it, and up again.
            for (x, z) in [(a.x, a.z), (a.x, lane), (b.x, lane), (b.x, b.z)] {
                knots.push(Vec3::new(x, lie, z));
            }
            knots.push(b);
            knots.dedup_by(|p, q| p.distance(*q) < 1e-4);
            let knots = knots.into_iter().map(on_bench).collect();
            let (first, second) = match wire.colour.split_once('-') {
                Some((first, second)) => (first, Some(wire_colour(second))),
                None => (wire.colour.as_str(), None),
            };
            let shape = PartShape::LaidWire(knots, radius, wire_colour(first), second);
            laid.push(Placed::new("", shape, Vec3::ZERO));
        }
        laid
    }
}
