//! A diesel engine along the car, belt in front, the other way about than the petrol engine: intake
//! and injection pump at the left, turbocharger at the right. Battery at the left in front, air box
//! far back at the right; the cooler of the charge air lies behind the grille.

use super::common::{along, pressure_sensor, pulley, service_port, spots, tools, v};
use crate::kit::belt::PulleyKind;
use crate::kit::compressor::PULLEY_RADIUS;
use crate::kit::*;
use crate::stage::layout::{BayLayout, Placed, Spot, Stand, Stands};
use bevy::prelude::*;
use std::collections::BTreeMap;
use std::f32::consts::FRAC_PI_2;

/// The engine's belt end.
const ENGINE: Vec3 = Vec3::new(-0.01, -0.05, 0.06);
/// Middle of the crankshaft where the belt runs.
const CRANK: Vec3 = Vec3::new(-0.01, -0.51, 0.102);

/// From the engine's frame, mirrored, into the bay's.
fn on_engine(x: f32, y: f32, z: f32) -> Vec3 {
    ENGINE + v(x, y, z)
}

/// The bay, with no car's own ids yet.
pub fn longitudinal_diesel() -> BayLayout {
    let drive = vec![
        pulley(0.0, 0.0, 0.075, PulleyKind::Crank),
        pulley(0.275, 0.20, 0.033, PulleyKind::Alternator),
        pulley(0.0, 0.36, 0.045, PulleyKind::Pump),
        pulley(-0.235, 0.20, PULLEY_RADIUS, PulleyKind::Other),
    ];
    let look = EngineLook {
        diesel: true,
        mirrored: true,
        ..default()
    };
    let mut parts = vec![
        Placed::new("engine", PartShape::Engine(look), ENGINE)
            .point("glow.1", "glow.1", 0.004)
            .point("glow.2", "glow.2", 0.004)
            .point("glow.3", "glow.3", 0.004)
            .point("glow.4", "glow.4", 0.004),
        Placed::new("belt", PartShape::BeltDrive(drive), CRANK).point(
            "alternator.plus",
            "alternator.plus",
            0.006,
        ),
        Placed::new(
            "compressor",
            PartShape::Compressor,
            CRANK + v(-0.235, 0.20, 0.0),
        )
        .point("coil.1", "compressor.1", 0.0025)
        .point("coil.2", "compressor.2", 0.0025),
        Placed::new(
            "radiator",
            PartShape::Radiator(Vec2::new(0.70, 0.36)),
            v(0.0, -0.29, 0.29),
        ),
        Placed::new(
            "condenser",
            PartShape::Condenser(Vec2::new(0.68, 0.34)),
            v(0.0, -0.29, 0.335),
        ),
        Placed::new("fan", PartShape::Fan(0.32), v(0.0, -0.29, 0.375))
            .yaw(180.0)
            .point("fan.1", "fan.1", 0.003)
            .point("fan.2", "fan.2", 0.003),
        Placed::new(
            "",
            PartShape::Intercooler(Vec2::new(0.26, 0.24)),
            v(-0.50, -0.26, 0.40),
        ),
        Placed::new("battery", PartShape::Battery, v(0.495, -0.27, 0.26))
            .point("post.plus", "battery.plus", 0.008)
            .point("post.minus", "battery.minus", 0.008),
        Placed::new("airbox", PartShape::AirBox, v(-0.50, -0.29, -0.01)),
        Placed::new("", PartShape::Turbo, v(-0.265, -0.235, -0.19)),
        along(
            "duct",
            PartShape::IntakeDuct(
                vec![
                    v(-0.45, -0.125, -0.17),
                    v(-0.445, -0.115, -0.22),
                    v(-0.39, -0.11, -0.30),
                    v(-0.31, -0.12, -0.29),
                    v(-0.275, -0.15, -0.20),
                    v(-0.265, -0.20, -0.13),
                ],
                0.032,
            ),
        ),
        along(
            "charge hose out",
            PartShape::CoolantHose(
                vec![
                    v(-0.315, -0.25, -0.18),
                    v(-0.345, -0.25, -0.10),
                    v(-0.35, -0.22, 0.10),
                    v(-0.36, -0.16, 0.24),
                    v(-0.385, -0.15, 0.32),
                    v(-0.40, -0.20, 0.37),
                    v(-0.40, -0.26, 0.385),
                ],
                0.026,
            ),
        ),
        along(
            "charge hose in",
            PartShape::CoolantHose(
                vec![
                    v(-0.60, -0.26, 0.385),
                    v(-0.585, -0.15, 0.375),
                    v(-0.48, -0.065, 0.345),
                    v(-0.20, -0.055, 0.325),
                    v(0.15, -0.055, 0.32),
                    v(0.29, -0.085, 0.26),
                    v(0.30, -0.115, 0.14),
                    v(0.272, -0.15, 0.05),
                    v(0.268, -0.16, -0.01),
                ],
                0.028,
            ),
        ),
        Placed::new(
            "coolant",
            PartShape::Bottle {
                size: v(0.17, 0.14, 0.13),
                fluid: [90, 160, 90],
                cap: [26, 26, 28],
                level: 0.6,
            },
            v(0.53, -0.20, 0.02),
        ),
        Placed::new("washer", PartShape::WasherNeck, v(-0.60, -0.075, 0.24)),
        Placed::new("brakes", PartShape::BrakeBooster, v(0.36, -0.13, -0.465)),
        along(
            "top hose",
            PartShape::CoolantHose(
                vec![
                    v(0.05, -0.185, 0.12),
                    v(0.06, -0.18, 0.165),
                    v(-0.05, -0.155, 0.205),
                    v(-0.22, -0.15, 0.215),
                    v(-0.31, -0.155, 0.225),
                    v(-0.32, -0.16, 0.245),
                ],
                0.020,
            ),
        ),
        Placed::new("starter", PartShape::Starter, v(0.385, -0.43, -0.08)).yaw(90.0),
        Placed::new("horn", PartShape::Horn, v(0.40, -0.26, 0.43)),
        // A filter for the fuel hangs at the bulkhead: a diesel's is large.
        Placed::new(
            "",
            PartShape::Bottle {
                size: v(0.085, 0.12, 0.085),
                fluid: [60, 62, 66],
                cap: [150, 152, 156],
                level: 1.0,
            },
            v(0.14, -0.20, -0.42),
        ),
        along(
            "fuel lines",
            PartShape::Cable(
                vec![
                    v(0.14, -0.07, -0.42),
                    v(0.16, -0.045, -0.40),
                    v(0.27, -0.09, -0.28),
                    v(0.275, -0.15, -0.10),
                    v(0.235, -0.20, -0.03),
                ],
                0.006,
                [34, 34, 36],
            ),
        ),
        Placed::new(
            "",
            PartShape::Plate("CHASSIS 0000-0000\nINVENTED VAN".into(), 0.022, true),
            v(-0.10, -0.006, -0.505),
        ),
    ];
    parts.extend(refrigerant());
    parts.extend(wiring());
    parts.extend(tools());
    let (driver, passenger) = super::cabin::stands();
    BayLayout {
        size: BaySize::default(),
        paint: [196, 160, 70],
        inner_paint: [172, 142, 68],
        bonnet_deg: 58.0,
        parts,
        on_bench: false,
        boxes: Vec::new(),
        stands: Stands {
            bay: Stand {
                at: v(-0.46, -0.075, -0.335),
                lid_aside: Transform::from_xyz(0.46, 0.11, 0.24),
                aside: v(-0.075, 0.0, 0.02),
                tray: Transform::from_xyz(-0.205, 0.085, 0.03)
                    .with_rotation(Quat::from_rotation_y(FRAC_PI_2)),
                least: Vec2::new(0.20, 0.16),
                eye: v(0.05, 0.88, 0.47),
                distance: 0.64,
                ..default()
            },
            battery: Stand {
                at: v(0.495, -0.090, 0.300),
                lid_aside: Transform::from_xyz(0.34, 0.14, 0.02),
                tray: Transform::from_xyz(0.30, 0.113, -0.26)
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
    let suction = CRANK + v(-0.235 + 0.027, 0.278, -0.125);
    let discharge = CRANK + v(-0.235 - 0.027, 0.278, -0.125);
    vec![
        along(
            "suction line",
            PartShape::HoseLine(
                vec![
                    v(-0.06, -0.22, -0.485),
                    v(-0.07, -0.14, -0.45),
                    v(-0.14, -0.05, -0.38),
                    v(-0.215, -0.06, -0.24),
                    v(-0.225, -0.075, -0.06),
                    suction + v(0.0, 0.10, 0.01),
                    suction,
                ],
                0.0085,
                0.40,
                0.80,
            ),
        ),
        along(
            "discharge line",
            PartShape::HoseLine(
                vec![
                    discharge,
                    discharge + v(-0.005, 0.06, 0.02),
                    v(-0.30, -0.14, 0.10),
                    v(-0.325, -0.105, 0.20),
                    v(-0.335, -0.105, 0.28),
                    v(-0.325, -0.17, 0.325),
                ],
                0.007,
                0.25,
                0.62,
            ),
        ),
        along(
            "liquid line",
            PartShape::Pipe(
                vec![
                    v(-0.33, -0.40, 0.345),
                    v(-0.345, -0.32, 0.385),
                    v(-0.345, -0.175, 0.388),
                    v(-0.345, -0.10, 0.27),
                    v(-0.20, -0.085, 0.255),
                    v(0.25, -0.085, 0.255),
                    v(0.365, -0.10, 0.20),
                    v(0.36, -0.09, 0.05),
                    v(0.30, -0.05, -0.25),
                    v(0.05, -0.045, -0.42),
                    v(0.0, -0.14, -0.485),
                ],
                0.0052,
            ),
        ),
        service_port(false, v(-0.217, -0.055, -0.21)),
        service_port(true, v(-0.33, -0.098, 0.235)),
        pressure_sensor(v(-0.345, -0.17, 0.390), 150.0),
    ]
}

fn wiring() -> Vec<Placed> {
    vec![
        along(
            "cable.minus",
            PartShape::Cable(
                vec![
                    v(0.39, -0.238, 0.108),
                    v(0.37, -0.26, 0.09),
                    v(0.345, -0.32, 0.05),
                    v(0.30, -0.36, 0.01),
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
                    v(0.62, -0.14, 0.10),
                    v(0.625, -0.06, 0.20),
                    v(0.60, -0.045, 0.29),
                    v(0.565, -0.055, 0.30),
                ],
                0.0065,
                [150, 26, 24],
            ),
        ),
        along(
            "cable.glow",
            PartShape::Cable(
                vec![
                    v(0.43, -0.055, 0.30),
                    v(0.375, -0.045, 0.16),
                    v(0.31, -0.04, 0.0),
                    v(0.20, -0.055, -0.035),
                    v(0.155, -0.085, 0.0),
                    on_engine(0.128, -0.058, -0.04),
                ],
                0.0055,
                [150, 26, 24],
            ),
        ),
        along(
            "harness.bulkhead",
            PartShape::Harness(
                vec![
                    v(0.02, -0.10, -0.44),
                    v(-0.10, -0.085, -0.445),
                    v(-0.30, -0.085, -0.44),
                    v(-0.55, -0.085, -0.36),
                    v(-0.635, -0.085, -0.12),
                    v(-0.635, -0.085, 0.15),
                    v(-0.625, -0.095, 0.33),
                    v(-0.55, -0.095, 0.43),
                ],
                0.013,
            ),
        ),
        along(
            "harness.engine",
            PartShape::Harness(
                vec![
                    v(-0.06, -0.08, -0.44),
                    v(0.02, -0.02, -0.40),
                    v(0.10, -0.02, -0.34),
                    v(0.115, -0.055, -0.25),
                ],
                0.010,
            ),
        ),
        along(
            "harness.front",
            PartShape::Harness(
                vec![
                    v(-0.55, -0.10, 0.455),
                    v(-0.20, -0.10, 0.46),
                    v(0.20, -0.10, 0.46),
                    v(0.50, -0.10, 0.45),
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
            Spot::on(0.495, -0.10, 0.22).from(-0.1, 1.0, 0.35),
        ),
        ("battery_box", Spot::on(0.495, -0.05, 0.30).away(0.42)),
        (
            "ground_wing",
            Spot::on(0.655, -0.022, 0.10).turned(200.0, 0.0),
        ),
        (
            "ground_box",
            Spot::on(0.625, -0.13, 0.125)
                .turned(-90.0, 90.0)
                .from(-0.45, 1.0, 0.2),
        ),
        (
            "ground_engine",
            Spot::on(0.165, -0.235, 0.04).from(0.3, 1.0, 0.4),
        ),
        (
            "ground_front",
            Spot::on(0.36, -0.028, 0.485).from(0.0, 1.0, 0.3),
        ),
        (
            "engine_top",
            Spot::on(0.125, -0.10, 0.03).from(0.1, 1.0, 0.3).away(0.55),
        ),
        (
            "engine_side",
            Spot::on(0.0, -0.10, -0.41).from(0.0, 1.0, 0.4),
        ),
        (
            "front_side",
            Spot::on(0.42, -0.10, 0.405).from(0.0, 1.0, -0.1),
        ),
        (
            "bulkhead",
            Spot::on(-0.22, -0.115, -0.458)
                .turned(0.0, 70.0)
                .from(0.0, 0.8, 0.8),
        ),
        ("scuttle", Spot::on(0.10, -0.008, -0.49).from(0.0, 1.0, 0.6)),
        (
            "unit_tray",
            Spot::on(-0.42, -0.09, -0.36)
                .turned(90.0, 0.0)
                .from(0.1, 1.0, 0.4),
        ),
        (
            "alternator_side",
            Spot::on(0.29, -0.24, 0.0).from(0.47, 1.0, 0.05),
        ),
        (
            "compressor_low",
            // Past the hoses before it, so that the clutch plate shows its face.
            Spot::on(-0.245, -0.235, 0.02)
                .from(0.0, 1.0, 0.8)
                .away(0.42),
        ),
        (
            "starter_low",
            Spot::on(0.385, -0.36, -0.27).from(0.05, 1.0, 0.15),
        ),
        (
            "receiver",
            Spot::on(-0.345, -0.12, 0.39).from(0.05, 1.0, 0.25),
        ),
        (
            "sensor_nook",
            Spot::on(-0.345, -0.12, 0.39).from(0.05, 1.0, 0.25),
        ),
        ("line_top", Spot::on(0.10, -0.08, 0.255).from(0.0, 1.0, 0.2)),
        ("service_low", Spot::on(-0.217, -0.043, -0.21).away(0.40)),
        ("service_high", Spot::on(-0.33, -0.086, 0.235).away(0.40)),
        (
            "front_panel",
            Spot::on(0.0, -0.12, 0.345).from(0.0, 1.0, -0.35),
        ),
        (
            "fan_shroud",
            Spot::on(0.0, -0.20, 0.42).from(0.0, 1.0, -0.25).away(0.5),
        ),
        (
            "horn_nook",
            Spot::on(0.40, -0.205, 0.415).from(-0.1, 1.0, -0.15),
        ),
        (
            "injection_pump",
            Spot::on(0.20, -0.165, 0.035).from(0.0, 1.0, 0.6),
        ),
        (
            "washer_bottle",
            Spot::on(-0.595, -0.11, 0.305).from(0.2, 1.0, 0.1),
        ),
        (
            "lamp_left",
            Spot::on(0.585, -0.10, 0.42)
                .turned(0.0, -50.0)
                .from(-0.1, 1.0, -0.35),
        ),
        (
            "lamp_right",
            Spot::on(-0.52, -0.10, 0.435)
                .turned(0.0, -50.0)
                .from(0.1, 1.0, -0.35),
        ),
    ]));
    all
}
