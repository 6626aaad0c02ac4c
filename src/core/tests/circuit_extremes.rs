//! The circuit solver at the edges of what it accepts, and beyond: an answer that keeps Kirchhoff's law or an error
//! that names what is wrong, in bounded time, and never a panic or something that is no number.

mod support;

use support::{Draw, GROUND};
use tracebay_core::circuit::{
    Attachment, Element, ElementId, Network, NodeId, SolveError, Solver, State,
};

/// Values from end to end of the documented ranges, the ends themselves often.
fn extreme(draw: &mut Draw) -> Element {
    let mut edge = |low: f64, high: f64| match draw.below(6) {
        0 => low,
        1 => high,
        _ => draw.decades(low, high),
    };
    let (ohms, junction_ohms) = (edge(1e-5, 1e12), edge(1e-5, 1e6));
    let limit_a = edge(1e-6, 1e4);
    let rated_v = edge(0.1, 1e3);
    let rated_a = (rated_v / edge(1e-2, 1e6)).clamp(1e-4, 1e3);
    let (saturation_a, slope_v) = (edge(1e-20, 1e-3), edge(0.01, 1.0));
    let (volts_per_rad_s, load_nms2) = (edge(1e-6, 1e3), edge(1e-12, 1e3));
    let emf_v = draw.decades(1e-6, 1e3) * if draw.below(2) == 0 { 1.0 } else { -1.0 };
    match draw.below(9) {
        0 => Element::Filament {
            rated_v,
            rated_a,
            cold_fraction: draw.between(0.01, 0.99),
        },
        1 => Element::Diode {
            saturation_a,
            slope_v,
            ohms: junction_ohms,
        },
        2 => Element::FanMotor {
            ohms,
            volts_per_rad_s,
            load_nms2,
        },
        3 => Element::Limiter {
            on_ohms: ohms,
            limit_a,
        },
        4 => Element::LimitedSource {
            emf_v,
            ohms,
            limit_a,
        },
        5 | 6 => Element::Source { emf_v, ohms },
        _ => Element::Resistor { ohms },
    }
}

#[test]
fn edges_of_the_ranges() {
    let (mut solved, mut unsolved) = (0, 0);
    for seed in 0..1_500 {
        let draw = &mut Draw(seed);
        let places = 1 + draw.below(12);
        let mut net = Network::new();
        for at in 0..places {
            net.node(&format!("n{at}"));
        }
        let any = |draw: &mut Draw| NodeId(draw.below(places + 1) as u32);
        for at in 0..1 + draw.below(3 * places) {
            let (a, b) = (any(draw), any(draw));
            net.add(&format!("e{at}"), a, b, extreme(draw));
        }
        let tools: Vec<Attachment> = (0..draw.below(3))
            .map(|_| Attachment {
                a: any(draw),
                b: any(draw),
                element: extreme(draw),
            })
            .collect();
        match Solver::new(&net).solve(&net, &tools, &mut State::rest(&net)) {
            Ok(solution) => {
                solved += 1;
                let share = solution.kirchhoff_share(&net, &tools);
                assert!(share <= 1.0, "seed {seed}: {share}");
                for node in 0..net.node_count() as u32 {
                    assert!(
                        solution.voltage(NodeId(node)).is_none_or(f64::is_finite),
                        "seed {seed}"
                    );
                }
                for id in 0..net.element_count() as u32 {
                    let (id, amps) = (ElementId(id), solution.current(ElementId(id)));
                    assert!(
                        amps.is_finite(),
                        "seed {seed}: {:?} carries {amps}",
                        net.element(id)
                    );
                }
            }
            Err(SolveError::NoConvergence { elements }) => {
                unsolved += 1;
                assert!(!elements.is_empty(), "seed {seed}");
            }
            Err(error) => panic!("seed {seed}: {error}"),
        }
    }
    println!("{solved} solved, {unsolved} refused");
    // Refused are mostly those with a kilovolt across ten microohms, where the last bit of a voltage alone is
    // eleven nanoamperes.
    assert!(
        unsolved * 20 <= solved,
        "{solved} solved, {unsolved} refused"
    );
}

/// Forty floating parts in a row, tied end to end by tools; then the chain is opened in the middle.
#[test]
fn chain_of_floating_parts() {
    let mut net = Network::new();
    let plus = net.node("plus");
    net.add(
        "battery",
        plus,
        GROUND,
        Element::Source {
            emf_v: 12.0,
            ohms: 0.01,
        },
    );
    let parts: Vec<_> = (0..40)
        .map(|at| {
            let (left, right) = (net.node("left"), net.node("right"));
            net.add(
                &format!("part {at}"),
                left,
                right,
                Element::Resistor { ohms: 1.0 },
            );
            (left, right)
        })
        .collect();
    let bridge = |a, b| Attachment {
        a,
        b,
        element: Element::Resistor { ohms: 0.5 },
    };
    let mut tools = vec![bridge(plus, parts[0].0)];
    tools.extend(parts.windows(2).map(|pair| bridge(pair[0].1, pair[1].0)));
    tools.push(bridge(parts[39].1, GROUND));
    let (mut solver, mut state) = (Solver::new(&net), State::rest(&net));
    let amps = 12.0 / (0.01 + 40.0 + 41.0 * 0.5);
    let solution = solver.solve(&net, &tools, &mut state).unwrap();
    assert!(solution.kirchhoff_share(&net, &tools) <= 1.0);
    for tool in 0..tools.len() {
        assert!((solution.tool_current(tool) - amps).abs() < 1e-12);
    }
    tools.remove(20);
    let solution = solver.solve(&net, &tools, &mut state).unwrap();
    assert!(solution.tool_current(0).abs() < 1e-12);
    assert!((solution.voltage(parts[19].1).unwrap() - 12.0).abs() < 1e-9);
    assert!(solution.voltage(parts[20].0).unwrap().abs() < 1e-9);
    tools.pop();
    let solution = solver.solve(&net, &tools, &mut state).unwrap();
    assert_eq!(solution.voltage(parts[20].0), None);
    assert!(solution.difference(parts[20].0, parts[39].1).unwrap().abs() < 1e-12);
}

/// A ladder of relays, each coil fed through the contact of the one before: one flip after another.
#[test]
fn long_chain_of_relays() {
    let mut net = Network::new();
    let plus = net.node("plus");
    net.add(
        "battery",
        plus,
        GROUND,
        Element::Source {
            emf_v: 12.0,
            ohms: 0.01,
        },
    );
    let mut feed = plus;
    let mut contacts = Vec::new();
    for at in 0..60 {
        let coil = net.add(
            &format!("coil {at}"),
            feed,
            GROUND,
            Element::Resistor { ohms: 80.0 },
        );
        let next = net.node("next");
        let contact = Element::Contact {
            coil,
            pull_in_a: 0.09,
            drop_out_a: 0.03,
            closed_at_rest: false,
            ohms: 0.01,
        };
        contacts.push(net.add(&format!("contact {at}"), plus, next, contact));
        feed = next;
    }
    let solution = Solver::new(&net)
        .solve(&net, &[], &mut State::rest(&net))
        .unwrap();
    assert_eq!(solution.flipped(), contacts);
    assert!(
        contacts
            .iter()
            .all(|contact| solution.contact_closed(*contact))
    );
}

/// An element may become another kind between solves, a contact may be welded shut, a coil may be open, and a
/// network may grow under a solver made for the smaller one.
#[test]
fn everything_may_change() {
    let mut net = Network::new();
    let (plus, out) = (net.node("plus"), net.node("out"));
    net.add(
        "battery",
        plus,
        GROUND,
        Element::Source {
            emf_v: 12.0,
            ohms: 0.01,
        },
    );
    let coil = net.add("coil", plus, GROUND, Element::Resistor { ohms: 80.0 });
    let relay = Element::Contact {
        coil,
        pull_in_a: 0.09,
        drop_out_a: 0.03,
        closed_at_rest: false,
        ohms: 0.01,
    };
    let contact = net.add("contact", plus, out, relay);
    net.add(
        "lamp",
        out,
        GROUND,
        Element::Filament {
            rated_v: 12.0,
            rated_a: 0.5,
            cold_fraction: 0.1,
        },
    );
    let (mut solver, mut state) = (Solver::new(&net), State::rest(&net));
    let mut lit = |net: &Network| {
        solver
            .solve(net, &[], &mut state)
            .unwrap()
            .voltage(out)
            .unwrap()
            > 11.0
    };
    assert!(lit(&net));
    net.set(coil, Element::Open);
    assert!(!lit(&net));
    net.set(contact, Element::Resistor { ohms: 0.01 });
    assert!(lit(&net));
    net.set(contact, Element::Open);
    assert!(!lit(&net));
    let more = net.node("more");
    net.add("jumper", out, more, Element::Resistor { ohms: 0.1 });
    net.add("jumper", more, plus, Element::Resistor { ohms: 0.1 });
    assert!(lit(&net));
}

/// A part of the network that has no answer to the accuracy promised is named with what is in it, and the sound
/// part beside it is not.
#[test]
fn an_unsolvable_part_is_named_and_its_neighbours_are_not() {
    let mut net = Network::new();
    let (plus, lamp) = (net.node("plus"), net.node("lamp"));
    let source = |emf_v, ohms| Element::Source { emf_v, ohms };
    net.add("battery", plus, GROUND, source(12.0, 0.01));
    net.add("wire", plus, lamp, Element::Resistor { ohms: 0.1 });
    net.add("lamp", lamp, GROUND, Element::Resistor { ohms: 5.0 });
    // Another part, tied to nothing of the first: a kilovolt behind ten microohms. The last bit of its voltage is
    // 11 nA through the source, and the load wants 5: no voltage that can be written keeps Kirchhoff's law to 1 nA.
    let (high, low) = (net.node("high"), net.node("low"));
    net.add("mad source", high, low, source(1000.0, 1e-5));
    net.add("mad load", high, low, Element::Resistor { ohms: 2e11 });
    let error = Solver::new(&net)
        .solve(&net, &[], &mut State::rest(&net))
        .expect_err("no voltage will do");
    assert_eq!(error.elements(), ["mad source", "mad load"]);
    let said = error.to_string();
    assert!(
        said.contains("mad load") && !said.contains("lamp"),
        "{said}"
    );
    assert!(matches!(error, SolveError::NoConvergence { .. }), "{said}");
}

/// A solver that follows one network through time finds what one from nothing finds.
#[test]
fn following_finds_the_same_points() {
    let mut net = support::vehicle(true);
    let (mut follower, mut state) = (Solver::new(&net).following(), State::rest(&net));
    let draw = &mut Draw(11);
    let mut worst = 0.0f64;
    for round in 0..300 {
        let id = ElementId(draw.below(net.element_count()) as u32);
        let changed = match *net.element(id) {
            Element::Resistor { ohms } => Element::Resistor {
                ohms: (ohms * draw.between(0.5, 2.0)).clamp(1e-3, 1e7),
            },
            Element::Source { ohms, .. } => Element::Source {
                emf_v: draw.between(9.0, 14.5),
                ohms,
            },
            Element::Open => Element::Limiter {
                on_ohms: 0.4,
                limit_a: 1.5,
            },
            Element::Limiter { .. } => Element::Open,
            other => other,
        };
        net.set(id, changed);
        let found = follower
            .solve(&net, &[], &mut state)
            .unwrap_or_else(|error| panic!("round {round}: {error}"));
        assert!(found.kirchhoff_share(&net, &[]) <= 1.0, "round {round}");
        let mut held = state.clone();
        let anew = Solver::new(&net)
            .solve(&net, &[], &mut held)
            .unwrap_or_else(|error| panic!("round {round}: {error}"));
        for node in (0..net.node_count() as u32).map(NodeId) {
            match (found.voltage(node), anew.voltage(node)) {
                (Some(one), Some(other)) => worst = worst.max((one - other).abs()),
                (one, other) => assert_eq!(one.is_some(), other.is_some(), "round {round}"),
            }
        }
    }
    println!("following against anew: {worst:.1e} V at most");
    assert!(worst < 1e-8, "{worst}");
}
