//! Two lights: a filament that needs a quarter of an ampere, and an LED that a few milliamperes
//! light, so that it shines where no load would run.

use tracebay_core::fault::Wrong;
use tracebay_core::session::Action;
use tracebay_core::tools::{Dial, Glow, ToolKind};
use tracebay_tests::cavity;

use crate::car::{act, bay, fault, glow, reads, with};

const FILAMENT: ToolKind = ToolKind::TestLight;
const LED: ToolKind = ToolKind::LedLight;

#[test]
fn an_led_light_lies_at_a_joint_eaten_green_and_the_filament_finds_it_out() {
    // 2 kilohms of corrosion carry no load; Ohm's law leaves 5 mA to light an LED.
    let mut s = with(vec![fault("K3.30", Wrong::Resistance(2_000.0))]);
    bay(&mut s);
    act(&mut s, Action::Pull("K3".into()));
    let feed = cavity(&s, "K3", "30");
    let seat = "bat:neg";
    // The wire's end of the bad terminal is where the relay's blade would sit.
    assert_eq!(glow(&mut s, LED, seat, "bat:pos"), Glow::Bright, "proved");
    assert_eq!(
        glow(&mut s, FILAMENT, seat, "bat:pos"),
        Glow::Bright,
        "proved"
    );
    // Corrosion sits between terminal and blade; in the wire it sits before the terminal.
    let mut wire = with(vec![fault("w_k3_30", Wrong::Resistance(2_000.0))]);
    bay(&mut wire);
    act(&mut wire, Action::Pull("K3".into()));
    assert_eq!(
        glow(&mut wire, LED, seat, &feed),
        Glow::Bright,
        "the LED lies"
    );
    assert_eq!(
        glow(&mut wire, FILAMENT, seat, &feed),
        Glow::Dark,
        "the filament does not"
    );
    assert!(
        reads(&mut wire, Dial::Volts, seat, &feed) > 12.0,
        "nor would a meter find it without load"
    );
}

#[test]
fn an_led_light_shines_on_a_pull_up_that_could_feed_nothing() {
    // The climate unit's blower input hangs on 10 kilohms to its supply.
    let mut s = with(vec![]);
    s.drive(&[crate::car::set("key", "on")]);
    // The panel is at the seat and so is the unit's plug; ground there is the stud G3.
    let point = "climate_unit.blower_on";
    let lit = glow(&mut s, LED, "G3.1", point);
    assert!(lit >= Glow::Dim, "{lit:?}");
    assert_eq!(glow(&mut s, FILAMENT, "G3.1", point), Glow::Dark);
}

#[test]
fn both_lights_agree_on_a_sound_feed() {
    let mut s = with(vec![]);
    bay(&mut s);
    act(&mut s, Action::Pull("K3".into()));
    let feed = cavity(&s, "K3", "30");
    for light in [LED, FILAMENT] {
        assert_eq!(glow(&mut s, light, "bat:neg", &feed), Glow::Bright);
    }
}
