//! Refrigerant curves against CoolProp: the committed tables, and live where
//! Python and CoolProp are installed.

use std::path::{Path, PathBuf};
use std::process::Command;

use tracebay_core::refrigerant::{AbsoluteKpa, Refrigerant};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/reference/coolprop")
}

fn fluid(name: &str) -> Refrigerant {
    match name {
        "R134a" => Refrigerant::R134a,
        "R1234yf" => Refrigerant::R1234yf,
        other => panic!("unknown refrigerant {other} in the table"),
    }
}

fn rows(text: &str) -> Vec<(Refrigerant, Vec<f64>)> {
    let rows: Vec<_> = text
        .lines()
        .skip(1)
        .filter(|line| !line.trim().is_empty())
        .map(|line| {
            let mut cells = line.split(',');
            let fluid = fluid(cells.next().unwrap());
            (
                fluid,
                cells.map(|cell| cell.trim().parse().unwrap()).collect(),
            )
        })
        .collect();
    assert!(!rows.is_empty(), "an empty reference proves nothing");
    rows
}

fn table(name: &str) -> Vec<(Refrigerant, Vec<f64>)> {
    rows(&std::fs::read_to_string(folder().join(name)).unwrap())
}

/// Keeps the worst deviation seen, and where.
#[derive(Default)]
struct Worst {
    value: f64,
    at: String,
    points: usize,
}

impl Worst {
    fn see(&mut self, deviation: f64, at: impl Fn() -> String) {
        assert!(deviation.is_finite(), "{}", at());
        self.points += 1;
        if deviation.abs() >= self.value {
            self.value = deviation.abs();
            self.at = at();
        }
    }

    fn print(&self, quantity: &str, unit: &str) {
        println!(
            "{quantity} | CoolProp | {} | {:.3} {unit} at {}",
            self.points, self.value, self.at
        );
    }
}

fn percent(got: f64, want: f64) -> f64 {
    100.0 * (got / want - 1.0)
}

fn check_saturation(rows: &[(Refrigerant, Vec<f64>)], source: &str) {
    for fluid in [Refrigerant::R134a, Refrigerant::R1234yf] {
        let mut p = Worst::default();
        let mut liquid = Worst::default();
        let mut vapour = Worst::default();
        let mut h_liquid = Worst::default();
        let mut latent = Worst::default();
        let mut inverse = Worst::default();
        for (_, row) in rows.iter().filter(|(f, _)| *f == fluid) {
            let [t, p_ref, l_ref, v_ref, hl_ref, hv_ref] = row[..] else {
                panic!("six cells")
            };
            let at = || format!("{t} °C");
            p.see(percent(fluid.saturation_pressure(t).0, p_ref), at);
            liquid.see(percent(fluid.liquid_density(t), l_ref), at);
            vapour.see(percent(fluid.vapour_density(t), v_ref), at);
            h_liquid.see(fluid.liquid_enthalpy(t) - hl_ref, at);
            latent.see(percent(fluid.latent_heat(t), hv_ref - hl_ref), at);
            inverse.see(fluid.saturation_temperature_c(AbsoluteKpa(p_ref)) - t, at);
        }
        assert_eq!(p.points, 111, "{source}: every degree from -30 to 80");
        let name = |quantity: &str| format!("{fluid:?} {quantity} ({source})");
        p.print(&name("saturation pressure"), "%");
        liquid.print(&name("liquid density"), "%");
        vapour.print(&name("vapour density"), "%");
        h_liquid.print(&name("liquid enthalpy"), "kJ/kg");
        latent.print(&name("latent heat"), "%");
        inverse.print(&name("saturation temperature"), "K");
        assert!(p.value < 0.5 && liquid.value < 0.5 && vapour.value < 0.5);
        assert!(h_liquid.value < 1.0 && latent.value < 1.0 && inverse.value < 0.2);
    }
}

#[test]
fn saturation_within_half_a_percent_every_degree() {
    let versions = std::fs::read_to_string(folder().join("versions.json")).unwrap();
    assert!(
        versions.contains("\"coolprop\": \"8."),
        "the table's version is stated"
    );
    check_saturation(&table("saturation.csv"), "table");
}

/// The reference run again, where it can be. Skips itself in words where Python
/// or CoolProp is missing: the committed table stands in then.
#[test]
fn saturation_against_coolprop_run_live() {
    let script = folder().join("generate.py");
    let run = Command::new("python3")
        .arg(script)
        .arg("--saturation")
        .output();
    match run {
        Ok(done) if done.status.success() => {
            check_saturation(&rows(&String::from_utf8(done.stdout).unwrap()), "live");
        }
        Ok(done) => {
            let said = String::from_utf8_lossy(&done.stderr).into_owned();
            assert!(
                said.contains("ModuleNotFoundError"),
                "CoolProp is there but its script failed:\n{said}"
            );
            println!("skipped: python3 has no CoolProp or numpy");
        }
        Err(_) => println!("skipped: no python3"),
    }
}

#[test]
fn vapour_line_within_one_percent() {
    let rows = table("vapour.csv");
    for fluid in [Refrigerant::R134a, Refrigerant::R1234yf] {
        let mut worst = Worst::default();
        let mut back = Worst::default();
        for (_, row) in rows.iter().filter(|(f, _)| *f == fluid) {
            let [t, density, p_ref] = row[..] else {
                panic!("three cells")
            };
            let at = || format!("{t} °C, {density} kg/m³");
            worst.see(percent(fluid.vapour_pressure(t, density).0, p_ref), at);
            back.see(
                percent(fluid.vapour_density_at(t, AbsoluteKpa(p_ref)), density),
                at,
            );
        }
        worst.print(&format!("{fluid:?} vapour pressure from density"), "%");
        back.print(&format!("{fluid:?} vapour density from pressure"), "%");
        assert!(worst.points > 100 && worst.value < 1.0);
    }
}

#[test]
fn vapour_line_rises_and_meets_the_dew_point() {
    for fluid in [Refrigerant::R134a, Refrigerant::R1234yf] {
        for t in -30..=80 {
            let t = f64::from(t);
            let dew = fluid.vapour_density(t);
            let mut last = -1.0;
            for part in 0..=400 {
                let p = fluid.vapour_pressure(t, dew * f64::from(part) / 400.0).0;
                assert!(
                    p > last,
                    "{fluid:?} {t} °C: pressure must rise with density"
                );
                last = p;
            }
            let saturation = fluid.saturation_pressure(t).0;
            let just_under = fluid.vapour_pressure(t, dew * (1.0 - 1e-9)).0;
            assert!(
                (just_under / saturation - 1.0).abs() < 1e-7,
                "a step at the dew point"
            );
        }
    }
}

#[test]
fn cycle_corners() {
    let rows = table("cycle.csv");
    for fluid in [Refrigerant::R134a, Refrigerant::R1234yf] {
        let mut h1 = Worst::default();
        let mut h3 = Worst::default();
        for (_, row) in rows.iter().filter(|(f, _)| *f == fluid) {
            let [boil, condense, h1_ref, _rho1, _h2s, h3_ref] = row[..] else {
                panic!()
            };
            let at = || format!("{boil}/{condense} °C");
            h1.see(fluid.vapour_enthalpy(boil, 6.0) - h1_ref, at);
            h3.see(fluid.liquid_enthalpy(condense - 5.0) - h3_ref, at);
        }
        h1.print(&format!("{fluid:?} suction gas enthalpy"), "kJ/kg");
        h3.print(&format!("{fluid:?} subcooled liquid enthalpy"), "kJ/kg");
        // A cycle lifts about 130 kJ/kg: 1.5 kJ/kg is about one per cent of it.
        assert!(h1.value < 1.5 && h3.value < 1.5);
    }
}

#[test]
fn outside_the_curves_nothing_breaks() {
    for fluid in [Refrigerant::R134a, Refrigerant::R1234yf] {
        for t in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -300.0, 1e300] {
            assert!(fluid.saturation_pressure(t).0.is_finite());
            assert!(fluid.liquid_density(t).is_finite());
            assert!(fluid.vapour_pressure(t, 10.0).0.is_finite());
        }
        for p in [f64::NAN, 0.0, -5.0, f64::INFINITY] {
            assert!(fluid.saturation_temperature_c(AbsoluteKpa(p)).is_finite());
        }
        let mut t = -45.0;
        while t <= 90.0 {
            let back = fluid.saturation_temperature_c(fluid.saturation_pressure(t));
            assert!((back - t).abs() < 1e-8, "{fluid:?} {t} {back}");
            t += 0.25;
        }
    }
}
