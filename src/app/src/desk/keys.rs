//! Which key does what. Data, so that a person can change it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::egui::Key;

/// What a key can do anywhere at the car.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum KeyAct {
    /// Walk to the driver's seat.
    GoSeat,
    /// Walk to the engine bay.
    GoBay,
    /// Lean over the fuse box.
    GoBox,
    /// Walk to the bench.
    GoBench,
    /// Open or close the tool roll.
    Tools,
    /// Lay the tool back.
    LayBack,
    /// Next thing within reach.
    Next,
    /// Previous thing within reach.
    Previous,
    /// Find a thing by name.
    Find,
    /// Touch the chosen point with the tool in hand.
    Touch,
    /// Put the tool's first lead on the chosen point.
    FirstLead,
    /// Put the tool's second lead on the chosen point and leave it there.
    SecondLead,
    /// Next point of the thing.
    PointNext,
    /// Previous point of the thing.
    PointPrevious,
    /// Show or hide the job sheet, and go to it.
    Sheet,
    /// Show or hide the wiring diagram.
    Diagram,
    /// Stop or run time.
    Pause,
}

impl KeyAct {
    /// All of them, in the order the settings show them.
    pub const ALL: [KeyAct; 17] = [
        KeyAct::GoSeat,
        KeyAct::GoBay,
        KeyAct::GoBox,
        KeyAct::GoBench,
        KeyAct::Tools,
        KeyAct::LayBack,
        KeyAct::Next,
        KeyAct::Previous,
        KeyAct::Find,
        KeyAct::PointNext,
        KeyAct::PointPrevious,
        KeyAct::Touch,
        KeyAct::FirstLead,
        KeyAct::SecondLead,
        KeyAct::Sheet,
        KeyAct::Diagram,
        KeyAct::Pause,
    ];

    /// Key of its sentence.
    pub fn text_key(self) -> &'static str {
        match self {
            KeyAct::GoSeat => "key-go-seat",
            KeyAct::GoBay => "key-go-bay",
            KeyAct::GoBox => "key-go-box",
            KeyAct::GoBench => "key-go-bench",
            KeyAct::Tools => "key-tools",
            KeyAct::LayBack => "key-lay-back",
            KeyAct::Next => "key-next",
            KeyAct::Previous => "key-previous",
            KeyAct::Find => "key-find",
            KeyAct::Touch => "key-touch",
            KeyAct::FirstLead => "key-first-lead",
            KeyAct::SecondLead => "key-second-lead",
            KeyAct::PointNext => "key-point-next",
            KeyAct::PointPrevious => "key-point-previous",
            KeyAct::Sheet => "key-sheet",
            KeyAct::Diagram => "key-diagram",
            KeyAct::Pause => "key-pause",
        }
    }

    fn usual(self) -> Key {
        match self {
            KeyAct::GoSeat => Key::S,
            KeyAct::GoBay => Key::E,
            KeyAct::GoBox => Key::F,
            KeyAct::GoBench => Key::B,
            KeyAct::Tools => Key::T,
            KeyAct::LayBack => Key::R,
            KeyAct::Next => Key::N,
            KeyAct::Previous => Key::M,
            KeyAct::Find => Key::Slash,
            KeyAct::Touch => Key::X,
            KeyAct::FirstLead => Key::C,
            KeyAct::SecondLead => Key::L,
            KeyAct::PointNext => Key::K,
            KeyAct::PointPrevious => Key::I,
            KeyAct::Sheet => Key::J,
            KeyAct::Diagram => Key::D,
            KeyAct::Pause => Key::P,
        }
    }
}

/// The keys in use, by name. A key does one thing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Keys(BTreeMap<KeyAct, String>);

impl Default for Keys {
    fn default() -> Self {
        Keys(
            KeyAct::ALL
                .into_iter()
                .map(|act| (act, act.usual().name().to_owned()))
                .collect(),
        )
    }
}

impl Keys {
    /// The key of an act.
    pub fn key(&self, act: KeyAct) -> Key {
        self.0
            .get(&act)
            .and_then(|name| Key::from_name(name))
            .unwrap_or_else(|| act.usual())
    }

    /// What a key does.
    pub fn act(&self, key: Key) -> Option<KeyAct> {
        KeyAct::ALL.into_iter().find(|act| self.key(*act) == key)
    }

    /// Whether a key may be chosen: not one that panels need themselves.
    pub fn may_use(key: Key) -> bool {
        let digit = [
            Key::Num0,
            Key::Num1,
            Key::Num2,
            Key::Num3,
            Key::Num4,
            Key::Num5,
            Key::Num6,
            Key::Num7,
            Key::Num8,
            Key::Num9,
        ]
        .contains(&key);
        let panel = [
            Key::Tab,
            Key::Escape,
            Key::Enter,
            Key::Space,
            Key::ArrowDown,
            Key::ArrowUp,
            Key::ArrowLeft,
            Key::ArrowRight,
            Key::Plus,
            Key::Minus,
            Key::Equals,
        ]
        .contains(&key);
        !digit && !panel
    }

    /// Gives an act another key. The act that had this key gets the old one, so that none is
    /// without.
    pub fn change(&mut self, act: KeyAct, key: Key) -> bool {
        if !Keys::may_use(key) {
            return false;
        }
        let old = self.key(act);
        if let Some(other) = self.act(key) {
            self.0.insert(other, old.name().to_owned());
        }
        self.0.insert(act, key.name().to_owned());
        true
    }

    /// The same without keys that do not exist or do two things. An act that a file of an older version does
    /// not know gets a key that is free.
    pub fn tidied(mut self) -> Keys {
        for act in KeyAct::ALL {
            if self.0.contains_key(&act) {
                continue;
            }
            let taken: Vec<Key> = self
                .0
                .values()
                .filter_map(|name| Key::from_name(name))
                .collect();
            let letters = ('A'..='Z').filter_map(|c| Key::from_name(&c.to_string()));
            let free = std::iter::once(act.usual())
                .chain(letters)
                .find(|key| !taken.contains(key));
            if let Some(key) = free {
                self.0.insert(act, key.name().to_owned());
            }
        }
        let mut seen = Vec::new();
        for act in KeyAct::ALL {
            let key = self.key(act);
            if seen.contains(&key) || !Keys::may_use(key) {
                return Keys::default();
            }
            seen.push(key);
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_does_two_things() {
        let keys = Keys::default();
        for act in KeyAct::ALL {
            assert_eq!(keys.act(keys.key(act)), Some(act));
            assert!(Keys::may_use(keys.key(act)), "{act:?}");
        }
        assert_eq!(keys.clone().tidied(), keys);
    }

    #[test]
    fn a_file_from_before_an_act_was_there_keeps_its_keys() {
        let mut old = Keys::default();
        assert!(old.change(KeyAct::Touch, Key::D));
        old.0.remove(&KeyAct::Diagram);
        let new = old.tidied();
        assert_eq!(new.act(Key::D), Some(KeyAct::Touch));
        let key = new.key(KeyAct::Diagram);
        assert_eq!(new.act(key), Some(KeyAct::Diagram));
        assert_eq!(new.clone().tidied(), new);
    }

    #[test]
    fn changing_a_key_swaps_the_two() {
        let mut keys = Keys::default();
        assert!(keys.change(KeyAct::Tools, Key::E));
        assert_eq!(keys.act(Key::E), Some(KeyAct::Tools));
        assert_eq!(keys.act(Key::T), Some(KeyAct::GoBay));
        assert!(!keys.change(KeyAct::Tools, Key::Tab));
    }
}
