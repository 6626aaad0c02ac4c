//! Printed labels of our own: cautions, plates and legends. All invented.

use super::glyphs::Canvas;
use super::material::KitAssets;
use bevy::prelude::*;

const INK: [u8; 4] = [20, 20, 22, 255];
const WHITE: [u8; 4] = [238, 238, 232, 255];
const AMBER: [u8; 4] = [245, 190, 30, 255];
const BLUE: [u8; 4] = [30, 80, 150, 255];

/// A warning triangle with an exclamation mark.
fn triangle(c: &mut Canvas, x: f32, y: f32, size: f32) {
    let rows = size as i32;
    for r in 0..rows {
        let half = r as f32 / size * size * 0.58;
        let edge = 3.0;
        let y = y + r as f32;
        c.rect((x - half) as i32, y as i32, (half * 2.0) as i32 + 1, 1, INK);
        if r as f32 > edge * 2.0 && (r as f32) < size - edge {
            let h = half - edge * 1.3;
            c.rect((x - h) as i32, y as i32, (h * 2.0) as i32 + 1, 1, AMBER);
        }
    }
    c.rect(
        x as i32 - 2,
        (y + size * 0.4) as i32,
        4,
        (size * 0.28) as i32,
        INK,
    );
    c.rect(x as i32 - 2, (y + size * 0.76) as i32, 4, 4, INK);
}

/// "Fan may start at any time", with a triangle.
pub fn caution_fan(kit: &mut KitAssets) -> Handle<StandardMaterial> {
    kit.label("caution fan", || {
        let mut c = Canvas::new(256, 64, AMBER);
        c.frame(0, 0, 256, 64, 3, INK);
        triangle(&mut c, 32.0, 10.0, 44.0);
        c.text(66, 10, 2, "KEEP HANDS CLEAR", INK);
        c.text(66, 30, 2, "FAN MAY START", INK);
        c.text(66, 46, 1, "WITHOUT WARNING", INK);
        c
    })
}

/// Refrigerant plate: kind, charge and oil of the invented car.
pub fn refrigerant(kit: &mut KitAssets) -> Handle<StandardMaterial> {
    kit.label("refrigerant", || {
        let mut c = Canvas::new(256, 64, WHITE);
        c.frame(0, 0, 256, 64, 2, BLUE);
        c.rect(2, 2, 58, 60, BLUE);
        c.text_mid(31, 22, 3, "A/C", WHITE);
        c.text_mid(31, 46, 1, "R-134A", WHITE);
        c.text(68, 8, 2, "REFRIGERANT", INK);
        c.text(68, 28, 1, "CHARGE 0.55 KG  OIL PAG 46", INK);
        c.text(68, 42, 1, "CERTIFIED PERSONS ONLY", INK);
        c
    })
}

/// Battery face: voltage, capacity, care signs.
pub fn battery(kit: &mut KitAssets) -> Handle<StandardMaterial> {
    kit.label("battery", || {
        let mut c = Canvas::new(256, 128, [34, 60, 92, 255]);
        c.frame(4, 4, 248, 120, 2, WHITE);
        c.text(16, 14, 4, "12V 60AH", WHITE);
        c.text(16, 50, 2, "540 A (EN)", AMBER);
        c.rect(0, 84, 256, 34, AMBER);
        triangle(&mut c, 26.0, 86.0, 30.0);
        c.text(52, 90, 1, "EXPLOSIVE GAS - NO FLAMES", INK);
        c.text(52, 104, 1, "ACID - WEAR EYE PROTECTION", INK);
        c
    })
}

/// What shows behind a headlamp's glass: two bright bowls in a dark housing.
pub fn headlamp(kit: &mut KitAssets) -> Handle<StandardMaterial> {
    kit.label("headlamp", || {
        let mut c = Canvas::new(384, 144, [36, 38, 42, 255]);
        c.frame(0, 0, 384, 144, 5, [150, 154, 158, 255]);
        for x in [100.0f32, 262.0] {
            for i in 0..56 {
                let f = i as f32 / 56.0;
                let g = (120.0 + 105.0 * f * f + 18.0 * (f * 7.0).cos()) as u8;
                c.disc(
                    x,
                    72.0,
                    58.0 - i as f32,
                    [g, g, (g as f32 * 1.03).min(255.0) as u8, 255],
                );
            }
            for k in -5..=5 {
                let dx = k as f32 * 10.0;
                let dy = (54.0f32 * 54.0 - dx * dx).max(0.0).sqrt();
                c.line(
                    (x + dx, 72.0 - dy),
                    (x + dx, 72.0 + dy),
                    1.0,
                    [112, 116, 122, 255],
                );
            }
            c.arc(
                x,
                72.0,
                58.0,
                0.0,
                std::f32::consts::TAU,
                3.0,
                [70, 74, 80, 255],
            );
            c.disc(x, 72.0, 9.0, [248, 246, 236, 255]);
        }
        c.disc(340.0, 72.0, 24.0, [226, 130, 40, 255]);
        c.disc(340.0, 72.0, 12.0, [240, 170, 90, 255]);
        c
    })
}

/// A small text plate in ink on white (or white on ink when `dark`).
pub fn plate(kit: &mut KitAssets, text: &str, dark: bool) -> Handle<StandardMaterial> {
    kit.label(&format!("plate {dark} {text}"), || {
        let (paper, ink) = if dark { (INK, WHITE) } else { (WHITE, INK) };
        let (w, h) = super::glyphs::extent(text);
        let (pw, ph) = ((w + 8) * 4, (h + 8) * 4);
        let mut c = Canvas::new(pw, ph, paper);
        c.text_mid(pw as i32 / 2, ph as i32 / 2, 4, text, ink);
        c
    })
}

/// Raised letters on a part of colour `paper`: text with nothing behind it.
pub fn lettering(kit: &mut KitAssets, text: &str, ink: [u8; 3]) -> Handle<StandardMaterial> {
    kit.label(&format!("letters {ink:?} {text}"), || {
        let (w, h) = super::glyphs::extent(text);
        let (pw, ph) = ((w + 2) * 4, (h + 2) * 4);
        let mut c = Canvas::new(pw, ph, [ink[0], ink[1], ink[2], 0]);
        c.text_mid(
            pw as i32 / 2,
            ph as i32 / 2,
            4,
            text,
            [ink[0], ink[1], ink[2], 255],
        );
        c
    })
}

/// Letters with their ground, for what is read from an arm's length and more: soft edges stay
/// readable where cut-out ones break up.
pub fn print(
    kit: &mut KitAssets,
    text: &str,
    ground: [u8; 3],
    ink: [u8; 3],
) -> Handle<StandardMaterial> {
    kit.label(&format!("print {ground:?} {ink:?} {text}"), || {
        let (w, h) = super::glyphs::extent(text);
        let (pw, ph) = ((w + 2) * 2, (h + 2) * 2);
        let opaque = |c: [u8; 3]| [c[0], c[1], c[2], 255];
        let mut c = Canvas::new(pw, ph, opaque(ground));
        c.text_mid(pw as i32 / 2, ph as i32 / 2, 2, text, opaque(ink));
        c
    })
}

/// Width over height of [`lettering`] and [`print`] for a text.
pub fn lettering_aspect(text: &str) -> f32 {
    let (w, h) = super::glyphs::extent(text);
    (w + 2) as f32 / (h + 2) as f32
}
