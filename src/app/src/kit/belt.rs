//! Belt drive: pulleys, tensioner, alternator and the ribbed belt round them.
//!
//! Frame: the belt's plane is XY, facing +z; y = 0 and x = 0 at the crankshaft.

use super::body::bolt;
use super::curve::belt_path;
use super::follow::{Runs, Spins};
use super::material::{KitAssets, Mat};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::SpinRpm;
use bevy::light::NotShadowCaster;
use bevy::prelude::*;

/// What a pulley drives, which decides how it looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PulleyKind {
    /// The crankshaft damper: drives all others.
    Crank,
    /// Coolant pump.
    Pump,
    /// Alternator, with its body behind.
    Alternator,
    /// Smooth idler or tensioner wheel.
    Idler,
    /// Belongs to another part (the compressor): only the belt goes round it.
    Other,
}

/// One pulley of a drive, in the belt's plane, listed counter-clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulley {
    /// Centre.
    pub at: Vec2,
    /// Radius at the belt, metres.
    pub radius: f32,
    /// What it drives.
    pub kind: PulleyKind,
}

/// Width of the ribbed belt, metres.
pub const BELT_WIDTH: f32 = 0.0214;

/// Spawns the drive; its root's [`SpinRpm`] is the crankshaft's speed. Anchors
/// `alternator.plus`, `alternator.body` where there is an alternator.
pub fn spawn(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    pulleys: &[Pulley],
) -> SpawnedPart {
    let mut fixed = PartBuilder::new();
    for p in pulleys {
        if p.kind == PulleyKind::Alternator {
            alternator(&mut fixed, p.at);
        }
        if p.kind == PulleyKind::Idler {
            let arm = rounded_box(Vec3::new(0.035, 0.10, 0.018), 0.008);
            fixed.add(Mat::CastAluminium, arm.mv(p.at.x, p.at.y + 0.035, -0.024));
            bolt(&mut fixed, p.at.extend(0.016), Vec3::Z, 0.013);
        }
    }
    let mut part = fixed.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(SpinRpm(0.0));
    let crank = pulleys
        .iter()
        .find(|p| p.kind == PulleyKind::Crank)
        .map_or(0.07, |p| p.radius);
    for (i, p) in pulleys.iter().enumerate() {
        if p.kind == PulleyKind::Other {
            continue;
        }
        let e = part.piece(
            commands,
            kit,
            &format!("pulley{i}"),
            Transform::from_translation(p.at.extend(0.0)),
            pulley(p.radius, p.kind),
        );
        commands
            .entity(e)
            .insert(Spins::new(part.entity, -crank / p.radius, Vec3::Z));
    }
    let circles: Vec<(Vec2, f32)> = pulleys.iter().map(|p| (p.at, p.radius + 0.001)).collect();
    let belt = band(&belt_path(&circles, 14), BELT_WIDTH, 0.0042);
    let material = kit.own(Mat::Belt);
    let mesh = kit.meshes.add(belt.to_mesh());
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(material),
        ChildOf(part.entity),
        Runs {
            owner: part.entity,
            repeats: -std::f32::consts::TAU * crank * 100.0 / 10.0,
        },
        NotShadowCaster,
    ));
    part
}

fn pulley(r: f32, kind: PulleyKind) -> PartBuilder {
    let mut b = PartBuilder::new();
    let h = BELT_WIDTH * 0.5;
    let front = |g: super::geo::Geo| g.turn(Vec3::X, 90.0);
    let (mat, spokes) = match kind {
        PulleyKind::Crank => (Mat::DarkSteel, 4),
        PulleyKind::Idler => (Mat::Plastic([32, 32, 33]), 0),
        _ => (Mat::Steel, 3),
    };
    // Turned about +Y, then laid to face +Z.
    b.add(
        mat,
        front(lathe(
            &[
                (r * 0.6, -h - 0.002),
                (r + 0.0035, -h - 0.002),
                (r + 0.0035, -h),
                (r, -h),
                (r, h),
                (r + 0.0035, h),
                (r + 0.0035, h + 0.002),
                (r - 0.006, h + 0.002),
                (r - 0.009, h - 0.004),
                (r * 0.42, h - 0.006),
                (r * 0.36, h + 0.004),
                (0.0, h + 0.004),
            ],
            36,
        )),
    );
    // Holes show that it turns.
    for i in 0..spokes {
        let a = i as f32 / spokes as f32 * std::f32::consts::TAU;
        b.add(
            Mat::Void,
            front(cylinder(r * 0.13, 0.0008, 14, 0.0)).mv(
                a.cos() * r * 0.64,
                a.sin() * r * 0.64,
                h - 0.0047,
            ),
        );
    }
    if kind == PulleyKind::Crank {
        b.add(
            Mat::Rubber,
            front(ring(r * 0.80, r * 0.84, 0.002, 32)).mv(0.0, 0.0, h - 0.005),
        );
        b.add(
            Mat::Gloss([235, 235, 230]),
            rounded_box(Vec3::new(r * 0.12, 0.003, 0.003), 0.001).mv(r * 0.9, 0.0, h + 0.002),
        );
    }
    if kind != PulleyKind::Idler {
        bolt(&mut b, Vec3::new(0.0, 0.0, h + 0.004), Vec3::Z, 0.017);
    } else {
        b.add(
            Mat::Steel,
            front(cylinder(r * 0.35, 0.003, 20, 0.001)).mv(0.0, 0.0, h + 0.003),
        );
    }
    b
}

fn alternator(b: &mut PartBuilder, at: Vec2) {
    let body = lathe(
        &[
            (0.0, -0.005),
            (0.045, -0.005),
            (0.062, 0.01),
            (0.066, 0.03),
            (0.066, 0.055),
            (0.063, 0.057),
            (0.063, 0.075),
            (0.066, 0.077),
            (0.066, 0.11),
            (0.058, 0.13),
            (0.0, 0.132),
        ],
        32,
    )
    .turn(Vec3::X, -90.0)
    .mv(at.x, at.y, -0.03);
    b.add(Mat::CastAluminium, body);
    // Cooling slots with the winding's copper behind them.
    for i in 0..16 {
        let a = i as f32 / 16.0 * 360.0;
        for z in [-0.062f32, -0.128] {
            b.add(
                if i % 2 == 0 { Mat::Void } else { Mat::Copper },
                block(Vec3::new(0.012, 0.0012, 0.010))
                    .mv(0.0, 0.0657, 0.0)
                    .turn(Vec3::Z, a)
                    .mv(at.x, at.y, z),
            );
        }
    }
    for s in [-1.0f32, 1.0] {
        b.add(
            Mat::CastAluminium,
            rounded_box(Vec3::new(0.03, 0.05, 0.03), 0.008).mv(at.x, at.y + 0.08 * s, -0.05),
        );
        bolt(b, Vec3::new(at.x, at.y + 0.085 * s, -0.034), Vec3::Z, 0.014);
    }
    b.add(
        Mat::Plastic([24, 24, 25]),
        lathe(
            &[(0.055, 0.0), (0.055, 0.018), (0.045, 0.022), (0.0, 0.022)],
            28,
        )
        .turn(Vec3::X, -90.0)
        .mv(at.x, at.y, -0.155),
    );
    // The output's post and the case's screw are on the outer side, where a hand comes to them.
    let outer = if at.x < 0.0 { -1.0 } else { 1.0 };
    let out = Vec3::new(outer * 0.75, 0.66, 0.0);
    let turn = Quat::from_rotation_arc(Vec3::Y, out.normalize());
    let foot = at.extend(-0.13) + out * 0.062;
    let here = Transform::from_translation(foot).with_rotation(turn);
    b.add(Mat::Rubber, cylinder(0.011, 0.014, 14, 0.003).at(here));
    b.add(Mat::Steel, cylinder(0.004, 0.028, 10, 0.001).at(here));
    b.anchor_out("alternator.plus", foot + out * 0.030, out);
    let case = Vec3::new(outer * 0.25, 0.97, 0.0);
    let screw = at.extend(-0.095) + case * 0.066;
    bolt(b, screw, case, 0.012);
    b.anchor_out("alternator.body", screw + case * 0.010, case);
}
