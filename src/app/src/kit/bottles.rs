//! Battery, fluid bottles, air filter and intake duct.

use super::body::bolt;
use super::curve::through;
use super::engine::{corrugated, resample};
use super::geo::Geo;
use super::material::{KitAssets, Mat, Rgb};
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;

/// A starter battery standing on the origin, long side along x, posts at the
/// back (-z); anchors `post.plus`, `post.minus`, `clamp.plus`, `clamp.minus`.
pub fn battery(kit: &mut KitAssets) -> PartBuilder {
    let mut b = PartBuilder::new();
    let (l, w, h) = (0.242, 0.175, 0.175);
    let case = Mat::Plastic([27, 29, 33]);
    b.add(
        case,
        rounded_box(Vec3::new(l, h - 0.02, w), 0.006).mv(0.0, (h - 0.02) * 0.5, 0.0),
    );
    b.add(
        case,
        rounded_box(Vec3::new(l + 0.006, 0.03, w + 0.006), 0.005).mv(0.0, h - 0.02, 0.0),
    );
    for i in 0..9 {
        let x = -0.10 + i as f32 * 0.025;
        b.add(
            case,
            rounded_box(Vec3::new(0.004, h - 0.07, w + 0.005), 0.0015).mv(x, 0.06, 0.0),
        );
    }
    // Six filler plugs under one strip.
    b.add(
        Mat::Plastic([38, 40, 45]),
        rounded_box(Vec3::new(l - 0.03, 0.008, 0.04), 0.003).mv(0.0, h - 0.003, 0.02),
    );
    for i in 0..6 {
        let x = -0.09 + i as f32 * 0.036;
        b.add(case, cylinder(0.011, 0.004, 18, 0.001).mv(x, h, 0.02));
    }
    // Tray and hold-down.
    b.add(
        Mat::Satin([28, 28, 30]),
        rounded_box(Vec3::new(l + 0.03, 0.012, w + 0.03), 0.004).mv(0.0, -0.006, 0.0),
    );
    let strap = [
        Vec3::new(0.0, 0.0, w * 0.5 + 0.012),
        Vec3::new(0.0, h + 0.006, w * 0.5 + 0.012),
        Vec3::new(0.0, h + 0.006, -w * 0.5 - 0.012),
        Vec3::new(0.0, 0.0, -w * 0.5 - 0.012),
    ];
    for x in [-0.006, 0.006] {
        let s: Vec<Vec3> = strap.iter().map(|p| *p + Vec3::X * x).collect();
        b.add(
            Mat::DarkSteel,
            tube(&super::curve::bent(&s, 0.014, 4), 0.004, 8, true),
        );
    }
    bolt(
        &mut b,
        Vec3::new(0.0, h * 0.3, w * 0.5 + 0.016),
        Vec3::Z,
        0.013,
    );
    let label = super::labels::battery(kit);
    b.add_own(
        label.clone(),
        decal(0.15, 0.075).mv(0.0, 0.075, w * 0.5 + 0.0034),
    );
    b.add_own(
        label,
        decal(0.10, 0.05)
            .turn(Vec3::X, -90.0)
            .mv(-0.055, h - 0.0044, 0.062),
    );
    for (sign, name, x) in [(1.0f32, "plus", 0.085f32), (-1.0, "minus", -0.085)] {
        let post = Vec3::new(x, h - 0.006, -0.055);
        b.add(
            Mat::Lead,
            lathe(
                &[(0.0125, 0.0), (0.0098, 0.02), (0.0085, 0.022), (0.0, 0.022)],
                20,
            )
            .mv(post.x, post.y, post.z),
        );
        // Clamp.
        b.add(
            Mat::Lead,
            ring(0.0105, 0.0165, 0.014, 22).mv(post.x, post.y + 0.004, post.z),
        );
        for s in [-1.0f32, 1.0] {
            b.add(
                Mat::Lead,
                rounded_box(Vec3::new(0.007, 0.013, 0.02), 0.002).mv(
                    post.x + 0.007 * s,
                    post.y + 0.011,
                    post.z - 0.022,
                ),
            );
        }
        bolt(
            &mut b,
            Vec3::new(post.x + 0.011, post.y + 0.011, post.z - 0.024),
            Vec3::X,
            0.011,
        );
        let colour: Rgb = if sign > 0.0 {
            [150, 26, 24]
        } else {
            [24, 24, 26]
        };
        let cable = [
            Vec3::new(post.x, post.y + 0.011, post.z - 0.03),
            Vec3::new(post.x, post.y + 0.012, post.z - 0.055),
            Vec3::new(post.x + 0.015, post.y - 0.03, post.z - 0.09),
            Vec3::new(post.x + 0.02 * sign, post.y - 0.14, post.z - 0.10),
        ];
        b.add(Mat::Rubber, tube(&through(&cable, 7), 0.0068, 10, true));
        b.add(
            Mat::Gloss(colour),
            tube(&resample(&through(&cable, 7), 20)[1..6], 0.0078, 10, true),
        );
        if sign > 0.0 {
            // The red cover stands open over the positive clamp.
            b.add(
                Mat::Plastic([165, 28, 26]),
                rounded_box(Vec3::new(0.052, 0.006, 0.06), 0.002)
                    .turn(Vec3::X, -72.0)
                    .mv(post.x, post.y + 0.038, post.z + 0.034),
            );
        }
        let mark =
            super::labels::lettering(kit, if sign > 0.0 { "+" } else { "-" }, [235, 235, 235]);
        b.add_own(
            mark,
            decal(0.018, 0.02)
                .turn(Vec3::X, -90.0)
                .mv(x * 0.68, h - 0.0043, -0.055),
        );
        b.anchor_out(&format!("post.{name}"), post + Vec3::Y * 0.022, Vec3::Y);
        b.anchor_out(
            &format!("clamp.{name}"),
            post + Vec3::new(0.0, 0.018, -0.024),
            Vec3::Y,
        );
    }
    b
}

/// A see-through fluid bottle standing on the origin, `size` metres, filled to
/// `level` (0..1) with a fluid of the given colour; anchor `cap`.
pub fn bottle(size: Vec3, fluid: Rgb, cap: Rgb, level: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let body = rounded_box(size, size.min_element() * 0.22).mv(0.0, size.y * 0.5, 0.0);
    b.add(Mat::Clear([226, 226, 214], 150), body);
    let fill = Vec3::new(size.x - 0.008, (size.y - 0.01) * level, size.z - 0.008);
    b.add(
        Mat::Gloss(fluid),
        rounded_box(fill, size.min_element() * 0.2).mv(0.0, fill.y * 0.5 + 0.004, 0.0),
    );
    let seam = rounded_box(Vec3::new(size.x + 0.006, 0.005, size.z + 0.006), 0.002);
    b.add(
        Mat::Clear([214, 214, 202], 220),
        seam.mv(0.0, size.y * 0.62, 0.0),
    );
    b.add(
        Mat::Clear([226, 226, 214], 200),
        cylinder(0.024, 0.025, 20, 0.003).mv(0.0, size.y, 0.0),
    );
    b.add(
        Mat::Gloss(cap),
        lathe(
            &[
                (0.029, 0.0),
                (0.031, 0.003),
                (0.031, 0.02),
                (0.027, 0.025),
                (0.0, 0.026),
            ],
            22,
        )
        .mv(0.0, size.y + 0.012, 0.0),
    );
    for i in 0..10 {
        b.add(
            Mat::Gloss(cap),
            rounded_box(Vec3::new(0.004, 0.018, 0.004), 0.001)
                .mv(0.031, size.y + 0.024, 0.0)
                .turn(Vec3::Y, i as f32 * 36.0),
        );
    }
    b.anchor_out("cap", Vec3::Y * (size.y + 0.038), Vec3::Y);
    b
}

/// A washer filler neck: only the neck of the bottle below shows.
pub fn washer_neck() -> PartBuilder {
    let mut b = PartBuilder::new();
    let neck = [
        Vec3::new(0.02, -0.32, 0.0),
        Vec3::new(0.0, -0.2, 0.0),
        Vec3::new(0.0, 0.0, 0.0),
    ];
    b.add(
        Mat::Clear([226, 226, 214], 225),
        tube(&through(&neck, 8), 0.02, 16, true),
    );
    b.add(
        Mat::Gloss([24, 60, 130]),
        lathe(
            &[(0.03, 0.0), (0.031, 0.012), (0.02, 0.018), (0.0, 0.019)],
            22,
        ),
    );
    b.add(
        Mat::Gloss([24, 60, 130]),
        rounded_box(Vec3::new(0.028, 0.006, 0.018), 0.002).mv(0.035, 0.006, 0.0),
    );
    b.anchor_out("cap", Vec3::Y * 0.02, Vec3::Y);
    b
}

/// Brake booster and master cylinder on the bulkhead, facing +z; anchor `cap`.
pub fn brake_booster() -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Satin([22, 22, 24]),
        lathe(
            &[
                (0.0, 0.0),
                (0.10, 0.0),
                (0.112, 0.012),
                (0.114, 0.03),
                (0.118, 0.032),
                (0.118, 0.038),
                (0.112, 0.04),
                (0.10, 0.07),
                (0.06, 0.095),
                (0.035, 0.10),
                (0.0, 0.10),
            ],
            36,
        )
        .turn(Vec3::X, 90.0),
    );
    b.add(
        Mat::CastAluminium,
        cylinder(0.019, 0.12, 18, 0.004)
            .turn(Vec3::X, 90.0)
            .mv(0.0, 0.0, 0.095),
    );
    let mut tank = bottle(
        Vec3::new(0.075, 0.05, 0.10),
        [196, 160, 70],
        [30, 30, 32],
        0.8,
    );
    let cap = tank.anchors.remove("cap");
    b.absorb(tank, Transform::from_xyz(0.0, 0.022, 0.155));
    if let Some(c) = cap {
        b.anchor("cap", Transform::from_xyz(0.0, 0.022, 0.155) * c);
    }
    for (i, z) in [0.125f32, 0.175].iter().enumerate() {
        let s = [
            Vec3::new(0.018, -0.004, *z),
            Vec3::new(0.05, -0.01, *z),
            Vec3::new(0.07, -0.05 - 0.02 * i as f32, *z - 0.06),
            Vec3::new(0.10, -0.22, *z - 0.11),
        ];
        b.add(Mat::Copper, tube(&through(&s, 7), 0.0026, 8, true));
    }
    let vacuum = [
        Vec3::new(-0.05, 0.05, 0.075),
        Vec3::new(-0.055, 0.055, 0.115),
        Vec3::new(-0.12, 0.04, 0.16),
        Vec3::new(-0.26, 0.0, 0.15),
    ];
    b.add(Mat::Rubber, tube(&through(&vacuum, 8), 0.0085, 10, true));
    b
}

/// Air filter box standing on the origin; anchor `outlet` on its -z side.
pub fn air_box() -> PartBuilder {
    let mut b = PartBuilder::new();
    let black = Mat::Plastic([25, 25, 27]);
    let lid = Mat::Plastic([34, 34, 36]);
    b.add(
        black,
        rounded_box(Vec3::new(0.21, 0.14, 0.25), 0.02).mv(0.0, 0.07, 0.0),
    );
    b.add(
        black,
        rounded_box(Vec3::new(0.232, 0.014, 0.272), 0.005).mv(0.0, 0.142, 0.0),
    );
    b.add(
        lid,
        rounded_box(Vec3::new(0.226, 0.012, 0.266), 0.005).mv(0.0, 0.155, 0.0),
    );
    b.add(
        lid,
        rounded_box(Vec3::new(0.2, 0.05, 0.24), 0.02).mv(0.0, 0.172, 0.0),
    );
    for k in 0..5 {
        b.add(
            lid,
            rounded_box(Vec3::new(0.012, 0.008, 0.19), 0.004).mv(
                -0.07 + k as f32 * 0.035,
                0.197,
                0.0,
            ),
        );
    }
    for (x, z) in [
        (0.119, 0.07),
        (0.119, -0.07),
        (-0.119, 0.07),
        (-0.119, -0.07),
    ] {
        b.add(
            Mat::Steel,
            rounded_box(Vec3::new(0.006, 0.04, 0.018), 0.002).mv(x, 0.15, z),
        );
        b.add(
            Mat::Steel,
            tube(
                &[Vec3::new(x, 0.168, z - 0.01), Vec3::new(x, 0.168, z + 0.01)],
                0.003,
                6,
                true,
            ),
        );
    }
    // Snorkel to the front.
    b.add(
        black,
        rounded_box(Vec3::new(0.10, 0.05, 0.12), 0.016).mv(0.03, 0.13, 0.17),
    );
    // Air mass meter at the outlet.
    b.add(
        black,
        cylinder(0.036, 0.045, 24, 0.003)
            .turn(Vec3::X, -90.0)
            .mv(0.05, 0.165, -0.115),
    );
    b.add(
        Mat::Plastic([62, 63, 66]),
        rounded_box(Vec3::new(0.03, 0.03, 0.03), 0.004).mv(0.05, 0.205, -0.14),
    );
    b.anchor_out("outlet", Vec3::new(0.05, 0.165, -0.16), -Vec3::Z);
    b
}

/// Intake duct with bellows and band clips along `knots`.
pub fn intake_duct(knots: &[Vec3], radius: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let rough = through(knots, 14);
    let length: f32 = rough.windows(2).map(|w| w[0].distance(w[1])).sum();
    let path = resample(&rough, 110);
    b.add(
        Mat::Rubber,
        sweep(&path, 18, true, |d| {
            let f = d / length;
            let bellows = f > 0.3 && f < 0.62;
            if bellows {
                radius * (1.0 + 0.10 * (d * 620.0).sin())
            } else {
                radius
            }
        }),
    );
    for i in [5usize, 104] {
        let dir = (path[i + 1] - path[i]).normalize();
        let t = Transform::from_translation(path[i])
            .with_rotation(Quat::from_rotation_arc(Vec3::Y, dir));
        let clip: Geo = ring(radius * 1.0, radius * 1.05, 0.010, 28)
            .with(rounded_box(Vec3::new(0.016, 0.012, 0.014), 0.003).mv(radius * 1.1, 0.005, 0.0));
        b.add(Mat::Steel, clip.at(t));
    }
    b
}

/// A run of wiring in corrugated sleeve with clips; anchors `end.a`, `end.b`.
pub fn harness(knots: &[Vec3], radius: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    corrugated(&mut b, knots, radius);
    let path = resample(&through(knots, 8), 40);
    for i in [8usize, 20, 32] {
        let dir = (path[i + 1] - path[i]).normalize();
        let t = Transform::from_translation(path[i])
            .with_rotation(Quat::from_rotation_arc(Vec3::Y, dir));
        b.add(
            Mat::Cloth([22, 22, 24]),
            cylinder(radius * 1.12, 0.022, 12, 0.002).at(t),
        );
    }
    b.anchor("end.a", Transform::from_translation(knots[0]));
    b.anchor("end.b", Transform::from_translation(knots[knots.len() - 1]));
    b
}
