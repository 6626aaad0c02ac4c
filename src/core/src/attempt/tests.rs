//! Attempt files under every kind of damage. What a whole line is comes from the JSON Lines
//! convention (one RFC 8259 value a line, UTF-8, `\n`).

use proptest::prelude::*;

use super::*;
use crate::fault::{Failure, Method};
use crate::session::{Action, Item, Observation};
use crate::tools::{Dial, Glow, Lead, ToolKind};
use crate::vehicle::Station;

fn header() -> Header {
    Header {
        format: FORMAT,
        scenario: "no-cold-air".into(),
        scenario_version: 3,
        scenario_sha256: "00".repeat(32),
        seed: u64::MAX,
        rules: HOME_RULES.into(),
        engine_revision: ENGINE_REVISION,
        started: None,
        learner: Some("Núñez \"J\" \n".into()),
    }
}

fn file(actions: &[Action]) -> String {
    let head = header();
    let mut chain = Chain::start(&head);
    let mut text = encode_header(&head);
    for (index, action) in actions.iter().enumerate() {
        let chain = chain.advance(action, &[]).to_owned();
        text += &encode_line(&Line {
            n: index as u32 + 1,
            action: action.clone(),
            at: Some(index as u64 * 1000),
            minutes: index as f64 * 0.1,
            chain,
        });
    }
    text
}

fn some_actions() -> Vec<Action> {
    vec![
        Action::Protect,
        Action::Go(Station::Seat),
        Action::Set {
            control: "key".into(),
            to: "on".into(),
        },
        Action::Wait(50),
        Action::Note("lámpara Ω \u{0} \n end".into()),
        Action::Light(None),
        Action::Fit {
            part: "K3".into(),
            item: Item::Spare,
            turned: true,
        },
    ]
}

fn any_action() -> impl Strategy<Value = Action> {
    let text = ".{0,20}";
    prop_oneof![
        any::<u32>().prop_map(Action::Wait),
        Just(Action::Protect),
        text.prop_map(Action::Note),
        text.prop_map(Action::Look),
        (text, text).prop_map(|(control, to)| Action::Set { control, to }),
        proptest::option::of(text).prop_map(Action::Light),
        proptest::option::of(text).prop_map(Action::Breakout),
        any::<bool>().prop_map(Action::Gauge),
        any::<u8>().prop_map(Action::Hint),
        text.prop_map(|point| Action::Touch {
            tool: ToolKind::Meter,
            point
        }),
        text.prop_map(|point| Action::Put {
            tool: ToolKind::TestLight,
            lead: Lead::Clip,
            point
        }),
        Just(Action::Dial(Dial::Ohms)),
        text.prop_map(|target| Action::Call {
            target,
            failure: Failure::Coil
        }),
        text.prop_map(|target| Action::Repair {
            target,
            method: Method::Reseat
        }),
        (text, any::<bool>()).prop_map(|(part, turned)| Action::Fit {
            part,
            item: Item::Original,
            turned
        }),
    ]
}

#[test]
fn what_was_written_is_read() {
    let text = file(&some_actions());
    let decoded = decode(&text).unwrap();
    assert_eq!(decoded.header, header());
    let actions: Vec<_> = decoded.lines.iter().map(|l| l.action.clone()).collect();
    assert_eq!(actions, some_actions());
    assert_eq!(decoded.torn, None);
    assert_eq!(decoded.good_bytes, text.len());
    assert!(!decoded.needs_newline);
}

#[test]
fn a_cut_anywhere_loses_at_most_the_last_line() {
    let text = file(&some_actions());
    let bytes = text.as_bytes();
    let ends: Vec<usize> = (0..bytes.len()).filter(|i| bytes[*i] == b'\n').collect();
    for cut in 0..=bytes.len() {
        // A line without its newline is whole all the same.
        let whole = ends.iter().filter(|end| **end <= cut).count();
        match decode(&bytes[..cut]) {
            Ok(decoded) => {
                assert_eq!(decoded.lines.len() + 1, whole, "cut at {cut}");
                assert!(decoded.good_bytes <= cut);
                let again = decode(&bytes[..decoded.good_bytes]).unwrap();
                assert_eq!(again.lines, decoded.lines);
                assert_eq!(again.torn, None);
            }
            Err(AttemptError::Empty) => assert_eq!(cut, 0),
            Err(AttemptError::NoHeader { .. }) => assert_eq!(whole, 0, "cut at {cut}"),
            Err(other) => panic!("cut at {cut}: {other}"),
        }
    }
}

#[test]
fn a_torn_last_line_is_reported_with_its_place() {
    let whole = file(&some_actions());
    let mut text = whole.clone();
    text += "{\"n\":8,\"act";
    let decoded = decode(&text).unwrap();
    assert_eq!(decoded.torn, Some(TornLine { line: 9, bytes: 11 }));
    assert_eq!(decoded.good_bytes, whole.len());
    // Half a letter and the zero bytes of a power cut are torn lines too.
    for tail in [&b"{\"n\":8,\"action\":{\"note\":\"\xc3"[..], &[0; 512][..]] {
        let mut bytes = whole.clone().into_bytes();
        bytes.extend_from_slice(tail);
        let decoded = decode(&bytes).unwrap();
        assert_eq!(decoded.torn.unwrap().bytes, tail.len());
    }
}

#[test]
fn damage_before_the_last_line_names_its_line() {
    let text = file(&some_actions());
    let broken = text.replacen("\"wait\"", "\"wai", 1);
    assert!(matches!(
        decode(&broken),
        Err(AttemptError::Damaged {
            line: 5,
            damage: Damage::NotAnAction { .. }
        })
    ));
    let unknown = text.replacen("{\"wait\":50}", "{\"teleport\":50}", 1);
    assert!(matches!(
        decode(&unknown),
        Err(AttemptError::Damaged { line: 5, .. })
    ));
    let mut lines: Vec<&str> = text.lines().collect();
    lines.swap(2, 3);
    assert_eq!(
        decode(lines.join("\n")),
        Err(AttemptError::Damaged {
            line: 3,
            damage: Damage::OutOfOrder {
                found: 3,
                expected: 2
            }
        })
    );
    let mut bytes = text.clone().into_bytes();
    bytes[text.find("key").unwrap()] = 0xff;
    assert_eq!(
        decode(&bytes),
        Err(AttemptError::Damaged {
            line: 4,
            damage: Damage::NotText
        })
    );
}

#[test]
fn a_last_line_of_something_else_is_no_torn_line() {
    let text = file(&some_actions()) + "{\"n\":8,\"score\":100}\n";
    assert!(matches!(
        decode(&text),
        Err(AttemptError::Damaged { line: 9, .. })
    ));
}

#[test]
fn other_formats_and_strange_files_are_refused() {
    let newer = encode_header(&header()).replacen("\"format\":1", "\"format\":2", 1);
    assert_eq!(
        decode(newer),
        Err(AttemptError::Format { found: 2, reads: 1 })
    );
    assert_eq!(decode(""), Err(AttemptError::Empty));
    assert_eq!(decode("\n \n"), Err(AttemptError::Empty));
    assert!(matches!(
        decode("PK\u{3}\u{4}"),
        Err(AttemptError::NoHeader { .. })
    ));
    assert!(matches!(
        decode("[".repeat(10_000)),
        Err(AttemptError::NoHeader { .. })
    ));
    assert!(matches!(
        decode("[".repeat(MAX_LINE_BYTES + 1)),
        Err(AttemptError::LineTooLong { line: 1, .. })
    ));
    let long = file(&[Action::Note("x".repeat(MAX_LINE_BYTES))]);
    assert!(matches!(
        decode(long),
        Err(AttemptError::LineTooLong { line: 2, .. })
    ));
    let many = file(&vec![Action::Protect; MAX_LINES + 1]);
    assert!(matches!(
        decode(many),
        Err(AttemptError::TooManyLines { .. })
    ));
}

#[test]
fn the_chain_tells_every_edit() {
    let seen = Observation::Light {
        tool: ToolKind::TestLight,
        point: "K3.a".into(),
        glow: Glow::Bright,
        percent: 98,
    };
    let touch = Action::Touch {
        tool: ToolKind::TestLight,
        point: "K3.a".into(),
    };
    let value = |head: &Header, action: &Action, shown: &[Observation]| {
        let mut chain = Chain::start(head);
        chain.advance(action, shown).to_owned()
    };
    let plain = value(&header(), &touch, std::slice::from_ref(&seen));
    assert_eq!(plain.len(), 32);
    assert_eq!(plain, value(&header(), &touch, std::slice::from_ref(&seen)));
    assert_ne!(plain, value(&header(), &touch, &[]));
    assert_ne!(
        plain,
        value(&header(), &Action::Protect, std::slice::from_ref(&seen))
    );
    let mut other = header();
    other.seed = 1;
    assert_ne!(plain, value(&other, &touch, std::slice::from_ref(&seen)));
    other = header();
    other.learner = None;
    assert_ne!(plain, value(&other, &touch, &[seen]));
}

#[test]
fn the_chain_is_the_standard_hash() {
    // SHA-256 (FIPS 180-4) of the lines' text, computed with Python's hashlib.
    // Of the first engine revision, whatever today's is.
    let head = Header {
        engine_revision: 1,
        ..header()
    };
    let mut chain = Chain::start(&head);
    assert_eq!(chain.value(), "b0ce11b90afdec290ed04cb95fefa779");
    chain.advance(&Action::Protect, &[]);
    assert_eq!(chain.value(), "e2fe1b69380a61d68362be8b1eef65c7");
}

proptest! {
    #[test]
    fn any_bytes_are_survived(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let _ = decode(&bytes);
    }

    #[test]
    fn any_bytes_after_a_good_start_are_survived(
        bytes in proptest::collection::vec(any::<u8>(), 0..200)
    ) {
        let mut file = file(&some_actions()).into_bytes();
        let good = file.len();
        file.extend_from_slice(&bytes);
        if let Ok(decoded) = decode(&file) {
            prop_assert!(decoded.good_bytes >= good);
            prop_assert_eq!(decoded.lines.len(), some_actions().len());
        }
    }

    #[test]
    fn one_flipped_byte_is_survived(at in any::<prop::sample::Index>(), to in any::<u8>()) {
        let mut file = file(&some_actions()).into_bytes();
        let at = at.index(file.len());
        file[at] = to;
        let _ = decode(&file);
    }

    #[test]
    fn any_actions_come_back(actions in proptest::collection::vec(any_action(), 0..12)) {
        let decoded = decode(file(&actions)).unwrap();
        let read: Vec<_> = decoded.lines.into_iter().map(|l| l.action).collect();
        prop_assert_eq!(read, actions);
    }
}
