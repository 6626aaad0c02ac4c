//! Where the stations are for a given bay.

use super::demo::demo_layout;
use super::layout::BayLayout;
use super::station::{Limits, Place, Places, View};
use super::workshop::BENCH;
use bevy::prelude::*;

fn v(x: f32, y: f32, z: f32) -> Vec3 {
    Vec3::new(x, y, z)
}

impl Places {
    /// Stations for a bay's layout.
    pub fn for_layout(layout: &BayLayout) -> Places {
        let deg = f32::to_radians;
        // The box that one stands at is the largest in the bay; below the dash one reaches it from
        // the seat.
        let boxes = layout.boxes.iter().filter(|b| b.stand.pitch == 0.0);
        let main = boxes.max_by_key(|b| b.grid.cells.len());
        let (box_at, box_eye, box_from) = match main {
            Some(b) => (b.stand.middle(), b.stand.eye, b.stand.distance),
            None => (
                layout.stands.battery.middle(),
                Vec3::new(0.0, 0.88, 0.47),
                0.5,
            ),
        };
        let yaw = if layout.on_bench {
            deg(-90.0)
        } else {
            box_eye.x.atan2(box_eye.z)
        };
        let pitch = if layout.on_bench {
            deg(62.0)
        } else {
            box_eye.normalize_or(Vec3::Y).y.asin()
        };
        Places {
            bay: Place {
                home: View {
                    target: v(0.0, -0.17, 0.03),
                    yaw: 0.0,
                    pitch: deg(54.0),
                    distance: 1.50,
                    fov: deg(47.0),
                },
                limits: Limits {
                    yaw: deg(75.0),
                    pitch: (deg(12.0), deg(74.0)),
                    distance: (0.42, 2.1),
                    pan: v(0.55, 0.35, 0.45),
                },
            },
            fuse_box: Place {
                home: View {
                    target: box_at + v(0.05, 0.0, 0.01),
                    yaw,
                    pitch,
                    distance: box_from.max(0.40),
                    fov: deg(42.0),
                },
                limits: Limits {
                    yaw: deg(50.0),
                    pitch: (deg(28.0), deg(80.0)),
                    distance: (0.14, 0.75),
                    pan: v(0.30, 0.1, 0.22),
                },
            },
            seat: Place {
                home: View {
                    target: v(0.22, -0.055, -1.05),
                    yaw: deg(180.0),
                    pitch: deg(25.0),
                    distance: 0.80,
                    fov: deg(62.0),
                },
                limits: Limits {
                    yaw: deg(40.0),
                    pitch: (deg(-2.0), deg(35.0)),
                    distance: (0.35, 0.85),
                    pan: v(0.35, 0.2, 0.2),
                },
            },
            bench: Place {
                home: View {
                    target: BENCH
                        + if layout.on_bench {
                            v(0.02, 0.03, 0.0)
                        } else {
                            v(-0.04, 0.03, 0.0)
                        },
                    yaw: deg(-90.0),
                    pitch: deg(if layout.on_bench { 56.0 } else { 48.0 }),
                    distance: if layout.on_bench { 0.78 } else { 0.60 },
                    fov: deg(45.0),
                },
                limits: Limits {
                    yaw: deg(45.0),
                    pitch: (deg(15.0), deg(75.0)),
                    distance: (0.3, 1.3),
                    pan: v(0.3, 0.2, 0.6),
                },
            },
        }
    }
}

impl Default for Places {
    fn default() -> Self {
        Places::for_layout(&demo_layout())
    }
}
