//! Units that readings are given in.

use crate::Words;

/// Unit of pressure.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Pressure {
    /// Pound-force per square inch.
    Psi,
    /// Kilopascal.
    Kpa,
    /// Bar.
    Bar,
}

/// Unit of temperature.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Temperature {
    /// Degree Celsius.
    Celsius,
    /// Degree Fahrenheit.
    Fahrenheit,
}

/// Units that readings are given in.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub struct Units {
    /// Of pressures.
    pub pressure: Pressure,
    /// Of temperatures.
    pub temperature: Temperature,
}

impl Units {
    /// What gauges and thermometers are usually marked in where the language is spoken. A start;
    /// people choose.
    pub fn usual_for(language: &str) -> Units {
        match language {
            "en" => Units {
                pressure: Pressure::Psi,
                temperature: Temperature::Fahrenheit,
            },
            _ => Units {
                pressure: Pressure::Bar,
                temperature: Temperature::Celsius,
            },
        }
    }
}

/// Kilopascals in one psi: NIST SP 811 (2008), appendix B.8, 6.894 757 kPa.
const KPA_PER_PSI: f64 = 6.894_757;

impl Words {
    /// A gauge pressure.
    pub fn pressure(&self, kpa: f64) -> String {
        let (key, value, decimals) = match self.units.pressure {
            Pressure::Psi => ("unit-psi", kpa / KPA_PER_PSI, 0),
            Pressure::Kpa => ("unit-kpa", kpa, 0),
            Pressure::Bar => ("unit-bar", kpa / 100.0, 1),
        };
        self.quantity(key, value, decimals)
    }

    /// A temperature.
    pub fn temperature(&self, celsius: f64) -> String {
        let (key, value) = match self.units.temperature {
            Temperature::Celsius => ("unit-celsius", celsius),
            Temperature::Fahrenheit => ("unit-fahrenheit", celsius * 1.8 + 32.0),
        };
        self.quantity(key, value, 0)
    }

    /// Job minutes.
    pub fn minutes(&self, minutes: f64) -> String {
        self.quantity("unit-minutes", minutes, 1)
    }

    pub(crate) fn quantity(&self, key: &str, value: f64, decimals: usize) -> String {
        let value = self.number(value, decimals);
        self.get(key, &[("value", value.into())])
    }
}
