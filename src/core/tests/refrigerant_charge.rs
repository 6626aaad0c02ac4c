//! A gauge at rest: what every workshop sees, and what mass balance demands.

use tracebay_core::refrigerant::{
    AbsoluteKpa, FluidState, Part, Refrigerant, static_pressure, static_pressure_in_parts,
};

const VOLUME_M3: f64 = 0.0032;

#[test]
fn sound_system_at_rest() {
    // Pressures from CoolProp, rounded to a psi: 28 at 0 °C, 68 at 20, 97 at 30,
    // 114 at 35, 133 at 40, all psig.
    for (t, psig) in [
        (0.0, 28.0),
        (20.0, 68.0),
        (30.0, 97.0),
        (35.0, 114.0),
        (40.0, 133.0),
    ] {
        let rest = static_pressure(Refrigerant::R134a, 0.55, VOLUME_M3, t);
        let shown = rest.pressure.gauge().psi();
        println!("R134a at rest, {t} °C | CoolProp | 1 | shows {shown:.2} psig for {psig}");
        assert!((shown - psig).abs() <= 0.6, "{t} °C: {shown} psig");
        assert_eq!(rest.fluid, FluidState::TwoPhase);
    }
    // Common practice, no source: 40 psig (276 kPa gauge) is the least at which
    // one tries to engage; a sound car in frost is under it all the same.
    let frost = static_pressure(Refrigerant::R134a, 0.55, VOLUME_M3, 0.0);
    assert!(frost.pressure.gauge().psi() < 40.0);
}

#[test]
fn a_gauge_at_rest_never_proves_the_charge() {
    // Half, full and overfilled show the same at rest.
    let shown = |kg| static_pressure(Refrigerant::R134a, kg, VOLUME_M3, 25.0).pressure;
    assert_eq!(shown(0.275), shown(0.55));
    assert_eq!(shown(0.55), shown(0.75));
    // Only once the liquid is gone does the gauge fall.
    let nearly_empty = static_pressure(Refrigerant::R134a, 0.04, VOLUME_M3, 25.0);
    assert_eq!(nearly_empty.fluid, FluidState::VapourOnly);
    assert!(nearly_empty.pressure.gauge().psi() < 40.0);
    // And a hot day does not lift it far: vapour expands with absolute heat only.
    let hot = static_pressure(Refrigerant::R134a, 0.04, VOLUME_M3, 45.0);
    let rise = hot.pressure.0 / nearly_empty.pressure.0;
    assert!((1.06..1.09).contains(&rise), "{rise}");
}

#[test]
fn no_step_where_the_last_liquid_goes() {
    for fluid in [Refrigerant::R134a, Refrigerant::R1234yf] {
        let mut last = 0.0;
        for grams in 0..1000 {
            let p = static_pressure(fluid, f64::from(grams) / 1000.0, VOLUME_M3, 30.0)
                .pressure
                .0;
            assert!(p >= last && p - last < 20.0, "{grams} g: {last} -> {p}");
            last = p;
        }
    }
}

#[test]
fn the_coldest_wetted_part_sets_the_pressure() {
    let parts = [
        Part {
            volume_m3: 0.0012,
            temperature_c: 60.0,
        },
        Part {
            volume_m3: 0.0010,
            temperature_c: 25.0,
        },
        Part {
            volume_m3: 0.0010,
            temperature_c: 10.0,
        },
    ];
    let rest = |kg| static_pressure_in_parts(Refrigerant::R134a, kg, &parts);
    let sat = |t| Refrigerant::R134a.saturation_pressure(t);
    assert_eq!(rest(0.5).pressure, sat(10.0));
    // More liquid than the coldest part holds: the next one sets it.
    assert_eq!(rest(1.8).pressure, sat(25.0));
    assert_eq!(rest(9.0).fluid, FluidState::LiquidFull);
    assert_eq!(rest(0.01).fluid, FluidState::VapourOnly);
    // More charge never lowers the gauge.
    let mut last = AbsoluteKpa(-1.0);
    for grams in 0..4000 {
        let p = rest(f64::from(grams) / 1000.0).pressure;
        assert!(p.0 >= last.0 - 1e-6, "{grams} g");
        last = p;
    }
}

#[test]
fn mass_is_kept() {
    // Vapour only, over parts at different heat: add the masses up again.
    let parts = [
        Part {
            volume_m3: 0.002,
            temperature_c: 70.0,
        },
        Part {
            volume_m3: 0.0012,
            temperature_c: 20.0,
        },
    ];
    let fluid = Refrigerant::R134a;
    let rest = static_pressure_in_parts(fluid, 0.05, &parts);
    let mass: f64 = parts
        .iter()
        .map(|p| p.volume_m3 * fluid.vapour_density_at(p.temperature_c, rest.pressure))
        .sum();
    assert!((mass - 0.05).abs() < 1e-9, "{mass}");
}

#[test]
fn nonsense_gives_vacuum_not_nan() {
    let fluid = Refrigerant::R1234yf;
    for kg in [f64::NAN, -1.0, 0.0] {
        assert_eq!(
            static_pressure(fluid, kg, VOLUME_M3, 20.0).pressure,
            AbsoluteKpa(0.0)
        );
    }
    assert_eq!(
        static_pressure(fluid, 0.5, 0.0, 20.0).pressure,
        AbsoluteKpa(0.0)
    );
    assert_eq!(
        static_pressure_in_parts(fluid, 0.5, &[]).pressure,
        AbsoluteKpa(0.0)
    );
}
