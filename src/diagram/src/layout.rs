//! Where things go on a sheet: current paths from the feed above to the ground below.
//!
//! Knows rows and columns; [`super::symbols`] knows what things look like.

use tracebay_core::vehicle::{Kind, Vehicle, Wire, split_pin};

use crate::colour::WireColour;
use crate::piece::{Anchor, Area, Drawing, Fill, Of, Pen, Symbol, TextSize, Thing, at};
use crate::symbols::{self, Brush};
use crate::trace::{Circuit, Item, Path, Tree, columns};

/// Height of a row, units.
const ROW: f64 = 66.0;
/// What a column needs to the left of its line: hands of switches, signs of notes.
const LEFT: f64 = 46.0;
/// A letter's width in its height, at most on average.
const LETTER: f64 = 0.56;
const MARGIN: f64 = 46.0;
/// Between circuits side by side.
const BETWEEN: f64 = 30.0;
/// Space for a circuit's name.
const HEAD: f64 = 34.0;
/// Longest line of a part's label, letters.
const LINE: usize = 24;

/// A sheet with these circuits side by side until it is this wide, then below.
pub fn sheet(vehicle: &Vehicle, circuits: &[Circuit], widest: f64) -> Drawing {
    let mut drawing = Drawing::default();
    let (mut left, mut top) = (MARGIN, 10.0);
    let mut deepest: f64 = 0.0;
    for circuit in circuits {
        let sheet = Sheet {
            vehicle,
            drawing: &mut drawing,
        };
        let wide = sheet.width(circuit);
        if left > MARGIN && left + wide > widest {
            left = MARGIN;
            top += deepest + 34.0;
            deepest = 0.0;
        }
        let name = crate::title(vehicle, &circuit.id);
        let mut sheet = Sheet {
            vehicle,
            drawing: &mut drawing,
        };
        sheet
            .brush(None)
            .text(left, top + 14.0, &name, TextSize::Circuit, Anchor::Start);
        // A feed's terminal leaves the upper half of its row empty.
        let fed = circuit.paths.iter().any(|p| !p.feed.is_empty());
        let head = if fed { HEAD - 26.0 } else { HEAD };
        let deep = sheet.circuit(circuit, left + LEFT, top + head);
        // A long name must not run into the next circuit.
        let wide = wide.max(name.chars().count() as f64 * 8.0);
        drawing.width = drawing.width.max(left + wide + 10.0);
        left += wide + BETWEEN;
        deepest = deepest.max(HEAD + deep);
    }
    drawing.height = top + deepest + 10.0;
    drawing
}

struct Sheet<'a> {
    vehicle: &'a Vehicle,
    drawing: &'a mut Drawing,
}

impl Sheet<'_> {
    fn brush(&mut self, of: Option<Of>) -> Brush<'_> {
        Brush {
            pieces: &mut self.drawing.pieces,
            of,
        }
    }

    /// Width of a circuit, from the left of its first column.
    fn width(&self, circuit: &Circuit) -> f64 {
        let above: f64 = circuit.paths.iter().map(|p| self.path_width(p)).sum();
        let below = circuit.below.iter();
        let below: f64 = below.map(|(_, trees)| self.trees_width(trees)).sum();
        let name = letters(&crate::title(self.vehicle, &circuit.id), TextSize::Label);
        let name = if circuit.around_unit() {
            name + 80.0
        } else {
            0.0
        };
        above.max(below).max(name)
    }

    fn path_width(&self, path: &Path) -> f64 {
        let feed = path.feed.iter().map(|item| self.item_width(item));
        feed.fold(self.tree_width(&path.load), f64::max)
    }

    fn tree_width(&self, tree: &Tree) -> f64 {
        self.item_width(&tree.item)
            .max(self.trees_width(&tree.then))
    }

    fn trees_width(&self, trees: &[Tree]) -> f64 {
        let all: f64 = trees.iter().map(|tree| self.tree_width(tree)).sum();
        all.max(LEFT + 50.0)
    }

    /// Width of a column with this in it, from what stands left of its line to the end of its texts.
    fn item_width(&self, item: &Item) -> f64 {
        let small = |text: &str| letters(text, TextSize::Small);
        let label = |id: &str| {
            let part = self.vehicle.parts.get(id);
            let lines = part.map(|p| wrapped(&p.label)).unwrap_or_default();
            lines.iter().map(|line| small(line)).fold(0.0, f64::max)
        };
        let right = match item {
            Item::Wire(id) => {
                let wire = self.vehicle.wires.get(id);
                // The terminal at which it meets the next may be named as well.
                let ends = wire.map_or(0.0, |w| small(&w.from).max(small(&w.to)));
                let text = wire.map_or(0.0, |w| small(&wire_text(w)));
                7.0 + ends.max(text).max(small(id))
            }
            Item::Part { id, pins } => {
                let part = self.vehicle.parts.get(id);
                let reach = part.map_or(0.0, |p| {
                    symbols::reach(&p.kind, symbols::symbol(&p.kind, (&pins.0, &pins.1)))
                });
                reach + 6.0 + letters(id, TextSize::Label).max(label(id))
            }
            Item::End { id, pin } => {
                let name = letters(&format!("{pin} ({id})"), TextSize::Label);
                18.0 + name.max(label(id))
            }
        };
        LEFT + right + 8.0
    }

    /// Draws a circuit with its first column at `x`; its height.
    fn circuit(&mut self, circuit: &Circuit, x: f64, y: f64) -> f64 {
        let paths = &circuit.paths;
        let rows = paths.iter().map(|p| p.feed.len()).max().unwrap_or(0);
        let root = y + rows as f64 * ROW;
        let shared: Vec<Option<(usize, usize)>> =
            (0..paths.len()).map(|i| shares_feed(paths, i)).collect();
        let mut at_x = x;
        let mut xs = Vec::new();
        let mut deep = 0;
        for (i, path) in paths.iter().enumerate() {
            xs.push(at_x);
            let from = shared[i].map_or(0, |(_, rows)| rows);
            let branches_at_end = shared
                .iter()
                .any(|s| *s == Some((i, path.feed.len())) && path.feed.len() < rows);
            self.feed(path, from, at_x, (y, root), branches_at_end);
            if circuit.around_unit() {
                at_x += self.path_width(path);
                continue;
            }
            deep = deep.max(self.tree(&path.load, at_x, root, false));
            at_x += self.path_width(path);
        }
        for (i, from) in shared.iter().enumerate() {
            let Some((first, row)) = *from else { continue };
            let whole = row == paths[i].feed.len();
            let level = if whole { root } else { y + row as f64 * ROW };
            let corner = [at(xs[first], level), at(xs[i], level)];
            let further = shared[i + 1..].contains(&shared[i]);
            let mut brush = self.brush(None);
            brush.stroke(&corner, Pen::Join);
            brush.circle(xs[first], level, 2.8, Fill::Solid);
            if further {
                brush.circle(xs[i], level, 2.8, Fill::Solid);
            }
        }
        if circuit.around_unit() {
            deep = 1 + self.unit(circuit, &xs, x, root);
        } else {
            self.moved_with(circuit, &xs, root);
        }
        (rows + deep) as f64 * ROW + 14.0
    }

    /// A path's feed from its `from`th item on; its last wire reaches down to the root.
    fn feed(&mut self, path: &Path, from: usize, x: f64, (y, root): (f64, f64), joint: bool) {
        let last = path.feed.len();
        for (i, item) in path.feed.iter().enumerate().skip(from) {
            let top = y + i as f64 * ROW;
            let end = if i + 1 == last && !joint {
                root
            } else {
                top + ROW
            };
            self.item(item, x, top, end, true);
            if let (Item::Wire(wire), Some(Item::Wire(before))) =
                (item, i.checked_sub(1).and_then(|i| path.feed.get(i)))
            {
                self.meeting(before, wire, x, top);
            }
        }
        let bottom = y + last as f64 * ROW;
        if joint && bottom < root {
            self.brush(None)
                .stroke(&[at(x, bottom), at(x, root)], Pen::Join);
        }
    }

    /// Names the terminal at which two wires of a feed meet, with no way through a part between them.
    fn meeting(&mut self, above: &str, below: &str, x: f64, y: f64) {
        let wires = &self.vehicle.wires;
        let (Some(a), Some(b)) = (wires.get(above), wires.get(below)) else {
            return;
        };
        let pins = [&a.from, &a.to];
        let shared = pins.into_iter().find(|pin| [&b.from, &b.to].contains(pin));
        let Some((id, pin)) = shared.and_then(|pin| split_pin(pin)) else {
            return;
        };
        let name = format!("{id}.{pin}");
        let mut brush = self.brush(Some(Of::Terminal(name.clone())));
        brush.circle(x, y, 2.8, Fill::Solid);
        brush.text(x + 7.0, y - 5.0, &name, TextSize::Small, Anchor::Start);
        self.joined_at(id, pin, x, y);
    }

    /// A broken line from a relay's coil to what it moves.
    fn moved_with(&mut self, circuit: &Circuit, xs: &[f64], root: f64) {
        let ways: Vec<(f64, &str)> = circuit
            .paths
            .iter()
            .zip(xs)
            .filter_map(|(path, x)| match &path.load.item {
                Item::Part { id, pins } if *id == circuit.id => Some((*x, pins.0.as_str())),
                _ => None,
            })
            .collect();
        let Some((coil, _)) = ways.iter().find(|(_, pin)| matches!(*pin, "85" | "86")) else {
            return;
        };
        let contacts = ways.iter().filter(|(_, pin)| *pin == "30");
        let Some((first, _)) = contacts.clone().next() else {
            return;
        };
        let y = root + ROW / 2.0;
        let of = Some(Of::Part(circuit.id.clone()));
        self.brush(of)
            .stroke(&[at(first - 4.0, y), at(coil - 16.0, y)], Pen::Link);
    }

    /// The box of a unit with its terminals, and what hangs from it; rows below the box.
    fn unit(&mut self, circuit: &Circuit, above: &[f64], x: f64, y: f64) -> usize {
        let wide = self.width(circuit);
        let id = &circuit.id;
        let area = Area {
            min: at(x - 30.0, y),
            max: at(x - LEFT + wide, y + ROW),
        };
        let mut brush = self.brush(Some(Of::Part(id.clone())));
        brush.put(crate::piece::Shape::Rect {
            area,
            fill: Fill::Paper,
            pen: Pen::Symbol,
        });
        let name = crate::title(self.vehicle, id);
        let mut brush = self.brush(Some(Of::Part(id.clone())));
        brush.text(
            x - 20.0,
            y + ROW / 2.0 + 4.0,
            &name,
            TextSize::Label,
            Anchor::Start,
        );
        self.thing(
            Of::Part(id.clone()),
            Some(Symbol::Unit),
            area,
            (area.max.x - 16.0, y + ROW / 2.0),
        );
        for (path, x) in circuit.paths.iter().zip(above) {
            if let Item::End { id, pin } = &path.load.item {
                self.terminal_name(id, pin, *x, y + 13.0, Anchor::Middle);
                self.joined_at(id, pin, *x, y);
            }
        }
        let bottom = y + ROW;
        let mut at_x = x;
        let mut deep = 0;
        for (pin, trees) in &circuit.below {
            self.terminal_name(id, pin, at_x, bottom - 6.0, Anchor::Middle);
            self.joined_at(id, pin, at_x, bottom);
            let lead = bottom + 14.0;
            if !trees.is_empty() {
                let mut brush = self.brush(None);
                brush.stroke(&[at(at_x, bottom), at(at_x, lead)], Pen::Join);
            }
            deep = deep.max(self.branches(trees, at_x, lead));
            at_x += self.trees_width(trees);
        }
        deep
    }

    /// Draws a tree; the rows it takes.
    fn tree(&mut self, tree: &Tree, x: f64, y: f64, below: bool) -> usize {
        self.item(&tree.item, x, y, y + ROW, !below && !tree.then.is_empty());
        if let Item::Part { id, pins } = &tree.item
            && pins.1.is_empty()
            && !tree.then.is_empty()
        {
            let mut brush = self.brush(Some(Of::Part(id.clone())));
            brush.line(x, y + ROW / 2.0, x, y + ROW);
        }
        1 + self.branches(&tree.then, x, y + ROW)
    }

    /// Draws what follows a point, side by side; the rows it takes.
    fn branches(&mut self, trees: &[Tree], x: f64, y: f64) -> usize {
        let mut deep = 0;
        let mut at_x = x;
        // The narrow ones first, so that no join runs on over a wide tree.
        let mut order: Vec<&Tree> = trees.iter().collect();
        order.sort_by_key(|tree| columns(tree));
        for (i, child) in order.into_iter().enumerate() {
            deep = deep.max(self.tree(child, at_x, y, true));
            if i > 0 {
                let mut brush = self.brush(None);
                brush.stroke(&[at(x, y), at(at_x, y)], Pen::Join);
            }
            if i + 1 < trees.len() {
                self.brush(None).circle(at_x, y, 2.8, Fill::Solid);
            }
            at_x += self.tree_width(child);
        }
        deep
    }

    /// Draws an item from `y` down to `end`; `above` where current comes from it.
    fn item(&mut self, item: &Item, x: f64, y: f64, end: f64, above: bool) {
        match item {
            Item::Wire(id) => self.wire(id, x, y, end),
            Item::Part { id, pins } => self.part(id, (&pins.0, &pins.1), x, y),
            Item::End { id, pin } => self.end(id, pin, x, y, above),
        }
    }

    fn wire(&mut self, id: &str, x: f64, y: f64, end: f64) {
        let Some(wire) = self.vehicle.wires.get(id) else {
            return;
        };
        let of = Of::Wire(id.to_owned());
        let text = wire_text(wire);
        let wide = self.item_width(&Item::Wire(id.to_owned())) - LEFT;
        let mut brush = self.brush(Some(of.clone()));
        let pen = Pen::Wire(WireColour::of(&wire.colour));
        brush.stroke(&[at(x, y), at(x, end)], pen);
        let middle = y + ROW / 2.0;
        brush.text(x + 7.0, middle - 2.0, &text, TextSize::Small, Anchor::Start);
        brush.text(x + 7.0, middle + 10.0, id, TextSize::Small, Anchor::Start);
        let area = Area {
            min: at(x - 12.0, y + 4.0),
            max: at(x + wide, end - 4.0),
        };
        self.thing(of, None, area, (x - 15.0, middle));
    }

    fn part(&mut self, id: &str, pins: (&str, &str), x: f64, y: f64) {
        let vehicle = self.vehicle;
        let Some(part) = vehicle.parts.get(id) else {
            return;
        };
        let of = Of::Part(id.to_owned());
        let symbol = symbols::symbol(&part.kind, pins);
        let wide = self.item_width(&Item::Part {
            id: id.to_owned(),
            pins: (pins.0.to_owned(), pins.1.to_owned()),
        }) - LEFT;
        let mut brush = self.brush(Some(of.clone()));
        symbols::part(&mut brush, &part.kind, pins, x, y, ROW);
        let right = x + symbols::reach(&part.kind, symbol) + 6.0;
        let middle = y + ROW / 2.0;
        // A contact is named in short: the broken line to its coil runs where a label would be.
        let contact = matches!(symbol, Symbol::MakeContact | Symbol::BreakContact);
        let name = if contact { middle - 5.0 } else { middle - 3.0 };
        brush.text(right, name, id, TextSize::Label, Anchor::Start);
        if !contact {
            for (i, line) in wrapped(&part.label).iter().enumerate() {
                let y = middle + 9.0 + 11.0 * i as f64;
                brush.text(right, y, line, TextSize::Small, Anchor::Start);
            }
        }
        if symbol != Symbol::Junction {
            self.joined_at(id, pins.0, x, y);
            self.joined_at(id, pins.1, x, y + ROW);
            self.terminal_name(id, pins.0, x + 5.0, y + 11.0, Anchor::Start);
            self.terminal_name(id, pins.1, x + 5.0, y + ROW - 4.0, Anchor::Start);
        }
        let area = Area {
            min: at(x - 24.0, y + 4.0),
            max: at(x + wide, y + ROW - 4.0),
        };
        self.thing(of, Some(symbol), area, (x - 31.0, middle - 16.0));
    }

    fn terminal_name(&mut self, id: &str, pin: &str, x: f64, y: f64, anchor: Anchor) {
        if !pin.is_empty() {
            self.brush(Some(Of::Terminal(format!("{id}.{pin}")))).text(
                x,
                y,
                pin,
                TextSize::Small,
                anchor,
            );
        }
    }

    fn end(&mut self, id: &str, pin: &str, x: f64, y: f64, above: bool) {
        let vehicle = self.vehicle;
        let part = vehicle.parts.get(id);
        let kind = part.map(|p| &p.kind);
        let of = Of::Part(id.to_owned());
        let full = format!("{id}.{pin}");
        let terminal = Some(Of::Terminal(full.clone()));
        self.joined_at(id, pin, x, if above { y + ROW } else { y });
        if matches!(kind, Some(Kind::GroundStud { .. })) && !above {
            symbols::frame(&mut self.brush(Some(of.clone())), x, y);
            self.brush(terminal)
                .text(x + 18.0, y + 22.0, &full, TextSize::Label, Anchor::Start);
            let area = Area {
                min: at(x - 20.0, y),
                max: at(x + 70.0, y + 28.0),
            };
            self.thing(of, Some(Symbol::Frame), area, (x - 28.0, y + 14.0));
            return;
        }
        let name = match kind {
            Some(Kind::BusBar { .. }) => format!("30 ({id})"),
            Some(Kind::Battery { .. }) => {
                let pole = if pin == "pos" { "+" } else { "\u{2212}" };
                format!("{pole} ({id})")
            }
            Some(Kind::Switch { .. }) => format!("{pin} ({id})"),
            _ => full.clone(),
        };
        let mut brush = self.brush(terminal);
        let base = symbols::terminal(&mut brush, x, y, ROW, above);
        brush.text(x + 8.0, base, &name, TextSize::Label, Anchor::Start);
        let lines = part.map(|p| wrapped(&p.label)).unwrap_or_default();
        for (i, line) in lines.iter().take(2).enumerate() {
            let y = base + 11.0 + 11.0 * i as f64;
            brush.text(x + 8.0, y, line, TextSize::Small, Anchor::Start);
        }
        let area = Area {
            min: at(x - 10.0, base - 12.0),
            max: at(x + 120.0, base + 22.0),
        };
        self.thing(of, Some(Symbol::Terminal), area, (x - 17.0, base));
    }

    fn joined_at(&mut self, id: &str, pin: &str, x: f64, y: f64) {
        self.drawing
            .terminals
            .push((format!("{id}.{pin}"), at(x, y)));
    }

    fn thing(&mut self, of: Of, symbol: Option<Symbol>, area: Area, sign: (f64, f64)) {
        self.drawing.things.push(Thing {
            of,
            symbol,
            area,
            sign: at(sign.0, sign.1),
        });
    }
}

/// Which earlier path draws the beginning of this one's feed, and how many of its items.
fn shares_feed(paths: &[Path], i: usize) -> Option<(usize, usize)> {
    let mine = &paths[i].feed;
    let mut best: Option<(usize, usize)> = None;
    for (k, path) in paths[..i].iter().enumerate() {
        let same = mine.iter().zip(&path.feed).take_while(|(a, b)| a == b);
        let same = same.count();
        if same > best.map_or(0, |(_, most)| most) {
            best = Some((k, same));
        }
    }
    best
}

fn letters(text: &str, size: TextSize) -> f64 {
    text.chars().count() as f64 * size.units() * LETTER
}

/// Colour and cross-section of a wire.
fn wire_text(wire: &Wire) -> String {
    let size = match wire.awg {
        Some(gauge) => format!("AWG {gauge}"),
        None => format!("{} mm\u{b2}", wire.mm2),
    };
    format!("{} {size}", wire.colour)
}

/// A label in lines of at most some twenty letters.
fn wrapped(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.chars().count() + word.chars().count() < LINE => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
