//! What sits on the head of a diesel: a plain cover, injectors with their steel pipes, the pump that
//! feeds them, and the glow plugs with their feed rail.
//!
//! Frame: the engine's, see [`super::engine`]; before it is mirrored the pump is at -x.

use super::body::bolt;
use super::curve::through;
use super::engine::LENGTH;
use super::material::{KitAssets, Mat};
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;

/// Where cylinder `i` is along the engine.
fn cylinder_at(i: usize) -> f32 {
    -0.095 - i as f32 * 0.105
}

/// Adds it all; anchors `glow.1` to `glow.4`, `glow.rail`, `pump`.
pub fn top(b: &mut PartBuilder, kit: &mut KitAssets) {
    let mid = -LENGTH * 0.5;
    // A broad sound cover over the middle; its ends leave the injectors free.
    b.add(
        Mat::Plastic([32, 33, 35]),
        rounded_box(Vec3::new(0.165, 0.05, LENGTH - 0.06), 0.02).mv(0.062, -0.012, mid),
    );
    for k in 0..6 {
        b.add(
            Mat::Plastic([38, 39, 41]),
            rounded_box(Vec3::new(0.13, 0.006, 0.012), 0.003).mv(
                0.062,
                0.014,
                -0.07 - k as f32 * 0.026,
            ),
        );
    }
    let word = super::labels::print(kit, "DIESEL", [32, 33, 35], [206, 208, 210]);
    let aspect = super::labels::lettering_aspect("DIESEL");
    b.add_own(
        word,
        decal(0.038 * aspect, 0.038)
            .turn(Vec3::Z, 90.0)
            .turn(Vec3::X, -90.0)
            .mv(0.062, 0.0136, -0.32),
    );
    // The pump: a round body with a head from which the pipes leave.
    let pump = Vec3::new(-0.225, -0.235, -0.06);
    b.add(
        Mat::CastAluminium,
        cylinder(0.062, 0.15, 26, 0.008)
            .turn(Vec3::X, -90.0)
            .mv(pump.x, pump.y, pump.z + 0.05),
    );
    b.add(
        Mat::DarkSteel,
        cylinder(0.04, 0.05, 22, 0.004)
            .turn(Vec3::X, -90.0)
            .mv(pump.x, pump.y, pump.z - 0.10),
    );
    b.add(
        Mat::CastAluminium,
        rounded_box(Vec3::new(0.075, 0.05, 0.09), 0.01).mv(pump.x, pump.y + 0.06, pump.z - 0.02),
    );
    b.add(
        Mat::Steel,
        cylinder(0.016, 0.04, 16, 0.003).mv(pump.x + 0.012, pump.y + 0.085, pump.z + 0.005),
    );
    for i in 0..4 {
        let z = cylinder_at(i);
        // Injector and its return line.
        b.add(
            Mat::Steel,
            cylinder(0.012, 0.05, 14, 0.003).mv(-0.062, -0.045, z),
        );
        b.add(Mat::Brass, hexagon(0.020, 0.012).mv(-0.062, -0.03, z));
        // Steel pipe from the pump, bent in its own way so that all are one length.
        let swing = 0.012 * i as f32;
        let from = pump + Vec3::new(-0.02 + 0.012 * i as f32, 0.02, -0.145);
        let pipe = [
            from,
            from + Vec3::new(-0.01, 0.03 + swing, -0.025),
            Vec3::new(
                -0.215 + swing,
                -0.02 + swing * 0.4,
                (from.z - 0.02 + z) * 0.5,
            ),
            Vec3::new(-0.12, 0.018 + swing * 0.3, z - 0.008),
            Vec3::new(-0.075, 0.022, z),
            Vec3::new(-0.062, 0.004, z),
        ];
        b.add(Mat::Steel, tube(&through(&pipe, 7), 0.0042, 8, true));
        b.add(Mat::Brass, hexagon(0.015, 0.014).mv(-0.062, -0.006, z));
        // Glow plug beside it, with its screwed end.
        let glow = Vec3::new(-0.128, -0.085, z + 0.03);
        b.add(
            Mat::Steel,
            cylinder(0.0055, 0.03, 10, 0.001).mv(glow.x, glow.y, glow.z),
        );
        b.add(Mat::Brass, hexagon(0.012, 0.008).mv(glow.x, glow.y, glow.z));
        b.anchor_out(&format!("glow.{}", i + 1), glow + Vec3::Y * 0.034, Vec3::Y);
    }
    let rail = [
        Vec3::new(-0.128, -0.062, cylinder_at(0) + 0.055),
        Vec3::new(-0.128, -0.062, cylinder_at(3) + 0.01),
    ];
    b.add(
        Mat::Copper,
        rounded_box(Vec3::new(0.009, 0.003, rail[0].z - rail[1].z), 0.001).mv(
            -0.128,
            -0.0615,
            (rail[0].z + rail[1].z) * 0.5,
        ),
    );
    b.anchor_out("glow.rail", rail[0] + Vec3::Y * 0.004, Vec3::Y);
    b.anchor_out("pump", pump + Vec3::new(0.0, 0.13, -0.02), Vec3::Y);
    bolt(b, pump + Vec3::new(0.03, 0.09, 0.0), Vec3::Y, 0.012);
}
