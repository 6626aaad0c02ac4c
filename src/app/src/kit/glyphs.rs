//! Printed and displayed text drawn pixel by pixel from a small face of our own:
//! five by seven dots, capitals, figures and the signs that labels need.

use super::texture::image;
use bevy::image::Image;
use bevy::render::render_resource::TextureFormat;

/// Width of a character with its gap, in dots.
pub const ADVANCE: usize = 6;
/// Height of a line with its gap, in dots.
pub const LINE: usize = 9;

/// Five-bit rows from top to bottom for each character.
#[rustfmt::skip]
const FACE: &[(char, [u8; 7])] = &[
    (' ', [0x00, 0x00, 0x00, 0x00, 0x00, 0x00, 0x00]),
    ('0', [0x0E, 0x11, 0x13, 0x15, 0x19, 0x11, 0x0E]),
    ('1', [0x04, 0x0C, 0x04, 0x04, 0x04, 0x04, 0x0E]),
    ('2', [0x0E, 0x11, 0x01, 0x06, 0x08, 0x10, 0x1F]),
    ('3', [0x1E, 0x01, 0x01, 0x0E, 0x01, 0x01, 0x1E]),
    ('4', [0x02, 0x06, 0x0A, 0x12, 0x1F, 0x02, 0x02]),
    ('5', [0x1F, 0x10, 0x1E, 0x01, 0x01, 0x11, 0x0E]),
    ('6', [0x06, 0x08, 0x10, 0x1E, 0x11, 0x11, 0x0E]),
    ('7', [0x1F, 0x01, 0x02, 0x04, 0x04, 0x08, 0x08]),
    ('8', [0x0E, 0x11, 0x11, 0x0E, 0x11, 0x11, 0x0E]),
    ('9', [0x0E, 0x11, 0x11, 0x0F, 0x01, 0x02, 0x0C]),
    ('A', [0x04, 0x0A, 0x11, 0x11, 0x1F, 0x11, 0x11]),
    ('B', [0x1E, 0x11, 0x11, 0x1E, 0x11, 0x11, 0x1E]),
    ('C', [0x0E, 0x11, 0x10, 0x10, 0x10, 0x11, 0x0E]),
    ('D', [0x1E, 0x11, 0x11, 0x11, 0x11, 0x11, 0x1E]),
    ('E', [0x1F, 0x10, 0x10, 0x1E, 0x10, 0x10, 0x1F]),
    ('F', [0x1F, 0x10, 0x10, 0x1E, 0x10, 0x10, 0x10]),
    ('G', [0x0E, 0x11, 0x10, 0x17, 0x11, 0x11, 0x0E]),
    ('H', [0x11, 0x11, 0x11, 0x1F, 0x11, 0x11, 0x11]),
    ('I', [0x0E, 0x04, 0x04, 0x04, 0x04, 0x04, 0x0E]),
    ('J', [0x07, 0x02, 0x02, 0x02, 0x02, 0x12, 0x0C]),
    ('K', [0x11, 0x12, 0x14, 0x18, 0x14, 0x12, 0x11]),
    ('L', [0x10, 0x10, 0x10, 0x10, 0x10, 0x10, 0x1F]),
    ('M', [0x11, 0x1B, 0x15, 0x15, 0x11, 0x11, 0x11]),
    ('N', [0x11, 0x19, 0x19, 0x15, 0x13, 0x13, 0x11]),
    ('O', [0x0E, 0x11, 0x11, 0x11, 0x11, 0x11, 0x0E]),
    ('P', [0x1E, 0x11, 0x11, 0x1E, 0x10, 0x10, 0x10]),
    ('Q', [0x0E, 0x11, 0x11, 0x11, 0x15, 0x12, 0x0D]),
    ('R', [0x1E, 0x11, 0x11, 0x1E, 0x14, 0x12, 0x11]),
    ('S', [0x0F, 0x10, 0x10, 0x0E, 0x01, 0x01, 0x1E]),
    ('T', [0x1F, 0x04, 0x04, 0x04, 0x04, 0x04, 0x04]),
    ('U', [0x11, 0x11, 0x11, 0x11, 0x11, 0x11, 0x0E]),
    ('V', [0x11, 0x11, 0x11, 0x11, 0x0A, 0x0A, 0x04]),
    ('W', [0x11, 0x11, 0x11, 0x15, 0x15, 0x1B, 0x11]),
    ('X', [0x11, 0x11, 0x0A, 0x04, 0x0A, 0x11, 0x11]),
    ('Y', [0x11, 0x11, 0x0A, 0x04, 0x04, 0x04, 0x04]),
    ('Z', [0x1F, 0x01, 0x02, 0x04, 0x08, 0x10, 0x1F]),
    ('.', [0x00, 0x00, 0x00, 0x00, 0x00, 0x0C, 0x0C]),
    (',', [0x00, 0x00, 0x00, 0x00, 0x0C, 0x04, 0x08]),
    (':', [0x00, 0x0C, 0x0C, 0x00, 0x0C, 0x0C, 0x00]),
    (';', [0x00, 0x0C, 0x0C, 0x00, 0x0C, 0x04, 0x08]),
    ('!', [0x04, 0x04, 0x04, 0x04, 0x04, 0x00, 0x04]),
    ('?', [0x0E, 0x11, 0x01, 0x02, 0x04, 0x00, 0x04]),
    ('-', [0x00, 0x00, 0x00, 0x1F, 0x00, 0x00, 0x00]),
    ('+', [0x00, 0x04, 0x04, 0x1F, 0x04, 0x04, 0x00]),
    ('/', [0x01, 0x01, 0x02, 0x04, 0x08, 0x10, 0x10]),
    ('(', [0x02, 0x04, 0x08, 0x08, 0x08, 0x04, 0x02]),
    (')', [0x08, 0x04, 0x02, 0x02, 0x02, 0x04, 0x08]),
    ('%', [0x19, 0x19, 0x02, 0x04, 0x08, 0x13, 0x13]),
    ('=', [0x00, 0x00, 0x1F, 0x00, 0x1F, 0x00, 0x00]),
    ('*', [0x00, 0x15, 0x0E, 0x1F, 0x0E, 0x15, 0x00]),
    ('\'', [0x04, 0x04, 0x00, 0x00, 0x00, 0x00, 0x00]),
    ('"', [0x0A, 0x0A, 0x00, 0x00, 0x00, 0x00, 0x00]),
    ('#', [0x0A, 0x0A, 0x1F, 0x0A, 0x1F, 0x0A, 0x0A]),
    ('&', [0x0C, 0x12, 0x14, 0x08, 0x15, 0x12, 0x0D]),
    ('<', [0x02, 0x04, 0x08, 0x10, 0x08, 0x04, 0x02]),
    ('>', [0x08, 0x04, 0x02, 0x01, 0x02, 0x04, 0x08]),
    ('_', [0x00, 0x00, 0x00, 0x00, 0x00, 0x00, 0x1F]),
    ('°', [0x0C, 0x12, 0x0C, 0x00, 0x00, 0x00, 0x00]),
    ('Ω', [0x0E, 0x11, 0x11, 0x11, 0x0A, 0x0A, 0x1B]),
    ('~', [0x00, 0x00, 0x08, 0x15, 0x02, 0x00, 0x00]),
    ('×', [0x00, 0x11, 0x0A, 0x04, 0x0A, 0x11, 0x00]),
    ('Ñ', [0x0A, 0x14, 0x11, 0x19, 0x15, 0x13, 0x11]),
];

fn glyph(c: char) -> [u8; 7] {
    let plain = match c {
        'á' | 'Á' => 'A',
        'é' | 'É' => 'E',
        'í' | 'Í' => 'I',
        'ó' | 'Ó' => 'O',
        'ú' | 'Ú' | 'ü' | 'Ü' => 'U',
        'ñ' => 'Ñ',
        '–' | '—' | '−' => '-',
        'µ' | 'μ' => 'U',
        _ => c.to_ascii_uppercase(),
    };
    FACE.iter()
        .find(|(k, _)| *k == plain)
        // An open box says that the face lacks the character, rather than hiding it.
        .map_or([0x1F, 0x11, 0x11, 0x11, 0x11, 0x11, 0x1F], |(_, g)| *g)
}

/// A picture to draw labels into; colours are sRGB with alpha.
pub struct Canvas {
    /// Width in pixels.
    pub w: usize,
    /// Height in pixels.
    pub h: usize,
    px: Vec<u8>,
}

impl Canvas {
    /// A canvas of one colour.
    pub fn new(w: usize, h: usize, fill: [u8; 4]) -> Canvas {
        let px = fill.iter().copied().cycle().take(w * h * 4).collect();
        Canvas { w, h, px }
    }

    /// Colours one pixel; anything outside is ignored.
    pub fn dot(&mut self, x: i32, y: i32, c: [u8; 4]) {
        if x >= 0 && y >= 0 && (x as usize) < self.w && (y as usize) < self.h {
            let i = (y as usize * self.w + x as usize) * 4;
            self.px[i..i + 4].copy_from_slice(&c);
        }
    }

    /// A filled rectangle.
    pub fn rect(&mut self, x: i32, y: i32, w: i32, h: i32, c: [u8; 4]) {
        for yy in y..y + h {
            for xx in x..x + w {
                self.dot(xx, yy, c);
            }
        }
    }

    /// A rectangle's outline, `t` pixels thick.
    pub fn frame(&mut self, x: i32, y: i32, w: i32, h: i32, t: i32, c: [u8; 4]) {
        self.rect(x, y, w, t, c);
        self.rect(x, y + h - t, w, t, c);
        self.rect(x, y, t, h, c);
        self.rect(x + w - t, y, t, h, c);
    }

    /// A straight line, `t` pixels thick.
    pub fn line(&mut self, a: (f32, f32), b: (f32, f32), t: f32, c: [u8; 4]) {
        let n = ((a.0 - b.0).abs().max((a.1 - b.1).abs()) * 2.0).max(1.0) as i32;
        for i in 0..=n {
            let f = i as f32 / n as f32;
            self.disc(a.0 + (b.0 - a.0) * f, a.1 + (b.1 - a.1) * f, t * 0.5, c);
        }
    }

    /// A filled disc.
    pub fn disc(&mut self, x: f32, y: f32, r: f32, c: [u8; 4]) {
        let (x0, x1) = ((x - r).floor() as i32, (x + r).ceil() as i32);
        for yy in (y - r).floor() as i32..=(y + r).ceil() as i32 {
            for xx in x0..=x1 {
                let (dx, dy) = (xx as f32 - x, yy as f32 - y);
                if dx * dx + dy * dy <= r * r + 0.25 {
                    self.dot(xx, yy, c);
                }
            }
        }
    }

    /// An arc, angles in radians clockwise from three o'clock.
    pub fn arc(&mut self, x: f32, y: f32, r: f32, from: f32, to: f32, t: f32, c: [u8; 4]) {
        let n = ((to - from).abs() * r * 2.0).max(2.0) as i32;
        for i in 0..=n {
            let a = from + (to - from) * i as f32 / n as f32;
            self.disc(x + a.cos() * r, y + a.sin() * r, t * 0.5, c);
        }
    }

    /// Text with its top left corner at (x, y), each dot `s` pixels.
    pub fn text(&mut self, x: i32, y: i32, s: i32, text: &str, c: [u8; 4]) {
        for (row, line) in text.lines().enumerate() {
            for (col, ch) in line.chars().enumerate() {
                for (gy, bits) in glyph(ch).iter().enumerate() {
                    for gx in 0..5 {
                        if bits >> (4 - gx) & 1 == 1 {
                            self.rect(
                                x + (col as i32 * ADVANCE as i32 + gx) * s,
                                y + (row as i32 * LINE as i32 + gy as i32) * s,
                                s,
                                s,
                                c,
                            );
                        }
                    }
                }
            }
        }
    }

    /// Text centred on (x, y).
    pub fn text_mid(&mut self, x: i32, y: i32, s: i32, text: &str, c: [u8; 4]) {
        let (w, h) = extent(text);
        self.text(x - w as i32 * s / 2, y - h as i32 * s / 2, s, text, c);
    }

    /// Text as large as fits into the rectangle, centred.
    pub fn text_fit(&mut self, x: i32, y: i32, w: i32, h: i32, text: &str, c: [u8; 4]) {
        let (tw, th) = extent(text);
        let s = (w / tw.max(1) as i32).min(h / th.max(1) as i32).max(1);
        self.text_mid(x + w / 2, y + h / 2, s, text, c);
    }

    /// The finished picture.
    pub fn into_image(self) -> Image {
        image(
            self.w,
            self.h,
            self.px,
            TextureFormat::Rgba8UnormSrgb,
            false,
        )
    }
}

/// Width and height of a text in dots.
pub fn extent(text: &str) -> (usize, usize) {
    let longest = text.lines().map(|l| l.chars().count()).max().unwrap_or(0);
    let lines = text.lines().count();
    (
        (longest * ADVANCE).saturating_sub(1),
        (lines * LINE).saturating_sub(2),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_glyph_differs_from_every_other() {
        for (i, (a, ga)) in FACE.iter().enumerate() {
            for (b, gb) in &FACE[i + 1..] {
                assert_ne!(ga, gb, "{a} and {b} look the same");
            }
        }
    }

    #[test]
    fn words_in_both_languages_have_glyphs() {
        let missing = glyph('\u{1}');
        for c in "Relé del compresor AÑO 12.6 V Ω °C 87a (+) 30%".chars() {
            assert_ne!(glyph(c), missing, "{c}");
        }
    }
}
