//! The car in motion: its network, what changes with time, and one tick of 0.1 s.
//!
//! Knows nothing of the learner: no tools in the roll, no stations, no minutes, no log. Tools reach
//! it as attachments to its network.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::climate::Climate;
use super::engine::{Engine, EngineInputs};
use super::observation::{Observation, Sound};
use super::unit::{Facts, Unit};
use crate::circuit::{
    Attachment, Element, ElementId, Network, NodeId, Solution, SolveError, Solver, State,
};
use crate::elements::battery::BatterySpec;
use crate::elements::driver::{DriverHeat, DriverSpec};
use crate::elements::fuse::{Fuse, FuseHeat};
use crate::elements::spark::{self, SparkSize, Suppression};
use crate::elements::transducer::Thermistor;
use crate::elements::{alternator, clutch, relay};
use crate::fault::{Condition, Wrong};
use crate::scenario::Case;
use crate::vehicle::hardware::{FaultState, Hardware, SlotState};
use crate::vehicle::wiring::{Device, sensor_output};
use crate::vehicle::{Acts, Drives, Feels, Kind, LoopSide, Role, Wired};

/// Ticks of running after which the bay counts as hot.
const HOT_TICKS: u32 = 2_400;
/// What drifts slowly reaches the network this often: every three seconds.
const DRIFT_TICKS: u64 = 30;
/// Steps below which a drift is not worth solving the network again: volts of the battery, share of
/// its charge, kelvin at a thermistor, share of a pressure sensor's supply.
const BATTERY_STEP_V: f64 = 0.02;
const CHARGE_STEP: f64 = 0.000_5;
const THERMISTOR_STEP_K: f64 = 0.5;
const SENSOR_STEP: f64 = 0.003;
/// Most rounds of "solve, let the devices react" within a tick before the rest waits for the next.
const ROUNDS: usize = 8;

#[derive(Clone)]
struct FuseInSlot {
    part: Arc<str>,
    element: ElementId,
    model: Fuse,
    heat: FuseHeat,
}

#[derive(Clone)]
struct Sensor {
    part: String,
    output: ElementId,
    supply: NodeId,
    ground: NodeId,
    low_kpa: f64,
    high_kpa: f64,
    side: LoopSide,
    offset_kpa: f64,
    applied_ratio: f64,
}

#[derive(Clone)]
struct PressureContact {
    part: String,
    element: ElementId,
    closes_above: f64,
    opens_below: f64,
    opens_above: f64,
    closed: bool,
}

#[derive(Clone)]
struct Ntc {
    element: ElementId,
    model: Thermistor,
    feels: Feels,
    offset_k: f64,
    extra_ohms: f64,
    dead: bool,
    applied_c: f64,
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

/// The car in motion.
#[derive(Clone)]
pub(crate) struct Car {
    pub case: Arc<Case>,
    pub hw: Hardware,
    pub wired: Wired,
    solver: Solver,
    /// For questions that change nothing: its answers do not depend on what was asked before.
    asker: Solver,
    state: State,
    pub solution: Solution,
    solved_for: Option<(u64, Vec<Attachment>)>,
    pub tools: Vec<Attachment>,
    units: Vec<Unit>,
    fuses: Vec<FuseInSlot>,
    driver_heat: BTreeMap<(Arc<str>, Arc<str>), DriverHeat>,
    /// See [`Car::drawn`]; none after the network was solved anew.
    drawn: Option<Drawn>,
    /// Outputs may be warming or cooling: not where all carry what they can shed.
    drivers_busy: bool,
    sensors: Vec<Sensor>,
    contacts: Vec<PressureContact>,
    thermistors: Vec<Ntc>,
    pub loads: Arc<Vec<Load>>,
    battery: Option<(ElementId, BatterySpec, f64)>,
    /// Part id of the battery, and of the alternator.
    battery_part: String,
    alternator_part: String,
    battery_charge: f64,
    battery_polarisation_v: f64,
    applied_polarisation_v: f64,
    applied_charge: f64,
    alternator: Option<(ElementId, f64, f64)>,
    pub engine: Engine,
    pub climate: Option<Climate>,
    pub ticks: u64,
    hot_ticks: u32,
    /// The harness is being moved right now.
    pub shaken: Option<String>,
    relay_of: Arc<BTreeMap<ElementId, String>>,
    key: String,
    pub events: Vec<Observation>,
    buzzing: bool,
}

impl Car {
    /// The car as the customer left it.
    pub fn new(case: Arc<Case>) -> Result<Car, SolveError> {
        let vehicle = &case.vehicle;
        let mut hw = Hardware::default();
        for (id, control) in &vehicle.controls {
            hw.controls.insert(id.clone(), control.positions[0].clone());
        }
        for (id, part) in &vehicle.parts {
            if part.kind.plugs_in() && case.slots.contains_key(id) {
                hw.slots.insert(id.clone(), SlotState::default());
            }
        }
        for fault in case.faults() {
            let away = fault.only.is_some();
            hw.faults.push(FaultState {
                fault: fault.clone(),
                mended: false,
                away,
            });
            if let Wrong::Misuse(position) = &fault.what {
                hw.controls.insert(fault.at.clone(), position.clone());
            }
        }
        let key = vehicle
            .controls
            .iter()
            .find(|(_, c)| c.role == Role::Key)
            .map_or(String::new(), |(id, _)| id.clone());
        let spread = |name: &str| case.tolerance(name);
        let wired = Wired::build(vehicle, &hw, &case.arrangements, &spread, case.ambient_c);
        let asker = Solver::new(&wired.network);
        let mut solver = asker.clone().following();
        let mut state = State::rest(&wired.network);
        let solution = solver.solve(&wired.network, &[], &mut state)?;
        let mut car = Car {
            climate: Climate::new(&case),
            engine: Engine::new(case.ambient_c),
            case: case.clone(),
            hw,
            solver,
            asker,
            state,
            solution,
            solved_for: None,
            tools: Vec::new(),
            wired,
            units: Vec::new(),
            fuses: Vec::new(),
            driver_heat: BTreeMap::new(),
            drawn: None,
            drivers_busy: true,
            sensors: Vec::new(),
            contacts: Vec::new(),
            thermistors: Vec::new(),
            loads: Arc::default(),
            battery: None,
            battery_part: String::new(),
            alternator_part: String::new(),
            battery_charge: 1.0,
            battery_polarisation_v: 0.0,
            applied_polarisation_v: 0.0,
            applied_charge: -1.0,
            alternator: None,
            ticks: 0,
            hot_ticks: 0,
            shaken: None,
            relay_of: Arc::default(),
            key,
            events: Vec::new(),
            buzzing: false,
        };
        car.index();
        for part in vehicle.parts.values() {
            if let Kind::Battery { charge, .. } = part.kind {
                car.battery_charge = charge;
            }
        }
        car.settle_intermittents();
        car.apply_slow(true);
        car.solve()?;
        car.let_devices_react();
        car.events.clear();
        Ok(car)
    }

    /// Finds the parts that change with time; done again whenever the network is built anew.
    fn index(&mut self) {
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
    fn reindex_faults(&mut self) {
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

    /// After hands have changed something: values anew, and the car reacts at once.
    pub fn hands_changed(&mut self) -> Result<(), SolveError> {
        let vehicle = self.case.vehicle.clone();
        self.wired.refresh(&vehicle, &self.hw);
        self.reindex_faults();
        self.apply_slow(true);
        self.solve()?;
        self.let_devices_react();
        Ok(())
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
        self.asker = Solver::new(&self.wired.network);
        self.solver = self.asker.clone().following();
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

    /// Solves if anything changed since the last solution.
    pub fn solve(&mut self) -> Result<(), SolveError> {
        let revision = self.wired.revision;
        if let Some((r, tools)) = &self.solved_for
            && *r == revision
            && *tools == self.tools
        {
            return Ok(());
        }
        match self
            .solver
            .solve(&self.wired.network, &self.tools, &mut self.state)
        {
            Ok(solution) => {
                for element in solution.flipped() {
                    if let Some(part) = self.relay_of.get(element) {
                        let place = self.case.vehicle.parts[part].place.clone();
                        let click = Observation::Heard {
                            sound: Sound::RelayClick,
                            place,
                        };
                        if !self.events.contains(&click) {
                            self.events.push(click);
                        }
                    }
                }
                self.solution = solution;
                self.drivers_busy = true;
                self.drawn = None;
                self.buzzing = false;
                self.solved_for = Some((revision, self.tools.clone()));
                Ok(())
            }
            Err(SolveError::Unsettled { contacts: names }) => {
                // A relay that cuts its own coil's feed buzzes: heard, and the rest of the car
                // stays as it was until something changes.
                if !self.buzzing {
                    self.buzzing = true;
                    let place = names
                        .iter()
                        .find_map(|n| {
                            self.case
                                .vehicle
                                .parts
                                .iter()
                                .find(|(id, _)| n.starts_with(id.as_str()))
                        })
                        .map_or(String::new(), |(_, p)| p.place.clone());
                    self.events.push(Observation::Heard {
                        sound: Sound::RelayBuzz,
                        place,
                    });
                }
                self.drivers_busy = true;
                self.drawn = None;
                self.solution = self.without(&names)?;
                self.solved_for = Some((revision, self.tools.clone()));
                Ok(())
            }
            Err(other) => Err(other),
        }
    }

    /// The car while some contacts flutter: those let nothing through, and all else settles.
    fn without(&mut self, fluttering: &[String]) -> Result<Solution, SolveError> {
        let mut held = self.wired.network.clone();
        for id in (0..held.element_count()).map(|at| ElementId(at as u32)) {
            if fluttering.iter().any(|name| name == held.element_name(id)) {
                held.set(id, Element::Open);
            }
        }
        match self.solver.solve(&held, &self.tools, &mut self.state) {
            // Others began to flutter for it: one moment, with all contacts where they are.
            Err(SolveError::Unsettled { .. }) => {
                self.solver
                    .solve_held(&self.wired.network, &self.tools, &self.state)
            }
            found => found,
        }
    }

    /// What the network would show with these attachments instead, without changing the car.
    pub fn peek(&mut self, tools: &[Attachment]) -> Option<Solution> {
        let mut state = self.state.clone();
        self.asker
            .solve(&self.wired.network, tools, &mut state)
            .ok()
    }

    fn facts(&self) -> Facts {
        let key = self
            .hw
            .controls
            .get(&self.key)
            .map_or("off", String::as_str);
        Facts {
            engine_running: self.engine.running(),
            engine_turning: self.engine.turning(),
            key_on: matches!(key, "on" | "start"),
            ambient_c: self.case.ambient_c,
            coolant_c: self.engine.coolant_c,
        }
    }

    /// Lets sensors, units, the clutch and the engine follow the solution until nothing moves, as
    /// they do within a tenth of a second.
    fn let_devices_react(&mut self) {
        for _ in 0..ROUNDS {
            self.apply_units();
            self.apply_sensors();
            self.move_clutch();
            let before = self.solved_for.as_ref().map(|s| s.0);
            if Some(self.wired.revision) == before {
                break;
            }
            if self.solve().is_err() {
                break;
            }
        }
    }

    fn apply_units(&mut self) {
        for unit in &self.units {
            let dead_unit = self
                .hw
                .acting_in_part(&unit.part)
                .any(|w| matches!(w, Wrong::UnitDead));
            if let Some((element, value)) = unit.reference() {
                let value = if dead_unit {
                    Element::Resistor { ohms: 10_000.0 }
                } else {
                    value
                };
                self.wired.set(element, value);
            }
            for (name, element, on) in &unit.outputs {
                let mut on = *on && !dead_unit;
                on &= self.hw.dead_outputs.is_empty()
                    || !self
                        .hw
                        .dead_outputs
                        .contains(&(unit.part.to_string(), name.to_string()));
                for wrong in self.hw.acting_in_part(&unit.part) {
                    match wrong {
                        Wrong::OutputDead(n) if **n == **name => on = false,
                        Wrong::OutputStuckOn(n) if **n == **name => on = true,
                        _ => {}
                    }
                }
                self.wired.set(
                    *element,
                    if on {
                        unit.output_on(name)
                    } else {
                        Element::Open
                    },
                );
            }
        }
    }

    fn apply_sensors(&mut self) {
        let Some(climate) = &self.climate else { return };
        let drifts = self.ticks.is_multiple_of(DRIFT_TICKS);
        for sensor in &mut self.sensors {
            let kpa = climate.gauge_kpa(sensor.side) + sensor.offset_kpa;
            let ratio = (0.1 + 0.8 * (kpa - sensor.low_kpa) / (sensor.high_kpa - sensor.low_kpa))
                .clamp(0.06, 0.94);
            let supply = self
                .solution
                .difference(sensor.supply, sensor.ground)
                .unwrap_or(0.0);
            // A millivolt is less than anything in the car can tell.
            let supply = libm::round(supply * 200.0) / 200.0;
            let fresh = sensor.applied_ratio < 0.0;
            if fresh || (drifts && (ratio - sensor.applied_ratio).abs() >= SENSOR_STEP) {
                sensor.applied_ratio = libm::round(ratio * 1000.0) / 1000.0;
            }
            let ratio = sensor.applied_ratio;
            let dead = self
                .hw
                .acting_in_part(&sensor.part)
                .any(|w| matches!(w, Wrong::Open));
            let value = if dead {
                Element::Open
            } else {
                sensor_output(supply, ratio)
            };
            self.wired.set(sensor.output, value);
        }
        for contact in &mut self.contacts {
            let kpa = climate.gauge_kpa(LoopSide::High);
            contact.closed = if kpa > contact.opens_above || kpa < contact.opens_below {
                false
            } else {
                contact.closed || kpa >= contact.closes_above
            };
            let stuck = |what: Wrong| self.hw.acting_in_part(&contact.part).any(|w| *w == what);
            let closed = (contact.closed || stuck(Wrong::StuckClosed))
                && !stuck(Wrong::StuckOpen)
                && !stuck(Wrong::Open);
            let (_, extra) = inside(&self.hw, &contact.part);
            let value = if closed {
                Element::Resistor { ohms: 0.02 + extra }
            } else {
                Element::Open
            };
            self.wired.set(contact.element, value);
        }
    }

    fn move_clutch(&mut self) {
        let Some(climate) = &mut self.climate else {
            return;
        };
        let Some(Device::Clutch { coil, .. }) = self.wired.devices.get(&climate.clutch) else {
            return;
        };
        let amps = self.solution.current(*coil).abs();
        if let Some(sound) = climate.move_clutch(amps) {
            let place = self.case.vehicle.parts[&climate.clutch].place.clone();
            self.events.push(Observation::Heard { sound, place });
        }
    }

    /// Sets what drifts slowly, if it drifted far enough to matter (or always, if asked).
    fn apply_slow(&mut self, always: bool) {
        let drifts = always || self.ticks.is_multiple_of(DRIFT_TICKS);
        if let Some((element, spec, ohms)) = self.battery
            && drifts
        {
            let (charge, polarisation) = (self.battery_charge, self.battery_polarisation_v);
            if always
                || (charge - self.applied_charge).abs() >= CHARGE_STEP
                || (polarisation - self.applied_polarisation_v).abs() >= BATTERY_STEP_V
            {
                self.applied_charge = charge;
                self.applied_polarisation_v = polarisation;
                let ambient_c = self.case.ambient_c;
                let emf_v = spec.open_circuit_v(charge, ambient_c) + polarisation;
                // The file's figure is for a full battery at 25 °C.
                let ohms = ohms * spec.internal_ohms(charge, ambient_c, 0.0)
                    / spec.internal_ohms(1.0, 25.0, 0.0);
                let (open, extra) = inside(&self.hw, &self.battery_part);
                let source = Element::Source {
                    emf_v,
                    ohms: ohms + extra,
                };
                self.wired
                    .set(element, if open { Element::Open } else { source });
            }
        }
        if let Some((element, setpoint_v, limit_a)) = self.alternator {
            let (open, _) = inside(&self.hw, &self.alternator_part);
            let value = if self.engine.running() && !open {
                Element::LimitedSource {
                    emf_v: regulated_v(setpoint_v, self.case.ambient_c),
                    // What is left of its droop once the regulator has done its work.
                    ohms: 0.005,
                    limit_a,
                }
            } else {
                Element::Open
            };
            self.wired.set(element, value);
        }
        if !drifts {
            return;
        }
        let (coolant, ambient) = (self.engine.coolant_c, self.case.ambient_c);
        let evaporator = self.climate.as_ref().map_or(ambient, Climate::evaporator_c);
        for ntc in &mut self.thermistors {
            let real_c = match ntc.feels {
                Feels::Evaporator => evaporator,
                Feels::Coolant => coolant,
                Feels::Ambient => ambient,
            } + ntc.offset_k;
            if (real_c - ntc.applied_c).abs() >= THERMISTOR_STEP_K {
                ntc.applied_c = real_c;
                let ohms = ntc.model.ohms(real_c) + ntc.extra_ohms;
                self.wired.set(
                    ntc.element,
                    if ntc.dead {
                        Element::Open
                    } else {
                        Element::Resistor { ohms }
                    },
                );
            }
        }
        if let Some(climate) = &mut self.climate
            && let Some(Device::Clutch { coil, .. }) = self.wired.devices.get(&climate.clutch)
            && let Some(ohms) = climate.coil_ohms(always)
        {
            let shorted = self
                .hw
                .acting_in_part(&climate.clutch)
                .find_map(|w| match w {
                    Wrong::CoilShorted(f) => Some(*f),
                    _ => None,
                });
            let open = self
                .hw
                .acting_in_part(&climate.clutch)
                .any(|w| matches!(w, Wrong::CoilOpen | Wrong::Open));
            let ohms =
                ohms * shorted.unwrap_or(1.0) * (1.0 + 0.03 * self.case.tolerance(&climate.clutch));
            self.wired.set(
                *coil,
                if open {
                    Element::Open
                } else {
                    Element::Resistor { ohms }
                },
            );
        }
    }

    /// Intermittent faults come and go. Returns whether one did.
    fn settle_intermittents(&mut self) -> bool {
        let hot = self.hot_ticks >= HOT_TICKS;
        // Shaking makes and breaks in bursts of a few tenths of a second.
        let burst = self.ticks % 23 < 9;
        let running = self.engine.running() && burst;
        let mut changed = false;
        for i in 0..self.hw.faults.len() {
            let state = &self.hw.faults[i];
            let away = match state.fault.only {
                None => continue,
                Some(Condition::Hot) => !hot,
                // Moving the harness tells only where it is moved.
                Some(Condition::Shaken) => {
                    let here = self.shaken.as_deref().is_some_and(|place| {
                        super::senses::place_of(self, &state.fault.at) == Some(place)
                    });
                    !(running || here)
                }
            };
            changed |= away != state.away;
            self.hw.faults[i].away = away;
        }
        changed
    }

    /// Fraction of its rated working current a load gets, 0 and up.
    pub fn working(&self, load: &Load) -> f64 {
        if load.drives.is_some() && !load.turns {
            return 0.0;
        }
        let share = self.solution.current(load.element).abs() / load.rated_a;
        match load.drives {
            // Torque goes with current and, for a fan, with speed squared.
            Some(_) => share.sqrt(),
            None => share,
        }
    }

    /// Power in a part's load, watts.
    pub fn power_w(&self, part: &str) -> f64 {
        let element = match self.wired.devices.get(part) {
            Some(
                Device::Motor { element } | Device::Lamp { element } | Device::Resistor { element },
            ) => *element,
            Some(Device::Clutch { coil, .. }) => *coil,
            _ => return 0.0,
        };
        let (a, b) = self.wired.network.ends(element);
        let watts = self.solution.current(element) * self.solution.difference(a, b).unwrap_or(0.0);
        let turns = self
            .loads
            .iter()
            .find(|l| l.part == part)
            .is_none_or(|l| l.turns || l.drives.is_none());
        if turns { watts } else { 0.0 }
    }

    fn strongest(&self, drives: Drives) -> f64 {
        self.loads
            .iter()
            .filter(|l| l.drives == Some(drives))
            .map(|l| self.working(l))
            .fold(0.0, f64::max)
    }

    /// One tick of 0.1 s.
    pub fn tick(&mut self) -> Result<(), SolveError> {
        self.ticks += 1;
        let mut moved = self.settle_intermittents();
        if moved {
            let vehicle = self.case.vehicle.clone();
            self.wired.refresh(&vehicle, &self.hw);
            self.reindex_faults();
            self.apply_slow(true);
        }
        let facts = self.facts();
        for unit in &mut self.units {
            moved |= unit.tick(&self.solution, facts);
        }
        if moved {
            self.apply_units();
        }
        self.turn_engine();
        self.hot_ticks = if self.engine.running() {
            self.hot_ticks.saturating_add(1)
        } else {
            self.hot_ticks.saturating_sub(1).min(2 * HOT_TICKS)
        };
        self.run_climate();
        self.apply_slow(false);
        self.heat_fuses();
        self.heat_drivers();
        self.drain_battery();
        // Most ticks change nothing that the network could tell.
        let same = self
            .solved_for
            .as_ref()
            .is_some_and(|(r, tools)| *r == self.wired.revision && *tools == self.tools);
        let drifts = self.ticks.is_multiple_of(DRIFT_TICKS) || !self.contacts.is_empty();
        if moved || drifts || !same {
            // Before the solve, so that one serves for all that drifted.
            self.apply_sensors();
            self.solve()?;
            self.let_devices_react();
        }
        Ok(())
    }

    /// What the loads do that the engine and the refrigerant loop depend on; the same until the
    /// network is solved again.
    fn drawn(&mut self) -> Drawn {
        if let Some(drawn) = self.drawn {
            return drawn;
        }
        let engine_power = self
            .loads
            .iter()
            .filter(|l| l.acts == Acts::Engine)
            .map(|l| self.working(l))
            .fold(f64::INFINITY, f64::min);
        let by_part = |part: &str| {
            self.loads
                .iter()
                .find(|l| l.part == part)
                .map_or(0.0, |l| self.working(l))
        };
        let (mut blower, mut fan, mut coil_a) = (0.0, 0.0, 0.0);
        if let Some(climate) = &self.climate {
            blower = by_part(&climate.blower);
            fan = climate.fans.iter().map(|f| by_part(f)).fold(0.0, f64::max);
            if let Some(Device::Clutch { coil, .. }) = self.wired.devices.get(&climate.clutch) {
                coil_a = self.solution.current(*coil).abs();
            }
        }
        let drawn = Drawn {
            cranking_speed: self.strongest(Drives::Starter),
            fuel: self.strongest(Drives::FuelPump),
            spark: if engine_power.is_finite() {
                engine_power
            } else {
                1.0
            },
            blower,
            fan,
            coil_a,
        };
        self.drawn = Some(drawn);
        drawn
    }

    fn turn_engine(&mut self) {
        let drawn = self.drawn();
        let inputs = EngineInputs {
            cranking_speed: drawn.cranking_speed,
            fuel: drawn.fuel,
            spark: drawn.spark,
            key_on: self.facts().key_on,
            idle_rpm: self.case.vehicle.idle_rpm,
            ambient_c: self.case.ambient_c,
        };
        if let Some(sound) = self.engine.tick(&inputs) {
            let place = self
                .loads
                .iter()
                .find(|l| l.drives == Some(Drives::Starter))
                .map_or(String::new(), |l| l.place.clone());
            self.events.push(Observation::Heard { sound, place });
        }
    }

    fn run_climate(&mut self) {
        let drawn = self.drawn();
        let Some(climate) = &mut self.climate else {
            return;
        };
        climate.tick(
            self.engine.rpm,
            drawn.blower,
            drawn.fan,
            drawn.coil_a,
            self.case.ambient_c,
            self.engine.running(),
        );
    }

    fn heat_fuses(&mut self) {
        let mut blew = Vec::new();
        for fuse in &mut self.fuses {
            let amps = self.solution.current(fuse.element).abs();
            // Microamperes warm no fuse.
            if amps < 1e-5 && fuse.heat.share_of_melting() < 1e-12 && !fuse.heat.blown() {
                continue;
            }
            let was = fuse.heat.blown();
            if fuse.model.step(&mut fuse.heat, amps) && !was {
                blew.push(fuse.part.clone());
            }
        }
        for part in blew {
            if let Some(slot) = self.hw.slots.get_mut(&*part) {
                if slot.spare {
                    slot.spare_blown = true;
                } else {
                    slot.original_blown = true;
                }
            }
            if let Some(Device::Fuse { element, .. }) = self.wired.devices.get(&*part) {
                self.wired.set(*element, Element::Open);
            }
        }
    }

    fn heat_drivers(&mut self) {
        if !self.drivers_busy {
            return;
        }
        self.drivers_busy = false;
        let mut died = Vec::new();
        for unit in &self.units {
            for (name, element, on) in &unit.outputs {
                let key = (unit.part.clone(), name.clone());
                if !*on && !self.driver_heat.contains_key(&key) {
                    continue;
                }
                let (a, b) = self.wired.network.ends(*element);
                let amps = self.solution.current(*element).abs();
                let volts = self.solution.difference(a, b).unwrap_or(0.0).abs();
                let spec = DriverSpec {
                    on_ohms: 1.0,
                    limit_a: unit.limit_a(name),
                    ..DriverSpec::default()
                };
                let heat = self.driver_heat.entry(key.clone()).or_default();
                let was = heat.damaged();
                if spec.step(heat, amps, volts) && !was {
                    died.push((key, *element));
                }
                self.drivers_busy |= !heat.cool();
            }
        }
        for (key, element) in died {
            self.wired.set(element, Element::Open);
            self.hw
                .dead_outputs
                .insert((key.0.to_string(), key.1.to_string()));
        }
    }

    fn drain_battery(&mut self) {
        if let Some((element, spec, ohms)) = self.battery {
            // Current is counted from the positive post through the source, so delivery is negative.
            let amps = -self.solution.current(element);
            self.battery_charge = spec.charge_after_tick(self.battery_charge, amps);
            // The alternator, its lead and the posts are worth about as much as the battery itself.
            let loop_ohms = 2.0 * ohms;
            self.battery_polarisation_v = spec.polarisation_in_circuit(
                self.battery_polarisation_v,
                self.battery_charge,
                amps,
                self.applied_polarisation_v,
                loop_ohms,
            );
        }
    }

    /// A new item in the slot: its heat starts cold.
    pub fn cold_fuse(&mut self, part: &str) {
        if let Some(fuse) = self.fuses.iter_mut().find(|f| &*f.part == part) {
            fuse.heat = FuseHeat::default();
        }
    }

    /// A new control unit has whole outputs.
    pub fn new_unit(&mut self, part: &str) {
        self.hw.dead_outputs.retain(|(p, _)| p != part);
        self.driver_heat.retain(|(p, _), _| &**p != part);
    }

    /// The network, for references and tests.
    pub fn network(&self) -> &Network {
        &self.wired.network
    }

    /// The largest current through a terminal of a part in its slot, or of a plug.
    pub fn carried(&self, of: &str) -> f64 {
        self.wired.carried(of, &self.solution)
    }

    /// What every coil with a current in it holds: its element, its current, its inductance and
    /// what is beside it to take the energy when it is cut.
    pub fn coils(&self) -> Vec<CoilCurrent> {
        let mut coils = Vec::new();
        for (part, device) in self.wired.devices.iter() {
            let (coil, forward) = match device {
                Device::Relay { coil, forward, .. } | Device::Clutch { coil, forward, .. } => {
                    (*coil, *forward)
                }
                _ => continue,
            };
            let amps = self.solution.current(coil).abs();
            let Element::Resistor { ohms } = *self.wired.network.element(coil) else {
                continue;
            };
            let henries = match &self.case.vehicle.parts[part].kind {
                Kind::Relay(_) => relay::COIL_TIME_S * ohms,
                _ => clutch::HENRIES,
            };
            let suppression = match *self.wired.network.element(forward) {
                Element::Diode { .. } => Suppression::Diode,
                Element::Resistor { ohms } => Suppression::Resistor { ohms },
                _ => Suppression::None,
            };
            coils.push(CoilCurrent {
                coil,
                amps,
                henries,
                suppression,
            });
        }
        coils
    }

    /// The largest spark of the coils whose current was cut since `before`.
    pub fn release_spark(&self, before: &[CoilCurrent]) -> SparkSize {
        let supply_v = self
            .solution
            .voltage(self.wired.battery_positive)
            .unwrap_or(0.0);
        before
            .iter()
            // A coil that goes on drawing was not cut.
            .filter(|c| self.solution.current(c.coil).abs() < 0.1 * c.amps)
            .map(|c| spark::release(c.henries, c.amps, supply_v, c.suppression).spark)
            .max()
            .unwrap_or(SparkSize::None)
    }
}

/// Fractions of rated working, and the clutch coil's current.
#[derive(Clone, Copy, Debug)]
struct Drawn {
    cranking_speed: f64,
    fuel: f64,
    spark: f64,
    blower: f64,
    fan: f64,
    coil_a: f64,
}

/// A coil with the current in it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CoilCurrent {
    coil: ElementId,
    amps: f64,
    henries: f64,
    suppression: Suppression,
}

/// Whether a part is open inside, and what resistance has been added in it, ohms.
fn inside(hw: &Hardware, part: &str) -> (bool, f64) {
    let (mut open, mut extra) = (false, 0.0);
    for wrong in hw.acting_in_part(part) {
        match wrong {
            Wrong::Open => open = true,
            Wrong::Resistance(ohms) => extra += ohms,
            _ => {}
        }
    }
    (open, extra)
}

/// What the regulator holds: less the warmer it is, 7 mV for each kelvin (common practice, no
/// source), within what a battery takes.
fn regulated_v(setpoint_25c_v: f64, ambient_c: f64) -> f64 {
    let change = alternator::SET_POINT_V_PER_K * (ambient_c - 25.0);
    (setpoint_25c_v + change).clamp(13.0, 15.5)
}
