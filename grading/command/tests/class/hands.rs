//! Invented learners' hands on any shipped car: what an action needs first (walking, covers, leads
//! in the way) is done by the way. Decides nothing.

use std::collections::BTreeSet;
use std::sync::Arc;

use tracebay_core::scenario::{Case, Shows, Step};
use tracebay_core::session::{Action, Item, Observation, Refusal, Session};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::{Role, Station};
use tracebay_grading::survey::Probe;

/// Hands at work on a case.
pub struct Hands {
    pub session: Session,
    pub done: Vec<Action>,
    proved: bool,
}

impl Hands {
    pub fn new(case: &Arc<Case>) -> Hands {
        Hands {
            session: Session::new(case.clone()).expect("a shipped car"),
            done: Vec::new(),
            proved: false,
        }
    }

    /// Does it, with what it needs first. False where the car does not allow it all the same.
    pub fn act(&mut self, action: Action) -> bool {
        for _ in 0..8 {
            match self.session.perform(&action) {
                Ok(_) => {
                    self.done.push(action);
                    return true;
                }
                Err(Refusal::AlreadySo) => return true,
                Err(Refusal::GoFirst { station }) => {
                    if !self.plain(Action::Go(station)) {
                        return false;
                    }
                }
                Err(Refusal::CoverOn { cover }) => {
                    if !self.act(Action::Uncover(cover)) {
                        return false;
                    }
                }
                Err(Refusal::StopFirst) => self.set("key", "off"),
                Err(Refusal::LeadInTheWay { tool }) => self.lift(tool),
                Err(_) => return false,
            }
        }
        false
    }

    fn plain(&mut self, action: Action) -> bool {
        let done = self.session.perform(&action).is_ok();
        if done {
            self.done.push(action);
        }
        done
    }

    fn seen(&self) -> &[Observation] {
        self.session.log().last().map_or(&[], |(_, seen)| seen)
    }

    pub fn set(&mut self, control: &str, to: &str) {
        let station = self.session.case().vehicle.controls[control].station;
        if (station == Station::Seat) != (self.session.station() == Station::Seat) {
            self.plain(Action::Go(station));
        }
        self.plain(Action::Set {
            control: control.to_owned(),
            to: to.to_owned(),
        });
    }

    pub fn lift(&mut self, tool: ToolKind) {
        let leads = self.session.view().leads.get(&tool).cloned();
        for lead in leads.into_iter().flat_map(|leads| leads.into_keys()) {
            self.plain(Action::Lift { tool, lead });
        }
    }

    /// Clips the light to a battery post; proves it the first time and mends it if need be.
    pub fn clip(&mut self, to_positive: bool) {
        let (post, other) = if to_positive {
            ("bat:pos", "bat:neg")
        } else {
            ("bat:neg", "bat:pos")
        };
        let light = ToolKind::TestLight;
        let prove = Action::Touch {
            tool: light,
            point: other.to_owned(),
        };
        self.act(Action::Put {
            tool: light,
            lead: Lead::Clip,
            point: post.to_owned(),
        });
        if self.proved {
            return;
        }
        self.proved = true;
        self.act(prove.clone());
        let dark = self.seen().iter().any(|seen| {
            matches!(
                seen,
                Observation::Light {
                    glow: Glow::Dark,
                    ..
                }
            )
        });
        if dark {
            self.act(Action::Renew(light));
            self.act(prove);
        }
    }

    pub fn look(&mut self, place: &str) {
        if self.session.case().vehicle.places[place].dark {
            self.act(Action::Light(Some(place.to_owned())));
        }
        self.act(Action::Look(place.to_owned()));
    }

    /// Brings the car into a declared state.
    pub fn enter(&mut self, steps: &[Step]) {
        let vehicle = self.session.case().vehicle.clone();
        let mut out = BTreeSet::new();
        let (mut running, mut wait_s) = (false, 0.0);
        let mut wanted: Vec<(String, String)> = vehicle
            .controls
            .iter()
            .filter(|(_, c)| c.role != Role::ExhaustHose && c.role != Role::ParkBrake)
            .map(|(id, c)| (id.clone(), c.positions[0].clone()))
            .collect();
        for step in steps {
            match step {
                Step::Set(control, to) => {
                    running |= to == "start";
                    let to = if to == "start" { "on" } else { to };
                    for want in wanted.iter_mut().filter(|want| want.0 == *control) {
                        want.1 = to.to_owned();
                    }
                }
                Step::Wait(seconds) => wait_s = *seconds,
                // The planted classes work on cases without water.
                Step::Spray(_) => {}
                Step::Pull(what) | Step::Unplug(what) => {
                    out.insert(what.clone());
                }
            }
        }
        let view = self.session.view();
        let is_out: BTreeSet<String> = view.pulled.union(&view.unplugged).cloned().collect();
        if view.engine_running && (!running || is_out != out) {
            self.set("key", "off");
        }
        for what in is_out.difference(&out) {
            if view.pulled.contains(what) {
                self.fit(what, Item::Original);
            } else {
                self.act(Action::Plug(what.clone()));
            }
        }
        for what in out.difference(&is_out) {
            if vehicle.connectors.contains_key(what) {
                self.act(Action::Unplug(what.clone()));
            } else {
                self.act(Action::Pull(what.clone()));
            }
        }
        if running && !self.session.engine_running() {
            self.set("exhaust_hose", "on");
            self.set("key", "start");
            self.act(Action::Wait(20));
        }
        for (control, to) in &wanted {
            if self.session.control(control) != Some(to) {
                self.set(control, to);
            }
        }
        if wait_s > 0.0 {
            self.act(Action::Wait((wait_s * 10.0) as u32));
        }
    }

    pub fn fit(&mut self, part: &str, item: Item) {
        self.act(Action::Fit {
            part: part.to_owned(),
            item,
            turned: false,
        });
    }

    /// Makes a test in the state the car is in.
    pub fn probe(&mut self, probe: &Probe) {
        match probe {
            Probe::Light { to_positive, point } => {
                self.clip(*to_positive);
                self.act(Action::Touch {
                    tool: ToolKind::TestLight,
                    point: point.clone(),
                });
            }
            Probe::Sweep {
                to_positive,
                socket,
            } => {
                self.clip(*to_positive);
                self.act(Action::Sweep {
                    tool: ToolKind::TestLight,
                    socket: socket.clone(),
                });
            }
            Probe::Volts { point } => {
                self.act(Action::Dial(Dial::Volts));
                self.act(Action::Put {
                    tool: ToolKind::Meter,
                    lead: Lead::Black,
                    point: "bat:neg".into(),
                });
                self.act(Action::Touch {
                    tool: ToolKind::Meter,
                    point: point.clone(),
                });
            }
            Probe::Look { place } => self.look(place),
            Probe::Feel { place } => {
                self.act(Action::Feel(place.clone()));
            }
            Probe::Inspect { what } => {
                let plug = self.session.case().vehicle.connectors.contains_key(what);
                let off = if plug {
                    Action::Unplug(what.clone())
                } else {
                    Action::Pull(what.clone())
                };
                self.act(off);
                self.act(Action::Inspect(what.clone()));
                if plug {
                    self.act(Action::Plug(what.clone()));
                } else {
                    self.fit(what, Item::Original);
                }
            }
            Probe::Press { connector } => {
                self.act(Action::Plug(connector.clone()));
            }
            Probe::Gauge => {
                self.act(Action::Protect);
                self.act(Action::Gauge(true));
            }
            Probe::Swap { part } => {
                self.act(Action::Pull(part.clone()));
                self.fit(part, Item::Spare);
                self.meet_complaint();
            }
            Probe::Ohms { a, b } => {
                let part = a.split(['.', ':']).next().unwrap_or_default().to_owned();
                let was_in = !self.session.view().pulled.contains(&part);
                self.act(Action::Pull(part.clone()));
                self.act(Action::Dial(Dial::Ohms));
                self.act(Action::Put {
                    tool: ToolKind::Meter,
                    lead: Lead::Black,
                    point: b.clone(),
                });
                self.act(Action::Touch {
                    tool: ToolKind::Meter,
                    point: a.clone(),
                });
                self.lift(ToolKind::Meter);
                if was_in {
                    self.fit(&part, Item::Original);
                }
            }
            Probe::Bridge { socket } => {
                let tool = ToolKind::FusedJumper;
                let order = self.session.case().arrangements[socket].clone();
                for (lead, terminal) in [(Lead::A, "30"), (Lead::B, "87")] {
                    let place = order.iter().position(|t| t == terminal).unwrap_or(0);
                    let point = format!("{socket}.{}", char::from(b'a' + place as u8));
                    self.act(Action::Put { tool, lead, point });
                }
                self.lift(tool);
            }
        }
    }

    /// Tries the complaint as a driver meets it, with the senses it is met by.
    pub fn meet_complaint(&mut self) {
        let case = self.session.case().clone();
        self.enter(&case.scenario.symptom.steps);
        match &case.scenario.symptom.shows {
            Shows::NoColdAir { .. } => {
                self.act(Action::Feel("vents".into()));
                self.look("compressor_low");
            }
            Shows::Weak { part, .. } | Shows::Unwanted { part } => {
                let place = case.vehicle.parts[part].place.clone();
                self.act(Action::Listen(place.clone()));
                self.look(&place);
            }
            Shows::NoStart => {}
        }
    }

    /// Takes tools and spares off, puts back what is off, turns off what is on.
    pub fn put_back(&mut self) {
        let vehicle = self.session.case().vehicle.clone();
        for (id, control) in &vehicle.controls {
            let rest = control.positions[0].clone();
            let minor = matches!(control.role, Role::ExhaustHose | Role::ParkBrake);
            if !minor && self.session.control(id) != Some(rest.as_str()) {
                self.set(id, &rest);
            }
        }
        let view = self.session.view();
        if view.gauge_on {
            self.act(Action::Protect);
            self.act(Action::Gauge(false));
        }
        for tool in view.leads.into_keys() {
            self.lift(tool);
        }
        for part in &view.spares_fitted {
            self.act(Action::Pull(part.clone()));
        }
        let view = self.session.view();
        for part in &view.pulled {
            self.fit(part, Item::Original);
        }
        for plug in &view.unplugged {
            self.act(Action::Plug(plug.clone()));
        }
    }

    /// Leaves the car as a customer wants it and gives it back.
    pub fn hand_back(&mut self, cause: &str) {
        self.act(Action::Light(None));
        for cover in self.session.view().uncovered {
            self.act(Action::Cover(cover));
        }
        if self.session.control("exhaust_hose") == Some("on") {
            self.set("exhaust_hose", "off");
        }
        let given = self.act(Action::HandBack {
            complaint: "As the customer says (invented).".into(),
            cause: cause.into(),
            correction: "Put right and tried again.".into(),
        });
        assert!(given, "the car can be given back");
    }
}
