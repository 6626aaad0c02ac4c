//! Refrigerant lines, service ports with caps, coolant hoses with clips, and the
//! pressure sensor with its connector.

use super::body::bolt;
use super::curve::{bent, through};
use super::engine::resample;
use super::follow::{Follow, Slides};
use super::material::{KitAssets, Mat, Rgb};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::{CapOn, Seated};
use bevy::prelude::*;

/// A bent aluminium pipe with a block fitting at each end.
pub fn pipe(knots: &[Vec3], radius: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::BareAluminium,
        tube(&bent(knots, 0.05, 6), radius, 12, true),
    );
    for (end, next) in [(0, 1), (knots.len() - 1, knots.len() - 2)] {
        let dir = (knots[next] - knots[end]).normalize_or(Vec3::Y);
        fitting(&mut b, knots[end], dir, radius);
    }
    b
}

fn fitting(b: &mut PartBuilder, at: Vec3, dir: Vec3, radius: f32) {
    let t = Transform::from_translation(at).with_rotation(Quat::from_rotation_arc(Vec3::Y, dir));
    b.add(
        Mat::BareAluminium,
        rounded_box(Vec3::new(radius * 3.4, 0.016, radius * 2.8), 0.004)
            .mv(radius * 0.4, 0.008, 0.0)
            .at(t),
    );
    b.add(
        Mat::BareAluminium,
        ring(radius, radius * 1.35, 0.006, 14)
            .mv(0.0, 0.02, 0.0)
            .at(t),
    );
}

/// A refrigerant line that is pipe at both ends and a rubber hose with crimped
/// sleeves in the middle (from `hose_from` to `hose_to`, shares of its length).
pub fn hose_line(knots: &[Vec3], radius: f32, hose_from: f32, hose_to: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let path = resample(&through(knots, 12), 72);
    let n = path.len() - 1;
    let (i0, i1) = (
        (hose_from * n as f32) as usize,
        (hose_to * n as f32) as usize,
    );
    b.add(Mat::BareAluminium, tube(&path[..=i0 + 2], radius, 12, true));
    b.add(Mat::BareAluminium, tube(&path[i1 - 2..], radius, 12, true));
    b.add(Mat::Rubber, tube(&path[i0..=i1], radius * 1.55, 14, true));
    for (i, step) in [(i0, 1isize), (i1, -1)] {
        let a = path[i];
        let c = path[(i as isize + step * 3) as usize];
        let crimp = resample(&[a + (a - c) * 0.15, c], 14);
        let r = radius * 1.82;
        b.add(
            Mat::BareAluminium,
            sweep(&crimp, 16, true, move |d| {
                let ripple = (d * 700.0).sin();
                if ripple > 0.2 { r } else { r * 0.93 }
            }),
        );
    }
    fitting(&mut b, path[0], (path[1] - path[0]).normalize(), radius);
    fitting(&mut b, path[n], (path[n - 1] - path[n]).normalize(), radius);
    b
}

/// A coolant hose with a spring clip near each end.
pub fn coolant_hose(knots: &[Vec3], radius: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let path = through(knots, 9);
    b.add(Mat::Rubber, tube(&path, radius, 16, true));
    let n = path.len();
    for (p, q) in [(path[1], path[2]), (path[n - 2], path[n - 3])] {
        let dir = (q - p).normalize_or(Vec3::Y);
        let t = Transform::from_translation(p).with_rotation(Quat::from_rotation_arc(Vec3::Y, dir));
        b.add(
            Mat::Steel,
            ring(radius * 0.98, radius * 1.07, 0.012, 24)
                .mv(0.0, -0.006, 0.0)
                .at(t),
        );
        b.add(
            Mat::Steel,
            rounded_box(Vec3::new(0.012, 0.012, 0.012), 0.002)
                .mv(radius * 1.15, 0.0, 0.0)
                .at(t),
        );
    }
    b
}

/// A service port standing up from the origin; state [`CapOn`]. `high` ports are
/// wider at the foot than `low` ones and their caps carry H or L. Anchors `port`, `cap`.
pub fn service_port(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    high: bool,
) -> SpawnedPart {
    let mut b = PartBuilder::new();
    let r = if high { 0.008 } else { 0.0065 };
    b.add(
        Mat::BareAluminium,
        rounded_box(Vec3::new(0.022, 0.014, 0.022), 0.004),
    );
    b.add(
        Mat::Brass,
        lathe(
            &[
                (r, 0.0),
                (r, 0.016),
                (r * 0.82, 0.018),
                (r * 0.82, 0.022),
                (r, 0.024),
                (r, 0.030),
                (r * 0.62, 0.031),
                (r * 0.58, 0.024),
                (0.0, 0.024),
            ],
            20,
        ),
    );
    b.add(
        Mat::Steel,
        cylinder(0.0013, 0.004, 8, 0.0).mv(0.0, 0.024, 0.0),
    );
    b.anchor_out("port", Vec3::Y * 0.031, Vec3::Y);
    let mut part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(CapOn(true));
    let colour: Rgb = if high { [170, 34, 30] } else { [30, 80, 170] };
    let mut c = PartBuilder::new();
    let cr = r + 0.0035;
    c.add(
        Mat::Gloss(colour),
        lathe(
            &[
                (cr * 0.9, 0.0),
                (cr, 0.001),
                (cr, 0.018),
                (cr - 0.002, 0.021),
                (0.0, 0.021),
            ],
            20,
        ),
    );
    for i in 0..12 {
        let a = i as f32 * 30.0;
        c.add(
            Mat::Gloss(colour),
            block(Vec3::new(0.0016, 0.016, 0.0016))
                .mv(cr, 0.009, 0.0)
                .turn(Vec3::Y, a),
        );
    }
    let letter = super::labels::lettering(kit, if high { "H" } else { "L" }, [245, 245, 240]);
    c.add_own(
        letter,
        decal(0.011, 0.014)
            .turn(Vec3::X, -90.0)
            .mv(0.0, 0.0213, 0.0),
    );
    let rest = Transform::from_xyz(0.0, 0.0135, 0.0);
    // Off, it hangs by its strap beside the port.
    let away = Transform::from_xyz(0.034, 0.004, 0.012)
        .with_rotation(Quat::from_rotation_z(-1.9) * Quat::from_rotation_y(0.5));
    let e = part.piece(commands, kit, "cap", rest, c);
    commands.entity(e).insert(Slides {
        lift: 0.03,
        ..Slides::new(part.entity, Follow::Cap, rest, away)
    });
    part.anchors
        .insert("cap".into(), Transform::from_xyz(0.0, 0.034, 0.0));
    part
}

/// How far a connector that is not fully seated stands off, metres.
pub const NOT_SEATED_GAP: f32 = 0.0065;

/// A pressure sensor standing up from the origin with its connector; state
/// [`Seated`]. When not seated the connector stands off and its latch is
/// up: pins and the seal's edge show. Anchors `pin.1` to `pin.3`, `connector`.
pub fn pressure_sensor(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::BareAluminium,
        rounded_box(Vec3::new(0.024, 0.014, 0.024), 0.004),
    );
    b.add(Mat::Brass, hexagon(0.021, 0.012).mv(0.0, 0.006, 0.0));
    b.add(
        Mat::Steel,
        cylinder(0.0095, 0.008, 20, 0.001).mv(0.0, 0.018, 0.0),
    );
    b.add(
        Mat::Plastic([30, 30, 32]),
        lathe(
            &[
                (0.011, 0.0),
                (0.011, 0.012),
                (0.0098, 0.013),
                (0.0098, 0.024),
                (0.0, 0.024),
            ],
            22,
        )
        .mv(0.0, 0.026, 0.0),
    );
    // What shows through the gap: pale seal rim and three bright pins.
    b.add(
        Mat::Gloss([205, 96, 40]),
        ring(0.0085, 0.0102, 0.003, 22).mv(0.0, 0.040, 0.0),
    );
    for i in 0..3 {
        b.add(
            Mat::Brass,
            block(Vec3::new(0.0014, 0.012, 0.0014)).mv((i as f32 - 1.0) * 0.005, 0.053, 0.0),
        );
    }
    b.add(
        Mat::Plastic([30, 30, 32]),
        rounded_box(Vec3::new(0.006, 0.008, 0.003), 0.001).mv(0.0, 0.036, 0.0115),
    );
    let mut part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(Seated(true));

    let mut c = PartBuilder::new();
    let grey = Mat::Plastic([72, 74, 78]);
    c.add(
        grey,
        lathe(
            &[
                (0.0102, 0.0),
                (0.0128, 0.0),
                (0.0132, 0.002),
                (0.0132, 0.022),
                (0.011, 0.026),
                (0.0, 0.026),
            ],
            24,
        ),
    );
    c.add(
        grey,
        rounded_box(Vec3::new(0.009, 0.024, 0.004), 0.0012).mv(0.0, 0.010, 0.0145),
    );
    c.add(
        Mat::Gloss([190, 40, 40]),
        rounded_box(Vec3::new(0.011, 0.005, 0.004), 0.001).mv(0.0, 0.021, 0.0155),
    );
    c.add(
        Mat::Rubber,
        lathe(
            &[(0.0085, 0.0), (0.0075, 0.01), (0.006, 0.014), (0.0, 0.014)],
            18,
        )
        .mv(0.0, 0.024, 0.0),
    );
    for (i, colour) in [[30, 30, 32], [225, 190, 40], [50, 110, 190]]
        .iter()
        .enumerate()
    {
        let x = (i as f32 - 1.0) * 0.003;
        let wire = [
            Vec3::new(x, 0.036, 0.0),
            Vec3::new(x, 0.050, -0.004),
            Vec3::new(x * 1.3 - 0.012, 0.058, -0.03),
        ];
        c.add(
            Mat::Gloss(*colour),
            tube(&through(&wire, 6), 0.0014, 6, true),
        );
        c.anchor_out(
            &format!("pin.{}", i + 1),
            Vec3::new(x * 1.6, 0.038, 0.0),
            Vec3::Y,
        );
    }
    let rest = Transform::from_xyz(0.0, 0.0395, 0.0);
    let away = Transform::from_xyz(0.0008, 0.0395 + NOT_SEATED_GAP, 0.0)
        .with_rotation(Quat::from_rotation_z(0.05) * Quat::from_rotation_x(-0.03));
    let e = part.piece(commands, kit, "connector", rest, c);
    commands
        .entity(e)
        .insert(Slides::new(part.entity, Follow::Seated, rest, away));
    part.anchors
        .insert("connector".into(), Transform::from_xyz(0.0, 0.055, 0.0));
    part
}

/// A plain inline connector of `ways` ways along x, wires leaving both ends;
/// anchors `way.1`...; piece-less.
pub fn inline_connector(ways: usize) -> PartBuilder {
    let mut b = PartBuilder::new();
    let h = 0.009 + 0.005 * ways.div_ceil(2) as f32;
    b.add(
        Mat::Plastic([62, 63, 66]),
        rounded_box(Vec3::new(0.026, 0.016, h), 0.003).mv(-0.012, 0.0, 0.0),
    );
    b.add(
        Mat::Plastic([28, 28, 30]),
        rounded_box(Vec3::new(0.022, 0.020, h + 0.004), 0.003).mv(0.012, 0.0, 0.0),
    );
    b.add(
        Mat::Plastic([28, 28, 30]),
        rounded_box(Vec3::new(0.026, 0.004, 0.008), 0.001).mv(0.002, 0.011, 0.0),
    );
    for i in 0..ways {
        let z = (i as f32 - (ways as f32 - 1.0) * 0.5) * 0.006;
        let colours: [Rgb; 4] = [[150, 30, 30], [30, 30, 32], [60, 120, 60], [200, 170, 50]];
        for s in [-1.0f32, 1.0] {
            let wire = [
                Vec3::new(0.022 * s, 0.0, z),
                Vec3::new(0.036 * s, -0.002, z * 0.7),
                Vec3::new(0.055 * s, -0.008, z * 0.3),
            ];
            b.add(
                Mat::Gloss(colours[i % 4]),
                tube(&through(&wire, 4), 0.0016, 6, true),
            );
        }
        b.anchor_out(
            &format!("way.{}", i + 1),
            Vec3::new(0.025, 0.002, z),
            Vec3::new(1.0, 0.5, 0.0),
        );
    }
    b
}

/// A heavy cable.
pub fn cable(knots: &[Vec3], radius: f32, colour: Rgb) -> PartBuilder {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Gloss(colour),
        tube(&through(knots, 8), radius, 10, true),
    );
    b
}

/// A ground stud with ring lugs and a braided strap end; anchors `stud`
/// and `lug.1`...
pub fn ground_stud(lugs: usize, corroded: bool) -> PartBuilder {
    let mut b = PartBuilder::new();
    let metal = if corroded { Mat::Rust } else { Mat::Steel };
    b.add(metal, cylinder(0.0038, 0.026, 12, 0.001));
    for i in 0..lugs {
        let y = 0.001 + i as f32 * 0.0022;
        let a = -35.0 + 70.0 * i as f32;
        b.add(
            if corroded { Mat::Rust } else { Mat::Copper },
            ring(0.0042, 0.010, 0.0018, 18)
                .with(rounded_box(Vec3::new(0.014, 0.0018, 0.008), 0.0006).mv(0.014, 0.0009, 0.0))
                .turn(Vec3::Y, a)
                .mv(0.0, y, 0.0),
        );
        let turn = Quat::from_rotation_y(a.to_radians());
        let w = [
            Vec3::new(0.018, y + 0.002, 0.0),
            Vec3::new(0.034, y + 0.004, 0.0),
            Vec3::new(0.05, y - 0.008, 0.004),
            Vec3::new(0.062, y - 0.05, 0.006),
        ]
        .map(|p| turn * p);
        b.add(
            Mat::Gloss([46, 34, 26]),
            tube(&through(&w, 6), 0.0032, 7, true),
        );
        b.add(Mat::Rubber, tube(&w[..2], 0.0042, 8, true));
    }
    b.add(metal, hexagon(0.013, 0.007).mv(0.0, 0.008, 0.0));
    if corroded {
        for i in 0..9 {
            let a = i as f32 * 0.7;
            let q = super::texture::hash(i, 3, 1);
            b.add(
                Mat::Plastic([196, 206, 196]),
                sphere(0.0016 + 0.001 * q, 6).mv(a.cos() * 0.008, 0.007, a.sin() * 0.008),
            );
        }
    }
    bolt(&mut b, Vec3::new(-0.022, 0.0, 0.004), Vec3::Y, 0.008);
    b.anchor_out("stud", Vec3::Y * 0.026, Vec3::Y);
    for i in 0..lugs {
        let turn = Quat::from_rotation_y((-35.0 + 70.0 * i as f32).to_radians());
        let at = Vec3::new(0.014, 0.004 + i as f32 * 0.0022, 0.0);
        b.anchor_out(&format!("lug.{}", i + 1), turn * at, Vec3::Y);
    }
    b
}
