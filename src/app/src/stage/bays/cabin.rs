//! Places in the cabin and behind it, the same in every car, and the stands below the dash.
//!
//! Things behind trim hang from the cross-car beam below the dash, where one reaches them.

use super::common::{spots, v};
use crate::kit::cabin::{CLIMATE, CLUSTER, WHEEL};
use crate::stage::layout::{Spot, Stand};
use bevy::prelude::*;
use std::collections::BTreeMap;
use std::f32::consts::FRAC_PI_2;

/// Facing whoever kneels in the footwell.
fn below(x: f32, y: f32) -> Spot {
    Spot::on(x, y, -0.965)
        .turned(180.0, 90.0)
        .from(0.0, 0.22, -1.0)
        .away(0.42)
}

/// On what faces up behind the seats, seen from between them.
fn rear(x: f32, y: f32, z: f32) -> Spot {
    Spot::on(x, y, z).from(0.0, 0.9, 0.6).away(0.5)
}

/// What one looks at who turns to a place of the cabin as such: its face, not what hangs behind it.
pub fn face(place: &str) -> Option<Spot> {
    let seen = |at: Vec3, up: f32, distance: f32| {
        Spot::on(at.x, at.y, at.z)
            .from(0.1, up, -1.0)
            .away(distance)
    };
    match place {
        // The two in the middle of the dash.
        "vents" => Some(seen(v(CLIMATE.x, -0.062, -1.052), -0.05, 0.40)),
        "cluster" => Some(seen(CLUSTER, 0.45, 0.48)),
        "steering_wheel" => Some(seen(WHEEL, 0.4, 0.52)),
        "climate_panel" => Some(seen(CLIMATE, 0.25, 0.42)),
        _ => None,
    }
}

/// Places of the cabin.
pub(super) fn places() -> BTreeMap<String, Spot> {
    spots([
        ("vents", below(-0.30, -0.50).from(0.0, 0.3, -1.0)),
        ("cluster", below(0.42, -0.385)),
        ("steering_wheel", below(0.30, -0.385)),
        ("steering_column", below(0.30, -0.45)),
        ("pedals", below(0.40, -0.45)),
        ("under_dash", below(0.17, -0.40).from(0.25, 0.25, -1.0)),
        ("climate_panel", below(-0.24, -0.385)),
        ("blower_case", below(-0.36, -0.45)),
        (
            "sill",
            Spot::on(0.64, -0.60, -1.35)
                .from(-0.4, 1.0, -0.4)
                .away(0.45),
        ),
        ("under_rear_seat", rear(-0.22, -0.562, -2.16)),
        (
            "boot_side",
            Spot::on(0.675, -0.26, -2.30)
                .turned(-90.0, 90.0)
                .from(-1.0, 0.5, 0.5)
                .away(0.45),
        ),
        (
            "tail",
            Spot::on(-0.675, -0.20, -2.28)
                .turned(90.0, 90.0)
                .from(1.0, 0.5, 0.4)
                .away(0.45),
        ),
        ("rear_member", rear(0.24, -0.562, -2.10)),
        (
            "frame_rail",
            Spot::on(-0.60, -0.60, -1.60)
                .from(0.5, 1.0, -0.3)
                .away(0.45),
        ),
    ])
}

/// A stand below the dash at that x. The box hangs upright and faces the cabin; its lid and the tray
/// lie on the floor, `aside` of each other.
fn stand(x: f32, aside: f32) -> Stand {
    // On the floor with its top up, in the frame of the upright box.
    let flat = Quat::from_rotation_x(-FRAC_PI_2);
    Stand {
        at: v(x, -0.475, -0.90),
        yaw: 180.0,
        pitch: 90.0,
        lid_aside: Transform::from_xyz(x.signum() * aside, 0.22, 0.096).with_rotation(flat),
        tray: Transform::from_xyz(0.0, 0.26, 0.142).with_rotation(flat),
        least: Vec2::new(0.10, 0.10),
        aside: v(0.06 * x.signum(), 0.03, 0.02),
        eye: v(-0.12 * x.signum(), 0.42, -1.0),
        distance: 0.58,
    }
}

/// Driver's and passenger's side.
pub(super) fn stands() -> (Stand, Stand) {
    (stand(0.575, 0.25), stand(-0.56, 0.25))
}
