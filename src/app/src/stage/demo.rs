//! One invented bay, to show the kit and to try layouts against. Not a real car.

use super::demo_box::demo_box;
use super::layout::{BayLayout, Placed};
use crate::kit::belt::{Pulley, PulleyKind};
use crate::kit::compressor::PULLEY_RADIUS;
use crate::kit::*;
use bevy::prelude::*;

fn v(x: f32, y: f32, z: f32) -> Vec3 {
    Vec3::new(x, y, z)
}

/// The invented demonstration car.
pub fn demo_layout() -> BayLayout {
    let drive = vec![
        pulley(0.0, 0.0, 0.072, PulleyKind::Crank),
        pulley(0.225, 0.32, PULLEY_RADIUS, PulleyKind::Other),
        pulley(0.03, 0.375, 0.036, PulleyKind::Idler),
        pulley(-0.215, 0.20, 0.032, PulleyKind::Alternator),
    ];
    let engine = v(0.0, -0.06, 0.13);
    let mut parts = vec![
        Placed::new("engine", PartShape::Engine("DEMO 1.8".into()), engine).point(
            "earth.engine",
            "earth.engine",
            0.008,
        ),
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
        Placed::new(
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
            Vec3::ZERO,
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
        Placed::new(
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
            Vec3::ZERO,
        ),
        Placed::new(
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
            Vec3::ZERO,
        ),
        Placed::new(
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
            Vec3::ZERO,
        ),
    ];
    parts.extend(refrigerant());
    parts.extend(wiring());
    parts.extend(tools());
    BayLayout {
        size: BaySize::default(),
        paint: [26, 78, 96],
        inner_paint: [30, 74, 90],
        bonnet_deg: 66.0,
        parts,
        on_bench: false,
        fuse_box: Some(("box".into(), demo_box(), v(0.50, -0.165, -0.015), 0.0)),
    }
}

fn pulley(x: f32, y: f32, radius: f32, kind: PulleyKind) -> Pulley {
    Pulley {
        at: Vec2::new(x, y),
        radius,
        kind,
    }
}

fn refrigerant() -> Vec<Placed> {
    vec![
        Placed::new(
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
            Vec3::ZERO,
        ),
        Placed::new(
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
            Vec3::ZERO,
        ),
        Placed::new(
            "liquid line",
            PartShape::Pipe(
                vec![
                    v(0.32, -0.39, 0.43),
                    v(0.345, -0.30, 0.36),
                    v(0.352, -0.14, 0.30),
                    v(0.352, -0.10, 0.14),
                    v(0.358, -0.088, -0.18),
                    v(0.335, -0.13, -0.36),
                    v(0.30, -0.21, -0.42),
                    v(0.29, -0.235, -0.485),
                ],
                0.0052,
            ),
            Vec3::ZERO,
        ),
        Placed::new(
            "port.low",
            PartShape::ServicePort(false),
            v(0.331, -0.053, -0.17),
        )
        .point("port", "port.low", 0.006),
        Placed::new(
            "port.high",
            PartShape::ServicePort(true),
            v(0.352, -0.095, 0.17),
        )
        .point("port", "port.high", 0.006),
        Placed::new(
            "pressure",
            PartShape::PressureSensor,
            v(0.3545, -0.088, -0.045),
        )
        .yaw(-70.0)
        .point("pin.1", "pressure.1", 0.0022)
        .point("pin.2", "pressure.2", 0.0022)
        .point("pin.3", "pressure.3", 0.0022),
    ]
}

fn wiring() -> Vec<Placed> {
    vec![
        Placed::new(
            "ground.wing",
            PartShape::GroundStud(2, false),
            v(0.655, -0.022, 0.10),
        )
        .yaw(200.0)
        .point("stud", "ground.wing", 0.006),
        Placed::new(
            "ground.bulkhead",
            PartShape::GroundStud(2, false),
            v(0.17, -0.10, -0.463),
        )
        .pitch(90.0)
        .point("stud", "ground.bulkhead", 0.006),
        Placed::new(
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
            Vec3::ZERO,
        ),
        Placed::new(
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
            Vec3::ZERO,
        ),
        Placed::new(
            "harness.bulkhead",
            PartShape::Harness(
                vec![
                    v(0.46, -0.16, -0.10),
                    v(0.43, -0.17, -0.20),
                    v(0.30, -0.115, -0.37),
                    v(0.05, -0.085, -0.435),
                    v(-0.25, -0.08, -0.44),
                    v(-0.48, -0.09, -0.40),
                    v(-0.56, -0.16, -0.36),
                ],
                0.015,
            ),
            Vec3::ZERO,
        ),
        Placed::new(
            "harness.engine",
            PartShape::Harness(
                vec![
                    v(0.02, -0.09, -0.43),
                    v(-0.03, -0.06, -0.42),
                    v(-0.20, -0.10, -0.41),
                    v(-0.36, -0.13, -0.36),
                    v(-0.38, -0.20, -0.20),
                ],
                0.011,
            ),
            Vec3::ZERO,
        ),
        Placed::new(
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
            Vec3::ZERO,
        ),
        Placed::new(
            "harness.compressor",
            PartShape::Harness(
                vec![
                    v(0.36, -0.19, 0.10),
                    v(0.30, -0.15, 0.07),
                    v(0.25, -0.122, 0.075),
                    v(0.237, -0.126, 0.082),
                ],
                0.0055,
            ),
            Vec3::ZERO,
        ),
        Placed::new(
            "joint",
            PartShape::InlineConnector(2),
            v(0.40, -0.10, -0.19),
        )
        .yaw(70.0)
        .point("way.1", "joint.1", 0.002)
        .point("way.2", "joint.2", 0.002),
        Placed::new(
            "",
            PartShape::Plate("CHASSIS 0000-DEMO\nINVENTED CAR".into(), 0.022, true),
            v(0.05, -0.006, -0.505),
        ),
    ]
}

/// Cloth on both wings, the roll over one of them, and the driver's place.
fn tools() -> Vec<Placed> {
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
            PartShape::Gauge(800.0),
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
