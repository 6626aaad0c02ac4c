//! Things of the relay bench: supply and bulb holder.
//!
//! Frame: they stand on y = 0 with their face towards +z.

use super::display::{Screen, screen};
use super::follow::Glows;
use super::labels;
use super::material::{KitAssets, Mat, Rgb};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::{Display, Glow};
use bevy::prelude::*;

/// Colour of the small boards things stand on.
const BOARD: Rgb = [150, 112, 70];

/// How far the ends of a bulb holder are to the right of its middle, metres.
pub const BULB_ENDS: [f32; 2] = [-0.042, 0.042];
/// Where the supply's posts stand in its own frame, their feet: `minus` and `plus`, metres.
pub const SUPPLY_POSTS: [Vec3; 2] = [
    Vec3::new(-0.045, 0.104, 0.035),
    Vec3::new(0.045, 0.104, 0.035),
];

/// A binding post with its socket on top.
pub(super) fn post(b: &mut PartBuilder, at: Vec3, colour: [u8; 3]) {
    b.add(
        Mat::Gloss(colour),
        lathe(
            &[
                (0.008, 0.0),
                (0.008, 0.004),
                (0.006, 0.006),
                (0.0075, 0.010),
                (0.0075, 0.018),
                (0.003, 0.019),
                (0.0, 0.019),
            ],
            18,
        )
        .mv(at.x, at.y, at.z),
    );
    b.add(
        Mat::Brass,
        cylinder(0.0026, 0.006, 12, 0.0008).mv(at.x, at.y + 0.017, at.z),
    );
}

fn letters(b: &mut PartBuilder, kit: &mut KitAssets, text: &str, height: f32, at: Transform) {
    let m = labels::lettering(kit, text, [236, 236, 230]);
    b.add_own(
        m,
        decal(height * labels::lettering_aspect(text), height).at(at),
    );
}

/// A small bench supply. State [`Display`]. Anchors `plus`, `minus`.
pub fn supply(commands: &mut Commands, kit: &mut KitAssets, at: Transform) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Satin([64, 72, 80]),
        rounded_box(Vec3::new(0.17, 0.10, 0.14), 0.008).mv(0.0, 0.054, 0.0),
    );
    b.add(
        Mat::Plastic([28, 29, 32]),
        rounded_box(Vec3::new(0.16, 0.088, 0.008), 0.003).mv(0.0, 0.054, 0.07),
    );
    for s in [-1.0f32, 1.0] {
        for z in [-0.05f32, 0.05] {
            b.add(
                Mat::Rubber,
                cylinder(0.009, 0.006, 12, 0.002).mv(0.07 * s, 0.0, z),
            );
        }
        for k in 0..6 {
            b.add(
                Mat::Void,
                block(Vec3::new(0.001, 0.004, 0.08)).mv(0.085 * s, 0.03 + k as f32 * 0.011, -0.01),
            );
        }
    }
    for ((name, colour, sign), at) in [("minus", [30, 30, 32], "-"), ("plus", [190, 36, 34], "+")]
        .into_iter()
        .zip(SUPPLY_POSTS)
    {
        post(&mut b, at, colour);
        letters(
            &mut b,
            kit,
            sign,
            0.014,
            Transform::from_translation(at + Vec3::new(0.018, 0.0002, 0.0))
                .with_rotation(Quat::from_rotation_x(-std::f32::consts::FRAC_PI_2)),
        );
        b.anchor_out(name, at + Vec3::Y * 0.024, Vec3::Y);
    }
    b.add(
        Mat::Gloss([40, 42, 46]),
        cylinder(0.013, 0.014, 22, 0.003)
            .turn(Vec3::X, 90.0)
            .mv(0.058, 0.062, 0.074),
    );
    letters(
        &mut b,
        kit,
        "BENCH SUPPLY 12V 5A",
        0.009,
        Transform::from_xyz(-0.015, 0.026, 0.0742),
    );
    let part = b.spawn(commands, kit, at, None);
    commands
        .entity(part.entity)
        .insert(Display("12.0 V".into()));
    let (material, shows) = screen(
        kit,
        part.entity,
        Screen {
            width: 192,
            height: 72,
            paper: [16, 12, 12],
            ink: [255, 80, 50],
        },
        1.2,
    );
    let mesh = kit
        .meshes
        .add(decal(0.08, 0.03).mv(-0.02, 0.067, 0.0744).to_mesh());
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(material),
        ChildOf(part.entity),
        shows,
    ));
    part
}

/// A lamp in a holder on a small board. State [`Glow`]. Anchors `1`, `2`.
pub fn bulb_holder(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    print: &str,
) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Satin(BOARD),
        rounded_box(Vec3::new(0.12, 0.014, 0.07), 0.003).mv(0.0, 0.007, 0.0),
    );
    b.add(
        Mat::Plastic([30, 30, 32]),
        lathe(
            &[
                (0.0, 0.0),
                (0.019, 0.0),
                (0.019, 0.012),
                (0.014, 0.016),
                (0.0, 0.016),
            ],
            22,
        )
        .mv(0.0, 0.014, 0.0),
    );
    b.add(
        Mat::Brass,
        cylinder(0.0085, 0.014, 18, 0.001).mv(0.0, 0.028, 0.0),
    );
    for (name, x) in ["1", "2"].into_iter().zip(BULB_ENDS) {
        post(&mut b, Vec3::new(x, 0.014, 0.0), [60, 62, 66]);
        b.anchor_out(name, Vec3::new(x, 0.038, 0.0), Vec3::Y);
    }
    if !print.is_empty() {
        let ink = labels::print(kit, print, BOARD, [236, 232, 220]);
        let wide = 0.014 * labels::lettering_aspect(print);
        b.add_own(
            ink,
            decal(wide, 0.014)
                .turn(Vec3::X, -90.0)
                .mv(0.0, 0.0144, 0.0265),
        );
    }
    let part = b.spawn(commands, kit, at, None);
    commands.entity(part.entity).insert(Glow(0.0));
    let glass = kit.own(Mat::Clear([250, 246, 236], 110));
    let mesh = kit.mesh("bench bulb", || {
        lathe(
            &[
                (0.007, 0.040),
                (0.011, 0.050),
                (0.0125, 0.060),
                (0.010, 0.070),
                (0.0, 0.0745),
            ],
            20,
        )
        .to_mesh()
    });
    commands.spawn((
        Mesh3d(mesh),
        MeshMaterial3d(glass),
        ChildOf(part.entity),
        bevy::light::NotShadowCaster,
        Glows {
            owner: part.entity,
            colour: LinearRgba::rgb(14.0, 11.0, 6.0),
        },
    ));
    part
}
