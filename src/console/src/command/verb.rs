//! The commands there are. What each is called and how it is typed is in the words files.

use tracebay_words::{Keyed, Words, fold};

macro_rules! verbs {
    ($($verb:ident $name:literal),+ $(,)?) => {
        /// A command.
        #[derive(Copy, Clone, Debug, PartialEq, Eq)]
        pub enum Verb { $($verb),+ }

        impl Keyed for Verb {
            fn all() -> &'static [Verb] {
                &[$(Verb::$verb),+]
            }
            fn name(self) -> &'static str {
                match self { $(Verb::$verb => $name),+ }
            }
            fn key(self) -> String {
                format!("cmd-{}", self.name())
            }
        }
    };
}

verbs! {
    Go "go", Set "set", Start "start", Stop "stop", Wait "wait", Protect "protect",
    Uncover "uncover", Cover "cover", Pull "pull", Fit "fit", Unplug "unplug", Plug "plug",
    Wiggle "wiggle", Spray "spray", Look "look", Inspect "inspect", Listen "listen", Feel "feel", Lamp "lamp",
    Take "take", Clip "clip", Red "red", Black "black", Put "put", Lift "lift", Touch "touch",
    Sweep "sweep", Jump "jump", Dial "dial", Renew "renew", Breakout "breakout", Gauge "gauge",
    Thermometer "thermometer",
    Note "note", Hint "hint", Call "call", Repair "repair", Handback "handback",
    Walkback "walkback",
    Where "where", State "state", Points "points", Places "places", Plugs "plugs",
    Controls "controls", Tools "tools", Box "box", Legend "legend", Card "card",
    Targets "targets", Failures "failures", Methods "methods", Sheet "sheet", Log "log",
    Units "units", Cautions "cautions", Retry "retry", Unsaved "unsaved", Help "help",
    Quit "quit",
}

/// How a command is typed.
pub fn usage(words: &Words, verb: Verb) -> String {
    words.attribute(&verb.key(), "usage")
}

/// Every word that begins a command, for completion and for the nearest one to a mistake.
pub fn all_spellings(words: &Words) -> Vec<String> {
    let verbs = Verb::all().iter();
    verbs
        .flat_map(|verb| words.spellings(&verb.key()))
        .collect()
}

/// Whether a typed word is one of the spellings of a key.
pub fn is_word(words: &Words, key: &str, typed: &str) -> bool {
    let typed = fold(typed);
    words.spellings(key).iter().any(|word| fold(word) == typed)
}
