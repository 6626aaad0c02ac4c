//! The running loop: a sound car's numbers, textbook trends, energy balance.

use tracebay_core::refrigerant::{
    HeatFlows, LoopSpec, Refrigerant, RefrigerantLoop, RunningInputs, RunningState,
};

fn idle() -> RunningInputs {
    RunningInputs {
        engaged: true,
        compressor_rpm: 1000.0,
        ambient_c: 25.0,
        condenser_airflow: 1.0,
        blower_airflow: 1.0,
        charge_fraction: 1.0,
        condenser_blockage: 0.0,
    }
}

fn run_on(state: &mut RunningState, inputs: &RunningInputs, seconds: u32) -> HeatFlows {
    let car = RefrigerantLoop::new(LoopSpec::default());
    let mut flows = HeatFlows::default();
    for _ in 0..seconds * 10 {
        flows = state.step(&car, inputs);
    }
    flows
}

fn run(inputs: &RunningInputs, seconds: u32) -> (RunningState, HeatFlows) {
    let car = RefrigerantLoop::new(LoopSpec::default());
    let mut state = RunningState::at_rest(&car, inputs.ambient_c, inputs.charge_fraction);
    let flows = run_on(&mut state, inputs, seconds);
    (state, flows)
}

fn print(name: &str, state: &RunningState, flows: &HeatFlows) {
    println!(
        "{name:>24}: suction {:6.0} kPa g, discharge {:6.0} kPa g, evaporator {:5.1} °C, duct {:5.1} °C, \
         {:.2} kW cold, {:.2} kW shaft",
        state.suction().gauge().0,
        state.discharge().gauge().0,
        state.evaporator_c(),
        state.duct_c(),
        flows.refrigeration_kw,
        flows.compressor_kw,
    );
}

#[test]
fn a_sound_car_at_25_degrees() {
    // Common practice, no source: suction about 200 kPa gauge, discharge 1000 to
    // 1500 kPa gauge, 5 to 10 °C at the centre outlet within two to five minutes.
    let mut state = RunningState::at_rest(&RefrigerantLoop::new(LoopSpec::default()), 25.0, 1.0);
    for minute in 1..=5 {
        let flows = run_on(&mut state, &idle(), 60);
        print(&format!("{minute} min"), &state, &flows);
        if minute >= 2 {
            assert!(
                (5.0..=10.0).contains(&state.duct_c()),
                "{minute} min: {}",
                state.duct_c()
            );
            assert!((150.0..=250.0).contains(&state.suction().gauge().0));
            assert!((1000.0..=1500.0).contains(&state.discharge().gauge().0));
        }
    }
}

#[test]
fn textbook_trends() {
    let steady = |name: &str, inputs: RunningInputs| {
        let (state, flows) = run(&inputs, 600);
        print(name, &state, &flows);
        state
    };
    let sound = steady("sound", idle());
    let hot = steady(
        "40 °C outside",
        RunningInputs {
            ambient_c: 40.0,
            ..idle()
        },
    );
    let blocked = steady(
        "condenser 70 % blocked",
        RunningInputs {
            condenser_blockage: 0.7,
            ..idle()
        },
    );
    let no_fan = steady(
        "no condenser fan",
        RunningInputs {
            condenser_airflow: 0.2,
            ..idle()
        },
    );
    let low = steady(
        "charge 50 %",
        RunningInputs {
            charge_fraction: 0.5,
            ..idle()
        },
    );
    let empty = steady(
        "charge 5 %",
        RunningInputs {
            charge_fraction: 0.05,
            ..idle()
        },
    );
    let over = steady(
        "charge 140 %",
        RunningInputs {
            charge_fraction: 1.4,
            ..idle()
        },
    );
    let fast = steady(
        "2500 rpm",
        RunningInputs {
            compressor_rpm: 2500.0,
            ..idle()
        },
    );
    let gentle = steady(
        "blower low",
        RunningInputs {
            blower_airflow: 0.3,
            ..idle()
        },
    );

    for (what, state) in [
        ("heat", &hot),
        ("blockage", &blocked),
        ("fan", &no_fan),
        ("overcharge", &over),
    ] {
        assert!(
            state.discharge().0 > sound.discharge().0 + 150.0,
            "{what} raises the head"
        );
    }
    assert!(
        low.suction().0 < sound.suction().0 - 40.0,
        "low charge: low suction"
    );
    assert!(low.duct_c() > sound.duct_c() + 3.0, "low charge: warm duct");
    assert!(
        low.discharge().0 < sound.discharge().0,
        "low charge: low head"
    );
    assert!(
        empty.duct_c() > 22.0 && empty.suction().gauge().0 < 0.0,
        "empty: no cold, a vacuum"
    );
    assert!(fast.suction().0 < sound.suction().0 && fast.discharge().0 > sound.discharge().0);
    assert!(gentle.duct_c() < sound.duct_c() && gentle.suction().0 < sound.suction().0);
    assert!(hot.duct_c() > sound.duct_c() && hot.suction().0 > sound.suction().0);
}

#[test]
fn energy_balances() {
    // First law, over a whole start: heat in + work = heat out + heat stored.
    let car = RefrigerantLoop::new(LoopSpec::default());
    let mut state = RunningState::at_rest(&car, 25.0, 1.0);
    let before = state.stored_kj(&car, 1.0);
    let mut net_kj = 0.0;
    for _ in 0..3000 {
        let f = state.step(&car, &idle());
        net_kj += 0.1 * (f.air_to_evaporator_kw + f.compressor_kw - f.condenser_to_air_kw);
    }
    let stored = state.stored_kj(&car, 1.0) - before;
    println!(
        "first law over 5 min | - | 3000 | {:.2e} kJ of {net_kj:.1}",
        (stored - net_kj).abs()
    );
    assert!((stored - net_kj).abs() < 1e-6);
    // And standing still: what goes in comes out.
    let (_, f) = run(&idle(), 1800);
    let (into, out) = (
        f.air_to_evaporator_kw + f.compressor_kw,
        f.condenser_to_air_kw,
    );
    assert!(
        (into / out - 1.0).abs() < 1e-6,
        "{into} kW in, {out} kW out"
    );
    let cop = f.refrigeration_kw / f.compressor_kw;
    // Common practice, no source: a car's loop moves two to four times its work.
    assert!((2.0..=4.0).contains(&cop), "{cop}");
}

/// Common practice, no source: a difference is plain after a minute or two and
/// gone after five to ten.
#[test]
fn pressures_take_minutes_to_equalise() {
    let (mut state, _) = run(&idle(), 300);
    let off = RunningInputs {
        engaged: false,
        ..idle()
    };
    let start = state.unequalised_kpa();
    let mut gap = Vec::new();
    for _ in 0..10 {
        run_on(&mut state, &off, 60);
        gap.push(state.unequalised_kpa() / start);
    }
    println!("difference left after each minute: {gap:.3?}");
    assert!(gap[0] > 0.25 && gap[1] > 0.1 && gap[4] < 0.05 && gap[9] < 0.01);
    // Warm again, it stands at the pressure of the surroundings.
    let rest = Refrigerant::R134a.saturation_pressure(25.0).0;
    assert!((state.suction().0 / rest - 1.0).abs() < 0.01);
}

#[test]
fn a_low_charge_short_cycles() {
    // Common practice, no source: on a low-pressure switch that opens at 22 psig
    // and closes again at 40, a low charge makes the clutch cycle and a sound one
    // does not. Minutes three to eight of a run.
    let starts = |charge_fraction: f64| {
        let car = RefrigerantLoop::new(LoopSpec::default());
        let mut state = RunningState::at_rest(&car, 25.0, charge_fraction);
        let (mut engaged, mut starts) = (true, 0);
        for tick in 0..4800 {
            let psig = state.suction().gauge().psi();
            let was = engaged;
            engaged = if engaged { psig > 22.0 } else { psig > 40.0 };
            if engaged && !was && tick > 1800 {
                starts += 1;
            }
            let inputs = RunningInputs {
                engaged,
                charge_fraction,
                ..idle()
            };
            state.step(&car, &inputs);
        }
        (starts, state.duct_c())
    };
    let (sound, low) = (starts(1.0), starts(0.4));
    println!(
        "engagements in five minutes: sound {}, at 40 % charge {}",
        sound.0, low.0
    );
    assert_eq!(sound.0, 0);
    assert!((3..=60).contains(&low.0), "{}", low.0);
}

#[test]
fn the_other_refrigerant_cools_as_well() {
    let car = RefrigerantLoop::new(LoopSpec {
        refrigerant: Refrigerant::R1234yf,
        ..LoopSpec::default()
    });
    let mut state = RunningState::at_rest(&car, 25.0, 1.0);
    let mut flows = HeatFlows::default();
    for _ in 0..3000 {
        flows = state.step(&car, &idle());
    }
    print("R-1234yf, 5 min", &state, &flows);
    assert!((5.0..=11.0).contains(&state.duct_c()));
    assert!((1000.0..=1500.0).contains(&state.discharge().gauge().0));
}

#[test]
fn two_waits_are_one() {
    let car = RefrigerantLoop::new(LoopSpec::default());
    let (whole, _) = run(&idle(), 60);
    let mut parts = RunningState::at_rest(&car, 25.0, 1.0);
    run_on(&mut parts, &idle(), 17);
    run_on(&mut parts, &idle(), 43);
    assert_eq!(whole.suction().0.to_bits(), parts.suction().0.to_bits());
    assert_eq!(whole.discharge().0.to_bits(), parts.discharge().0.to_bits());
    assert_eq!(whole.duct_c().to_bits(), parts.duct_c().to_bits());
}

#[test]
fn nothing_breaks_at_the_corners() {
    for fluid in [Refrigerant::R134a, Refrigerant::R1234yf] {
        let car = RefrigerantLoop::new(LoopSpec {
            refrigerant: fluid,
            ..LoopSpec::default()
        });
        for ambient_c in [-40.0, 0.0, 50.0] {
            for charge_fraction in [0.0, 0.02, 0.3, 1.0, 2.0] {
                for compressor_rpm in [0.0, 50.0, 8000.0] {
                    for airflow in [0.0, 1.0] {
                        let inputs = RunningInputs {
                            engaged: true,
                            compressor_rpm,
                            ambient_c,
                            condenser_airflow: airflow,
                            blower_airflow: airflow,
                            charge_fraction,
                            condenser_blockage: 1.0 - airflow,
                        };
                        let mut state = RunningState::at_rest(&car, ambient_c, charge_fraction);
                        for _ in 0..6000 {
                            state.step(&car, &inputs);
                        }
                        let (s, d) = (state.suction().0, state.discharge().0);
                        assert!(
                            s.is_finite() && d.is_finite() && s >= 0.0 && d >= s - 1e-6,
                            "{inputs:?}: {s} {d}"
                        );
                        assert!(d < 5000.0, "{inputs:?}: {d}");
                        assert!((-60.0..200.0).contains(&state.duct_c()), "{inputs:?}");
                    }
                }
            }
        }
    }
}
