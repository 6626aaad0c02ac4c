//! The room round the car: floor, walls, and the workbench.

use crate::kit::solids::*;
use crate::kit::{KitAssets, Mat, PartBuilder};
use bevy::prelude::*;

/// Height of the floor in the bay's frame (the wings' rim is 0).
pub const FLOOR: f32 = -0.92;
/// Top of the workbench in the bay's frame.
pub const BENCH_TOP: f32 = -0.02;
/// Middle of the workbench's top.
pub const BENCH: Vec3 = Vec3::new(2.6, BENCH_TOP, 0.2);

/// Spawns floor, walls and bench.
pub fn spawn_workshop(commands: &mut Commands, kit: &mut KitAssets) {
    let mut b = PartBuilder::new();
    let floor = panel(1, 1, |u, v| {
        Vec3::new(-5.0 + 10.0 * u, FLOOR, 5.0 - 10.0 * v)
    });
    b.add(Mat::Floor, floor.uv_scale(0.12, 0.12));
    let wall = Mat::Wall([120, 126, 128]);
    let low = Mat::Wall([52, 66, 74]);
    for (turn, far) in [(0.0f32, 4.5f32), (90.0, 3.4), (-90.0, 4.5)] {
        for (m, y, h) in [(low, FLOOR, 1.1f32), (wall, FLOOR + 1.1, 2.2)] {
            let sheet = panel(1, 1, |u, v| Vec3::new(-5.0 + 10.0 * u, y + h * v, -far));
            b.add(m, sheet.turn(Vec3::Y, turn));
        }
        let rail =
            rounded_box(Vec3::new(10.0, 0.04, 0.03), 0.008).mv(0.0, FLOOR + 1.1, -far + 0.01);
        b.add(Mat::Wall([200, 150, 40]), rail.turn(Vec3::Y, turn));
    }
    // Bench: steel frame, thick wooden top (plain), back board with hanging things.
    let top = Mat::Satin([128, 92, 58]);
    b.add(
        top,
        rounded_box(Vec3::new(0.75, 0.045, 1.7), 0.006)
            .uv_scale(0.07, 0.02)
            .mv(BENCH.x, BENCH_TOP - 0.0225, BENCH.z),
    );
    for z in [-0.78f32, 0.78] {
        for x in [-0.32f32, 0.32] {
            b.add(
                Mat::Satin([70, 78, 84]),
                rounded_box(Vec3::new(0.05, BENCH_TOP - 0.045 - FLOOR, 0.05), 0.006).mv(
                    BENCH.x + x,
                    (BENCH_TOP - 0.045 + FLOOR) * 0.5,
                    BENCH.z + z,
                ),
            );
        }
    }
    b.add(
        Mat::Wall([122, 134, 140]),
        rounded_box(Vec3::new(0.03, 0.7, 1.7), 0.004).mv(BENCH.x + 0.38, BENCH_TOP + 0.35, BENCH.z),
    );
    b.spawn(commands, kit, Transform::IDENTITY, None);
}
