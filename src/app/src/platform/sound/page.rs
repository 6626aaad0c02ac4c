//! A browser: samples are made in the program's own frames and given to Web Audio in short pieces, each
//! scheduled to begin where the last one ends (Web Audio API 1.1, `AudioScheduledSourceNode.start`).
//!
//! The page's policy needs no exception for it: nothing is fetched, no script is added.

use std::cell::{Cell, RefCell};

use tracebay_sound::Synth;
use wasm_bindgen::prelude::*;
use web_sys::{AudioContext, AudioContextState};

use super::{Output, ToHear, stands};

/// Length of a piece, seconds.
const PIECE_S: f64 = 0.04;
/// How far pieces are scheduled ahead: as much as frames are apart, within these.
const AHEAD_S: (f64, f64) = (0.12, 0.6);

thread_local! {
    /// Made at the first key, click or touch: before that a browser lets nothing out.
    static OUT: RefCell<Option<AudioContext>> = const { RefCell::new(None) };
    /// The person wants to hear something.
    static WANTED: Cell<bool> = const { Cell::new(false) };
    /// There was a gesture.
    static FREE: Cell<bool> = const { Cell::new(false) };
}

/// Gives samples to the page.
#[derive(Default)]
pub struct Speaker {
    synth: Option<Synth>,
    rate_hz: f32,
    next_s: f64,
    last_s: f64,
    apart_s: f64,
}

impl Speaker {
    /// Waits for a gesture.
    pub fn start() -> Speaker {
        stands(Output::AwaitsGesture);
        if let Some(window) = web_sys::window() {
            let heard = Closure::<dyn Fn()>::new(gesture);
            for name in ["pointerdown", "pointerup", "keydown", "touchend"] {
                let _ = window.add_event_listener_with_callback_and_bool(
                    name,
                    heard.as_ref().unchecked_ref(),
                    true,
                );
            }
            // As long as the page.
            heard.forget();
        }
        Speaker::default()
    }

    /// Schedules what is to be heard. True: it must be called again soon.
    pub fn hear(&mut self, what: ToHear) -> bool {
        let wanted = WANTED.replace(what.on);
        if what.on && !wanted && FREE.get() {
            open();
        }
        let Some(out) = OUT.with_borrow(Clone::clone) else {
            return false;
        };
        if !what.on {
            // Open but unused it would still take time of the processor, and hold the machine's output.
            if wanted {
                let _ = out.suspend();
            }
            return false;
        }
        if out.state() != AudioContextState::Running {
            return false;
        }
        if self.synth.is_none() {
            self.rate_hz = out.sample_rate();
        }
        let synth = self
            .synth
            .get_or_insert_with(|| Synth::new(self.rate_hz as u32));
        synth.volume(what.volume);
        synth.set(what.running);
        for (event, near) in what.events.into_iter().filter(|_| what.volume > 0.0) {
            synth.event(event, near);
        }
        let now_s = out.current_time();
        let apart_s = (now_s - self.last_s).clamp(0.0, AHEAD_S.1);
        self.last_s = now_s;
        // Grows at once and shrinks slowly.
        self.apart_s = apart_s.max(0.9 * self.apart_s);
        if synth.silent() {
            return false;
        }
        if self.next_s < now_s + 0.01 {
            self.next_s = now_s + 0.03;
        }
        let until_s = now_s + (2.5 * self.apart_s).clamp(AHEAD_S.0, AHEAD_S.1);
        let count = (PIECE_S * f64::from(self.rate_hz)) as usize;
        let mut samples = vec![0.0; count];
        while self.next_s < until_s {
            synth.fill(&mut samples);
            if schedule(&out, &samples, self.rate_hz, self.next_s).is_err() {
                stands(Output::NoneFound);
                return false;
            }
            self.next_s += count as f64 / f64::from(self.rate_hz);
        }
        true
    }
}

fn gesture() {
    FREE.set(true);
    if WANTED.get() {
        open();
    }
}

fn open() {
    OUT.with_borrow_mut(|out| {
        if out.is_none() {
            match AudioContext::new() {
                Ok(new) => *out = Some(new),
                Err(_) => return stands(Output::NoneFound),
            }
        }
        let Some(out) = out else { return };
        if out.state() == AudioContextState::Suspended {
            // Its promise says only what the next frame sees anyway.
            let _ = out.resume();
        }
        stands(Output::Plays);
    });
}

fn schedule(out: &AudioContext, samples: &[f32], rate_hz: f32, at_s: f64) -> Result<(), JsValue> {
    let buffer = out.create_buffer(1, samples.len() as u32, rate_hz)?;
    buffer.copy_to_channel(samples, 0)?;
    let source = out.create_buffer_source()?;
    source.set_buffer(Some(&buffer));
    source.connect_with_audio_node(&out.destination())?;
    source.start_with_when(at_s)
}
