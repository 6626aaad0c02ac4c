//! The colours of paper, card, ink and steel, and the sum that says whether two of them can be
//! told apart by everybody.
//!
//! A module that draws takes its colours from a [`Palette`]; no other module writes one down.

use crate::egui::Color32;

/// Colours by what they are for.
#[derive(Clone, Debug, PartialEq)]
pub struct Palette {
    /// The job sheet's paper.
    pub paper: Color32,
    /// Paper in shade: tabs that lie behind, table heads.
    pub paper_shade: Color32,
    /// Where one writes on the paper.
    pub field: Color32,
    /// Ruled lines and frames on paper (no text is written in it).
    pub rule: Color32,
    /// Text on paper and card.
    pub ink: Color32,
    /// Less important text on paper and card.
    pub ink_soft: Color32,
    /// The complaint slip's card.
    pub card: Color32,
    /// Button on paper.
    pub button: Color32,
    /// Button on paper under the pointer.
    pub button_hover: Color32,
    /// Chosen or main button, and the ring of what has the focus, on paper.
    pub chosen: Color32,
    /// Text on `chosen`.
    pub on_chosen: Color32,
    /// Something is wrong or forbidden, on paper. Always with a word.
    pub bad: Color32,
    /// Something is right, on paper. Always with a word.
    pub good: Color32,
    /// Something to be careful with, on paper. Always with a word.
    pub care: Color32,
    /// The state line, tool card and tags over the scene.
    pub steel: Color32,
    /// Buttons on steel.
    pub steel_button: Color32,
    /// Buttons on steel under the pointer.
    pub steel_hover: Color32,
    /// Frames on steel (no text is written in it).
    pub steel_rule: Color32,
    /// Text on steel.
    pub on_steel: Color32,
    /// Less important text on steel.
    pub on_steel_soft: Color32,
    /// What is chosen, and the ring of what has the focus, on steel.
    pub steel_chosen: Color32,
    /// Warning text on steel. Always with a word.
    pub steel_bad: Color32,
    /// A meter's display.
    pub display: Color32,
    /// Figures on a meter's display.
    pub on_display: Color32,
}

/// A colour from a number written as in a style sheet.
const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

impl Palette {
    /// Paper and steel.
    pub const fn workshop() -> Palette {
        Palette {
            paper: rgb(0xF3EEE1),
            paper_shade: rgb(0xE2DAC6),
            field: rgb(0xFCFAF3),
            rule: rgb(0xB4A98E),
            ink: rgb(0x24211B),
            ink_soft: rgb(0x57503F),
            card: rgb(0xEBDCB4),
            button: rgb(0xE5DDC9),
            button_hover: rgb(0xD8CDB2),
            chosen: rgb(0x1F4F73),
            on_chosen: rgb(0xFDFBF5),
            bad: rgb(0x8F1D16),
            good: rgb(0x1E5631),
            care: rgb(0x7A4300),
            steel: rgb(0x23292E),
            steel_button: rgb(0x374047),
            steel_hover: rgb(0x4A555D),
            steel_rule: rgb(0x66727B),
            on_steel: rgb(0xF0F2F3),
            on_steel_soft: rgb(0xBCC6CC),
            steel_chosen: rgb(0xFFC64D),
            steel_bad: rgb(0xFFB3A3),
            display: rgb(0xB9C4AE),
            on_display: rgb(0x1A2019),
        }
    }

    /// The same with blue and orange where the workshop's palette has green and red: told apart
    /// by people who do not tell red from green.
    pub const fn blue_and_orange() -> Palette {
        Palette {
            bad: rgb(0x8A3A00),
            good: rgb(0x0B4A86),
            care: rgb(0x5B4A00),
            chosen: rgb(0x0B3F73),
            steel_bad: rgb(0xFFB870),
            steel_chosen: rgb(0x8FCBFF),
            ..Palette::workshop()
        }
    }

    /// Every pair of text and ground that the panels use.
    pub fn pairs(&self) -> Vec<(&'static str, Color32, Color32)> {
        let p = self;
        let mut pairs = Vec::new();
        for (ground_name, ground) in [
            ("paper", p.paper),
            ("paper_shade", p.paper_shade),
            ("field", p.field),
            ("card", p.card),
        ] {
            for (name, text) in [
                ("ink", p.ink),
                ("ink_soft", p.ink_soft),
                ("bad", p.bad),
                ("good", p.good),
                ("care", p.care),
                ("chosen", p.chosen),
            ] {
                let _ = name;
                pairs.push((ground_name, text, ground));
            }
        }
        pairs.extend([
            ("button", p.ink, p.button),
            ("button, soft", p.ink_soft, p.button),
            ("button_hover", p.ink, p.button_hover),
            ("button_hover, soft", p.ink_soft, p.button_hover),
            ("chosen", p.on_chosen, p.chosen),
            ("display", p.on_display, p.display),
        ]);
        for (name, ground) in [("steel", p.steel), ("steel_button", p.steel_button)] {
            for text in [p.on_steel, p.on_steel_soft, p.steel_chosen, p.steel_bad] {
                pairs.push((name, text, ground));
            }
        }
        pairs.push(("steel_hover", p.on_steel, p.steel_hover));
        pairs.push(("steel_chosen", p.ink, p.steel_chosen));
        pairs
    }
}

/// Contrast ratio of two opaque colours, 1 to 21.
///
/// Formula: W3C Recommendation Web Content Accessibility Guidelines 2.1 (2018), definitions of
/// "relative luminance" and "contrast ratio".
pub fn contrast(a: Color32, b: Color32) -> f64 {
    let (la, lb) = (luminance(a), luminance(b));
    (la.max(lb) + 0.05) / (la.min(lb) + 0.05)
}

fn luminance(c: Color32) -> f64 {
    let linear = |byte: u8| {
        let s = f64::from(byte) / 255.0;
        if s <= 0.03928 {
            s / 12.92
        } else {
            ((s + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * linear(c.r()) + 0.7152 * linear(c.g()) + 0.0722 * linear(c.b())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.1, success criterion 1.4.3: text has at least 4.5:1.
    #[test]
    fn every_text_can_be_read_on_its_ground() {
        for palette in [Palette::workshop(), Palette::blue_and_orange()] {
            for (name, text, ground) in palette.pairs() {
                let ratio = contrast(text, ground);
                assert!(ratio >= 4.5, "{text:?} on {name} {ground:?}: {ratio:.2}");
            }
        }
    }

    /// WCAG 2.1, success criterion 1.4.11: what shows the focus has at least 3:1 against its
    /// surroundings.
    #[test]
    fn the_focus_ring_can_be_seen() {
        for p in [Palette::workshop(), Palette::blue_and_orange()] {
            for (ring, ground) in [
                (p.chosen, p.paper),
                (p.chosen, p.card),
                (p.chosen, p.button),
                (p.steel_chosen, p.steel),
                (p.steel_chosen, p.steel_button),
            ] {
                assert!(contrast(ring, ground) >= 3.0, "{ring:?} on {ground:?}");
            }
        }
    }

    /// The two ends of the scale, as WCAG 2.1 states them in its definition of contrast ratio
    /// ("contrast ratios can range from 1 to 21"), and a grey that is commonly given as the
    /// lightest to pass on white, #767676 at 4.54 (W3C technique pages, from memory).
    #[test]
    fn contrast_agrees_with_published_values() {
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
        assert!((contrast(Color32::WHITE, Color32::WHITE) - 1.0).abs() < 1e-9);
        assert!((contrast(rgb(0x767676), Color32::WHITE) - 4.54).abs() < 0.005);
    }
}
