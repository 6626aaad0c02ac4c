//! Which actions are possible now, and why not the others. Changes nothing.

use std::collections::BTreeSet;

use super::car::in_the_weather;
use super::hands::{SERVICE_CAP, service_port};
use super::points::reach_place;
use super::refusal::Refusal;
use super::{Action, Item, MAX_TEXT, MAX_WAIT_TICKS, Session, senses};
use crate::fault::Method;
use crate::tools::ToolKind;
use crate::vehicle::hardware::Hardware;
use crate::vehicle::{Blades, Kind, Station, split_pin};

impl Session {
    pub(super) fn unknown<'a>(name: &str, of: impl Iterator<Item = &'a str>) -> Refusal {
        Refusal::Unknown {
            name: name.to_owned(),
            nearest: crate::source::nearest(name, of).map(str::to_owned),
        }
    }

    pub(super) fn place(&self, place: &str) -> Result<(), Refusal> {
        reach_place(&self.case.vehicle, place, self.station, &self.uncovered)
    }

    pub(super) fn slot(&self, part: &str) -> Result<(), Refusal> {
        let vehicle = &self.case.vehicle;
        let slots = self.car.hw.slots.keys().map(String::as_str);
        if !self.car.hw.slots.contains_key(part) {
            return Err(Self::unknown(part, slots));
        }
        self.place(&vehicle.parts[part].place)
    }

    pub(super) fn plug(&self, connector: &str) -> Result<(), Refusal> {
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

    pub(super) fn tool(&self, tool: ToolKind) -> Result<(), Refusal> {
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

    pub(super) fn cover_station(&self, cover: &str) -> Option<Station> {
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

    pub(super) fn target(&self, target: &str) -> Result<(), Refusal> {
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
            Action::Go(station) if !vehicle.has_station(*station) => {
                Err(Refusal::NothingThere { station: *station })
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
            Action::Spray(place) => self.check_spray(place),
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

    pub(super) fn check_fit(&self, part: &str, item: Item, turned: bool) -> Result<(), Refusal> {
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

    /// Water goes where rain would get to, on what is closed, and on nothing that is off limits.
    fn check_spray(&self, place: &str) -> Result<(), Refusal> {
        let vehicle = &self.case.vehicle;
        let Some(data) = vehicle.places.get(place) else {
            return Err(Self::unknown(
                place,
                vehicle.places.keys().map(String::as_str),
            ));
        };
        if !in_the_weather(vehicle, place) {
            return Err(Refusal::NoWaterThere);
        }
        let plugs = || vehicle.connectors.iter().filter(|(_, c)| c.place == place);
        if let Some((id, _)) = plugs().find(|(_, c)| c.off_limits) {
            return Err(Refusal::OffLimits { what: id.clone() });
        }
        if self.station == Station::Seat {
            return Err(Refusal::GoFirst {
                station: data.station,
            });
        }
        if let Some(cover) = data.cover.as_ref().filter(|c| self.uncovered.contains(*c)) {
            return Err(Refusal::CoverOff {
                cover: cover.clone(),
            });
        }
        let open_plug = plugs()
            .map(|(id, _)| id)
            .find(|id| self.car.hw.unplugged.contains(*id));
        let open_slot = vehicle
            .parts
            .iter()
            .find(|(id, p)| p.place == place && self.car.hw.is_out(id))
            .map(|(id, _)| id);
        if let Some(what) = open_plug.or(open_slot) {
            return Err(Refusal::StandsOpen { what: what.clone() });
        }
        Ok(())
    }

    pub(super) fn check_inspect(&self, what: &str) -> Result<(), Refusal> {
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
        let slot = vehicle.parts.get(what).is_some_and(|p| p.kind.plugs_in());
        if !slot && let Some(place) = super::place_in(vehicle, what) {
            return Err(Refusal::StaysIn {
                what: what.to_owned(),
                place: place.to_owned(),
            });
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

    pub(super) fn check_repair(&self, target: &str, method: Method) -> Result<(), Refusal> {
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
            Method::CleanJoint => is_pin || is_part || vehicle.connectors.contains_key(target),
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
    pub(super) fn leads_clear(
        &self,
        after: &Hardware,
        uncovered: &BTreeSet<String>,
    ) -> Result<(), Refusal> {
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
    pub(super) fn check_leads(&self, action: &Action) -> Result<(), Refusal> {
        let shuts = matches!(
            action,
            Action::Pull(_)
                | Action::Fit { .. }
                | Action::Repair {
                    method: Method::Replace,
                    ..
                }
                | Action::Plug(_)
                | Action::Unplug(_)
                | Action::Breakout(None)
                | Action::Cover(_)
        );
        // Trying it out costs a copy of all that hands have done.
        if !shuts || self.tools.values().all(|tool| tool.leads.is_empty()) {
            return Ok(());
        }
        let mut hw = Hardware::clone(&self.car.hw);
        let mut uncovered = self.uncovered.clone();
        match action {
            Action::Pull(part) => {
                if let Some(slot) = hw.slots.get_mut(part) {
                    slot.out = true;
                }
            }
            Action::Fit { part, .. } | Action::Repair { target: part, .. } => {
                if let Some(slot) = hw.slots.get_mut(part) {
                    slot.out = false;
                }
            }
            Action::Plug(connector) => {
                hw.unplugged.remove(connector);
            }
            Action::Unplug(connector) => {
                hw.unplugged.insert(connector.clone());
            }
            Action::Breakout(_) => hw.breakout = None,
            Action::Cover(cover) => {
                uncovered.remove(cover);
            }
            _ => {}
        }
        self.leads_clear(&hw, &uncovered)
    }
}
