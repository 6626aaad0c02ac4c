//! The cabin's fixed trim: pillars, doors, dash, vents.
//!
//! Frame: the bay's, as in [`super::cabin`].

use super::cabin::{CLIMATE, CLUSTER, DARK, MID, TRIM, towards_driver};
use super::curve::through;
use super::geo::Geo;
use super::material::Mat;
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;
use std::f32::consts::PI;

pub(super) fn shell(b: &mut PartBuilder) {
    // Pillars, header, doors, floor: enough to be inside.
    for s in [-1.0f32, 1.0] {
        let pillar = [
            Vec3::new(0.70 * s, 0.03, -0.74),
            Vec3::new(0.66 * s, 0.30, -1.06),
            Vec3::new(0.61 * s, 0.53, -1.38),
        ];
        b.add(MID, tube(&through(&pillar, 6), 0.04, 12, true));
        let door = panel(8, 8, |u, v| {
            Vec3::new((0.72 - 0.03 * v) * s, -0.62 + 0.66 * v, -0.8 - 1.3 * u)
        });
        b.add(DARK, if s > 0.0 { door.inside_out() } else { door });
        b.add(
            MID,
            rounded_box(Vec3::new(0.07, 0.05, 0.9), 0.02).mv(0.68 * s, -0.16, -1.45),
        );
        b.add(
            MID,
            rounded_box(Vec3::new(0.05, 0.05, 1.2), 0.02).mv(0.69 * s, 0.03, -1.40),
        );
    }
    b.add(
        MID,
        rounded_box(Vec3::new(1.3, 0.06, 0.16), 0.02).mv(0.0, 0.56, -1.42),
    );
    b.add(
        Mat::Cloth([62, 62, 66]),
        // Under the doors, or daylight shows between.
        rounded_box(Vec3::new(1.52, 0.02, 1.4), 0.004).mv(0.0, -0.63, -1.45),
    );
    // Mirror.
    b.add(
        Mat::Gloss([22, 22, 24]),
        rounded_box(Vec3::new(0.22, 0.06, 0.03), 0.014).mv(0.0, 0.44, -1.33),
    );
    b.add(
        Mat::BareAluminium,
        decal(0.20, 0.05).at(towards_driver(Vec3::new(0.0, 0.44, -1.346), -8.0)),
    );
    b.add(
        Mat::Gloss([22, 22, 24]),
        tube(
            &[Vec3::new(0.0, 0.45, -1.32), Vec3::new(0.0, 0.52, -1.34)],
            0.008,
            8,
            true,
        ),
    );
}

pub(super) fn dash(b: &mut PartBuilder) {
    // Top pad: rolls from the windscreen over an edge and down towards the knees.
    let section = [
        Vec3::new(0.0, 0.045, -0.74),
        Vec3::new(0.0, 0.055, -0.86),
        Vec3::new(0.0, 0.052, -0.97),
        Vec3::new(0.0, 0.035, -1.03),
        Vec3::new(0.0, -0.005, -1.045),
        Vec3::new(0.0, -0.10, -1.03),
        Vec3::new(0.0, -0.26, -1.00),
        Vec3::new(0.0, -0.38, -0.92),
    ];
    let fine = through(&section, 6);
    let pad = panel(24, fine.len() - 1, |u, v| {
        let x = -0.70 + 1.40 * u;
        let f = v * (fine.len() - 1) as f32;
        let i = (f as usize).min(fine.len() - 2);
        let p = fine[i].lerp(fine[i + 1], f - i as f32);
        // A hood swells over the cluster, a step falls in front of the passenger.
        let hood = 0.045
            * (-((x - CLUSTER.x) / 0.17).powi(4)).exp()
            * (1.0 - ((v - 0.30) / 0.2).powi(2)).max(0.0);
        let shelf = 0.03
            * (1.0 - ((x + 0.38) / 0.3).powi(2)).max(0.0)
            * (1.0 - ((v - 0.62) / 0.2).powi(2)).max(0.0);
        Vec3::new(x, p.y + hood, p.z + shelf)
    });
    b.add(DARK, pad);
    // Recess and hood of the cluster.
    b.add(
        TRIM,
        rounded_box(Vec3::new(0.34, 0.16, 0.03), 0.012)
            .at(towards_driver(CLUSTER + Vec3::new(0.0, 0.0, 0.016), 18.0)),
    );
    let hood: Vec<Vec3> = (0..=20)
        .map(|i| {
            let a = PI * i as f32 / 20.0;
            Vec3::new(
                CLUSTER.x + a.cos() * 0.178,
                CLUSTER.y - 0.03 + a.sin().powf(0.7) * 0.118,
                CLUSTER.z - 0.025,
            )
        })
        .collect();
    b.add(DARK, tube(&hood, 0.017, 10, true));
    let roof = panel(16, 3, |u, v| {
        let a = PI * u;
        Vec3::new(
            CLUSTER.x + a.cos() * 0.178,
            CLUSTER.y - 0.022 + a.sin().powf(0.7) * 0.118,
            CLUSTER.z - 0.03 + 0.10 * v,
        )
    });
    b.add(DARK, roof.clone());
    b.add(DARK, roof.inside_out());
    // Decorative strip, glove box line.
    b.add(
        Mat::Gloss([52, 56, 60]),
        rounded_box(Vec3::new(0.46, 0.018, 0.012), 0.005).mv(-0.46, -0.095, -1.042),
    );
    b.add(
        MID,
        rounded_box(Vec3::new(0.40, 0.15, 0.02), 0.012)
            .turn(Vec3::X, 8.0)
            .mv(-0.46, -0.21, -1.02),
    );
    b.add(
        TRIM,
        rounded_box(Vec3::new(0.07, 0.016, 0.014), 0.005).mv(-0.46, -0.155, -1.038),
    );
    // Centre stack and tunnel.
    b.add(
        MID,
        rounded_box(Vec3::new(0.25, 0.31, 0.05), 0.016)
            .turn(Vec3::X, 6.0)
            .mv(CLIMATE.x, -0.19, -1.034),
    );
    b.add(
        DARK,
        rounded_box(Vec3::new(0.24, 0.20, 0.75), 0.03).mv(0.0, -0.50, -1.35),
    );
    // Knee panel below the column.
    b.add(
        MID,
        rounded_box(Vec3::new(0.40, 0.15, 0.03), 0.014)
            .turn(Vec3::X, 14.0)
            .mv(0.35, -0.23, -1.02),
    );
    // Below the dash: the toe board, the beam that carries harnesses and plugs, the blower's case.
    let board = panel(4, 4, |u, v| {
        Vec3::new(-0.70 + 1.40 * u, -0.63 + 0.32 * v, -0.84 + 0.10 * v.powi(2))
    });
    b.add(Mat::Cloth([46, 47, 50]), board.inside_out());
    b.add(
        Mat::DarkSteel,
        tube(
            &[
                Vec3::new(-0.47, -0.395, -0.93),
                Vec3::new(0.48, -0.395, -0.93),
            ],
            0.022,
            14,
            true,
        ),
    );
    b.add(
        Mat::Plastic([40, 41, 44]),
        rounded_box(Vec3::new(0.30, 0.17, 0.10), 0.03).mv(-0.37, -0.50, -0.895),
    );
    // Pedals.
    for (x, w) in [(0.43f32, 0.05), (0.33, 0.06), (0.22, 0.045)] {
        b.add(
            Mat::Rubber,
            rounded_box(Vec3::new(w, 0.06, 0.012), 0.003)
                .turn(Vec3::X, -30.0)
                .mv(x, -0.46, -0.95),
        );
    }
}

pub(super) fn vents(b: &mut PartBuilder) {
    for (i, x) in [0.62f32, CLIMATE.x + 0.065, CLIMATE.x - 0.065, -0.60]
        .iter()
        .enumerate()
    {
        let y = if i == 0 || i == 3 { -0.045 } else { -0.062 };
        let t = towards_driver(Vec3::new(*x, y, -1.052), 4.0);
        let (w, h) = (0.10, 0.062);
        let mut g = Geo::default();
        for s in [-1.0f32, 1.0] {
            g.append(&rounded_box(Vec3::new(w + 0.012, 0.006, 0.016), 0.002).mv(
                0.0,
                s * h * 0.5,
                0.0,
            ));
            g.append(&rounded_box(Vec3::new(0.006, h, 0.016), 0.002).mv(s * w * 0.5, 0.0, 0.0));
        }
        b.add(TRIM, g.at(t));
        b.add(Mat::Void, decal(w, h).mv(0.0, 0.0, -0.004).at(t));
        for k in 0..5 {
            let y = -h * 0.36 + k as f32 * h * 0.18;
            b.add(
                DARK,
                rounded_box(Vec3::new(w - 0.004, 0.0022, 0.012), 0.0008)
                    .turn(Vec3::X, 24.0)
                    .mv(0.0, y, 0.002)
                    .at(t),
            );
        }
        b.add(
            MID,
            rounded_box(Vec3::new(0.008, 0.012, 0.010), 0.002)
                .mv(0.0, 0.0, 0.010)
                .at(t),
        );
        let out = t * Vec3::new(0.0, 0.0, 0.02);
        b.anchor_out(&format!("vent.{}", i + 1), out, -Vec3::Z);
    }
}
