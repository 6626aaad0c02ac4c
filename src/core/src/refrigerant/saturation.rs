//! Saturation pressure, densities and enthalpies of R-134a and R-1234yf.
//!
//! | quantity | form | accuracy against the reference |
//! | --- | --- | --- |
//! | vapour pressure | Wagner (Cryogenics 13 (1973) 470), exponents 1, 1.5, 2.5, 5 | 0.5 % |
//! | liquid density | DIPPR equation 116 | 0.5 % |
//! | vapour density | `ln(ρ/ρc)` in powers of `1 - T/Tc`, the auxiliary form of the published equations of state | 0.5 % |
//! | liquid enthalpy | the powers of DIPPR 116 | 1 kJ/kg |
//! | latent heat | Clapeyron: `T (v" - v') dp/dT` of the curves above | 1 % |
//! | ideal work | polytropic, exponent linear in boiling point and ln(ratio) | 1.5 % |
//! | vapour line | virial to the third density term, closed at the dew point | 1 % |
//!
//! The coefficients are fitted to CoolProp by `tests/reference/coolprop/generate.py`
//! (reference equations: Tillner-Roth and Baehr 1994; Lemmon and Akasaka 2022)
//! and hold from [`FIT_LOW_C`] to [`FIT_HIGH_C`]. A temperature outside is
//! treated as the nearer end, since a car's loop never works there and a curve
//! run beyond its data is worse than none.

use super::coefficients::{R134A, R1234YF};
use super::pressure::AbsoluteKpa;
use crate::elements::Bounds;

/// Lowest temperature the curves were fitted at, °C.
pub const FIT_LOW_C: f64 = -45.0;
/// Highest temperature the curves were fitted at, °C.
pub const FIT_HIGH_C: f64 = 90.0;

const ZERO_C_K: f64 = 273.15;

/// A refrigerant used in cars.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
pub enum Refrigerant {
    /// 1,1,1,2-tetrafluoroethane (ISO 817 designation R-134a).
    R134a,
    /// 2,3,3,3-tetrafluoroprop-1-ene (ISO 817 designation R-1234yf).
    R1234yf,
}

/// Fitted coefficients of one refrigerant; see the module table for the forms.
pub(super) struct Curves {
    pub tc_k: f64,
    pub pc_kpa: f64,
    pub rhoc: f64,
    pub gas_kj_kg_k: f64,
    pub pressure: [f64; 4],
    pub liquid: [f64; 4],
    pub vapour: [f64; 5],
    pub h_liquid: [f64; 5],
    pub cp_vapour: [f64; 4],
    pub b: [f64; 4],
    pub c: [f64; 4],
    pub work: [f64; 3],
}

fn kelvin(t_c: f64) -> f64 {
    // `max` before `min` turns NaN into the lower end: total, never NaN.
    t_c.at_least(FIT_LOW_C).at_most(FIT_HIGH_C) + ZERO_C_K
}

fn cubic(c: &[f64; 4], x: f64) -> f64 {
    c[0] + x * (c[1] + x * (c[2] + x * c[3]))
}

impl Curves {
    fn tau(&self, t_k: f64) -> f64 {
        1.0 - t_k / self.tc_k
    }

    /// `ln(p/pc)` and its derivative by kelvin.
    fn ln_reduced_pressure(&self, t_k: f64) -> (f64, f64) {
        let [a1, a2, a3, a4] = self.pressure;
        let tau = self.tau(t_k);
        let root = tau.sqrt();
        let t15 = tau * root;
        let t25 = tau * t15;
        let t4 = tau * tau * tau * tau;
        let sum = a1 * tau + a2 * t15 + a3 * t25 + a4 * t4 * tau;
        let slope = a1 + 1.5 * a2 * root + 2.5 * a3 * t15 + 5.0 * a4 * t4;
        let ratio = self.tc_k / t_k;
        (ratio * sum, -ratio * sum / t_k - slope / t_k)
    }
}

impl Refrigerant {
    fn curves(self) -> &'static Curves {
        match self {
            Self::R134a => &R134A,
            Self::R1234yf => &R1234YF,
        }
    }

    /// Pressure at which liquid and vapour stand together at `t_c`, within 0.5 %.
    pub fn saturation_pressure(self, t_c: f64) -> AbsoluteKpa {
        let c = self.curves();
        let (ln, _) = c.ln_reduced_pressure(kelvin(t_c));
        AbsoluteKpa(c.pc_kpa * libm::exp(ln))
    }

    /// Slope of the saturation pressure, kPa per kelvin.
    pub fn saturation_slope_kpa_k(self, t_c: f64) -> f64 {
        let (_, slope) = self.curves().ln_reduced_pressure(kelvin(t_c));
        self.saturation_pressure(t_c).0 * slope
    }

    /// Temperature at which `pressure` is the saturation pressure, °C, held to
    /// the range of the curves.
    pub fn saturation_temperature_c(self, pressure: AbsoluteKpa) -> f64 {
        let c = self.curves();
        let target = libm::log(pressure.0.at_least(1.0).at_most(c.pc_kpa) / c.pc_kpa);
        // ln p is nearly straight in 1/T, so Newton in 1/T from the critical
        // point's slope settles in a few steps. A fixed number of steps, so that
        // the result is the same function of its input everywhere.
        let mut t_k = kelvin(c.tc_k / (1.0 - target / 7.0) - ZERO_C_K);
        for _ in 0..5 {
            let (ln, slope) = c.ln_reduced_pressure(t_k);
            let inverse = 1.0 / t_k + (ln - target) / (slope * t_k * t_k);
            t_k = kelvin(1.0 / inverse - ZERO_C_K);
        }
        t_k - ZERO_C_K
    }

    /// Density of the boiling liquid, kg/m³, within 0.5 %.
    pub fn liquid_density(self, t_c: f64) -> f64 {
        let c = self.curves();
        let tau = c.tau(kelvin(t_c));
        let third = libm::cbrt(tau);
        c.rhoc
            + c.liquid[0] * libm::pow(tau, 0.35)
            + c.liquid[1] * third * third
            + c.liquid[2] * tau
            + c.liquid[3] * tau * third
    }

    /// Density of the saturated vapour, kg/m³, within 0.5 %.
    pub fn vapour_density(self, t_c: f64) -> f64 {
        let c = self.curves();
        let tau = c.tau(kelvin(t_c));
        let third = libm::cbrt(tau);
        let t73 = tau * tau * third;
        let ln = c.vapour[0] * third
            + c.vapour[1] * third * third
            + c.vapour[2] * tau
            + c.vapour[3] * t73
            + c.vapour[4] * t73 * t73;
        c.rhoc * libm::exp(ln)
    }

    /// Enthalpy of the boiling liquid, kJ/kg, on the IIR scale (200 at 0 °C),
    /// within 1 kJ/kg.
    pub fn liquid_enthalpy(self, t_c: f64) -> f64 {
        let c = self.curves();
        let tau = c.tau(kelvin(t_c));
        let third = libm::cbrt(tau);
        c.h_liquid[0]
            + c.h_liquid[1] * libm::pow(tau, 0.35)
            + c.h_liquid[2] * third * third
            + c.h_liquid[3] * tau
            + c.h_liquid[4] * tau * third
    }

    /// Heat needed to boil the liquid at `t_c`, kJ/kg, by the Clapeyron
    /// relation, within 1 %.
    pub fn latent_heat(self, t_c: f64) -> f64 {
        let volume = 1.0 / self.vapour_density(t_c) - 1.0 / self.liquid_density(t_c);
        kelvin(t_c) * volume * self.saturation_slope_kpa_k(t_c)
    }

    /// Enthalpy of vapour boiled at `boil_c` and warmed by `superheat_k`, kJ/kg.
    /// The vapour's heat capacity is that of the saturation line, fitted up to
    /// 40 °C: made for suction gas with modest superheat.
    pub fn vapour_enthalpy(self, boil_c: f64, superheat_k: f64) -> f64 {
        self.liquid_enthalpy(boil_c)
            + self.latent_heat(boil_c)
            + superheat_k * self.vapour_heat_kj_kg_k(boil_c)
    }

    /// Isobaric heat capacity of saturated vapour, kJ/(kg K), up to 40 °C.
    pub fn vapour_heat_kj_kg_k(self, t_c: f64) -> f64 {
        let t = (kelvin(t_c) - ZERO_C_K).at_most(40.0);
        cubic(&self.curves().cp_vapour, t)
    }

    /// Work of an ideal (isentropic) compressor on suction gas boiled at `boil_c`,
    /// kJ/kg, through pressure `ratio`; `suction_kpa` absolute, `gas_density` in
    /// kg/m³. Within 1.5 % of the reference from 6 K of superheat.
    ///
    /// The polytropic work `p v (r^e - 1) / e`, written out in `L = ln r` so that
    /// nothing is singular where `e` passes zero, as it does for R-1234yf.
    pub fn ideal_work_kj_kg(
        self,
        boil_c: f64,
        suction_kpa: f64,
        gas_density: f64,
        ratio: f64,
    ) -> f64 {
        let log = libm::log(ratio.at_least(1.0));
        let [e0, e1, e2] = self.curves().work;
        let el = (e0 + e1 * boil_c + e2 * log) * log;
        suction_kpa / gas_density * log * (1.0 + el / 2.0 * (1.0 + el / 3.0))
    }

    /// Pressure of vapour of `density` kg/m³ at `t_c`, within 1 %. Above the dew
    /// density the surplus condenses and the saturation pressure stands.
    ///
    /// Virial equation to the third density term. The last coefficient is taken
    /// from the dew point itself, so that the pressure has no step where the
    /// first liquid appears.
    pub fn vapour_pressure(self, t_c: f64, density: f64) -> AbsoluteKpa {
        let dew = self.vapour_density(t_c);
        let saturation = self.saturation_pressure(t_c).0;
        if density >= dew {
            return AbsoluteKpa(saturation);
        }
        let rho = density.at_least(0.0);
        let c = self.curves();
        let t_k = kelvin(t_c);
        let x = c.tc_k / t_k;
        let (b, cc) = (cubic(&c.b, x), cubic(&c.c, x));
        let ideal = c.gas_kj_kg_k * t_k;
        let z_dew = saturation / (dew * ideal);
        let d = (z_dew - 1.0 - dew * (b + dew * cc)) / (dew * dew * dew);
        AbsoluteKpa(rho * ideal * (1.0 + rho * (b + rho * (cc + rho * d))))
    }

    /// Density of vapour at `t_c` and `pressure`, kg/m³; at or above saturation
    /// the dew density.
    pub fn vapour_density_at(self, t_c: f64, pressure: AbsoluteKpa) -> f64 {
        let (mut low, mut high) = (0.0, self.vapour_density(t_c));
        if pressure >= self.saturation_pressure(t_c) {
            return high;
        }
        // Pressure rises with density along the whole vapour line, so halving is
        // enough; 40 halvings leave a part in 10^12.
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if self.vapour_pressure(t_c, middle).0 < pressure.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }
}
