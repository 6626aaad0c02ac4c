//! Radiator, condenser and electric fan.
//!
//! Frame: centre of the core at the origin, facing +z (air comes in from +z).

use super::body::bolt;
use super::curve::through;
use super::follow::Spins;
use super::geo::Geo;
use super::material::{KitAssets, Mat};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::SpinRpm;
use bevy::prelude::*;

/// Radiator with plastic side tanks; anchors `top.hose`, `bottom.hose`, `cap`.
pub fn radiator(width: f32, height: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let core = width - 0.10;
    b.add(
        Mat::Fins,
        rounded_box(Vec3::new(core, height, 0.028), 0.002).uv_scale(3.0, 1.0),
    );
    for s in [-1.0f32, 1.0] {
        let x = s * (core * 0.5 + 0.024);
        b.add(
            Mat::Plastic([26, 26, 28]),
            rounded_box(Vec3::new(0.048, height + 0.02, 0.055), 0.014).mv(x, 0.0, 0.0),
        );
        for k in 0..9 {
            let y = -height * 0.45 + k as f32 * height * 0.9 / 8.0;
            b.add(
                Mat::Plastic([26, 26, 28]),
                rounded_box(Vec3::new(0.052, 0.006, 0.06), 0.002).mv(x, y, 0.0),
            );
        }
        for y in [-1.0f32, 1.0] {
            b.add(
                Mat::Plastic([40, 40, 42]),
                rounded_box(Vec3::new(core, 0.014, 0.036), 0.003).mv(0.0, y * height * 0.5, 0.0),
            );
        }
        b.add(
            Mat::Rubber,
            cylinder(0.014, 0.03, 14, 0.004).mv(s * width * 0.4, height * 0.5 + 0.005, 0.0),
        );
    }
    let top = Vec3::new(-core * 0.5 - 0.02, height * 0.36, -0.05);
    b.add(
        Mat::Plastic([26, 26, 28]),
        cylinder(0.018, 0.05, 18, 0.002)
            .turn(Vec3::X, -90.0)
            .mv(top.x, top.y, -0.015),
    );
    b.anchor_out("top.hose", top, -Vec3::Z);
    let low = Vec3::new(core * 0.5 + 0.02, -height * 0.40, -0.05);
    b.add(
        Mat::Plastic([26, 26, 28]),
        cylinder(0.018, 0.05, 18, 0.002)
            .turn(Vec3::X, -90.0)
            .mv(low.x, low.y, -0.015),
    );
    b.anchor_out("bottom.hose", low, -Vec3::Z);
    b
}

/// Condenser: thinner, with a receiver bottle at one side; anchors `in`, `out`.
pub fn condenser(width: f32, height: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Fins,
        rounded_box(Vec3::new(width - 0.05, height, 0.016), 0.002).uv_scale(4.0, 1.0),
    );
    for i in 0..14 {
        let y = -height * 0.5 + (i as f32 + 0.5) * height / 14.0;
        b.add(
            Mat::BareAluminium,
            rounded_box(Vec3::new(width - 0.05, 0.002, 0.018), 0.0008).mv(0.0, y, 0.0),
        );
    }
    for s in [-1.0f32, 1.0] {
        b.add(
            Mat::BareAluminium,
            cylinder(0.012, height + 0.03, 14, 0.004).mv(
                s * (width * 0.5 - 0.02),
                -height * 0.5 - 0.015,
                0.0,
            ),
        );
    }
    b.add(
        Mat::BareAluminium,
        cylinder(0.02, height * 0.8, 16, 0.008).mv(-width * 0.5 - 0.012, -height * 0.4, 0.0),
    );
    b.anchor_out(
        "in",
        Vec3::new(width * 0.5 - 0.02, height * 0.32, -0.012),
        -Vec3::Z,
    );
    b.anchor_out(
        "out",
        Vec3::new(width * 0.5 - 0.02, -height * 0.34, -0.012),
        -Vec3::Z,
    );
    b
}

/// Charge-air cooler: fins between two cast tanks, no fluid.
pub fn intercooler(width: f32, height: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Fins,
        rounded_box(Vec3::new(width - 0.12, height, 0.045), 0.003).uv_scale(2.0, 1.0),
    );
    for s in [-1.0f32, 1.0] {
        b.add(
            Mat::CastAluminium,
            rounded_box(Vec3::new(0.06, height + 0.01, 0.06), 0.018).mv(
                s * (width * 0.5 - 0.03),
                0.0,
                0.0,
            ),
        );
        b.add(
            Mat::CastAluminium,
            cylinder(0.027, 0.05, 20, 0.003).turn(Vec3::X, -90.0).mv(
                s * (width * 0.5 - 0.03),
                0.0,
                -0.02,
            ),
        );
    }
    b
}

/// Fan with shroud; its root's [`SpinRpm`] is the fan's speed. Anchors
/// `fan.1` (feed), `fan.2` (ground) at the motor's connector.
pub fn fan(commands: &mut Commands, kit: &mut KitAssets, at: Transform, size: f32) -> SpawnedPart {
    let mut b = PartBuilder::new();
    let black = Mat::Plastic([28, 28, 30]);
    let r = size * 0.5 - 0.02;
    // The shroud: a square sheet round a round opening, with a collar.
    let sheet = panel(48, 1, |u, v| {
        let a = u * std::f32::consts::TAU;
        let (s, c) = a.sin_cos();
        let square = size * 0.5 / c.abs().max(s.abs());
        let q = r + 0.002 + (square - r - 0.002) * (1.0 - v);
        Vec3::new(c * q, s * q, -0.012)
    });
    b.add(black, sheet.clone());
    b.add(black, sheet.inside_out());
    b.add(
        black,
        ring(r, r + 0.006, 0.045, 44)
            .turn(Vec3::X, 90.0)
            .mv(0.0, 0.0, -0.045),
    );
    for s in [-1.0f32, 1.0] {
        for (x, y, w, h) in [
            (s * (size * 0.5 - 0.004), 0.0, 0.008, size),
            (0.0, s * (size * 0.5 - 0.004), size, 0.008),
        ] {
            b.add(
                black,
                rounded_box(Vec3::new(w, h, 0.03), 0.003).mv(x, y, -0.004),
            );
        }
        bolt(
            &mut b,
            Vec3::new(s * (size * 0.5 - 0.016), size * 0.46, -0.012),
            -Vec3::Z,
            0.011,
        );
    }
    // Motor on three arms behind the blades.
    for i in 0..4 {
        let arm = rounded_box(Vec3::new(0.014, r, 0.012), 0.004)
            .mv(0.0, r * 0.5, 0.0)
            .turn(Vec3::Z, 30.0 + 90.0 * i as f32)
            .mv(0.0, 0.0, -0.05);
        b.add(black, arm);
    }
    b.add(
        Mat::DarkSteel,
        lathe(
            &[
                (0.0, 0.0),
                (0.038, 0.0),
                (0.041, 0.006),
                (0.041, 0.05),
                (0.03, 0.056),
                (0.0, 0.057),
            ],
            26,
        )
        .turn(Vec3::X, -90.0)
        .mv(0.0, 0.0, -0.035),
    );
    let plug = Vec3::new(0.0, 0.055, -0.075);
    b.add(
        Mat::Plastic([58, 58, 60]),
        rounded_box(Vec3::new(0.026, 0.03, 0.02), 0.003).mv(plug.x, plug.y, plug.z),
    );
    b.add(
        Mat::Rubber,
        tube(
            &through(
                &[
                    plug - Vec3::Y * 0.012,
                    plug + Vec3::new(0.035, -0.02, 0.004),
                    Vec3::new(r * 0.6, r * 0.9, -0.03),
                ],
                8,
            ),
            0.005,
            7,
            false,
        ),
    );
    b.anchor_out("fan.1", plug + Vec3::new(-0.006, 0.016, 0.0), Vec3::Y);
    b.anchor_out("fan.2", plug + Vec3::new(0.006, 0.016, 0.0), Vec3::Y);
    let mut part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(SpinRpm(0.0));
    let e = part.piece(
        commands,
        kit,
        "blades",
        Transform::from_xyz(0.0, 0.0, -0.022),
        blades(r - 0.006),
    );
    commands
        .entity(e)
        .insert(Spins::new(part.entity, 1.0, Vec3::Z));
    part
}

fn blades(r: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let hub = r * 0.28;
    let black = Mat::Plastic([34, 34, 36]);
    b.add(
        black,
        lathe(
            &[
                (hub, -0.012),
                (hub, 0.008),
                (hub - 0.006, 0.014),
                (0.0, 0.014),
            ],
            28,
        )
        .turn(Vec3::X, 90.0),
    );
    for i in 0..7 {
        let blade = |lift: f32| {
            panel(4, 6, move |u, v| {
                let q = hub * 0.9 + (r - hub * 0.9) * v;
                let sweep = 0.45 * v * v;
                let wide = 0.62 - 0.16 * v;
                let a = sweep + wide * (u - 0.5);
                Vec3::new(
                    a.sin() * q,
                    a.cos() * q,
                    (u - 0.5) * 0.026 * (1.2 - v * 0.5)
                        + lift
                        + 0.004 * (1.0 - (2.0 * u - 1.0).powi(2)),
                )
            })
        };
        let a = i as f32 / 7.0 * 360.0;
        let both: Geo = blade(0.0).with(blade(-0.002).inside_out());
        b.add(black, both.turn(Vec3::Z, a));
    }
    b
}
