//! Every part and every wire of each shipped vehicle is drawn, between the terminals its file says, and
//! nothing that the file does not have. The vehicle files are the reference: the car is computed from them.

use std::collections::{BTreeMap, BTreeSet};

use tracebay_core::vehicle::{Kind, Vehicle, split_pin};
use tracebay_diagram::piece::{At, Drawing, Pen, Shape};
use tracebay_diagram::{Of, Symbol, circuit, circuits, whole};
use tracebay_shelf::Data;

fn each_vehicle(check: impl Fn(&Vehicle)) {
    let (catalogue, problems) = Data::built_in().catalogue();
    assert!(problems.is_empty(), "{problems:?}");
    assert!(catalogue.vehicles.len() >= 4);
    catalogue.vehicles.values().for_each(|v| check(v));
}

fn ids<T>(map: &BTreeMap<String, T>) -> BTreeSet<&str> {
    map.keys().map(String::as_str).collect()
}

#[test]
fn every_part_and_every_wire_is_drawn_and_none_is_invented() {
    each_vehicle(|vehicle| {
        for widest in [0.0, 4000.0] {
            let drawing = whole(vehicle, widest);
            assert_eq!(drawing.wires(), ids(&vehicle.wires), "{}", vehicle.id);
            assert_eq!(drawing.parts(), ids(&vehicle.parts), "{}", vehicle.id);
        }
    });
}

/// Points of the drawing that are one point of the circuit: they lie on the same join.
struct Joined(Vec<(At, At)>);

impl Joined {
    fn of(drawing: &Drawing) -> Joined {
        let lines = drawing.pieces.iter().filter_map(|p| match &p.shape {
            Shape::Line {
                through,
                pen: Pen::Join,
            } => Some((through[0], through[1])),
            _ => None,
        });
        Joined(lines.collect())
    }

    fn on((a, b): &(At, At), p: At) -> bool {
        let within =
            |low: f64, high: f64, v: f64| v >= low.min(high) - 0.01 && v <= low.max(high) + 0.01;
        within(a.x, b.x, p.x) && within(a.y, b.y, p.y)
    }

    /// All joins that a point is on, or is joined to by another.
    fn reach(&self, p: At) -> Vec<At> {
        let mut points = vec![p];
        let mut used = vec![false; self.0.len()];
        let mut next = 0;
        while let Some(&from) = points.get(next) {
            next += 1;
            for (line, used) in self.0.iter().zip(&mut used) {
                // A join ends at what it joins, or branches off with a dot; both ends count.
                if !*used && Joined::on(line, from) {
                    *used = true;
                    points.extend([line.0, line.1]);
                }
            }
        }
        points
    }
}

/// A netlist read back from the lines alone says the same as the file.
#[test]
fn each_wire_runs_between_the_terminals_that_the_file_says() {
    each_vehicle(|vehicle| {
        for id in circuits(vehicle) {
            let drawing = circuit(vehicle, &id).unwrap();
            let joined = Joined::of(&drawing);
            let mut seen = BTreeSet::new();
            for piece in &drawing.pieces {
                let Shape::Line {
                    through,
                    pen: Pen::Wire(_),
                } = &piece.shape
                else {
                    continue;
                };
                let Some(Of::Wire(name)) = &piece.of else {
                    panic!("a wire without a name");
                };
                assert!(seen.insert(name), "{id}: {name} is drawn twice");
                let wire = &vehicle.wires[name];
                let ends: Vec<BTreeSet<String>> = [through[0], through[1]]
                    .map(|p| met(vehicle, &drawing, &joined, p))
                    .into();
                let there = |a: &str, b: &str| meets(&ends[0], a) && meets(&ends[1], b);
                assert!(
                    there(&wire.from, &wire.to) || there(&wire.to, &wire.from),
                    "{} {id}: {name} from {} to {}, drawn {ends:?}",
                    vehicle.id,
                    wire.from,
                    wire.to
                );
            }
        }
    });

    fn meets(end: &BTreeSet<String>, pin: &str) -> bool {
        let (part, _) = split_pin(pin).unwrap();
        end.contains(pin) || end.contains(part)
    }

    /// Terminals at a point, and the ids of splices and bars that it runs into.
    fn met(vehicle: &Vehicle, drawing: &Drawing, joined: &Joined, p: At) -> BTreeSet<String> {
        let points = joined.reach(p);
        let mut found = BTreeSet::new();
        for (name, at) in &drawing.terminals {
            let here = points
                .iter()
                .any(|p| (p.x - at.x).abs() < 0.01 && (p.y - at.y).abs() < 0.01);
            if here {
                found.insert(name.clone());
            }
        }
        for thing in &drawing.things {
            let Of::Part(id) = &thing.of else { continue };
            let joint = matches!(
                vehicle.parts[id].kind,
                Kind::Splice { .. } | Kind::BusBar { .. }
            );
            if !joint || thing.symbol != Some(Symbol::Junction) {
                continue;
            }
            // Its lead ends above and below its area, in the column that begins there.
            let near = |p: &At| {
                p.x > thing.area.min.x
                    && p.x < thing.area.min.x + 40.0
                    && p.y > thing.area.min.y - 10.0
                    && p.y < thing.area.max.y + 10.0
            };
            if points.iter().any(near) {
                found.insert(id.clone());
            }
        }
        found
    }
}

/// Labels lie neither over each other nor over another thing's lines. Letters are taken to be 0.56 of their
/// height wide, which is more than those of ordinary sans-serif fonts are on average (common practice, no source).
#[test]
fn no_two_texts_lie_over_each_other() {
    each_vehicle(|vehicle| {
        let drawing = whole(vehicle, 4000.0);
        let texts: Vec<_> = drawing
            .pieces
            .iter()
            .filter_map(|p| match &p.shape {
                Shape::Text {
                    at,
                    text,
                    size,
                    anchor,
                } => {
                    let wide = text.chars().count() as f64 * size.units() * 0.56;
                    let left = match anchor {
                        tracebay_diagram::piece::Anchor::Start => at.x,
                        tracebay_diagram::piece::Anchor::Middle => at.x - wide / 2.0,
                        tracebay_diagram::piece::Anchor::End => at.x - wide,
                    };
                    let area = tracebay_diagram::piece::Area {
                        min: At {
                            x: left,
                            y: at.y - size.units() * 0.75,
                        },
                        max: At {
                            x: left + wide,
                            y: at.y + size.units() * 0.1,
                        },
                    };
                    Some((text, area))
                }
                _ => None,
            })
            .collect();
        let mut wrong = Vec::new();
        for (i, (a, area)) in texts.iter().enumerate() {
            for (b, other) in &texts[i + 1..] {
                if area.meets(other) {
                    wrong.push(format!("{a:?} and {b:?} at {:?}", area.min));
                }
            }
            for piece in &drawing.pieces {
                let Shape::Line {
                    through,
                    pen: Pen::Wire(_) | Pen::Join,
                } = &piece.shape
                else {
                    continue;
                };
                let line = tracebay_diagram::piece::Area {
                    min: At {
                        x: through[0].x.min(through[1].x) - 1.0,
                        y: through[0].y.min(through[1].y) - 1.0,
                    },
                    max: At {
                        x: through[0].x.max(through[1].x) + 1.0,
                        y: through[0].y.max(through[1].y) + 1.0,
                    },
                };
                if area.meets(&line) {
                    wrong.push(format!("{a:?} over {:?}", piece.of));
                }
            }
        }
        assert!(wrong.is_empty(), "{}: {wrong:#?}", vehicle.id);
    });
}

/// How people count, not how machines sort.
#[test]
fn names_are_in_the_order_in_which_one_looks_for_them() {
    let mut names = ["K10", "bat", "K2", "F9", "K2b", "F10", "K", "w_k3_87"];
    names.sort_by_key(|name| tracebay_diagram::in_order(name));
    let expected = ["F9", "F10", "K", "K2", "K2b", "K10", "bat", "w_k3_87"];
    assert_eq!(names, expected);
}

/// No part lies where the pointer means another: what stands in a symbol's own place is found there.
#[test]
fn a_pointer_on_a_symbol_means_that_part() {
    each_vehicle(|vehicle| {
        let drawing = whole(vehicle, 4200.0);
        for thing in &drawing.things {
            if matches!(thing.symbol, None | Some(Symbol::Unit)) {
                continue;
            }
            // The line of the symbol's column, in the middle of its height.
            let left = match thing.symbol {
                Some(Symbol::Terminal) => 10.0,
                Some(Symbol::Frame) => 20.0,
                _ => 24.0,
            };
            let on = At {
                x: thing.area.min.x + left,
                y: f64::midpoint(thing.area.min.y, thing.area.max.y),
            };
            let found = drawing.at(on).map(|t| &t.of);
            assert_eq!(found, Some(&thing.of), "{}: {on:?}", vehicle.id);
        }
    });
}

/// A note on anything leads to a circuit in which it is drawn.
#[test]
fn everything_is_found_in_some_circuit() {
    each_vehicle(|vehicle| {
        let parts = vehicle.parts.keys().map(|id| Of::Part(id.clone()));
        let wires = vehicle.wires.keys().map(|id| Of::Wire(id.clone()));
        for of in parts.chain(wires) {
            let id = tracebay_diagram::circuit_with(vehicle, &of);
            let drawing = circuit(vehicle, &id.unwrap()).unwrap();
            assert!(drawing.things.iter().any(|t| t.of == of), "{of:?}");
        }
    });
}
