//! A control unit running: typed behaviours, tick by tick, on the voltages at its pins.
//!
//! Knows nodes and volts, not wires, tools or faults: whatever happens to its pins, it decides by
//! what it measures, as a real one does.

use std::sync::Arc;

use crate::circuit::{Element, ElementId, NodeId, Solution};
use crate::vehicle::unit_file::{Analogue, Asserted, ControlUnit, Rule, Temperature};
use crate::vehicle::wiring::UnitDevice;

/// Ticks of 0.1 s in a second.
pub(crate) const TICKS_PER_S: f64 = 10.0;

/// Facts that reach a unit over the car's data lines or its own clock.
#[derive(Copy, Clone, Debug)]
pub(crate) struct Facts {
    pub engine_running: bool,
    pub engine_turning: bool,
    pub key_on: bool,
    pub ambient_c: f64,
    pub coolant_c: f64,
}

/// Memory of one rule.
#[derive(Clone, Debug, Default, PartialEq)]
struct RuleState {
    on: bool,
    /// Ticks its conditions have held.
    held: u32,
    /// Ticks since it was last on; starts high so that the first start has no restart delay.
    resting: u32,
    /// Ticks it has been on, or since power-up for priming.
    running: u32,
    /// Refuses until the key is turned off.
    latched: bool,
    /// Ticks an implausible signal has lasted.
    implausible: u32,
    /// Ticks its conditions have been gone while it is still on.
    releasing: u32,
}

/// What a rule learns from the pins: the same until the network is solved anew.
#[derive(Clone, Copy, Debug)]
struct Sensed {
    /// Its request inputs are as they must be.
    asserted: bool,
    /// Gauge kilopascals; `None` when implausible or not asked for.
    pressure_kpa: Option<f64>,
    /// No temperature forbids it.
    temperatures_allow: bool,
}

/// One control unit.
#[derive(Clone, Debug)]
pub(crate) struct Unit {
    pub part: Arc<str>,
    data: Arc<ControlUnit>,
    device: Arc<UnitDevice>,
    powered: bool,
    rules: Vec<RuleState>,
    /// Output names in file order, their elements, and whether they are commanded on.
    pub outputs: Vec<(Arc<str>, ElementId, bool)>,
    supply_v: f64,
    /// By rule; empty after [`Unit::measure_anew`].
    sensed: Vec<Sensed>,
}

/// Ticks a signal must be wrong before a unit believes it is wrong.
const BELIEVE_TICKS: u32 = 20;

impl Unit {
    pub fn new(part: &str, data: &ControlUnit, device: &UnitDevice) -> Unit {
        let outputs = device
            .outputs
            .iter()
            .map(|(n, e)| (Arc::from(n.as_str()), *e, false))
            .collect();
        let fresh = RuleState {
            resting: u32::MAX / 2,
            ..RuleState::default()
        };
        Unit {
            part: Arc::from(part),
            rules: vec![fresh; data.rules.len()],
            data: Arc::new(data.clone()),
            device: Arc::new(device.clone()),
            powered: false,
            outputs,
            supply_v: 0.0,
            sensed: Vec::new(),
        }
    }

    /// Takes over the memory of a unit whose network was rebuilt.
    pub fn keep_memory(&mut self, old: &Unit) {
        self.powered = old.powered;
        self.rules.clone_from(&old.rules);
        for (new, old) in self.outputs.iter_mut().zip(&old.outputs) {
            new.2 = old.2;
        }
    }

    /// The network was solved anew: what the pins show may have changed.
    pub fn measure_anew(&mut self) {
        self.sensed.clear();
    }

    fn measure(&mut self, solution: &Solution) {
        if !self.sensed.is_empty() {
            return;
        }
        self.supply_v = self.volts(solution, self.device.supply);
        let mut sensed = std::mem::take(&mut self.sensed);
        let rules = self.data.rules.iter();
        sensed.extend(rules.map(|rule| self.sense(rule, solution)));
        self.sensed = sensed;
    }

    fn sense(&self, rule: &Rule, solution: &Solution) -> Sensed {
        let mut sensed = Sensed {
            asserted: true,
            pressure_kpa: None,
            temperatures_allow: true,
        };
        match rule {
            Rule::Clutch(c) => {
                let least = |t: &Option<Temperature>| {
                    t.as_ref().is_none_or(|t| {
                        self.temperature(solution, t)
                            .is_some_and(|c| c >= t.limit_c)
                    })
                };
                let too_hot =
                    |t: &Temperature| self.temperature(solution, t).is_some_and(|c| c > t.limit_c);
                sensed.asserted = self.asserted(solution, &c.when);
                sensed.pressure_kpa = c
                    .pressure
                    .as_ref()
                    .and_then(|signal| self.pressure(solution, signal));
                sensed.temperatures_allow = least(&c.evaporator)
                    && least(&c.ambient)
                    && !c.coolant.as_ref().is_some_and(too_hot);
            }
            Rule::Follow { when, .. } => sensed.asserted = self.asserted(solution, when),
            Rule::Fan { pressure, .. } => {
                sensed.pressure_kpa = pressure
                    .as_ref()
                    .and_then(|signal| self.pressure(solution, signal));
            }
            Rule::FuelPump { .. } | Rule::Glow { .. } => {}
        }
        sensed
    }

    /// What its reference is at the moment.
    pub fn reference(&self) -> Option<(ElementId, Element)> {
        let element = self.device.reference?;
        let value =
            crate::vehicle::wiring::reference_source(self.data.reference.as_ref(), self.powered);
        Some((element, value))
    }

    /// The element of an output when it is on.
    pub fn output_on(&self, name: &str) -> Element {
        let output = &self.data.outputs[name];
        Element::Limiter {
            on_ohms: output.on_ohms,
            limit_a: output.limit_a,
        }
    }

    /// Current limit of an output, amperes.
    pub fn limit_a(&self, name: &str) -> f64 {
        self.data.outputs[name].limit_a
    }

    fn volts(&self, solution: &Solution, node: NodeId) -> f64 {
        solution.difference(node, self.device.ground).unwrap_or(0.0)
    }

    fn input(&self, solution: &Solution, name: &str) -> f64 {
        self.device
            .inputs
            .get(name)
            .map_or(0.0, |n| self.volts(solution, *n))
    }

    fn asserted(&self, solution: &Solution, when: &[Asserted]) -> bool {
        when.iter().all(|a| {
            let v = self.input(solution, &a.input);
            if a.below { v < a.volts } else { v > a.volts }
        })
    }

    /// Pressure an analogue input says, gauge kilopascals; `None` when implausible.
    fn pressure(&self, solution: &Solution, a: &Analogue) -> Option<f64> {
        let v = self.input(solution, &a.input);
        (v >= a.plausible_from_v && v <= a.plausible_to_v)
            .then(|| a.low_kpa + (v - a.low_v) / (a.high_v - a.low_v) * (a.high_kpa - a.low_kpa))
    }

    /// Temperature a thermistor input says, °C; `None` when implausible.
    fn temperature(&self, solution: &Solution, t: &Temperature) -> Option<f64> {
        let pull_up = match self.data.inputs.get(&t.input)?.bias {
            crate::vehicle::unit_file::Bias::PullUp5(ohms) => ohms,
            _ => return None,
        };
        let v = self.input(solution, &t.input);
        if !(0.1..=4.9).contains(&v) {
            return None;
        }
        let ohms = pull_up * v / (5.0 - v);
        Some(
            crate::elements::transducer::Thermistor {
                ohms_25c: t.ohms_25c,
                beta_k: t.beta_k,
            }
            .celsius(ohms),
        )
    }

    /// One tick. Returns whether anything it drives changed.
    pub fn tick(&mut self, solution: &Solution, facts: Facts) -> bool {
        self.measure(solution);
        let supply_v = self.supply_v;
        // Once awake it rides through a dip, as the start pulls the battery down.
        let works_above = self.data.works_above_v - if self.powered { 0.5 } else { 0.0 };
        let powered = supply_v >= works_above;
        let woke = powered && !self.powered;
        let mut changed = powered != self.powered;
        self.powered = powered;
        if woke {
            let fresh = RuleState {
                resting: u32::MAX / 2,
                ..RuleState::default()
            };
            let latched: Vec<bool> = self.rules.iter().map(|r| r.latched).collect();
            self.rules = vec![fresh; self.rules.len()];
            for (rule, latched) in self.rules.iter_mut().zip(latched) {
                rule.latched = latched;
            }
        }
        // One bit an output, since this runs in every tick.
        let mut wanted = 0u64;
        for i in 0..self.data.rules.len() {
            let mut state = std::mem::take(&mut self.rules[i]);
            let rule = &self.data.rules[i];
            let output = if powered {
                self.run(rule, &mut state, self.sensed[i], facts)
            } else {
                state.on = false;
                state.held = 0;
                output_of(rule)
            };
            if !facts.key_on {
                state.latched = false;
            }
            if let Some(at) = self.outputs.iter().position(|(n, ..)| &**n == output) {
                wanted |= u64::from(state.on && powered) << (at % 64);
            }
            self.rules[i] = state;
        }
        for (at, output) in self.outputs.iter_mut().enumerate() {
            let want = wanted >> (at % 64) & 1 == 1;
            changed |= output.2 != want;
            output.2 = want;
        }
        changed
    }

    fn run<'r>(
        &self,
        rule: &'r Rule,
        state: &mut RuleState,
        sensed: Sensed,
        facts: Facts,
    ) -> &'r str {
        let ticks = |seconds: f64| (seconds * TICKS_PER_S) as u32;
        match rule {
            Rule::Clutch(c) => {
                let mut ok = facts.engine_running
                    && self.supply_v >= c.low_supply_v
                    && sensed.asserted
                    && sensed.temperatures_allow;
                if c.pressure.is_some() {
                    match sensed.pressure_kpa {
                        Some(kpa) => {
                            state.implausible = 0;
                            ok &= kpa >= c.low_cut_kpa && kpa <= c.high_cut_kpa;
                        }
                        None => {
                            state.implausible = state.implausible.saturating_add(1);
                            ok = false;
                            if c.latches
                                && facts.engine_running
                                && state.implausible >= BELIEVE_TICKS
                            {
                                state.latched = true;
                            }
                        }
                    }
                }
                ok &= !state.latched;
                switch(state, ok, ticks(c.delay_s), ticks(c.restart_delay_s), 0);
                &c.output
            }
            Rule::Follow {
                output,
                when: _,
                engine_running,
                on_delay_s,
                off_delay_s,
                at_most_s,
            } => {
                let mut ok = sensed.asserted && (facts.engine_running || !engine_running);
                if let Some(most) = at_most_s {
                    if !ok {
                        state.running = 0;
                    } else if state.running >= ticks(*most) {
                        ok = false;
                        state.running = state.running.saturating_add(1);
                    }
                }
                switch(state, ok, ticks(*on_delay_s), 0, ticks(*off_delay_s));
                output
            }
            Rule::FuelPump { output, prime_s } => {
                let priming = state.running < ticks(*prime_s);
                state.running = state.running.saturating_add(1);
                state.on = facts.engine_turning || priming;
                output
            }
            Rule::Fan {
                output,
                with_output,
                pressure: _,
                on_kpa,
                off_kpa,
                on_coolant_c,
            } => {
                let with = with_output
                    .as_ref()
                    .is_some_and(|n| self.outputs.iter().any(|(o, _, on)| **o == **n && *on));
                let by_pressure = sensed
                    .pressure_kpa
                    .is_some_and(|kpa| kpa >= if state.on { *off_kpa } else { *on_kpa });
                // Three kelvin of hysteresis keep the fan from hunting.
                let by_coolant = facts.engine_running
                    && facts.coolant_c >= on_coolant_c - if state.on { 3.0 } else { 0.0 };
                state.on = with || by_pressure || by_coolant;
                output
            }
            Rule::Glow {
                output,
                seconds_at_0c,
            } => {
                let seconds = seconds_at_0c * (1.0 - facts.ambient_c / 40.0).clamp(0.0, 1.5);
                state.on = state.running < ticks(seconds) && facts.key_on;
                state.running = state.running.saturating_add(1);
                output
            }
        }
    }
}

fn output_of(rule: &Rule) -> &str {
    match rule {
        Rule::Clutch(c) => &c.output,
        Rule::Follow { output, .. }
        | Rule::FuelPump { output, .. }
        | Rule::Fan { output, .. }
        | Rule::Glow { output, .. } => output,
    }
}

/// Switches on after `ok` has held for `on_delay` and it has rested for `restart`; off at once or
/// after `off_delay`.
fn switch(state: &mut RuleState, ok: bool, on_delay: u32, restart: u32, off_delay: u32) {
    if ok {
        state.held = state.held.saturating_add(1);
        if !state.on {
            state.resting = state.resting.saturating_add(1);
            if state.held > on_delay && state.resting >= restart {
                state.on = true;
                state.running = 0;
            }
        }
        if state.on {
            state.running = state.running.saturating_add(1);
            state.releasing = 0;
        }
    } else {
        state.held = 0;
        if state.on {
            state.releasing = state.releasing.saturating_add(1);
            if state.releasing > off_delay {
                state.on = false;
                state.resting = 0;
                state.releasing = 0;
            }
        } else {
            state.resting = state.resting.saturating_add(1);
        }
    }
}
