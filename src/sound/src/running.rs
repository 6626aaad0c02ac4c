//! What can be heard, as numbers.

/// Something that sounds as long as it works.
#[derive(Copy, Clone, Debug, Default, PartialEq)]
pub struct Source {
    /// How hard it works, as a share of its rating; 0 is silent.
    pub share: f32,
    /// How near it is: 1 beside the ear, less through a wall, 0 unheard.
    pub near: f32,
}

impl Source {
    /// With everything within what can be played.
    pub(crate) fn tidied(self) -> Source {
        Source {
            share: tidy(self.share, 1.5),
            near: tidy(self.near, 1.0),
        }
    }
}

/// Everything that sounds at this moment.
#[derive(Copy, Clone, Debug, Default, PartialEq)]
pub struct Running {
    /// The engine's speed under its own power, revolutions a minute; 0 if it does not run.
    pub engine_rpm: f32,
    /// Its cylinders.
    pub cylinders: u8,
    /// How near the engine is.
    pub engine_near: f32,
    /// The starter turns the engine; its share is of its usual speed.
    pub starter: Source,
    /// Cabin blower.
    pub blower: Source,
    /// Fan at the radiator.
    pub fan: Source,
    /// Fuel pump.
    pub pump: Source,
    /// Horn.
    pub horn: Source,
    /// Compressor that the engine drives: its clutch holds.
    pub compressor: Source,
}

impl Running {
    pub(crate) fn tidied(self) -> Running {
        Running {
            engine_rpm: tidy(self.engine_rpm, 10_000.0),
            cylinders: self.cylinders.clamp(1, 16),
            engine_near: tidy(self.engine_near, 1.0),
            starter: self.starter.tidied(),
            blower: self.blower.tidied(),
            fan: self.fan.tidied(),
            pump: self.pump.tidied(),
            horn: self.horn.tidied(),
            compressor: self.compressor.tidied(),
        }
    }
}

/// Something heard once.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Event {
    /// A relay pulls in or drops out.
    RelayClick,
    /// A relay that keeps interrupting itself.
    RelayBuzz,
    /// The plate of a compressor clutch is pulled to its pulley.
    ClutchIn,
    /// It lets go.
    ClutchOut,
    /// The solenoid of a starter that does not turn.
    StarterClick,
    /// The first firings of an engine.
    EngineStarts,
    /// An engine's last half turn.
    EngineStops,
    /// A spark that hardly shows.
    SparkSmall,
    /// One that pits contacts.
    SparkStrong,
    /// A plug's latch, or a relay pushed home.
    PlugClick,
    /// Gas from a service port.
    Hiss,
}

impl Event {
    /// All there are.
    pub const ALL: [Event; 11] = [
        Event::RelayClick,
        Event::RelayBuzz,
        Event::ClutchIn,
        Event::ClutchOut,
        Event::StarterClick,
        Event::EngineStarts,
        Event::EngineStops,
        Event::SparkSmall,
        Event::SparkStrong,
        Event::PlugClick,
        Event::Hiss,
    ];
}

pub(crate) fn tidy(value: f32, most: f32) -> f32 {
    if value.is_finite() {
        value.clamp(0.0, most)
    } else {
        0.0
    }
}
