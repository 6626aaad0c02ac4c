//! Signs of a learner's notes over a drawing. Each kind has a shape of its own, so that colour is never the
//! only sign, and the number under which the note is listed.

use crate::notes::{Mark, Notes};
use crate::piece::{Anchor, Area, At, Drawing, Fill, Pen, Piece, Shape, TextSize, at};

const HALF: f64 = 8.0;

/// Signs for all that is noted in this drawing.
pub fn signs(drawing: &Drawing, notes: &Notes) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for thing in &drawing.things {
        let Some((number, note)) = notes.find(&thing.of) else {
            continue;
        };
        let mut put = |shape: Shape| {
            let of = Some(thing.of.clone());
            pieces.push(Piece { shape, of });
        };
        for shape in sign(note.mark, thing.sign) {
            put(shape);
        }
        put(Shape::Text {
            at: at(thing.sign.x - HALF - 4.0, thing.sign.y + 4.0),
            text: number.to_string(),
            size: TextSize::Small,
            anchor: Anchor::End,
        });
    }
    pieces
}

/// The sign of a mark: a circle with a tick, a lozenge with a question mark, a leaf of paper.
pub fn sign(mark: Mark, middle: At) -> Vec<Shape> {
    let At { x, y } = middle;
    match mark {
        Mark::Good => vec![
            Shape::Circle {
                centre: middle,
                radius: HALF,
                fill: Fill::Paper,
                pen: Pen::Good,
            },
            Shape::Line {
                through: vec![at(x - 4.0, y), at(x - 1.0, y + 3.5), at(x + 4.0, y - 3.5)],
                pen: Pen::Good,
            },
        ],
        Mark::Suspect => vec![
            Shape::Line {
                through: vec![
                    at(x, y - HALF - 2.0),
                    at(x + HALF + 2.0, y),
                    at(x, y + HALF + 2.0),
                    at(x - HALF - 2.0, y),
                    at(x, y - HALF - 2.0),
                ],
                pen: Pen::Suspect,
            },
            Shape::Text {
                at: at(x, y + 4.0),
                text: "?".to_owned(),
                size: TextSize::Label,
                anchor: Anchor::Middle,
            },
        ],
        Mark::Noted => vec![
            Shape::Rect {
                area: Area {
                    min: at(x - 6.0, y - HALF),
                    max: at(x + 6.0, y + HALF),
                },
                fill: Fill::Paper,
                pen: Pen::Noted,
            },
            Shape::Line {
                through: vec![at(x - 3.0, y - 2.0), at(x + 3.0, y - 2.0)],
                pen: Pen::Noted,
            },
            Shape::Line {
                through: vec![at(x - 3.0, y + 2.0), at(x + 3.0, y + 2.0)],
                pen: Pen::Noted,
            },
        ],
    }
}
