//! Instruments that show a reading: digital meter, low-side gauge, thermometer.
//!
//! Frame: they lie face up with their top towards -z; the thermometer has its
//! tip at the origin, pointing -Y.

use super::display::{Screen, screen};
use super::follow::Turns;
use super::glyphs::Canvas;
use super::material::{KitAssets, Mat};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::*;
use bevy::prelude::*;
use std::f32::consts::{PI, TAU};

/// Digital meter, lying face up. State [`Display`] (first line large) and
/// [`KeyTurn`] (dial, in steps of 30°). Anchors `jack.com`, `jack.v`, `jack.a`.
pub fn meter(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut b = PartBuilder::new();
    let (w, t, l) = (0.088, 0.034, 0.172);
    b.add(
        Mat::Rubber,
        rounded_box(Vec3::new(w + 0.008, t, l + 0.008), 0.010).mv(0.0, t * 0.5, 0.0),
    );
    b.add(
        Mat::Plastic([196, 92, 40]),
        rounded_box(Vec3::new(w, t, l), 0.007).mv(0.0, t * 0.5 + 0.0015, 0.0),
    );
    b.add(
        Mat::Plastic([38, 40, 44]),
        rounded_box(Vec3::new(w - 0.012, 0.003, l - 0.014), 0.0012).mv(0.0, t + 0.0012, 0.0),
    );
    b.add(
        Mat::Gloss([14, 14, 15]),
        rounded_box(Vec3::new(0.068, 0.003, 0.044), 0.0012).mv(0.0, t + 0.0024, -0.052),
    );
    for (i, x) in [-0.024f32, -0.008, 0.008, 0.024].iter().enumerate() {
        let c = if i == 3 {
            [210, 170, 40]
        } else {
            [120, 124, 130]
        };
        b.add(
            Mat::Rubber,
            rounded_box(Vec3::new(0.012, 0.003, 0.006), 0.001).mv(*x, t + 0.003, -0.021),
        );
        b.add(
            Mat::Gloss(c),
            rounded_box(Vec3::new(0.008, 0.002, 0.003), 0.0006).mv(*x, t + 0.0042, -0.021),
        );
    }
    let dial_at = Vec3::new(0.0, t + 0.0027, 0.020);
    let face = kit.label("meter face", meter_face);
    b.add_own(
        face,
        decal(0.074, 0.062)
            .turn(Vec3::X, -90.0)
            .mv(dial_at.x, dial_at.y + 0.0001, dial_at.z),
    );
    for (name, x, colour) in [
        ("jack.a", -0.024f32, [170, 40, 36]),
        ("jack.com", 0.0, [18, 18, 19]),
        ("jack.v", 0.024, [170, 40, 36]),
    ] {
        b.add(
            Mat::Gloss(colour),
            ring(0.0028, 0.0055, 0.003, 18).mv(x, t + 0.002, 0.066),
        );
        b.add(
            Mat::Void,
            cylinder(0.0028, 0.0012, 12, 0.0).mv(x, t + 0.002, 0.066),
        );
        b.anchor_out(name, Vec3::new(x, t + 0.005, 0.066), Vec3::Y);
    }
    let mut part = b.spawn(commands, kit, at, None);
    let root = part.entity;
    commands
        .entity(root)
        .insert((Display("- - -".into()), KeyTurn(0.0)));
    let (material, shows) = screen(
        kit,
        root,
        Screen {
            width: 192,
            height: 112,
            paper: [168, 182, 160],
            ink: [22, 28, 24],
        },
        0.05,
    );
    let mesh = kit.meshes.add(
        decal(0.062, 0.036)
            .turn(Vec3::X, -90.0)
            .mv(0.0, t + 0.0041, -0.052)
            .to_mesh(),
    );
    commands.spawn((Mesh3d(mesh), MeshMaterial3d(material), ChildOf(root), shows));
    let mut d = PartBuilder::new();
    d.add(
        Mat::Plastic([24, 25, 27]),
        lathe(
            &[(0.0175, 0.0), (0.0168, 0.005), (0.015, 0.006), (0.0, 0.006)],
            28,
        )
        .with(rounded_box(Vec3::new(0.009, 0.007, 0.034), 0.003).mv(0.0, 0.008, 0.0)),
    );
    d.add(
        Mat::Gloss([240, 240, 236]),
        block(Vec3::new(0.0016, 0.001, 0.012)).mv(0.0, 0.0117, -0.010),
    );
    let e = part.piece(
        commands,
        kit,
        "dial",
        Transform::from_translation(dial_at),
        d,
    );
    commands.entity(e).insert(Turns {
        owner: root,
        rest: Quat::IDENTITY,
        axis: -Vec3::Y,
        per_unit: PI / 6.0,
        at: 0.0,
        rate: 18.0,
    });
    part
}

/// The marks round the dial: off, volts, ohms, beeper, amperes.
fn meter_face() -> Canvas {
    let mut c = Canvas::new(296, 248, [38, 40, 44, 255]);
    let (x, y) = (148.0, 124.0);
    let ink = [235, 235, 230, 255];
    let amber = [245, 190, 60, 255];
    for (i, word) in ["OFF", "V=", "V~", "Ω", "·))", "A="].iter().enumerate() {
        let a = -PI * 0.5 + i as f32 * PI / 6.0;
        c.line(
            (x + a.cos() * 76.0, y + a.sin() * 76.0),
            (x + a.cos() * 86.0, y + a.sin() * 86.0),
            3.0,
            ink,
        );
        let word = if i == 4 { "BEEP" } else { word };
        let wide = if i == 0 { 0.0 } else { 22.0 };
        c.text_mid(
            (x + a.cos() * 104.0 + a.cos() * wide) as i32,
            (y + a.sin() * 106.0) as i32,
            if i == 4 { 2 } else { 3 },
            word,
            if i == 0 { amber } else { ink },
        );
    }
    c.arc(x, y, 72.0, 0.0, TAU, 2.0, [90, 92, 96, 255]);
    c
}

/// End of a low-side gauge's scale, gauge pressure, kilopascals: a charged loop at rest stands at 915 at 40 °C
/// (R-134a, CoolProp's saturation less one atmosphere).
pub const LOW_SIDE_END_KPA: f32 = 1000.0;
/// Where the pin behind the end of a scale holds its needle, as a share of the scale.
pub const PEGGED: f32 = 1.05;

/// Low-side gauge with hose stub, lying face up. State [`Needle`] (0 = start of
/// scale, 1 = end). `full_kpa` is the scale's end. Anchor `hose`.
pub fn gauge(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    full_kpa: f32,
) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Gloss([30, 80, 170]),
        lathe(
            &[
                (0.0, 0.0),
                (0.034, 0.0),
                (0.038, 0.004),
                (0.038, 0.024),
                (0.036, 0.027),
                (0.0335, 0.027),
                (0.0335, 0.0225),
                (0.0, 0.0225),
            ],
            44,
        ),
    );
    let face = kit.label(&format!("gauge {full_kpa}"), || gauge_face(full_kpa));
    b.add_own(
        face,
        decal(0.066, 0.066)
            .turn(Vec3::X, -90.0)
            .mv(0.0, 0.0227, 0.0),
    );
    b.add(
        Mat::Brass,
        rounded_box(Vec3::new(0.018, 0.018, 0.02), 0.003).mv(0.0, 0.012, 0.046),
    );
    b.add(
        Mat::Brass,
        hexagon(0.016, 0.016)
            .turn(Vec3::X, 90.0)
            .mv(0.0, 0.012, 0.054),
    );
    b.add(
        Mat::Gloss([24, 60, 140]),
        cylinder(0.008, 0.018, 14, 0.002)
            .turn(Vec3::X, 90.0)
            .mv(0.0, 0.012, 0.068),
    );
    b.add(
        Mat::Glass,
        cylinder(0.0335, 0.001, 40, 0.0).mv(0.0, 0.0262, 0.0),
    );
    b.anchor_out("hose", Vec3::new(0.0, 0.012, 0.086), Vec3::Z);
    let mut part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(Needle(0.0));
    let mut n = PartBuilder::new();
    n.add(
        Mat::Gloss([190, 30, 28]),
        block(Vec3::new(0.0016, 0.0006, 0.034)).mv(0.0, 0.0, -0.011),
    );
    n.add(Mat::Gloss([24, 24, 26]), cylinder(0.004, 0.002, 16, 0.0006));
    let e = part.piece(
        commands,
        kit,
        "needle",
        Transform::from_xyz(0.0, 0.0238, 0.0),
        n,
    );
    commands.entity(e).insert(dial_needle(part.entity, Vec3::Y));
    part
}

/// A needle over a 270° scale that starts at lower left.
pub fn dial_needle(owner: Entity, face: Vec3) -> Turns {
    Turns {
        owner,
        rest: Quat::from_axis_angle(face, PI * 0.75),
        axis: face,
        per_unit: -PI * 1.5,
        at: -1.0,
        rate: 9.0,
    }
}

/// A 270° scale on a pale face, kPa outside and psi inside (1 psi = 6.894757 kPa, NIST SP 811).
fn gauge_face(full_kpa: f32) -> Canvas {
    let (paper, ink, blue) = ([236, 236, 228, 255], [24, 24, 28, 255], [30, 80, 170, 255]);
    let mut c = Canvas::new(384, 384, [236, 236, 228, 0]);
    let m = 192.0;
    c.disc(m, m, 190.0, paper);
    let angle = |f: f32| PI * 0.75 + f * PI * 1.5;
    c.arc(m, m, 176.0, angle(0.0), angle(1.0), 3.0, ink);
    let steps = (full_kpa / 20.0).round() as i32;
    for i in 0..=steps {
        let a = angle(i as f32 / steps as f32);
        let long = i % 5 == 0;
        let r = if long { 152.0 } else { 163.0 };
        c.line(
            (m + a.cos() * r, m + a.sin() * r),
            (m + a.cos() * 176.0, m + a.sin() * 176.0),
            if long { 4.0 } else { 2.0 },
            ink,
        );
        if long {
            c.text_mid(
                (m + a.cos() * 128.0) as i32,
                (m + a.sin() * 130.0) as i32,
                3,
                &format!("{}", i * 20),
                ink,
            );
        }
    }
    let psi_full = full_kpa / 6.894_757;
    for i in 0..=(psi_full / 20.0) as i32 {
        let psi = i as f32 * 20.0;
        let a = angle(psi / psi_full);
        c.line(
            (m + a.cos() * 92.0, m + a.sin() * 92.0),
            (m + a.cos() * 100.0, m + a.sin() * 100.0),
            3.0,
            blue,
        );
        c.text_mid(
            (m + a.cos() * 74.0) as i32,
            (m + a.sin() * 76.0) as i32,
            2,
            &format!("{psi:.0}"),
            blue,
        );
    }
    c.arc(m, m, 100.0, angle(0.0), angle(1.0), 2.0, blue);
    c.text_mid(192, 292, 3, "KPA", ink);
    c.text_mid(192, 322, 2, "PSI", blue);
    c.text_mid(192, 350, 2, "LOW SIDE", ink);
    c
}

/// Probe thermometer with a small display. State [`Display`]. Anchor `tip`.
pub fn thermometer(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Steel,
        lathe(
            &[
                (0.0, 0.0),
                (0.0012, 0.003),
                (0.0018, 0.02),
                (0.0018, 0.12),
                (0.0, 0.12),
            ],
            10,
        ),
    );
    b.add(
        Mat::Gloss([222, 224, 226]),
        rounded_box(Vec3::new(0.03, 0.075, 0.018), 0.007).mv(0.0, 0.155, 0.0),
    );
    b.add(
        Mat::Gloss([40, 110, 150]),
        rounded_box(Vec3::new(0.032, 0.012, 0.020), 0.005).mv(0.0, 0.124, 0.0),
    );
    b.anchor("tip", Transform::IDENTITY);
    let part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(Display("--.-".into()));
    let (material, shows) = screen(
        kit,
        part.entity,
        Screen {
            width: 128,
            height: 64,
            paper: [170, 184, 164],
            ink: [20, 26, 22],
        },
        0.05,
    );
    let mesh = kit
        .meshes
        .add(decal(0.024, 0.013).mv(0.0, 0.165, 0.0093).to_mesh());
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(material),
        ChildOf(part.entity),
        shows,
    ));
    part
}
