//! Plain values and the keys of their sentences. The lists are complete by construction: the
//! compiler refuses a value that is missing here.

use tracebay_core::fault::{Failure, Method};
use tracebay_core::session::{BladeSize, Finding, Item, PointKind, Sound, Touch};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::Station;

/// A value without data that has a sentence.
pub trait Keyed: Copy + 'static {
    /// All values.
    fn all() -> &'static [Self];
    /// Its name in files.
    fn name(self) -> &'static str;
    /// Key of its sentence.
    fn key(self) -> String;
}

macro_rules! keyed {
    ($type:ty, $prefix:literal, $($value:ident $name:literal),+ $(,)?) => {
        impl Keyed for $type {
            fn all() -> &'static [Self] {
                &[$(Self::$value),+]
            }
            fn name(self) -> &'static str {
                match self {
                    $(Self::$value => $name),+
                }
            }
            fn key(self) -> String {
                format!("{}-{}", $prefix, self.name().replace('_', "-"))
            }
        }
    };
}

keyed!(Station, "station", Seat "seat", Bay "bay", Box "box", Bench "bench");

keyed!(ToolKind, "tool",
    TestLight "test_light", LedLight "led_light", FusedJumper "fused_jumper",
    PlainJumper "plain_jumper", Meter "meter", Breakout "breakout", Gauge "gauge",
    Lamp "lamp", Thermometer "thermometer",
);

keyed!(Lead, "lead",
    Clip "clip", Probe "probe", A "a", B "b", Red "red", Black "black",
);

keyed!(Dial, "dial", Off "off", Volts "volts", Ohms "ohms", Amps "amps");

keyed!(Glow, "glow", Dark "dark", Faint "faint", Dim "dim", Bright "bright");

keyed!(Item, "item", Original "original", Spare "spare");

keyed!(BladeSize, "blade-size", Wide "wide", Narrow "narrow");

keyed!(PointKind, "point-kind",
    Cavity "cavity", Blade "blade", TestTab "test_tab", BackProbe "back_probe", Pin "pin",
    PlugFace "plug_face", Post "post", Stud "stud", Paint "paint",
);

keyed!(Sound, "sound",
    RelayClick "relay_click", RelayBuzz "relay_buzz", ClutchIn "clutch_in",
    ClutchOut "clutch_out", Cranking "cranking", SlowCranking "slow_cranking",
    StarterClick "starter_click", EngineStarts "engine_starts", EngineStops "engine_stops",
    Engine "engine", Blower "blower", Fan "fan", Pump "pump", Horn "horn", Hiss "hiss",
    Silence "silence",
);

keyed!(Finding, "finding",
    NotSeated "not_seated", TerminalBack "terminal_back", TerminalSpread "terminal_spread",
    Corrosion "corrosion", Chafed "chafed", ElementGone "element_gone",
    ElementWhole "element_whole", HeatMarks "heat_marks", OilTrace "oil_trace",
    FinsBlocked "fins_blocked", Dust "dust", PlateStill "plate_still",
    PlateTurns "plate_turns", PulleyStill "pulley_still", WideGap "wide_gap",
    FanTurns "fan_turns", FanStill "fan_still", Lit "lit", Dull "dull", Unlit "unlit", Wet "wet",
);

keyed!(Touch, "touch",
    NoAir "no_air", WeakAir "weak_air", WarmAir "warm_air", CoolAir "cool_air",
    ColdAir "cold_air", Still "still", Vibrates "vibrates", Warm "warm", Hot "hot",
    Cold "cold", PlugMoved "plug_moved", PlugFirm "plug_firm", LooseFit "loose_fit",
    FirmFit "firm_fit",
);

keyed!(Failure, "failure",
    Open "open", HighResistance "high_resistance", ShortToGround "short_to_ground",
    ShortToSupply "short_to_supply", NotSeated "not_seated", BadTerminal "bad_terminal",
    Blown "blown", Coil "coil", Contacts "contacts", StuckOn "stuck_on",
    Mechanical "mechanical", Diode "diode", NoOutput "no_output", ReadingOff "reading_off",
    LowCharge "low_charge", Blocked "blocked", Misuse "misuse", WrongPart "wrong_part",
    Crossed "crossed", NoFault "no_fault", WaterIngress "water_ingress",
);

keyed!(Method, "method",
    Replace "replace", Reseat "reseat", MendTerminal "mend_terminal", MendWire "mend_wire",
    CleanJoint "clean_joint", Recharge "recharge", CleanCondenser "clean_condenser",
    Explain "explain",
);
