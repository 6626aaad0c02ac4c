//! A board to learn on: the flat case that everything stands on, its switches, and the wires laid
//! over it in the open.
//!
//! Frame: foot at y = 0, x to the reader's right, z towards the reader.

use super::bench::post;
use super::cabin::control;
use super::curve::bent;
use super::follow::{Follow, Slides, Turns};
use super::labels;
use super::material::{KitAssets, Mat, Rgb};
use super::part::{PartBuilder, SpawnedPart};
use super::solids::*;
use super::state::{KeyTurn, Pressed};
use bevy::prelude::*;

/// Height of the case's top, metres: a fuse box stands in it up to its deck.
pub const TOP: f32 = 0.056;

/// Colour of the case's top.
const GROUND: Rgb = [206, 200, 184];

/// How far the outermost ends of a switch are from its middle, metres.
const ENDS_OUT: f32 = 0.058;
/// How far the lugs of the return post are apart, metres.
const LUGS_APART: f32 = 0.026;

/// How far each of a switch's ends is to the right of its middle, metres.
pub fn switch_ends(count: usize) -> Vec<f32> {
    let steps = count.max(2) as f32 - 1.0;
    (0..count)
        .map(|i| (i as f32 / steps * 2.0 - 1.0) * ENDS_OUT)
        .collect()
}

/// How far each lug of the return post is to the right of its post, metres.
pub fn lugs(count: usize) -> Vec<f32> {
    (1..=count).map(|n| LUGS_APART * n as f32).collect()
}

/// Degrees from one position of a switch to the next.
const STEP_DEG: f32 = 42.0;

/// The case, of this size (x, z).
pub fn case(size: Vec2) -> PartBuilder {
    let mut b = PartBuilder::new();
    let wood = Mat::Satin([168, 130, 84]);
    b.add(
        Mat::Satin(GROUND),
        rounded_box(Vec3::new(size.x - 0.02, TOP, size.y - 0.02), 0.001).mv(0.0, TOP * 0.5, 0.0),
    );
    for s in [-1.0f32, 1.0] {
        b.add(
            wood,
            rounded_box(Vec3::new(size.x, TOP + 0.004, 0.012), 0.002).mv(
                0.0,
                (TOP + 0.004) * 0.5,
                s * (size.y * 0.5 - 0.006),
            ),
        );
        b.add(
            wood,
            rounded_box(Vec3::new(0.012, TOP + 0.004, size.y), 0.002).mv(
                s * (size.x * 0.5 - 0.006),
                (TOP + 0.004) * 0.5,
                0.0,
            ),
        );
    }
    b
}

/// Letters on the board, their middle at `at`.
fn letters(b: &mut PartBuilder, kit: &mut KitAssets, text: &str, height: f32, at: Vec3) {
    let ink = labels::print(kit, text, GROUND, [14, 15, 18]);
    let wide = height * labels::lettering_aspect(text);
    b.add_own(
        ink,
        decal(wide, height)
            .turn(Vec3::X, -90.0)
            .mv(at.x, at.y, at.z),
    );
}

/// A small post beside a switch or lamp, with its terminal's number; names the anchor.
fn terminal(b: &mut PartBuilder, kit: &mut KitAssets, name: &str, at: Vec3, colour: Rgb) {
    post(b, at, colour);
    b.anchor_out(name, at + Vec3::Y * 0.024, Vec3::Y);
    letters(b, kit, name, 0.014, at + Vec3::new(0.0, 0.0006, 0.0185));
}

/// A switch turned by a knob. State [`KeyTurn`] on its piece `knob`; anchors by terminal.
pub fn turn_switch(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    title: &str,
    marks: &[String],
    terminals: &[String],
) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Plastic([48, 50, 54]),
        lathe(
            &[(0.024, 0.0), (0.024, 0.004), (0.021, 0.006), (0.0, 0.006)],
            28,
        ),
    );
    letters(&mut b, kit, title, 0.016, Vec3::new(0.0, 0.0006, 0.046));
    let middle = (marks.len() as f32 - 1.0) * 0.5;
    for (i, mark) in marks.iter().enumerate() {
        let turn = ((i as f32 - middle) * STEP_DEG).to_radians();
        let at = Vec3::new(turn.sin() * 0.038, 0.0006, -turn.cos() * 0.036);
        letters(&mut b, kit, &mark.to_uppercase(), 0.012, at);
    }
    ends(&mut b, kit, terminals);
    let mut part = b.spawn(commands, kit, at, None);
    let mut knob = PartBuilder::new();
    knob.add(
        Mat::Gloss([26, 27, 30]),
        lathe(
            &[(0.016, 0.0), (0.015, 0.014), (0.013, 0.016), (0.0, 0.016)],
            26,
        ),
    );
    knob.add(
        Mat::Gloss([236, 234, 226]),
        rounded_box(Vec3::new(0.0022, 0.001, 0.012), 0.0004).mv(0.0, 0.0163, -0.008),
    );
    let rest = Quat::from_rotation_y((middle * STEP_DEG).to_radians());
    let place = Transform::from_xyz(0.0, 0.006, 0.0);
    let (owner, moving) = control(commands, kit, &mut part, "knob", place, knob, KeyTurn(0.0));
    commands.entity(moving).insert(Turns {
        owner,
        rest,
        axis: Vec3::Y,
        per_unit: -STEP_DEG.to_radians(),
        // Not where it stands, so that it is put there at once.
        at: -0.01,
        rate: 18.0,
    });
    part
}

/// A push button. State [`Pressed`] on its piece `knob`; anchors by terminal.
pub fn push_button(
    commands: &mut Commands,
    kit: &mut KitAssets,
    at: Transform,
    title: &str,
    terminals: &[String],
) -> SpawnedPart {
    let mut b = PartBuilder::new();
    b.add(
        Mat::Steel,
        lathe(
            &[
                (0.022, 0.0),
                (0.022, 0.003),
                (0.019, 0.007),
                (0.016, 0.007),
                (0.016, 0.003),
                (0.0, 0.003),
            ],
            30,
        ),
    );
    letters(&mut b, kit, title, 0.016, Vec3::new(0.0, 0.0006, 0.046));
    ends(&mut b, kit, terminals);
    let mut part = b.spawn(commands, kit, at, None);
    let mut cap = PartBuilder::new();
    cap.add(
        Mat::Gloss([176, 40, 34]),
        lathe(
            &[
                (0.0150, 0.0),
                (0.0150, 0.010),
                (0.0125, 0.013),
                (0.0, 0.0145),
            ],
            30,
        ),
    );
    let place = Transform::from_xyz(0.0, 0.004, 0.0);
    let (owner, moving) = control(commands, kit, &mut part, "knob", place, cap, Pressed(false));
    commands.entity(moving).insert(Slides {
        seconds: 0.08,
        ..Slides::new(
            owner,
            Follow::Pressed,
            Transform::IDENTITY,
            Transform::from_xyz(0.0, -0.006, 0.0),
        )
    });
    part
}

/// A switch's ends, left and right of it.
fn ends(b: &mut PartBuilder, kit: &mut KitAssets, terminals: &[String]) {
    for (name, x) in terminals.iter().zip(switch_ends(terminals.len())) {
        terminal(b, kit, name, Vec3::new(x, 0.0, 0.0), [60, 62, 66]);
    }
}

/// The post where all returns come together. Anchors `stud` and one for each lug, `1` the nearest.
pub fn return_post(kit: &mut KitAssets, title: &str, count: usize) -> PartBuilder {
    let mut b = PartBuilder::new();
    let black = [24, 24, 26];
    let long = LUGS_APART * count as f32;
    b.add(
        Mat::Copper,
        rounded_box(Vec3::new(0.022 + long, 0.003, 0.020), 0.001).mv(long * 0.5, 0.0015, 0.0),
    );
    post(&mut b, Vec3::new(0.0, 0.003, 0.0), black);
    b.anchor_out("stud", Vec3::new(0.0, 0.027, 0.0), Vec3::Y);
    for (i, x) in lugs(count).into_iter().enumerate() {
        let at = Vec3::new(x, 0.003, 0.0);
        b.add(
            Mat::Brass,
            cylinder(0.0045, 0.007, 6, 0.0008).mv(at.x, at.y, at.z),
        );
        b.anchor_out(&(i + 1).to_string(), at + Vec3::Y * 0.007, Vec3::Y);
    }
    letters(
        &mut b,
        kit,
        title,
        0.015,
        Vec3::new(long * 0.5, 0.0006, 0.024),
    );
    b
}

/// A wire in straight runs with rounded corners: its insulation's colour, and the second one as
/// a thread along its top.
pub fn laid_wire(knots: &[Vec3], radius: f32, colours: (Rgb, Option<Rgb>)) -> PartBuilder {
    let mut b = PartBuilder::new();
    let path = bent(knots, 0.007, 6);
    b.add(Mat::Gloss(colours.0), tube(&path, radius, 8, true));
    if let Some(second) = colours.1 {
        let over: Vec<Vec3> = path
            .iter()
            .map(|p| *p + Vec3::Y * (radius * 0.72))
            .collect();
        b.add(Mat::Gloss(second), tube(&over, radius * 0.42, 6, true));
    }
    b
}

/// Insulation colours by their letters (IEC 60757); grey for letters that are none.
pub fn wire_colour(letters: &str) -> Rgb {
    match letters {
        "BK" => [28, 28, 30],
        "BN" => [104, 62, 34],
        "RD" => [178, 34, 32],
        "OG" => [214, 110, 26],
        "YE" => [224, 192, 44],
        "GN" => [42, 120, 58],
        "BU" => [38, 78, 158],
        "VT" => [104, 58, 132],
        "WH" => [232, 230, 222],
        "PK" => [222, 138, 152],
        "TQ" => [52, 156, 158],
        "SR" => [176, 180, 184],
        "GD" => [196, 160, 74],
        _ => [132, 134, 138],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The letters are those of IEC 60757 (from memory); two colours that could be taken for one
    /// another would make a board that teaches the wrong thing.
    #[test]
    fn no_two_wire_colours_look_alike() {
        let all = [
            "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "TQ", "SR", "GD",
        ];
        for (i, a) in all.iter().enumerate() {
            for b in &all[..i] {
                let (p, q) = (wire_colour(a), wire_colour(b));
                let apart: i32 = (0..3)
                    .map(|k| (i32::from(p[k]) - i32::from(q[k])).abs())
                    .sum();
                assert!(apart > 60, "{a} and {b} are {apart} apart");
            }
        }
    }
}
