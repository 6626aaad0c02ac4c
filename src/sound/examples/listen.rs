//! Writes what a state sounds like to a file, for listening to it without a window:
//!
//!     cargo run --release -p tracebay-sound --example listen -- FILE.wav engine=800 blower=0.6
//!
//! Words: `engine=RPM`, `starter`, `blower`, `fan`, `pump`, `horn`, `compressor` `=SHARE`, `near=SHARE`,
//! `seconds=S`, `events` (one of each kind, half a second apart).

use tracebay_sound::{Event, Running, Source, Synth, wav};

const RATE_HZ: u32 = 48_000;

fn main() -> Result<(), String> {
    let mut words = std::env::args().skip(1);
    let file = words.next().ok_or("name a file to write")?;
    let (mut running, mut near, mut seconds) = (Running::default(), 1.0, 5.0f32);
    let mut events = false;
    let mut shares = Vec::new();
    for word in words {
        if word == "events" {
            events = true;
            continue;
        }
        let (name, value) = word.split_once('=').ok_or(format!("{word}: no ="))?;
        let value: f32 = value.parse().map_err(|_| format!("{word}: no number"))?;
        match name {
            "near" => near = value,
            "seconds" => seconds = value.clamp(0.1, 600.0),
            _ => shares.push((name.to_owned(), value)),
        }
    }
    for (name, share) in shares {
        let source = Source { share, near };
        match name.as_str() {
            "engine" => (running.engine_rpm, running.engine_near) = (share, near),
            "starter" => running.starter = source,
            "blower" => running.blower = source,
            "fan" => running.fan = source,
            "pump" => running.pump = source,
            "horn" => running.horn = source,
            "compressor" => running.compressor = source,
            _ => return Err(format!("{name}: not known")),
        }
    }
    running.cylinders = 4;
    let mut synth = Synth::new(RATE_HZ);
    synth.volume(1.0);
    synth.set(running);
    let mut samples = vec![0.0; (seconds * RATE_HZ as f32) as usize];
    let mut kinds = Event::ALL.iter().filter(|_| events);
    for half in samples.chunks_mut(RATE_HZ as usize / 2) {
        if let Some(event) = kinds.next() {
            synth.event(*event, near);
        }
        synth.fill(half);
    }
    std::fs::write(&file, wav(&samples, RATE_HZ)).map_err(|why| format!("{file}: {why}"))
}
