//! What stands round an engine besides its belt drive: gearbox end, starter, horn, control unit,
//! bracket, turbocharger; and the rear of the car as far as it is worked at.
//!
//! Frames: each part's own, said at its function.

use super::body::bolt;
use super::curve::through;
use super::material::{KitAssets, Mat};
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;

/// Bell housing and gearbox behind an engine; joins it at z = 0 and goes to -z, middle of the
/// crankshaft at the origin.
pub fn gearbox() -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::CastAluminium,
        lathe(
            &[
                (0.0, 0.0),
                (0.175, 0.0),
                (0.175, 0.02),
                (0.155, 0.03),
                (0.12, 0.11),
                (0.0, 0.11),
            ],
            30,
        )
        .turn(Vec3::X, -90.0),
    );
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.20, 0.22, 0.16), 0.03).mv(0.0, -0.01, -0.18),
    );
    for i in 0..4 {
        b.add(
            Mat::CastAluminium,
            rounded_box(Vec3::new(0.206, 0.012, 0.13), 0.004).mv(
                0.0,
                0.07 - i as f32 * 0.05,
                -0.18,
            ),
        );
    }
    for i in 0..7 {
        let a = i as f32 * 0.9;
        let at = Vec3::new(a.cos() * 0.163, a.sin() * 0.163, -0.022);
        bolt(&mut b, at, -Vec3::Z, 0.013);
    }
    b
}

/// Starter lying along x from the origin to +x, its magnetic switch on top; anchors `stud.1` to
/// `stud.4` for the switch's terminals, `stud.5` and `stud.6` for the starter's own.
pub fn starter() -> PartBuilder {
    let mut b = PartBuilder::new();
    let lying = |r: f32, l: f32| cylinder(r, l, 24, 0.005).turn(Vec3::Z, -90.0);
    b.add(Mat::DarkSteel, lying(0.04, 0.15));
    b.add(Mat::CastAluminium, lying(0.043, 0.03).mv(0.15, 0.0, 0.0));
    b.add(Mat::CastAluminium, lying(0.03, 0.05).mv(-0.045, 0.0, 0.0));
    b.add(Mat::DarkSteel, lying(0.026, 0.085).mv(0.01, 0.062, 0.0));
    b.add(
        Mat::Plastic([24, 24, 25]),
        lying(0.024, 0.02).mv(0.094, 0.062, 0.0),
    );
    // Four on the switch, two on the starter behind it.
    for i in 0..6 {
        let (x, y) = if i < 4 {
            (0.022 + i as f32 * 0.022, 0.086)
        } else {
            (0.128 + (i - 4) as f32 * 0.020, 0.038)
        };
        b.add(Mat::Brass, cylinder(0.004, 0.014, 10, 0.001).mv(x, y, 0.0));
        b.anchor_out(
            &format!("stud.{}", i + 1),
            Vec3::new(x, y + 0.015, 0.0),
            Vec3::Y,
        );
    }
    b
}

/// Horn: a dished disc facing +z on a bracket; anchors `pin.1`, `pin.2`.
pub fn horn() -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Satin([26, 26, 28]),
        lathe(
            &[
                (0.0, 0.012),
                (0.018, 0.012),
                (0.022, 0.004),
                (0.044, 0.0),
                (0.047, 0.008),
                (0.044, 0.014),
                (0.034, 0.02),
                (0.0, 0.022),
            ],
            30,
        )
        .turn(Vec3::X, 90.0),
    );
    b.add(
        Mat::DarkSteel,
        cylinder(0.022, 0.035, 20, 0.004)
            .turn(Vec3::X, -90.0)
            .mv(0.0, 0.0, 0.0),
    );
    b.add(
        Mat::Steel,
        rounded_box(Vec3::new(0.02, 0.07, 0.004), 0.001).mv(0.0, 0.06, -0.012),
    );
    b
}

/// Control unit in a tray: finned cast cover, foot at the origin.
pub fn control_unit(kit: &mut KitAssets) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Plastic([26, 26, 28]),
        rounded_box(Vec3::new(0.17, 0.012, 0.13), 0.004).mv(0.0, 0.006, 0.0),
    );
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.15, 0.03, 0.11), 0.006).mv(0.0, 0.026, 0.0),
    );
    for i in 0..6 {
        b.add(
            Mat::CastAluminium,
            rounded_box(Vec3::new(0.006, 0.008, 0.085), 0.002).mv(
                -0.055 + i as f32 * 0.022,
                0.044,
                0.0,
            ),
        );
    }
    let words = super::labels::plate(kit, "ENGINE CONTROL", false);
    b.add_own(
        words,
        decal(0.075, 0.012)
            .turn(Vec3::X, -90.0)
            .mv(0.0, 0.0488, 0.03),
    );
    b
}

/// Bracket and covers between an engine's end (z = -`depth`) and a belt at z = 0, crankshaft at
/// the origin.
pub fn bracket(depth: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let deep = depth - 0.02;
    b.add(
        Mat::Plastic([34, 35, 37]),
        rounded_box(Vec3::new(0.20, 0.40, deep), 0.035).mv(0.0, 0.20, -0.02 - deep * 0.5),
    );
    for y in [0.03f32, 0.20, 0.36] {
        for x in [-0.09f32, 0.09] {
            bolt(&mut b, Vec3::new(x, y, -0.019), Vec3::Z, 0.011);
        }
    }
    for (x, y) in [(0.16f32, 0.13f32), (-0.13, 0.30)] {
        b.add(
            Mat::CastAluminium,
            rounded_box(Vec3::new(0.13, 0.05, 0.03), 0.01).mv(x, y, -0.02 - deep * 0.7),
        );
    }
    b
}

/// Turbocharger: compressor snail towards +z, hot side behind it under a shield; inlet at +z.
pub fn turbo() -> PartBuilder {
    let mut b = PartBuilder::new();
    let snail = |r: f32| {
        let path: Vec<Vec3> = (0..=26)
            .map(|i| {
                let a = i as f32 / 26.0 * std::f32::consts::TAU;
                Vec3::new(a.cos() * r, a.sin() * r, 0.0)
            })
            .collect();
        sweep(&path, 14, true, |d| 0.013 + 0.011 * (d / 0.4).min(1.0))
    };
    b.add(Mat::CastAluminium, snail(0.052));
    b.add(
        Mat::CastAluminium,
        cylinder(0.05, 0.03, 26, 0.006)
            .turn(Vec3::X, -90.0)
            .mv(0.0, 0.0, 0.015),
    );
    b.add(
        Mat::CastAluminium,
        ring(0.026, 0.034, 0.05, 24).turn(Vec3::X, 90.0),
    );
    b.add(
        Mat::DarkSteel,
        cylinder(0.028, 0.06, 20, 0.004)
            .turn(Vec3::X, -90.0)
            .mv(0.0, 0.0, -0.02),
    );
    b.add(Mat::Rust, snail(0.05).mv(0.0, 0.0, -0.09));
    let shield = panel(14, 8, |u, v| {
        let a = -1.2 + 2.4 * u;
        Vec3::new(a.sin() * 0.092, a.cos() * 0.092, -0.055 - 0.09 * v)
    });
    b.add(Mat::Steel, shield.clone());
    b.add(Mat::Steel, shield.inside_out());
    b
}

/// The rear of the car: bench seat with a hatch under it, side trim, tail panel with a lamp. Frame:
/// the bay's; everything lies behind z = -1.9.
pub fn rear() -> PartBuilder {
    let mut b = PartBuilder::new();
    let cloth = Mat::Cloth([58, 62, 72]);
    b.add(
        Mat::Cloth([52, 52, 56]),
        rounded_box(Vec3::new(1.44, 0.02, 1.5), 0.004).mv(0.0, -0.63, -2.7),
    );
    // The cushion stands up against the backrest, as one folds it to get at the hatch.
    b.add(
        cloth,
        rounded_box(Vec3::new(1.16, 0.42, 0.14), 0.05).mv(0.0, -0.27, -2.42),
    );
    b.add(
        cloth,
        rounded_box(Vec3::new(1.16, 0.56, 0.12), 0.05)
            .turn(Vec3::X, 8.0)
            .mv(0.0, -0.18, -2.56),
    );
    for x in [-0.34f32, 0.34] {
        b.add(
            cloth,
            rounded_box(Vec3::new(0.22, 0.14, 0.09), 0.04).mv(x, 0.18, -2.60),
        );
    }
    b.add(
        Mat::Satin([70, 72, 76]),
        rounded_box(Vec3::new(1.2, 0.05, 0.36), 0.02).mv(0.0, -0.60, -2.16),
    );
    b.add(
        Mat::DarkSteel,
        rounded_box(Vec3::new(0.26, 0.012, 0.22), 0.006).mv(-0.22, -0.572, -2.16),
    );
    b.add(
        Mat::DarkSteel,
        rounded_box(Vec3::new(0.44, 0.012, 0.03), 0.004).mv(0.24, -0.572, -2.10),
    );
    // Side trim and the tail's inside, behind the seat's side.
    for s in [-1.0f32, 1.0] {
        b.add(
            Mat::Plastic([60, 61, 64]),
            rounded_box(Vec3::new(0.05, 0.62, 0.9), 0.02).mv(0.71 * s, -0.30, -2.45),
        );
    }
    let lamp = through(
        &[
            Vec3::new(0.0, 0.0, 0.0),
            Vec3::new(0.0, 0.04, 0.0),
            Vec3::new(0.0, 0.10, 0.0),
        ],
        3,
    );
    b.add(
        Mat::Gloss([150, 26, 24]),
        tube(&lamp, 0.03, 16, true).mv(0.655, -0.26, -2.70),
    );
    b
}
