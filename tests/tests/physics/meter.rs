//! The meter as an instrument: 10 megohms, leads of two tenths of an ohm, a fuse in the ampere
//! jack, and a wire that hangs in the air.

use tracebay_core::fault::Wrong;
use tracebay_core::session::{Action, MeterDisplay, Observation};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_tests::cavity;

use crate::car::{act, bay, display, fault, glow, lift, put, reads, with};

#[test]
fn a_wire_in_the_air_shows_a_ghost_that_a_light_drives_out() {
    let mut s = with(vec![
        fault("w_k3_87", Wrong::Open),
        fault("K3.87", Wrong::Open),
    ]);
    bay(&mut s);
    act(&mut s, Action::Pull("K3".into()));
    let load = cavity(&s, "K3", "87");
    // Insulation of gigohms beside a live terminal, against the meter's ten megohms.
    let ghost = reads(&mut s, Dial::Volts, "bat:neg", &load);
    assert!(
        ghost > 0.01 && ghost < 0.5,
        "tenths of a volt that mean nothing: {ghost}"
    );
    // With a test light from the same point to ground the ghost is gone.
    put(&mut s, ToolKind::TestLight, Lead::Clip, "bat:neg");
    put(&mut s, ToolKind::TestLight, Lead::Probe, &load);
    let loaded = reads(&mut s, Dial::Volts, "bat:neg", &load);
    assert!(loaded.abs() < 0.005, "{loaded}");
    // On ohms a ghost is no supply: the circuit is simply open.
    lift(&mut s, ToolKind::TestLight, Lead::Probe);
    let open = display(&mut s, Dial::Ohms, "bat:neg", &load);
    assert!(matches!(open, MeterDisplay::OverRange { .. }), "{open:?}");
}

#[test]
fn a_damp_harness_shows_full_voltage_to_a_meter_and_nothing_to_a_light() {
    // 100 kilohms of damp from a live neighbour onto a wire that is cut: Ohm's law.
    let mut s = with(vec![
        fault("w_k3_87", Wrong::Open),
        fault("K3.87", Wrong::ShortToSupply(1e5)),
    ]);
    bay(&mut s);
    act(&mut s, Action::Pull("K3".into()));
    let load = cavity(&s, "K3", "87");
    let shown = reads(&mut s, Dial::Volts, "bat:neg", &load);
    let battery = reads(&mut s, Dial::Volts, "bat:neg", "bat:pos");
    assert!(
        (shown / battery - 1e7 / 1.01e7).abs() < 0.005,
        "{shown} of {battery}"
    );
    assert_eq!(
        glow(&mut s, ToolKind::TestLight, "bat:neg", &load),
        Glow::Dark
    );
}

#[test]
fn the_leads_stand_in_every_ohms_reading() {
    let mut s = with(vec![]);
    bay(&mut s);
    // Two lugs of one stud: a milliohm, and the leads.
    let shown = reads(&mut s, Dial::Ohms, "G1.1", "G1.2");
    assert!((0.1..=0.5).contains(&shown), "{shown}");
}

#[test]
fn the_ampere_jack_is_a_short_and_its_fuse_pays_for_it() {
    let mut s = with(vec![]);
    bay(&mut s);
    act(&mut s, Action::Dial(Dial::Amps));
    put(&mut s, ToolKind::Meter, Lead::Black, "bat:neg");
    let mut seen = put(&mut s, ToolKind::Meter, Lead::Red, "bat:pos");
    seen.extend(act(&mut s, Action::Wait(10)));
    assert!(
        seen.contains(&Observation::ToolFuseBlew {
            tool: ToolKind::Meter
        }),
        "{seen:?}"
    );
    assert!(
        seen.iter()
            .any(|o| matches!(o, Observation::Spark { strong: true, .. }))
    );
    lift(&mut s, ToolKind::Meter, Lead::Red);
    lift(&mut s, ToolKind::Meter, Lead::Black);
    // It shows nothing in amps now, and volts as before.
    act(&mut s, Action::Pull("K3".into()));
    let (feed, load) = (cavity(&s, "K3", "30"), cavity(&s, "K3", "87"));
    assert_eq!(
        display(&mut s, Dial::Amps, &load, &feed),
        MeterDisplay::Blank
    );
    lift(&mut s, ToolKind::Meter, Lead::Black);
    assert!(reads(&mut s, Dial::Volts, "bat:neg", &feed) > 12.0);
    lift(&mut s, ToolKind::Meter, Lead::Black);
    // With a new fuse it stands in the clutch's circuit like the relay's contact.
    act(&mut s, Action::Renew(ToolKind::Meter));
    let amps = reads(&mut s, Dial::Amps, &load, &feed);
    assert!(
        (2.7..=4.0).contains(&amps),
        "a clutch draws 3 to 4 A: {amps}"
    );
}
