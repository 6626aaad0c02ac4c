//! The samples against what is known of the sounds; sources beside each.

use tracebay_sound::{Event, Running, Source, Synth, wav};

const RATE_HZ: u32 = 48_000;

fn near(share: f32) -> Source {
    Source { share, near: 1.0 }
}

/// `seconds` of what runs, after `settle` seconds of it.
fn play(running: Running, settle: f32, seconds: f32) -> Vec<f32> {
    let mut synth = Synth::new(RATE_HZ);
    synth.volume(1.0);
    synth.set(running);
    let mut samples = vec![0.0; (RATE_HZ as f32 * settle) as usize];
    synth.fill(&mut samples);
    samples = vec![0.0; (RATE_HZ as f32 * seconds) as usize];
    synth.fill(&mut samples);
    samples
}

fn once(event: Event, seconds: f32) -> Vec<f32> {
    let mut synth = Synth::new(RATE_HZ);
    synth.volume(1.0);
    synth.event(event, 1.0);
    let mut samples = vec![0.0; (RATE_HZ as f32 * seconds) as usize];
    synth.fill(&mut samples);
    samples
}

fn rms(samples: &[f32]) -> f64 {
    let sum: f64 = samples.iter().map(|x| f64::from(*x).powi(2)).sum();
    (sum / samples.len() as f64).sqrt()
}

/// Amplitude at a frequency (Goertzel 1958).
fn amplitude(samples: &[f32], hz: f64) -> f64 {
    let w = std::f64::consts::TAU * hz / f64::from(RATE_HZ);
    let (mut a, mut b) = (0.0, 0.0);
    for x in samples {
        let next = f64::from(*x) + 2.0 * w.cos() * a - b;
        (b, a) = (a, next);
    }
    let power = a * a + b * b - 2.0 * w.cos() * a * b;
    2.0 * power.max(0.0).sqrt() / samples.len() as f64
}

fn idle(rpm: f32, cylinders: u8) -> Running {
    Running {
        engine_rpm: rpm,
        cylinders,
        engine_near: 1.0,
        ..Running::default()
    }
}

/// A four-stroke engine fires turns a minute / 120 x cylinders times a second (handbook fact, from
/// memory). Found in the samples by scanning frequencies, not by asking the synthesiser.
#[test]
fn a_four_stroke_engine_fires_once_in_two_turns_of_every_cylinder() {
    for (rpm, cylinders) in [(800.0, 4), (2500.0, 4), (1500.0, 3), (1200.0, 6)] {
        let samples = play(idle(rpm, cylinders), 1.0, 4.0);
        let expected = f64::from(rpm) / 120.0 * f64::from(cylinders);
        // From above the turns of a single cylinder to short of the first harmonic.
        let found = (0..)
            .map(|i| expected * 0.6 + 0.125 * f64::from(i))
            .take_while(|hz| *hz < expected * 1.7)
            .max_by(|a, b| amplitude(&samples, *a).total_cmp(&amplitude(&samples, *b)))
            .unwrap();
        assert!(
            (found / expected - 1.0).abs() < 0.01,
            "{rpm} rpm, {cylinders} cylinders: {found} Hz, expected {expected}"
        );
    }
}

/// Two tones near 400 and 500 Hz (common practice, no source), far above what lies between.
#[test]
fn a_horn_has_two_tones_near_400_and_500_hertz() {
    let running = Running {
        horn: near(1.0),
        ..Running::default()
    };
    let samples = play(running, 0.5, 1.0);
    let strongest = |from: u32, to: u32| {
        (from..to)
            .max_by(|a, b| {
                amplitude(&samples, f64::from(*a)).total_cmp(&amplitude(&samples, f64::from(*b)))
            })
            .unwrap()
    };
    let (low, high) = (strongest(300, 450), strongest(450, 600));
    assert!((380..=420).contains(&low), "{low}");
    assert!((475..=525).contains(&high), "{high}");
    assert!(amplitude(&samples, f64::from(low)) > 20.0 * amplitude(&samples, 450.0));
}

/// Under 50 ms (common practice, no source), and loud enough to be one.
#[test]
fn a_relays_click_is_short() {
    let samples = once(Event::RelayClick, 0.3);
    let last = samples.iter().rposition(|x| *x != 0.0).unwrap();
    assert!(
        last < RATE_HZ as usize / 20,
        "{} ms",
        last * 1000 / RATE_HZ as usize
    );
    let loudest = |samples: &[f32]| samples.iter().fold(0.0f32, |m, x| m.max(x.abs()));
    assert!(loudest(&samples) > 0.2);
    // The first is as loud as any: no ramp swallows it.
    let mut synth = Synth::new(RATE_HZ);
    synth.volume(1.0);
    let peaks = [0; 4].map(|_| {
        synth.event(Event::RelayClick, 1.0);
        let mut samples = vec![0.0; RATE_HZ as usize / 5];
        synth.fill(&mut samples);
        loudest(&samples)
    });
    let (least, most) = (peaks.iter().copied().fold(1.0, f32::min), loudest(&peaks));
    assert!(least > 0.6 * most, "{peaks:?}");
}

#[test]
fn every_event_is_heard_and_comes_to_an_end() {
    for event in Event::ALL {
        let samples = once(event, 3.0);
        assert!(samples.iter().any(|x| x.abs() > 0.05), "{event:?}");
        assert!(
            samples[RATE_HZ as usize * 2..].iter().all(|x| *x == 0.0),
            "{event:?}"
        );
    }
    let strong = once(Event::SparkStrong, 0.3);
    assert!(rms(&strong) > 2.0 * rms(&once(Event::SparkSmall, 0.3)));
}

/// A blower moves more air the faster it turns, and is louder for it (common practice, no source).
#[test]
fn a_blower_is_louder_the_harder_it_works() {
    let levels: Vec<f64> = [0.2, 0.4, 0.6, 0.8, 1.0]
        .map(|share| {
            let running = Running {
                blower: near(share),
                ..Running::default()
            };
            rms(&play(running, 1.0, 1.0))
        })
        .to_vec();
    assert!(levels.windows(2).all(|w| w[1] > 1.2 * w[0]), "{levels:?}");
}

/// A wall takes more of the high tones than of the low ones (common practice, no source).
#[test]
fn through_a_wall_it_is_softer_and_duller() {
    let at = |near| {
        let horn = Source { share: 1.0, near };
        play(
            Running {
                horn,
                ..Running::default()
            },
            0.5,
            1.0,
        )
    };
    let (here, there) = (at(1.0), at(0.3));
    assert!(rms(&there) < 0.5 * rms(&here));
    let brightness = |s: &[f32]| amplitude(s, 2000.0) / amplitude(s, 400.0);
    assert!(brightness(&there) < 0.5 * brightness(&here));
}

#[test]
fn the_same_input_gives_the_same_samples() {
    let run = || {
        let mut synth = Synth::new(44_100);
        synth.volume(0.7);
        let mut all = Vec::new();
        for step in 0..20u8 {
            synth.set(everything(f32::from(step) * 0.05));
            synth.event(Event::ALL[usize::from(step) % 11], 0.8);
            let mut some = vec![0.0; 1000];
            synth.fill(&mut some);
            all.extend(some.iter().map(|x| x.to_bits()));
        }
        all
    };
    assert_eq!(run(), run());
    // In pieces of another size as well.
    let of = |size: usize| {
        let mut synth = Synth::new(RATE_HZ);
        synth.volume(1.0);
        synth.set(everything(1.0));
        synth.event(Event::SparkStrong, 1.0);
        let mut all = vec![0.0; 12_000];
        all.chunks_mut(size).for_each(|some| synth.fill(some));
        all
    };
    assert_eq!(of(64), of(4000));
}

fn everything(share: f32) -> Running {
    Running {
        engine_rpm: 3000.0 * share,
        cylinders: 4,
        engine_near: 1.0,
        starter: near(share),
        blower: near(share),
        fan: near(share),
        pump: near(share),
        horn: near(share),
        compressor: near(share),
    }
}

#[test]
fn nothing_running_is_silence_and_all_at_once_stays_within_one() {
    assert!(play(Running::default(), 0.0, 1.0).iter().all(|x| *x == 0.0));
    let mut synth = Synth::new(RATE_HZ);
    synth.volume(1.0);
    synth.set(everything(1.5));
    let mut samples = vec![0.0; RATE_HZ as usize];
    for _ in 0..5 {
        Event::ALL.iter().for_each(|event| synth.event(*event, 1.0));
        synth.fill(&mut samples);
        assert!(samples.iter().all(|x| x.abs() <= 1.0));
        assert!(rms(&samples) > 0.1);
    }
    // All off again: back to nothing at all.
    synth.set(Running::default());
    (0..3).for_each(|_| synth.fill(&mut samples));
    assert!(synth.silent());
    synth.fill(&mut samples);
    assert!(samples.iter().all(|x| *x == 0.0));
}

#[test]
fn numbers_that_are_none_do_no_harm() {
    let wild = [f32::NAN, f32::INFINITY, f32::NEG_INFINITY, -5.0, 1e30];
    for x in wild {
        let mut synth = Synth::new(if x > 0.0 { u32::MAX } else { 0 });
        let source = Source { share: x, near: x };
        synth.volume(x);
        synth.set(Running {
            engine_rpm: x,
            cylinders: 0,
            engine_near: x,
            starter: source,
            blower: source,
            fan: source,
            pump: source,
            horn: source,
            compressor: source,
        });
        Event::ALL.iter().for_each(|event| synth.event(*event, x));
        let mut samples = vec![0.0; 20_000];
        synth.fill(&mut samples);
        assert!(
            samples.iter().all(|s| s.is_finite() && s.abs() <= 1.0),
            "{x}"
        );
    }
}

/// A step from one sample to the next is heard as a crack. While something lasting starts, stops or
/// moves away there must be none larger than the sound itself has.
#[test]
fn starting_and_stopping_makes_no_crack() {
    let step = |s: &[f32]| {
        s.windows(2)
            .map(|w| (w[1] - w[0]).abs())
            .fold(0.0f32, f32::max)
    };
    let horn = Running {
        horn: near(1.0),
        ..Running::default()
    };
    let blower = Running {
        blower: near(1.0),
        ..Running::default()
    };
    for running in [horn, blower, idle(900.0, 4)] {
        let steady = step(&play(running, 1.0, 1.0));
        let mut synth = Synth::new(RATE_HZ);
        synth.volume(1.0);
        synth.fill(&mut vec![0.0; RATE_HZ as usize / 10]);
        let mut all = Vec::new();
        let mut some = vec![0.0; RATE_HZ as usize / 3];
        for now in [running, Running::default(), running] {
            synth.set(now);
            synth.fill(&mut some);
            all.extend_from_slice(&some);
        }
        synth.volume(0.0);
        synth.fill(&mut some);
        all.extend_from_slice(&some);
        assert!(step(&all) <= 1.1 * steady, "{} {steady}", step(&all));
        assert_eq!(*all.last().unwrap(), 0.0);
    }
}

/// Header of 44 bytes, sizes and rate where they belong (RIFF, from memory).
#[test]
fn a_file_of_samples_says_what_it_holds() {
    let file = wav(&[0.0, 1.0, -1.0, 9.0], RATE_HZ);
    assert_eq!(file.len(), 44 + 8);
    assert_eq!(&file[..4], b"RIFF");
    assert_eq!(file[4..8], 44u32.to_le_bytes());
    assert_eq!(file[24..28], RATE_HZ.to_le_bytes());
    assert_eq!(file[40..44], 8u32.to_le_bytes());
    assert_eq!(file[46..48], 32_767i16.to_le_bytes());
    assert_eq!(file[50..52], 32_767i16.to_le_bytes());
}
