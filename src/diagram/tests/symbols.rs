//! Symbols against what IEC 60617 draws, from memory, and terminals against DIN 72552 and ISO 7588, from
//! memory. Each check looks at the shapes that the drawing really has, not at their names.

use tracebay_core::vehicle::{Kind, Vehicle};
use tracebay_diagram::piece::{Area, At, Drawing, Fill, Pen, Piece, Shape};
use tracebay_diagram::{Of, Symbol, circuit, whole};
use tracebay_shelf::Data;

fn vehicle(id: &str) -> Vehicle {
    let (catalogue, _) = Data::built_in().catalogue();
    (*catalogue.vehicles[id]).clone()
}

/// Shapes of a part's own symbol of this kind, in this drawing.
fn shapes<'a>(drawing: &'a Drawing, id: &str, symbol: Symbol) -> Vec<&'a Shape> {
    let of = Of::Part(id.to_owned());
    let thing = drawing
        .things
        .iter()
        .find(|t| t.of == of && t.symbol == Some(symbol))
        .unwrap_or_else(|| panic!("{id} has no {symbol:?}"));
    // Its leads reach a little beyond its area, and what moves it stands to the left.
    let near = Area {
        min: At {
            x: thing.area.min.x - 12.0,
            y: thing.area.min.y - 5.0,
        },
        max: At {
            x: thing.area.max.x,
            y: thing.area.max.y + 5.0,
        },
    };
    let own = |piece: &&Piece| piece.of.as_ref() == Some(&of);
    let shapes = drawing.pieces.iter().filter(own).map(|p| &p.shape);
    shapes.filter(|s| near.holds(first(s))).collect()
}

fn first(shape: &Shape) -> At {
    match shape {
        Shape::Line { through, .. } => through[0],
        Shape::Rect { area, .. } => area.min,
        Shape::Circle { centre, .. } => *centre,
        Shape::Text { at, .. } => *at,
    }
}

fn rects(shapes: &[&Shape]) -> Vec<Area> {
    let rect = |s: &&Shape| match s {
        Shape::Rect { area, .. } => Some(*area),
        _ => None,
    };
    shapes.iter().filter_map(rect).collect()
}

fn circles(shapes: &[&Shape], fill: Fill) -> Vec<(At, f64)> {
    let circle = |s: &&Shape| match s {
        Shape::Circle {
            centre,
            radius,
            fill: f,
            ..
        } if *f == fill => Some((*centre, *radius)),
        _ => None,
    };
    shapes.iter().filter_map(circle).collect()
}

fn strokes<'a>(shapes: &[&'a Shape]) -> Vec<&'a [At]> {
    let line = |s: &&'a Shape| match s {
        Shape::Line {
            through,
            pen: Pen::Symbol,
        } => Some(through.as_slice()),
        _ => None,
    };
    shapes.iter().filter_map(line).collect()
}

fn letters(shapes: &[&Shape]) -> Vec<String> {
    let text = |s: &&Shape| match s {
        Shape::Text { text, .. } => Some(text.clone()),
        _ => None,
    };
    shapes.iter().filter_map(text).collect()
}

fn upright(line: &[At]) -> bool {
    (line[0].x - line[1].x).abs() < 0.01
}

/// IEC 60617 (from memory): a fuse is a rectangle with its conductor drawn through; a resistor is a rectangle
/// without.
#[test]
fn a_conductor_runs_through_a_fuse_and_not_through_a_resistor() {
    let car = vehicle("pellam-quist");
    let crosses = |id: &str, symbol: Symbol| {
        let drawing = circuit(&car, id).unwrap();
        let shapes = shapes(&drawing, id, symbol);
        let boxes = rects(&shapes);
        assert_eq!(boxes.len(), 1, "{id}");
        assert!(boxes[0].max.y - boxes[0].min.y > boxes[0].max.x - boxes[0].min.x);
        let y = f64::midpoint(boxes[0].min.y, boxes[0].max.y);
        strokes(&shapes)
            .iter()
            .filter(|l| upright(l))
            .any(|l| l[0].y < y + 0.5 && l[1].y > y - 0.5)
    };
    let clutch = circuit(&car, "K3").unwrap();
    let fuse = shapes(&clutch, "F9", Symbol::Fuse);
    let boxes = rects(&fuse);
    assert_eq!(boxes.len(), 1);
    let through = strokes(&fuse)
        .into_iter()
        .map(|l| (l[0].y.min(l[1].y), l[0].y.max(l[1].y)))
        .fold((f64::MAX, f64::MIN), |a, b| (a.0.min(b.0), a.1.max(b.1)));
    assert!(through.0 < boxes[0].min.y && through.1 > boxes[0].max.y);
    assert_eq!(strokes(&fuse).len(), 1, "the conductor has no gap");
    assert!(!crosses("radio", Symbol::Resistor));
}

/// IEC 60617 (from memory): lamp, a circle with a cross; motor, a circle with M; generator, a circle with G.
#[test]
fn lamps_have_a_cross_and_machines_a_letter() {
    let car = vehicle("pellam-quist");
    let drawing = whole(&car, 4000.0);
    let lamp = shapes(&drawing, "dip_left", Symbol::Lamp);
    let (centre, radius) = circles(&lamp, Fill::Open)[0];
    let slanted: Vec<_> = strokes(&lamp).into_iter().filter(|l| !upright(l)).collect();
    assert_eq!(slanted.len(), 2);
    for line in &slanted {
        for end in [line[0], line[1]] {
            let away = (end.x - centre.x).hypot(end.y - centre.y);
            assert!((away - radius).abs() < 0.2, "the cross ends on the circle");
        }
    }
    for (id, symbol, letter) in [
        ("blower_motor", Symbol::Motor, "M"),
        ("alt", Symbol::Generator, "G"),
    ] {
        let machine = shapes(&drawing, id, symbol);
        assert_eq!(circles(&machine, Fill::Open).len(), 1, "{id}");
        assert!(letters(&machine).iter().any(|l| l == letter), "{id}");
    }
}

/// IEC 60617 (from memory): at rest the blade of a make contact stands off its fixed contact, that of a break
/// contact touches it; a broken line runs from the coil to what it moves. ISO 7588 and DIN 72552 (from memory):
/// 85 and 86 are the coil, 30 the common contact, 87 closes, 87a opens.
#[test]
fn contacts_are_drawn_at_rest_and_bear_their_numbers() {
    let board = vehicle("relay-board");
    let drawing = circuit(&board, "K2").unwrap();
    for (symbol, touches) in [(Symbol::MakeContact, false), (Symbol::BreakContact, true)] {
        let contact = shapes(&drawing, "K2", symbol);
        let lines = strokes(&contact);
        let blade = lines
            .iter()
            .find(|l| !upright(l) && (l[0].y - l[1].y).abs() > 5.0)
            .expect("a blade");
        let tip = if (blade[0].x - lines[0][0].x).abs() < 0.01 {
            blade[1]
        } else {
            blade[0]
        };
        // Fixed contact: the lead on the blade's far side, with its stub if it has one.
        let met = lines.iter().filter(|l| *l != blade).any(|l| {
            let (left, right) = (l[0].x.min(l[1].x), l[0].x.max(l[1].x));
            let level = (l[0].y - l[1].y).abs() < 0.01;
            level && tip.x > left && tip.x < right + 1.0 && (tip.y - l[0].y).abs() < 4.0
        });
        assert_eq!(met, touches, "{symbol:?}");
    }
    let coil = shapes(&drawing, "K2", Symbol::Coil);
    let boxes = rects(&coil);
    assert!(boxes[0].max.x - boxes[0].min.x > boxes[0].max.y - boxes[0].min.y);
    let link = drawing.pieces.iter().any(|p| {
        matches!(&p.shape, Shape::Line { pen: Pen::Link, through } if through[0].y == through[1].y)
            && p.of == Some(Of::Part("K2".into()))
    });
    assert!(link);
    for pin in ["30", "85", "86", "87", "87a"] {
        let of = Some(Of::Terminal(format!("K2.{pin}")));
        let named =
            |p: &&Piece| p.of == of && matches!(&p.shape, Shape::Text { text, .. } if text == pin);
        assert!(drawing.pieces.iter().any(|p| named(&p)), "{pin}");
    }
}

/// Trade fact (common practice, no source): the diode across a coil lets no current pass from the fed terminal,
/// so its cathode (the bar) is at the fed end. The vehicle file's words: cathode to terminal 86.
#[test]
fn the_bar_of_a_diode_is_at_the_fed_end() {
    let car = vehicle("pellam-quist");
    let drawing = circuit(&car, "K3").unwrap();
    for (id, symbol) in [("K3", Symbol::Coil), ("clutch_coil", Symbol::ClutchCoil)] {
        let coil = shapes(&drawing, id, symbol);
        let triangle = strokes(&coil)
            .into_iter()
            .find(|l| l.len() == 4 && l[0] == l[3])
            .expect("a diode");
        let tip = triangle[2];
        assert!(triangle[0].y > tip.y, "{id}: it points to the feed above");
        let bar = strokes(&coil).into_iter().any(|l| {
            l.len() == 2 && l[0].y == tip.y && l[1].y == tip.y && l[0].x < tip.x && l[1].x > tip.x
        });
        assert!(bar, "{id}");
    }
}

/// IEC 60617 (from memory): frame or chassis is a bar with slanted strokes below; battery: the longer stroke is
/// the positive pole.
#[test]
fn ends_and_sources_are_drawn_as_they_are_known() {
    let car = vehicle("pellam-quist");
    let drawing = whole(&car, 4000.0);
    let frame = shapes(&drawing, "G2", Symbol::Frame);
    let strokes_of = strokes(&frame);
    let slanted = strokes_of
        .iter()
        .filter(|l| l[0].x != l[1].x && l[0].y != l[1].y);
    assert!(slanted.count() >= 3);
    let battery = shapes(&drawing, "bat", Symbol::Battery);
    let mut plates: Vec<_> = strokes(&battery)
        .into_iter()
        .filter(|l| l[0].y == l[1].y)
        .collect();
    plates.sort_by(|a, b| a[0].y.total_cmp(&b[0].y));
    let long = |l: &[At]| (l[1].x - l[0].x).abs();
    // The positive terminal is above.
    assert!(long(plates[0]) > long(plates[1]));
}

/// A technician reads terminals off the drawing: every symbol with two ends bears both of their numbers.
#[test]
fn no_symbol_is_without_its_terminals() {
    let (catalogue, _) = Data::built_in().catalogue();
    for car in catalogue.vehicles.values() {
        let drawing = whole(car, 4000.0);
        for (id, part) in &car.parts {
            if matches!(part.kind, Kind::Splice { .. } | Kind::BusBar { .. }) {
                continue;
            }
            for pin in part.kind.pins() {
                let name = format!("{id}.{pin}");
                let wired = car.wires.values().any(|w| w.from == name || w.to == name);
                if !wired {
                    continue;
                }
                let of = Some(Of::Terminal(name.clone()));
                let named = drawing
                    .pieces
                    .iter()
                    .any(|p| p.of == of && matches!(p.shape, Shape::Text { .. }));
                assert!(named, "{}: {name}", car.id);
            }
        }
    }
}
