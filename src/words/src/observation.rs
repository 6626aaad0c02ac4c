//! What is perceived, in words.

use tracebay_core::session::{Dash, MeterDisplay, Observation, Sound};
use tracebay_core::tools::Dial;
use tracebay_core::vehicle::Vehicle;

use crate::{Value, Words};

impl Words {
    /// A thing perceived.
    pub fn observation(&self, vehicle: &Vehicle, seen: &Observation) -> String {
        let name = |id: &str| Value::from(self.name(vehicle, id));
        let point = |id: &str| Value::from(self.point(vehicle, id));
        let told = match seen {
            Observation::Light {
                tool,
                point: at,
                glow,
                ..
            } => self.get(
                "seen-light",
                &[
                    ("tool", self.value(*tool).into()),
                    ("point", point(at)),
                    ("glow", self.value(*glow).into()),
                ],
            ),
            Observation::Meter { point: at, display } => self.get(
                "seen-meter",
                &[
                    ("point", point(at)),
                    ("display", self.meter(display).into()),
                ],
            ),
            Observation::Gauge { kpa } => {
                self.get("seen-gauge", &[("pressure", self.pressure(*kpa).into())])
            }
            Observation::Temperature { place, celsius } => self.get(
                "seen-temperature",
                &[
                    ("place", name(place)),
                    ("temperature", self.temperature(*celsius).into()),
                ],
            ),
            Observation::Heard {
                sound: Sound::Silence,
                place,
            } => self.get("seen-silence", &[("place", name(place))]),
            Observation::Heard { sound, place } => self.get(
                "seen-heard",
                &[("sound", self.value(*sound).into()), ("place", name(place))],
            ),
            Observation::Seen {
                place,
                finding,
                lamp: Some(lamp),
            } => self.get(
                "seen-lamp",
                &[
                    ("place", name(place)),
                    ("lamp", name(lamp)),
                    ("finding", self.value(*finding).into()),
                ],
            ),
            Observation::Seen { place, finding, .. } => self.get(
                "seen-seen",
                &[
                    ("place", name(place)),
                    ("finding", self.value(*finding).into()),
                ],
            ),
            Observation::NothingSeen { place } => {
                self.get("seen-nothing", &[("place", name(place))])
            }
            Observation::TooDark { place } => self.get("seen-too-dark", &[("place", name(place))]),
            Observation::Felt { place, touch } => {
                let args = [("place", name(place)), ("touch", self.value(*touch).into())];
                self.get("seen-felt", &args)
            }
            Observation::Spark { point: at, strong } => {
                let args = [("point", point(at)), ("strong", yes_no(*strong))];
                self.get("seen-spark", &args)
            }
            Observation::ToolFuseBlew { tool } => {
                self.get("seen-tool-fuse-blew", &[("tool", self.value(*tool).into())])
            }
            Observation::Smoke { place } => self.get("seen-smoke", &[("place", name(place))]),
            Observation::Dash(dash) => self.dash(dash),
            Observation::Repaired { target } => {
                self.get("seen-repaired", &[("target", name(target))])
            }
            Observation::HintAsked { level } => {
                self.get("seen-hint-asked", &[("level", level.to_string().into())])
            }
        };
        capital(&told)
    }

    /// What the meter's display shows.
    pub fn meter(&self, display: &MeterDisplay) -> String {
        match display {
            MeterDisplay::Value {
                dial,
                value,
                decimals,
            } => match dial {
                Dial::Off => self.text("meter-blank"),
                Dial::Volts => self.quantity("unit-volts", *value, usize::from(*decimals)),
                Dial::Ohms => self.quantity("unit-ohms", *value, usize::from(*decimals)),
                Dial::Amps => self.quantity("unit-amps", *value, usize::from(*decimals)),
            },
            MeterDisplay::OverRange { .. } => self.text("meter-over-range"),
            MeterDisplay::Nonsense { value } => {
                let shown = self.quantity("unit-ohms", *value, 1);
                self.get("meter-nonsense", &[("value", shown.into())])
            }
            MeterDisplay::Blank => self.text("meter-blank"),
        }
    }

    /// What the dash shows.
    pub fn dash(&self, dash: &Dash) -> String {
        let charge = if dash.charge_lamp { "on" } else { "off" };
        self.get(
            "seen-dash",
            &[
                ("awake", yes_no(dash.awake)),
                ("rpm", dash.rpm.to_string().into()),
                ("charge", charge.into()),
            ],
        )
    }
}

pub(crate) fn yes_no(yes: bool) -> Value<'static> {
    if yes { "yes" } else { "no" }.into()
}

/// A sentence begins with a capital, also where a name stands first.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
