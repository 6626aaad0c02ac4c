//! The fuse box of the invented demonstration car.

use crate::kit::*;
use bevy::prelude::*;

/// The invented fuse box of the demonstration car.
pub fn demo_box() -> BoxGrid {
    let mut cells = Vec::new();
    let mut add = |id: &str, kind: CellKind, x: f32, z: f32, turns: u8, legend: &str| {
        cells.push(BoxCell {
            id: id.into(),
            kind,
            at: Vec2::new(x, z),
            turns,
            legend: legend.into(),
            cavities: None,
        });
    };
    let relay = |size, changeover, print: &str| CellKind::Relay {
        size,
        changeover,
        case: if changeover {
            [58, 60, 64]
        } else {
            [26, 26, 28]
        },
        print: print.into(),
    };
    let minis = [
        ("K1", "MAIN POWER", false),
        ("K2", "BLOWER", false),
        ("K3", "A/C CLUTCH", false),
        ("K4", "FAN LOW", false),
        ("K5", "FAN HIGH", true),
    ];
    for (i, (id, legend, change)) in minis.iter().enumerate() {
        let x = -0.096 + i as f32 * 0.0335;
        add(
            id,
            relay(RelaySize::Mini, *change, "R4-40"),
            x,
            -0.048,
            0,
            legend,
        );
    }
    add(
        "K6",
        CellKind::SpareRelay(RelaySize::Mini),
        0.0715,
        -0.048,
        0,
        "SPARE",
    );
    for (i, (id, legend)) in [
        ("K7", "HORN"),
        ("K8", "FUEL PUMP"),
        ("K9", "START"),
        ("K10", "LAMPS"),
    ]
    .iter()
    .enumerate()
    {
        let x = -0.102 + i as f32 * 0.0215;
        add(
            id,
            relay(RelaySize::Micro, i == 3, "R2-30"),
            x,
            -0.004,
            0,
            legend,
        );
    }
    let amps = [10.0, 15.0, 7.5, 20.0, 10.0, 5.0, 25.0, 30.0, 10.0];
    for (i, a) in amps.iter().enumerate() {
        let x = -0.010 + i as f32 * 0.0118;
        let id = format!("F{}", i + 1);
        let kind = CellKind::Fuse {
            size: FuseSize::Mini,
            amps: *a,
        };
        add(
            &id,
            kind,
            x,
            -0.006,
            1,
            [
                "A/C", "HORN", "ECU", "LAMPS", "FAN", "DASH", "WIPER", "HEAT", "PUMP",
            ][i],
        );
    }
    for (i, a) in [15.0, 20.0, 30.0, 10.0].iter().enumerate() {
        let id = format!("F{}", i + 10);
        let kind = CellKind::Fuse {
            size: FuseSize::Regular,
            amps: *a,
        };
        add(
            &id,
            kind,
            -0.100 + i as f32 * 0.0245,
            0.034,
            0,
            ["HORN", "BLOWER", "FAN 1", "A/C"][i],
        );
    }
    for (i, a) in [40.0, 60.0, 80.0].iter().enumerate() {
        let id = format!("F{}", i + 14);
        let kind = CellKind::Fuse {
            size: FuseSize::Maxi,
            amps: *a,
        };
        add(
            &id,
            kind,
            0.008 + i as f32 * 0.036,
            0.034,
            0,
            ["FAN", "CABIN", "MAIN"][i],
        );
    }
    add(
        "F17",
        CellKind::SpareFuse(FuseSize::Maxi),
        0.1035,
        -0.048,
        1,
        "SPARE",
    );
    for i in 0..4 {
        let id = format!("F{}", 18 + i);
        add(
            &id,
            CellKind::SpareFuse(FuseSize::Regular),
            -0.100 + i as f32 * 0.0245,
            0.058,
            0,
            "SPARE",
        );
    }
    BoxGrid {
        size: Vec2::new(0.25, 0.155),
        cells,
        title: "UNDER-BONNET BOX - DEMO CAR".into(),
        lid: true,
        lid_turned: false,
        lid_aside: super::bays::longitudinal_petrol().stands.bay.lid_aside,
        tray: super::bays::longitudinal_petrol().stands.bay.tray,
    }
}
