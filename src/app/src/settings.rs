//! What a person sets once: text size, language, units, motion, sound, graphics, keys.
//!
//! Plain data; where it is kept is `platform`'s business.

use serde::{Deserialize, Serialize};

use crate::desk::keys::Keys;
use crate::text::Language;

/// Everything that can be set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Language of the app.
    pub language: Language,
    /// Text size in percent, 100 to 200.
    pub text_percent: u32,
    /// Blue and orange instead of green and red.
    pub blue_and_orange: bool,
    /// No camera flights, no fading.
    pub calm: bool,
    /// Sounds written as captions.
    pub captions: bool,
    /// Sounds are heard, where there is a way out for them.
    pub sound: bool,
    /// Their volume in percent; 0 is silent.
    pub volume_percent: u32,
    /// How much is drawn.
    pub graphics: Graphics,
    /// Pressure unit.
    pub pressure: Pressure,
    /// Temperature unit.
    pub temperature: Temperature,
    /// The card with the first steps at the bench was put away.
    pub first_steps_done: bool,
    /// Keys.
    pub keys: Keys,
}

impl Default for Settings {
    fn default() -> Self {
        Settings {
            language: Language::En,
            text_percent: 100,
            blue_and_orange: false,
            calm: false,
            captions: true,
            sound: true,
            volume_percent: 70,
            graphics: Graphics::Medium,
            pressure: Pressure::Kpa,
            temperature: Temperature::Celsius,
            first_steps_done: false,
            keys: Keys::default(),
        }
    }
}

impl Settings {
    /// The same with every number within its range.
    pub fn tidied(mut self) -> Settings {
        self.text_percent = self.text_percent.clamp(100, 200);
        self.volume_percent = self.volume_percent.min(100);
        self.keys = self.keys.tidied();
        self
    }
}

/// How much is drawn.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Graphics {
    /// For machines without a graphics card.
    Low,
    /// Shadows and finer edges.
    #[default]
    Medium,
    /// Everything.
    High,
}

/// Pressure units.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Pressure {
    /// Kilopascals.
    #[default]
    Kpa,
    /// Bar.
    Bar,
    /// Pounds-force per square inch.
    Psi,
}

impl Pressure {
    /// A gauge pressure in this unit: value, decimals to show, sign.
    ///
    /// 1 bar = 100 kPa exactly; 1 psi = 6.894 757 kPa (NIST SP 811, appendix B.8).
    pub fn show(self, kpa: f64) -> (f64, usize, &'static str) {
        match self {
            Pressure::Kpa => (kpa, 0, "kPa"),
            Pressure::Bar => (kpa / 100.0, 2, "bar"),
            Pressure::Psi => (kpa / 6.894_757, 0, "psi"),
        }
    }
}

/// Temperature units.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Temperature {
    /// Degrees Celsius.
    #[default]
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

impl Temperature {
    /// A temperature in this unit, and the unit's sign. °F = 1.8 °C + 32 (NIST SP 811, B.8).
    pub fn show(self, celsius: f64) -> (f64, &'static str) {
        match self {
            Temperature::Celsius => (celsius, "°C"),
            Temperature::Fahrenheit => (celsius * 1.8 + 32.0, "°F"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811: fixed points of the scales and the pound-force per square inch.
    #[test]
    fn units_are_converted_as_published() {
        assert_eq!(Temperature::Fahrenheit.show(100.0).0, 212.0);
        assert_eq!(Temperature::Fahrenheit.show(-40.0).0, -40.0);
        assert_eq!(Pressure::Bar.show(250.0).0, 2.5);
        assert!((Pressure::Psi.show(100.0).0 - 14.503_77).abs() < 1e-4);
    }

    #[test]
    fn an_unknown_or_wild_file_of_settings_is_put_right() {
        let s: Settings = serde_json::from_str(r#"{"text_percent": 9000, "calm": true}"#).unwrap();
        let s = s.tidied();
        assert_eq!(s.text_percent, 200);
        assert!(s.calm);
    }
}
