//! Which parts of the car change with time, found anew whenever its network is built.
//!
//! Changes nothing with time itself.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Car;
use crate::circuit::{ElementId, NodeId, SolveError, Solver};
use crate::elements::battery::BatterySpec;
use crate::elements::fuse::{Fuse, FuseHeat};
use crate::elements::transducer::Thermistor;
use crate::fault::Wrong;
use crate::session::unit::Unit;
use crate::vehicle::wiring::Device;
use crate::vehicle::{Acts, Drives, Feels, Kind, LoopSide, Wired};

#[derive(Clone)]
pub(super) struct FuseInSlot {
    pub(super) part: Arc<str>,
    pub(super) element: ElementId,
    pub(super) model: Fuse,
    pub(super) heat: FuseHeat,
}

#[derive(Clone)]
pub(super) struct Sensor {
    pub(super) part: String,
    pub(super) output: ElementId,
    pub(super) supply: NodeId,
    pub(super) ground: NodeId,
    pub(super) low_kpa: f64,
    pub(super) high_kpa: f64,
    pub(super) side: LoopSide,
    pub(super) offset_kpa: f64,
    pub(super) applied_ratio: f64,
}

#[derive(Clone)]
pub(super) struct PressureContact {
    pub(super) part: String,
    pub(super) element: ElementId,
    pub(super) closes_above: f64,
    pub(super) opens_below: f64,
    pub(super) opens_above: f64,
    pub(super) closed: bool,
}

#[derive(Clone)]
pub(super) struct Ntc {
    pub(super) element: ElementId,
    pub(super) model: Thermistor,
    pub(super) feels: Feels,
    pub(super) offset_k: f64,
    pub(super) extra_ohms: f64,
    pub(super) dead: bool,
    pub(super) applied_c: f64,
}

/// A load whose working the car's behaviour or a sense depends on.
#[derive(Clone)]
pub(crate) struct Load {
    pub part: String,
    pub place: String,
    pub element: ElementId,
    pub drives: Option<Drives>,
    pub acts: Acts,
    pub rated_a: f64,
    /// Seized motors draw current and do not turn.
    pub turns: bool,
}

impl Car {
    /// Finds the parts that change with time; done again whenever the network is built anew.
    pub(super) fn index(&mut self) {
        let vehicle = self.case.vehicle.clone();
        let old_units = std::mem::take(&mut self.units);
        let old_fuses = std::mem::take(&mut self.fuses);
        self.sensors.clear();
        self.contacts.clear();
        self.thermistors.clear();
        let mut loads = Vec::new();
        let mut relay_of = BTreeMap::new();
        for (id, part) in &vehicle.parts {
            let device = &self.wired.devices[id];
            match (device, &part.kind) {
                (
                    Device::Battery { source },
                    Kind::Battery {
                        capacity_ah,
                        internal_ohms,
                        ..
                    },
                ) => {
                    if let Ok(spec) = BatterySpec::new(*capacity_ah, capacity_ah * 8.0) {
                        self.battery = Some((*source, spec, *internal_ohms));
                        self.battery_part.clone_from(id);
                    }
                }
                (
                    Device::Alternator { source },
                    Kind::Alternator {
                        setpoint_v,
                        idle_limit_a,
                    },
                ) => {
                    self.alternator = Some((*source, *setpoint_v, *idle_limit_a));
                    self.alternator_part.clone_from(id);
                }
                (Device::Fuse { element, .. }, Kind::Fuse { amps, body }) => {
                    if let Ok(model) = Fuse::new(body.blade(), *amps) {
                        let heat = old_fuses
                            .iter()
                            .find(|f| *f.part == **id)
                            .map_or_else(FuseHeat::default, |f| f.heat);
                        self.fuses.push(FuseInSlot {
                            part: Arc::from(id.as_str()),
                            element: *element,
                            model,
                            heat,
                        });
                    }
                }
                (Device::Relay { make, rest, .. }, _) => {
                    relay_of.insert(*make, id.clone());
                    if let Some(rest) = rest {
                        relay_of.insert(*rest, id.clone());
                    }
                }
                (
                    Device::PressureSensor {
                        output,
                        supply,
                        ground,
                        ..
                    },
                    Kind::PressureSensor {
                        low_kpa,
                        high_kpa,
                        side,
                    },
                ) => self.sensors.push(Sensor {
                    part: id.clone(),
                    output: *output,
                    supply: *supply,
                    ground: *ground,
                    low_kpa: *low_kpa,
                    high_kpa: *high_kpa,
                    side: *side,
                    offset_kpa: 0.0,
                    applied_ratio: f64::NEG_INFINITY,
                }),
                (
                    Device::PressureSwitch { element },
                    Kind::PressureSwitch {
                        closes_above_kpa,
                        opens_below_kpa,
                        opens_above_kpa,
                    },
                ) => self.contacts.push(PressureContact {
                    part: id.clone(),
                    element: *element,
                    closes_above: *closes_above_kpa,
                    opens_below: *opens_below_kpa,
                    opens_above: *opens_above_kpa,
                    closed: false,
                }),
                (
                    Device::Thermistor { element },
                    Kind::Thermistor {
                        ohms_25c,
                        beta_k,
                        feels,
                    },
                ) => {
                    self.thermistors.push(Ntc {
                        element: *element,
                        model: Thermistor {
                            ohms_25c: *ohms_25c,
                            beta_k: *beta_k,
                        },
                        feels: *feels,
                        offset_k: 0.0,
                        extra_ohms: 0.0,
                        dead: false,
                        applied_c: f64::NEG_INFINITY,
                    });
                }
                (Device::ControlUnit(unit), Kind::ControlUnit(data)) => {
                    let mut fresh = Unit::new(id, data, unit);
                    if let Some(old) = old_units.iter().find(|u| *u.part == **id) {
                        fresh.keep_memory(old);
                    }
                    self.units.push(fresh);
                }
                (
                    Device::Motor { element },
                    Kind::Motor {
                        drives, rated_a, ..
                    },
                ) => {
                    loads.push(Load {
                        part: id.clone(),
                        place: part.place.clone(),
                        element: *element,
                        drives: Some(*drives),
                        acts: Acts::Nothing,
                        rated_a: *rated_a,
                        turns: true,
                    });
                }
                (Device::Resistor { element }, Kind::Resistor { acts, ohms })
                    if *acts != Acts::Nothing =>
                {
                    loads.push(Load {
                        part: id.clone(),
                        place: part.place.clone(),
                        element: *element,
                        drives: None,
                        acts: *acts,
                        rated_a: 12.0 / ohms,
                        turns: false,
                    });
                }
                (Device::Lamp { element }, Kind::Lamp { rated_v, rated_w }) => {
                    loads.push(Load {
                        part: id.clone(),
                        place: part.place.clone(),
                        element: *element,
                        drives: None,
                        acts: Acts::Nothing,
                        rated_a: rated_w / rated_v,
                        turns: false,
                    });
                }
                _ => {}
            }
        }
        self.loads = Arc::new(loads);
        self.relay_of = Arc::new(relay_of);
        self.reindex_faults();
    }

    /// Takes over what faults do to sensors and motors.
    pub(super) fn reindex_faults(&mut self) {
        self.drawn = None;
        for sensor in &mut self.sensors {
            sensor.applied_ratio = f64::NEG_INFINITY;
            sensor.offset_kpa = self
                .hw
                .acting_in_part(&sensor.part)
                .map(|w| {
                    if let Wrong::ReadingOff(by) = w {
                        *by
                    } else {
                        0.0
                    }
                })
                .sum();
        }
        let vehicle = self.case.vehicle.clone();
        let ids: Vec<&String> = vehicle
            .parts
            .iter()
            .filter(|(_, p)| matches!(p.kind, Kind::Thermistor { .. }))
            .map(|(id, _)| id)
            .collect();
        for (ntc, id) in self.thermistors.iter_mut().zip(ids) {
            ntc.offset_k = 0.0;
            ntc.extra_ohms = 0.0;
            ntc.dead = false;
            for wrong in self.hw.acting_in_part(id) {
                match wrong {
                    Wrong::ReadingOff(by) => ntc.offset_k += by,
                    Wrong::Resistance(extra) => ntc.extra_ohms += extra,
                    Wrong::Open => ntc.dead = true,
                    _ => {}
                }
            }
            ntc.applied_c = f64::NEG_INFINITY;
        }
        for load in Arc::make_mut(&mut self.loads) {
            load.turns = !self
                .hw
                .acting_in_part(&load.part)
                .any(|w| matches!(w, Wrong::Seized));
        }
        if let Some(climate) = &mut self.climate {
            climate.take_faults(&self.case, &self.hw);
        }
    }

    /// After a relay was put in the other way round: other joints, so another network.
    pub fn rebuild(&mut self) -> Result<(), SolveError> {
        let case = self.case.clone();
        let spread = |name: &str| case.tolerance(name);
        self.wired = Wired::build(
            &case.vehicle,
            &self.hw,
            &case.arrangements,
            &spread,
            case.ambient_c,
        );
        // The elements are the same, in the same order; only two of a relay's joints meet other
        // blades. So contacts stay where they are.
        self.blank = Arc::new(Solver::new(&self.wired.network));
        self.asker = self.blank.clone();
        self.solver = Arc::new(Solver::clone(&self.blank).following());
        self.solved_for = None;
        let closed: Vec<bool> = self.contacts.iter().map(|c| c.closed).collect();
        self.index();
        for (contact, closed) in self.contacts.iter_mut().zip(closed) {
            contact.closed = closed;
        }
        self.apply_units();
        self.apply_sensors();
        self.hands_changed()
    }
}
