#!/usr/bin/env python3
"""Random networks and their operating points as ngspice finds them.

Writes, beside itself:
  netlists/NAME.cir   a netlist a network, which `ngspice -b` runs as it stands
  expected.json       the networks, ngspice's node voltages, and its version

Needs Python 3.9 and ngspice (Debian: apt-get install ngspice). The same seed gives the same networks:

  python3 tests/reference/ngspice/generate.py

The lamp is written for ngspice from its physical balance, with a node whose voltage stands for temperature;
nothing of the solver's own algebra is in it. The motor is written as current over voltage.
"""

import json
import math
import os
import random
import re
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
SEED = 20240611
LINEAR = 110
CURVED = 90
MOST_ELEMENTS = 300

# ngspice 39 takes 27 degrees Celsius and these constants (its manual: TNOM; CODATA 2014).
THERMAL_V = 1.38064852e-23 * 300.15 / 1.6021766208e-19
COLD_K = 293.15


def digits(value):
    """Six digits, so that JSON and netlist hold the same number."""
    return float(f"{value:.6g}")


class Draw(random.Random):
    def decades(self, low, high):
        return digits(low * (high / low) ** self.random())

    def between(self, low, high):
        return digits(self.uniform(low, high))


def resistor(draw):
    return ["R", draw.decades(1e-3, 1e6)]


def source(draw):
    return ["V", draw.between(-15, 15), draw.decades(5e-3, 50)]


def curved(draw):
    kind = draw.randrange(5)
    if kind < 2:
        return ["D", draw.decades(1e-14, 1e-8), draw.between(0.026, 0.052), draw.decades(0.01, 1)]
    if kind < 4:
        return ["F", 12.0, draw.decades(0.05, 5), draw.between(0.06, 0.15)]
    return ["M", draw.decades(0.1, 2), draw.between(0.015, 0.05), draw.decades(5e-7, 1e-5)]


def network(draw, elements, with_curved):
    """Every node hangs on ground by resistors, as ngspice demands; the rest lies anywhere."""
    nodes = max(2, min(elements * 2 // 3, int(elements * draw.uniform(0.35, 0.7))))
    rows = []
    for node in range(1, nodes + 1):
        # Near relations, so that the networks are long like a harness and not a ball.
        other = draw.randrange(max(0, node - 6), node)
        ends = [node, other] if draw.random() < 0.5 else [other, node]
        rows.append(resistor(draw)[:1] + ends + resistor(draw)[1:])
    while len(rows) < elements:
        a, b = draw.sample(range(nodes + 1), 2)
        dice = draw.random()
        if with_curved and dice < 0.35:
            part = curved(draw)
        elif dice < 0.5:
            part = source(draw)
        else:
            part = resistor(draw)
        rows.append(part[:1] + [a, b] + part[1:])
    return nodes, rows


def netlist(name, nodes, rows):
    lines = [f"* {name}: written by generate.py"]
    lines.append(".options reltol=1e-10 abstol=1e-15 vntol=1e-13 gmin=1e-12 itl1=2000")
    hints = []
    for index, (kind, a, b, *values) in enumerate(rows):
        if kind == "R":
            lines.append(f"R{index} {a} {b} {values[0]!r}")
        elif kind == "V":
            emf, ohms = values
            lines.append(f"V{index} x{index} {b} {emf!r}")
            lines.append(f"R{index} {a} x{index} {ohms!r}")
        elif kind == "D":
            saturation, slope, ohms = values
            lines.append(f".model d{index} D(IS={saturation!r} N={slope / THERMAL_V:.12g} RS={ohms!r})")
            lines.append(f"D{index} {a} {b} d{index}")
        elif kind == "F":
            volts, amps, cold = values
            # Node t: temperature in 1000 K. R = Rh (T/Th)^1.2; radiated P = Ph (T^4 - Tc^4) / (Th^4 - Tc^4).
            tc = COLD_K / 1000
            th = tc * cold ** (-1 / 1.2)
            ohms = f"{volts / amps:.15g}*pow(V(t{index})/{th:.15g},1.2)"
            watts = f"{volts * amps / (th**4 - tc**4):.15g}"
            lines.append(f"B{index} {a} {b} I=V({a},{b})/({ohms})")
            lines.append(f"Bh{index} 0 t{index} I=V({a},{b})*V({a},{b})/({ohms})")
            lines.append(f"Br{index} t{index} 0 I={watts}*(pow(V(t{index}),4)-{tc**4:.15g})")
            hints.append(f"V(t{index})={th * 0.7:.4f}")
        elif kind == "M":
            ohms, k, c = values
            # V = I R + k w; k (I - If) = c w |w|, If R = 0.2 V (friction): with y the root of I - If,
            # R y^2 + B y = V - If R. Standing, the winding's resistance is left.
            root = k * (k / c) ** 0.5
            over = f"(abs(V({a},{b}))-0.2)"
            y = f"(2*{over}/({root:.15g}+sqrt({root * root:.15g}+{4 * ohms:.15g}*{over})))"
            lines.append(
                f"B{index} {a} {b} I=abs(V({a},{b}))<0.2 ? V({a},{b})/{ohms!r} : "
                f"sgn(V({a},{b}))*({0.2 / ohms:.15g}+{y}*{y})"
            )
            lines.append(f"Rm{index} {a} {b} 1e9")
    if hints:
        lines.append(".nodeset " + " ".join(hints))
    lines.append(".control")
    lines.append("op")
    lines.append("set numdgt=15")
    for node in range(1, nodes + 1):
        lines.append(f"print v({node})")
    lines.append(".endc")
    lines.append(".end")
    return "\n".join(lines) + "\n"


def run(path, nodes):
    """Node voltages, or None where ngspice finds no operating point."""
    done = subprocess.run(["ngspice", "-b", path], capture_output=True, text=True, timeout=120)
    found = dict(re.findall(r"^v\((\d+)\) = (\S+)$", done.stdout, re.M))
    if len(found) != nodes or "failed" in (done.stdout + done.stderr).lower():
        return None
    volts = [float(found[str(node)]) for node in range(1, nodes + 1)]
    return volts if all(map(math.isfinite, volts)) else None


def version():
    text = subprocess.run(["ngspice", "--version"], capture_output=True, text=True).stdout
    return re.search(r"ngspice-\S+", text).group(0)


def main():
    folder = os.path.join(HERE, "netlists")
    os.makedirs(folder, exist_ok=True)
    for old in os.listdir(folder):
        os.remove(os.path.join(folder, old))
    draw = Draw(SEED)
    networks = []
    refused = 0
    for kind, count in (("linear", LINEAR), ("curved", CURVED)):
        made = 0
        while made < count:
            # Few large ones, so that the files stay small; the first are the largest.
            elements = MOST_ELEMENTS - 10 * made if made < 8 else int(5 * (MOST_ELEMENTS / 10) ** draw.random())
            nodes, rows = network(draw, elements, kind == "curved")
            name = f"{kind}-{made:03}"
            path = os.path.join(folder, f"{name}.cir")
            with open(path, "w", encoding="utf-8") as file:
                file.write(netlist(name, nodes, rows))
            volts = run(path, nodes)
            if volts is None:
                refused += 1
                continue
            networks.append({"name": name, "nodes": nodes, "elements": rows, "volts": volts})
            made += 1
    head = json.dumps({"ngspice": version(), "refused_by_ngspice": refused})[:-1]
    body = ",\n".join(json.dumps(one, separators=(",", ":")) for one in networks)
    with open(os.path.join(HERE, "expected.json"), "w", encoding="utf-8") as file:
        file.write(f'{head}, "networks": [\n{body}\n]}}\n')
    print(f"{len(networks)} networks, {refused} drawn again since ngspice found no point", file=sys.stderr)


if __name__ == "__main__":
    main()
