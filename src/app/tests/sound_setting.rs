//! The setting for sound says what becomes of it on this machine.

mod common;

use common::{Bench, harness};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use tracebay::egui::accesskit::Role;
use tracebay::platform::sound::Output;
use tracebay::screens::settings;
use tracebay::settings::Settings;

fn shown(output: Output) -> Harness<'static, (Bench, Settings)> {
    let state = (Bench::new("no-cold-air", 9), Settings::default());
    let mut h = harness((600.0, 300.0), state, move |ui, (bench, set)| {
        bench.draw(|cx, _| settings::sound(ui, cx, set, output));
    });
    h.run();
    h
}

#[test]
fn where_there_is_a_way_out_sound_is_on_and_can_be_switched_off() {
    let mut h = shown(Output::Plays);
    let switch = h.get_by_role_and_label(Role::CheckBox, "Sound");
    assert!(!switch.accesskit_node().is_disabled());
    switch.click_accesskit();
    h.run();
    assert!(!h.state().1.sound);
    assert!(h.query_by_label_contains("Silent").is_none());
}

#[test]
fn where_there_is_none_sound_is_off_and_the_reason_stands_there() {
    for output in [
        Output::NoneFound,
        Output::NotOnThisSystem,
        Output::NotBuiltIn,
    ] {
        let h = shown(output);
        let switch = h.get_by_role_and_label(Role::CheckBox, "Sound");
        assert!(switch.accesskit_node().is_disabled(), "{output:?}");
        assert!(h.query_by_label_contains("Silent").is_some(), "{output:?}");
        // What the learner wants is kept for a machine that has one.
        assert!(h.state().1.sound);
    }
}
