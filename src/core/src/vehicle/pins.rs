//! Which pins a kind of part has, and how a person's eye names them.

use super::{Kind, Metal, Relay};

/// Splits `part.pin` at its last dot.
pub fn split_pin(name: &str) -> Option<(&str, &str)> {
    let at = name.rfind('.')?;
    let (part, pin) = (&name[..at], &name[at + 1..]);
    (!part.is_empty() && !pin.is_empty()).then_some((part, pin))
}

fn numbered(n: u32) -> Vec<String> {
    (1..=n).map(|i| i.to_string()).collect()
}

impl Kind {
    /// Pin names of a part of this kind, in a fixed order.
    pub fn pins(&self) -> Vec<String> {
        let two = || vec!["1".to_owned(), "2".to_owned()];
        match self {
            Kind::Battery { .. } => vec!["pos".into(), "neg".into()],
            Kind::Alternator { .. } => vec!["out".into(), "body".into()],
            Kind::Switch { ways, .. } => {
                let mut pins = Vec::new();
                for name in ways.iter().flat_map(|w| [&w.from, &w.to]) {
                    if !pins.contains(name) {
                        pins.push(name.clone());
                    }
                }
                pins
            }
            Kind::PressureSwitch { .. }
            | Kind::Fuse { .. }
            | Kind::ClutchCoil { .. }
            | Kind::Motor { .. }
            | Kind::Lamp { .. }
            | Kind::Resistor { .. }
            | Kind::Thermistor { .. } => two(),
            Kind::Relay(relay) => relay.terminals().iter().map(|t| (*t).to_owned()).collect(),
            Kind::PressureSensor { .. } => {
                vec!["supply".into(), "ground".into(), "signal".into()]
            }
            Kind::ControlUnit(unit) => {
                let mut pins = vec![unit.supply.clone(), unit.ground.clone()];
                pins.extend(unit.reference.iter().map(|r| r.pin.clone()));
                pins.extend(unit.sensor_ground.iter().cloned());
                pins.extend(unit.inputs.values().map(|i| i.pin.clone()));
                pins.extend(unit.outputs.values().map(|o| o.pin.clone()));
                let mut unique: Vec<String> = Vec::new();
                for pin in pins {
                    if !unique.contains(&pin) {
                        unique.push(pin);
                    }
                }
                unique
            }
            Kind::GroundStud { lugs, .. } => numbered(*lugs),
            Kind::Splice { ways } | Kind::BusBar { ways } => numbered(*ways),
            Kind::Inline { cavities } => (1..=*cavities)
                .flat_map(|i| [format!("{i}a"), format!("{i}b")])
                .collect(),
        }
    }

    /// Sits in a slot and is pulled out by hand.
    pub fn plugs_in(&self) -> bool {
        matches!(self, Kind::Fuse { .. } | Kind::Relay(_))
    }

    /// Metal a ground stud is on.
    pub fn ground_metal(&self) -> Option<Metal> {
        match self {
            Kind::GroundStud { on, .. } => Some(*on),
            _ => None,
        }
    }
}

impl Relay {
    /// Terminals in the standard's order (ISO 7588 / DIN 72552).
    pub fn terminals(&self) -> &'static [&'static str] {
        if self.changeover {
            &["30", "85", "86", "87", "87a"]
        } else {
            &["30", "85", "86", "87"]
        }
    }
}
