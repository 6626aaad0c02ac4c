//! Times of the circuit solver on a network of a vehicle's size. `cargo bench -p tracebay-core --bench solver`.

#[path = "../tests/support/mod.rs"]
mod support;

use divan::{Bencher, black_box};
use support::{GROUND, vehicle};
use tracebay_core::circuit::{Attachment, Element, ElementId, Network, NodeId, Solver, State};

fn main() {
    divan::main();
}

fn settled(lamps: bool) -> (Network, Solver, State) {
    let net = vehicle(lamps);
    let (mut solver, mut state) = (Solver::new(&net), State::rest(&net));
    solver.solve(&net, &[], &mut state).expect("solvable");
    (net, solver, state)
}

/// The elimination order and pattern, once a structure.
#[divan::bench]
fn pattern(bencher: Bencher) {
    let net = vehicle(true);
    bencher.bench_local(|| Solver::new(black_box(&net)));
}

/// A value changed: factor and solve.
#[divan::bench(args = [false, true])]
fn cold(bencher: Bencher, lamps: bool) {
    let (mut net, mut solver, mut state) = settled(lamps);
    let mut ohms = 0.012;
    bencher.bench_local(|| {
        ohms = if ohms > 0.02 { 0.012 } else { ohms + 1e-6 };
        net.set(ElementId(0), Element::Source { emf_v: 12.6, ohms });
        solver.solve(&net, &[], &mut state)
    });
}

/// Nothing changed.
#[divan::bench(args = [false, true])]
fn warm(bencher: Bencher, lamps: bool) {
    let (net, mut solver, mut state) = settled(lamps);
    bencher.bench_local(|| solver.solve(&net, &[], &mut state));
}

fn move_tool(bencher: Bencher, lamps: bool, element: Element) {
    let (net, mut solver, mut state) = settled(lamps);
    let mut node = 0;
    bencher.bench_local(|| {
        node = node % (net.node_count() as u32 - 1) + 1;
        solver.solve(
            &net,
            &[Attachment {
                a: NodeId(node),
                b: GROUND,
                element,
            }],
            &mut state,
        )
    });
}

/// A meter moved from point to point.
#[divan::bench(args = [false, true])]
fn meter(bencher: Bencher, lamps: bool) {
    move_tool(bencher, lamps, Element::Resistor { ohms: 1e7 });
}

/// A test light moved from point to point.
#[divan::bench(args = [false, true])]
fn test_light(bencher: Bencher, lamps: bool) {
    move_tool(
        bencher,
        lamps,
        Element::Filament {
            rated_v: 12.0,
            rated_a: 0.25,
            cold_fraction: 0.1,
        },
    );
}
