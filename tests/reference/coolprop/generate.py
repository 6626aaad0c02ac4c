#!/usr/bin/env python3
"""Reference tables and fitted coefficients for the refrigerant curves.

Needs Python 3 with the packages CoolProp (the reference) and numpy.

    python3 generate.py              rewrite the tables and coefficients.rs
    python3 generate.py --saturation print the saturation table to stdout
                                     (the live comparison in the tests)

Reference equations of state behind CoolProp's numbers:
  R134a    Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23 (1994)
  R1234yf  Lemmon and Akasaka, Int. J. Thermophys. 43 (2022)

Forms fitted here, with tau = 1 - T/Tc (all are linear in their coefficients):
  pressure        Wagner:   ln(p/pc)   = (Tc/T) * sum a_i tau^{1, 1.5, 2.5, 5}
  liquid density  DIPPR 116: rho       = rhoc + sum b_i tau^{0.35, 2/3, 1, 4/3}
  vapour density  auxiliary: ln(rho/rhoc) = sum c_i tau^{1/3, 2/3, 1, 7/3, 14/3}
  liquid enthalpy DIPPR 116 powers: h   = d_0 + sum d_i tau^{0.35, 2/3, 1, 4/3}
  saturated vapour isobaric heat: cubic in degC
  virial          Z = 1 + B rho + C rho^2 + D rho^3; B, C = quadratics in Tc/T;
                  D is fixed by the saturation curve at run time, so that the
                  vapour line meets the two-phase line with no step
  ideal work      w = p v L (1 + e L/2 (1 + e L/3)), L = ln(pressure ratio): the
                  polytropic work p v (r^e - 1)/e written out, which has no
                  singular point at e = 0; e = linear in boiling degC and L
"""
import json
import sys
from pathlib import Path

import CoolProp
import CoolProp.CoolProp as CP
import numpy as np

HERE = Path(__file__).resolve().parent
RUST = HERE.parents[2] / "src/core/src/refrigerant/coefficients.rs"
FLUIDS = [("R134a", "R134A"), ("R1234yf", "R1234YF")]
ZERO_C = 273.15
FIT_LOW_C, FIT_HIGH_C = -45.0, 90.0


def reference_state():
    for fluid, _ in FLUIDS:
        CP.set_reference_state(fluid, "IIR")


def saturated(fluid, t_c):
    t = t_c + ZERO_C
    get = lambda key, q: CP.PropsSI(key, "T", t, "Q", q, fluid)
    return dict(
        p_kpa=get("P", 0) / 1e3,
        liquid=get("D", 0),
        vapour=get("D", 1),
        h_liquid=get("H", 0) / 1e3,
        h_vapour=get("H", 1) / 1e3,
        cp_vapour=get("C", 1) / 1e3,
    )


def solve(columns, target, weight=None):
    matrix = np.stack(columns, axis=1)
    if weight is not None:
        matrix, target = matrix * weight[:, None], target * weight
    return np.linalg.lstsq(matrix, target, rcond=None)[0]


def fit(fluid):
    tc, pc, rhoc = (CP.PropsSI(k, fluid) for k in ("Tcrit", "Pcrit", "rhocrit"))
    molar = CP.PropsSI("M", fluid)
    gas = CP.PropsSI("GAS_CONSTANT", fluid) / molar / 1e3  # kJ/(kg K)
    t_c = np.arange(FIT_LOW_C, FIT_HIGH_C + 0.01, 1.0)
    rows = [saturated(fluid, float(t)) for t in t_c]
    col = lambda key: np.array([row[key] for row in rows])
    t = t_c + ZERO_C
    tau = 1 - t / tc
    out = dict(tc_k=tc, pc_kpa=pc / 1e3, rhoc=rhoc, gas_kj_kg_k=gas)
    out["pressure"] = solve([tc / t * tau**e for e in (1, 1.5, 2.5, 5)], np.log(col("p_kpa") * 1e3 / pc))
    liquid = col("liquid")
    powers = (0.35, 2 / 3, 1, 4 / 3)
    out["liquid"] = solve([tau**e for e in powers], liquid - rhoc, 1 / liquid)
    out["vapour"] = solve([tau**e for e in (1 / 3, 2 / 3, 1, 7 / 3, 14 / 3)], np.log(col("vapour") / rhoc))
    out["h_liquid"] = solve([tau**0.0] + [tau**e for e in powers], col("h_liquid"))
    cool = t_c <= 40  # suction gas is never warmer
    out["cp_vapour"] = solve([t_c[cool] ** k for k in range(4)], col("cp_vapour")[cool])
    # Superheated vapour: Z from nearly nothing up to the saturation density.
    x, z, d = [], [], []
    for tt in np.arange(-45.0, 90.1, 2.5):
        kelvin = tt + ZERO_C
        dew = saturated(fluid, float(tt))["vapour"]
        for share in np.linspace(0.02, 0.995, 24):
            rho = share * dew
            p = CP.PropsSI("P", "T", kelvin, "D", rho, fluid) / 1e3
            x.append(tc / kelvin)
            d.append(rho)
            z.append((p / (rho * gas * kelvin), dew, saturated(fluid, float(tt))["p_kpa"] / (dew * gas * kelvin)))
    x, d = np.array(x), np.array(d)
    z, dew, zdew = (np.array(v) for v in zip(*z))
    # Z-1 = B rho + C rho^2 + D rho^3 with D = (zdew-1 - B dew - C dew^2)/dew^3:
    s3 = (d / dew) ** 3
    fb, fc = d - s3 * dew, d**2 - s3 * dew**2
    both = solve(
        [fb * x**k for k in range(4)] + [fc * x**k for k in range(4)],
        z - 1 - s3 * (zdew - 1),
        1 / z,
    )
    out["b"], out["c"] = both[:4], both[4:]
    out["work"] = fit_work(fluid)
    return out


def fit_work(fluid):
    """Isentropic compression of suction gas with 6 K of superheat."""
    boil, logs, exponents = [], [], []
    for te in range(-30, 21, 5):
        for tcond in range(max(te + 10, 15), 81, 5):
            h1, rho1, h2s, _ = corners(fluid, te, tcond)
            p1, p2 = (saturated(fluid, float(t))["p_kpa"] for t in (te, tcond))
            L = np.log(p2 / p1)
            # w rho / (p L) - 1 = e L/2 + (e L)^2/6, solved for e L
            excess = (h2s - h1) * rho1 / (p1 * L) - 1
            el = (-0.5 + np.sqrt(0.25 + 4 / 6 * excess)) / (2 / 6)
            boil.append(te)
            logs.append(L)
            exponents.append(el / L)
    boil, logs = np.array(boil, float), np.array(logs)
    return solve([boil**0, boil, logs], np.array(exponents))


def write_rust(fits):
    lines = [
        "//! Fitted coefficients of the refrigerant curves. Generated: do not edit.",
        "//!",
        "//! Written by `tests/reference/coolprop/generate.py`, which names the equation",
        f"//! forms and their sources. Reference: CoolProp {CoolProp.__version__}.",
        "#![allow(clippy::excessive_precision, clippy::unreadable_literal)]",
        "",
        "use super::saturation::Curves;",
        "",
    ]
    for (fluid, rust) in FLUIDS:
        f = fits[fluid]
        lines.append(f"/// Curves of {fluid}.")
        lines.append(f"pub(super) const {rust}: Curves = Curves {{")
        for key, value in f.items():
            if np.ndim(value):
                lines.append(f"    {key}: [" + ", ".join(f"{v:.12e}" for v in value) + "],")
            else:
                lines.append(f"    {key}: {float(value)!r},")
        lines.append("};")
        lines.append("")
    RUST.write_text("\n".join(lines[:-1]) + "\n")


def saturation_lines():
    yield "fluid,t_c,p_kpa,liquid_kg_m3,vapour_kg_m3,h_liquid_kj_kg,h_vapour_kj_kg"
    for fluid, _ in FLUIDS:
        for t in range(-30, 81):
            s = saturated(fluid, float(t))
            yield f"{fluid},{t},{s['p_kpa']:.6f},{s['liquid']:.6f},{s['vapour']:.6f},{s['h_liquid']:.5f},{s['h_vapour']:.5f}"


def vapour_lines():
    yield "fluid,t_c,density_kg_m3,p_kpa"
    for fluid, _ in FLUIDS:
        for t in range(-30, 81, 10):
            dew = saturated(fluid, float(t))["vapour"]
            for share in (0.03, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.97):
                rho = round(share * dew, 5)
                p = CP.PropsSI("P", "T", t + ZERO_C, "D", rho, fluid) / 1e3
                yield f"{fluid},{t},{rho:.5f},{p:.6f}"


def corners(fluid, te, tcond):
    """h1, rho1, h2s, h3 of a cycle with superheat 6 K and subcooling 5 K."""
    p1, p2 = (saturated(fluid, float(t))["p_kpa"] * 1e3 for t in (te, tcond))
    t1 = te + 6 + ZERO_C
    h1, rho1, s1 = (CP.PropsSI(k, "T", t1, "P", p1, fluid) for k in ("H", "D", "S"))
    h2 = CP.PropsSI("H", "P", p2, "S", s1, fluid)
    h3 = CP.PropsSI("H", "T", tcond - 5 + ZERO_C, "P", p2, fluid)
    return h1 / 1e3, rho1, h2 / 1e3, h3 / 1e3


def cycle_lines():
    yield "fluid,boil_c,condense_c,h1_kj_kg,rho1_kg_m3,h2s_kj_kg,h3_kj_kg"
    for fluid, _ in FLUIDS:
        for te in (-20, -10, 0, 10):
            for tcond in (35, 45, 55, 65):
                values = corners(fluid, te, tcond)
                yield f"{fluid},{te},{tcond}," + ",".join(f"{v:.5f}" for v in values)


def main():
    reference_state()
    if "--saturation" in sys.argv:
        print("\n".join(saturation_lines()))
        return
    for name, lines in (("saturation", saturation_lines()), ("vapour", vapour_lines()), ("cycle", cycle_lines())):
        (HERE / f"{name}.csv").write_text("\n".join(lines) + "\n")
    fits = {fluid: fit(fluid) for fluid, _ in FLUIDS}
    write_rust(fits)
    meta = dict(
        coolprop=CoolProp.__version__,
        numpy=np.__version__,
        reference_state="IIR: liquid at 0 degC has h = 200 kJ/kg, s = 1 kJ/(kg K)",
        equations_of_state={f: CP.get_BibTeXKey(f, "EOS") for f, _ in FLUIDS},
        fit_range_c=[FIT_LOW_C, FIT_HIGH_C],
        table_range_c=[-30, 80],
    )
    (HERE / "versions.json").write_text(json.dumps(meta, indent=2) + "\n")


if __name__ == "__main__":
    main()
