//! The car in motion: its network, what changes with time, and one tick of 0.1 s.
//!
//! Knows nothing of the learner: no tools in the roll, no stations, no minutes, no log. Tools reach
//! it as attachments to its network.

mod coils;
mod follow;
mod index;
mod wear;
mod wet;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::climate::Climate;
use super::engine::{Engine, EngineInputs};
use super::observation::{Observation, Sound};
use super::unit::{Facts, Unit};
use crate::circuit::{
    Attachment, Element, ElementId, MOTOR_STANDS_V, Network, Solution, SolveError, Solver, State,
    Tried,
};
use crate::elements::Bounds;
use crate::elements::battery::BatterySpec;
use crate::elements::driver::DriverHeat;
use crate::elements::lamp::light_at;
use crate::fault::Wrong;
use crate::scenario::Case;
use crate::vehicle::hardware::{FaultState, Hardware, SlotState};
use crate::vehicle::wiring::Device;
use crate::vehicle::{Acts, Drives, Kind, Role, Wired};

pub(crate) use index::Load;
pub use wet::in_the_weather;

use follow::DRIFT_TICKS;
use index::{FuseInSlot, Ntc, PressureContact, Sensor};

/// Ticks of running after which the bay counts as hot.
const HOT_TICKS: u32 = 2_400;

/// Volts that lamps are made for.
const NOMINAL_V: f64 = 12.0;

/// The car in motion.
#[derive(Clone)]
pub(crate) struct Car {
    pub case: Arc<Case>,
    /// Shared with copies of the car until one of them is worked on.
    pub hw: Arc<Hardware>,
    pub wired: Wired,
    /// Shared with copies of the car until one of them solves: most copies only look.
    solver: Arc<Solver>,
    /// For questions that change nothing: its answers do not depend on what was asked before.
    asker: Arc<Solver>,
    /// The asker as it was before any question: another car of this wiring begins with it.
    blank: Arc<Solver>,
    state: State,
    pub solution: Arc<Solution>,
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
    /// Places that are wet, by share of a soaking.
    wet: BTreeMap<String, f64>,
    /// It rains on the car at this moment: what is wet does not dry.
    raining: bool,
    relay_of: Arc<BTreeMap<ElementId, String>>,
    key: String,
    pub events: Vec<Observation>,
    buzzing: bool,
}

impl Car {
    /// The car as the customer left it. What does not depend on the fault may be taken from another
    /// car of the same vehicle; it comes out the same to the last bit.
    pub fn new(case: Arc<Case>, like: Option<&Car>) -> Result<Car, SolveError> {
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
            let away = fault.comes_and_goes();
            hw.faults.push(FaultState {
                fault: fault.clone(),
                mended: false,
                away,
                wet_steps: 0,
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
        let blank = match like {
            Some(like) if like.blank.serves(&wired.network) => like.blank.clone(),
            _ => Arc::new(Solver::new(&wired.network)),
        };
        let mut solver = Solver::clone(&blank).following();
        let mut state = State::rest(&wired.network);
        let solution = Arc::new(solver.solve(&wired.network, &[], &mut state)?);
        let mut car = Car {
            climate: Climate::new(&case),
            engine: Engine::new(case.ambient_c),
            case: case.clone(),
            hw: Arc::new(hw),
            solver: Arc::new(solver),
            asker: blank.clone(),
            blank,
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
            wet: BTreeMap::new(),
            raining: false,
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

    /// After a tool was put on, moved or taken off: the car itself is as it was, and reacts at once.
    pub fn tools_changed(&mut self) -> Result<(), SolveError> {
        self.solve()?;
        self.let_devices_react();
        Ok(())
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
        let solver = Arc::make_mut(&mut self.solver);
        match solver.solve(&self.wired.network, &self.tools, &mut self.state) {
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
                self.solution = Arc::new(solution);
                self.units.iter_mut().for_each(Unit::measure_anew);
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
                self.solution = Arc::new(self.without(&names)?);
                self.units.iter_mut().for_each(Unit::measure_anew);
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
        let solver = Arc::make_mut(&mut self.solver);
        match solver.solve(&held, &self.tools, &mut self.state) {
            // Others began to flutter for it: one moment, with all contacts where they are.
            Err(SolveError::Unsettled { .. }) => {
                solver.solve_held(&self.wired.network, &self.tools, &self.state)
            }
            found => found,
        }
    }

    /// What the network would show with these attachments instead, without changing the car.
    pub fn peek(&mut self, tools: &[Attachment]) -> Option<Arc<Solution>> {
        let mut state = self.state.clone();
        Arc::make_mut(&mut self.asker)
            .solve(&self.wired.network, tools, &mut state)
            .ok()
            .map(Arc::new)
    }

    /// What the network would come to if these tools were put on now. Sooner than [`Car::peek`], since it goes
    /// on from where the car is, to last bits that depend on the way here.
    pub fn foresee(&mut self, tools: &[Attachment]) -> Option<Arc<Solution>> {
        let mut state = self.state.clone();
        let mut solver = Solver::clone(&self.solver);
        let found = solver.solve(&self.wired.network, tools, &mut state);
        found.ok().map(Arc::new)
    }

    /// What one tool alone would show, where that can be told without looking at the whole network.
    pub fn try_on(&self, tool: &Attachment) -> Option<Tried> {
        self.solver.try_on(&self.wired.network, tool, &self.state)
    }

    /// What hands and damage have done, to be changed.
    pub fn hw_mut(&mut self) -> &mut Hardware {
        Arc::make_mut(&mut self.hw)
    }

    /// A relay flutters: nothing comes to rest.
    pub fn is_buzzing(&self) -> bool {
        self.buzzing
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

    /// Fraction of its rated working current a load gets, 0 and up.
    pub fn working(&self, load: &Load) -> f64 {
        if load.drives.is_some() && !load.turns {
            return 0.0;
        }
        let amps = self.solution.current(load.element).abs();
        match (load.drives, self.wired.network.element(load.element)) {
            // What friction leaves of the torque goes with speed squared.
            (Some(_), Element::FanMotor { ohms, .. }) => {
                let friction_a = MOTOR_STANDS_V / ohms;
                let moving = (amps - friction_a) / (load.rated_a - friction_a);
                if moving > 0.0 { moving.sqrt() } else { 0.0 }
            }
            (Some(_), _) => (amps / load.rated_a).sqrt(),
            (None, _) => amps / load.rated_a,
        }
    }

    /// Light of a lamp against what it would give straight on the battery, or on 12 V if the battery
    /// gives less.
    pub fn lamp_light(&self, load: &Load) -> f64 {
        let (a, b) = self.wired.network.ends(load.element);
        let volts = self.solution.difference(a, b).unwrap_or(0.0);
        let supply = self.solution.voltage(self.wired.battery_positive);
        light_at(volts, supply.unwrap_or(0.0).at_least(NOMINAL_V))
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
        self.dry();
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

    /// The network, for references and tests.
    pub fn network(&self) -> &Network {
        &self.wired.network
    }

    /// The largest current through a terminal of a part in its slot, or of a plug.
    pub fn carried(&self, of: &str) -> f64 {
        self.wired.carried(of, &self.solution)
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
