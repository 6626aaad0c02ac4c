//! How fast the circuits and a whole car are, beside ngspice on the same network in the same run.
//!
//! `cargo run --release -p tracebay-tests --example speed` prints a table. Where ngspice is not
//! installed its lines are left out. Each time is the lowest of many short rounds: what the work takes
//! when nothing else wants the processor.

#[path = "../../src/core/tests/support/mod.rs"]
mod support;

use std::fs;
use std::process::Command;
use std::sync::Arc;
use std::time::Instant;

use support::{GROUND, vehicle};
use tracebay_core::circuit::{Attachment, Element, ElementId, NodeId, Solver, State};
use tracebay_core::scenario::Step;
use tracebay_core::session::{Action, Session};
use tracebay_core::tools::{Lead, ToolKind};
use tracebay_tests::spice;

/// Lowest time of `rounds` rounds of `times` runs, seconds a run.
fn lowest(rounds: u32, times: u32, mut run: impl FnMut()) -> f64 {
    (0..rounds)
        .map(|_| {
            let start = Instant::now();
            (0..times).for_each(|_| run());
            start.elapsed().as_secs_f64() / f64::from(times)
        })
        .fold(f64::INFINITY, f64::min)
}

/// Finds the operating point anew after a value changed: factor, solve, contacts settled.
fn full_solve(lamps: bool) -> f64 {
    let mut net = vehicle(lamps);
    let (mut solver, mut state) = (Solver::new(&net), State::rest(&net));
    let mut ohms = 0.012;
    lowest(300, 20, || {
        ohms = if ohms > 0.02 { 0.012 } else { ohms + 1e-6 };
        net.set(ElementId(0), Element::Source { emf_v: 12.6, ohms });
        solver.solve(&net, &[], &mut state).expect("solvable");
    })
}

/// From nothing: the order of elimination, the pattern, the contacts from rest, the point.
fn from_nothing(lamps: bool) -> f64 {
    let net = vehicle(lamps);
    lowest(100, 2, || {
        let (mut solver, mut state) = (Solver::new(&net), State::rest(&net));
        solver.solve(&net, &[], &mut state).expect("solvable");
    })
}

/// A tool taken from one node to the next.
fn tool_moved(lamps: bool, element: Element) -> f64 {
    let net = vehicle(lamps);
    let (mut solver, mut state) = (Solver::new(&net), State::rest(&net));
    let mut node = 0;
    lowest(200, 154, || {
        node = node % (net.node_count() as u32 - 1) + 1;
        let tool = Attachment {
            a: NodeId(node),
            b: GROUND,
            element,
        };
        solver.solve(&net, &[tool], &mut state).expect("solvable");
    })
}

/// Seconds for an operating point of the same network in ngspice: the difference between many and few in
/// one process, so that neither starting it nor reading the netlist counts. None if it is not installed.
fn ngspice(lamps: bool) -> Option<f64> {
    spice::version()?;
    let net = vehicle(lamps);
    let (mut solver, mut state) = (Solver::new(&net), State::rest(&net));
    let solution = solver.solve(&net, &[], &mut state).expect("solvable");
    let (nodes, rows) = spice::rows_of(&net, &solution);
    let text = spice::netlist("speed", nodes, &rows, spice::EFFORTS[0]);
    // At ngspice's own tolerances: those that the comparison of voltages asks for take it many times as long.
    let netlist: String = text
        .lines()
        .filter(|line| !line.starts_with("print") && !line.starts_with(".options"))
        .fold(String::new(), |text, line| text + line + "\n");
    let folder = std::env::temp_dir().join(format!("tracebay-speed-{}", std::process::id()));
    fs::create_dir_all(&folder).ok()?;
    let (few, many) = (5, 105);
    let seconds = |times: u32| -> f64 {
        let path = folder.join(format!("{times}.cir"));
        let repeated = netlist.replace("\nop\n", &format!("\nrepeat {times}\nop\nend\n"));
        assert_ne!(netlist, repeated);
        fs::write(&path, repeated).expect("a temporary file");
        (0..3)
            .map(|_| {
                let start = Instant::now();
                let done = Command::new("ngspice")
                    .arg("-b")
                    .arg(&path)
                    .output()
                    .expect("ngspice runs");
                let took = start.elapsed().as_secs_f64();
                let said = String::from_utf8_lossy(&done.stdout).into_owned()
                    + &String::from_utf8_lossy(&done.stderr);
                let said = said.to_lowercase();
                assert!(!said.contains("error") && !said.contains("fail"), "{said}");
                took
            })
            .fold(f64::INFINITY, f64::min)
    };
    let each = (seconds(many) - seconds(few)) / f64::from(many - few);
    let _ = fs::remove_dir_all(&folder);
    Some(each)
}

/// The car with its engine running, air conditioning on and a test light parked on it.
pub fn running() -> Session {
    let case = tracebay_tests::catalogue()
        .draw("no-cold-air", 1)
        .expect("shipped")
        .sound();
    let mut car = Session::new(Arc::new(case)).expect("an operating point");
    let set = |control: &str, to: &str| Step::Set(control.into(), to.into());
    car.drive(&[
        set("key", "start"),
        set("blower", "3"),
        set("ac", "on"),
        Step::Wait(30.0),
    ]);
    assert!(car.engine_running() && car.view().motion.clutch_engaged);
    car
}

/// Memory that the process holds, kilobytes.
fn resident_kb() -> Option<f64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|l| l.starts_with("VmRSS:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

fn session_memory_kb() -> Option<f64> {
    let count = 20;
    let mut kept: Vec<Session> = Vec::with_capacity(count);
    let before = resident_kb()?;
    for _ in 0..count {
        // Each with its own vehicle, scenario and points, as if it were alone.
        let mut car = running();
        for _ in 0..200 {
            let _ = car.perform(&Action::Wait(1));
        }
        kept.push(car);
    }
    let after = resident_kb()?;
    assert_eq!(kept.len(), count);
    Some((after - before) / count as f64)
}

fn machine() -> String {
    let cpu = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = cpu
        .lines()
        .find_map(|line| line.strip_prefix("model name")?.split_once(": "))
        .map_or("unknown processor", |(_, name)| name.trim())
        .to_owned();
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    format!("{model}, {threads} threads, {}", std::env::consts::OS)
}

fn main() {
    let line = |what: &str, time: String, note: String| println!("| {what} | {time} | {note} |");
    let micro = |s: f64| format!("{:.1} µs", s * 1e6);
    let net = vehicle(false);
    println!("Machine: {}", machine());
    println!("Command: cargo run --release -p tracebay-tests --example speed");
    println!(
        "Network: {} nodes, {} elements\n",
        net.node_count(),
        net.element_count()
    );
    println!("| what | time | beside |\n| --- | --- | --- |");
    let (full, curved) = (full_solve(false), full_solve(true));
    line(
        "operating point, straight parts only",
        micro(full),
        String::new(),
    );
    line(
        "operating point, with lamps, diodes, motors",
        micro(curved),
        String::new(),
    );
    let (first, first_curved) = (from_nothing(false), from_nothing(true));
    for (kind, first) in [("straight", first), ("curved", first_curved)] {
        line(
            &format!("the first operating point of a new network, {kind}"),
            micro(first),
            "order of elimination included".into(),
        );
    }
    let version = spice::version().unwrap_or_else(|| "ngspice".into());
    for (kind, lamps, solve) in [("straight", false, full), ("curved", true, curved)] {
        let what = format!("{version} `op`, the same {kind} network, in one process");
        match ngspice(lamps) {
            Some(each) => line(
                &what,
                format!("{:.2} ms", each * 1e3),
                format!("{:.0} times the operating point", each / solve),
            ),
            None => line(&what, "not installed".into(), String::new()),
        }
    }
    for (name, element) in [
        ("meter", Element::Resistor { ohms: 1e7 }),
        (
            "test light",
            Element::Filament {
                rated_v: 12.0,
                rated_a: 0.25,
                cold_fraction: 0.1,
            },
        ),
    ] {
        for (kind, lamps, again, first) in [
            ("straight", false, full, first),
            ("curved", true, curved, first_curved),
        ] {
            let moved = tool_moved(lamps, element);
            line(
                &format!("{name} moved on, {kind} network"),
                micro(moved),
                format!(
                    "{:.3} of the first solve, {:.2} of one repeated",
                    moved / first,
                    moved / again
                ),
            );
        }
    }
    let car = running();
    let minute = lowest(40, 1, || {
        let mut car = car.clone();
        car.perform(&Action::Wait(600)).expect("possible");
    });
    line(
        "a simulated minute of the running car, A/C on",
        format!("{:.2} ms", minute * 1e3),
        format!("{:.1} µs a tick", minute * 1e6 / 600.0),
    );
    let mut lit = running();
    let clip = Action::Put {
        tool: ToolKind::TestLight,
        lead: Lead::Clip,
        point: "bat:neg".into(),
    };
    let _ = lit.perform(&Action::Go(tracebay_core::vehicle::Station::Bay));
    lit.perform(&clip).expect("possible");
    let touch = Action::Touch {
        tool: ToolKind::TestLight,
        point: "bat:pos".into(),
    };
    let touched = lowest(60, 2, || {
        lit.perform(&touch).expect("possible");
    });
    line(
        "a touch with the test light on the whole car (half a second of car time)",
        micro(touched),
        String::new(),
    );
    match session_memory_kb() {
        Some(kb) => line(
            "memory of a session, its vehicle and scenario with it",
            format!("{:.2} MB", kb / 1024.0),
            "resident memory over 20 of them".into(),
        ),
        None => line(
            "memory of a session",
            "unknown".into(),
            "no /proc here".into(),
        ),
    }
}
