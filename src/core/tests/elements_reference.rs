//! Wires and fuses against the standards' tables.

use tracebay_core::elements::fuse::{BladeBody, Fuse, FuseHeat};
use tracebay_core::elements::wire::{Wire, awg_to_mm2, ohms_per_km};

#[test]
fn wire_stays_under_the_standards_maxima() {
    // IEC 60228 class 5, plain copper, 20 °C.
    let class_5 = [
        (0.5, 39.0),
        (0.75, 26.0),
        (1.0, 19.5),
        (1.5, 13.3),
        (2.5, 7.98),
        (4.0, 4.95),
        (6.0, 3.30),
        (10.0, 1.91),
        (16.0, 1.21),
        (25.0, 0.780),
        (35.0, 0.554),
    ];
    // ISO 6722-1, from memory.
    let car = [
        (0.5, 37.1),
        (0.75, 24.7),
        (1.0, 18.5),
        (1.5, 12.7),
        (2.5, 7.60),
    ];
    for (source, table) in [
        ("IEC 60228 class 5", &class_5[..]),
        ("ISO 6722-1", &car[..]),
    ] {
        let mut closest = f64::INFINITY;
        let mut furthest = 0.0_f64;
        for &(mm2, most) in table {
            let ours = ohms_per_km(mm2, 20.0);
            assert!(ours <= most, "{source} {mm2} mm²: {ours} > {most}");
            closest = closest.min(1.0 - ours / most);
            furthest = furthest.max(1.0 - ours / most);
        }
        // A maximum is not a typical value, yet a cable far below it is no cable.
        assert!(furthest < 0.15);
        println!(
            "wire at 20 °C | {source} (maxima) | {} | {:.1} to {:.1} % below",
            table.len(),
            100.0 * closest,
            100.0 * furthest
        );
    }
}

#[test]
fn wire_by_temperature() {
    // IEC 60228 (from memory): R(t) = R20 (234.5 + t) / 254.5.
    let mut worst = 0.0_f64;
    for t in [-40, -20, 0, 20, 40, 60, 85, 105, 125] {
        let t = f64::from(t);
        let ours = ohms_per_km(1.0, t) / ohms_per_km(1.0, 20.0);
        worst = worst.max((ours / ((234.5 + t) / 254.5) - 1.0).abs());
    }
    println!(
        "wire by temperature | IEC 60228 factor | 9 | {:.4} %",
        100.0 * worst
    );
    assert!(worst < 5e-4);
    // Ten metres of 1 mm² carry 10 A with a drop of about 1.8 V.
    let wire = Wire::new(1.0, 10.0).unwrap();
    assert!((wire.ohms(20.0) * 10.0 - 1.776).abs() < 0.01);
    for (mm2, m) in [
        (0.0, 1.0),
        (-1.0, 1.0),
        (f64::NAN, 1.0),
        (1.0, 0.0),
        (1.0, 1e6),
    ] {
        assert!(Wire::new(mm2, m).is_err());
    }
}

#[test]
fn american_gauges() {
    // ASTM B258 areas, mm².
    let table = [
        (0, 53.5),
        (4, 21.2),
        (8, 8.37),
        (10, 5.26),
        (12, 3.31),
        (14, 2.08),
        (16, 1.31),
        (18, 0.823),
        (20, 0.518),
        (22, 0.326),
    ];
    let mut worst = 0.0_f64;
    for (gauge, mm2) in table {
        worst = worst.max((awg_to_mm2(gauge).unwrap() / mm2 - 1.0).abs());
    }
    println!(
        "AWG areas | ASTM B258 | {} | {:.2} %",
        table.len(),
        100.0 * worst
    );
    assert!(worst < 0.003);
    assert!(awg_to_mm2(99).is_err());
}

/// Opening limits of ISO 8820-3, from memory: share of rating, least and most
/// seconds.
fn limits(body: BladeBody) -> &'static [(f64, f64, f64)] {
    match body {
        BladeBody::Mini | BladeBody::Regular => &[
            (1.35, 0.75, 600.0),
            (1.6, 0.25, 50.0),
            (2.0, 0.15, 5.0),
            (3.5, 0.04, 0.5),
            (6.0, 0.02, 0.1),
        ],
        BladeBody::Maxi => &[
            (1.35, 60.0, 1800.0),
            (2.0, 2.0, 60.0),
            (3.5, 0.2, 7.0),
            (6.0, 0.04, 1.0),
        ],
    }
}

#[test]
fn fuses_open_within_the_limits_at_every_rating() {
    for body in [BladeBody::Mini, BladeBody::Regular, BladeBody::Maxi] {
        let mut ratings = 0;
        let mut spans = vec![(f64::INFINITY, 0.0_f64); limits(body).len()];
        for rated_a in body.ratings_a() {
            ratings += 1;
            let fuse = Fuse::new(body, rated_a).unwrap();
            assert_eq!(fuse.opening_seconds(1.1 * rated_a, 23.0, 1e4), None);
            let mut heat = FuseHeat::default();
            for _ in 0..3_600_000 {
                // 100 h in ticks.
                if fuse.step(&mut heat, 1.1 * rated_a) {
                    panic!("{body:?} {rated_a} A opened at 110 %");
                }
            }
            for (span, &(share, least, most)) in spans.iter_mut().zip(limits(body)) {
                let t = fuse.opening_seconds(share * rated_a, 23.0, 2000.0).unwrap();
                assert!(
                    (least..=most).contains(&t),
                    "{body:?} {rated_a} A at {share}: {t} s"
                );
                *span = (span.0.min(t), span.1.max(t));
                // Ticking says the same to within a tick.
                let mut heat = FuseHeat::default();
                let ticks = (1..20_000)
                    .find(|_| fuse.step(&mut heat, share * rated_a))
                    .unwrap();
                let ticked = f64::from(ticks) * 0.1;
                assert!(ticked >= t - 1e-3 && ticked - t <= 0.101, "{t} {ticked}");
            }
        }
        for (span, (share, least, most)) in spans.iter().zip(limits(body)) {
            println!(
                "{body:?} fuse at {:.0} % | ISO 8820-3, from memory: {least} to {most} s | {ratings} | {:.3} to {:.3} s",
                100.0 * share,
                span.0,
                span.1
            );
        }
    }
}

#[test]
fn fuses_remember_heat() {
    let fuse = Fuse::new(BladeBody::Mini, 10.0).unwrap();
    let cold = fuse.opening_seconds(16.0, 23.0, 100.0).unwrap();
    let mut heat = FuseHeat::default();
    for _ in 0..1200 {
        assert!(!fuse.step(&mut heat, 10.0));
    }
    let warm = (1..1000).find(|_| fuse.step(&mut heat, 16.0)).unwrap();
    assert!(f64::from(warm) * 0.1 < cold, "a warm fuse opens sooner");
    assert!(heat.blown());
    assert!(fuse.step(&mut heat, 0.0), "and never closes again");
    // A hot fuse box opens one that would hold in the cold.
    assert_eq!(fuse.opening_seconds(11.8, 23.0, 1e4), None);
    assert!(fuse.opening_seconds(11.8, 85.0, 1e4).is_some());
}

#[test]
fn two_waits_are_one_for_fuses() {
    let fuse = Fuse::new(BladeBody::Regular, 15.0).unwrap();
    let run = |parts: &[u32]| {
        let mut heat = FuseHeat::default();
        for &ticks in parts {
            for _ in 0..ticks {
                fuse.step(&mut heat, 19.0);
            }
        }
        heat.share_of_melting().to_bits()
    };
    assert_eq!(run(&[50]), run(&[13, 37]));
}

#[test]
fn fuse_resistance_and_refusal() {
    // Typical cold resistances of blade fuses, from memory.
    let typical = [
        (3.0, 0.0311),
        (5.0, 0.0179),
        (10.0, 0.0077),
        (20.0, 0.0034),
        (30.0, 0.0020),
    ];
    let mut worst = 0.0_f64;
    for (rated_a, ohms) in typical {
        let ours = Fuse::new(BladeBody::Regular, rated_a).unwrap().cold_ohms();
        worst = worst.max((ours / ohms - 1.0).abs());
    }
    println!(
        "fuse resistance | typical values, from memory | 5 | {:.0} %",
        100.0 * worst
    );
    assert!(worst < 0.2);
    let refused = Fuse::new(BladeBody::Mini, 11.0).unwrap_err().to_string();
    assert!(
        refused.contains("11 A") && refused.contains("7.5, 10, 15"),
        "{refused}"
    );
    for amps in [f64::NAN, f64::INFINITY] {
        let mut heat = FuseHeat::default();
        assert!(
            Fuse::new(BladeBody::Mini, 10.0)
                .unwrap()
                .step(&mut heat, amps)
        );
        assert!(heat.share_of_melting().is_finite());
    }
}
