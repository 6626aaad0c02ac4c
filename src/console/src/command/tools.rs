//! Which tool is meant where a lead says it.

use tracebay_core::tools::{Lead, ToolKind};

/// The light in the hand, or else the filament light.
pub fn light(hand: Option<ToolKind>) -> ToolKind {
    match hand {
        Some(ToolKind::LedLight) => ToolKind::LedLight,
        _ => ToolKind::TestLight,
    }
}

/// The jumper in the hand, or else the one with a fuse.
pub fn jumper(hand: Option<ToolKind>) -> ToolKind {
    match hand {
        Some(ToolKind::PlainJumper) => ToolKind::PlainJumper,
        _ => ToolKind::FusedJumper,
    }
}

/// The tool a lead belongs to.
pub fn of_lead(lead: Lead, hand: Option<ToolKind>) -> ToolKind {
    match lead {
        Lead::Clip | Lead::Probe => light(hand),
        Lead::A | Lead::B => jumper(hand),
        Lead::Red | Lead::Black => ToolKind::Meter,
    }
}
