//! Hand tools as things: test light, clips, probes, the jumper's fuse holder,
//! inspection lamp, socket breakout.
//!
//! Frames: hand tools with a tip have it at the origin, pointing -Y, so that a
//! tool touches an anchor by taking its transform. Instruments lie face up with
//! their top towards -z.

use super::curve::through;
use super::follow::Glows;
use super::material::{KitAssets, Mat, Rgb};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::*;
use bevy::prelude::*;
use std::f32::consts::TAU;

/// Test light: tip, clear handle with a bulb, lead at the top. State [`Glow`].
/// Anchors `tip`, `lead`.
pub fn test_light(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Steel,
        lathe(
            &[
                (0.0, 0.0),
                (0.0004, 0.001),
                (0.0016, 0.014),
                (0.0016, 0.042),
                (0.0, 0.042),
            ],
            12,
        ),
    );
    let grip = Mat::Clear([235, 180, 60], 120);
    b.add(
        grip,
        lathe(
            &[
                (0.0, 0.040),
                (0.005, 0.040),
                (0.0085, 0.048),
                (0.0095, 0.060),
                (0.0095, 0.112),
                (0.0085, 0.120),
                (0.0, 0.121),
            ],
            18,
        ),
    );
    for i in 0..6 {
        let a = i as f32 * 60.0;
        b.add(
            grip,
            rounded_box(Vec3::new(0.003, 0.05, 0.003), 0.001)
                .mv(0.0098, 0.087, 0.0)
                .turn(Vec3::Y, a),
        );
    }
    b.add(
        Mat::Brass,
        cylinder(0.0045, 0.012, 14, 0.001).mv(0.0, 0.048, 0.0),
    );
    b.add(
        Mat::Gloss([24, 24, 26]),
        lathe(
            &[
                (0.0105, 0.112),
                (0.0105, 0.124),
                (0.006, 0.132),
                (0.003, 0.145),
                (0.0, 0.146),
            ],
            18,
        ),
    );
    b.anchor("tip", Transform::IDENTITY);
    b.anchor_out("lead", Vec3::Y * 0.145, Vec3::Y);
    let part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(Glow(0.0));
    let bulb = kit.own(Mat::Clear([255, 236, 200], 170));
    let mesh = kit.mesh("test light bulb", || {
        lathe(
            &[
                (0.0038, 0.060),
                (0.0055, 0.068),
                (0.0055, 0.084),
                (0.003, 0.092),
                (0.0, 0.093),
            ],
            16,
        )
        .to_mesh()
    });
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(bulb),
        ChildOf(part.entity),
        Glows {
            owner: part.entity,
            colour: LinearRgba::rgb(14.0, 10.5, 5.5),
        },
    ));
    part
}

/// Where a hand tool stands when its tip touches `at`, a surface whose outside is
/// `out`, its handle leaning towards `eye` by up to 40° so that it does not hide the place.
pub fn touching(at: Vec3, out: Vec3, eye: Vec3) -> Transform {
    let out = out.normalize_or(Vec3::Y);
    let side = (eye - at)
        .reject_from(out)
        .normalize_or(out.any_orthonormal_vector());
    let along = (out + side * 0.75).normalize();
    Transform::from_translation(at).with_rotation(Quat::from_rotation_arc(Vec3::Y, along))
}

/// Crocodile clip: jaws at the origin gripping downwards. Anchors `tip`, `lead`.
pub fn clip(colour: Rgb) -> PartBuilder {
    let mut b = PartBuilder::new();
    for s in [-1.0f32, 1.0] {
        b.add(
            Mat::Steel,
            rounded_box(Vec3::new(0.006, 0.026, 0.0022), 0.0008)
                .turn(Vec3::X, 7.0 * s)
                .mv(0.0, 0.011, 0.0024 * s),
        );
        for k in 0..4 {
            b.add(
                Mat::Steel,
                block(Vec3::new(0.006, 0.0012, 0.0016)).mv(
                    0.0,
                    0.001 + k as f32 * 0.0026,
                    0.0008 * s,
                ),
            );
        }
        b.add(
            Mat::Gloss(colour),
            rounded_box(Vec3::new(0.0085, 0.026, 0.0045), 0.002)
                .turn(Vec3::X, -9.0 * s)
                .mv(0.0, 0.034, 0.005 * s),
        );
    }
    b.add(
        Mat::Steel,
        cylinder(0.0022, 0.008, 10, 0.0005)
            .turn(Vec3::Z, 90.0)
            .mv(0.004, 0.022, 0.0),
    );
    b.add(
        Mat::Gloss(colour),
        lathe(
            &[
                (0.0045, 0.040),
                (0.0042, 0.052),
                (0.0028, 0.058),
                (0.0, 0.058),
            ],
            12,
        ),
    );
    b.anchor("tip", Transform::IDENTITY);
    b.anchor_out("lead", Vec3::Y * 0.057, Vec3::Y);
    b
}

/// Meter probe: tip at the origin. Anchors `tip`, `lead`.
pub fn probe(colour: Rgb) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Steel,
        lathe(
            &[
                (0.0, 0.0),
                (0.0005, 0.0015),
                (0.0010, 0.006),
                (0.0010, 0.018),
                (0.0, 0.018),
            ],
            10,
        ),
    );
    b.add(
        Mat::Gloss(colour),
        lathe(
            &[
                (0.0, 0.016),
                (0.0026, 0.016),
                (0.0032, 0.024),
                (0.0072, 0.028),
                (0.0072, 0.031),
                (0.0045, 0.034),
                (0.0055, 0.06),
                (0.0055, 0.10),
                (0.0035, 0.112),
                (0.0, 0.114),
            ],
            16,
        ),
    );
    b.anchor("tip", Transform::IDENTITY);
    b.anchor_out("lead", Vec3::Y * 0.113, Vec3::Y);
    b
}

/// The jumper's inline fuse holder, its lead along x. Anchors `lead.a`, `lead.b`.
pub fn fuse_holder(kit: &mut KitAssets, amps: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Gloss([28, 28, 30]),
        rounded_box(Vec3::new(0.032, 0.014, 0.012), 0.003).mv(0.0, 0.0, 0.0),
    );
    let fuse = super::relay::fuse(kit, super::relay::FuseSize::Regular, amps);
    b.absorb(fuse, Transform::from_xyz(0.0, 0.005, 0.0));
    b.anchors.clear();
    for (name, s) in [("lead.a", -1.0f32), ("lead.b", 1.0)] {
        b.add(
            Mat::Gloss([28, 28, 30]),
            lathe(&[(0.005, 0.0), (0.0028, 0.012), (0.0, 0.012)], 12)
                .turn(Vec3::Z, -90.0 * s)
                .mv(0.015 * s, 0.0, 0.0),
        );
        b.anchor_out(name, Vec3::new(0.026 * s, 0.0, 0.0), Vec3::X * s);
    }
    b
}

/// Inspection lamp: a bar with a lit window. State [`Glow`]. Anchor `beam`: the
/// beam leaves along its +Y.
pub fn inspection_lamp(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Rubber,
        rounded_box(Vec3::new(0.034, 0.028, 0.13), 0.011).mv(0.0, 0.015, 0.065),
    );
    for k in 0..7 {
        b.add(
            Mat::Rubber,
            rounded_box(Vec3::new(0.0365, 0.030, 0.006), 0.003).mv(
                0.0,
                0.015,
                0.025 + k as f32 * 0.013,
            ),
        );
    }
    b.add(
        Mat::Plastic([196, 160, 30]),
        rounded_box(Vec3::new(0.040, 0.030, 0.10), 0.009).mv(0.0, 0.015, -0.05),
    );
    b.add(
        Mat::Gloss([30, 30, 32]),
        rounded_box(Vec3::new(0.030, 0.004, 0.084), 0.0016).mv(0.0, 0.0295, -0.05),
    );
    b.add(
        Mat::Steel,
        tube(
            &through(
                &[
                    Vec3::new(0.0, 0.015, 0.13),
                    Vec3::new(0.012, 0.015, 0.15),
                    Vec3::new(0.0, 0.015, 0.165),
                    Vec3::new(-0.008, 0.015, 0.155),
                ],
                6,
            ),
            0.0018,
            8,
            true,
        ),
    );
    b.anchor_out("beam", Vec3::new(0.0, 0.034, -0.05), Vec3::Y);
    let part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(Glow(0.0));
    let lens = kit.own(Mat::Gloss([215, 222, 225]));
    let mesh = kit.mesh("lamp lens", || {
        rounded_box(Vec3::new(0.024, 0.003, 0.076), 0.0014)
            .mv(0.0, 0.0312, -0.05)
            .to_mesh()
    });
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(lens),
        ChildOf(part.entity),
        Glows {
            owner: part.entity,
            colour: LinearRgba::rgb(9.0, 9.5, 10.0),
        },
    ));
    part
}

/// Socket breakout: plugs in where a relay was and brings its terminals up to
/// posts that are easy to touch. Anchors by terminal name.
pub fn breakout(kit: &mut KitAssets, names: &[String]) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Plastic([40, 42, 46]),
        rounded_box(Vec3::new(0.028, 0.010, 0.028), 0.002).mv(0.0, 0.005, 0.0),
    );
    b.add(
        Mat::Plastic([40, 42, 46]),
        rounded_box(Vec3::new(0.012, 0.03, 0.012), 0.003).mv(0.0, 0.022, 0.0),
    );
    b.add(
        Mat::Plastic([214, 214, 208]),
        rounded_box(Vec3::new(0.062, 0.008, 0.046), 0.003).mv(0.0, 0.040, 0.0),
    );
    let colours: [Rgb; 5] = [
        [190, 36, 34],
        [28, 28, 30],
        [40, 100, 190],
        [220, 180, 40],
        [40, 140, 70],
    ];
    let n = names.len().max(1);
    for (i, name) in names.iter().enumerate() {
        let (column, row) = (i % 3, i / 3);
        let per_row = if row == 0 { n.min(3) } else { n - 3 };
        let x = (column as f32 - (per_row as f32 - 1.0) * 0.5) * 0.019;
        let z = if n <= 3 {
            0.0
        } else {
            row as f32 * 0.022 - 0.011
        };
        b.add(
            Mat::Gloss(colours[i % 5]),
            lathe(
                &[
                    (0.0048, 0.0),
                    (0.0042, 0.007),
                    (0.0024, 0.008),
                    (0.0, 0.008),
                ],
                16,
            )
            .mv(x, 0.043, z),
        );
        b.add(
            Mat::Brass,
            cylinder(0.002, 0.0045, 10, 0.0006).mv(x, 0.050, z),
        );
        let letters = super::labels::lettering(kit, name, [24, 24, 28]);
        let aspect = super::labels::lettering_aspect(name);
        b.add_own(
            letters,
            decal(0.005 * aspect, 0.005)
                .turn(Vec3::X, -90.0)
                .mv(x, 0.0442, z + 0.0082),
        );
        b.anchor_out(name, Vec3::new(x, 0.0545, z), Vec3::Y);
    }
    b
}

/// A lead coiled flat, `turns` times round, lying on the origin.
pub fn coil(colour: Rgb, turns: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let n = (turns * 22.0) as usize;
    let path: Vec<Vec3> = (0..=n)
        .map(|i| {
            let a = i as f32 / 22.0 * TAU;
            let r = 0.032 + 0.004 * (a * 0.37).sin();
            Vec3::new(
                a.cos() * r,
                0.003 + 0.0016 * (a * 0.61).sin().abs() + i as f32 * 0.00006,
                a.sin() * r * 0.85,
            )
        })
        .collect();
    b.add(Mat::Gloss(colour), tube(&path, 0.0024, 6, true));
    b
}
