//! What hands, faults and damage make of a part's elements.

use super::{Device, SWITCH_OHMS, rectifier};
use crate::circuit::{Element, ElementId, Network};
use crate::elements::motor::FanMotor;
use crate::elements::{copper, relay};
use crate::fault::Wrong;
use crate::vehicle::hardware::{Hardware, SlotState};
use crate::vehicle::{Kind, Relay, Suppression};

/// Sets a device's elements from hands, faults and damage. Values that move with time start from
/// their resting value here and are set again by the session's next tick.
pub(super) fn refresh_device(
    network: &mut Network,
    id: &str,
    device: &Device,
    kind: &Kind,
    hw: &Hardware,
    ambient_c: f64,
) {
    // Resistance added inside the part, by corrosion or worn brushes.
    let extra: f64 = hw
        .acting_in_part(id)
        .map(|w| {
            if let Wrong::Resistance(r) = w {
                *r
            } else {
                0.0
            }
        })
        .sum();
    match (device, kind) {
        (Device::Switch { control, ways }, _) => {
            let position = hw.controls.get(control).map_or("", String::as_str);
            let stuck_open = hw
                .acting(id)
                .chain(hw.acting(control))
                .any(|w| matches!(w, Wrong::StuckOpen | Wrong::Open));
            let stuck_closed = hw
                .acting(id)
                .chain(hw.acting(control))
                .any(|w| matches!(w, Wrong::StuckClosed));
            for (element, closed_in) in ways {
                let closed =
                    (closed_in.iter().any(|p| p == position) || stuck_closed) && !stuck_open;
                network.set(
                    *element,
                    if closed {
                        Element::Resistor {
                            ohms: SWITCH_OHMS + extra,
                        }
                    } else {
                        Element::Open
                    },
                );
            }
        }
        (Device::Fuse { element, ohms, .. }, _) => {
            let gone = hw.slots.get(id).is_some_and(SlotState::blown)
                || hw
                    .acting_in_part(id)
                    .any(|w| matches!(w, Wrong::Blown | Wrong::Open));
            network.set(
                *element,
                if gone {
                    Element::Open
                } else {
                    Element::Resistor { ohms: ohms + extra }
                },
            );
        }
        (
            Device::Relay {
                coil,
                make,
                rest,
                forward,
                backward,
            },
            Kind::Relay(spec),
        ) => {
            let data = relay_values(spec);
            let coil_ohms = spec.coil_ohms * copper::factor(ambient_c);
            let mut coil_element = Element::Resistor { ohms: coil_ohms };
            let mut make_element = data.contact(*coil, false);
            let mut rest_element = data.contact(*coil, true);
            let (mut there, mut reversed) = (spec.suppression == Suppression::Diode, false);
            for wrong in hw.acting_in_part(id) {
                match wrong {
                    Wrong::CoilOpen | Wrong::Open => coil_element = Element::Open,
                    Wrong::CoilShorted(f) => {
                        coil_element = Element::Resistor {
                            ohms: coil_ohms * f,
                        };
                        // Turns that are bridged no longer pull: more current for the same
                        // ampere-turns.
                        for contact in [&mut make_element, &mut rest_element] {
                            if let Element::Contact {
                                pull_in_a,
                                drop_out_a,
                                ..
                            } = contact
                            {
                                *pull_in_a /= f;
                                *drop_out_a /= f;
                            }
                        }
                    }
                    Wrong::ContactsOpen => make_element = Element::Open,
                    Wrong::ContactsBurnt(r) => {
                        if let Element::Contact { ohms, .. } = &mut make_element {
                            *ohms += r;
                        }
                    }
                    Wrong::ContactsWelded => {
                        make_element = Element::Resistor {
                            ohms: data.contact_ohms,
                        };
                        rest_element = Element::Open;
                    }
                    Wrong::DiodeReversed => reversed = true,
                    Wrong::DiodeOpen => there = false,
                    _ => {}
                }
            }
            network.set(*coil, coil_element);
            network.set(*make, make_element);
            if let Some(rest) = rest {
                network.set(*rest, rest_element);
            }
            let resistor = match spec.suppression {
                Suppression::Resistor(ohms) => Element::Resistor { ohms },
                _ => Element::Open,
            };
            network.set(
                *forward,
                if there && !reversed {
                    rectifier()
                } else {
                    resistor
                },
            );
            network.set(
                *backward,
                if there && reversed {
                    rectifier()
                } else {
                    Element::Open
                },
            );
        }
        (
            Device::Clutch {
                coil,
                forward,
                backward,
            },
            Kind::ClutchCoil { ohms, diode, .. },
        ) => {
            let (mut there, mut reversed) = (*diode, false);
            let mut element = Element::Resistor { ohms: *ohms };
            for wrong in hw.acting_in_part(id) {
                match wrong {
                    Wrong::CoilOpen | Wrong::Open => element = Element::Open,
                    Wrong::CoilShorted(f) => element = Element::Resistor { ohms: ohms * f },
                    Wrong::DiodeReversed => reversed = true,
                    Wrong::DiodeOpen => there = false,
                    _ => {}
                }
            }
            network.set(*coil, element);
            network.set(
                *forward,
                if there && !reversed {
                    rectifier()
                } else {
                    Element::Open
                },
            );
            network.set(
                *backward,
                if there && reversed {
                    rectifier()
                } else {
                    Element::Open
                },
            );
        }
        (
            Device::Motor { element },
            Kind::Motor {
                rated_v,
                rated_a,
                stall_a,
                rated_rpm,
                ..
            },
        ) => {
            let mut value = motor_element(*rated_v, *rated_a, *stall_a, *rated_rpm);
            for wrong in hw.acting_in_part(id) {
                match wrong {
                    Wrong::Open | Wrong::CoilOpen => value = Element::Open,
                    Wrong::Seized => {
                        value = Element::Resistor {
                            ohms: rated_v / stall_a,
                        }
                    }
                    // Fewer turns: less copper, and less back-EMF for the same speed.
                    Wrong::CoilShorted(f) => {
                        if let Element::FanMotor {
                            ohms,
                            volts_per_rad_s,
                            ..
                        } = &mut value
                        {
                            *ohms *= f;
                            *volts_per_rad_s *= f;
                        }
                    }
                    _ => {}
                }
            }
            if let Element::FanMotor { ohms, .. } | Element::Resistor { ohms } = &mut value {
                *ohms += extra;
            }
            network.set(*element, value);
        }
        (Device::Lamp { element }, Kind::Lamp { rated_v, rated_w }) => {
            let gone = hw
                .acting_in_part(id)
                .any(|w| matches!(w, Wrong::Open | Wrong::Blown));
            let lamp = Element::Filament {
                rated_v: *rated_v,
                rated_a: rated_w / rated_v,
                cold_fraction: 0.1,
            };
            network.set(*element, if gone { Element::Open } else { lamp });
        }
        (Device::Resistor { element }, Kind::Resistor { ohms, .. }) => {
            let open = hw.acting_in_part(id).any(|w| matches!(w, Wrong::Open));
            let value = Element::Resistor { ohms: ohms + extra };
            network.set(*element, if open { Element::Open } else { value });
        }
        _ => {}
    }
}

/// A relay's electrical values.
pub(super) struct RelayValues {
    pull_in_a: f64,
    drop_out_a: f64,
    contact_ohms: f64,
}

impl RelayValues {
    pub(super) fn contact(&self, coil: ElementId, closed_at_rest: bool) -> Element {
        Element::Contact {
            coil,
            pull_in_a: self.pull_in_a,
            drop_out_a: self.drop_out_a,
            closed_at_rest,
            ohms: self.contact_ohms,
        }
    }
}

pub(super) fn relay_values(spec: &Relay) -> RelayValues {
    RelayValues {
        pull_in_a: spec.pull_in_v / spec.coil_ohms,
        drop_out_a: spec.drop_out_v / spec.coil_ohms,
        contact_ohms: relay::GOOD_CONTACT_OHMS,
    }
}

/// A motor with a fan or pump on it, from the figures of a data sheet.
fn motor_element(rated_v: f64, rated_a: f64, stall_a: f64, rated_rpm: f64) -> Element {
    let fan = FanMotor::of(rated_v, rated_a, stall_a, rated_rpm);
    Element::FanMotor {
        ohms: fan.ohms,
        volts_per_rad_s: fan.volts_per_rad_s,
        load_nms2: fan.load_nms2,
    }
}
