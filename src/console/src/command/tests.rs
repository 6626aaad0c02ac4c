//! How lines are read, without a car.

use tracebay_core::fault::{Failure, Method};
use tracebay_core::session::{Action, Item};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;
use tracebay_words::{Keyed, Words, fold};

use super::*;

fn words(language: &str) -> Words {
    let mut words = Words::new(language);
    words.add(&crate::CONSOLE_WORDS);
    words
}

fn names() -> Names {
    let named = |all: &[&str]| -> Vec<Named> {
        all.iter()
            .map(|id| ((*id).to_owned(), format!("The {id}").into()))
            .collect()
    };
    Names {
        places: named(&["clutch", "front_panel"]),
        standing: [
            ("front_panel", "condenser"),
            ("clutch", "twin"),
            ("front_panel", "twin"),
        ]
        .map(|(place, name)| (place.into(), name.into()))
        .into(),
        slots: named(&["K3", "F9"]),
        relays: named(&["K3"]),
        plugs: named(&["psensor"]),
        covers: named(&["box lid", "service cap"]),
        points: named(&["K3.a", "K3:a", "bat:pos", "bat:neg"]),
        controls: named(&["key", "ac", "blower", "exhaust_hose"]),
        targets: named(&["K3", "K3.30", "refrigerant", "engine_joint.1a"]),
        positions: vec![
            (
                "key".into(),
                ["off", "on", "start"].map(String::from).into(),
            ),
            ("ac".into(), ["off", "on"].map(String::from).into()),
            ("blower".into(), ["off", "1", "2"].map(String::from).into()),
        ],
        key: Some("key".into()),
    }
}

fn read(line: &str) -> Result<Command, Mistake> {
    parse(line, &words("en"), &names(), None)
}

fn act(line: &str) -> Action {
    match read(line) {
        Ok(Command::Act(mut actions)) if actions.len() == 1 => actions.remove(0),
        other => panic!("{line}: {other:?}"),
    }
}

fn set(control: &str, to: &str) -> Action {
    Action::Set {
        control: control.into(),
        to: to.into(),
    }
}

#[test]
fn every_action_can_be_typed() {
    let s = |text: &str| text.to_owned();
    let light = ToolKind::TestLight;
    let pairs = [
        ("go bay", Action::Go(Station::Bay)),
        ("go hood", Action::Go(Station::Bay)),
        ("set key on", set("key", "on")),
        ("key ON", set("key", "on")),
        ("start", set("key", "start")),
        ("stop", set("key", "off")),
        ("blower 2", set("blower", "2")),
        ("exhaust-hose on", set("exhaust_hose", "on")),
        ("hose on", set("exhaust_hose", "on")),
        ("wait 5", Action::Wait(50)),
        ("wait 2.5 s", Action::Wait(25)),
        ("wait 2m", Action::Wait(1200)),
        ("wait 99999999999", Action::Wait(u32::MAX)),
        ("protect", Action::Protect),
        ("uncover Box Lid", Action::Uncover(s("box lid"))),
        ("cover box-lid", Action::Cover(s("box lid"))),
        ("pull k3", Action::Pull(s("K3"))),
        (
            "fit K3",
            Action::Fit {
                part: s("K3"),
                item: Item::Original,
                turned: false,
            },
        ),
        (
            "fit K3 spare turned",
            Action::Fit {
                part: s("K3"),
                item: Item::Spare,
                turned: true,
            },
        ),
        ("unplug psensor", Action::Unplug(s("psensor"))),
        ("plug psensor", Action::Plug(s("psensor"))),
        ("wiggle clutch", Action::Wiggle(s("clutch"))),
        ("spray clutch", Action::Spray(s("clutch"))),
        (
            "look the front panel x",
            Action::Look(s("the front panel x")),
        ),
        ("look front panel", Action::Look(s("front_panel"))),
        ("look condenser", Action::Look(s("front_panel"))),
        ("look twin", Action::Look(s("twin"))),
        ("inspect f9", Action::Inspect(s("F9"))),
        ("listen clutch", Action::Listen(s("clutch"))),
        ("feel clutch", Action::Feel(s("clutch"))),
        ("lamp clutch", Action::Light(Some(s("clutch")))),
        ("light off", Action::Light(None)),
        (
            "clip bat:neg",
            Action::Put {
                tool: light,
                lead: Lead::Clip,
                point: s("bat:neg"),
            },
        ),
        (
            "black bat:neg",
            Action::Put {
                tool: ToolKind::Meter,
                lead: Lead::Black,
                point: s("bat:neg"),
            },
        ),
        (
            "red k3.a",
            Action::Put {
                tool: ToolKind::Meter,
                lead: Lead::Red,
                point: s("K3.a"),
            },
        ),
        (
            "put led clip bat:neg",
            Action::Put {
                tool: ToolKind::LedLight,
                lead: Lead::Clip,
                point: s("bat:neg"),
            },
        ),
        (
            "put a K3.a",
            Action::Put {
                tool: ToolKind::FusedJumper,
                lead: Lead::A,
                point: s("K3.a"),
            },
        ),
        (
            "lift red",
            Action::Lift {
                tool: ToolKind::Meter,
                lead: Lead::Red,
            },
        ),
        (
            "lift led clip",
            Action::Lift {
                tool: ToolKind::LedLight,
                lead: Lead::Clip,
            },
        ),
        (
            "touch meter K3.a",
            Action::Touch {
                tool: ToolKind::Meter,
                point: s("K3.a"),
            },
        ),
        (
            "sweep K3 light",
            Action::Sweep {
                tool: light,
                socket: s("K3"),
            },
        ),
        ("dial ohms", Action::Dial(Dial::Ohms)),
        ("renew jumper", Action::Renew(ToolKind::FusedJumper)),
        ("breakout K3", Action::Breakout(Some(s("K3")))),
        ("breakout off", Action::Breakout(None)),
        ("gauge on", Action::Gauge(true)),
        ("gauge off", Action::Gauge(false)),
        ("thermometer clutch", Action::Thermometer(s("clutch"))),
        ("note 30 is hot  # yes", Action::Note(s("30 is hot  # yes"))),
        ("hint 3", Action::Hint(3)),
        (
            "call k3.30 bad terminal",
            Action::Call {
                target: s("K3.30"),
                failure: Failure::BadTerminal,
            },
        ),
        (
            "call engine joint.1a high-resistance",
            Action::Call {
                target: s("engine_joint.1a"),
                failure: Failure::HighResistance,
            },
        ),
        (
            "repair refrigerant recharge",
            Action::Repair {
                target: s("refrigerant"),
                method: Method::Recharge,
            },
        ),
        (
            "handback warm air | terminal back | terminal renewed",
            Action::HandBack {
                complaint: s("warm air"),
                cause: s("terminal back"),
                correction: s("terminal renewed"),
            },
        ),
    ];
    for (line, action) in pairs {
        assert_eq!(act(line), action, "{line}");
    }
}

#[test]
fn a_tool_in_the_hand_need_not_be_named() {
    let words = words("en");
    let hand = Some(ToolKind::LedLight);
    let read = |line| parse(line, &words, &names(), hand);
    let touch = Action::Touch {
        tool: ToolKind::LedLight,
        point: "K3.a".into(),
    };
    assert_eq!(read("touch K3.a"), Ok(Command::Act(vec![touch])));
    let sweep = Action::Sweep {
        tool: ToolKind::LedLight,
        socket: "K3".into(),
    };
    assert_eq!(read("sweep K3"), Ok(Command::Act(vec![sweep])));
    assert_eq!(
        parse("touch K3.a", &words, &names(), None),
        Err(Mistake::NoTool)
    );
    assert_eq!(read("take meter"), Ok(Command::Take(ToolKind::Meter)));
}

#[test]
fn a_jump_is_two_ends() {
    let put = |tool, lead, point: &str| Action::Put {
        tool,
        lead,
        point: point.into(),
    };
    let ends = |tool| vec![put(tool, Lead::A, "bat:pos"), put(tool, Lead::B, "K3.a")];
    assert_eq!(
        read("jump bat:pos k3.a"),
        Ok(Command::Act(ends(ToolKind::FusedJumper)))
    );
    assert_eq!(
        read("jump bat:pos k3.a plain"),
        Ok(Command::Act(ends(ToolKind::PlainJumper)))
    );
}

#[test]
fn what_is_not_understood_says_why() {
    use Mistake::{BadNumber, NotOneOf, Unknown, Usage};
    assert_eq!(
        read("lok clutch"),
        Err(Unknown("lok".into(), Some("look".into())))
    );
    assert!(matches!(read("%&/"), Err(Unknown(..))));
    assert_eq!(read("look"), Err(Usage(Verb::Look)));
    assert_eq!(read("wait soon"), Err(BadNumber("soon".into())));
    assert_eq!(read("wait -1"), Err(BadNumber("-1".into())));
    assert_eq!(read("wait nan"), Err(BadNumber("nan".into())));
    assert!(matches!(read("go moon"), Err(NotOneOf(..))));
    assert!(matches!(read("call K3 sad"), Err(NotOneOf(..))));
    assert_eq!(read("call K3"), Err(Usage(Verb::Call)));
    assert_eq!(read("handback only this"), Err(Usage(Verb::Handback)));
    assert_eq!(read("quit now"), Err(Usage(Verb::Quit)));
    assert_eq!(read("  # comment"), Ok(Command::Nothing));
    assert_eq!(read(""), Ok(Command::Nothing));
    // A name the car does not have is the session's to refuse: it knows the nearest.
    assert_eq!(act("pull K33"), Action::Pull("K33".into()));
}

#[test]
fn spanish_words_and_english_ones_both_work() {
    let words = words("es");
    let read = |line: &str| parse(line, &words, &names(), None);
    let go = Ok(Command::Act(vec![Action::Go(Station::Bay)]));
    assert_eq!(read("ir motor"), go);
    assert_eq!(read("go bay"), go);
    assert_eq!(read("ac sí"), Ok(Command::Act(vec![set("ac", "on")])));
    assert_eq!(read("ac no"), Ok(Command::Act(vec![set("ac", "off")])));
    let call = Action::Call {
        target: "K3".into(),
        failure: Failure::Coil,
    };
    assert_eq!(read("diagnostico K3 bobina"), Ok(Command::Act(vec![call])));
}

#[test]
fn no_word_begins_two_commands() {
    for language in ["en", "es"] {
        let words = words(language);
        let mut seen = std::collections::BTreeMap::new();
        for verb in Verb::all() {
            let mut own: Vec<_> = words
                .spellings(&verb.key())
                .iter()
                .map(|w| fold(w))
                .collect();
            own.push(fold(verb.name()));
            own.sort();
            own.dedup();
            for word in own {
                let before = seen.insert(word.clone(), *verb);
                assert_eq!(before, None, "{word} is also {verb:?}");
            }
        }
    }
}

#[test]
fn any_line_is_survived() {
    let words = words("en");
    let parts = [
        "", " ", "put", "a", "K3", "|", "🦀", "é", "off", "touch", "-", "1e999", "sweep", "call",
        "coil", "\u{0}", "jump", "spare", "fit",
    ];
    for a in parts {
        for b in parts {
            for c in parts {
                let _ = parse(&format!("{a} {b} {c}"), &words, &names(), None);
            }
        }
    }
}
