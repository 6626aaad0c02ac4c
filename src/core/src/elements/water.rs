//! Water on terminals: how well it conducts from one to the next, and how long it stays.
//!
//! Conductivity: a film of thickness `t` and width `w` over a gap `d` has `R = d / (σ w t)`, which is what
//! conductivity means (IEC 60050, 121-12-03, from memory). So half the film is twice the resistance. What
//! the current does to the water (heat, gas, green copper, about two volts lost at the metal) is left out.
//! Drying: Dalton's law, the loss goes with what the air still lacks of saturation at the wet surface;
//! saturation by Magnus' formula with the constants of WMO-No. 8 (from memory). A film loses the same in
//! every second until it is gone (the constant-rate period of drying, handbook knowledge, from memory).

use super::bounds::Bounds;

/// Conductivity of rain in town, S/m (5 mS/m; common practice, no source).
pub const RAIN_S_PER_M: f64 = 0.005;
/// Conductivity of ordinary tap water, S/m. Drinking water may have up to 0.25 (EU Directive 2020/2184, from
/// memory).
pub const TAP_S_PER_M: f64 = 0.05;
/// Conductivity of sea water of salinity 35 at 15 °C, S/m (practical salinity scale of 1978, from memory).
pub const SEA_S_PER_M: f64 = 4.2914;
/// Conductivity of thawing salt in as much water as it needs, S/m (handbook order of magnitude, from memory).
pub const BRINE_S_PER_M: f64 = 20.0;

/// Humidity of the air on an ordinary day, share of saturation.
pub const USUAL_HUMIDITY: f64 = 0.6;
/// Humidity of the air when it has rained.
pub const RAINY_HUMIDITY: f64 = 0.85;

/// Share of a soaking below which the film no longer hangs together: no way for a current (our judgement, no
/// source).
pub const FILM_BREAKS_BELOW: f64 = 0.1;

/// Share of a soaking lost per second and hectopascal that the air lacks: a soaked plug in still air of 20 °C
/// and 60 % dries in half an hour (common practice, no source).
const DRIES_PER_S_HPA: f64 = 1.0 / (1800.0 * 9.36);

/// Resistance of a film of water between two terminals, ohms; lengths in metres.
pub fn film_ohms(siemens_per_m: f64, gap_m: f64, width_m: f64, thickness_m: f64) -> f64 {
    gap_m / (siemens_per_m * width_m * thickness_m)
}

/// Pressure of saturated water vapour, hPa.
pub fn saturation_hpa(celsius: f64) -> f64 {
    let t = celsius.at_least(-45.0).at_most(100.0);
    6.112 * libm::exp(17.62 * t / (243.12 + t))
}

/// Share of a soaking that dries off in a second at a place of `place_c` in air of `air_c`.
pub fn dries_per_s(place_c: f64, air_c: f64, humidity: f64) -> f64 {
    let lacks = saturation_hpa(place_c) - humidity * saturation_hpa(air_c);
    DRIES_PER_S_HPA * lacks.at_least(0.0)
}

/// What is left of a leak's conductance: its resistance when soaked, divided by the share of the film left;
/// none once the film breaks.
pub fn leak_ohms(soaked_ohms: f64, share: f64) -> Option<f64> {
    (share >= FILM_BREAKS_BELOW).then(|| soaked_ohms / share)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn saturation_is_that_of_the_steam_tables() {
        // IAPWS-95 values at round temperatures, hPa, from memory; Magnus' formula is good to 2 % up to 90 °C.
        for (c, hpa) in [
            (0.0, 6.112),
            (20.0, 23.39),
            (40.0, 73.85),
            (60.0, 199.5),
            (90.0, 701.8),
        ] {
            let error = (saturation_hpa(c) / hpa - 1.0).abs();
            assert!(error < 0.02, "{c} degC: {} hPa", saturation_hpa(c));
        }
    }

    #[test]
    fn only_salt_water_holds_a_relay() {
        // Two neighbours 3 mm apart in a socket with 5 mm of water over 6 mm: a relay's coil of 80 ohms wants
        // 0.09 A to pull in. Rain and tap water cannot give it, brine can (common practice, no source).
        let through = |water| 12.6 / (80.0 + film_ohms(water, 0.003, 0.006, 0.005));
        for fresh in [RAIN_S_PER_M, TAP_S_PER_M] {
            assert!(through(fresh) < 0.01, "{}", through(fresh));
        }
        assert!(through(BRINE_S_PER_M) > 0.09, "{}", through(BRINE_S_PER_M));
    }

    #[test]
    fn a_film_is_a_conductor_of_its_cross_section() {
        // A cube of one metre of sea water: one over its conductivity, whatever way one looks (definition).
        let cube = film_ohms(SEA_S_PER_M, 1.0, 1.0, 1.0);
        assert!((cube - 0.233).abs() < 0.001, "{cube}");
        assert_eq!(leak_ohms(100.0, 0.5), Some(200.0));
        assert_eq!(leak_ohms(100.0, 0.05), None);
    }

    #[test]
    fn heat_dries_and_wet_air_does_not() {
        // Common practice, no source: half an hour in still air, minutes in a warm engine bay, hours on a
        // rainy day.
        let minutes = |place, air, humidity| 1.0 / dries_per_s(place, air, humidity) / 60.0;
        assert!((25.0..35.0).contains(&minutes(20.0, 20.0, USUAL_HUMIDITY)));
        assert!((2.0..10.0).contains(&minutes(42.0, 20.0, USUAL_HUMIDITY)));
        assert!(minutes(10.0, 10.0, RAINY_HUMIDITY) > 90.0);
        // In air that is full nothing dries, and it never gets wetter by drying.
        assert_eq!(dries_per_s(10.0, 20.0, 1.0), 0.0);
    }
}
