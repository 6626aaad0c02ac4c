//! Laws that every solved network keeps, on random networks: Kirchhoff's and Tellegen's theorems, superposition,
//! independence of order, tools as parts, islands as a graph search finds them, and a dense solve by nalgebra.

mod support;

use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;
use support::{Draw, Kinds, random, random_tools, with_tools};
use tracebay_core::circuit::{
    Attachment, Element, ElementId, Network, NodeId, Solution, SolveError, Solver, State,
};

fn solve(net: &Network, tools: &[Attachment]) -> Solution {
    Solver::new(net)
        .solve(net, tools, &mut State::rest(net))
        .unwrap_or_else(|error| panic!("{error}"))
}

fn nodes(net: &Network) -> impl Iterator<Item = NodeId> {
    (0..net.node_count() as u32).map(NodeId)
}

fn elements(net: &Network) -> impl Iterator<Item = ElementId> {
    (0..net.element_count() as u32).map(ElementId)
}

/// Resistances brought within six decades: with more, a milliohm's rounding at some volts, seen through ten
/// megohms, is itself more than a billionth, in any arithmetic of sixteen digits.
fn six_decades(mut net: Network, seed: u64) -> Network {
    let draw = &mut Draw(seed);
    for id in elements(&net).collect::<Vec<_>>() {
        net.set(id, narrowed(*net.element(id), draw));
    }
    net
}

fn narrowed(element: Element, draw: &mut Draw) -> Element {
    let ohms = draw.decades(0.1, 1e5);
    match element {
        Element::Resistor { .. } => Element::Resistor { ohms },
        Element::Source { emf_v, .. } => Element::Source { emf_v, ohms },
        other => other,
    }
}

/// Ties every node to ground by 100 kilohms if there are curved elements: a part that hangs on nothing but a
/// blocked junction's picosiemens has a voltage of few digits.
fn tied(mut net: Network, kinds: Kinds) -> Network {
    if kinds != Kinds::Straight {
        for node in nodes(&net).skip(1).collect::<Vec<_>>() {
            net.add("tie", node, NodeId::GROUND, Element::Resistor { ohms: 1e5 });
        }
    }
    net
}

/// Node by node the same islands, and voltages within `share` of the network's largest.
fn same(net: &Network, one: &Solution, other: &Solution, share: f64) -> Result<(), TestCaseError> {
    let most = nodes(net)
        .filter_map(|node| one.voltage(node))
        .fold(1.0, |most: f64, volts| most.max(volts.abs()));
    for node in nodes(net) {
        match (one.voltage(node), other.voltage(node)) {
            (None, None) => {}
            (Some(first), Some(second)) => {
                prop_assert!(
                    (first - second).abs() <= share * most,
                    "{node:?}: {first} against {second}"
                );
            }
            pair => prop_assert!(false, "{node:?}: {pair:?}"),
        }
    }
    Ok(())
}

/// Which nodes can be reached from ground through elements that conduct.
fn reached(net: &Network, tools: &[Attachment], solution: &Solution) -> Vec<bool> {
    let conducts = |id: &ElementId| match net.element(*id) {
        Element::Open => false,
        Element::Contact { .. } => solution.contact_closed(*id),
        _ => true,
    };
    let mut bridges: Vec<_> = elements(net)
        .filter(conducts)
        .map(|id| net.ends(id))
        .collect();
    bridges.extend(
        tools
            .iter()
            .filter(|tool| tool.element != Element::Open)
            .map(|tool| (tool.a, tool.b)),
    );
    let mut reached = vec![false; net.node_count()];
    reached[0] = true;
    let mut grew = true;
    while grew {
        grew = false;
        for (a, b) in &bridges {
            let (a, b) = (a.0 as usize, b.0 as usize);
            grew |= reached[a] != reached[b];
            let both = reached[a] || reached[b];
            (reached[a], reached[b]) = (both, both);
        }
    }
    reached
}

fn kinds() -> impl Strategy<Value = Kinds> {
    prop_oneof![
        Just(Kinds::Straight),
        Just(Kinds::Curved),
        Just(Kinds::WithContacts)
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Kirchhoff's current law within 1 nA and 1e-12 of the currents' sizes; nothing but a buzzing relay is
    /// refused; islands are those of a graph search; with tools on or not.
    #[test]
    fn kirchhoff_and_islands(
        seed: u64, places in 1usize..80, density in 0.3..3.5f64, tools in 0usize..5, kinds in kinds(),
    ) {
        let net = random(seed, places, (places as f64 * density) as usize, kinds);
        let tools = random_tools(seed, places, tools, kinds);
        let mut state = State::rest(&net);
        match Solver::new(&net).solve(&net, &tools, &mut state) {
            Ok(solution) => {
                let share = solution.kirchhoff_share(&net, &tools);
                prop_assert!(share <= 1.0, "{share}");
                for (node, reached) in nodes(&net).zip(reached(&net, &tools, &solution)) {
                    prop_assert_eq!(solution.voltage(node).is_some(), reached);
                    prop_assert!(solution.voltage(node).is_none_or(f64::is_finite));
                }
                for contact in elements(&net) {
                    prop_assert_eq!(solution.contact_closed(contact), state.contact_closed(&net, contact));
                }
            }
            Err(SolveError::Unsettled { contacts }) => {
                prop_assert!(kinds == Kinds::WithContacts && !contacts.is_empty());
            }
            Err(error) => prop_assert!(false, "{error}"),
        }
    }

    /// Tellegen's theorem: the powers of all elements add up to zero. Parts that are no source take power.
    #[test]
    fn power_balance(seed: u64, places in 1usize..60, density in 0.5..3.0f64, kinds in kinds()) {
        let net = random(seed, places, (places as f64 * density) as usize, kinds);
        let Ok(solution) = Solver::new(&net).solve(&net, &[], &mut State::rest(&net)) else {
            prop_assume!(false);
            unreachable!()
        };
        let (mut sum, mut sizes) = (0.0, 0.0);
        for id in elements(&net) {
            let (a, b) = net.ends(id);
            let amps = solution.current(id);
            let watts = solution.difference(a, b).map_or(0.0, |volts| volts * amps);
            sum += watts;
            sizes += watts.abs();
            if !matches!(net.element(id), Element::Source { .. } | Element::LimitedSource { .. }) {
                prop_assert!(watts >= 0.0, "{} takes {watts} W", net.element_name(id));
            }
        }
        // 1 nA at up to 60 nodes of some tens of volts.
        prop_assert!(sum.abs() <= 1e-6 + 1e-11 * sizes, "{sum} W of {sizes} W");
    }

    /// Superposition: on a straight network the voltages of all sources together are the sums of each alone.
    #[test]
    fn superposition(seed: u64, places in 1usize..40, density in 0.5..3.0f64) {
        let net = random(seed, places, (places as f64 * density) as usize, Kinds::Straight);
        let net = six_decades(net, seed);
        let all = solve(&net, &[]);
        let mut sums = vec![0.0; net.node_count()];
        let mut most = 1.0f64;
        let is_source = |id: &ElementId| matches!(net.element(*id), Element::Source { .. });
        for source in elements(&net).filter(is_source) {
            let mut alone = net.clone();
            for other in elements(&net).filter(is_source) {
                if let (Element::Source { ohms, .. }, true) = (*net.element(other), other != source) {
                    alone.set(other, Element::Source { emf_v: 0.0, ohms });
                }
            }
            let found = solve(&alone, &[]);
            for (node, sum) in nodes(&net).zip(&mut sums) {
                *sum += found.voltage(node).unwrap_or(0.0);
                most = most.max(sum.abs());
            }
        }
        for (node, sum) in nodes(&net).zip(sums) {
            if let Some(volts) = all.voltage(node) {
                prop_assert!((volts - sum).abs() <= 1e-9 * most, "{volts} against {sum}");
            }
        }
    }

    /// Elements in another order, some turned round with their polarity, nodes renumbered: the same answer.
    #[test]
    fn order_does_not_matter(seed: u64, places in 1usize..60, density in 0.5..3.0f64, curved: bool) {
        let kinds = if curved { Kinds::Curved } else { Kinds::Straight };
        let net = six_decades(random(seed, places, (places as f64 * density) as usize, kinds), seed);
        let net = tied(net, kinds);
        let draw = &mut Draw(!seed);
        let mut order: Vec<ElementId> = elements(&net).collect();
        let mut numbers: Vec<u32> = (1..net.node_count() as u32).collect();
        for at in (1..order.len()).rev() {
            order.swap(at, draw.below(at + 1));
        }
        for at in (1..numbers.len()).rev() {
            numbers.swap(at, draw.below(at + 1));
        }
        let renumbered = |node: NodeId| if node.0 == 0 { node } else { NodeId(numbers[node.0 as usize - 1]) };
        let mut other = Network::new();
        for at in 1..net.node_count() {
            other.node(&format!("m{at}"));
        }
        for id in order {
            let (a, b) = net.ends(id);
            let turned = matches!(net.element(id), Element::Resistor { .. }) && draw.below(2) == 0;
            let (a, b) = if turned { (b, a) } else { (a, b) };
            other.add(net.element_name(id), renumbered(a), renumbered(b), *net.element(id));
        }
        let (one, two) = (solve(&net, &[]), solve(&other, &[]));
        let most = nodes(&net).filter_map(|node| one.voltage(node)).fold(1.0, |most: f64, volts| most.max(volts.abs()));
        for node in nodes(&net) {
            let (first, second) = (one.voltage(node), two.voltage(renumbered(node)));
            prop_assert_eq!(first.is_some(), second.is_some());
            let apart = first.unwrap_or(0.0) - second.unwrap_or(0.0);
            prop_assert!(apart.abs() <= 1e-9 * most, "{first:?} against {second:?}");
        }
    }

    /// A tool put on is the same as an element added, also where it ties floating parts together.
    #[test]
    fn tools_are_elements(
        seed: u64, places in 1usize..60, density in 0.3..2.5f64, count in 1usize..6, curved: bool,
    ) {
        let kinds = if curved { Kinds::Curved } else { Kinds::Straight };
        let net = six_decades(random(seed, places, (places as f64 * density) as usize, kinds), seed);
        let net = tied(net, kinds);
        let mut tools = random_tools(seed, places, count, kinds);
        let draw = &mut Draw(!seed);
        tools.iter_mut().for_each(|tool| tool.element = narrowed(tool.element, draw));
        let built_in = with_tools(&net, &tools);
        let (on, inside) = (solve(&net, &tools), solve(&built_in, &[]));
        same(&net, &on, &inside, 1e-9)?;
        for at in 0..tools.len() {
            let added = inside.current(ElementId((net.element_count() + at) as u32));
            prop_assert!((on.tool_current(at) - added).abs() <= 1e-6 + 1e-9 * added.abs());
        }
    }

    /// Against nalgebra's LU decomposition of the dense nodal matrix.
    #[test]
    fn dense_reference(seed: u64, places in 1usize..60, density in 0.5..3.5f64) {
        let net = random(seed, places, (places as f64 * density) as usize, Kinds::Straight);
        let net = six_decades(net, seed);
        let found = solve(&net, &[]);
        let size = net.node_count();
        let mut matrix = DMatrix::zeros(size, size);
        let mut currents = DVector::zeros(size);
        for id in elements(&net) {
            let (a, b) = net.ends(id);
            let (a, b) = (a.0 as usize, b.0 as usize);
            let (ohms, emf_v) = match *net.element(id) {
                Element::Resistor { ohms } => (ohms, 0.0),
                Element::Source { emf_v, ohms } => (ohms, emf_v),
                _ => continue,
            };
            matrix[(a, a)] += 1.0 / ohms;
            matrix[(b, b)] += 1.0 / ohms;
            matrix[(a, b)] -= 1.0 / ohms;
            matrix[(b, a)] -= 1.0 / ohms;
            currents[a] += emf_v / ohms;
            currents[b] -= emf_v / ohms;
        }
        // Ground and what floats: pinned to 0 V.
        for node in nodes(&net).filter(|node| node.0 == 0 || found.voltage(*node).is_none()) {
            let at = node.0 as usize;
            matrix.row_mut(at).fill(0.0);
            matrix[(at, at)] = 1.0;
            currents[at] = 0.0;
        }
        let expected = matrix.lu().solve(&currents).expect("regular");
        let most = expected.amax().max(1.0);
        for node in nodes(&net) {
            if let Some(volts) = found.voltage(node) {
                let apart = (volts - expected[node.0 as usize]).abs();
                prop_assert!(apart <= 1e-9 * most, "{node:?}: {volts} against {}", expected[node.0 as usize]);
            }
        }
    }
}

/// A source at its limit, put on a node that is tied to ground by little: the shortened step ends at the
/// answer, and what is left to step by is rounding. Found by `tools_are_elements` among 50,000 networks.
#[test]
fn a_shortened_step_that_ends_at_the_answer() {
    let mut net = Network::new();
    let node = net.node("node");
    net.add("tie", node, NodeId::GROUND, Element::Resistor { ohms: 1e5 });
    let tool = |a, b, element| Attachment { a, b, element };
    // These digits; rounder ones happen to pass.
    let (emf_v, ohms) = (11.337_766_692_966_689, 0.033_882_157_042_196_77);
    let source = Element::LimitedSource {
        emf_v,
        ohms,
        limit_a: 57.866_778_318_144_03,
    };
    let loads_ohms = [137.659_949_663_391_73, 5.078_444_765_088_763];
    let load = |ohms| tool(node, NodeId::GROUND, Element::Resistor { ohms });
    let tools = [
        tool(NodeId::GROUND, node, source),
        load(loads_ohms[0]),
        load(loads_ohms[1]),
    ];
    let by_hand = -emf_v / (1.0 + ohms * (1e-5 + 1.0 / loads_ohms[0] + 1.0 / loads_ohms[1]));
    let found = solve(&net, &tools).voltage(node).expect("tied");
    assert!((found - by_hand).abs() < 1e-9, "{found} against {by_hand}");
}

/// Values that change again and again, in copies and copies of copies, solved by a solver that has seen them or
/// not: the bits are those of a solver that has seen nothing.
#[test]
fn what_was_solved_before_changes_no_bit() {
    for seed in 0..60 {
        let draw = &mut Draw(seed);
        let net = tied(
            six_decades(random(seed, 30, 60, Kinds::Curved), seed),
            Kinds::Curved,
        );
        let mut solver = Solver::new(&net);
        let mut copies = vec![net];
        for step in 0..60 {
            let at = draw.below(copies.len());
            if draw.below(3) == 0 && copies.len() < 4 {
                copies.push(copies[at].clone());
            } else if draw.below(6) == 0 && copies.len() > 1 {
                copies.remove(at);
                continue;
            }
            let net = &mut copies[at];
            for _ in 0..draw.below(4) {
                let id = ElementId(draw.below(net.element_count()) as u32);
                let ohms = draw.decades(0.1, 1e5);
                let now = *net.element(id);
                net.set(id, Element::Resistor { ohms });
                // Some come back to what they were.
                if draw.below(3) == 0 {
                    net.set(id, now);
                }
            }
            if draw.below(3) == 0 {
                solver = solver.clone();
            }
            let found = solver
                .solve(net, &[], &mut State::rest(net))
                .expect("has an answer");
            assert_eq!(found, solve(net, &[]), "network {seed}, step {step}");
        }
    }
}

/// A tool tried on shows what it shows when it is put on and everything is solved, and leaves no contact that
/// the solve would move; and most tools need no solve.
#[test]
fn tools_tried_on() {
    for kinds in [Kinds::Straight, Kinds::Curved, Kinds::WithContacts] {
        let (mut told, mut asked) = (0, 0);
        for seed in 0..400 {
            let net = tied(six_decades(random(seed, 40, 80, kinds), seed), kinds);
            let mut solver = Solver::new(&net);
            let mut state = State::rest(&net);
            if solver.solve(&net, &[], &mut state).is_err() {
                continue;
            }
            let alone = solver.solve(&net, &[], &mut state).expect("again");
            let grounded = |node| alone.voltage(node).is_some();
            for tool in random_tools(seed, 40, 12, kinds) {
                if tool.element == Element::Open || tool.a == tool.b {
                    continue;
                }
                if !grounded(tool.a) || !grounded(tool.b) {
                    assert_eq!(solver.try_on(&net, &tool, &state), None);
                    continue;
                }
                asked += 1;
                let Some(tried) = solver.try_on(&net, &tool, &state) else {
                    continue;
                };
                told += 1;
                let found = solver
                    .solve(&net, &[tool], &mut state.clone())
                    .expect("has an answer");
                let volts = found.difference(tool.a, tool.b).expect("tied by the tool");
                let amps = found.tool_current(0);
                assert!(found.flipped().is_empty(), "network {seed}, {tool:?}");
                let near =
                    |one: f64, other: f64| (one - other).abs() <= 1e-8 * other.abs().max(1.0);
                assert!(
                    near(tried.volts, volts),
                    "network {seed}, {tool:?}: {} V against {volts} V",
                    tried.volts
                );
                assert!(
                    near(tried.amps, amps),
                    "network {seed}, {tool:?}: {} A against {amps} A",
                    tried.amps
                );
            }
        }
        assert!(
            asked > 500 && 10 * told > 6 * asked,
            "{kinds:?}: {told} of {asked}"
        );
    }
}

/// Three hundred elements, ten decades of resistance, every kind at once.
#[test]
fn large_networks() {
    for seed in 0..60 {
        let net = random(seed, 150, 300, Kinds::Curved);
        let tools = random_tools(seed, 150, 3, Kinds::Curved);
        let solution = solve(&net, &tools);
        assert!(solution.kirchhoff_share(&net, &tools) <= 1.0);
    }
}
