//! The driver's place: dash, wheel, instruments, key, climate panel, levers.
//!
//! Frame: the bay's (x to the car's left, y = 0 at the wings' rim, z forward);
//! the driver sits at x = +0.36 and looks to +z.

use super::cabin_trim;
use super::curve::{bent, through};
use super::display::{Screen, screen};
use super::follow::{Follow, Glows, Slides, Turns};
use super::material::{KitAssets, Mat};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::*;
use bevy::prelude::*;
use std::f32::consts::PI;

pub(super) const DARK: Mat = Mat::Plastic([50, 51, 54]);
pub(super) const MID: Mat = Mat::Plastic([92, 94, 98]);
pub(super) const TRIM: Mat = Mat::Gloss([20, 20, 22]);

/// Middle of the steering wheel.
pub const WHEEL: Vec3 = Vec3::new(0.36, -0.135, -1.21);
/// Middle of the instrument cluster.
pub const CLUSTER: Vec3 = Vec3::new(0.36, 0.012, -1.045);
/// Middle of the climate panel.
pub const CLIMATE: Vec3 = Vec3::new(-0.08, -0.20, -1.062);

/// Turns things drawn facing +Z, up +Y, towards the driver (facing -z) and
/// leaning back by `tilt` degrees.
pub(super) fn towards_driver(at: Vec3, tilt: f32) -> Transform {
    Transform::from_translation(at)
        .with_rotation(Quat::from_rotation_y(PI) * Quat::from_rotation_x(-tilt.to_radians()))
}

/// Spawns the cabin. Pieces (each with its state component on itself):
/// `key` ([`KeyTurn`] 0–3), `blower` ([`KeyTurn`] 0–4), `temperature` ([`KeyTurn`]
/// 0–6), `ac.button` ([`Pressed`], [`Glow`]), `horn` ([`Pressed`]), `stalk`
/// ([`KeyTurn`] 0–2), `gear`, `park_brake` ([`KeyTurn`] 0–1), `tacho`, `speed`,
/// `coolant`, `fuel` ([`Needle`]), `odometer` ([`Display`]), warning lamps
/// `warn.NAME` ([`Glow`]) for each of [`super::cluster::WARNINGS`]. Anchors `vent.1` to `vent.4`.
pub fn spawn(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut b = PartBuilder::new();
    cabin_trim::shell(&mut b);
    cabin_trim::dash(&mut b);
    cabin_trim::vents(&mut b);
    climate_face(&mut b, kit);
    let mut part = b.spawn(commands, kit, at, None);
    super::cluster::spawn(commands, kit, &mut part, towards_driver(CLUSTER, 18.0));
    wheel(commands, kit, &mut part);
    key(commands, kit, &mut part);
    climate(commands, kit, &mut part);
    levers(commands, kit, &mut part);
    part
}

/// Spawns a piece that owns its own state.
pub(super) fn control<S: Bundle>(
    commands: &mut Commands,
    kit: &mut KitAssets,
    part: &mut SpawnedPart,
    name: &str,
    at: Transform,
    look: PartBuilder,
    state: S,
) -> (Entity, Entity) {
    let owner = commands
        .spawn((at, Visibility::default(), ChildOf(part.entity), state))
        .id();
    let moving = commands
        .spawn((Transform::IDENTITY, Visibility::default(), ChildOf(owner)))
        .id();
    look.spawn_under(commands, kit, moving, None);
    part.pieces.insert(name.into(), owner);
    part.anchors.insert(name.into(), at);
    (owner, moving)
}

fn wheel(commands: &mut Commands, kit: &mut KitAssets, part: &mut SpawnedPart) {
    let t = towards_driver(WHEEL, 24.0);
    let mut b = PartBuilder::new();
    let ring: Vec<Vec3> = (0..=48)
        .map(|i| {
            let a = i as f32 / 48.0 * PI * 2.0;
            Vec3::new(a.cos() * 0.172, a.sin() * 0.172, 0.0)
        })
        .collect();
    b.add(Mat::Rubber, sweep(&ring, 12, false, |_| 0.0155));
    for (x, y) in [(-1.0f32, 0.12f32), (1.0, 0.12), (-0.35, -1.0), (0.35, -1.0)] {
        let d = Vec2::new(x, y).normalize();
        let spoke = through(
            &[
                Vec3::new(d.x * 0.055, d.y * 0.045, -0.022),
                Vec3::new(d.x * 0.11, d.y * 0.105, -0.018),
                Vec3::new(d.x * 0.175, d.y * 0.169, 0.0),
            ],
            5,
        );
        b.add(DARK, tube(&spoke, 0.017, 10, true));
    }
    b.add(
        DARK,
        cylinder(0.05, 0.09, 24, 0.006)
            .turn(Vec3::X, -90.0)
            .mv(0.0, 0.0, -0.03),
    );
    // Column shroud.
    b.add(
        MID,
        rounded_box(Vec3::new(0.10, 0.085, 0.16), 0.025).mv(0.0, -0.012, -0.12),
    );
    part.piece(commands, kit, "wheel", t, b);
    // Horn pad, set into the hub. It carries our own plain sign, no badge.
    let mut pad = PartBuilder::new();
    pad.add(MID, rounded_box(Vec3::new(0.135, 0.095, 0.035), 0.017));
    let sign = kit.label("horn sign", || {
        let ink = [190, 192, 194, 255];
        let mut c = super::glyphs::Canvas::new(64, 64, [190, 192, 194, 0]);
        c.rect(14, 26, 10, 12, ink);
        for i in 0..14 {
            c.rect(24 + i, 26 - i / 2, 1, 12 + i, ink);
        }
        c.arc(40.0, 32.0, 10.0, -0.8, 0.8, 2.5, ink);
        c.arc(40.0, 32.0, 17.0, -0.8, 0.8, 2.5, ink);
        c
    });
    pad.add_own(sign, decal(0.03, 0.03).mv(0.0, 0.0, 0.0176));
    let (owner, moving) = control(
        commands,
        kit,
        part,
        "horn",
        t * Transform::from_xyz(0.0, 0.0, 0.002),
        pad,
        Pressed(false),
    );
    commands.entity(moving).insert(Slides {
        seconds: 0.08,
        ..Slides::new(
            owner,
            Follow::Pressed,
            Transform::IDENTITY,
            Transform::from_xyz(0.0, 0.0, -0.006),
        )
    });
    // Light stalk on the left of the column.
    let mut s = PartBuilder::new();
    s.add(
        TRIM,
        tube(
            &through(
                &[
                    Vec3::ZERO,
                    Vec3::new(-0.06, 0.012, 0.006),
                    Vec3::new(-0.135, 0.02, 0.016),
                ],
                6,
            ),
            0.0075,
            10,
            true,
        ),
    );
    s.add(
        MID,
        cylinder(0.0105, 0.04, 14, 0.003)
            .turn(Vec3::Z, 82.0)
            .mv(-0.105, 0.016, 0.012),
    );
    let mark = super::labels::lettering(kit, "LIGHTS", [220, 222, 224]);
    s.add_own(
        mark,
        decal(0.03, 0.0075)
            .turn(Vec3::Z, -8.0)
            .mv(-0.128, 0.019, 0.0245),
    );
    let (owner, moving) = control(
        commands,
        kit,
        part,
        "stalk",
        t * Transform::from_xyz(-0.05, 0.01, -0.075),
        s,
        KeyTurn(0.0),
    );
    commands.entity(moving).insert(Turns {
        owner,
        rest: Quat::IDENTITY,
        axis: Vec3::Z,
        per_unit: -0.14,
        at: 0.0,
        rate: 20.0,
    });
}

fn key(commands: &mut Commands, kit: &mut KitAssets, part: &mut SpawnedPart) {
    let t = towards_driver(Vec3::new(0.105, -0.125, -1.058), 10.0);
    let mut f = PartBuilder::new();
    f.add(MID, rounded_box(Vec3::new(0.085, 0.085, 0.02), 0.012));
    let face = kit.label("key positions", || {
        let ink = [225, 226, 228, 255];
        let mut c = super::glyphs::Canvas::new(192, 192, [225, 226, 228, 0]);
        for (i, word) in ["0", "1", "2", "3"].iter().enumerate() {
            let a = -PI * 0.5 - 0.7 + i as f32 * 0.62;
            c.text_mid(
                (96.0 + a.cos() * 78.0) as i32,
                (96.0 + a.sin() * 78.0) as i32,
                3,
                word,
                ink,
            );
            c.line(
                (96.0 + a.cos() * 54.0, 96.0 + a.sin() * 54.0),
                (96.0 + a.cos() * 62.0, 96.0 + a.sin() * 62.0),
                3.0,
                ink,
            );
        }
        c.text_mid(96, 176, 2, "OFF ACC ON START", ink);
        c
    });
    f.add_own(face, decal(0.08, 0.08).mv(0.0, 0.0, 0.0102));
    f.add(
        Mat::Steel,
        lathe(
            &[(0.019, 0.008), (0.019, 0.014), (0.016, 0.016), (0.0, 0.016)],
            26,
        )
        .turn(Vec3::X, 90.0),
    );
    part.piece(commands, kit, "key.plate", t, f);
    let mut k = PartBuilder::new();
    k.add(
        Mat::Steel,
        cylinder(0.012, 0.004, 22, 0.001).turn(Vec3::X, 90.0),
    );
    k.add(
        Mat::Steel,
        rounded_box(Vec3::new(0.003, 0.010, 0.022), 0.0008).mv(0.0, 0.0, 0.012),
    );
    k.add(
        Mat::Rubber,
        rounded_box(Vec3::new(0.009, 0.026, 0.034), 0.004).mv(0.0, 0.0, 0.036),
    );
    k.add(
        Mat::Steel,
        tube(
            &super::body::ring_path(Vec3::ZERO, 0.011, 18),
            0.0011,
            6,
            false,
        )
        .mv(0.0, -0.014, 0.05),
    );
    k.add(
        Mat::Cloth([150, 44, 36]),
        rounded_box(Vec3::new(0.004, 0.034, 0.018), 0.0015).mv(0.004, -0.040, 0.05),
    );
    let (owner, moving) = control(
        commands,
        kit,
        part,
        "key",
        t * Transform::from_xyz(0.0, 0.0, 0.016),
        k,
        KeyTurn(0.0),
    );
    commands.entity(moving).insert(Turns {
        owner,
        rest: Quat::from_rotation_z(0.7),
        axis: Vec3::Z,
        per_unit: -0.62,
        at: -0.01,
        rate: 18.0,
    });
}

fn climate_face(b: &mut PartBuilder, kit: &mut KitAssets) {
    let t = towards_driver(CLIMATE, 6.0);
    b.add(
        TRIM,
        rounded_box(Vec3::new(0.225, 0.085, 0.018), 0.008).at(t),
    );
    let face = kit.label("climate face", || {
        let ink = [225, 226, 228, 255];
        let (cold, hot) = ([90, 150, 230, 255], [220, 80, 60, 255]);
        let mut c = super::glyphs::Canvas::new(528, 192, [225, 226, 228, 0]);
        for i in 0..5 {
            let a = PI * 0.75 + i as f32 * PI * 1.5 / 4.0;
            c.text_mid(
                (96.0 + a.cos() * 74.0) as i32,
                (92.0 + a.sin() * 74.0) as i32,
                3,
                &i.to_string(),
                ink,
            );
        }
        c.text_mid(96, 180, 2, "BLOWER", ink);
        for i in 0..=24 {
            let f = i as f32 / 24.0;
            let a = PI * 0.75 + f * PI * 1.5;
            let col = if f < 0.5 { cold } else { hot };
            c.disc(
                432.0 + a.cos() * 74.0,
                92.0 + a.sin() * 74.0,
                3.0 + 4.0 * (f - 0.5).abs(),
                col,
            );
        }
        c.text_mid(432, 180, 2, "COLD - HOT", ink);
        c
    });
    b.add_own(face, decal(0.22, 0.08).mv(0.0, 0.0, 0.0092).at(t));
}

fn climate(commands: &mut Commands, kit: &mut KitAssets, part: &mut SpawnedPart) {
    let t = towards_driver(CLIMATE, 6.0);
    for (name, x, per) in [
        ("blower", -0.07f32, PI * 1.5 / 4.0),
        ("temperature", 0.07, PI * 1.5 / 6.0),
    ] {
        let mut k = PartBuilder::new();
        k.add(
            DARK,
            lathe(
                &[(0.022, 0.0), (0.021, 0.014), (0.018, 0.017), (0.0, 0.017)],
                30,
            )
            .turn(Vec3::X, 90.0),
        );
        for i in 0..18 {
            k.add(
                DARK,
                rounded_box(Vec3::new(0.002, 0.002, 0.013), 0.0006)
                    .mv(0.0, 0.0217, 0.008)
                    .turn(Vec3::Z, i as f32 * 20.0),
            );
        }
        k.add(
            Mat::Gloss([240, 240, 236]),
            block(Vec3::new(0.0022, 0.014, 0.001)).mv(0.0, 0.013, 0.0172),
        );
        let (owner, moving) = control(
            commands,
            kit,
            part,
            name,
            t * Transform::from_xyz(x, 0.0015, 0.009),
            k,
            KeyTurn(0.0),
        );
        commands.entity(moving).insert(Turns {
            owner,
            rest: Quat::from_rotation_z(PI * 0.75),
            axis: Vec3::Z,
            per_unit: -per,
            at: -0.01,
            rate: 18.0,
        });
    }
    let mut k = PartBuilder::new();
    k.add(MID, rounded_box(Vec3::new(0.040, 0.026, 0.012), 0.004));
    let word = super::labels::lettering(kit, "A/C", [230, 232, 234]);
    k.add_own(word, decal(0.022, 0.010).mv(-0.001, 0.002, 0.0061));
    let (owner, moving) = control(
        commands,
        kit,
        part,
        "ac.button",
        t * Transform::from_xyz(0.0, 0.004, 0.012),
        k,
        (Pressed(false), Glow(0.0)),
    );
    commands.entity(moving).insert(Slides {
        seconds: 0.08,
        ..Slides::new(
            owner,
            Follow::Pressed,
            Transform::IDENTITY,
            Transform::from_xyz(0.0, 0.0, -0.003),
        )
    });
    let lamp = kit.own(Mat::Gloss([70, 40, 16]));
    let mesh = kit.meshes.add(
        rounded_box(Vec3::new(0.014, 0.003, 0.002), 0.0008)
            .mv(0.0, -0.008, 0.0062)
            .to_mesh(),
    );
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(lamp),
        ChildOf(moving),
        Glows {
            owner,
            colour: LinearRgba::rgb(3.2, 1.6, 0.2),
        },
    ));
}

fn levers(commands: &mut Commands, kit: &mut KitAssets, part: &mut SpawnedPart) {
    let mut g = PartBuilder::new();
    g.add(
        Mat::Rubber,
        lathe(
            &[
                (0.05, 0.0),
                (0.042, 0.012),
                (0.036, 0.02),
                (0.03, 0.036),
                (0.02, 0.05),
                (0.009, 0.07),
                (0.0, 0.07),
            ],
            20,
        ),
    );
    g.add(Mat::Steel, cylinder(0.006, 0.14, 12, 0.001));
    g.add(
        Mat::Gloss([24, 24, 26]),
        sphere(0.024, 22).mv(0.0, 0.155, 0.0),
    );
    control(
        commands,
        kit,
        part,
        "gear",
        Transform::from_xyz(-0.02, -0.40, -1.22),
        g,
        KeyTurn(0.0),
    );
    let mut p = PartBuilder::new();
    p.add(
        DARK,
        tube(
            &bent(
                &[
                    Vec3::ZERO,
                    Vec3::new(0.0, 0.03, -0.05),
                    Vec3::new(0.0, 0.05, -0.22),
                ],
                0.03,
                4,
            ),
            0.011,
            12,
            true,
        ),
    );
    p.add(
        Mat::Rubber,
        tube(
            &[Vec3::new(0.0, 0.04, -0.12), Vec3::new(0.0, 0.052, -0.235)],
            0.015,
            14,
            true,
        ),
    );
    let (owner, moving) = control(
        commands,
        kit,
        part,
        "park_brake",
        Transform::from_xyz(0.045, -0.40, -1.38),
        p,
        KeyTurn(1.0),
    );
    commands.entity(moving).insert(Turns {
        owner,
        rest: Quat::from_rotation_x(-0.1),
        axis: Vec3::X,
        per_unit: 0.5,
        at: 0.0,
        rate: 9.0,
    });
}

/// A display piece showing text, `width` × `height` metres, facing the driver.
pub(super) fn text_display(
    commands: &mut Commands,
    kit: &mut KitAssets,
    part: &mut SpawnedPart,
    name: &str,
    at: Transform,
    size: Vec2,
    text: &str,
) {
    let owner = commands
        .spawn((
            at,
            Visibility::default(),
            ChildOf(part.entity),
            Display(text.into()),
        ))
        .id();
    let (material, shows) = screen(
        kit,
        owner,
        Screen {
            width: 192,
            height: (192.0 * size.y / size.x) as usize,
            paper: [20, 22, 24],
            ink: [236, 150, 60],
        },
        0.5,
    );
    let mesh = kit.meshes.add(decal(size.x, size.y).to_mesh());
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(material),
        ChildOf(owner),
        shows,
    ));
    part.pieces.insert(name.into(), owner);
}
