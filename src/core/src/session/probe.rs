//! Tools on the car: leads put, lifted and touched, and what the tools then show.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Session;
use super::car::Car;
use super::observation::{MeterDisplay, Observation};
use super::refusal::Refusal;
use crate::circuit::{Attachment, NodeId, Solution};
use crate::elements::fuse::FuseHeat;
use crate::elements::meter::{Function, ohms_source_ohms};
use crate::elements::spark::SparkSize;
use crate::tools::reading::{self, Measured};
use crate::tools::{Dial, Glow, Lead, ToolKind};

/// Ticks a touch lasts: half a second.
const TOUCH_TICKS: u32 = 5;
/// Ticks each cavity of a sweep is touched.
const SWEEP_TICKS: u32 = 3;
/// Current that makes a visible spark when it is made or broken, and a strong one, amperes
/// (common practice, no source).
const SPARK_A: f64 = 2.0;
const STRONG_SPARK_A: f64 = 20.0;

/// Volts at which no filament of a test light glows: a hundredth of the light takes some 3 V.
const DARK_V: f64 = 0.5;

/// One tool on the car.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct ToolState {
    /// Where its leads are.
    pub leads: BTreeMap<Lead, String>,
    /// Its fuse has blown.
    pub blown: bool,
    /// Its bulb is dead.
    pub dead: bool,
    pub heat: FuseHeat,
}

/// A question to the car: what it would come to with some tools on.
type Ask = fn(&mut Car, &[Attachment]) -> Option<Arc<Solution>>;

/// A tool with both leads on.
struct Joined {
    tool: ToolKind,
    first: NodeId,
    second: NodeId,
    at: String,
    /// Index of its first attachment.
    index: usize,
}

/// The spark where a current was made or broken: of the current itself, and of what the coils in
/// the circuit held.
pub(super) fn sparks(amps: f64, released: SparkSize, point: &str) -> Vec<Observation> {
    if amps < SPARK_A && released == SparkSize::None {
        return Vec::new();
    }
    vec![Observation::Spark {
        point: point.to_owned(),
        strong: amps >= STRONG_SPARK_A || released == SparkSize::Large,
    }]
}

impl Session {
    fn nodes(&self, tool: ToolKind, state: &ToolState) -> Option<(NodeId, NodeId, String)> {
        let [first, second] = tool.leads() else {
            return None;
        };
        let (a, b) = (state.leads.get(first)?, state.leads.get(second)?);
        let node = |point: &str| {
            self.points
                .find(point)
                .ok()
                .map(|i| self.points.node(i, &self.car.wired))
        };
        Some((node(a)?, node(b)?, b.clone()))
    }

    /// Attachments of all tools that have both leads on, and which is whose.
    fn join(&self, ohms_series: f64) -> (Vec<Attachment>, Vec<Joined>) {
        let (mut all, mut joined) = (Vec::new(), Vec::new());
        for (tool, state) in &self.tools {
            let Some((first, second, at)) = self.nodes(*tool, state) else {
                continue;
            };
            joined.push(Joined {
                tool: *tool,
                first,
                second,
                at,
                index: all.len(),
            });
            if !state.dead {
                all.extend(reading::attachments(
                    *tool,
                    self.dial,
                    state.blown,
                    first,
                    second,
                    ohms_series,
                ));
            }
        }
        (all, joined)
    }

    /// Puts the tools' elements into the car after leads or the dial moved.
    pub(crate) fn rejoin(&mut self) -> Result<(), Refusal> {
        // With the ohms source off the meter is nowhere: its readings are made with `peek`.
        let (all, _) = self.join(1e5);
        self.car.tools = if self.dial == Dial::Ohms {
            self.without_meter()
        } else {
            all
        };
        self.car.tools_changed().map_err(Refusal::from)
    }

    fn without_meter(&self) -> Vec<Attachment> {
        let mut all = Vec::new();
        for (tool, state) in &self.tools {
            if *tool == ToolKind::Meter || state.dead {
                continue;
            }
            if let Some((first, second, _)) = self.nodes(*tool, state) {
                all.extend(reading::attachments(
                    *tool,
                    self.dial,
                    state.blown,
                    first,
                    second,
                    0.0,
                ));
            }
        }
        all
    }

    /// Lets the car react at once to what hands did.
    pub(crate) fn settle(&mut self) -> Result<(), Refusal> {
        self.car.hands_changed().map_err(Refusal::from)
    }

    /// What the tools with both leads on show now.
    pub(crate) fn readings(&mut self) -> Vec<Observation> {
        let (_, joined) = self.join(0.0);
        let mut shown = Vec::new();
        let mut index = 0;
        for j in &joined {
            let state = &self.tools[&j.tool];
            let count =
                reading::attachments(j.tool, self.dial, state.blown, j.first, j.second, 1.0).len();
            match j.tool {
                ToolKind::TestLight if state.dead => {
                    let (glow, percent) = (Glow::Dark, 0);
                    shown.push(Observation::Light {
                        tool: j.tool,
                        point: j.at.clone(),
                        glow,
                        percent,
                    });
                    continue;
                }
                ToolKind::TestLight | ToolKind::LedLight => {
                    let (glow, percent) =
                        reading::glow(j.tool, &self.car.solution, index, j.first, j.second);
                    shown.push(Observation::Light {
                        tool: j.tool,
                        point: j.at.clone(),
                        glow,
                        percent,
                    });
                }
                ToolKind::Meter => {
                    let display = self.meter_display(j, index, Car::peek);
                    shown.push(Observation::Meter {
                        point: j.at.clone(),
                        display,
                    });
                }
                _ => {}
            }
            if !(j.tool == ToolKind::Meter && self.dial == Dial::Ohms) {
                index += count;
            }
        }
        if self.gauge_on
            && let Some(climate) = &self.car.climate
        {
            let kpa = libm::round(climate.gauge_kpa(crate::vehicle::LoopSide::Low) / 5.0) * 5.0;
            shown.push(Observation::Gauge { kpa });
        }
        shown
    }

    fn display(&self, function: Function, value: f64) -> MeterDisplay {
        let dial = self.dial;
        match reading::number(function.display_auto(value, self.instrument())) {
            Some((value, decimals)) => MeterDisplay::Value {
                dial,
                value,
                decimals,
            },
            None => MeterDisplay::OverRange { dial },
        }
    }

    fn meter_display(&mut self, j: &Joined, index: usize, ask: Ask) -> MeterDisplay {
        let dial = self.dial;
        let Some(function) = reading::function(dial) else {
            return MeterDisplay::Blank;
        };
        let instrument = self.instrument();
        if dial == Dial::Amps && self.tools[&j.tool].blown {
            return MeterDisplay::Blank;
        }
        if dial != Dial::Ohms {
            return match reading::measure(dial, &self.car.solution, index, j.second, j.first, 0.0) {
                Measured::Value(v) => self.display(function, v),
                Measured::Open | Measured::Foreign(_) => MeterDisplay::OverRange { dial },
            };
        }
        let others = self.without_meter();
        let mut with = others.clone();
        with.push(reading::ohms_load(j.first, j.second));
        let foreign = ask(&mut self.car, &with)
            .and_then(|s| s.difference(j.second, j.first))
            .unwrap_or(0.0);
        let mut last = MeterDisplay::OverRange { dial };
        for range in function.ranges() {
            let mut with = others.clone();
            let index = with.len();
            with.extend(reading::attachments(
                ToolKind::Meter,
                Dial::Ohms,
                false,
                j.first,
                j.second,
                ohms_source_ohms(range),
            ));
            let Some(solution) = ask(&mut self.car, &with) else {
                continue;
            };
            match reading::measure(dial, &solution, index, j.second, j.first, foreign) {
                Measured::Foreign(value) => {
                    return MeterDisplay::Nonsense {
                        value: libm::round(value.min(9.9e6)),
                    };
                }
                Measured::Open => {}
                Measured::Value(ohms) => {
                    if let Some((value, decimals)) =
                        reading::number(range.display(ohms, instrument))
                    {
                        last = MeterDisplay::Value {
                            dial,
                            value,
                            decimals,
                        };
                        break;
                    }
                }
            }
        }
        last
    }

    fn current_through(&self, tool: ToolKind) -> f64 {
        let conducts = self.tools.get(&tool).is_some_and(|s| {
            let blown = s.blown && reading::inline_fuse(tool, self.dial).is_some();
            let asks_ohms = tool == ToolKind::Meter && self.dial == Dial::Ohms;
            !(s.dead || blown || asks_ohms)
        });
        if !conducts {
            return 0.0;
        }
        let (_, joined) = self.join(0.0);
        joined
            .iter()
            .find(|j| j.tool == tool)
            .map_or(0.0, |j| self.car.solution.tool_current(j.index).abs())
    }

    /// Puts a new bulb or fuse into a tool.
    pub(crate) fn renew(&mut self, tool: ToolKind) -> Result<(), Refusal> {
        let state = self.tools.entry(tool).or_default();
        state.blown = false;
        state.dead = false;
        state.heat = FuseHeat::default();
        self.rejoin()
    }

    /// Puts a lead on a point. The caller has checked that it can.
    pub(crate) fn put(
        &mut self,
        tool: ToolKind,
        lead: Lead,
        point: &str,
    ) -> Result<Vec<Observation>, Refusal> {
        let state = self.tools.entry(tool).or_default();
        state.leads.insert(lead, point.to_owned());
        self.rejoin()?;
        let mut seen = sparks(self.current_through(tool), SparkSize::None, point);
        seen.append(&mut self.car.events);
        Ok(seen)
    }

    /// Takes a lead off.
    pub(crate) fn lift(&mut self, tool: ToolKind, lead: Lead) -> Result<Vec<Observation>, Refusal> {
        let amps = self.current_through(tool);
        let coils = self.car.coils();
        let point = self
            .tools
            .get_mut(&tool)
            .and_then(|s| s.leads.remove(&lead))
            .unwrap_or_default();
        self.rejoin()?;
        let mut seen = Vec::new();
        // Only a tool that carried the current breaks it.
        let released = if amps > 0.0 {
            self.car.release_spark(&coils)
        } else {
            SparkSize::None
        };
        if !point.is_empty() {
            seen = sparks(amps, released, &point);
        }
        seen.append(&mut self.car.events);
        Ok(seen)
    }

    /// The lead of a tool that a hand moves from point to point.
    pub(crate) fn free_lead(&self, tool: ToolKind) -> Result<Lead, Refusal> {
        let [first, second] = tool.leads() else {
            return Err(Refusal::WrongUse { tool });
        };
        let leads = self.tools.get(&tool).map(|s| &s.leads);
        match (
            leads.is_some_and(|l| l.contains_key(first)),
            leads.is_some_and(|l| l.contains_key(second)),
        ) {
            (true, _) => Ok(*second),
            (false, true) => Ok(*first),
            (false, false) => Err(Refusal::LeadFree { tool }),
        }
    }

    /// Touches a point for some ticks, reads and lets go.
    fn touch_for(
        &mut self,
        tool: ToolKind,
        point: &str,
        ticks: u32,
    ) -> Result<Vec<Observation>, Refusal> {
        let lead = self.free_lead(tool)?;
        let held = self
            .tools
            .get(&tool)
            .and_then(|s| s.leads.get(&lead).cloned());
        let mut seen = self.put(tool, lead, point)?;
        seen.extend(self.run(ticks)?);
        seen.extend(self.readings().into_iter().filter(|o| match o {
            Observation::Light { tool: t, .. } => *t == tool,
            Observation::Meter { .. } => tool == ToolKind::Meter,
            _ => false,
        }));
        seen.extend(match held {
            // A probe that was parked goes back to where it was parked.
            Some(parked) => self.put(tool, lead, &parked)?,
            None => self.lift(tool, lead)?,
        });
        seen.dedup();
        Ok(seen)
    }

    /// Touches a point, reads and lets go.
    pub(crate) fn touch(
        &mut self,
        tool: ToolKind,
        point: &str,
    ) -> Result<Vec<Observation>, Refusal> {
        self.touch_for(tool, point, TOUCH_TICKS)
    }

    /// Touches all cavities of a socket one after the other.
    pub(crate) fn sweep(
        &mut self,
        tool: ToolKind,
        socket: &str,
    ) -> Result<Vec<Observation>, Refusal> {
        let cavities: Vec<String> = self
            .points
            .infos
            .iter()
            .filter(|p| p.part == socket && p.kind == super::PointKind::Cavity)
            .map(|p| p.id.clone())
            .collect();
        let mut seen = Vec::new();
        for cavity in cavities {
            seen.extend(self.touch_for(tool, &cavity, SWEEP_TICKS)?);
        }
        Ok(seen)
    }

    /// Lets the car run for some ticks; what is perceived in passing comes back.
    pub(crate) fn run(&mut self, ticks: u32) -> Result<Vec<Observation>, Refusal> {
        for _ in 0..ticks {
            self.car.tick().map_err(Refusal::from)?;
            self.heat_tools()?;
        }
        Ok(std::mem::take(&mut self.car.events))
    }

    /// Heats the fuses inside tools that carry current.
    fn heat_tools(&mut self) -> Result<(), Refusal> {
        let mut blew = Vec::new();
        let fused: Vec<(ToolKind, bool)> = self
            .tools
            .iter()
            .filter(|(t, s)| !s.blown && reading::inline_fuse(**t, self.dial).is_some())
            .map(|(t, s)| (*t, s.leads.len() == 2))
            .collect();
        for (tool, joined) in fused {
            // Off the car it cools.
            let amps = if joined {
                self.current_through(tool)
            } else {
                0.0
            };
            let fuse = reading::inline_fuse(tool, self.dial);
            if let (Some(state), Some(fuse)) = (self.tools.get_mut(&tool), fuse)
                && fuse.step(&mut state.heat, amps)
            {
                state.blown = true;
                blew.push(tool);
            }
        }
        if !blew.is_empty() {
            self.rejoin()?;
            self.car.events.extend(
                blew.into_iter()
                    .map(|tool| Observation::ToolFuseBlew { tool }),
            );
        }
        Ok(())
    }

    /// What a light or the volts show where hardly anything lies between the two points before the tool is
    /// put on; none where it must be worked out. What is put on only ever takes: no more lies across it
    /// then, and nothing of the other sign, so that a tool that would show the same for all from nothing to
    /// what lies there shows just that.
    fn shows_nothing(&self, j: &Joined, point: &str) -> Option<Observation> {
        if self.car.is_buzzing() {
            return None;
        }
        let volts = self.car.solution.difference(j.second, j.first)?;
        let point = point.to_owned();
        match (j.tool, self.dial) {
            (ToolKind::TestLight, _) if volts.abs() < DARK_V => Some(Observation::Light {
                tool: j.tool,
                point,
                glow: Glow::Dark,
                percent: 0,
            }),
            (ToolKind::Meter, Dial::Volts) => {
                let function = reading::function(self.dial)?;
                let show = |volts| function.display_auto(volts, self.instrument());
                let (shown, nothing) = (show(volts), show(0.0));
                let (value, decimals) = reading::number(shown)?;
                (reading::number(nothing)? == (value, decimals)).then_some(Observation::Meter {
                    point,
                    display: MeterDisplay::Value {
                        dial: self.dial,
                        value,
                        decimals,
                    },
                })
            }
            _ => None,
        }
    }

    /// What a light or the volts show that are the only tool on the car, where that can be told without
    /// working out what the rest of the car does.
    fn shows_alone(&mut self, j: &Joined, all: &[Attachment], point: &str) -> Option<Observation> {
        let [only] = all else { return None };
        let function = match (j.tool, self.dial) {
            (ToolKind::TestLight, _) => None,
            (ToolKind::Meter, Dial::Volts) => Some(reading::function(self.dial)?),
            _ => return None,
        };
        if self.car.is_buzzing() {
            return None;
        }
        let volts = self.car.try_on(only)?.volts;
        let point = point.to_owned();
        Some(match function {
            Some(function) => Observation::Meter {
                point,
                display: self.display(function, volts),
            },
            None => {
                let (glow, percent) = reading::bulb(volts);
                Observation::Light {
                    tool: j.tool,
                    point,
                    glow,
                    percent,
                }
            }
        })
    }

    /// Where this instrument sits within its accuracy, 0 to 1.
    fn instrument(&self) -> f64 {
        0.5 + 0.5 * self.case.tolerance("meter")
    }

    /// What a tool would show with its free lead on a point, without touching it: for planning.
    /// Nothing about the session changes.
    pub fn would_show(&mut self, tool: ToolKind, point: &str) -> Option<Observation> {
        let index = self.points.find(point).ok()?;
        let node = self.points.node(index, &self.car.wired);
        let lead = self.free_lead(tool).ok()?;
        let before = self.tools.clone();
        self.tools
            .entry(tool)
            .or_default()
            .leads
            .insert(lead, point.to_owned());
        let (all, joined) = self.join(0.0);
        let alone = before.get(&tool).is_none_or(|state| state.leads.len() < 2);
        let shown = joined
            .iter()
            .find(|j| j.tool == tool)
            .and_then(|j| match tool {
                ToolKind::Meter if self.dial == Dial::Ohms => None,
                _ if alone && let Some(shown) = self.shows_nothing(j, point) => Some(shown),
                _ if let Some(shown) = self.shows_alone(j, &all, point) => Some(shown),
                _ => {
                    let solution = self.car.foresee(&all)?;
                    let kept = std::mem::replace(&mut self.car.solution, solution);
                    let shown = match tool {
                        ToolKind::Meter => Some(Observation::Meter {
                            point: point.to_owned(),
                            display: self.meter_display(j, j.index, Car::foresee),
                        }),
                        _ => {
                            let (glow, percent) =
                                reading::glow(tool, &self.car.solution, j.index, j.first, node);
                            Some(Observation::Light {
                                tool,
                                point: point.to_owned(),
                                glow,
                                percent,
                            })
                        }
                    };
                    self.car.solution = kept;
                    shown
                }
            });
        let shown = match shown {
            None if tool == ToolKind::Meter && self.dial == Dial::Ohms => joined
                .iter()
                .find(|j| j.tool == tool)
                .map(|j| Observation::Meter {
                    point: point.to_owned(),
                    display: self.meter_display(j, 0, Car::foresee),
                }),
            other => other,
        };
        self.tools = before;
        shown
    }
}
