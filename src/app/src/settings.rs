//! What a person sets once: text size, language, units, motion, sound, graphics, keys.
//!
//! Plain data; where it is kept is `platform`'s business.

use serde::{Deserialize, Serialize};
use serde_json::Value;

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
    /// What a text has, over the usual ones. What cannot be read of it, as from another version, is left out
    /// one by one.
    pub fn read(text: &str, usual: Settings) -> Settings {
        let (Ok(Value::Object(found)), Ok(Value::Object(mut all))) =
            (serde_json::from_str(text), serde_json::to_value(&usual))
        else {
            return usual;
        };
        for (name, value) in found {
            let before = all.insert(name.clone(), value);
            if Settings::deserialize(Value::Object(all.clone())).is_err() {
                match before {
                    Some(before) => all.insert(name, before),
                    None => all.remove(&name),
                };
            }
        }
        Settings::deserialize(Value::Object(all)).unwrap_or(usual)
    }

    /// What is to be kept once these are in force instead of `before`: what was only laid over the kept ones
    /// for this run and has not been changed since stays as it is kept.
    pub fn to_keep(&self, before: &Settings, kept: Settings) -> Settings {
        let mut keep = self.clone();
        if self.language == before.language {
            keep.language = kept.language;
        }
        if self.text_percent == before.text_percent {
            keep.text_percent = kept.text_percent;
        }
        if self.graphics == before.graphics {
            keep.graphics = kept.graphics;
        }
        keep
    }

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

    #[test]
    fn what_cannot_be_read_is_left_out_alone() {
        let text =
            r#"{"volume_percent": 30, "graphics": "finest", "text_percent": 150, "smell": true}"#;
        let read = Settings::read(text, Settings::default());
        assert_eq!((read.volume_percent, read.text_percent), (30, 150));
        assert_eq!(read.graphics, Settings::default().graphics);
        let usual = Settings::default();
        for text in ["", "[]", "{", "7"] {
            assert_eq!(Settings::read(text, usual.clone()), usual);
        }
        let all = Settings {
            calm: true,
            pressure: Pressure::Psi,
            ..usual.clone()
        };
        let text = serde_json::to_string(&all).unwrap();
        assert_eq!(Settings::read(&text, usual), all);
    }

    #[test]
    fn what_was_asked_for_this_run_is_not_kept_with_another_change() {
        let kept = Settings::default();
        let before = Settings {
            language: Language::Es,
            text_percent: 200,
            ..kept.clone()
        };
        let louder = Settings {
            volume_percent: 100,
            ..before.clone()
        };
        let keep = louder.to_keep(&before, kept.clone());
        assert_eq!(keep.volume_percent, 100);
        assert_eq!((keep.language, keep.text_percent), (Language::En, 100));
        let smaller = Settings {
            text_percent: 150,
            ..before.clone()
        };
        assert_eq!(smaller.to_keep(&before, kept).text_percent, 150);
    }
}
