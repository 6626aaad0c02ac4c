//! Fuses protect their wires, and are made in the ratings they have.

use tracebay_core::vehicle::Kind;
use tracebay_core::vehicle::protection::unprotected;

use crate::load;

#[test]
fn fuses_protect_their_wires() {
    for vehicle in &load::vehicles() {
        assert_eq!(unprotected(vehicle), [], "{}", vehicle.id);
    }
}

#[test]
fn a_fuse_too_large_and_a_bare_feed_are_found() {
    // ISO 10133, 70 degC column, from memory: 0.75 mm2 carries 10 A.
    let mut vehicle = (*load::vehicles()[0]).clone();
    let amps_of = |v: &mut tracebay_core::vehicle::Vehicle, fuse: &str, to: f64| {
        if let Kind::Fuse { amps, .. } = &mut v.parts.get_mut(fuse).expect("a fuse").kind {
            *amps = to;
        }
    };
    // The stop lamp's wires are 0.75 mm2 behind F13.
    amps_of(&mut vehicle, "F13", 15.0);
    let found = unprotected(&vehicle);
    let wires: Vec<&str> = found.iter().map(|u| u.wire.as_str()).collect();
    assert_eq!(wires, ["w_stop", "w_stop_feed", "w_stop_gnd"]);
    assert!(
        found
            .iter()
            .all(|u| u.fuse_a == Some(15.0) && u.may_a == Some(10.0))
    );
    amps_of(&mut vehicle, "F13", 10.0);
    let cable = vehicle.wires.get_mut("w_bat_box").expect("a cable");
    cable.length_m = 2.0;
    let found = unprotected(&vehicle);
    assert_eq!(found.len(), 1);
    assert_eq!(
        (found[0].wire.as_str(), found[0].fuse_a),
        ("w_bat_box", None)
    );
}

#[test]
fn fuses_are_made_in_these_ratings() {
    // ISO 8820-3, types F (mini), C (regular) and E (maxi), from memory.
    use tracebay_core::vehicle::FuseBody;
    for vehicle in &load::vehicles() {
        for (id, part) in &vehicle.parts {
            if let Kind::Fuse { amps, body } = part.kind {
                let made: &[f64] = match body {
                    FuseBody::Mini => &[2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0],
                    FuseBody::Regular => &[
                        1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0,
                    ],
                    FuseBody::Maxi => &[20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0],
                };
                assert!(made.contains(&amps), "{}: {id} {amps} A", vehicle.id);
            }
        }
    }
}
