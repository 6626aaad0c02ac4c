//! What all bays share: tools, cloth on the wings, and small helpers.

use crate::kit::belt::{Pulley, PulleyKind};
use crate::kit::instruments::LOW_SIDE_END_KPA;
use crate::kit::*;
use crate::stage::layout::{Placed, Spot};
use bevy::prelude::*;
use std::collections::BTreeMap;

pub(super) fn v(x: f32, y: f32, z: f32) -> Vec3 {
    Vec3::new(x, y, z)
}

pub(super) fn pulley(x: f32, y: f32, radius: f32, kind: PulleyKind) -> Pulley {
    Pulley {
        at: Vec2::new(x, y),
        radius,
        kind,
    }
}

/// Something along points of the bay's frame.
pub(super) fn along(id: &str, shape: PartShape) -> Placed {
    Placed::new(id, shape, Vec3::ZERO)
}

pub(super) fn spots<const N: usize>(list: [(&str, Spot); N]) -> BTreeMap<String, Spot> {
    list.into_iter().map(|(id, s)| (id.to_owned(), s)).collect()
}

/// The service port on the low or the high side.
pub(super) fn service_port(high: bool, at: Vec3) -> Placed {
    let id = if high { "port.high" } else { "port.low" };
    Placed::new(id, PartShape::ServicePort(high), at).point("port", id, 0.006)
}

/// The pressure sensor with its three pins, turned about the upright.
pub(super) fn pressure_sensor(at: Vec3, yaw_deg: f32) -> Placed {
    Placed::new("pressure", PartShape::PressureSensor, at)
        .yaw(yaw_deg)
        .point("pin.1", "pressure.1", 0.0022)
        .point("pin.2", "pressure.2", 0.0022)
        .point("pin.3", "pressure.3", 0.0022)
}

/// Cloth on both wings, the roll over one of them, and the driver's place.
pub(super) fn tools() -> Vec<Placed> {
    let size = BaySize::default();
    let mut parts = vec![
        Placed::new(
            "cover.right",
            PartShape::WingCover(size, true, -0.20, 0.46),
            Vec3::ZERO,
        ),
        Placed::new(
            "cover.left",
            PartShape::WingCover(size, false, -0.36, 0.46),
            Vec3::ZERO,
        ),
        Placed::new("cabin", PartShape::Cabin, Vec3::ZERO),
        Placed::new("", PartShape::Rear, Vec3::ZERO),
    ];
    parts.extend(tool_roll(v(-0.775, 0.022, 0.06)));
    parts
}

/// The roll at a place, and the tools on it.
pub fn tool_roll(roll: Vec3) -> Vec<Placed> {
    // The roll's long side runs along z; its places are 82 mm apart.
    let spot =
        |i: f32, inward: f32, lift: f32| roll + v(inward, 0.012 + lift, -0.33 + (i + 0.5) * 0.0825);
    let red = [170, 34, 30];
    let black = [26, 26, 28];
    vec![
        Placed::new("roll", PartShape::ToolRoll, roll).yaw(90.0),
        Placed::new(
            "tool.gauge",
            PartShape::Gauge(LOW_SIDE_END_KPA),
            spot(0.4, 0.005, -0.004),
        )
        .yaw(90.0),
        Placed::new("tool.meter", PartShape::Meter, spot(2.0, 0.0, -0.004)).yaw(90.0),
        Placed::new(
            "tool.test_light",
            PartShape::TestLight,
            spot(3.3, 0.105, 0.006),
        )
        .yaw(90.0)
        .pitch(-90.0),
        Placed::new(
            "tool.test_light.coil",
            PartShape::Coil(black, 3.0),
            spot(3.95, -0.02, -0.006),
        ),
        Placed::new(
            "tool.jumper",
            PartShape::Coil(red, 4.0),
            spot(4.85, 0.01, -0.006),
        ),
        Placed::new(
            "tool.jumper.holder",
            PartShape::FuseHolder(20.0),
            spot(4.85, 0.01, 0.004),
        )
        .yaw(60.0),
        Placed::new(
            "tool.lamp",
            PartShape::InspectionLamp,
            spot(5.9, 0.035, -0.004),
        )
        .yaw(-90.0),
        Placed::new(
            "tool.thermometer",
            PartShape::Thermometer,
            spot(6.7, 0.125, 0.006),
        )
        .yaw(90.0)
        .pitch(-90.0),
        Placed::new(
            "tool.breakout",
            PartShape::Breakout(["30", "85", "86", "87"].map(String::from).to_vec()),
            spot(7.4, 0.02, -0.006),
        ),
    ]
}
