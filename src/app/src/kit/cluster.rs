//! The instrument cluster: rev counter, speed, coolant, fuel, warning lamps.
//!
//! Frame: faces +Z, up +Y; placed by the cabin.

use super::cabin::text_display;
use super::follow::{Glows, Turns};
use super::glyphs::Canvas;
use super::material::{KitAssets, Mat};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::*;
use bevy::prelude::*;
use std::f32::consts::PI;

/// Warning lamps: name, words on the lens (our own plain words, no symbols that
/// need explaining), colour.
pub const WARNINGS: [(&str, &str, [f32; 3]); 6] = [
    ("charge", "BATT", [1.0, 0.08, 0.04]),
    ("oil", "OIL", [1.0, 0.08, 0.04]),
    ("engine", "ENGINE", [1.0, 0.50, 0.04]),
    ("brake", "BRAKE", [1.0, 0.08, 0.04]),
    ("temperature", "TEMP", [1.0, 0.08, 0.04]),
    ("lights", "LIGHTS", [0.1, 0.9, 0.2]),
];

const START: f32 = PI * 0.75;
const SWEEP: f32 = PI * 1.5;

/// Spawns the cluster's faces, needles and lamps as pieces of the cabin.
pub fn spawn(commands: &mut Commands, kit: &mut KitAssets, part: &mut SpawnedPart, at: Transform) {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Plastic([14, 14, 15]),
        rounded_box(Vec3::new(0.32, 0.14, 0.006), 0.002).mv(0.0, 0.0, 0.0),
    );
    let dials = [
        ("tacho", -0.085f32, 0.012f32, 0.056f32),
        ("speed", 0.085, 0.012, 0.056),
        ("coolant", -0.014, -0.030, 0.024),
        ("fuel", 0.014, -0.030, 0.024),
    ];
    for (name, x, y, r) in dials {
        // The two small ones share the middle, one above the other.
        let (x, y) = match name {
            "coolant" => (0.0, 0.034),
            "fuel" => (0.0, -0.022),
            _ => (x, y),
        };
        let face = kit.label(&format!("dial {name}"), || match name {
            "tacho" => dial(8, 1, "RPM x1000", Some(6.5 / 8.0)),
            "speed" => dial(11, 20, "KM/H", None),
            "coolant" => small_dial("C", "H", "TEMP"),
            _ => small_dial("E", "F", "FUEL"),
        });
        b.add_own(face, decal(r * 2.0, r * 2.0).mv(x, y, 0.0034));
        b.add(
            Mat::BareAluminium,
            ring(r, r + 0.0025, 0.006, 48)
                .turn(Vec3::X, 90.0)
                .mv(x, y, 0.002),
        );
        let mut n = PartBuilder::new();
        n.add(
            Mat::Shine([255, 120, 40], 42),
            rounded_box(Vec3::new(r * 0.045, r * 0.95, 0.0012), 0.0004).mv(0.0, r * 0.35, 0.0),
        );
        n.add(
            Mat::Gloss([18, 18, 19]),
            cylinder(r * 0.16, 0.004, 18, 0.001).turn(Vec3::X, 90.0),
        );
        let place = at * Transform::from_xyz(x, y, 0.0065);
        let (owner, moving) =
            super::cabin::control(commands, kit, part, name, place, n, Needle(0.0));
        let small = matches!(name, "coolant" | "fuel");
        let (rest, sweep) = if small {
            (PI * 0.28, PI * 0.56)
        } else {
            (START, SWEEP)
        };
        commands.entity(moving).insert(Turns {
            owner,
            rest: Quat::from_rotation_z(rest),
            axis: Vec3::Z,
            per_unit: -sweep,
            at: -0.5,
            rate: 7.0,
        });
    }
    for (i, (name, word, c)) in WARNINGS.iter().enumerate() {
        let x = -0.11 + i as f32 * 0.044;
        let place = at * Transform::from_xyz(x, -0.060, 0.0034);
        let owner = commands
            .spawn((
                place,
                Visibility::default(),
                ChildOf(part.entity),
                Glow(0.0),
            ))
            .id();
        let lens = kit.own(Mat::Gloss([
            (c[0] * 46.0) as u8 + 10,
            (c[1] * 46.0) as u8 + 10,
            (c[2] * 46.0) as u8 + 10,
        ]));
        let mesh = kit.mesh("warning lens", || {
            rounded_box(Vec3::new(0.038, 0.013, 0.002), 0.0008).to_mesh()
        });
        commands.spawn((
            Mesh3d(mesh),
            MeshMaterial3d(lens),
            ChildOf(owner),
            Glows {
                owner,
                colour: LinearRgba::rgb(c[0] * 2.6, c[1] * 2.6, c[2] * 2.6),
            },
        ));
        let mut l = PartBuilder::new();
        let letters = super::labels::lettering(kit, word, [8, 8, 8]);
        let aspect = super::labels::lettering_aspect(word);
        let h = 0.0075f32.min(0.034 / aspect);
        l.add_own(letters, decal(h * aspect, h).mv(0.0, 0.0, 0.0011));
        l.spawn_under(commands, kit, owner, None);
        part.pieces.insert(format!("warn.{name}"), owner);
    }
    text_display(
        commands,
        kit,
        part,
        "odometer",
        at * Transform::from_xyz(0.085, -0.022, 0.0045),
        Vec2::new(0.036, 0.009),
        "048210 KM",
    );
    part.piece(commands, kit, "cluster", at, b);
}

/// A 270° dial with `steps` numbered marks, each worth `worth`.
fn dial(steps: i32, worth: i32, unit: &str, red_from: Option<f32>) -> Canvas {
    let (paper, ink) = ([16, 17, 19, 255], [232, 234, 236, 255]);
    let mut c = Canvas::new(512, 512, [16, 17, 19, 0]);
    let m = 256.0;
    c.disc(m, m, 254.0, paper);
    let fine = steps * 5;
    for i in 0..=fine {
        let f = i as f32 / fine as f32;
        let a = START + f * SWEEP;
        let long = i % 5 == 0;
        let red = red_from.is_some_and(|r| f >= r - 1e-3);
        let col = if red { [225, 50, 40, 255] } else { ink };
        let r = if long { 206.0 } else { 222.0 };
        c.line(
            (m + a.cos() * r, m + a.sin() * r),
            (m + a.cos() * 240.0, m + a.sin() * 240.0),
            if long { 7.0 } else { 3.0 },
            col,
        );
        if long {
            let n = i / 5 * worth;
            c.text_mid(
                (m + a.cos() * 168.0) as i32,
                (m + a.sin() * 170.0) as i32,
                if worth > 1 { 4 } else { 6 },
                &n.to_string(),
                col,
            );
        }
    }
    c.text_mid(256, 340, 3, unit, ink);
    c
}

/// A small dial over a short arc from one letter to another.
fn small_dial(low: &str, high: &str, word: &str) -> Canvas {
    let (paper, ink, red) = ([16, 17, 19, 255], [232, 234, 236, 255], [225, 50, 40, 255]);
    let mut c = Canvas::new(256, 256, [16, 17, 19, 0]);
    let m = 128.0;
    c.disc(m, m, 126.0, paper);
    for i in 0..=8 {
        let f = i as f32 / 8.0;
        let a = -PI * 0.5 - PI * 0.28 + f * PI * 0.56;
        let hot = word == "TEMP" && i == 8 || word == "FUEL" && i == 0;
        let long = i % 4 == 0;
        c.line(
            (
                m + a.cos() * if long { 96.0 } else { 104.0 },
                m + a.sin() * if long { 96.0 } else { 104.0 },
            ),
            (m + a.cos() * 116.0, m + a.sin() * 116.0),
            if long { 6.0 } else { 3.0 },
            if hot { red } else { ink },
        );
    }
    c.text_mid(44, 92, 4, low, ink);
    c.text_mid(212, 92, 4, high, ink);
    c.text_mid(128, 190, 3, word, ink);
    c
}
