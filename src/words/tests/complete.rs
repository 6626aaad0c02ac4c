//! Both languages say everything. The Fluent syntax and its rules are checked by the
//! maintainers' own parser (`fluent-syntax`), conversions against NIST SP 811.

use std::collections::{BTreeMap, BTreeSet};

use tracebay_core::attempt::{AttemptError, Damage, ReplayError, ReplayErrorKind, TornLine};
use tracebay_core::fault::{Failure, Method};
use tracebay_core::scenario::DrawError;
use tracebay_core::session::{
    Action, BladeSize, Dash, Finding, Item, MeterDisplay, Observation, PointKind, Refusal, Sound,
    Touch,
};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::{Gearbox, Station, Vehicle};
use tracebay_words::parity::{Messages, differences, messages};
use tracebay_words::{CORE_WORDS, Keyed, LANGUAGES, Pressure, Temperature, Words};

/// Source of every module of this crate that names keys.
const SOURCES: [&str; 6] = [
    include_str!("../src/action.rs"),
    include_str!("../src/errors.rs"),
    include_str!("../src/names.rs"),
    include_str!("../src/observation.rs"),
    include_str!("../src/refusal.rs"),
    include_str!("../src/units.rs"),
];

fn read(language: &str) -> Messages {
    let text = CORE_WORDS
        .iter()
        .find(|(code, _)| *code == language)
        .unwrap()
        .1;
    messages(text).unwrap()
}

fn car() -> Vehicle {
    Vehicle {
        format: 1,
        id: "test".into(),
        name: "Invented".into(),
        about: String::new().into(),
        gearbox: Gearbox::Automatic,
        idle_rpm: 750.0,
        air_conditioning: None,
        parts: BTreeMap::new(),
        wires: BTreeMap::new(),
        connectors: BTreeMap::new(),
        boxes: BTreeMap::new(),
        places: BTreeMap::new(),
        controls: BTreeMap::new(),
        bay: Vec::new(),
        arrangement: tracebay_core::vehicle::Arrangement::default(),
    }
}

#[test]
fn languages_have_the_same_keys_and_arguments() {
    let codes: Vec<_> = LANGUAGES.iter().map(|(code, _)| *code).collect();
    assert_eq!(codes, CORE_WORDS.map(|(code, _)| code));
    assert_eq!(differences(&read("en"), &read("es")), Vec::<String>::new());
}

#[test]
fn parity_finds_what_differs() {
    let one = messages("a = x { $n }\nb = y\n").unwrap();
    let other = messages("a = x\nc = z\n    .words = q\n").unwrap();
    assert_eq!(differences(&one, &other).len(), 4);
    assert!(messages("a = {\n").is_err());
    assert!(messages("a = 1\na = 2\n").is_err());
}

fn keys_of<T: Keyed>(found: &mut BTreeSet<String>) {
    found.extend(T::all().iter().map(|value| value.key()));
}

#[test]
fn every_plain_value_has_a_sentence_and_no_sentence_is_left_over() {
    let mut keys = BTreeSet::new();
    keys_of::<Station>(&mut keys);
    keys_of::<ToolKind>(&mut keys);
    keys_of::<Lead>(&mut keys);
    keys_of::<Dial>(&mut keys);
    keys_of::<Glow>(&mut keys);
    keys_of::<Item>(&mut keys);
    keys_of::<BladeSize>(&mut keys);
    keys_of::<PointKind>(&mut keys);
    keys_of::<Sound>(&mut keys);
    keys_of::<Finding>(&mut keys);
    keys_of::<Touch>(&mut keys);
    keys_of::<Failure>(&mut keys);
    keys_of::<Method>(&mut keys);
    let there: BTreeSet<String> = read("en").into_keys().collect();
    let missing: Vec<_> = keys.difference(&there).collect();
    assert!(missing.is_empty(), "{missing:?}");

    // What the code names elsewhere, and what is for the faces.
    let named: BTreeSet<&str> = SOURCES
        .iter()
        .flat_map(|s| s.split('"').skip(1).step_by(2))
        .collect();
    let left: Vec<_> = there
        .iter()
        .filter(|key| !key.ends_with(".words") && !keys.contains(*key))
        .filter(|key| !named.contains(key.as_str()))
        .filter(|key| {
            ![
                "shelf-",
                "caution",
                "decimal-separator",
                "attempt-content-changed",
                "assigned-",
            ]
            .iter()
            .any(|p| key.starts_with(p))
        })
        .collect();
    assert!(left.is_empty(), "{left:?}");
    let unknown: Vec<_> = named
        .iter()
        .filter(|word| {
            [
                "did-", "seen-", "refused-", "attempt-", "draw-", "replay-", "name-", "unit-",
                "meter-",
            ]
            .iter()
            .any(|p| word.starts_with(p))
        })
        .filter(|word| !there.contains(**word))
        .collect();
    assert!(unknown.is_empty(), "{unknown:?}");
}

/// A sentence with nothing missing in it.
fn whole(text: &str) {
    assert!(!text.is_empty());
    assert!(!text.contains('{') && !text.contains('}'), "{text}");
    assert!(text.contains(' '), "a key rather than a sentence: {text}");
}

#[test]
fn every_observation_is_a_whole_sentence() {
    let place = || "clutch".to_owned();
    let mut all = vec![
        Observation::Light {
            tool: ToolKind::TestLight,
            point: "K3.a".into(),
            glow: Glow::Dim,
            percent: 20,
        },
        Observation::Gauge { kpa: 500.0 },
        Observation::Temperature {
            place: place(),
            celsius: 21.0,
        },
        Observation::Heard {
            sound: Sound::RelayClick,
            place: place(),
        },
        Observation::Heard {
            sound: Sound::Silence,
            place: place(),
        },
        Observation::Seen {
            place: place(),
            finding: Finding::Dust,
            lamp: None,
        },
        Observation::Seen {
            place: place(),
            finding: Finding::Lit,
            lamp: Some(place()),
        },
        Observation::NothingSeen { place: place() },
        Observation::TooDark { place: place() },
        Observation::Felt {
            place: place(),
            touch: Touch::Hot,
        },
        Observation::Spark {
            point: "K3.a".into(),
            strong: true,
        },
        Observation::Spark {
            point: "K3.a".into(),
            strong: false,
        },
        Observation::ToolFuseBlew {
            tool: ToolKind::Meter,
        },
        Observation::Smoke { place: place() },
        Observation::Dash(Dash {
            rpm: 750,
            charge_lamp: true,
            awake: true,
        }),
        Observation::Dash(Dash {
            rpm: 0,
            charge_lamp: false,
            awake: false,
        }),
        Observation::Repaired { target: place() },
        Observation::HintAsked { level: 2 },
    ];
    let dials = Dial::all().iter().map(|dial| MeterDisplay::Value {
        dial: *dial,
        value: 12.345,
        decimals: 2,
    });
    let others = [
        MeterDisplay::OverRange { dial: Dial::Ohms },
        MeterDisplay::Nonsense { value: 3.0 },
        MeterDisplay::Blank,
    ];
    all.extend(dials.chain(others).map(|display| Observation::Meter {
        point: "K3.a".into(),
        display,
    }));
    for (language, _) in LANGUAGES {
        let words = Words::new(language);
        for seen in &all {
            whole(&words.observation(&car(), seen));
        }
    }
}

#[test]
fn every_action_is_a_whole_sentence() {
    let s = || "x".to_owned();
    let tool = ToolKind::TestLight;
    let all = [
        Action::Go(Station::Bay),
        Action::Set {
            control: s(),
            to: s(),
        },
        Action::Wait(55),
        Action::Protect,
        Action::Uncover(s()),
        Action::Cover(s()),
        Action::Pull(s()),
        Action::Fit {
            part: s(),
            item: Item::Spare,
            turned: true,
        },
        Action::Fit {
            part: s(),
            item: Item::Original,
            turned: false,
        },
        Action::Unplug(s()),
        Action::Plug(s()),
        Action::Wiggle(s()),
        Action::Spray(s()),
        Action::Look(s()),
        Action::Inspect(s()),
        Action::Listen(s()),
        Action::Feel(s()),
        Action::Light(Some(s())),
        Action::Light(None),
        Action::Put {
            tool,
            lead: Lead::Clip,
            point: s(),
        },
        Action::Lift {
            tool,
            lead: Lead::Clip,
        },
        Action::Touch { tool, point: s() },
        Action::Sweep { tool, socket: s() },
        Action::Dial(Dial::Ohms),
        Action::Renew(ToolKind::TestLight),
        Action::Breakout(Some(s())),
        Action::Breakout(None),
        Action::Gauge(true),
        Action::Gauge(false),
        Action::Thermometer(s()),
        Action::Note(s()),
        Action::Hint(1),
        Action::Call {
            target: s(),
            failure: Failure::Coil,
        },
        Action::Repair {
            target: s(),
            method: Method::Replace,
        },
        Action::HandBack {
            complaint: s(),
            cause: s(),
            correction: s(),
        },
    ];
    for (language, _) in LANGUAGES {
        let words = Words::new(language);
        for action in &all {
            whole(&words.action(&car(), action));
        }
    }
    let words = Words::new("en");
    assert_eq!(words.action(&car(), &Action::Wait(50)), "Waited 5 s.");
    assert_eq!(
        Words::new("es").action(&car(), &Action::Wait(55)),
        "Esperó 5,5 s."
    );
}

#[test]
fn every_refusal_says_what_to_do() {
    let s = || "x".to_owned();
    let tool = ToolKind::Meter;
    let all = [
        Refusal::HandedBack,
        Refusal::Unknown {
            name: s(),
            nearest: None,
        },
        Refusal::Unknown {
            name: s(),
            nearest: Some(s()),
        },
        Refusal::NoSuchPosition {
            control: s(),
            positions: vec![s(), s()],
        },
        Refusal::GoFirst {
            station: Station::Box,
        },
        Refusal::CoverOn { cover: s() },
        Refusal::Fitted { what: s() },
        Refusal::StaysIn {
            what: s(),
            place: s(),
        },
        Refusal::NotFitted { what: s() },
        Refusal::NoAccess { point: s() },
        Refusal::OffLimits { what: s() },
        Refusal::NoSuchTool { tool },
        Refusal::WrongUse { tool },
        Refusal::LeadFree { tool },
        Refusal::SamePoint,
        Refusal::AlreadySo,
        Refusal::NoSpare { part: s() },
        Refusal::DoesNotTurn { part: s() },
        Refusal::NotThatWay { target: s() },
        Refusal::OutOfRange { what: s(), most: 9 },
        Refusal::OutOfRange {
            what: "wait".into(),
            most: 72_000,
        },
        Refusal::TooLong { most: 9 },
        Refusal::Forbidden { rule: s() },
        Refusal::StopFirst,
        Refusal::Unsettled { parts: vec![s()] },
        Refusal::Unsolved { parts: vec![s()] },
    ];
    for (language, _) in LANGUAGES {
        let words = Words::new(language);
        for refusal in &all {
            let told = words.refusal(&car(), refusal);
            whole(&told);
            if *refusal == (Refusal::Forbidden { rule: s() }) {
                continue; // a rule of an assignment leaves nothing to be done
            }
            // Why, and then what: two sentences, or one with two parts.
            let parts = told
                .split(['.', '?', ':', ';'])
                .filter(|part| part.trim().len() > 1);
            assert!(parts.count() >= 2, "{told}");
        }
    }
}

#[test]
fn every_file_error_is_a_whole_sentence() {
    let s = || "x".to_owned();
    let all = [
        AttemptError::Empty,
        AttemptError::TooLarge { most_bytes: 1 },
        AttemptError::LineTooLong {
            line: 12_345,
            most_bytes: 1,
        },
        AttemptError::TooManyLines { most: 1 },
        AttemptError::NoHeader { detail: s() },
        AttemptError::Format { found: 2, reads: 1 },
        AttemptError::Damaged {
            line: 1,
            damage: Damage::NotText,
        },
        AttemptError::Damaged {
            line: 1,
            damage: Damage::NotAnAction { detail: s() },
        },
        AttemptError::Damaged {
            line: 1,
            damage: Damage::OutOfOrder {
                found: 2,
                expected: 1,
            },
        },
        AttemptError::OtherScenario {
            file: s(),
            here: s(),
        },
        AttemptError::OtherVersion {
            scenario: s(),
            file: 2,
            here: 3,
        },
        AttemptError::OtherEngine { file: 2, here: 1 },
        AttemptError::OtherSeed { file: 2, here: 1 },
    ];
    for (language, _) in LANGUAGES {
        let words = Words::new(language);
        for error in &all {
            whole(&words.attempt_error(error));
        }
        whole(&words.torn_line(&TornLine { line: 3, bytes: 4 }));
        for kind in [
            ReplayErrorKind::ChainDiffers,
            ReplayErrorKind::Refused(Refusal::SamePoint),
        ] {
            whole(&words.replay_error(
                &car(),
                &ReplayError {
                    n: 1,
                    line: 2,
                    kind,
                },
            ));
        }
        for error in [
            DrawError::UnknownVehicle { id: s() },
            DrawError::UnknownScenario {
                id: s(),
                nearest: None,
            },
            DrawError::UnknownScenario {
                id: s(),
                nearest: Some(s()),
            },
        ] {
            whole(&words.draw_error(&error));
        }
    }
    let words = Words::new("en");
    let told = words.attempt_error(&AttemptError::OtherVersion {
        scenario: s(),
        file: 2,
        here: 3,
    });
    assert!(told.contains('2') && told.contains('3'), "{told}");
    assert!(words.attempt_error(&all[2]).contains("12345"));
}

#[test]
fn every_saving_error_has_its_sentence() {
    use tracebay_shelf::{Doing, ShelfError};
    let path = || "/x".to_owned();
    let system = |doing| ShelfError::System {
        doing,
        path: path(),
        detail: "full".into(),
    };
    let all = [
        system(Doing::Read),
        system(Doing::List),
        system(Doing::Create),
        system(Doing::Write),
        ShelfError::NotFound { path: path() },
        ShelfError::NoHome,
        ShelfError::TooLarge {
            path: path(),
            most_bytes: 9,
        },
        ShelfError::NotText { path: path() },
        ShelfError::InUse { path: path() },
        ShelfError::Attempt {
            path: path(),
            error: AttemptError::Empty,
        },
    ];
    for (language, _) in LANGUAGES {
        let words = Words::new(language);
        let there = read(language);
        for error in &all {
            let mut given: BTreeSet<String> =
                error.args().iter().map(|(k, _)| (*k).into()).collect();
            if matches!(error, ShelfError::Attempt { .. }) {
                given.insert("why".into());
            }
            assert_eq!(there.get(error.key()), Some(&given), "{}", error.key());
            assert!(words.has(error.key()));
        }
    }
}

#[test]
fn what_is_typed_is_understood_in_both_languages() {
    let words = Words::new("es");
    assert_eq!(words.parse::<Failure>("bobina"), Some(Failure::Coil));
    assert_eq!(words.parse::<Failure>("COIL"), Some(Failure::Coil));
    assert_eq!(
        words.parse::<Failure>("short_to_ground"),
        Some(Failure::ShortToGround)
    );
    assert_eq!(words.parse::<ToolKind>("multimetro"), Some(ToolKind::Meter));
    assert_eq!(words.parse::<Failure>("nonsense"), None);
    assert_eq!(words.spelling(Failure::Coil), "bobina");
}

fn unambiguous<T: Keyed>(words: &Words) {
    let mut seen = BTreeMap::new();
    for value in T::all() {
        let mut own: BTreeSet<String> = words
            .spellings(&value.key())
            .iter()
            .map(|w| tracebay_words::fold(w))
            .collect();
        own.insert(tracebay_words::fold(value.name()));
        for word in own {
            let before = seen.insert(word.clone(), value.key());
            assert_eq!(before, None, "{word} is also {}", value.key());
        }
    }
}

#[test]
fn no_word_means_two_things() {
    for (language, _) in LANGUAGES {
        let words = Words::new(language);
        unambiguous::<Station>(&words);
        unambiguous::<ToolKind>(&words);
        unambiguous::<Lead>(&words);
        unambiguous::<Dial>(&words);
        unambiguous::<Item>(&words);
        unambiguous::<Failure>(&words);
        unambiguous::<Method>(&words);
    }
}

#[test]
fn units_convert_as_published() {
    let mut words = Words::new("en");
    // NIST SP 811 (2008), B.8: 1 psi = 6.894 757 kPa; 1 bar = 100 kPa; t/°F = 1.8 t/°C + 32.
    assert_eq!(words.pressure(689.4757), "100 psi");
    assert_eq!(words.temperature(100.0), "212 °F");
    words.units.pressure = Pressure::Bar;
    words.units.temperature = Temperature::Celsius;
    assert_eq!(words.pressure(550.0), "5.5 bar");
    assert_eq!(words.temperature(-0.2), "0 °C");
    words.units.pressure = Pressure::Kpa;
    assert_eq!(words.pressure(550.0), "550 kPa");
    assert_eq!(Words::new("es-MX").pressure(550.0), "5,5 bar");
    assert_eq!(Words::new("xx").language(), "en");
}
