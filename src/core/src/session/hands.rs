//! What hands do: what each possible action changes. Which are possible is [`super::may`]'s business.

use super::observation::{Observation, Touch};
use super::probe::sparks;
use super::refusal::Refusal;
use super::{Action, Item, Session, senses};
use crate::fault::{Method, Wrong};
use crate::tools::Dial;
use crate::vehicle::{Kind, Role, split_pin};

/// Ticks a starter key is held at most.
const KEY_HELD_TICKS: u32 = 40;
/// Ticks the common movements of a hand take.
const WIGGLE_TICKS: u32 = 30;
const SWITCH_TICKS: u32 = 3;
/// Ticks one watches after spraying: water creeps.
const SPRAY_TICKS: u32 = 100;

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
                if let Some(slot) = self.car.hw_mut().slots.get_mut(part) {
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
                self.car.hw_mut().unplugged.insert(connector.clone());
                self.settle()?;
                let mut seen = sparks(live, self.car.release_spark(&coils), connector);
                seen.append(&mut self.car.events);
                Ok(seen)
            }
            Action::Plug(connector) => {
                let moved = self.car.hw_mut().unplugged.remove(connector)
                    | self.mend(connector, Method::Reseat);
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
            Action::Spray(place) => {
                self.car.wet_place(place);
                let mut seen = self.run(SPRAY_TICKS)?;
                seen.extend(self.readings());
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
                self.car.hw_mut().breakout.clone_from(socket);
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
            .hw_mut()
            .controls
            .insert(control.to_owned(), to.to_owned());
        // A driver who is shown, or who finds out, has put a misuse right.
        self.car.hw_mut().faults.iter_mut().for_each(|f| {
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
                .hw_mut()
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
        if let Some(slot) = self.car.hw_mut().slots.get_mut(part) {
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
        let vehicle = self.case.vehicle.clone();
        // A plug or socket with water in it is cleaned, dried and sealed as a whole.
        let wet_in = |at: &str| {
            method == Method::CleanJoint
                && (split_pin(at).is_some_and(|(p, _)| p == target)
                    || vehicle
                        .connectors
                        .get(target)
                        .is_some_and(|c| c.pins.iter().any(|p| p == at)))
        };
        for state in &mut self.car.hw_mut().faults {
            let leaks = matches!(&state.fault.what, Wrong::LeakTo(to, _)
                if to == target || wet_in(&state.fault.at));
            let crossed = matches!(&state.fault.what, Wrong::CrossedWith(o) if o == target);
            let here = state.fault.at == target
                || crossed
                || leaks
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
                self.car.hw_mut().unplugged.remove(&plug);
            }
            if let Some(slot) = self.car.hw_mut().slots.get_mut(target) {
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
            self.car.hw_mut().unplugged.remove(target);
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
