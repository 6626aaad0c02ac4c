//! A/C compressor with magnetic clutch: the pulley turns with the belt, the
//! plate in front of it stands still until the coil pulls it in.
//!
//! Frame: shaft along z, belt plane at z = 0 facing +z.

use super::body::bolt;
use super::curve::through;
use super::follow::{Follow, Slides, Spins};
use super::material::{KitAssets, Mat};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::{ClutchPlate, SpinRpm};
use bevy::prelude::*;

/// Radius of the pulley at the belt, metres.
pub const PULLEY_RADIUS: f32 = 0.058;
/// Gap between plate and pulley when at rest. Drawn at three times a real
/// clutch's 0.3 to 0.6 mm, or no one would see it on a screen.
const AIR_GAP: f32 = 0.0016;

/// Spawns a compressor; state: [`SpinRpm`] (of the pulley) and [`ClutchPlate`].
/// Anchors `suction`, `discharge`, `coil.1` (feed), `coil.2` (ground), `air_gap`, `body`.
/// Pieces `plate`, `pulley`, `connector`.
pub fn spawn(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut part = body(kit).spawn(commands, kit, at, None);
    let root = part.entity;
    commands
        .entity(root)
        .insert((SpinRpm(0.0), ClutchPlate { engaged: false }));

    let mut p = PartBuilder::new();
    let r = PULLEY_RADIUS;
    let h = super::belt::BELT_WIDTH * 0.5;
    p.add(
        Mat::Steel,
        lathe(
            &[
                (r - 0.012, -h - 0.003),
                (r + 0.004, -h - 0.003),
                (r + 0.004, -h),
                (r, -h),
                (r, h),
                (r + 0.004, h),
                (r + 0.004, h + 0.003),
                (r - 0.002, h + 0.004),
                (0.026, h + 0.004),
                (0.024, h),
                (0.024, -h),
            ],
            44,
        )
        .turn(Vec3::X, 90.0),
    );
    // Slots through the friction face, and a paint mark, show that it turns.
    for i in 0..6 {
        let a = i as f32 * 60.0;
        p.add(
            Mat::Void,
            block(Vec3::new(0.003, 0.012, 0.001))
                .mv(0.0, r - 0.010, h + 0.0041)
                .turn(Vec3::Z, a),
        );
    }
    p.add(
        Mat::Gloss([240, 235, 80]),
        block(Vec3::new(0.007, 0.006, 0.001)).mv(0.0, r + 0.0005, h + 0.0032),
    );
    let e = part.piece(commands, kit, "pulley", Transform::IDENTITY, p);
    commands.entity(e).insert(Spins::new(root, -1.0, Vec3::Z));

    // The plate: slides back on its shaft as it is pulled in, and turns when gripped.
    let rest = Transform::from_xyz(0.0, 0.0, h + 0.004 + AIR_GAP);
    let away = Transform::from_xyz(0.0, 0.0, h + 0.0042);
    let carrier = commands
        .spawn((
            rest,
            Visibility::default(),
            ChildOf(root),
            Slides {
                seconds: 0.06,
                ..Slides::new(root, Follow::Clutch, rest, away)
            },
        ))
        .id();
    let plate = commands
        .spawn((
            Transform::IDENTITY,
            Visibility::default(),
            ChildOf(carrier),
            Spins {
                gate: Some(root),
                grip: 0.0,
                ..Spins::new(root, -1.0, Vec3::Z)
            },
        ))
        .id();
    plate_look().spawn_under(commands, kit, plate, None);
    part.pieces.insert("plate".into(), plate);
    part.anchors
        .insert("air_gap".into(), Transform::from_xyz(0.0, 0.048, h + 0.005));
    part
}

fn plate_look() -> PartBuilder {
    let mut b = PartBuilder::new();
    let r = 0.047;
    b.add(
        Mat::Steel,
        lathe(
            &[
                (0.030, 0.0),
                (r, 0.0),
                (r + 0.001, 0.001),
                (r, 0.004),
                (0.031, 0.004),
                (0.030, 0.0),
            ],
            40,
        )
        .turn(Vec3::X, 90.0),
    );
    // Three leaf springs join the ring to the hub.
    for i in 0..3 {
        let a = i as f32 * 120.0;
        b.add(
            Mat::Brass,
            rounded_box(Vec3::new(0.016, 0.036, 0.0016), 0.0006)
                .mv(0.004, 0.024, 0.0052)
                .turn(Vec3::Z, a),
        );
        let p = Quat::from_rotation_z(a.to_radians()) * Vec3::new(0.004, 0.038, 0.006);
        b.add(
            Mat::Steel,
            lathe(&[(0.005, 0.0), (0.0045, 0.002), (0.0, 0.003)], 12)
                .turn(Vec3::X, 90.0)
                .mv(p.x, p.y, p.z),
        );
    }
    b.add(
        Mat::Steel,
        lathe(
            &[
                (0.018, 0.0),
                (0.018, 0.008),
                (0.012, 0.012),
                (0.012, 0.010),
                (0.0, 0.010),
            ],
            24,
        )
        .turn(Vec3::X, 90.0),
    );
    bolt(&mut b, Vec3::new(0.0, 0.0, 0.010), Vec3::Z, 0.012);
    // A painted mark: standing or turning can be told at a glance.
    b.add(
        Mat::Gloss([235, 235, 230]),
        block(Vec3::new(0.006, 0.014, 0.0012)).mv(0.0, -0.039, 0.0042),
    );
    b
}

fn body(kit: &mut KitAssets) -> PartBuilder {
    let mut b = PartBuilder::new();
    // Coil in its steel shell behind the pulley, copper just visible.
    b.add(
        Mat::DarkSteel,
        ring(0.026, 0.045, 0.016, 32)
            .turn(Vec3::X, 90.0)
            .mv(0.0, 0.0, -0.026),
    );
    b.add(
        Mat::Copper,
        ring(0.030, 0.041, 0.012, 32)
            .turn(Vec3::X, 90.0)
            .mv(0.0, 0.0, -0.0255),
    );
    let shell = lathe(
        &[
            (0.0, 0.0),
            (0.035, 0.0),
            (0.052, 0.012),
            (0.058, 0.02),
            (0.058, 0.062),
            (0.060, 0.064),
            (0.060, 0.074),
            (0.058, 0.076),
            (0.058, 0.118),
            (0.060, 0.120),
            (0.060, 0.130),
            (0.056, 0.140),
            (0.050, 0.168),
            (0.0, 0.170),
        ],
        36,
    )
    .turn(Vec3::X, -90.0)
    .mv(0.0, 0.0, -0.026);
    b.add(Mat::CastAluminium, shell);
    for i in 0..5 {
        let a = (i as f32 / 5.0 * std::f32::consts::TAU).sin_cos();
        let rod = cylinder(0.0065, 0.10, 10, 0.001).turn(Vec3::X, -90.0);
        b.add(Mat::CastAluminium, rod.mv(a.1 * 0.059, a.0 * 0.059, -0.055));
        bolt(
            &mut b,
            Vec3::new(a.1 * 0.059, a.0 * 0.059, -0.053),
            Vec3::Z,
            0.010,
        );
    }
    for s in [-1.0f32, 1.0] {
        for z in [-0.055, -0.145] {
            b.add(
                Mat::CastAluminium,
                rounded_box(Vec3::new(0.03, 0.026, 0.026), 0.008).mv(0.062 * s, -0.03, z),
            );
        }
    }
    // Line manifold on top at the rear.
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.085, 0.03, 0.04), 0.008).mv(0.0, 0.062, -0.125),
    );
    bolt(&mut b, Vec3::new(0.0, 0.077, -0.125), Vec3::Y, 0.013);
    b.anchor_out("suction", Vec3::new(0.027, 0.078, -0.125), Vec3::Y);
    b.anchor_out("discharge", Vec3::new(-0.027, 0.078, -0.125), Vec3::Y);
    // Coil pigtail and its two-way connector on a bracket.
    let lead = [
        Vec3::new(0.0, 0.046, -0.022),
        Vec3::new(0.004, 0.066, -0.026),
        Vec3::new(0.012, 0.074, -0.045),
        Vec3::new(0.012, 0.073, -0.058),
    ];
    for dx in [-0.0022f32, 0.0022] {
        let l: Vec<Vec3> = lead.iter().map(|p| *p + Vec3::X * dx).collect();
        let colour = if dx < 0.0 {
            [40, 110, 60]
        } else {
            [30, 30, 32]
        };
        b.add(Mat::Gloss(colour), tube(&through(&l, 6), 0.0019, 6, false));
    }
    b.add(
        Mat::Plastic([56, 57, 60]),
        rounded_box(Vec3::new(0.024, 0.018, 0.032), 0.003).mv(0.012, 0.074, -0.074),
    );
    b.add(
        Mat::Plastic([30, 30, 32]),
        rounded_box(Vec3::new(0.027, 0.020, 0.012), 0.003).mv(0.012, 0.074, -0.078),
    );
    b.add(
        Mat::Plastic([30, 30, 32]),
        rounded_box(Vec3::new(0.009, 0.005, 0.024), 0.001).mv(0.012, 0.0855, -0.076),
    );
    b.anchor_out("coil.1", Vec3::new(0.007, 0.0845, -0.088), Vec3::Y);
    b.anchor_out("coil.2", Vec3::new(0.018, 0.0845, -0.088), Vec3::Y);
    b.anchor_out("connector", Vec3::new(0.012, 0.074, -0.09), -Vec3::Z);
    b.anchor_out(
        "body",
        Vec3::new(-0.045, 0.036, -0.07),
        Vec3::new(-0.7, 0.7, 0.0),
    );
    let label = super::labels::plate(kit, "A/C COMPRESSOR\nOIL PAG 46\nTRAINING UNIT", false);
    b.add_own(
        label,
        decal(0.04, 0.02)
            .turn(Vec3::Y, -90.0)
            .turn(Vec3::Z, -35.0)
            .mv(-0.0485, 0.0345, -0.068),
    );
    b
}
