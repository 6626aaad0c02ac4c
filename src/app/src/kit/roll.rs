//! The cloth over a wing and the tool roll on it.

use super::body::{BaySize, smooth};
use super::geo::Geo;
use super::material::Mat;
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;

/// Height of the wing's outside at distance `d` outward of its rim, as the
/// wing's section has it.
fn wing_height(d: f32) -> f32 {
    0.016 - 0.11 * smooth(0.05, 0.20, d) - 0.02 * smooth(0.0, -0.06, d)
}

/// A padded cover draped over the wing at x > 0 (mirrored when `left` is false)
/// from z0 to z1.
pub fn wing_cover(s: BaySize, right_hand: bool, z0: f32, z1: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let sheet = |lift: f32| {
        panel(24, 24, move |u, v| {
            let z = z0 + (z1 - z0) * u;
            let d = -0.045 + 0.245 * v;
            let fold = 0.0025 * ((z * 31.0).sin() + (z * 13.0 + d * 40.0).sin());
            let drop = 0.10 * smooth(0.15, 0.2, d);
            Vec3::new(
                s.half_width + d.min(0.185) + fold * smooth(0.1, 0.2, d),
                wing_height(d) - drop + 0.006 + lift + fold * 0.6,
                z,
            )
        })
    };
    let mut g: Geo = sheet(0.0);
    g.append(&sheet(-0.004).inside_out());
    let g = if right_hand { g } else { g.mirror_x() };
    b.add(Mat::Cloth([58, 62, 70]), g.uv_scale(0.8, 0.8));
    b
}

/// Names of the roll's places in order along its +x.
pub const ROLL_PLACES: [&str; 8] = [
    "thermometer",
    "breakout",
    "gauge",
    "meter",
    "test_light",
    "jumper",
    "lamp",
    "spare",
];

/// An unrolled tool roll, 0.66 m long along x, lying on y = 0, pockets towards
/// +z. An anchor for each of [`ROLL_PLACES`]: tools lie there with their length
/// along z.
pub fn tool_roll() -> PartBuilder {
    let mut b = PartBuilder::new();
    let (l, w) = (0.66, 0.24);
    let cloth = Mat::Cloth([112, 84, 54]);
    let sheet = |lift: f32| {
        panel(36, 10, move |u, v| {
            let x = -l * 0.5 + l * u;
            let z = w * 0.5 - w * v;
            let wave = 0.0015 * ((x * 40.0).sin() + (z * 55.0).cos());
            // The outer edge falls over the wing's shoulder.
            let fall = 0.075 * smooth(-0.03, -0.14, z);
            Vec3::new(x, 0.003 + wave + lift - fall, z + fall * 0.25)
        })
    };
    b.add(
        cloth,
        sheet(0.0)
            .with(sheet(-0.003).inside_out())
            .uv_scale(0.8, 0.8),
    );
    // The pocket strip with its stitched bays.
    let bays = ROLL_PLACES.len() as f32;
    let pocket = panel(64, 4, |u, v| {
        let x = -l * 0.5 + l * u;
        let z = w * 0.5 - 0.075 * v;
        let belly = ((u * bays).fract() * std::f32::consts::PI)
            .sin()
            .abs()
            .powf(0.6);
        Vec3::new(x, 0.005 + 0.010 * belly * (0.25 + 0.75 * v), z)
    });
    b.add(Mat::Cloth([96, 70, 44]), pocket.uv_scale(0.8, 0.8));
    for i in 0..=ROLL_PLACES.len() {
        let x = -l * 0.5 + l * i as f32 / bays;
        b.add(
            Mat::Cloth([200, 186, 150]),
            block(Vec3::new(0.0016, 0.0016, 0.075)).mv(x, 0.0055, w * 0.5 - 0.0375),
        );
    }
    b.add(
        Mat::Cloth([200, 186, 150]),
        rounded_box(Vec3::new(l, 0.0022, 0.004), 0.0006).mv(0.0, 0.0075, w * 0.5 - 0.076),
    );
    // The rolled end and its strap.
    b.add(
        cloth,
        cylinder(0.017, w, 20, 0.004)
            .turn(Vec3::X, 90.0)
            .mv(l * 0.5 + 0.012, 0.016, -w * 0.5),
    );
    b.add(
        Mat::Cloth([60, 42, 26]),
        ring(0.0175, 0.0188, 0.02, 22)
            .turn(Vec3::X, 90.0)
            .mv(l * 0.5 + 0.012, 0.016, -0.01),
    );
    for (i, name) in ROLL_PLACES.iter().enumerate() {
        let x = -l * 0.5 + l * (i as f32 + 0.5) / bays;
        b.anchor(name, Transform::from_xyz(x, 0.010, 0.0));
    }
    b
}
