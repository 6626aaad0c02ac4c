//! A four-cylinder engine: block, head, covers, coils, manifolds, oil cap. What sits on the head of
//! a diesel is in [`super::diesel`].
//!
//! Frame: crankshaft along z, belt end at z = 0 facing +z, y = 0 at the top of
//! the cam cover. About 0.5 m long.

use super::body::bolt;
use super::curve::{bent, through};
use super::material::{KitAssets, Mat};
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;
use std::f32::consts::PI;

/// Length of the block along the crankshaft, metres.
pub const LENGTH: f32 = 0.50;

/// How an engine looks.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct EngineLook {
    /// Words on its cover.
    pub name: String,
    /// Injectors, pipes and glow plugs in place of coils.
    pub diesel: bool,
    /// Intake and exhaust have changed sides: intake at +x.
    pub mirrored: bool,
    /// The throttle is at the gearbox's end.
    pub throttle_behind: bool,
}

/// The whole engine without its belt drive; anchors `earth.engine`, `oil.cap`,
/// `throttle`, `thermostat`, `dipstick`, and of a diesel those of [`super::diesel::top`].
pub fn engine(kit: &mut KitAssets, look: &EngineLook) -> PartBuilder {
    let mut b = block(kit, look);
    if look.diesel {
        super::diesel::top(&mut b, kit);
    } else {
        coils(&mut b);
    }
    intake(&mut b, look);
    exhaust_shield(&mut b);
    if look.mirrored { b.mirrored() } else { b }
}

/// Block, head, cam covers, filler and timing cover.
fn block(kit: &mut KitAssets, look: &EngineLook) -> PartBuilder {
    let name = &look.name;
    let mut b = PartBuilder::new();
    let mid = -LENGTH * 0.5;
    // Cast iron block and sump.
    b.add(
        Mat::DarkSteel,
        rounded_box(Vec3::new(0.30, 0.26, LENGTH - 0.04), 0.02).mv(0.0, -0.36, mid),
    );
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.27, 0.10, LENGTH - 0.08), 0.03).mv(0.0, -0.53, mid),
    );
    for i in 0..5 {
        let z = -0.06 - i as f32 * 0.095;
        for x in [-0.154, 0.154] {
            b.add(
                Mat::DarkSteel,
                rounded_box(Vec3::new(0.014, 0.22, 0.03), 0.006).mv(x, -0.36, z),
            );
        }
    }
    // Head.
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.29, 0.115, LENGTH - 0.02), 0.012).mv(0.0, -0.165, mid),
    );
    b.add(
        Mat::DarkSteel,
        rounded_box(Vec3::new(0.296, 0.006, LENGTH - 0.015), 0.001).mv(0.0, -0.225, mid),
    );
    // Cam cover: cast, ribbed along, with a rubber gasket line and bolts round the rim.
    b.add(
        Mat::Rubber,
        rounded_box(Vec3::new(0.272, 0.006, LENGTH - 0.025), 0.002).mv(0.0, -0.105, mid),
    );
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.275, 0.022, LENGTH - 0.02), 0.006).mv(0.0, -0.092, mid),
    );
    for side in [-1.0f32, 1.0] {
        b.add(
            Mat::CastAluminium,
            rounded_box(Vec3::new(0.095, 0.075, LENGTH - 0.05), 0.028).mv(0.08 * side, -0.05, mid),
        );
        for k in 0..3 {
            b.add(
                Mat::CastAluminium,
                rounded_box(Vec3::new(0.008, 0.012, LENGTH - 0.12), 0.004).mv(
                    0.08 * side + (k as f32 - 1.0) * 0.022,
                    -0.012,
                    mid,
                ),
            );
        }
        for i in 0..5 {
            let z = -0.03 - i as f32 * 0.11;
            bolt(&mut b, Vec3::new(0.131 * side, -0.081, z), Vec3::Y, 0.011);
        }
    }
    // Oil filler.
    let cap = Vec3::new(0.082, -0.014, -0.10);
    b.add(
        Mat::CastAluminium,
        cylinder(0.028, 0.02, 24, 0.003).mv(cap.x, cap.y, cap.z),
    );
    b.add(
        Mat::Plastic([22, 22, 23]),
        lathe(
            &[
                (0.030, 0.0),
                (0.032, 0.004),
                (0.032, 0.016),
                (0.027, 0.02),
                (0.0, 0.02),
            ],
            24,
        )
        .with(rounded_box(Vec3::new(0.05, 0.014, 0.014), 0.004).mv(0.0, 0.024, 0.0))
        .mv(cap.x, cap.y + 0.018, cap.z),
    );
    let oil = super::labels::lettering(kit, "OIL", [225, 200, 90]);
    b.add_own(
        oil,
        decal(0.026, 0.009)
            .turn(Vec3::X, -90.0)
            .mv(cap.x, cap.y + 0.0396, cap.z + 0.016),
    );
    b.anchor_out("oil.cap", cap + Vec3::Y * 0.05, Vec3::Y);
    // Name plate on the cover.
    let letters = super::labels::lettering(kit, name, [24, 24, 26]);
    let aspect = super::labels::lettering_aspect(name);
    b.add_own(
        letters,
        decal(0.020 * aspect, 0.020)
            .turn(Vec3::Z, 90.0)
            .turn(Vec3::X, -90.0)
            .mv(0.115, -0.0265, -0.30),
    );
    // Timing cover at the belt end.
    let cover: Vec<Vec2> = [
        (-0.13, -0.09),
        (-0.145, -0.2),
        (-0.15, -0.46),
        (-0.09, -0.55),
        (0.09, -0.55),
        (0.15, -0.46),
        (0.145, -0.2),
        (0.13, -0.09),
    ]
    .iter()
    .map(|p| Vec2::new(p.0, p.1))
    .collect();
    b.add(
        Mat::CastAluminium,
        extrude(&cover, 0.03, 0.008).mv(0.0, 0.0, -0.025),
    );
    for (x, y) in [
        (-0.128, -0.11),
        (0.128, -0.11),
        (-0.14, -0.3),
        (0.14, -0.3),
        (-0.085, -0.535),
        (0.085, -0.535),
        (-0.05, -0.10),
        (0.05, -0.10),
    ] {
        bolt(&mut b, Vec3::new(x, y, 0.004), Vec3::Z, 0.011);
    }
    // Thermostat housing and its spout for the top hose.
    let spout = Vec3::new(-0.06, -0.135, 0.035);
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.075, 0.06, 0.05), 0.014).mv(-0.06, -0.13, 0.0),
    );
    b.add(
        Mat::CastAluminium,
        cylinder(0.019, 0.05, 18, 0.002)
            .turn(Vec3::X, 90.0)
            .mv(spout.x, spout.y, 0.02),
    );
    b.anchor_out("thermostat", spout + Vec3::Z * 0.03, Vec3::Z);
    // Dipstick.
    let stick = [
        Vec3::new(0.16, -0.45, -0.2),
        Vec3::new(0.175, -0.2, -0.19),
        Vec3::new(0.168, -0.04, -0.17),
    ];
    b.add(Mat::Steel, tube(&through(&stick, 6), 0.0045, 8, true));
    b.add(
        Mat::Gloss([235, 170, 20]),
        tube(
            &super::body::ring_path(Vec3::ZERO, 0.014, 18),
            0.0045,
            8,
            false,
        )
        .turn(Vec3::X, 90.0)
        .mv(0.168, -0.022, -0.17),
    );
    b.anchor_out("dipstick", Vec3::new(0.168, -0.01, -0.17), Vec3::Y);
    bolt(&mut b, Vec3::new(0.10, -0.12, 0.008), Vec3::Z, 0.014);
    b.anchor_out("earth.engine", Vec3::new(0.10, -0.12, 0.02), Vec3::Z);
    b
}

/// Four coils between the cams, and their rail.
fn coils(b: &mut PartBuilder) {
    let mid = -LENGTH * 0.5;
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.07, 0.05, LENGTH - 0.05), 0.01).mv(0.0, -0.07, mid),
    );
    for i in 0..4 {
        let z = -0.085 - i as f32 * 0.11;
        b.add(
            Mat::Plastic([26, 26, 28]),
            rounded_box(Vec3::new(0.046, 0.04, 0.055), 0.008).mv(0.0, -0.032, z),
        );
        b.add(
            Mat::Rubber,
            cylinder(0.017, 0.03, 14, 0.003).mv(0.0, -0.062, z),
        );
        b.add(
            Mat::Plastic([70, 70, 72]),
            rounded_box(Vec3::new(0.026, 0.02, 0.024), 0.004).mv(-0.03, -0.026, z + 0.004),
        );
        bolt(b, Vec3::new(0.016, -0.012, z - 0.018), Vec3::Y, 0.009);
        let wire = [
            Vec3::new(-0.042, -0.026, z + 0.004),
            Vec3::new(-0.055, -0.018, z + 0.01),
            Vec3::new(-0.034, -0.008, z + 0.035),
        ];
        b.add(Mat::Rubber, tube(&through(&wire, 5), 0.0045, 6, false));
    }
    let rail = [
        Vec3::new(-0.034, -0.006, -0.03),
        Vec3::new(-0.034, -0.004, -0.2),
        Vec3::new(-0.036, -0.004, -0.42),
        Vec3::new(-0.04, -0.03, -0.53),
        Vec3::new(-0.06, -0.06, -0.60),
    ];
    corrugated(b, &rail, 0.009);
}

/// Plastic intake manifold on the -x side with throttle body and, on a petrol engine, injectors.
fn intake(b: &mut PartBuilder, look: &EngineLook) {
    let black = Mat::Plastic([30, 30, 32]);
    let plenum_x = -0.285;
    // A diesel's leaves room for the pump in front of it.
    let (from, to) = if look.diesel {
        (-0.15, -0.46)
    } else {
        (-0.03, -0.46)
    };
    b.add(
        black,
        rounded_box(Vec3::new(0.11, 0.095, from - to), 0.04).mv(plenum_x, -0.11, (from + to) * 0.5),
    );
    for k in (0..6).filter(|k| -0.07 - *k as f32 * 0.07 < from) {
        b.add(
            black,
            rounded_box(Vec3::new(0.118, 0.103, 0.006), 0.042).mv(
                plenum_x,
                -0.11,
                -0.07 - k as f32 * 0.07,
            ),
        );
    }
    for i in 0..4 {
        let z = -0.085 - i as f32 * 0.11;
        let runner = [
            Vec3::new(plenum_x + 0.02, -0.075, z.min(from - 0.02)),
            Vec3::new(plenum_x + 0.06, -0.052, z.min(from - 0.01)),
            Vec3::new(-0.185, -0.075, z),
            Vec3::new(-0.15, -0.125, z),
            Vec3::new(-0.138, -0.15, z),
        ];
        b.add(black, tube(&through(&runner, 5), 0.026, 14, false));
        b.add(
            black,
            rounded_box(Vec3::new(0.02, 0.07, 0.075), 0.008).mv(-0.15, -0.155, z),
        );
        if look.diesel {
            continue;
        }
        // Injector.
        b.add(
            Mat::Gloss([90, 60, 30]),
            cylinder(0.009, 0.045, 12, 0.002)
                .turn(Vec3::Z, 35.0)
                .mv(-0.15, -0.115, z + 0.03),
        );
    }
    if !look.diesel {
        let rail = [
            Vec3::new(-0.178, -0.068, -0.04),
            Vec3::new(-0.178, -0.068, -0.46),
        ];
        b.add(Mat::BareAluminium, tube(&rail, 0.011, 12, true));
    }
    // Throttle body at one end of the plenum.
    let (z, out) = if look.throttle_behind {
        (-0.485, -1.0)
    } else {
        (from + 0.025, 1.0)
    };
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.085, 0.085, 0.05), 0.012).mv(plenum_x, -0.11, z),
    );
    b.add(
        Mat::CastAluminium,
        cylinder(0.034, 0.03, 22, 0.003).turn(Vec3::X, 90.0).mv(
            plenum_x,
            -0.11,
            z + 0.02 * out - 0.015 + 0.015 * out,
        ),
    );
    b.add(
        Mat::Plastic([60, 60, 62]),
        rounded_box(Vec3::new(0.035, 0.05, 0.045), 0.008).mv(plenum_x - 0.055, -0.11, z),
    );
    b.anchor_out(
        "throttle",
        Vec3::new(plenum_x, -0.11, z + 0.05 * out),
        Vec3::Z * out,
    );
}

/// Pressed heat shield over the exhaust manifold on the +x side.
fn exhaust_shield(b: &mut PartBuilder) {
    let shield = panel(22, 10, |u, v| {
        let z = -0.03 - 0.42 * u;
        let a = v * 1.9;
        let bumps = 0.012 * (u * 25.1).sin().powi(2);
        let r = 0.085 + bumps * (v * PI).sin();
        Vec3::new(0.145 + r * a.sin(), -0.25 + r * a.cos() * 1.1, z)
    });
    b.add(Mat::Steel, shield.clone());
    b.add(Mat::Steel, shield.inside_out());
    for z in [-0.08, -0.40] {
        bolt(
            b,
            Vec3::new(0.215, -0.205, z),
            Vec3::new(1.0, 0.7, 0.0),
            0.012,
        );
    }
    b.add(
        Mat::Rust,
        tube(
            &bent(
                &[
                    Vec3::new(0.19, -0.30, -0.08),
                    Vec3::new(0.19, -0.34, -0.30),
                    Vec3::new(0.12, -0.60, -0.42),
                ],
                0.08,
                5,
            ),
            0.026,
            12,
            true,
        ),
    );
}

/// A wire bundle in corrugated sleeve along `knots`.
pub fn corrugated(b: &mut PartBuilder, knots: &[Vec3], radius: f32) {
    let path = through(knots, 7);
    // The rings are in the texture: modelled, they would take most of a bay's triangles.
    b.add(Mat::Sleeve, tube(&path, radius, 10, true));
}

/// The same path in `n` equal steps.
pub fn resample(path: &[Vec3], n: usize) -> Vec<Vec3> {
    let length: f32 = path.windows(2).map(|w| w[0].distance(w[1])).sum();
    let mut out = Vec::with_capacity(n + 1);
    let (mut i, mut walked) = (0, 0.0);
    for k in 0..=n {
        let want = length * k as f32 / n as f32;
        while i + 2 < path.len() && walked + path[i].distance(path[i + 1]) < want {
            walked += path[i].distance(path[i + 1]);
            i += 1;
        }
        let span = path[i].distance(path[i + 1]).max(1e-9);
        out.push(path[i].lerp(path[i + 1], ((want - walked) / span).clamp(0.0, 1.0)));
    }
    out
}
