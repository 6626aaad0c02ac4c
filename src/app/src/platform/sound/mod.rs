//! Where samples go. Each kind of machine has a way of its own or none; none is no error. Knows no
//! car: what sounds comes as numbers.

use std::sync::atomic::{AtomicU8, Ordering};

#[cfg(all(feature = "sound", target_os = "linux"))]
#[path = "player.rs"]
mod way;
#[cfg(all(feature = "sound", target_arch = "wasm32"))]
#[path = "page.rs"]
mod way;
#[cfg(all(
    feature = "sound",
    not(any(target_os = "linux", target_arch = "wasm32"))
))]
#[path = "none.rs"]
mod way;

#[cfg(feature = "sound")]
pub use way::Speaker;

/// Whether sound comes out of this machine.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Output {
    /// Nobody asked yet, or it is being tried.
    Untried,
    /// It does.
    Plays,
    /// A way out was looked for, and none works.
    NoneFound,
    /// A browser lets sound out only after a key, a click or a touch.
    AwaitsGesture,
    /// This program has no way on this system.
    NotOnThisSystem,
    /// The program was built without.
    NotBuiltIn,
}

impl Output {
    /// Key of the sentence that says so, where there is something to say.
    pub fn text_key(self) -> Option<&'static str> {
        match self {
            Output::Untried | Output::Plays => None,
            Output::NoneFound if super::IN_A_PAGE => Some("sound-none-in-page"),
            Output::NoneFound => Some("sound-none-found"),
            Output::AwaitsGesture => Some("sound-awaits-gesture"),
            Output::NotOnThisSystem => Some("sound-not-on-this-system"),
            Output::NotBuiltIn => Some("sound-not-built-in"),
        }
    }

    /// Whether there is anything to switch on.
    pub fn usable(self) -> bool {
        matches!(
            self,
            Output::Untried | Output::Plays | Output::AwaitsGesture
        )
    }
}

const ALL: [Output; 6] = [
    Output::Untried,
    Output::Plays,
    Output::NoneFound,
    Output::AwaitsGesture,
    Output::NotOnThisSystem,
    Output::NotBuiltIn,
];

/// How it stands with this program's one way out.
static STANDS: AtomicU8 = AtomicU8::new(if cfg!(feature = "sound") {
    Output::Untried as u8
} else {
    Output::NotBuiltIn as u8
});

/// Whether sound comes out of this machine, as far as is known.
pub fn output() -> Output {
    let stands = usize::from(STANDS.load(Ordering::Relaxed));
    ALL.get(stands).copied().unwrap_or(Output::Untried)
}

#[cfg(feature = "sound")]
fn stands(output: Output) {
    STANDS.store(output as u8, Ordering::Relaxed);
}

/// What is to be heard from now on.
#[cfg(feature = "sound")]
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ToHear {
    /// What runs.
    pub running: tracebay_sound::Running,
    /// What just happened, and how near.
    pub events: Vec<(tracebay_sound::Event, f32)>,
    /// How loud, 0 to 1; 0 where nothing is to be heard.
    pub volume: f32,
    /// Whether a way out is to be looked for before anything sounds.
    pub try_out: bool,
    /// Whether anything may sound at all: no way out is kept open for a person who wants none.
    pub on: bool,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_state_is_found_again_by_its_number() {
        for (number, output) in ALL.iter().enumerate() {
            assert_eq!(*output as usize, number);
        }
    }
}
