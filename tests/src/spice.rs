//! Cars as ngspice netlists: the network of a session as it stands, tools included, written so that
//! `ngspice -b` finds the same operating point by its own means.
//!
//! Lamps are written from their physical balance, with a node whose voltage stands for temperature;
//! nothing of the solver's own algebra is in them. Motors are written as current over voltage. Contacts stand as they
//! are: a closed one is its resistance, an open one is left out.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde::{Deserialize, Serialize};
use tracebay_core::circuit::{
    Element, ElementId, MOTOR_STANDS_V, Network, NodeId, Solution, Solver, State,
};
use tracebay_core::session::Session;

/// Share of its voltage and volts by which a node may deviate: networks with curved parts.
pub const CURVED_SHARE: f64 = 1e-4;
/// See [`CURVED_SHARE`]. A tenth of the smallest digit of the meter.
pub const CURVED_FLOOR_V: f64 = 1e-5;

/// What ties a part of the network that floats to ground for ngspice, ohms. It carries nothing.
const TIE_OHMS: f64 = 1e9;
/// Slope of what limits its current beyond the limit, siemens (see the solver's `Element`).
const LIMIT_SLOPE_S: f64 = 1e-7;
/// ngspice 39 takes 27 °C and these constants (its manual: TNOM; CODATA 2014).
const THERMAL_V: f64 = 1.380_648_52e-23 * 300.15 / 1.602_176_620_8e-19;
const COLD_K: f64 = 293.15;

/// A row of a network: kind letter, ends, values. Nodes are numbered from 1; 0 is ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row(pub char, pub u32, pub u32, pub Vec<f64>);

/// A network with the voltages that ngspice found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CarNetwork {
    /// Vehicle, state and tool.
    pub name: String,
    /// Nodes, ground not counted.
    pub nodes: u32,
    /// Elements.
    pub rows: Vec<Row>,
    /// Volts by node from 1.
    pub volts: Vec<f64>,
}

/// The committed file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reference {
    /// Version that found the voltages.
    pub ngspice: String,
    /// Networks.
    pub networks: Vec<CarNetwork>,
}

/// Where the committed file and netlists are.
pub fn folder() -> PathBuf {
    crate::top().join("tests/reference/ngspice/cars")
}

/// The network of a session with its tools, as rows; floating parts are tied.
pub fn rows(session: &Session) -> (u32, Vec<Row>) {
    let (nodes, mut rows) = rows_of(session.network(), session.solution());
    for tool in session.attached() {
        rows.extend(row(tool.a, tool.b, &tool.element, false));
    }
    tie(nodes, &mut rows, session.solution());
    (nodes, rows)
}

/// The number of a network's nodes and its elements as rows, with the contacts as the solution has them.
pub fn rows_of(net: &Network, solution: &Solution) -> (u32, Vec<Row>) {
    let mut rows = Vec::new();
    for index in 0..net.element_count() {
        let id = ElementId(index as u32);
        let (a, b) = net.ends(id);
        let closed = solution.contact_closed(id);
        rows.extend(row(a, b, net.element(id), closed));
    }
    (net.node_count() as u32 - 1, rows)
}

/// Ties one node of each floating part to ground.
fn tie(nodes: u32, rows: &mut Vec<Row>, solution: &Solution) {
    let mut tied: Vec<NodeId> = Vec::new();
    for node in (1..=nodes).map(NodeId) {
        let floats = solution.voltage(node).is_none();
        let known = tied
            .iter()
            .any(|other| solution.difference(*other, node).is_some());
        if floats && !known {
            tied.push(node);
            rows.push(Row('R', node.0, 0, vec![TIE_OHMS]));
        }
    }
}

fn row(a: NodeId, b: NodeId, element: &Element, closed: bool) -> Option<Row> {
    let (kind, values) = match *element {
        Element::Open => return None,
        Element::Contact { ohms, .. } => {
            if !closed {
                return None;
            }
            ('R', vec![ohms])
        }
        Element::Resistor { ohms } => ('R', vec![ohms]),
        Element::Source { emf_v, ohms } => ('V', vec![emf_v, ohms]),
        Element::LimitedSource {
            emf_v,
            ohms,
            limit_a,
        } => ('S', vec![emf_v, ohms, limit_a]),
        Element::Filament {
            rated_v,
            rated_a,
            cold_fraction,
        } => ('F', vec![rated_v, rated_a, cold_fraction]),
        Element::Diode {
            saturation_a,
            slope_v,
            ohms,
        } => ('D', vec![saturation_a, slope_v, ohms]),
        Element::FanMotor {
            ohms,
            volts_per_rad_s,
            load_nms2,
        } => ('M', vec![ohms, volts_per_rad_s, load_nms2]),
        Element::Limiter { on_ohms, limit_a } => ('L', vec![on_ohms, limit_a]),
    };
    Some(Row(kind, a.0, b.0, values))
}

/// The solver's voltages for a network given as rows.
pub fn solved(nodes: u32, rows: &[Row]) -> Vec<f64> {
    let mut net = Network::new();
    for node in 1..=nodes {
        net.node(&node.to_string());
    }
    for Row(kind, a, b, values) in rows {
        let element = match (kind, values.as_slice()) {
            ('R', &[ohms]) => Element::Resistor { ohms },
            ('V', &[emf_v, ohms]) => Element::Source { emf_v, ohms },
            ('S', &[emf_v, ohms, limit_a]) => Element::LimitedSource {
                emf_v,
                ohms,
                limit_a,
            },
            ('F', &[rated_v, rated_a, cold_fraction]) => Element::Filament {
                rated_v,
                rated_a,
                cold_fraction,
            },
            ('D', &[saturation_a, slope_v, ohms]) => Element::Diode {
                saturation_a,
                slope_v,
                ohms,
            },
            ('M', &[ohms, volts_per_rad_s, load_nms2]) => Element::FanMotor {
                ohms,
                volts_per_rad_s,
                load_nms2,
            },
            ('L', &[on_ohms, limit_a]) => Element::Limiter { on_ohms, limit_a },
            _ => panic!("{kind} with {} values", values.len()),
        };
        net.add(&kind.to_string(), NodeId(*a), NodeId(*b), element);
    }
    let solution = Solver::new(&net)
        .solve(&net, &[], &mut State::rest(&net))
        .unwrap_or_else(|error| panic!("{error}"));
    (1..=nodes)
        .map(|node| {
            solution
                .voltage(NodeId(node))
                .expect("every part is tied to ground")
        })
        .collect()
}

/// The network as ngspice reads it. The hints only say where its search begins: warm lamps.
pub fn netlist(name: &str, nodes: u32, rows: &[Row], effort: Effort) -> String {
    let Effort {
        options,
        hints: hinted,
    } = effort;
    let mut text = format!("* {name}: an invented car, written by the example car_netlists\n");
    let _ = writeln!(text, ".options {options} gmin=1e-12 itl1=4000");
    let mut hints = String::new();
    for (i, Row(kind, a, b, v)) in rows.iter().enumerate() {
        let add = |text: &mut String, line: String| {
            text.push_str(&line);
            text.push('\n');
        };
        match kind {
            'R' => add(&mut text, format!("R{i} {a} {b} {:e}", v[0])),
            'V' => {
                add(&mut text, format!("V{i} x{i} {b} {:e}", v[0]));
                add(&mut text, format!("R{i} {a} x{i} {:e}", v[1]));
            }
            'D' => {
                let n = v[1] / THERMAL_V;
                let model = format!(".model d{i} D(IS={:e} N={n:.15} RS={:e})", v[0], v[2]);
                add(&mut text, model);
                add(&mut text, format!("D{i} {a} {b} d{i}"));
            }
            'F' => {
                // Node t: temperature in 1000 K. R = Rh (T/Th)^1.2; P = Ph (T^4 - Tc^4) / (Th^4 - Tc^4).
                let (volts, amps, cold) = (v[0], v[1], v[2]);
                let tc = COLD_K / 1000.0;
                let th = tc * cold.powf(-1.0 / 1.2);
                let ohms = format!("({:e}*pow(V(t{i})/{th:.15},1.2))", volts / amps);
                let watts = volts * amps / (th.powi(4) - tc.powi(4));
                let four = tc.powi(4);
                add(&mut text, format!("B{i} {a} {b} I=V({a},{b})/{ohms}"));
                add(
                    &mut text,
                    format!("Bh{i} 0 t{i} I=V({a},{b})*V({a},{b})/{ohms}"),
                );
                add(
                    &mut text,
                    format!("Br{i} t{i} 0 I={watts:e}*(pow(V(t{i}),4)-{four:.15})"),
                );
                let _ = write!(hints, " V(t{i})={:.4}", th * 0.7);
            }
            'M' => {
                // V = I R + k w; k (I - If) = c w |w|: with y the root of I - If, R y² + B y = V - If R.
                let (ohms, k, c) = (v[0], v[1], v[2]);
                let (root, stands) = (k * (k / c).sqrt(), MOTOR_STANDS_V);
                let over = format!("(abs(V({a},{b}))-{stands})");
                let square = root * root;
                let y = format!(
                    "(2*{over}/({root:e}+sqrt({square:e}+{:e}*{over})))",
                    4.0 * ohms
                );
                add(
                    &mut text,
                    format!(
                        "B{i} {a} {b} I=abs(V({a},{b}))<{stands} ? V({a},{b})/{ohms:e} : \
                         sgn(V({a},{b}))*({:e}+{y}*{y})",
                        stands / ohms
                    ),
                );
                // The leakage that the solver's motor has beside it.
                add(&mut text, format!("Rm{i} {a} {b} 1e9"));
            }
            'L' => {
                let (ohms, most) = (v[0], v[1]);
                let (knee, s) = (most * ohms, LIMIT_SLOPE_S);
                add(
                    &mut text,
                    format!(
                        "B{i} {a} {b} I=V({a},{b})>{knee:e} ? {most:e}+(V({a},{b})-{knee:e})*{s:e} : \
                         (V({a},{b})<-{knee:e} ? -{most:e}+(V({a},{b})+{knee:e})*{s:e} : V({a},{b})/{ohms:e})"
                    ),
                );
            }
            'S' => {
                let (emf, ohms, most) = (v[0], v[1], v[2]);
                let (low, s) = (emf - most * ohms, LIMIT_SLOPE_S);
                add(
                    &mut text,
                    format!(
                        "B{i} {a} {b} I=V({a},{b})>{emf:e} ? (V({a},{b})-{emf:e})*{s:e} : \
                         (V({a},{b})<{low:e} ? (V({a},{b})-{low:e})*{s:e}-{most:e} : (V({a},{b})-{emf:e})/{ohms:e})"
                    ),
                );
            }
            other => panic!("no such kind of row: {other}"),
        }
    }
    if hinted && !hints.is_empty() {
        let _ = writeln!(text, ".nodeset{hints}");
    }
    text += ".control\nop\nset numdgt=15\n";
    for node in 1..=nodes {
        let _ = writeln!(text, "print v({node})");
    }
    text + ".endc\n.end\n"
}

/// How ngspice is asked: how closely it must search, and whether it is told where to begin.
#[derive(Copy, Clone, Debug, PartialEq)]
pub struct Effort {
    options: &'static str,
    hints: bool,
}

const CLOSELY: &str = "reltol=1e-7 abstol=1e-11 vntol=1e-9";
const LESS_CLOSELY: &str = "reltol=1e-6 abstol=1e-11 vntol=1e-8";

/// Tried in this order until ngspice finds a point: its search fails on some of these networks for
/// one choice and succeeds for the next.
pub const EFFORTS: [Effort; 4] = [
    Effort {
        options: CLOSELY,
        hints: true,
    },
    Effort {
        options: CLOSELY,
        hints: false,
    },
    Effort {
        options: LESS_CLOSELY,
        hints: true,
    },
    Effort {
        options: LESS_CLOSELY,
        hints: false,
    },
];

/// Writes the netlist and runs it, with more patience until ngspice finds a point.
///
/// # Errors
/// What ngspice said to the last try.
pub fn find(name: &str, nodes: u32, rows: &[Row], folder: &Path) -> Result<Vec<f64>, String> {
    let path = folder.join(format!("{name}.cir"));
    let mut said = String::new();
    for effort in EFFORTS {
        std::fs::write(&path, netlist(name, nodes, rows, effort)).map_err(|e| e.to_string())?;
        match run(&path, nodes) {
            Ok(volts) => return Ok(volts),
            Err(words) => said = words,
        }
    }
    Err(said)
}

/// ngspice's version, if it is installed.
pub fn version() -> Option<String> {
    let said = Command::new("ngspice").arg("--version").output().ok()?;
    String::from_utf8_lossy(&said.stdout)
        .split_whitespace()
        .find(|word| word.starts_with("ngspice-"))
        .map(str::to_owned)
}

/// Volts by node from 1 as ngspice finds them, or what it said.
///
/// # Errors
/// It found no operating point; its words.
fn run(netlist: &Path, nodes: u32) -> Result<Vec<f64>, String> {
    let done = Command::new("ngspice")
        .arg("-b")
        .arg(netlist)
        .output()
        .map_err(|e| e.to_string())?;
    let text = String::from_utf8_lossy(&done.stdout);
    let mut volts = vec![f64::NAN; nodes as usize];
    for line in text.lines() {
        // v(12) = 1.234e+00
        let Some((name, value)) = line.split_once(" = ") else {
            continue;
        };
        let node = name
            .strip_prefix("v(")
            .and_then(|rest| rest.strip_suffix(')'))
            .and_then(|n| n.parse::<usize>().ok());
        if let (Some(node), Ok(value)) = (node, value.trim().parse()) {
            volts[node - 1] = value;
        }
    }
    if volts.iter().all(|v| v.is_finite()) {
        Ok(volts)
    } else {
        let said = format!("{text}{}", String::from_utf8_lossy(&done.stderr));
        Err(said
            .lines()
            .filter(|l| !l.starts_with("v("))
            .take(20)
            .collect::<Vec<_>>()
            .join("\n"))
    }
}

/// How far the voltages of one or more networks are from ngspice's.
#[derive(Copy, Clone, Debug, Default, PartialEq)]
pub struct Deviation {
    /// Nodes compared.
    pub nodes: usize,
    /// Largest, as a share of what is allowed.
    pub of_allowed: f64,
    /// Largest, as a share of the voltage, at nodes of a tenth of a volt and more.
    pub of_voltage: f64,
    /// Nodes that hang on leakage alone and deviate: judged by [`FAINT_SHARE`].
    pub faint: usize,
    /// Largest of those, as a share of the voltage.
    pub of_faint: f64,
}

impl Deviation {
    /// The larger of both.
    pub fn and(self, other: Deviation) -> Deviation {
        Deviation {
            nodes: self.nodes + other.nodes,
            of_allowed: self.of_allowed.max(other.of_allowed),
            of_voltage: self.of_voltage.max(other.of_voltage),
            faint: self.faint + other.faint,
            of_faint: self.of_faint.max(other.of_faint),
        }
    }
}

/// A node that a meter of 10 megohms pulls down by more than a hundredth hangs on leakage alone:
/// nanoamperes, at which ngspice stops searching and for which it bends a blocked junction's law.
/// Such nodes are held to this share.
pub const FAINT_SHARE: f64 = 2e-2;
/// See [`FAINT_SHARE`].
pub const FAINT_FLOOR_V: f64 = 1e-3;

/// See [`FAINT_SHARE`].
fn hangs_on_leakage(at: usize, rows: &[Row], volts: &f64, nodes: usize) -> bool {
    let mut metered = rows.to_vec();
    metered.push(Row('R', at as u32 + 1, 0, vec![1e7]));
    let with_meter = solved(nodes as u32, &metered)[at];
    (with_meter - volts).abs() > 0.01 * volts.abs()
}

/// Compares voltages with ngspice's.
///
/// # Panics
/// A node deviates by more than is allowed.
pub fn compare(name: &str, rows: &[Row], found: &[f64], expected: &[f64]) -> Deviation {
    assert_eq!(found.len(), expected.len(), "{name}");
    let mut worst = Deviation {
        nodes: found.len(),
        ..Deviation::default()
    };
    for (at, (found, expected)) in found.iter().zip(expected).enumerate() {
        let off = (found - expected).abs();
        let share = off / (CURVED_SHARE * expected.abs() + CURVED_FLOOR_V);
        let told = || format!("{name} node {}: {found} V, ngspice {expected} V", at + 1);
        // Where all is well nothing more needs to be asked.
        if share > 0.01 && hangs_on_leakage(at, rows, found, worst.nodes) {
            let allowed = FAINT_SHARE * expected.abs() + FAINT_FLOOR_V;
            assert!(off <= allowed, "{}, on leakage alone", told());
            worst.faint += 1;
            worst.of_faint = worst.of_faint.max(off / expected.abs().max(0.1));
            continue;
        }
        assert!(share <= 1.0, "{}", told());
        worst.of_allowed = worst.of_allowed.max(share);
        if expected.abs() >= 0.1 {
            worst.of_voltage = worst.of_voltage.max(off / expected.abs());
        }
    }
    worst
}

/// Every shipped vehicle in several states, each as it is and with a tool on it.
pub fn shipped() -> Vec<(String, Session)> {
    use std::sync::Arc;
    use tracebay_core::session::Action;
    use tracebay_core::tools::{Dial, Lead, ToolKind};
    let catalogue = crate::catalogue();
    let mut cars = Vec::new();
    // Three complaints of each vehicle, three states of each, spread over the files, each state under
    // another fault.
    let spread = |of: usize| -> Vec<usize> {
        let mut at = vec![of / 6, of / 2, of * 5 / 6];
        at.dedup();
        at
    };
    let scenarios = catalogue.vehicles.keys().flat_map(|vehicle| {
        let of: Vec<_> = catalogue
            .scenarios
            .values()
            .filter(|s| s.vehicle == *vehicle)
            .collect();
        spread(of.len())
            .into_iter()
            .filter_map(move |at| of.get(at).copied())
    });
    for scenario in scenarios {
        for (turn, at) in spread(scenario.states.len()).into_iter().enumerate() {
            let state = &scenario.states[at];
            let case = catalogue.draw(&scenario.id, at as u64).expect("shipped");
            let candidate = (7 * at) % case.scenario.candidates.len();
            let case = case.with_candidate(candidate).with_sound_tools();
            let mut car = Session::new(Arc::new(case)).expect("an operating point");
            car.drive(&state.steps);
            let name = format!("{}-{}-{}", scenario.vehicle, scenario.id, state.id);
            cars.push((name.clone(), car.clone()));
            crate::open_up(&mut car);
            let tool = [ToolKind::TestLight, ToolKind::Meter, ToolKind::LedLight][turn];
            let _ = car.perform(&Action::Dial(Dial::Volts));
            let (clip, probe) = match tool {
                ToolKind::Meter => (Lead::Black, Lead::Red),
                _ => (Lead::Clip, Lead::Probe),
            };
            let minus = car
                .points()
                .iter()
                .find(|p| p.mark.as_deref() == Some("-"))
                .map(|p| p.id.clone())
                .expect("a battery has a minus post");
            let put = |lead, point: &str| Action::Put {
                tool,
                lead,
                point: point.to_owned(),
            };
            if car.perform(&put(clip, &minus)).is_err() {
                continue;
            }
            let touched = scenario
                .probes
                .iter()
                .cycle()
                .skip(5 * at)
                .take(scenario.probes.len())
                .find(|point| car.perform(&put(probe, point)).is_ok());
            if let Some(point) = touched {
                let tool = serde_json::to_string(&tool).unwrap_or_default();
                let tool = tool.trim_matches('"').replace('_', "-");
                let point = point.replace([':', '.'], "-");
                cars.push((format!("{name}-{tool}-at-{point}"), car));
            }
        }
    }
    cars
}
