//! The car's own sheet metal round the bay: wings, bulkhead, front panel, bonnet.
//!
//! Frame: x to the car's left (the viewer's right when standing in front of the
//! car), y up with 0 at the wings' rim, z to the front. All sizes from [`BaySize`].

use super::curve::through;
use super::geo::Geo;
use super::material::{KitAssets, Mat, Rgb};
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;
use std::f32::consts::TAU;

/// Inside measures of a bay, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BaySize {
    /// From the middle to a wing's rim.
    pub half_width: f32,
    /// The slam panel's z.
    pub front: f32,
    /// The bulkhead's z (negative).
    pub back: f32,
    /// Rim to the lowest visible metal.
    pub depth: f32,
}

impl Default for BaySize {
    fn default() -> Self {
        BaySize {
            half_width: 0.70,
            front: 0.50,
            back: -0.50,
            depth: 0.62,
        }
    }
}

/// A bolt head on the surface at `p`, facing `out`.
pub fn bolt(b: &mut PartBuilder, p: Vec3, out: Vec3, across: f32) {
    let turn = Quat::from_rotation_arc(Vec3::Y, out.normalize());
    let t = Transform::from_translation(p).with_rotation(turn);
    b.add(
        Mat::Steel,
        cylinder(across * 0.85, across * 0.18, 12, 0.0)
            .with(hexagon(across, across * 0.7))
            .at(t),
    );
}

/// Smooth step between two values.
pub fn smooth(a: f32, b: f32, x: f32) -> f32 {
    let t = ((x - a) / (b - a)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// Point on a polyline section at v in 0..=1, smoothed.
fn section(points: &[(f32, f32)], v: f32) -> Vec2 {
    let knots: Vec<Vec3> = points.iter().map(|p| Vec3::new(p.0, p.1, 0.0)).collect();
    let fine = through(&knots, 8);
    let f = v * (fine.len() - 1) as f32;
    let i = (f as usize).min(fine.len() - 2);
    fine[i].lerp(fine[i + 1], f - i as f32).truncate()
}

/// Both inner and outer wings with strut towers; anchors `strut.left`, `strut.right`,
/// `wing.left`, `wing.right` (rim tops).
pub fn wings(s: BaySize, paint: Rgb) -> PartBuilder {
    let mut b = PartBuilder::new();
    let (w, d) = (s.half_width, s.depth);
    let strut_z = s.back + (s.front - s.back) * 0.27;
    let inner_section = [
        (w + 0.005, 0.0),
        (w - 0.02, -0.012),
        (w - 0.05, -0.022),
        (w - 0.062, -0.06),
        (w - 0.075, -0.2),
        (w - 0.11, -0.38),
        (w - 0.19, -0.5),
        (w - 0.3, -d),
    ];
    let inner = panel(26, 22, |u, v| {
        let z = s.front + 0.02 + (s.back - s.front - 0.04) * u;
        let p = section(&inner_section, v);
        let tower = (-((z - strut_z) / 0.105).powi(2)).exp() * smooth(-0.05, -0.12, p.y);
        // Two pressed ribs stiffen the sheet, as presses leave them.
        let rib = ((z - 0.18) / 0.02).powi(2).min(9.0);
        let rib2 = ((z - 0.34) / 0.02).powi(2).min(9.0);
        let press = 0.008 * ((-rib).exp() + (-rib2).exp()) * smooth(-0.07, -0.12, p.y);
        Vec3::new(p.x - 0.13 * tower - press, p.y, z)
    });
    let outer_section = [
        (w + 0.005, 0.0),
        (w + 0.02, 0.012),
        (w + 0.07, 0.012),
        (w + 0.14, -0.02),
        (w + 0.18, -0.09),
        (w + 0.19, -0.2),
        (w + 0.185, -0.42),
    ];
    let outer = panel(20, 18, |u, v| {
        let z = s.back - 0.35 + (s.front - s.back + 0.45) * u;
        let p = section(&outer_section, v);
        let fall = smooth(s.front - 0.2, s.front + 0.1, z);
        Vec3::new(p.x, p.y - 0.045 * fall * fall, z)
    });
    let arch = panel(24, 1, |u, v| {
        let a = u * std::f32::consts::PI;
        let r = 0.335 + 0.03 * v;
        Vec3::new(
            w + 0.189 - 0.01 * v,
            -0.62 + r * a.sin(),
            strut_z + r * a.cos(),
        )
    });
    let tower = lathe(
        &[
            (0.115, -0.06),
            (0.105, -0.012),
            (0.092, 0.0),
            (0.05, 0.004),
            (0.045, 0.012),
            (0.0, 0.014),
        ],
        28,
    );
    let tyre = lathe(
        &[
            (0.20, -0.09),
            (0.27, -0.095),
            (0.295, -0.08),
            (0.30, 0.0),
            (0.295, 0.08),
            (0.27, 0.095),
            (0.20, 0.09),
        ],
        36,
    )
    .turn(Vec3::Z, 90.0);
    let seal: Vec<Vec3> = (0..=16)
        .map(|i| {
            let f = i as f32 / 16.0;
            Vec3::new(
                w - 0.005,
                0.004,
                s.back + 0.02 + (s.front - s.back - 0.04) * f,
            )
        })
        .collect();
    // Undertray and the cross member over it close the bay below.
    b.add(
        Mat::Plastic([20, 20, 21]),
        rounded_box(
            Vec3::new(2.0 * (w - 0.2), 0.012, s.front - s.back + 0.1),
            0.004,
        )
        .mv(0.0, -d - 0.01, (s.front + s.back) * 0.5 + 0.04),
    );
    b.add(
        Mat::DarkSteel,
        rounded_box(Vec3::new(2.0 * (w - 0.2), 0.07, 0.11), 0.02).mv(
            0.0,
            -d + 0.03,
            strut_z + 0.04,
        ),
    );
    b.add(
        Mat::DarkSteel,
        tube(
            &[
                Vec3::new(-w + 0.1, -d + 0.1, strut_z - 0.05),
                Vec3::new(w - 0.1, -d + 0.1, strut_z - 0.05),
            ],
            0.022,
            12,
            true,
        ),
    );
    for side in [1.0f32, -1.0] {
        let flip = |g: Geo| if side < 0.0 { g.mirror_x() } else { g };
        b.add(Mat::Satin(paint), flip(inner.clone()));
        b.add(Mat::Paint(paint), flip(outer.clone()));
        b.add(Mat::Rubber, flip(arch.clone()));
        b.add(
            Mat::Rubber,
            tyre.clone().mv((w + 0.10) * side, -0.62, strut_z),
        );
        b.add(
            Mat::BareAluminium,
            cylinder(0.20, 0.01, 28, 0.004)
                .turn(Vec3::Z, -90.0 * side)
                .mv((w + 0.165) * side, -0.62, strut_z),
        );
        b.add(Mat::Rubber, flip(tube(&seal, 0.007, 8, true)));
        let top = Vec3::new((w - 0.13) * side, -0.075, strut_z);
        b.add(Mat::Satin(paint), tower.clone().mv(top.x, top.y, top.z));
        b.add(
            Mat::DarkSteel,
            cylinder(0.02, 0.02, 16, 0.003).mv(top.x, top.y + 0.012, top.z),
        );
        for i in 0..3 {
            let a = i as f32 * TAU / 3.0 + 0.4;
            let p = top + Vec3::new(a.cos() * 0.068, 0.003, a.sin() * 0.068);
            bolt(&mut b, p, Vec3::Y, 0.014);
            b.add(
                Mat::Steel,
                cylinder(0.004, 0.022, 8, 0.001).mv(p.x, p.y, p.z),
            );
        }
        b.add(
            Mat::Rubber,
            tube(
                &ring_path(Vec3::new(top.x, top.y + 0.012, top.z), 0.032, 20),
                0.005,
                6,
                false,
            ),
        );
        // The chassis leg along the bottom.
        b.add(
            Mat::Satin(paint),
            rounded_box(Vec3::new(0.09, 0.11, s.front - s.back), 0.012).mv(
                (w - 0.25) * side,
                -d + 0.06,
                (s.front + s.back) * 0.5,
            ),
        );
        for i in 0..6 {
            let z = s.back + 0.08 + i as f32 * (s.front - s.back - 0.16) / 5.0;
            bolt(
                &mut b,
                Vec3::new((w - 0.033) * side, -0.017, z),
                Vec3::Y,
                0.012,
            );
        }
        let name = if side > 0.0 { "left" } else { "right" };
        b.anchor_out(&format!("strut.{name}"), top + Vec3::Y * 0.02, Vec3::Y);
        b.anchor_out(
            &format!("wing.{name}"),
            Vec3::new((w + 0.06) * side, 0.014, 0.1),
            Vec3::Y,
        );
    }
    b
}

/// A closed ring of points about +Y.
pub fn ring_path(centre: Vec3, r: f32, n: usize) -> Vec<Vec3> {
    (0..=n)
        .map(|i| {
            let a = i as f32 / n as f32 * TAU;
            centre + Vec3::new(a.cos() * r, 0.0, a.sin() * r)
        })
        .collect()
}

/// Bulkhead, scuttle, windscreen base; anchors `earth.bulkhead`, `grommet`.
pub fn bulkhead(s: BaySize, paint: Rgb) -> PartBuilder {
    let mut b = PartBuilder::new();
    let (w, d, z) = (s.half_width, s.depth, s.back);
    let wall = panel(20, 14, |u, v| {
        let x = -w + 2.0 * w * u;
        let y = -d + (d - 0.03) * v;
        // The toe board leans back below, the gearbox tunnel bulges in the middle.
        let lean = -0.10 * smooth(-0.35, -d, y);
        let tunnel = 0.10 * (-(x / 0.17).powi(2)).exp() * smooth(-0.3, -0.5, y);
        let ledge = 0.035 * smooth(-0.13, -0.16, y);
        Vec3::new(x, y, z + lean + ledge - tunnel)
    });
    b.add(Mat::Satin(paint), wall);
    // Sound-deadening pad, quilted by its clips.
    let pad = panel(30, 10, |u, v| {
        let (x, y) = (-0.46 + 0.92 * u, -0.40 + 0.25 * v);
        let quilt = (u * 3.0 * TAU).sin().powi(2) * (v * TAU).sin().powi(2);
        Vec3::new(x, y, z + 0.042 + 0.016 * quilt.powf(0.4))
    });
    b.add(Mat::Cloth([70, 69, 68]), pad);
    for x in [-0.31, 0.0, 0.31] {
        for y in [-0.19, -0.36] {
            b.add(
                Mat::Plastic([24, 24, 25]),
                cylinder(0.014, 0.006, 14, 0.002)
                    .turn(Vec3::X, 90.0)
                    .mv(x, y, z + 0.05),
            );
        }
    }
    // Upper cross panel and scuttle.
    b.add(
        Mat::Satin(paint),
        rounded_box(Vec3::new(2.0 * w, 0.03, 0.07), 0.008).mv(0.0, -0.022, z - 0.02),
    );
    b.add(
        Mat::Plastic([28, 28, 29]),
        rounded_box(Vec3::new(2.0 * w - 0.02, 0.035, 0.15), 0.012).mv(0.0, 0.012, z - 0.10),
    );
    for i in 0..26 {
        let x = -0.52 + i as f32 * 0.0416;
        b.add(
            Mat::Void,
            rounded_box(Vec3::new(0.026, 0.002, 0.07), 0.001).mv(x, 0.0295, z - 0.10),
        );
    }
    let seal: Vec<Vec3> = (0..=12)
        .map(|i| {
            Vec3::new(
                -w + 0.03 + (2.0 * w - 0.06) * i as f32 / 12.0,
                0.0,
                z + 0.012,
            )
        })
        .collect();
    b.add(Mat::Rubber, tube(&seal, 0.009, 8, true));
    // Windscreen.
    let glass = panel(12, 6, |u, v| {
        let x = (-w + 0.02 + (2.0 * w - 0.04) * u) * (1.0 - 0.1 * v);
        let bow = 0.10 * (x / w).powi(2);
        Vec3::new(x, 0.04 + 0.5 * v, z - 0.16 - 0.62 * v - bow)
    });
    b.add(Mat::Glass, glass);
    // Wiper spindles and arms at rest.
    for x in [-0.42f32, 0.12] {
        b.add(
            Mat::DarkSteel,
            cylinder(0.012, 0.03, 12, 0.003).mv(x, 0.025, z - 0.14),
        );
        let arm = [
            Vec3::new(x, 0.05, z - 0.14),
            Vec3::new(x + 0.15, 0.062, z - 0.165),
            Vec3::new(x + 0.42, 0.055, z - 0.185),
        ];
        b.add(Mat::DarkSteel, tube(&through(&arm, 6), 0.005, 6, true));
    }
    b.add(
        Mat::Rubber,
        lathe(
            &[(0.04, 0.0), (0.036, 0.012), (0.02, 0.016), (0.0, 0.016)],
            18,
        )
        .turn(Vec3::X, 90.0)
        .mv(-0.2, -0.1, z + 0.002),
    );
    b.anchor_out("grommet", Vec3::new(-0.2, -0.1, z + 0.016), Vec3::Z);
    b.anchor_out("earth.bulkhead", Vec3::new(0.18, -0.08, z + 0.01), Vec3::Z);
    b
}

/// Front panel, nose, lamps, grille and bonnet catch; anchors `catch`, `label`.
pub fn front_panel(s: BaySize, paint: Rgb, kit: &mut KitAssets) -> PartBuilder {
    let mut b = PartBuilder::new();
    let (w, z) = (s.half_width, s.front);
    let profile = [
        (-0.035f32, -0.09f32),
        (0.035, -0.09),
        (0.035, -0.045),
        (0.02, -0.03),
        (-0.02, -0.03),
        (-0.035, -0.045),
    ];
    let outline: Vec<Vec2> = profile.iter().map(|p| Vec2::new(p.0, p.1)).collect();
    b.add(
        Mat::Satin(paint),
        extrude(&outline, 2.0 * w - 0.06, 0.0)
            .turn(Vec3::Y, 90.0)
            .mv(-(w - 0.03), 0.0, z),
    );
    for i in 0..9 {
        let x = -0.56 + i as f32 * 0.14;
        if x.abs() > 0.05 {
            bolt(&mut b, Vec3::new(x, -0.03, z + 0.012), Vec3::Y, 0.012);
        }
    }
    // Cover strip between panel and nose.
    let nose_z = |x: f32| z + 0.05 + 0.11 * (1.0 - (x.abs() / (w + 0.19)).powi(3));
    let half_strip = w + 0.10;
    // Ribs stiffen it, deepest half way to the nose and none where it is clipped on.
    let rib = |x: f32, v: f32| {
        let off = ((x / 0.055).fract().abs() - 0.5).abs();
        0.0055 * smooth(0.16, 0.30, off) * smooth(0.22, 0.34, v) * smooth(0.97, 0.88, v)
    };
    let strip = panel(216, 14, |u, v| {
        let x = half_strip * (1.0 - 2.0 * u);
        let from = z + 0.015;
        let y = -0.027 - 0.022 * v - rib(x, v);
        Vec3::new(x, y, from + (nose_z(x) - from) * v)
    });
    b.add(Mat::Plastic([15, 15, 16]), strip);
    // Its edge is rolled where it meets the nose.
    let edge: Vec<Vec3> = (0..=24)
        .map(|k| {
            let x = half_strip * (1.0 - k as f32 / 12.0);
            Vec3::new(x, -0.047, nose_z(x) - 0.004)
        })
        .collect();
    b.add(Mat::Rubber, tube(&edge, 0.0055, 8, true));
    for i in 0..6 {
        let x = -0.55 + i as f32 * 0.22;
        b.add(
            Mat::Plastic([22, 22, 23]),
            cylinder(0.011, 0.004, 14, 0.0015).mv(x, -0.031, z + 0.055),
        );
    }
    // Nose, curving forward and down.
    let half = w + 0.19;
    let nose = panel(32, 10, |u, v| {
        let x = -half + 2.0 * half * u;
        let top = -0.048 - 0.17 * smooth(w + 0.06, half, x.abs());
        let y = top - 0.36 * (1.0 - v);
        let out = 0.055 * ((1.0 - v) * 2.6).min(1.0).sqrt() * (1.0 - (x.abs() / half).powi(8));
        Vec3::new(x, y, nose_z(x) + out)
    });
    b.add(Mat::Paint(paint), nose);
    let grille = panel(24, 6, |u, v| {
        let x = -0.36 + 0.72 * u;
        Vec3::new(x, -0.24 + 0.12 * v, nose_z(x) + 0.058)
    });
    b.add(Mat::Void, grille);
    for i in 0..4 {
        let y = -0.215 + i as f32 * 0.032;
        let bar: Vec<Vec3> = (0..=14)
            .map(|k| {
                let x = -0.36 + 0.72 * k as f32 / 14.0;
                Vec3::new(x, y - 0.01, nose_z(x) + 0.062)
            })
            .collect();
        b.add(Mat::Gloss([18, 18, 19]), tube(&bar, 0.008, 6, true));
    }
    // Lamps.
    for side in [1.0f32, -1.0] {
        let lamp = rounded_box(Vec3::new(0.26, 0.12, 0.16), 0.03)
            .turn(Vec3::Y, 14.0 * side)
            .mv(0.56 * side, -0.115, z + 0.045);
        b.add(Mat::Plastic([22, 22, 23]), lamp);
        // Lens: a clear window in the nose, a bright bowl behind it.
        let lens = panel_unit(12, 6, |u, v| {
            let x = 0.44 + 0.34 * u;
            let y = -0.205 + 0.125 * v - 0.02 * u * v;
            Vec3::new(x, y, nose_z(x) + 0.055 - 0.035 * v * v)
        });
        let (lens, glass) = (lens.clone(), lens.mv(0.0, 0.0, 0.004));
        let face = super::labels::headlamp(kit);
        let flip = |g: Geo| if side > 0.0 { g } else { g.mirror_x() };
        b.add_own(face, flip(lens));
        b.add(Mat::Clear([225, 236, 244], 46), flip(glass));
        // Lamp back cover, seen from inside the bay.
        b.add(
            Mat::Rubber,
            lathe(
                &[(0.05, 0.0), (0.048, 0.012), (0.02, 0.02), (0.0, 0.02)],
                20,
            )
            .turn(Vec3::X, -90.0)
            .mv(0.56 * side, -0.12, z - 0.04),
        );
        // Rubber bonnet stops.
        b.add(
            Mat::Rubber,
            lathe(
                &[(0.014, 0.0), (0.014, 0.012), (0.008, 0.02), (0.0, 0.021)],
                14,
            )
            .mv(0.48 * side, -0.03, z),
        );
    }
    // Bonnet catch.
    b.add(
        Mat::Steel,
        rounded_box(Vec3::new(0.07, 0.008, 0.05), 0.002).mv(0.0, -0.026, z),
    );
    b.add(
        Mat::Void,
        rounded_box(Vec3::new(0.016, 0.003, 0.03), 0.001).mv(0.0, -0.0215, z),
    );
    b.add(
        Mat::DarkSteel,
        tube(
            &[
                Vec3::new(-0.02, -0.02, z),
                Vec3::new(0.03, -0.02, z + 0.005),
            ],
            0.004,
            8,
            true,
        ),
    );
    let label = super::labels::caution_fan(kit);
    b.add_own(
        label,
        decal(0.12, 0.03).turn(Vec3::X, -90.0).mv(-0.21, -0.0292, z),
    );
    let label = super::labels::refrigerant(kit);
    b.add_own(
        label,
        decal(0.12, 0.03).turn(Vec3::X, -90.0).mv(0.21, -0.0292, z),
    );
    b.anchor_out("catch", Vec3::new(0.0, -0.02, z), Vec3::Y);
    b
}

/// The bonnet, open by `open_deg` about its rear hinges, and the stay that holds it.
pub fn bonnet(s: BaySize, paint: Rgb, open_deg: f32) -> PartBuilder {
    let mut p = PartBuilder::new();
    let (w, len) = (s.half_width + 0.02, s.front - s.back + 0.14);
    let skin = |u: f32, v: f32| {
        let x = -w + 2.0 * w * u;
        let z = len * v;
        let narrow = 1.0 - 0.08 * v * v;
        Vec3::new(
            x * narrow,
            0.02 - 0.03 * (x / w).powi(2) - 0.035 * v * v,
            z - 0.06 * v * (x / w).powi(2),
        )
    };
    // u×v points down here, so the painted top is the flipped side.
    p.add(Mat::Paint(paint), panel(16, 16, skin).inside_out());
    p.add(
        Mat::Satin(paint),
        panel(16, 16, |u, v| skin(u, v) - Vec3::Y * 0.012),
    );
    let under = |x: f32, v: f32| skin(x / (2.0 * w) + 0.5, v) - Vec3::Y * 0.02;
    let rib = |a: (f32, f32), b: (f32, f32), width: f32| {
        let n = 8;
        let path: Vec<Vec3> = (0..=n)
            .map(|i| {
                let f = i as f32 / n as f32;
                under(a.0 + (b.0 - a.0) * f, a.1 + (b.1 - a.1) * f)
            })
            .collect();
        tube(&path, width, 8, true).at(Transform::from_scale(Vec3::new(1.0, 1.0, 1.0)))
    };
    let e = w - 0.07;
    for (a, b, r) in [
        ((-e, 0.05), (e, 0.05), 0.03),
        ((-e, 0.93), (e, 0.93), 0.03),
        ((-e, 0.05), (-e, 0.93), 0.03),
        ((e, 0.05), (e, 0.93), 0.03),
        ((-0.14, 0.07), (-0.30, 0.92), 0.022),
        ((0.14, 0.07), (0.30, 0.92), 0.022),
        ((-0.3, 0.92), (0.0, 0.62), 0.018),
        ((0.3, 0.92), (0.0, 0.62), 0.018),
    ] {
        p.add(Mat::Satin(paint), rib(a, b, r));
    }
    // Insulation pad with moulded quilting.
    let pad = panel(26, 22, |u, v| {
        let x = -0.50 + 1.0 * u;
        let edge = (u * 40.0)
            .min((1.0 - u) * 40.0)
            .min(v * 30.0)
            .min((1.0 - v) * 30.0);
        let quilt = ((u * 15.7).sin().abs() * (v * 12.56).sin().abs()).powf(0.5);
        let thick = (0.012 + 0.02 * quilt) * edge.min(1.0);
        under(x, 0.12 + 0.62 * v) - Vec3::Y * thick
    });
    p.add(Mat::Cloth([150, 148, 142]), pad.uv_scale(0.35, 0.35));
    for x in [-0.4, -0.13, 0.13, 0.4] {
        for v in [0.16, 0.43, 0.70] {
            let at = under(x, v) - Vec3::Y * 0.02;
            p.add(
                Mat::Plastic([20, 20, 21]),
                cylinder(0.013, 0.012, 12, 0.003).mv(at.x, at.y - 0.012, at.z),
            );
        }
    }
    // Striker loop.
    let at = under(0.0, 0.95);
    let loop_path = [
        at + Vec3::new(-0.02, 0.0, 0.0),
        at + Vec3::new(-0.018, -0.05, 0.0),
        at + Vec3::new(0.018, -0.05, 0.0),
        at + Vec3::new(0.02, 0.0, 0.0),
    ];
    p.add(
        Mat::Steel,
        tube(&super::curve::bent(&loop_path, 0.012, 4), 0.005, 8, true),
    );

    let hinge = Transform::from_xyz(0.0, 0.035, s.back - 0.09)
        .with_rotation(Quat::from_rotation_x(-open_deg.to_radians()));
    let mut b = PartBuilder::new();
    let stay_top = hinge.transform_point(under(-e + 0.02, 0.62));
    b.absorb(p, hinge);
    // Far out, so that it stands before nothing that one works at.
    let foot = Vec3::new(-s.half_width + 0.075, -0.028, s.front - 0.012);
    b.add(
        Mat::Steel,
        tube(
            &[
                foot,
                foot + Vec3::Y * 0.03,
                stay_top - Vec3::Y * 0.02,
                stay_top,
            ],
            0.005,
            8,
            true,
        ),
    );
    b.add(
        Mat::Rubber,
        tube(
            &[foot.lerp(stay_top, 0.35), foot.lerp(stay_top, 0.5)],
            0.008,
            8,
            true,
        ),
    );
    for side in [1.0f32, -1.0] {
        let base = Vec3::new((s.half_width - 0.03) * side, 0.0, s.back - 0.08);
        b.add(
            Mat::DarkSteel,
            rounded_box(Vec3::new(0.012, 0.08, 0.04), 0.003).mv(base.x, base.y + 0.03, base.z),
        );
    }
    b
}
