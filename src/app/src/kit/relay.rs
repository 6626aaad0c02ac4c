//! Cube relays and blade fuses: how they look, in their sockets and pulled out.
//!
//! Frame: the part stands on its socket at y = 0, blades below, print on top and
//! on the +z side.

use super::glyphs::Canvas;
use super::material::{KitAssets, Mat, Rgb};
use super::part::PartBuilder;
use super::solids::*;
use bevy::prelude::*;

/// Case size of a relay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RelaySize {
    /// 28 mm square case (the size of ISO 7588-1; from memory).
    Mini,
    /// 23 × 15.5 mm case (the size of ISO 7588-3; from memory).
    Micro,
}

/// Body size of a blade fuse (ISO 8820-3 types; outlines from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FuseSize {
    /// 10.9 mm wide.
    Mini,
    /// 19.1 mm wide.
    Regular,
    /// 29.2 mm wide.
    Maxi,
}

/// One blade of a part and the cavity that takes it, metres in the socket's plane
/// (x to the right, y away from the viewer).
#[derive(Clone, Debug, PartialEq)]
pub struct Blade {
    /// Terminal's number or name.
    pub name: String,
    /// Centre.
    pub at: Vec2,
    /// Blade width: 6.3, 4.8 or 2.8 mm.
    pub width: f32,
    /// Whether the blade's width runs along y instead of x.
    pub upright: bool,
}

fn blade(name: &str, x: f32, y: f32, width: f32, upright: bool) -> Blade {
    Blade {
        name: name.into(),
        at: Vec2::new(x, y) * 1e-3,
        width: width * 1e-3,
        upright,
    }
}

/// The usual arrangement of a relay's blades (trade practice, from memory);
/// `changeover` adds 87a.
pub fn relay_blades(size: RelaySize, changeover: bool) -> Vec<Blade> {
    let mut all = match size {
        RelaySize::Mini => vec![
            blade("30", 0.0, -9.2, 6.3, true),
            blade("85", 8.4, -0.4, 6.3, true),
            blade("86", -8.4, -0.4, 6.3, true),
            blade("87", 0.0, 8.2, 6.3, false),
            blade("87a", 0.0, 0.2, 6.3, false),
        ],
        RelaySize::Micro => vec![
            blade("30", -3.9, 7.2, 6.3, true),
            blade("85", 3.9, -7.2, 4.8, true),
            blade("86", -3.9, -7.2, 4.8, true),
            blade("87", 3.9, 7.2, 6.3, true),
            blade("87a", 0.0, 0.0, 4.8, false),
        ],
    };
    if !changeover {
        all.retain(|b| b.name != "87a");
    }
    all
}

/// A fuse's two blades, `a` and `b`.
pub fn fuse_blades(size: FuseSize) -> Vec<Blade> {
    let (half, width) = match size {
        FuseSize::Mini => (4.0, 2.8),
        FuseSize::Regular => (7.0, 5.2),
        FuseSize::Maxi => (10.6, 8.0),
    };
    vec![
        blade("a", -half, 0.0, width, false),
        blade("b", half, 0.0, width, false),
    ]
}

/// Case outline of a relay (x, height, z).
pub fn relay_case(size: RelaySize) -> Vec3 {
    match size {
        RelaySize::Mini => Vec3::new(0.028, 0.0255, 0.028),
        RelaySize::Micro => Vec3::new(0.0155, 0.0255, 0.023),
    }
}

/// Body outline of a fuse above its socket (x, height, z).
pub fn fuse_body(size: FuseSize) -> Vec3 {
    match size {
        FuseSize::Mini => Vec3::new(0.0109, 0.0088, 0.0038),
        FuseSize::Regular => Vec3::new(0.0191, 0.0122, 0.0051),
        FuseSize::Maxi => Vec3::new(0.0292, 0.0200, 0.0089),
    }
}

/// Body colour for a rated current (ISO 8820-3; from memory).
pub fn fuse_colour(size: FuseSize, amps: f32) -> Rgb {
    let is = |a: f32| (amps - a).abs() < 0.01;
    let maxi = size == FuseSize::Maxi;
    match () {
        _ if is(2.0) => [120, 122, 126],
        _ if is(3.0) => [130, 70, 160],
        _ if is(4.0) => [230, 130, 160],
        _ if is(5.0) => [214, 176, 126],
        _ if is(7.5) => [120, 70, 36],
        _ if is(10.0) => [205, 30, 32],
        _ if is(15.0) => [50, 130, 215],
        _ if is(20.0) => [240, 205, 30],
        _ if is(25.0) => [232, 232, 226],
        _ if is(30.0) => [30, 150, 70],
        _ if is(40.0) => [240, 130, 24],
        _ if is(50.0) && maxi => [205, 30, 32],
        _ if is(60.0) && maxi => [40, 90, 200],
        _ if is(70.0) && maxi => [120, 70, 36],
        _ if is(80.0) && maxi => [232, 232, 226],
        _ => [90, 90, 95],
    }
}

fn blades_down(b: &mut PartBuilder, blades: &[Blade], length: f32) {
    for bl in blades {
        let (w, d) = if bl.upright {
            (0.0008, bl.width)
        } else {
            (bl.width, 0.0008)
        };
        b.add(
            Mat::Steel,
            block(Vec3::new(w, length, d)).mv(bl.at.x, -length * 0.5, -bl.at.y),
        );
    }
}

/// A relay in a case of the given colour, printed with its terminal plan.
pub fn relay(
    kit: &mut KitAssets,
    size: RelaySize,
    changeover: bool,
    case: Rgb,
    print: &str,
) -> PartBuilder {
    let mut b = PartBuilder::new();
    let s = relay_case(size);
    b.add(
        Mat::Plastic(case),
        rounded_box(Vec3::new(s.x, s.y - 0.003, s.z), 0.0016).mv(
            0.0,
            (s.y - 0.003) * 0.5 + 0.003,
            0.0,
        ),
    );
    b.add(
        Mat::Plastic([34, 34, 36]),
        rounded_box(Vec3::new(s.x + 0.0006, 0.003, s.z + 0.0006), 0.0006).mv(0.0, 0.0015, 0.0),
    );
    blades_down(&mut b, &relay_blades(size, changeover), 0.011);
    let light = case.iter().map(|c| u32::from(*c)).sum::<u32>() > 360;
    let ink: [u8; 4] = if light {
        [30, 30, 32, 255]
    } else {
        [225, 225, 220, 255]
    };
    let top = kit.label(
        &format!("relay top {size:?} {changeover} {case:?} {print}"),
        || relay_print(size, changeover, print, ink),
    );
    b.add_own(
        top.clone(),
        decal(s.x * 0.9, s.z * 0.9)
            .turn(Vec3::X, -90.0)
            .mv(0.0, s.y + 0.0001, 0.0),
    );
    b.add_own(
        top,
        decal(s.x * 0.86, s.x * 0.86).mv(0.0, s.y * 0.52, s.z * 0.5 + 0.0001),
    );
    b
}

/// The print on a relay: its own number, contact drawing and terminal names.
fn relay_print(size: RelaySize, changeover: bool, print: &str, ink: [u8; 4]) -> Canvas {
    let (w, h) = match size {
        RelaySize::Mini => (192, 192),
        RelaySize::Micro => (128, 192),
    };
    let mut c = Canvas::new(w, h, [ink[0], ink[1], ink[2], 0]);
    let m = w as i32 / 2;
    c.text_fit(6, 4, w as i32 - 12, 34, print, ink);
    // Coil.
    let (y0, y1) = (70.0, 150.0);
    let l = m as f32 - 36.0;
    c.frame(l as i32 - 12, 96, 24, 26, 3, ink);
    c.line((l, y0), (l, 96.0), 3.0, ink);
    c.line((l, 122.0), (l, y1), 3.0, ink);
    c.text_mid(l as i32, 58, 2, "86", ink);
    c.text_mid(l as i32, 164, 2, "85", ink);
    // Contact.
    let r = m as f32 + 26.0;
    c.line((r, y1), (r, 124.0), 3.0, ink);
    c.line(
        (r, 124.0),
        (r - if changeover { 14.0 } else { -13.0 }, 96.0),
        3.0,
        ink,
    );
    c.line((r, y0), (r, 96.0), 3.0, ink);
    c.disc(r, 126.0, 4.0, ink);
    c.text_mid(r as i32, 58, 2, "87", ink);
    c.text_mid(r as i32, 164, 2, "30", ink);
    if changeover {
        c.line((r - 16.0, 84.0), (r - 16.0, 96.0), 3.0, ink);
        c.text_mid(r as i32 - 20, 78, 1, "87A", ink);
    }
    for k in 0..5 {
        let x = l + 14.0 + k as f32 * 10.0;
        c.line((x, 109.0), (x + 5.0, 109.0), 1.5, ink);
    }
    c.text_mid(m, 182, 1, "12V 40A DEMO", ink);
    c
}

/// A blade fuse without its element (which is drawn by [`element`]); anchors
/// `a`, `b` are its test tabs.
pub fn fuse(kit: &mut KitAssets, size: FuseSize, amps: f32) -> PartBuilder {
    let mut b = PartBuilder::new();
    let s = fuse_body(size);
    let colour = fuse_colour(size, amps);
    let clear = Mat::Clear(colour, 205);
    b.add(
        clear,
        rounded_box(Vec3::new(s.x, s.y * 0.34, s.z), s.z * 0.16).mv(0.0, s.y * 0.83, 0.0),
    );
    b.add(
        Mat::Clear(colour, 150),
        rounded_box(Vec3::new(s.x * 0.94, s.y * 0.68, s.z * 0.72), s.z * 0.12).mv(
            0.0,
            s.y * 0.34,
            0.0,
        ),
    );
    let blades = fuse_blades(size);
    blades_down(&mut b, &blades, s.y * 0.8);
    for bl in &blades {
        // The blade goes on up through the body to the test tab.
        b.add(
            Mat::Steel,
            block(Vec3::new(bl.width * 0.8, s.y * 0.8, 0.0006)).mv(bl.at.x, s.y * 0.4, 0.0),
        );
        let x = bl.at.x.signum() * s.x * 0.40;
        b.add(
            Mat::Steel,
            block(Vec3::new(s.x * 0.13, 0.0006, s.z * 0.42)).mv(x, s.y + 0.0002, 0.0),
        );
        b.anchor_out(&bl.name, Vec3::new(x, s.y + 0.0006, 0.0), Vec3::Y);
    }
    let text = if (amps - amps.round()).abs() > 0.01 {
        format!("{amps:.1}")
    } else {
        format!("{amps:.0}")
    };
    let pale = colour.iter().map(|c| u32::from(*c)).sum::<u32>() > 420;
    let ink = if pale { [30, 30, 30] } else { [250, 250, 245] };
    let letters = super::labels::lettering(kit, &text, ink);
    let aspect = super::labels::lettering_aspect(&text);
    let height = (s.z * 0.92).min(s.x * 0.52 / aspect);
    b.add_own(
        letters.clone(),
        decal(height * aspect, height)
            .turn(Vec3::X, -90.0)
            .mv(0.0, s.y + 0.00015, 0.0),
    );
    let height = (s.y * 0.28).min(s.x * 0.6 / aspect);
    b.add_own(
        letters,
        decal(height * aspect, height).mv(0.0, s.y * 0.83, s.z * 0.5 + 0.0001),
    );
    b
}

/// A fuse's element: whole, or melted through with a sooty gap.
pub fn element(size: FuseSize, blown: bool) -> PartBuilder {
    let mut b = PartBuilder::new();
    let s = fuse_body(size);
    let half = fuse_blades(size)[1].at.x - fuse_blades(size)[1].width * 0.35;
    let r = s.z * 0.07;
    let arch: Vec<Vec3> = (0..=10)
        .map(|i| {
            let t = i as f32 / 10.0 * 2.0 - 1.0;
            Vec3::new(t * half, s.y * (0.22 + 0.34 * (1.0 - t * t)), 0.0)
        })
        .collect();
    if blown {
        b.add(Mat::Steel, tube(&arch[..4], r, 5, true));
        b.add(Mat::Steel, tube(&arch[7..], r, 5, true));
        for i in [3usize, 7] {
            b.add(
                Mat::Void,
                sphere(r * 2.0, 8).at(Transform::from_translation(arch[i])),
            );
        }
        b.add(
            Mat::Clear([12, 10, 9], 170),
            rounded_box(Vec3::new(half * 0.9, s.y * 0.26, s.z * 0.74), s.z * 0.1).mv(
                0.0,
                s.y * 0.52,
                0.0,
            ),
        );
    } else {
        b.add(Mat::Steel, tube(&arch, r, 5, true));
    }
    b
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every cavity lies within its part's case, and no two overlap.
    #[test]
    fn blades_fit_their_cases() {
        for size in [RelaySize::Mini, RelaySize::Micro] {
            let case = relay_case(size);
            let all = relay_blades(size, true);
            for (i, b) in all.iter().enumerate() {
                let half = if b.upright {
                    Vec2::new(0.0004, b.width * 0.5)
                } else {
                    Vec2::new(b.width * 0.5, 0.0004)
                };
                let reach = b.at.abs() + half;
                assert!(
                    reach.x < case.x * 0.5 && reach.y < case.z * 0.5,
                    "{size:?} {}",
                    b.name
                );
                for c in &all[i + 1..] {
                    assert!(
                        b.at.distance(c.at) > 0.004,
                        "{size:?} {} {}",
                        b.name,
                        c.name
                    );
                }
            }
        }
    }
}
