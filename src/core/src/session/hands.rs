//! What hands do: which actions are possible now, and what each changes.

use std::collections::BTreeSet;

use super::observation::{Observation, Touch};
use super::points::reach_place;
use super::probe::sparks;
use super::refusal::Refusal;
use super::{Action, Item, MAX_TEXT, MAX_WAIT_TICKS, Session, senses};
use crate::fault::{Method, Wrong};
use crate::tools::{Dial, ToolKind};
use crate::vehicle::hardware::Hardware;
use crate::vehicle::{Blades, Kind, Role, Station, split_pin};

/// Ticks a starter key is held at most.
const KEY_HELD_TICKS: u32 = 40;
/// Ticks the common movements of a hand take.
const WIGGLE_TICKS: u32 = 30;
const SWITCH_TICKS: u32 = 3;

/// Whether carrying the action out can still fail after [`Session::check`]: anything that moves the
/// circuits may find no operating point, and must then leave no trace.
pub(super) fn can_fail(action: &Action) -> bool {
    !matches!(
        action,
        Action::Go(_)
            | Action::Protect
            | Action::Look(_)
            | Action::Inspect(_)
            | Action::Listen(_)
            | Action::Feel(_)
            | Action::Light(_)
            | Action::Note(_)
            | Action::Hint(_)
            | Action::Call { .. }
            | Action::HandBack { .. }
            | Action::Uncover(_)
            | Action::Cover(_)
    )
}

impl Session {
    fn unknown<'a>(name: &str, of: impl Iterator<Item = &'a str>) -> Refusal {
        Refusal::Unknown {
            name: name.to_owned(),
            nearest: crate::source::nearest(name, of).map(str::to_owned),
        }
    }

    fn place(&self, place: &str) -> Result<(), Refusal> {
        reach_place(&self.case.vehicle, place, self.station, &self.uncovered)
    }

    fn slot(&self, part: &str) -> Result<(), Refusal> {
        let vehicle = &self.case.vehicle;
        let slots = self.car.hw.slots.keys().map(String::as_str);
        if !self.car.hw.slots.contains_key(part) {
            return Err(Self::unknown(part, slots));
        }
        self.place(&vehicle.parts[part].place)
    }

    fn plug(&self, connector: &str) -> Result<(), Refusal> {
        let vehicle = &self.case.vehicle;
        let Some(data) = vehicle.connectors.get(connector) else {
            return Err(Self::unknown(
                connector,
                vehicle.connectors.keys().map(String::as_str),
            ));
        };
        if data.off_limits {
            return Err(Refusal::OffLimits {
                what: connector.to_owned(),
            });
        }
        self.place(&data.place)
    }

    fn tool(&self, tool: ToolKind) -> Result<(), Refusal> {
        if self.case.scenario.tools.contains(&tool) {
            Ok(())
        } else {
            Err(Refusal::NoSuchTool { tool })
        }
    }

    /// All covers and caps of the car.
    pub fn covers(&self) -> impl Iterator<Item = &str> {
        let mut names: Vec<&str> = self
            .case
            .vehicle
            .places
            .values()
            .filter_map(|p| p.cover.as_deref())
            .collect();
        names.sort_unstable();
        names.dedup();
        names.into_iter()
    }

    fn cover_station(&self, cover: &str) -> Option<Station> {
        self.case
            .vehicle
            .places
            .values()
            .find(|p| p.cover.as_deref() == Some(cover))
            .map(|p| p.station)
    }

    /// What a person may name when saying what is wrong or putting it right.
    pub fn known_target(&self, target: &str) -> bool {
        let vehicle = &self.case.vehicle;
        target == "refrigerant"
            || vehicle.parts.contains_key(target)
            || vehicle.wires.contains_key(target)
            || vehicle.connectors.contains_key(target)
            || vehicle.controls.contains_key(target)
            || self.car.wired.pins.contains_key(target)
    }

    fn target(&self, target: &str) -> Result<(), Refusal> {
        if self.known_target(target) {
            return Ok(());
        }
        let vehicle = &self.case.vehicle;
        let names = vehicle
            .parts
            .keys()
            .chain(vehicle.wires.keys())
            .chain(vehicle.connectors.keys())
            .chain(vehicle.controls.keys())
            .chain(self.car.wired.pins.keys())
            .map(String::as_str);
        Err(Self::unknown(target, names))
    }

    /// Whether an action could be done now, without doing it.
    ///
    /// # Errors
    /// Why not.
    pub fn check(&self, action: &Action) -> Result<(), Refusal> {
        if self.handed_back {
            return Err(Refusal::HandedBack);
        }
        let vehicle = &self.case.vehicle;
        let hw = &self.car.hw;
        let already = |so: bool| if so { Err(Refusal::AlreadySo) } else { Ok(()) };
        let text = |t: &str| {
            if t.chars().count() > MAX_TEXT {
                Err(Refusal::TooLong {
                    most: MAX_TEXT as u32,
                })
            } else {
                Ok(())
            }
        };
        self.check_leads(action)?;
        match action {
            Action::Renew(tool) => {
                self.tool(*tool)?;
                if tool.leads().is_empty() {
                    return Err(Refusal::WrongUse { tool: *tool });
                }
                Ok(())
            }
            Action::Go(station) => already(*station == self.station),
            Action::Set { control, to } => {
                let Some(data) = vehicle.controls.get(control) else {
                    return Err(Self::unknown(
                        control,
                        vehicle.controls.keys().map(String::as_str),
                    ));
                };
                if !data.positions.contains(to) {
                    return Err(Refusal::NoSuchPosition {
                        control: control.clone(),
                        positions: data.positions.clone(),
                    });
                }
                if (data.station == Station::Seat) != (self.station == Station::Seat) {
                    return Err(Refusal::GoFirst {
                        station: data.station,
                    });
                }
                already(hw.controls.get(control) == Some(to))
            }
            Action::Wait(ticks) => {
                if *ticks > MAX_WAIT_TICKS {
                    Err(Refusal::OutOfRange {
                        what: "wait".into(),
                        most: MAX_WAIT_TICKS,
                    })
                } else {
                    Ok(())
                }
            }
            Action::Protect => already(self.protected),
            Action::Uncover(cover) | Action::Cover(cover) => {
                let Some(station) = self.cover_station(cover) else {
                    return Err(Self::unknown(cover, self.covers()));
                };
                if (station == Station::Seat) != (self.station == Station::Seat) {
                    return Err(Refusal::GoFirst { station });
                }
                let off = self.uncovered.contains(cover);
                if matches!(action, Action::Cover(_)) && cover == SERVICE_CAP && self.gauge_on {
                    return Err(Refusal::Fitted {
                        what: "gauge".into(),
                    });
                }
                already(off == matches!(action, Action::Uncover(_)))
            }
            Action::Pull(part) => {
                self.slot(part)?;
                if hw.is_out(part) {
                    Err(Refusal::NotFitted { what: part.clone() })
                } else {
                    Ok(())
                }
            }
            Action::Fit { part, item, turned } => self.check_fit(part, *item, *turned),
            Action::Unplug(connector) => {
                self.plug(connector)?;
                if hw.unplugged.contains(connector) {
                    Err(Refusal::NotFitted {
                        what: connector.clone(),
                    })
                } else {
                    Ok(())
                }
            }
            Action::Plug(connector) => self.plug(connector),
            Action::Wiggle(place)
            | Action::Look(place)
            | Action::Listen(place)
            | Action::Feel(place) => self.place(place),
            Action::Inspect(what) => self.check_inspect(what),
            Action::Light(place) => match place {
                Some(place) => {
                    self.tool(ToolKind::Lamp)?;
                    self.place(place)?;
                    already(self.lamp_at.as_ref() == Some(place))
                }
                None => already(self.lamp_at.is_none()),
            },
            Action::Put { tool, lead, point } => {
                self.tool(*tool)?;
                if !tool.leads().contains(lead) {
                    return Err(Refusal::WrongUse { tool: *tool });
                }
                self.reach(point)?;
                let leads = self.tools.get(tool).map(|s| &s.leads);
                if leads.is_some_and(|l| l.iter().any(|(other, p)| other != lead && p == point)) {
                    return Err(Refusal::SamePoint);
                }
                already(leads.is_some_and(|l| l.get(lead) == Some(point)))
            }
            Action::Lift { tool, lead } => {
                self.tool(*tool)?;
                already(
                    !self
                        .tools
                        .get(tool)
                        .is_some_and(|s| s.leads.contains_key(lead)),
                )
            }
            Action::Touch { tool, point } => {
                self.tool(*tool)?;
                let free = self.free_lead(*tool)?;
                self.reach(point)?;
                let same = self
                    .tools
                    .get(tool)
                    .is_some_and(|s| s.leads.iter().any(|(l, p)| *l != free && p == point));
                if same {
                    Err(Refusal::SamePoint)
                } else {
                    Ok(())
                }
            }
            Action::Sweep { tool, socket } => {
                self.tool(*tool)?;
                self.free_lead(*tool)?;
                self.slot(socket)?;
                if !matches!(vehicle.parts[socket].kind, Kind::Relay(_)) {
                    return Err(Refusal::WrongUse { tool: *tool });
                }
                if hw.is_out(socket) || hw.breakout.as_deref() == Some(socket) {
                    Ok(())
                } else {
                    Err(Refusal::Fitted {
                        what: socket.clone(),
                    })
                }
            }
            Action::Dial(dial) => {
                self.tool(ToolKind::Meter)?;
                already(*dial == self.dial)
            }
            Action::Breakout(socket) => match socket {
                Some(socket) => {
                    self.tool(ToolKind::Breakout)?;
                    self.slot(socket)?;
                    if !matches!(vehicle.parts[socket].kind, Kind::Relay(_)) {
                        return Err(Refusal::WrongUse {
                            tool: ToolKind::Breakout,
                        });
                    }
                    already(hw.breakout.is_some())
                }
                None => already(hw.breakout.is_none()),
            },
            Action::Gauge(on) => {
                self.tool(ToolKind::Gauge)?;
                let Some(port) = service_port(vehicle) else {
                    return Err(Refusal::WrongUse {
                        tool: ToolKind::Gauge,
                    });
                };
                self.place(&port)?;
                already(*on == self.gauge_on)
            }
            Action::Thermometer(place) => {
                self.tool(ToolKind::Thermometer)?;
                self.place(place)
            }
            Action::Note(note) => text(note),
            Action::Hint(level) => {
                if (1..=3).contains(level) {
                    Ok(())
                } else {
                    Err(Refusal::OutOfRange {
                        what: "hint".into(),
                        most: 3,
                    })
                }
            }
            Action::Call { target, .. } => self.target(target),
            Action::Repair { target, method } => self.check_repair(target, *method),
            Action::HandBack {
                complaint,
                cause,
                correction,
            } => {
                text(complaint)?;
                text(cause)?;
                text(correction)
            }
        }
    }

    fn check_fit(&self, part: &str, item: Item, turned: bool) -> Result<(), Refusal> {
        self.slot(part)?;
        if !self.car.hw.is_out(part) {
            return Err(Refusal::Fitted {
                what: part.to_owned(),
            });
        }
        if item == Item::Spare && !self.case.scenario.spares.iter().any(|s| s == part) {
            return Err(Refusal::NoSpare {
                part: part.to_owned(),
            });
        }
        if turned {
            // Four equal blades in a square go in either way round; others do not.
            let fits = match &self.case.vehicle.parts[part].kind {
                Kind::Relay(r) => r.blades == Blades::Equal && !r.changeover,
                _ => true,
            };
            if !fits {
                return Err(Refusal::DoesNotTurn {
                    part: part.to_owned(),
                });
            }
        }
        Ok(())
    }

    fn check_inspect(&self, what: &str) -> Result<(), Refusal> {
        let vehicle = &self.case.vehicle;
        if vehicle.connectors.contains_key(what) {
            self.plug(what)?;
            return if self.car.hw.unplugged.contains(what) {
                Ok(())
            } else {
                Err(Refusal::Fitted {
                    what: what.to_owned(),
                })
            };
        }
        self.slot(what)?;
        if self.car.hw.is_out(what) {
            Ok(())
        } else {
            Err(Refusal::Fitted {
                what: what.to_owned(),
            })
        }
    }

    fn check_repair(&self, target: &str, method: Method) -> Result<(), Refusal> {
        self.target(target)?;
        let vehicle = &self.case.vehicle;
        let is_part = vehicle.parts.contains_key(target);
        let is_pin = split_pin(target).is_some_and(|(p, _)| vehicle.parts.contains_key(p))
            && self.car.wired.pins.contains_key(target);
        let fits = match method {
            Method::Replace => is_part,
            Method::Reseat => vehicle.connectors.contains_key(target),
            Method::MendTerminal => is_pin,
            Method::MendWire => vehicle.wires.contains_key(target),
            Method::CleanJoint => is_pin || is_part,
            Method::Recharge => target == "refrigerant",
            Method::CleanCondenser => target == "refrigerant" || is_part,
            Method::Explain => vehicle.controls.contains_key(target),
        };
        if !fits {
            return Err(Refusal::NotThatWay {
                target: target.to_owned(),
            });
        }
        let held = |pin: &str| {
            self.car
                .wired
                .pins
                .get(pin)
                .and_then(|p| p.connector.as_ref())
        };
        let limits = |connector: &str| {
            vehicle
                .connectors
                .get(connector)
                .is_some_and(|c| c.off_limits)
        };
        let of_part = |part: &str| {
            vehicle.connectors.values().any(|c| {
                c.off_limits
                    && c.pins
                        .iter()
                        .any(|p| split_pin(p).is_some_and(|(owner, _)| owner == part))
            })
        };
        if limits(target) || held(target).is_some_and(|c| limits(c)) || (is_part && of_part(target))
        {
            return Err(Refusal::OffLimits {
                what: target.to_owned(),
            });
        }
        if method == Method::Replace && self.car.engine.turning() {
            return Err(Refusal::StopFirst);
        }
        if method == Method::Explain || target == "refrigerant" {
            return Ok(());
        }
        match senses::place_of(&self.car, target) {
            Some(place) => self.place(place),
            None => Ok(()),
        }
    }

    /// What would shut a tool's lead in: the tool must come off first.
    fn leads_clear(&self, after: &Hardware, uncovered: &BTreeSet<String>) -> Result<(), Refusal> {
        for (tool, state) in &self.tools {
            for point in state.leads.values() {
                let Ok(index) = self.points.find(point) else {
                    continue;
                };
                let place = &self.points.infos[index].place;
                let station = self
                    .case
                    .vehicle
                    .places
                    .get(place)
                    .map_or(self.station, |p| p.station);
                let reach = |hw: &Hardware, off: &BTreeSet<String>| {
                    self.points
                        .reach(index, &self.case.vehicle, hw, station, off)
                };
                if reach(&self.car.hw, &self.uncovered).is_ok() && reach(after, uncovered).is_err()
                {
                    return Err(Refusal::LeadInTheWay { tool: *tool });
                }
            }
        }
        Ok(())
    }

    /// Refuses what would shut a lead into a socket, plug or box.
    fn check_leads(&self, action: &Action) -> Result<(), Refusal> {
        let (mut hw, mut uncovered) = (self.car.hw.clone(), self.uncovered.clone());
        match action {
            Action::Pull(part) => {
                if let Some(slot) = hw.slots.get_mut(part) {
                    slot.out = true;
                }
            }
            Action::Fit { part, .. } => {
                if let Some(slot) = hw.slots.get_mut(part) {
                    slot.out = false;
                }
            }
            Action::Repair {
                target,
                method: Method::Replace,
            } => {
                if let Some(slot) = hw.slots.get_mut(target) {
                    slot.out = false;
                }
            }
            Action::Plug(connector) => {
                hw.unplugged.remove(connector);
            }
            Action::Unplug(connector) => {
                hw.unplugged.insert(connector.clone());
            }
            Action::Breakout(None) => hw.breakout = None,
            Action::Cover(cover) => {
                uncovered.remove(cover);
            }
            _ => return Ok(()),
        }
        self.leads_clear(&hw, &uncovered)
    }

    /// Carries out an action that [`Session::check`] allows.
    pub(super) fn carry_out(&mut self, action: &Action) -> Result<Vec<Observation>, Refusal> {
        let mut seen = self.act(action)?;
        // Whoever changes something with a light or meter parked on the car sees what it shows then.
        if matches!(
            action,
            Action::Set { .. }
                | Action::Pull(_)
                | Action::Fit { .. }
                | Action::Unplug(_)
                | Action::Plug(_)
                | Action::Repair { .. }
        ) {
            seen.extend(self.readings());
        }
        Ok(seen)
    }

    fn act(&mut self, action: &Action) -> Result<Vec<Observation>, Refusal> {
        match action {
            Action::Go(station) => {
                self.station = *station;
                Ok(Vec::new())
            }
            Action::Renew(tool) => {
                self.renew(*tool)?;
                Ok(std::mem::take(&mut self.car.events))
            }
            Action::Set { control, to } => self.operate(control, to),
            Action::Wait(ticks) => {
                let mut seen = self.run(*ticks)?;
                seen.extend(self.readings());
                Ok(seen)
            }
            Action::Protect => {
                self.protected = true;
                Ok(Vec::new())
            }
            Action::Uncover(cover) => {
                self.uncovered.insert(cover.clone());
                Ok(Vec::new())
            }
            Action::Cover(cover) => {
                self.uncovered.remove(cover);
                Ok(Vec::new())
            }
            Action::Pull(part) => {
                let fit = self.grip(part);
                let live = self.car.carried(part);
                let coils = self.car.coils();
                if let Some(slot) = self.car.hw.slots.get_mut(part) {
                    slot.out = true;
                }
                self.settle()?;
                let mut seen = sparks(live, self.car.release_spark(&coils), part);
                seen.append(&mut self.car.events);
                seen.push(Observation::Felt {
                    place: part.clone(),
                    touch: fit,
                });
                Ok(seen)
            }
            Action::Fit { part, item, turned } => self.fit(part, *item, *turned),
            Action::Unplug(connector) => {
                let live = self.car.carried(connector);
                let coils = self.car.coils();
                self.car.hw.unplugged.insert(connector.clone());
                self.settle()?;
                let mut seen = sparks(live, self.car.release_spark(&coils), connector);
                seen.append(&mut self.car.events);
                Ok(seen)
            }
            Action::Plug(connector) => {
                let moved =
                    self.car.hw.unplugged.remove(connector) | self.mend(connector, Method::Reseat);
                self.settle()?;
                let mut seen = std::mem::take(&mut self.car.events);
                let touch = if moved {
                    Touch::PlugMoved
                } else {
                    Touch::PlugFirm
                };
                seen.push(Observation::Felt {
                    place: connector.clone(),
                    touch,
                });
                Ok(seen)
            }
            Action::Wiggle(place) => {
                self.car.shaken = Some(place.clone());
                let mut seen = self.run(WIGGLE_TICKS)?;
                seen.extend(self.readings());
                self.car.shaken = None;
                seen.extend(self.run(1)?);
                Ok(seen)
            }
            Action::Look(place) => {
                if self.case.vehicle.places[place].dark && self.lamp_at.as_ref() != Some(place) {
                    return Ok(vec![Observation::TooDark {
                        place: place.clone(),
                    }]);
                }
                Ok(senses::look(&self.car, place))
            }
            Action::Inspect(what) => Ok(senses::inspect(&self.car, what)),
            Action::Listen(place) => Ok(senses::listen(&self.car, place)),
            Action::Feel(place) => Ok(senses::feel(&self.car, place)),
            Action::Light(place) => {
                self.lamp_at.clone_from(place);
                Ok(Vec::new())
            }
            Action::Put { tool, lead, point } => {
                let mut seen = self.put(*tool, *lead, point)?;
                seen.extend(self.run(SWITCH_TICKS)?);
                seen.extend(self.readings());
                Ok(seen)
            }
            Action::Lift { tool, lead } => self.lift(*tool, *lead),
            Action::Touch { tool, point } => self.touch(*tool, point),
            Action::Sweep { tool, socket } => self.sweep(*tool, socket),
            Action::Dial(dial) => {
                self.dial = *dial;
                self.rejoin()?;
                let mut seen = std::mem::take(&mut self.car.events);
                if *dial != Dial::Off {
                    seen.extend(
                        self.readings()
                            .into_iter()
                            .filter(|o| matches!(o, Observation::Meter { .. })),
                    );
                }
                Ok(seen)
            }
            Action::Breakout(socket) => {
                self.car.hw.breakout.clone_from(socket);
                Ok(Vec::new())
            }
            Action::Gauge(on) => {
                self.gauge_on = *on;
                let place = service_port(&self.case.vehicle).unwrap_or_default();
                let mut seen = vec![Observation::Heard {
                    sound: super::Sound::Hiss,
                    place,
                }];
                seen.extend(
                    self.readings()
                        .into_iter()
                        .filter(|o| matches!(o, Observation::Gauge { .. })),
                );
                Ok(seen)
            }
            Action::Thermometer(place) => {
                let celsius = self.temperature(place);
                Ok(vec![Observation::Temperature {
                    place: place.clone(),
                    celsius,
                }])
            }
            Action::Note(_) => Ok(Vec::new()),
            Action::Hint(level) => Ok(vec![Observation::HintAsked { level: *level }]),
            Action::Call { target, failure } => {
                self.calls.push((target.clone(), *failure));
                Ok(Vec::new())
            }
            Action::Repair { target, method } => self.repair(target, *method),
            Action::HandBack { .. } => {
                self.handed_back = true;
                Ok(Vec::new())
            }
        }
    }

    fn operate(&mut self, control: &str, to: &str) -> Result<Vec<Observation>, Refusal> {
        let role = self.case.vehicle.controls[control].role;
        self.car
            .hw
            .controls
            .insert(control.to_owned(), to.to_owned());
        // A driver who is shown, or who finds out, has put a misuse right.
        self.car.hw.faults.iter_mut().for_each(|f| {
            if let Wrong::Misuse(position) = &f.fault.what
                && f.fault.at == control
                && position != to
            {
                f.mended = true;
            }
        });
        self.settle()?;
        let mut seen = std::mem::take(&mut self.car.events);
        if role == Role::Key && to == "start" {
            for _ in 0..KEY_HELD_TICKS {
                seen.extend(self.run(1)?);
                if self.car.engine.running() {
                    break;
                }
            }
            // What a parked tool showed while the starter was held.
            if !self.car.engine.running() {
                let during = self.readings();
                seen.extend(during);
            }
            // The key springs back by itself.
            self.car
                .hw
                .controls
                .insert(control.to_owned(), "on".to_owned());
            self.settle()?;
            seen.append(&mut self.car.events);
        }
        seen.extend(self.run(SWITCH_TICKS)?);
        seen.dedup();
        Ok(seen)
    }

    /// How firmly the thing in a slot is gripped.
    fn grip(&self, part: &str) -> Touch {
        let loose = self.car.hw.faults.iter().any(|f| {
            !f.mended
                && matches!(f.fault.what, Wrong::Spread(_) | Wrong::PushedBack)
                && split_pin(&f.fault.at).is_some_and(|(p, _)| p == part)
        });
        if loose {
            Touch::LooseFit
        } else {
            Touch::FirmFit
        }
    }

    fn fit(&mut self, part: &str, item: Item, turned: bool) -> Result<Vec<Observation>, Refusal> {
        let mut turned_before = false;
        if let Some(slot) = self.car.hw.slots.get_mut(part) {
            turned_before = slot.turned;
            slot.out = false;
            slot.spare = item == Item::Spare;
            slot.turned = turned;
        }
        let fuse = matches!(self.case.vehicle.parts[part].kind, Kind::Fuse { .. });
        if turned != turned_before && !fuse {
            self.car.rebuild().map_err(Refusal::from)?;
            self.rejoin()?;
        }
        if fuse {
            self.car.cold_fuse(part);
        }
        self.settle()?;
        let mut seen = std::mem::take(&mut self.car.events);
        seen.push(Observation::Felt {
            place: part.to_owned(),
            touch: self.grip(part),
        });
        seen.extend(self.run(SWITCH_TICKS)?);
        Ok(seen)
    }

    /// Removes what a method puts right at a name; whether anything was.
    fn mend(&mut self, target: &str, method: Method) -> bool {
        let mut any = false;
        // A stud, bar, splice or joint is put right as a whole: its lugs and terminals with it.
        let whole = self.case.vehicle.parts.get(target).is_some_and(|p| {
            matches!(
                p.kind,
                Kind::GroundStud { .. }
                    | Kind::BusBar { .. }
                    | Kind::Splice { .. }
                    | Kind::Inline { .. }
                    | Kind::Battery { .. }
            )
        }) && matches!(method, Method::Replace | Method::CleanJoint);
        let bolted = |at: &str| {
            let part = split_pin(at).map_or(at, |(p, _)| p);
            self.case.vehicle.parts.get(part).is_some_and(|p| {
                matches!(
                    p.kind,
                    Kind::GroundStud { .. } | Kind::BusBar { .. } | Kind::Battery { .. }
                )
            })
        };
        for state in &mut self.car.hw.faults {
            let crossed = matches!(&state.fault.what, Wrong::CrossedWith(o) if o == target);
            let here = state.fault.at == target
                || crossed
                || (whole && split_pin(&state.fault.at).is_some_and(|(p, _)| p == target));
            // Cleaning and tightening also closes a lug that has come off its stud.
            let mends = method.mends(&state.fault.what)
                || (method == Method::CleanJoint
                    && state.fault.what == Wrong::Open
                    && bolted(&state.fault.at));
            if !state.mended && here && mends {
                state.mended = true;
                any = true;
            }
        }
        any
    }

    fn repair(&mut self, target: &str, method: Method) -> Result<Vec<Observation>, Refusal> {
        self.mend(target, method);
        let mut turned = false;
        if method == Method::Replace {
            // A new part is plugged in by hand, so its plugs are pushed home.
            let plugs: Vec<String> = self
                .case
                .vehicle
                .connectors
                .iter()
                .filter(|(_, c)| {
                    c.pins
                        .iter()
                        .any(|p| split_pin(p).is_some_and(|(part, _)| part == target))
                })
                .map(|(id, _)| id.clone())
                .collect();
            for plug in plugs {
                self.mend(&plug, Method::Reseat);
                self.car.hw.unplugged.remove(&plug);
            }
            if let Some(slot) = self.car.hw.slots.get_mut(target) {
                turned = slot.turned;
                *slot = crate::vehicle::hardware::SlotState::default();
            }
            self.car.cold_fuse(target);
            self.car.new_unit(target);
            if turned {
                self.car.rebuild().map_err(Refusal::from)?;
                self.rejoin()?;
            }
        }
        if method == Method::Reseat {
            self.car.hw.unplugged.remove(target);
        }
        self.repairs.push((target.to_owned(), method));
        self.settle()?;
        let mut seen = std::mem::take(&mut self.car.events);
        seen.push(Observation::Repaired {
            target: target.to_owned(),
        });
        Ok(seen)
    }

    fn temperature(&self, place: &str) -> f64 {
        let vehicle = &self.case.vehicle;
        let half = |c: f64| libm::round(c * 2.0) / 2.0;
        if let Some(climate) = &self.car.climate
            && vehicle
                .parts
                .get(&climate.blower)
                .is_some_and(|p| p.place == place)
        {
            return half(climate.duct_c());
        }
        if vehicle.places.get(place).is_some_and(|p| p.hot) {
            return half(self.car.engine.coolant_c);
        }
        half(self.case.ambient_c)
    }
}

/// The place of the low-side service port: the one behind the service cap.
pub(crate) fn service_port(vehicle: &crate::vehicle::Vehicle) -> Option<String> {
    vehicle
        .places
        .iter()
        .find(|(_, p)| p.cover.as_deref() == Some(SERVICE_CAP))
        .map(|(id, _)| id.clone())
}

/// Name of the cap on the low-side service port.
pub const SERVICE_CAP: &str = "service cap";
