//! Plugs as one meets them from behind, where wires go in, and screwed terminals.
//!
//! Frame: foot at the origin, wires leave towards +Y; ways in two rows along x.

use super::curve::through;
use super::follow::{Follow, Slides};
use super::material::{KitAssets, Mat, Rgb};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::Seated;
use bevy::prelude::*;

/// How far ways are apart, metres.
const PITCH: f32 = 0.007;
/// Height of a plug on its socket.
const HEIGHT: f32 = 0.024;
/// Two colours are enough to tell wires apart, and each more is one more thing to draw.
const WIRES: [Rgb; 2] = [[150, 30, 30], [40, 40, 44]];

/// Outer size (x, z) of a plug with that many ways.
pub fn size(ways: usize) -> Vec2 {
    let columns = ways.div_ceil(rows(ways)).max(1) as f32;
    Vec2::new(columns * PITCH + 0.010, rows(ways) as f32 * PITCH + 0.009)
}

/// Small plugs have one row.
fn rows(ways: usize) -> usize {
    if ways <= 3 { 1 } else { 2 }
}

/// Middle of a way, counted from 0, at height 0.
fn way(ways: usize, i: usize) -> Vec3 {
    let columns = ways.div_ceil(rows(ways)).max(1);
    let (c, r) = ((i % columns) as f32, (i / columns) as f32);
    Vec3::new(
        (c - (columns as f32 - 1.0) * 0.5) * PITCH,
        0.0,
        (r - (rows(ways) as f32 - 1.0) * 0.5) * PITCH,
    )
}

/// A plug on its socket; state [`Seated`]: not seated it stands beside its socket and the pins show.
/// Anchors `way.1`... where wires go in, `pin.1`... in the socket.
pub fn plug(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    ways: usize,
) -> SpawnedPart {
    let s = size(ways);
    let mut b = PartBuilder::new();
    b.add(
        Mat::Plastic([30, 30, 32]),
        rounded_box(Vec3::new(s.x + 0.004, 0.010, s.y + 0.004), 0.002).mv(0.0, 0.002, 0.0),
    );
    for i in 0..ways {
        let p = way(ways, i);
        b.add(
            Mat::Brass,
            block(Vec3::new(0.0016, 0.008, 0.0016)).mv(p.x, 0.009, p.z),
        );
        b.anchor_out(
            &format!("pin.{}", i + 1),
            p + Vec3::new(PITCH * 0.3, 0.012, 0.0),
            Vec3::Y,
        );
    }
    let mut part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(Seated(true));
    let mut c = PartBuilder::new();
    c.add(
        Mat::Plastic([74, 76, 80]),
        rounded_box(Vec3::new(s.x, HEIGHT - 0.006, s.y), 0.003).mv(0.0, HEIGHT * 0.5 + 0.002, 0.0),
    );
    c.add(
        Mat::Gloss([190, 40, 40]),
        rounded_box(Vec3::new(0.008, 0.014, 0.004), 0.001).mv(0.0, HEIGHT * 0.5, s.y * 0.5 + 0.001),
    );
    for i in 0..ways {
        let p = way(ways, i);
        // Wires bend away to the back, so that one sees where they go in.
        let wire = [
            p + Vec3::Y * (HEIGHT - 0.004),
            p + Vec3::new(0.0, HEIGHT + 0.009, -0.003),
            Vec3::new(p.x * 0.6, HEIGHT + 0.010, -s.y * 0.5 - 0.012),
            Vec3::new(p.x * 0.3, 0.004, -s.y * 0.5 - 0.024),
        ];
        c.add(
            Mat::Gloss(WIRES[i % WIRES.len()]),
            tube(&through(&wire, 3), 0.0013, 5, false),
        );
        c.anchor_out(
            &format!("way.{}", i + 1),
            p + Vec3::new(-PITCH * 0.15, HEIGHT + 0.002, 0.002),
            Vec3::new(0.0, 1.0, 0.5),
        );
    }
    let away = Transform::from_xyz(0.0, 0.012, s.y + 0.012);
    let e = part.piece(commands, kit, "connector", Transform::IDENTITY, c);
    commands.entity(e).insert(Slides::new(
        part.entity,
        Follow::Seated,
        Transform::IDENTITY,
        away,
    ));
    part
}

/// Screwed terminals on a block, in a row along x; anchors `stud.1`....
pub fn studs(n: usize) -> PartBuilder {
    let mut b = PartBuilder::new();
    let across = n as f32 * 0.02 + 0.012;
    b.add(
        Mat::Plastic([26, 26, 28]),
        rounded_box(Vec3::new(across, 0.014, 0.03), 0.004).mv(0.0, 0.007, 0.0),
    );
    for i in 0..n {
        let x = (i as f32 - (n as f32 - 1.0) * 0.5) * 0.02;
        b.add(
            Mat::Steel,
            cylinder(0.003, 0.016, 10, 0.001).mv(x, 0.014, 0.0),
        );
        b.add(Mat::Brass, hexagon(0.010, 0.005).mv(x, 0.018, 0.0));
        let cable = [
            Vec3::new(x, 0.016, -0.006),
            Vec3::new(x, 0.016, -0.022),
            Vec3::new(x, -0.01, -0.03),
        ];
        b.add(
            Mat::Gloss(if i % 2 == 0 {
                [150, 26, 24]
            } else {
                [26, 26, 28]
            }),
            tube(&through(&cable, 5), 0.0035, 8, true),
        );
        b.anchor_out(
            &format!("stud.{}", i + 1),
            Vec3::new(x, 0.031, 0.0),
            Vec3::Y,
        );
    }
    b
}
