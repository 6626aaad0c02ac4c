//! Three jobs as the console tells them: the bad joint that passes a voltage check, the diode the
//! wrong way round, the nearly empty system.

use tracebay_core::fault::Wrong;
use tracebay_core::scenario::Step;
use tracebay_core::session::{Action, Session};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;
use tracebay_tests::cavity;
use tracebay_words::{Pressure, Units, Words};

use crate::car::{fault, with};

/// Does the actions and writes down what is said of each.
fn told(s: &mut Session, actions: &[Action]) -> String {
    let mut words = Words::new("en");
    words.units = Units {
        pressure: Pressure::Kpa,
        ..words.units
    };
    let vehicle = s.case().vehicle.clone();
    let mut text = String::new();
    for action in actions {
        text += &format!("> {}\n", words.action(&vehicle, action));
        match s.perform(action) {
            Ok(seen) => {
                for o in &seen {
                    text += &format!("  {}\n", words.observation(&vehicle, o));
                }
            }
            Err(why) => text += &format!("  ({})\n", words.refusal(&vehicle, &why)),
        }
    }
    text
}

fn put(tool: ToolKind, lead: Lead, point: &str) -> Action {
    Action::Put {
        tool,
        lead,
        point: point.into(),
    }
}

fn touch(tool: ToolKind, point: &str) -> Action {
    Action::Touch {
        tool,
        point: point.into(),
    }
}

fn control(control: &str, to: &str) -> Action {
    Action::Set {
        control: control.into(),
        to: to.into(),
    }
}

#[test]
fn the_voltage_drop_case() {
    let mut s = with(vec![fault("engine_joint.1a", Wrong::Resistance(2.8))]);
    let (feed, load) = (cavity(&s, "K3", "30"), cavity(&s, "K3", "87"));
    let meter = ToolKind::Meter;
    let text = told(
        &mut s,
        &[
            Action::Go(Station::Bay),
            Action::Uncover("box lid".into()),
            Action::Pull("K3".into()),
            put(ToolKind::FusedJumper, Lead::A, &feed),
            put(ToolKind::FusedJumper, Lead::B, &load),
            Action::Note("Clutch plug off: no load.".into()),
            Action::Unplug("clutch".into()),
            put(ToolKind::TestLight, Lead::Clip, "bat:neg"),
            touch(ToolKind::TestLight, "clutch_coil.1"),
            Action::Dial(Dial::Volts),
            put(meter, Lead::Black, "bat:neg"),
            touch(meter, "clutch_coil.1"),
            Action::Note("Plug on: the clutch loads the line.".into()),
            Action::Plug("clutch".into()),
            touch(meter, "clutch_coil.1"),
            put(meter, Lead::Black, "clutch_coil.1"),
            touch(meter, &load),
            put(meter, Lead::Black, "engine_joint.1b"),
            touch(meter, "engine_joint.1a"),
        ],
    );
    insta::assert_snapshot!(text);
}

#[test]
fn the_backwards_diode() {
    let mut s = with(vec![fault("clutch_coil", Wrong::DiodeReversed)]);
    let text = told(
        &mut s,
        &[
            control("key", "start"),
            control("blower", "3"),
            control("ac", "on"),
            Action::Wait(100),
            control("key", "off"),
            Action::Go(Station::Bay),
            Action::Uncover("box lid".into()),
            Action::Pull("F9".into()),
            Action::Inspect("F9".into()),
            Action::Unplug("clutch".into()),
            Action::Dial(Dial::Ohms),
            put(ToolKind::Meter, Lead::Black, "clutch_coil:2"),
            touch(ToolKind::Meter, "clutch_coil:1"),
            Action::Note("Three to five ohms, as it should be: the coil is not the short. Feed it from the battery through a fused jumper.".into()),
            Action::Lift { tool: ToolKind::Meter, lead: Lead::Black },
            Action::Plug("clutch".into()),
            put(ToolKind::FusedJumper, Lead::A, "bat:pos"),
            put(ToolKind::FusedJumper, Lead::B, "clutch_coil.1"),
            Action::Wait(50),
        ],
    );
    insta::assert_snapshot!(text);
}

#[test]
fn the_nearly_empty_system() {
    let mut s = with(vec![fault("refrigerant", Wrong::Charge(0.05))]);
    s.drive(&[Step::Wait(1.0)]);
    let mut text = told(
        &mut s,
        &[
            Action::Go(Station::Bay),
            Action::Uncover("service cap".into()),
            Action::Gauge(true),
        ],
    );
    text += "\nThe same gauge on a sound car at the same 25 °C:\n\n";
    let mut sound = with(vec![]);
    text += &told(
        &mut sound,
        &[
            Action::Go(Station::Bay),
            Action::Uncover("service cap".into()),
            Action::Gauge(true),
        ],
    );
    text += "\nAnd on one with six tenths of its charge, at rest:\n\n";
    let mut low = with(vec![fault("refrigerant", Wrong::Charge(0.6))]);
    text += &told(
        &mut low,
        &[
            Action::Go(Station::Bay),
            Action::Uncover("service cap".into()),
            Action::Gauge(true),
        ],
    );
    text += "\nBack at the first car, asking for cold air:\n\n";
    text += &told(
        &mut s,
        &[
            Action::Go(Station::Seat),
            control("key", "start"),
            control("blower", "3"),
            control("ac", "on"),
            Action::Wait(100),
            Action::Feel("vents".into()),
            Action::Go(Station::Bay),
            Action::Light(Some("compressor_low".into())),
            Action::Look("compressor_low".into()),
        ],
    );
    insta::assert_snapshot!(text);
}
