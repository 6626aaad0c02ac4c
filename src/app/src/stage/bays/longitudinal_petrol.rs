//! A petrol engine along the car, belt in front; battery and fuse box at the left, air box at the right.

use super::common::{along, pressure_sensor, pulley, service_port, spots, tools, v};
use crate::kit::belt::PulleyKind;
use crate::kit::compressor::PULLEY_RADIUS;
use crate::kit::*;
use crate::stage::layout::{BayLayout, Placed, Spot, Stand, Stands};
use bevy::prelude::*;
use std::collections::BTreeMap;
use std::f32::consts::FRAC_PI_2;

/// The bay, with no car's own ids yet.
pub fn longitudinal_petrol() -> BayLayout {
    let drive = vec![
        pulley(0.0, 0.0, 0.072, PulleyKind::Crank),
        pulley(0.225, 0.32, PULLEY_RADIUS, PulleyKind::Other),
        pulley(0.03, 0.375, 0.036, PulleyKind::Idler),
        pulley(-0.325, 0.19, 0.032, PulleyKind::Alternator),
    ];
    let engine = v(0.0, -0.06, 0.13);
    let mut parts = vec![
        Placed::new("engine", PartShape::Engine(EngineLook::default()), engine),
        Placed::new("belt", PartShape::BeltDrive(drive), v(0.0, -0.52, 0.172)).point(
            "alternator.plus",
            "alternator.plus",
            0.006,
        ),
        Placed::new("compressor", PartShape::Compressor, v(0.225, -0.20, 0.172))
            .point("coil.1", "compressor.1", 0.0025)
            .point("coil.2", "compressor.2", 0.0025),
        Placed::new(
            "radiator",
            PartShape::Radiator(Vec2::new(0.70, 0.34)),
            v(0.0, -0.28, 0.40),
        ),
        Placed::new(
            "condenser",
            PartShape::Condenser(Vec2::new(0.68, 0.34)),
            v(0.0, -0.28, 0.45),
        ),
        Placed::new("fan", PartShape::Fan(0.31), v(-0.09, -0.31, 0.375))
            .point("fan.1", "fan.1", 0.003)
            .point("fan.2", "fan.2", 0.003),
        Placed::new("fan2", PartShape::Fan(0.26), v(0.20, -0.33, 0.375)),
        Placed::new("battery", PartShape::Battery, v(0.495, -0.27, 0.26))
            .point("post.plus", "battery.plus", 0.008)
            .point("post.minus", "battery.minus", 0.008),
        Placed::new("airbox", PartShape::AirBox, v(-0.515, -0.30, 0.26)),
        along(
            "duct",
            PartShape::IntakeDuct(
                vec![
                    v(-0.465, -0.135, 0.11),
                    v(-0.468, -0.132, 0.05),
                    v(-0.468, -0.135, -0.03),
                    v(-0.44, -0.155, -0.085),
                    v(-0.385, -0.17, -0.092),
                ],
                0.037,
            ),
        ),
        Placed::new(
            "coolant",
            PartShape::Bottle {
                size: v(0.10, 0.13, 0.13),
                fluid: [190, 70, 110],
                cap: [26, 26, 28],
                level: 0.55,
            },
            v(-0.575, -0.20, 0.0),
        ),
        Placed::new("washer", PartShape::WasherNeck, v(-0.60, -0.06, 0.44)),
        Placed::new("brakes", PartShape::BrakeBooster, v(0.36, -0.13, -0.465)),
        along(
            "top hose",
            PartShape::CoolantHose(
                vec![
                    v(-0.06, -0.195, 0.19),
                    v(-0.07, -0.185, 0.235),
                    v(-0.16, -0.13, 0.265),
                    v(-0.275, -0.115, 0.29),
                    v(-0.3175, -0.14, 0.33),
                    v(-0.32, -0.158, 0.36),
                ],
                0.021,
            ),
        ),
        along(
            "bottle hose",
            PartShape::CoolantHose(
                vec![
                    v(-0.53, -0.15, 0.07),
                    v(-0.46, -0.21, 0.13),
                    v(-0.37, -0.16, 0.24),
                    v(-0.335, -0.12, 0.33),
                    v(-0.33, -0.115, 0.385),
                ],
                0.008,
            ),
        ),
        along(
            "heater hoses",
            PartShape::CoolantHose(
                vec![
                    v(0.03, -0.16, -0.38),
                    v(0.06, -0.12, -0.41),
                    v(0.10, -0.14, -0.45),
                    v(0.11, -0.17, -0.475),
                ],
                0.013,
            ),
        ),
    ];
    parts.extend(refrigerant());
    parts.extend(wiring());
    parts.extend(tools());
    let (driver, passenger) = super::cabin::stands();
    BayLayout {
        size: BaySize::default(),
        paint: [26, 78, 96],
        inner_paint: [30, 74, 90],
        bonnet_deg: 66.0,
        parts,
        on_bench: false,
        boxes: Vec::new(),
        stands: Stands {
            bay: Stand {
                at: v(0.50, -0.165, -0.015),
                lid_aside: Transform::from_xyz(0.298, 0.236, 0.285)
                    .with_rotation(Quat::from_rotation_y(FRAC_PI_2 + 0.12)),
                tray: Transform::from_xyz(0.295, 0.188, 0.035)
                    .with_rotation(Quat::from_rotation_y(FRAC_PI_2)),
                least: Vec2::new(0.25, 0.155),
                aside: v(0.03, 0.0, 0.01),
                eye: v(0.0, 0.88, 0.47),
                distance: 0.50,
                ..default()
            },
            battery: Stand {
                at: v(0.495, -0.090, 0.300),
                lid_aside: Transform::from_xyz(0.34, 0.14, 0.02),
                tray: Transform::from_xyz(0.30, 0.11, -0.26)
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

/// Places of this bay, and those that only other cars name, so that any car finds room here.
fn places() -> BTreeMap<String, Spot> {
    let mut all = super::cabin::places();
    all.extend(spots([
        (
            "battery_tray",
            Spot::on(0.495, -0.10, 0.25).from(-0.1, 1.0, 0.35),
        ),
        ("battery_box", Spot::on(0.495, -0.05, 0.30).away(0.42)),
        (
            "ground_wing",
            Spot::on(0.655, -0.022, 0.10).turned(200.0, 0.0),
        ),
        (
            "ground_box",
            Spot::on(0.636, -0.055, 0.175)
                .turned(-90.0, 90.0)
                .from(-0.30, 1.0, 0.1),
        ),
        (
            "ground_engine",
            Spot::on(0.10, -0.185, 0.155)
                .turned(0.0, 90.0)
                .from(0.05, 0.8, 0.8),
        ),
        (
            "ground_front",
            Spot::on(0.36, -0.028, 0.485).from(0.0, 1.0, 0.3),
        ),
        (
            "engine_top",
            Spot::on(0.0, -0.105, -0.335).from(0.0, 1.0, 0.3),
        ),
        (
            "engine_side",
            Spot::on(0.395, -0.10, -0.20).from(0.0, 1.0, 0.3),
        ),
        (
            "front_side",
            Spot::on(0.42, -0.10, 0.405).from(0.0, 1.0, -0.1),
        ),
        (
            "bulkhead",
            Spot::on(-0.14, -0.105, -0.462)
                .turned(0.0, 70.0)
                .from(0.0, 0.8, 0.8),
        ),
        ("scuttle", Spot::on(0.22, -0.008, -0.49).from(0.0, 1.0, 0.6)),
        (
            "unit_tray",
            Spot::on(-0.29, -0.075, -0.375)
                .turned(90.0, 0.0)
                .from(0.1, 1.0, 0.4),
        ),
        (
            "alternator_side",
            Spot::on(-0.345, -0.27, 0.09).from(-0.1, 1.0, 0.25),
        ),
        (
            "compressor_low",
            // From in front, so that the clutch plate shows its face.
            Spot::on(0.225, -0.118, -0.02)
                .from(-0.3, 1.0, 1.2)
                .away(0.6),
        ),
        (
            "starter_low",
            Spot::on(-0.39, -0.36, -0.30).from(0.0, 1.0, 0.05),
        ),
        (
            "sensor_nook",
            Spot::on(-0.395, -0.125, 0.425).from(0.1, 1.0, -0.15),
        ),
        (
            "receiver",
            Spot::on(-0.395, -0.125, 0.425).from(0.1, 1.0, -0.15),
        ),
        ("line_top", Spot::on(0.0, -0.08, 0.425).from(0.0, 1.0, -0.2)),
        ("service_low", Spot::on(0.331, -0.04, -0.17).away(0.40)),
        ("service_high", Spot::on(0.352, -0.085, 0.17).away(0.40)),
        (
            "front_panel",
            Spot::on(0.0, -0.12, 0.45).from(0.0, 1.0, -0.35),
        ),
        (
            "fan_shroud",
            Spot::on(0.02, -0.16, 0.33).from(0.0, 1.0, -0.35).away(0.6),
        ),
        (
            "horn_nook",
            Spot::on(0.425, -0.235, 0.41).from(0.03, 1.0, -0.1),
        ),
        (
            "injection_pump",
            Spot::on(-0.30, -0.09, -0.05).from(0.0, 1.0, 0.3),
        ),
        (
            "washer_bottle",
            Spot::on(-0.575, -0.11, 0.43).from(0.2, 1.0, 0.0),
        ),
        (
            "lamp_left",
            Spot::on(0.575, -0.10, 0.42)
                .turned(0.0, -50.0)
                .from(-0.1, 1.0, -0.35),
        ),
        (
            "lamp_right",
            Spot::on(-0.575, -0.10, 0.42)
                .turned(0.0, -50.0)
                .from(0.1, 1.0, -0.35),
        ),
    ]));
    all
}

fn refrigerant() -> Vec<Placed> {
    vec![
        along(
            "suction line",
            PartShape::HoseLine(
                vec![
                    v(0.27, -0.22, -0.485),
                    v(0.285, -0.17, -0.43),
                    v(0.315, -0.085, -0.32),
                    v(0.33, -0.068, -0.20),
                    v(0.33, -0.06, -0.06),
                    v(0.29, -0.055, 0.03),
                    v(0.256, -0.085, 0.052),
                    v(0.252, -0.12, 0.047),
                ],
                0.0085,
                0.50,
                0.82,
            ),
        ),
        along(
            "discharge line",
            PartShape::HoseLine(
                vec![
                    v(0.198, -0.12, 0.047),
                    v(0.198, -0.085, 0.055),
                    v(0.23, -0.062, 0.12),
                    v(0.285, -0.072, 0.22),
                    v(0.3175, -0.11, 0.31),
                    v(0.322, -0.15, 0.38),
                    v(0.322, -0.17, 0.435),
                ],
                0.007,
                0.26,
                0.66,
            ),
        ),
        along(
            "liquid line",
            PartShape::Pipe(
                vec![
                    v(-0.335, -0.40, 0.445),
                    v(-0.395, -0.30, 0.44),
                    v(-0.397, -0.155, 0.425),
                    v(-0.36, -0.098, 0.425),
                    v(0.0, -0.092, 0.425),
                    v(0.33, -0.098, 0.42),
                    v(0.352, -0.105, 0.30),
                    v(0.352, -0.10, 0.14),
                    v(0.358, -0.088, -0.18),
                    v(0.335, -0.13, -0.36),
                    v(0.30, -0.21, -0.42),
                    v(0.29, -0.235, -0.485),
                ],
                0.0052,
            ),
        ),
        service_port(false, v(0.331, -0.053, -0.17)),
        service_port(true, v(0.352, -0.095, 0.17)),
        pressure_sensor(v(-0.397, -0.165, 0.425), 150.0),
    ]
}

fn wiring() -> Vec<Placed> {
    vec![
        along(
            "cable.minus",
            PartShape::Cable(
                vec![
                    v(0.39, -0.238, 0.108),
                    v(0.40, -0.255, 0.085),
                    v(0.54, -0.22, 0.085),
                    v(0.625, -0.12, 0.12),
                    v(0.645, -0.03, 0.125),
                    v(0.652, -0.019, 0.108),
                ],
                0.006,
                [26, 26, 28],
            ),
        ),
        along(
            "cable.plus",
            PartShape::Cable(
                vec![
                    v(0.60, -0.23, 0.105),
                    v(0.595, -0.22, 0.085),
                    v(0.575, -0.17, 0.074),
                    v(0.57, -0.14, 0.055),
                ],
                0.0065,
                [150, 26, 24],
            ),
        ),
        along(
            "harness.bulkhead",
            PartShape::Harness(
                vec![
                    v(0.46, -0.16, -0.10),
                    v(0.43, -0.17, -0.20),
                    v(0.30, -0.115, -0.37),
                    v(0.05, -0.085, -0.435),
                    v(-0.01, -0.10, -0.45),
                    v(-0.03, -0.13, -0.47),
                ],
                0.015,
            ),
        ),
        along(
            "harness.engine",
            PartShape::Harness(
                vec![
                    v(-0.34, -0.10, -0.33),
                    v(-0.33, -0.13, -0.29),
                    v(-0.30, -0.10, -0.27),
                    v(-0.25, -0.06, -0.30),
                    v(-0.20, -0.08, -0.33),
                ],
                0.011,
            ),
        ),
        along(
            "harness.front",
            PartShape::Harness(
                vec![
                    v(0.40, -0.17, 0.02),
                    v(0.355, -0.19, 0.12),
                    v(0.355, -0.20, 0.30),
                    v(0.36, -0.11, 0.43),
                    v(0.20, -0.095, 0.455),
                    v(-0.15, -0.095, 0.455),
                    v(-0.42, -0.10, 0.45),
                ],
                0.009,
            ),
        ),
        along(
            "harness.compressor",
            PartShape::Harness(
                vec![
                    v(0.36, -0.19, 0.10),
                    v(0.30, -0.15, 0.07),
                    v(0.265, -0.135, 0.075),
                ],
                0.0055,
            ),
        ),
        Placed::new("starter", PartShape::Starter, v(-0.39, -0.43, -0.14)).yaw(90.0),
        Placed::new("horn", PartShape::Horn, v(0.425, -0.29, 0.43)),
        Placed::new("unit", PartShape::ControlUnit, v(-0.42, -0.095, -0.375)),
        Placed::new(
            "",
            PartShape::Plate("CHASSIS 0000-0000\nINVENTED CAR".into(), 0.022, true),
            v(0.05, -0.006, -0.505),
        ),
    ]
}
