//! A small petrol engine across the car: belt at the right, gearbox and battery at the left, the fuse
//! box at the right beside the bulkhead, air box in front of the battery.

use super::common::{along, pressure_sensor, pulley, service_port, spots, tools, v};
use crate::kit::belt::PulleyKind;
use crate::kit::compressor::PULLEY_RADIUS;
use crate::kit::*;
use crate::stage::layout::{BayLayout, Placed, Spot, Stand, Stands};
use bevy::prelude::*;
use std::collections::BTreeMap;
use std::f32::consts::FRAC_PI_2;

/// The engine's belt end; the crankshaft runs along x from here to the left.
const ENGINE: Vec3 = Vec3::new(-0.21, -0.06, 0.02);
/// How far the belt runs outside the engine.
const OUT: f32 = 0.20;

/// From the belt's frame (x forward here, y up from the crankshaft) into the bay's.
fn belt(x: f32, y: f32, z: f32) -> Vec3 {
    ENGINE + v(-OUT, -0.46, 0.0) + Quat::from_rotation_y(-FRAC_PI_2) * v(x, y, z)
}

/// The bay, with no car's own ids yet.
pub fn transverse_petrol() -> BayLayout {
    let drive = vec![
        pulley(0.0, 0.0, 0.066, PulleyKind::Crank),
        pulley(0.225, 0.17, PULLEY_RADIUS, PulleyKind::Other),
        pulley(0.05, 0.345, 0.032, PulleyKind::Idler),
        pulley(-0.165, 0.33, 0.031, PulleyKind::Alternator),
    ];
    let look = EngineLook {
        throttle_behind: true,
        ..default()
    };
    let mut parts = vec![
        Placed::new("engine", PartShape::Engine(look), ENGINE).yaw(-90.0),
        Placed::new("belt", PartShape::BeltDrive(drive), belt(0.0, 0.0, 0.0))
            .yaw(-90.0)
            .point("alternator.plus", "alternator.plus", 0.006),
        Placed::new("", PartShape::Bracket(OUT), belt(0.0, 0.0, 0.0)).yaw(-90.0),
        Placed::new("compressor", PartShape::Compressor, belt(0.225, 0.17, 0.0))
            .yaw(-90.0)
            .point("coil.1", "compressor.1", 0.0025)
            .point("coil.2", "compressor.2", 0.0025),
        Placed::new("", PartShape::Gearbox, v(0.29, -0.44, 0.02)).yaw(-90.0),
        Placed::new(
            "radiator",
            PartShape::Radiator(Vec2::new(0.66, 0.34)),
            v(0.02, -0.28, 0.41),
        ),
        Placed::new(
            "condenser",
            PartShape::Condenser(Vec2::new(0.64, 0.34)),
            v(0.02, -0.28, 0.455),
        ),
        Placed::new("fan", PartShape::Fan(0.27), v(0.17, -0.30, 0.392))
            .point("fan.1", "fan.1", 0.003)
            .point("fan.2", "fan.2", 0.003),
        Placed::new("fan2", PartShape::Fan(0.27), v(-0.11, -0.30, 0.392))
            .point("fan.1", "fan2.1", 0.003)
            .point("fan.2", "fan2.2", 0.003),
        Placed::new("battery", PartShape::Battery, v(0.475, -0.28, 0.03))
            .point("post.plus", "battery.plus", 0.008)
            .point("post.minus", "battery.minus", 0.008),
        Placed::new("airbox", PartShape::AirBox, v(0.475, -0.31, 0.275)).yaw(90.0),
        along(
            "duct",
            PartShape::IntakeDuct(
                vec![
                    v(0.315, -0.145, 0.225),
                    v(0.27, -0.125, 0.215),
                    v(0.235, -0.055, 0.12),
                    v(0.255, -0.02, -0.03),
                    v(0.335, -0.06, -0.14),
                    v(0.375, -0.14, -0.225),
                    v(0.35, -0.17, -0.262),
                    v(0.325, -0.17, -0.265),
                ],
                0.034,
            ),
        ),
        Placed::new(
            "coolant",
            PartShape::Bottle {
                size: v(0.11, 0.15, 0.15),
                fluid: [70, 140, 190],
                cap: [26, 26, 28],
                level: 0.5,
            },
            v(-0.565, -0.22, 0.09),
        ),
        Placed::new("washer", PartShape::WasherNeck, v(-0.585, -0.075, 0.36)),
        Placed::new("brakes", PartShape::BrakeBooster, v(0.36, -0.13, -0.465)),
        along(
            "top hose",
            PartShape::CoolantHose(
                vec![
                    v(-0.245, -0.195, -0.04),
                    v(-0.285, -0.185, 0.02),
                    v(-0.27, -0.16, 0.14),
                    v(-0.27, -0.14, 0.24),
                    v(-0.29, -0.135, 0.32),
                    v(-0.30, -0.158, 0.365),
                ],
                0.019,
            ),
        ),
        Placed::new("starter", PartShape::Starter, v(-0.21, -0.43, -0.375)),
        Placed::new("horn", PartShape::Horn, v(0.40, -0.30, 0.445)),
        Placed::new("unit", PartShape::ControlUnit, v(0.12, -0.09, -0.395)),
        Placed::new(
            "",
            PartShape::Plate("CHASSIS 0000-0000\nINVENTED CAR".into(), 0.022, true),
            v(0.22, -0.006, -0.505),
        ),
    ];
    parts.extend(refrigerant());
    parts.extend(wiring());
    parts.extend(tools());
    let (driver, passenger) = super::cabin::stands();
    BayLayout {
        size: BaySize::default(),
        paint: [170, 172, 168],
        inner_paint: [150, 152, 150],
        bonnet_deg: 70.0,
        parts,
        on_bench: false,
        boxes: Vec::new(),
        stands: Stands {
            bay: Stand {
                at: v(-0.455, -0.075, -0.315),
                // The lid lies on the engine, the tray on the wing's edge and the strut's top.
                lid_aside: Transform::from_xyz(0.415, 0.095, 0.335),
                tray: Transform::from_xyz(-0.205, 0.085, 0.03)
                    .with_rotation(Quat::from_rotation_y(FRAC_PI_2)),
                aside: v(-0.075, 0.0, 0.02),
                least: Vec2::new(0.20, 0.20),
                eye: v(0.05, 0.88, 0.47),
                distance: 0.64,
                ..default()
            },
            battery: Stand {
                at: v(0.475, -0.100, 0.075),
                lid_aside: Transform::from_xyz(0.34, 0.14, 0.02),
                tray: Transform::from_xyz(0.30, 0.11, -0.10)
                    .with_rotation(Quat::from_rotation_y(FRAC_PI_2)),
                eye: v(0.0, 0.88, 0.47),
                distance: 0.42,
                ..default()
            },
            driver,
            passenger,
        },
        spots: places(),
    }
}

fn refrigerant() -> Vec<Placed> {
    vec![
        along(
            "suction line",
            PartShape::HoseLine(
                vec![
                    v(-0.02, -0.22, -0.485),
                    v(-0.02, -0.12, -0.43),
                    v(-0.04, -0.055, -0.33),
                    v(-0.14, -0.04, -0.25),
                    v(-0.27, -0.04, -0.16),
                    v(-0.345, -0.035, -0.04),
                    v(-0.355, -0.06, 0.10),
                    v(-0.30, -0.10, 0.22),
                    v(-0.285, -0.20, 0.268),
                    v(-0.285, -0.268, 0.272),
                ],
                0.0085,
                0.45,
                0.80,
            ),
        ),
        along(
            "discharge line",
            PartShape::HoseLine(
                vec![
                    v(-0.285, -0.268, 0.218),
                    v(-0.30, -0.20, 0.22),
                    v(-0.37, -0.14, 0.27),
                    v(-0.40, -0.10, 0.345),
                    v(-0.355, -0.12, 0.42),
                    v(-0.285, -0.17, 0.44),
                ],
                0.007,
                0.28,
                0.66,
            ),
        ),
        along(
            "liquid line",
            PartShape::Pipe(
                vec![
                    v(0.32, -0.39, 0.435),
                    v(0.365, -0.30, 0.40),
                    v(0.355, -0.11, 0.41),
                    v(0.25, -0.085, 0.43),
                    v(-0.12, -0.085, 0.43),
                    v(-0.34, -0.085, 0.41),
                    v(-0.44, -0.06, 0.30),
                    v(-0.465, -0.045, 0.08),
                    v(-0.40, -0.03, -0.09),
                    v(-0.29, -0.03, -0.20),
                    v(-0.10, -0.03, -0.28),
                    v(0.01, -0.07, -0.38),
                    v(0.015, -0.20, -0.485),
                ],
                0.0052,
            ),
        ),
        service_port(false, v(-0.345, -0.027, -0.04)),
        service_port(true, v(-0.397, -0.093, 0.335)),
        pressure_sensor(v(-0.12, -0.085, 0.43), 160.0),
    ]
}

fn wiring() -> Vec<Placed> {
    vec![
        along(
            "cable.minus",
            PartShape::Cable(
                vec![
                    v(0.37, -0.245, -0.12),
                    v(0.36, -0.30, -0.10),
                    v(0.34, -0.36, -0.06),
                    v(0.335, -0.34, 0.0),
                ],
                0.006,
                [26, 26, 28],
            ),
        ),
        along(
            "cable.plus",
            PartShape::Cable(
                vec![
                    v(0.575, -0.24, -0.125),
                    v(0.535, -0.16, -0.27),
                    v(0.52, -0.08, -0.41),
                    v(0.40, -0.025, -0.464),
                    v(0.0, -0.022, -0.468),
                    v(-0.22, -0.025, -0.464),
                    v(-0.36, -0.05, -0.43),
                ],
                0.0065,
                [150, 26, 24],
            ),
        ),
        along(
            "harness.bulkhead",
            PartShape::Harness(
                vec![
                    v(-0.36, -0.10, -0.42),
                    v(-0.25, -0.18, -0.43),
                    v(-0.02, -0.19, -0.43),
                    v(0.06, -0.13, -0.43),
                ],
                0.014,
            ),
        ),
        along(
            "harness.engine",
            PartShape::Harness(
                vec![
                    v(0.03, -0.08, -0.35),
                    v(-0.02, -0.04, -0.24),
                    v(-0.08, -0.015, -0.13),
                    v(-0.12, -0.012, -0.05),
                ],
                0.011,
            ),
        ),
        along(
            "harness.front",
            PartShape::Harness(
                vec![
                    v(-0.55, -0.085, -0.20),
                    v(-0.625, -0.085, -0.10),
                    v(-0.635, -0.085, 0.10),
                    v(-0.62, -0.09, 0.30),
                    v(-0.52, -0.10, 0.42),
                    v(-0.30, -0.105, 0.475),
                    v(0.15, -0.105, 0.475),
                    v(0.42, -0.10, 0.46),
                ],
                0.009,
            ),
        ),
    ]
}

/// Places of this bay, and those that only other cars name, so that any car finds room here.
fn places() -> BTreeMap<String, Spot> {
    let mut all = super::cabin::places();
    all.extend(spots([
        (
            "battery_tray",
            Spot::on(0.475, -0.11, 0.02).from(-0.1, 1.0, 0.4),
        ),
        ("battery_box", Spot::on(0.475, -0.06, 0.075).away(0.42)),
        (
            "ground_wing",
            Spot::on(0.655, -0.022, 0.13).turned(200.0, 0.0),
        ),
        (
            "ground_box",
            Spot::on(-0.275, -0.10, -0.458)
                .turned(0.0, 90.0)
                .from(0.15, 0.9, 0.8),
        ),
        (
            "ground_engine",
            Spot::on(0.335, -0.27, 0.10).from(-0.1, 1.0, 0.3),
        ),
        (
            "ground_front",
            Spot::on(0.36, -0.028, 0.485).from(0.0, 1.0, 0.3),
        ),
        (
            "engine_top",
            Spot::on(-0.16, -0.012, 0.02).from(0.0, 1.0, 0.4),
        ),
        (
            "engine_side",
            Spot::on(0.20, -0.10, -0.20).from(0.0, 1.0, 0.3),
        ),
        (
            "front_side",
            Spot::on(0.43, -0.10, 0.432).from(0.0, 1.0, -0.15),
        ),
        (
            "bulkhead",
            Spot::on(-0.15, -0.115, -0.458)
                .turned(0.0, 70.0)
                .from(0.0, 0.8, 0.8),
        ),
        ("scuttle", Spot::on(0.0, -0.008, -0.49).from(0.0, 1.0, 0.6)),
        (
            "unit_tray",
            Spot::on(0.225, -0.085, -0.40)
                .turned(90.0, 0.0)
                .from(0.0, 1.0, 0.4),
        ),
        (
            "alternator_side",
            Spot::on(-0.35, -0.12, -0.145).from(-0.1, 1.0, 0.3),
        ),
        (
            "compressor_low",
            // Over the wing: from there the clutch plate shows its face.
            Spot::on(-0.33, -0.285, 0.315)
                .from(-0.7, 1.0, 0.0)
                .away(0.75),
        ),
        (
            "starter_low",
            Spot::on(-0.03, -0.36, -0.375).from(0.0, 1.0, 0.1),
        ),
        (
            "line_top",
            Spot::on(-0.12, -0.06, 0.43).from(0.0, 1.0, 0.1).away(0.4),
        ),
        (
            "sensor_nook",
            Spot::on(-0.12, -0.06, 0.43).from(0.0, 1.0, 0.1),
        ),
        ("receiver", Spot::on(-0.12, -0.06, 0.43).from(0.0, 1.0, 0.1)),
        ("service_low", Spot::on(-0.345, -0.015, -0.04).away(0.40)),
        ("service_high", Spot::on(-0.397, -0.08, 0.335).away(0.40)),
        (
            "front_panel",
            Spot::on(0.02, -0.12, 0.455).from(0.0, 1.0, -0.35),
        ),
        (
            "fan_shroud",
            Spot::on(0.03, -0.18, 0.37).from(0.0, 1.0, -0.4).away(0.6),
        ),
        (
            "horn_nook",
            Spot::on(0.40, -0.245, 0.43).from(-0.1, 1.0, -0.15),
        ),
        (
            "injection_pump",
            Spot::on(-0.02, -0.012, 0.02).from(0.0, 1.0, 0.3),
        ),
        (
            "washer_bottle",
            Spot::on(-0.545, -0.10, 0.42).from(0.2, 1.0, 0.0),
        ),
        (
            "lamp_left",
            Spot::on(0.585, -0.10, 0.435)
                .turned(0.0, -50.0)
                .from(-0.1, 1.0, -0.35),
        ),
        (
            "lamp_right",
            Spot::on(-0.475, -0.10, 0.43)
                .turned(0.0, -50.0)
                .from(0.1, 1.0, -0.35),
        ),
    ]));
    all
}
