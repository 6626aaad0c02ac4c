//! Colours of wires. The letters are IEC 60757's; the shades are ours.

/// One colour of a wire's insulation, or bare metal.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub struct Colour {
    /// Red, green, blue.
    pub rgb: [u8; 3],
}

/// The colours of a wire.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub struct WireColour {
    /// Main colour.
    pub main: Colour,
    /// Stripe on it.
    pub stripe: Option<Colour>,
}

const OTHER: Colour = Colour {
    rgb: [0x8A, 0x8F, 0x94],
};

impl Colour {
    /// The colour of two letters (IEC 60757, from memory); none for letters it does not know.
    pub fn of(letters: &str) -> Option<Colour> {
        let rgb = match letters {
            "BK" => [0x2A, 0x2A, 0x2A],
            "BN" => [0x7A, 0x4A, 0x26],
            "RD" => [0xD0, 0x2B, 0x2B],
            "OG" => [0xF0, 0x80, 0x1A],
            "YE" => [0xF2, 0xCE, 0x2B],
            "GN" => [0x2F, 0x9A, 0x47],
            "BU" => [0x2B, 0x6F, 0xCB],
            "VT" => [0x8A, 0x4F, 0xB0],
            "GY" => [0x8C, 0x92, 0x97],
            "WH" => [0xFA, 0xFA, 0xFA],
            "PK" => [0xF0, 0x9C, 0xB8],
            "GD" => [0xC9, 0xA2, 0x3C],
            "TQ" => [0x34, 0xB8, 0xB0],
            "SR" => [0xC4, 0xC9, 0xCD],
            _ => return None,
        };
        Some(Colour { rgb })
    }
}

impl WireColour {
    /// The colours of `RD` or `BK-WH`; grey where the letters say nothing.
    pub fn of(letters: &str) -> WireColour {
        let mut each = letters.split(['-', '/']);
        let main = each.next().and_then(Colour::of).unwrap_or(OTHER);
        let stripe = each.next().and_then(Colour::of);
        WireColour { main, stripe }
    }
}
