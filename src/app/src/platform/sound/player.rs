//! Linux: a thread makes the samples and writes them to the standard input of a player that comes with
//! the sound server or with ALSA. No library is linked and nothing is waited for: the window only leaves
//! word of what is to be heard.
//!
//! A player, not a client of the server's protocol: the crates that speak it need a system library, or
//! change features of crates that Bevy shares, which would have Bevy compiled a second time.

use std::io::Write;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use tracebay_sound::{Event, Running, Synth};

use super::{Output, ToHear, stands};

const RATE_HZ: u32 = 48_000;
/// Samples made at a time: 20 ms.
const BLOCK: usize = 960;
const BLOCK_TIME: Duration = Duration::from_millis(20);
/// A player has this long to reach its server before it gets samples: what waits for it in the pipe
/// would be heard late from then on.
const GETS_READY: Duration = Duration::from_millis(200);
/// Silence before the first sound, in blocks: a card that wakes swallows the beginning.
const PRELUDE: usize = 4;
/// How far samples are written ahead of the clock. The pipe holds 64 KiB at most (pipe(7)), a sixth of a
/// second of two channels of floats, so that a player with a slow clock is never far behind.
const AHEAD: Duration = Duration::from_millis(60);
/// A player that lives this long plays: one that finds no server was seen to take a second to say so.
const PLAYS_AFTER: Duration = Duration::from_secs(3);
/// Silence after which it is let go, so that the sound card may sleep.
const LET_GO: Duration = Duration::from_secs(60);
/// How soon the next try, where nothing could play, and where a player ended by itself.
const TRY_AGAIN: Duration = Duration::from_secs(20);
const GO_ON: Duration = Duration::from_secs(5);
/// Events that wait while nothing takes them.
const WAITING: usize = 24;

/// Players and their arguments, the most general first: pacat speaks to PulseAudio and PipeWire, aplay
/// to a card.
const PLAYERS: &[(&str, &[&str])] = &[
    (
        "pacat",
        &[
            "--playback",
            "--format=float32le",
            "--rate=48000",
            "--channels=2",
            "--latency-msec=60",
            "--client-name=Tracebay",
            "--stream-name=Tracebay",
        ],
    ),
    (
        "aplay",
        &[
            "--quiet",
            "--file-type=raw",
            "--format=FLOAT_LE",
            "--rate=48000",
            "--channels=2",
            "--buffer-time=80000",
        ],
    ),
];

#[derive(Default)]
struct Word {
    running: Running,
    events: Vec<(Event, f32)>,
    volume: f32,
    try_out: bool,
    ends: bool,
}

impl Word {
    fn something(&self) -> bool {
        let runs = Running {
            cylinders: 0,
            ..self.running
        };
        self.volume > 0.0 && (!self.events.is_empty() || runs != Running::default())
    }
}

struct Shared {
    word: Mutex<Word>,
    news: Condvar,
    /// The player, so that it ends with the program even while it takes no samples.
    player: Mutex<Option<Child>>,
}

/// What was left behind by a thread that panicked is whole: each change is one assignment.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Leaves word of what is to be heard.
pub struct Speaker {
    shared: Arc<Shared>,
}

impl Speaker {
    /// Starts the thread; nothing is tried before there is something to hear.
    pub fn start() -> Speaker {
        Speaker::with(PLAYERS)
    }

    fn with(players: &'static [(&'static str, &'static [&'static str])]) -> Speaker {
        let shared = Arc::new(Shared {
            word: Mutex::default(),
            news: Condvar::new(),
            player: Mutex::default(),
        });
        let theirs = shared.clone();
        let thread = std::thread::Builder::new().name("sound".into());
        if thread.spawn(move || work(&theirs, players)).is_err() {
            stands(Output::NoneFound);
        }
        Speaker { shared }
    }

    /// Leaves word. False: it does not have to be called again in time.
    pub fn hear(&mut self, what: ToHear) -> bool {
        let mut word = lock(&self.shared.word);
        word.running = what.running;
        word.volume = what.volume;
        word.try_out = what.try_out;
        word.events.extend(what.events);
        word.events.truncate(WAITING);
        drop(word);
        self.shared.news.notify_one();
        false
    }
}

impl Drop for Speaker {
    fn drop(&mut self) {
        lock(&self.shared.word).ends = true;
        self.shared.news.notify_one();
        if let Some(player) = lock(&self.shared.player).as_mut() {
            let _ = player.kill();
        }
    }
}

/// Why a player plays no more.
enum Ended {
    /// It never did.
    AtOnce,
    /// It ended by itself after a while: its server is gone.
    ByItself,
    /// There was nothing more to hear.
    LetGo,
}

/// A player that takes samples.
struct Playing {
    input: ChildStdin,
    since: Instant,
    /// When the next block is heard if all goes well.
    due: Instant,
    quiet_since: Option<Instant>,
}

fn work(shared: &Shared, players: &[(&str, &[&str])]) {
    let mut synth = Synth::new(RATE_HZ);
    let mut not_before: Option<Instant> = None;
    let mut tried_out = false;
    loop {
        {
            let mut word = lock(&shared.word);
            loop {
                if word.ends {
                    return;
                }
                let may = not_before.is_none_or(|t| Instant::now() >= t);
                tried_out &= word.try_out;
                if may && (word.something() || word.try_out && !tried_out) {
                    tried_out = word.try_out;
                    break;
                }
                // Nobody is to hear later what could not be played now.
                if !may {
                    word.events.clear();
                }
                word = shared
                    .news
                    .wait(word)
                    .unwrap_or_else(PoisonError::into_inner);
            }
        }
        let mut ended = Ended::AtOnce;
        for (name, arguments) in players {
            if let Some(playing) = begin(shared, name, arguments) {
                ended = play(shared, &mut synth, playing);
            }
            if let Some(mut player) = lock(&shared.player).take() {
                let _ = player.kill();
                let _ = player.wait();
            }
            if !matches!(ended, Ended::AtOnce) {
                break;
            }
        }
        let pause = match ended {
            Ended::AtOnce => {
                stands(Output::NoneFound);
                Some(TRY_AGAIN)
            }
            Ended::ByItself => Some(GO_ON),
            Ended::LetGo => None,
        };
        not_before = pause.map(|pause| Instant::now() + pause);
    }
}

fn begin(shared: &Shared, name: &str, arguments: &[&str]) -> Option<Playing> {
    let mut player = Command::new(name)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
    let input = player.stdin.take()?;
    *lock(&shared.player) = Some(player);
    let since = Instant::now();
    std::thread::sleep(GETS_READY);
    Some(Playing {
        input,
        since,
        due: Instant::now(),
        quiet_since: None,
    })
}

/// Plays until there is nothing more to hear or the player ends.
fn play(shared: &Shared, synth: &mut Synth, mut playing: Playing) -> Ended {
    let mut samples = [0.0; BLOCK];
    let mut bytes = Vec::with_capacity(BLOCK * 8);
    let mut prelude = PRELUDE;
    loop {
        let lived = playing.since.elapsed() >= PLAYS_AFTER;
        let gone = if lived {
            Ended::ByItself
        } else {
            Ended::AtOnce
        };
        let ended = match lock(&shared.player).as_mut() {
            Some(player) => !matches!(player.try_wait(), Ok(None)),
            None => true,
        };
        if ended {
            return gone;
        }
        if lived {
            stands(Output::Plays);
        }
        {
            let mut word = lock(&shared.word);
            if word.ends {
                return Ended::LetGo;
            }
            if prelude == 0 {
                synth.volume(word.volume);
                synth.set(word.running);
                for (event, near) in word.events.drain(..) {
                    synth.event(event, near);
                }
            }
            prelude = prelude.saturating_sub(1);
        }
        if synth.silent() {
            let since = *playing.quiet_since.get_or_insert_with(Instant::now);
            if lived && since.elapsed() >= LET_GO {
                return Ended::LetGo;
            }
        } else {
            playing.quiet_since = None;
        }
        synth.fill(&mut samples);
        bytes.clear();
        for sample in samples {
            let sample = sample.to_le_bytes();
            bytes.extend_from_slice(&sample);
            bytes.extend_from_slice(&sample);
        }
        if playing.input.write_all(&bytes).is_err() {
            return gone;
        }
        playing.due += BLOCK_TIME;
        let now = Instant::now();
        if playing.due + AHEAD < now {
            // The machine slept or was busy: what was missed is missed.
            playing.due = now;
        } else if playing.due > now + AHEAD {
            std::thread::sleep(playing.due - now - AHEAD);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::output;
    use super::*;
    use tracebay_sound::Source;

    fn horn() -> ToHear {
        ToHear {
            running: Running {
                horn: Source {
                    share: 1.0,
                    near: 1.0,
                },
                ..Running::default()
            },
            volume: 1.0,
            ..ToHear::default()
        }
    }

    fn until(what: impl Fn() -> bool) -> bool {
        let start = Instant::now();
        while start.elapsed() < Duration::from_secs(20) {
            if what() {
                return true;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        false
    }

    /// One test, since there is one state for the whole program: no player at all, one that finds
    /// nothing to play on, one that takes no samples, and one that takes them.
    #[test]
    fn a_player_gets_samples_and_none_costs_no_time() {
        let mut speaker =
            Speaker::with(&[("tracebay-no-such-player", &[]), ("sh", &["-c", "exit 1"])]);
        speaker.hear(horn());
        assert!(until(|| output() == Output::NoneFound));
        drop(speaker);

        // A server that hangs: the pipe is full after a sixth of a second.
        let mut hangs = Speaker::with(&[("sleep", &["600"])]);
        let start = Instant::now();
        while start.elapsed() < Duration::from_secs(1) {
            let asked = Instant::now();
            hangs.hear(horn());
            assert!(asked.elapsed() < Duration::from_millis(500));
            std::thread::sleep(Duration::from_millis(20));
        }
        let shared = hangs.shared.clone();
        drop(hangs);
        // Its player ends with the program's speaker, and is waited for.
        assert!(until(|| lock(&shared.player).is_none()));

        let file = std::env::temp_dir().join(format!("tracebay-{}.f32", std::process::id()));
        let write: &'static str =
            Box::leak(format!("exec cat > '{}'", file.display()).into_boxed_str());
        let arguments: &'static [&'static str] = Box::leak(Box::new(["-c", write]));
        let mut speaker = Speaker::with(Box::leak(Box::new([("sh", arguments)])));
        speaker.hear(horn());
        let loud = || {
            let bytes = std::fs::read(&file).unwrap_or_default();
            let (samples, _) = bytes.as_chunks::<4>();
            samples.iter().any(|s| f32::from_le_bytes(*s).abs() > 0.3)
        };
        assert!(until(loud));
        assert!(until(|| output() == Output::Plays));
        drop(speaker);
        let _ = std::fs::remove_file(&file);
    }
}
