//! A learner's hands: does actions on a session, keeps those that were done, and knows how to bring
//! the car from one state to another. Decides nothing.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use tracebay_core::fault::Method;
use tracebay_core::scenario::{Case, Step};
use tracebay_core::session::{Action, Item, Observation, Refusal, Session};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::{Role, Station};
use tracebay_grading::survey::Probe;

/// Hands at work on a case.
pub struct Hands {
    pub session: Session,
    pub done: Vec<Action>,
    proved: BTreeSet<String>,
}

impl Hands {
    pub fn new(case: &Arc<Case>) -> Hands {
        Hands {
            session: Session::new(case.clone()).expect("the shipped car has an operating point"),
            done: Vec::new(),
            proved: BTreeSet::new(),
        }
    }

    /// Does it. What is so already is passed over; anything else that is refused is a mistake in
    /// the learner's script.
    pub fn act(&mut self, action: Action) -> Vec<Observation> {
        match self.session.perform(&action) {
            Ok(seen) => {
                self.done.push(action);
                seen
            }
            Err(Refusal::AlreadySo) => Vec::new(),
            Err(why) => panic!("action {}: {action:?}: {why:?}", self.done.len() + 1),
        }
    }

    /// Does it where the car allows it, as somebody without a plan would.
    pub fn try_to(&mut self, action: Action) -> bool {
        let done = self.session.perform(&action).is_ok();
        if done {
            self.done.push(action);
        }
        done
    }

    pub fn go(&mut self, station: Station) {
        self.act(Action::Go(station));
    }

    pub fn set(&mut self, control: &str, to: &str) {
        let station = self.session.case().vehicle.controls[control].station;
        if (station == Station::Seat) != (self.session.station() == Station::Seat) {
            self.go(station);
        }
        self.act(Action::Set {
            control: control.to_owned(),
            to: to.to_owned(),
        });
    }

    pub fn wait(&mut self, seconds: u32) {
        self.act(Action::Wait(10 * seconds));
    }

    /// Goes where a place is and takes off what covers it.
    pub fn at(&mut self, place: &str) {
        let data = self.session.case().vehicle.places[place].clone();
        if (data.station == Station::Seat) != (self.session.station() == Station::Seat) {
            self.go(data.station);
        }
        if let Some(cover) = data.cover
            && !self.session.view().uncovered.contains(&cover)
        {
            self.act(Action::Uncover(cover));
        }
    }

    fn place_of(&self, what: &str) -> String {
        let vehicle = &self.session.case().vehicle;
        let part = what.split(['.', ':']).next().unwrap_or(what);
        let connector = vehicle.connectors.get(what).map(|c| c.place.clone());
        connector.unwrap_or_else(|| vehicle.parts[part].place.clone())
    }

    pub fn pull(&mut self, part: &str) {
        self.at(&self.place_of(part));
        self.act(Action::Pull(part.to_owned()));
    }

    pub fn fit(&mut self, part: &str, item: Item) {
        self.at(&self.place_of(part));
        self.act(Action::Fit {
            part: part.to_owned(),
            item,
            turned: false,
        });
    }

    pub fn unplug(&mut self, connector: &str) {
        self.at(&self.place_of(connector));
        self.act(Action::Unplug(connector.to_owned()));
    }

    /// Puts a part, terminal or plug right, where it is.
    pub fn repair(&mut self, target: &str, method: Method) {
        self.at(&self.place_of(target));
        self.act(Action::Repair {
            target: target.to_owned(),
            method,
        });
    }

    pub fn look(&mut self, place: &str) -> Vec<Observation> {
        self.at(place);
        if self.session.case().vehicle.places[place].dark {
            self.act(Action::Light(Some(place.to_owned())));
        }
        self.act(Action::Look(place.to_owned()))
    }

    /// Clips the light to a battery post and proves it on the other.
    pub fn clip(&mut self, to_positive: bool) {
        let (post, other) = if to_positive {
            ("bat:pos", "bat:neg")
        } else {
            ("bat:neg", "bat:pos")
        };
        self.at("battery_tray");
        self.act(Action::Put {
            tool: ToolKind::TestLight,
            lead: Lead::Clip,
            point: post.to_owned(),
        });
        if self.proved.insert(post.to_owned()) {
            self.touch(ToolKind::TestLight, other);
        }
    }

    pub fn touch(&mut self, tool: ToolKind, point: &str) -> Vec<Observation> {
        self.at(&self.place_of(point));
        self.act(Action::Touch {
            tool,
            point: point.to_owned(),
        })
    }

    pub fn sweep(&mut self, socket: &str) -> Vec<Observation> {
        self.at(&self.place_of(socket));
        self.act(Action::Sweep {
            tool: ToolKind::TestLight,
            socket: socket.to_owned(),
        })
    }

    /// Cavity of a socket by its terminal number.
    pub fn cavity(&self, socket: &str, terminal: &str) -> String {
        let place = self.session.case().arrangements[socket]
            .iter()
            .position(|t| t == terminal)
            .expect("a terminal of the socket");
        format!("{socket}.{}", char::from(b'a' + place as u8))
    }

    /// Wets places, closed as they are in the rain; what is pulled is pulled afterwards.
    fn spray(&mut self, places: &[String]) {
        let vehicle = self.session.case().vehicle.clone();
        for place in places {
            if self.session.view().wet.contains(place) {
                continue;
            }
            self.at(place);
            let cover = vehicle.places[place].cover.clone();
            let off = cover.filter(|c| self.session.view().uncovered.contains(c));
            if let Some(cover) = &off {
                self.act(Action::Cover(cover.clone()));
            }
            self.act(Action::Spray(place.clone()));
            if let Some(cover) = off {
                self.act(Action::Uncover(cover));
            }
        }
    }

    /// Brings the car into a declared state.
    pub fn enter(&mut self, steps: &[Step]) {
        let vehicle = self.session.case().vehicle.clone();
        let mut wanted: BTreeMap<String, String> = BTreeMap::new();
        for (id, control) in &vehicle.controls {
            if control.role != Role::ExhaustHose {
                wanted.insert(id.clone(), control.positions[0].clone());
            }
        }
        let (mut out, mut running, mut wait_s) = (BTreeSet::new(), false, 0.0);
        let mut wet = Vec::new();
        for step in steps {
            match step {
                Step::Set(control, to) => {
                    let start = to == "start";
                    running |= start;
                    let to = if start { "on" } else { to };
                    wanted.insert(control.clone(), to.to_owned());
                }
                Step::Wait(seconds) => wait_s = *seconds,
                Step::Spray(place) => wet.push(place.clone()),
                Step::Pull(what) | Step::Unplug(what) => {
                    out.insert(what.clone());
                }
            }
        }
        let view = self.session.view();
        let is_out: BTreeSet<String> = view.pulled.union(&view.unplugged).cloned().collect();
        let dry = wet.iter().any(|place| !view.wet.contains(place));
        let moves = is_out != out || dry;
        if view.engine_running && (!running || moves) {
            self.set("key", "off");
        }
        for what in is_out.difference(&out) {
            if view.pulled.contains(what) {
                self.fit(what, Item::Original);
            } else {
                self.at(&self.place_of(what));
                self.act(Action::Plug(what.clone()));
            }
        }
        self.spray(&wet);
        for what in out.difference(&is_out) {
            if vehicle.connectors.contains_key(what) {
                self.unplug(what);
            } else {
                self.pull(what);
            }
        }
        let mut changed = false;
        if running && !self.session.engine_running() {
            self.set("exhaust_hose", "on");
            self.set("key", "start");
            self.wait(2);
            changed = true;
        }
        for (control, to) in &wanted {
            if self.session.control(control) != Some(to) {
                self.set(control, to);
                changed = true;
            }
        }
        if changed && wait_s > 0.0 {
            self.wait(wait_s as u32);
        }
    }

    /// Makes a test in the state the car is in.
    pub fn probe(&mut self, probe: &Probe) {
        match probe {
            Probe::Light { to_positive, point } => {
                self.clip(*to_positive);
                self.touch(ToolKind::TestLight, point);
            }
            Probe::Sweep {
                to_positive,
                socket,
            } => {
                self.clip(*to_positive);
                self.sweep(socket);
            }
            Probe::Volts { point } => {
                self.at("battery_tray");
                self.act(Action::Dial(Dial::Volts));
                self.act(Action::Put {
                    tool: ToolKind::Meter,
                    lead: Lead::Black,
                    point: "bat:neg".into(),
                });
                self.touch(ToolKind::Meter, point);
            }
            Probe::Look { place } => {
                self.look(place);
            }
            Probe::Feel { place } => {
                self.at(place);
                self.act(Action::Feel(place.clone()));
            }
            Probe::Inspect { what } => {
                let plug = self.session.case().vehicle.connectors.contains_key(what);
                if plug {
                    self.unplug(what);
                } else {
                    self.pull(what);
                }
                self.act(Action::Inspect(what.clone()));
                if plug {
                    self.act(Action::Plug(what.clone()));
                } else {
                    self.fit(what, Item::Original);
                }
            }
            Probe::Press { connector } => {
                self.at(&self.place_of(connector));
                self.act(Action::Plug(connector.clone()));
            }
            Probe::Gauge => {
                self.at("service_low");
                self.act(Action::Protect);
                self.act(Action::Gauge(true));
            }
            Probe::Swap { part } => {
                self.pull(part);
                self.fit(part, Item::Spare);
                self.meet_complaint();
            }
            Probe::Ohms { a, b } => {
                let part = a.split(['.', ':']).next().unwrap_or_default().to_owned();
                let was_in = !self.session.view().pulled.contains(&part);
                self.pull(&part);
                self.act(Action::Dial(Dial::Ohms));
                self.at(&self.place_of(b));
                let (tool, lead) = (ToolKind::Meter, Lead::Black);
                self.act(Action::Put {
                    tool,
                    lead,
                    point: b.clone(),
                });
                self.touch(tool, a);
                self.act(Action::Lift { tool, lead });
                if was_in {
                    self.fit(&part, Item::Original);
                }
            }
            Probe::Bridge { socket } => {
                let (tool, place) = (ToolKind::FusedJumper, self.place_of(socket));
                self.at(&place);
                let ends = [
                    (Lead::A, self.cavity(socket, "30")),
                    (Lead::B, self.cavity(socket, "87")),
                ];
                for (lead, point) in ends {
                    self.act(Action::Put { tool, lead, point });
                }
                for lead in [Lead::A, Lead::B] {
                    self.act(Action::Lift { tool, lead });
                }
            }
        }
    }

    /// Tries the complaint as a driver has it: runs the car, feels the air, looks at the clutch.
    pub fn meet_complaint(&mut self) {
        self.set("exhaust_hose", "on");
        if !self.session.engine_running() {
            self.set("key", "start");
            self.wait(2);
        }
        self.set("blower", "3");
        self.set("ac", "on");
        self.wait(60);
        self.act(Action::Feel("vents".into()));
        self.look("compressor_low");
    }

    /// Takes tools and spares off, puts back what is off, turns off what is on.
    pub fn put_back(&mut self, spares_too: bool) {
        if self.session.control("key") != Some("off") {
            for (control, to) in [("ac", "off"), ("blower", "off"), ("key", "off")] {
                self.set(control, to);
            }
        }
        let view = self.session.view();
        self.at("battery_tray");
        if view.gauge_on {
            self.act(Action::Protect);
            self.act(Action::Gauge(false));
        }
        for (tool, leads) in view.leads {
            for lead in leads.into_keys() {
                self.act(Action::Lift { tool, lead });
            }
        }
        if view.breakout.is_some() {
            self.act(Action::Breakout(None));
        }
        for part in view.spares_fitted.iter().filter(|_| spares_too) {
            self.pull(part);
        }
        let view = self.session.view();
        for part in &view.pulled {
            self.fit(part, Item::Original);
        }
        for plug in &view.unplugged {
            self.at(&self.place_of(plug));
            self.act(Action::Plug(plug.clone()));
        }
    }

    /// Leaves the car as a customer wants it and gives it back.
    pub fn hand_back(&mut self, cause: &str, correction: &str) {
        if self.session.station() == Station::Seat {
            self.go(Station::Bay);
        }
        self.act(Action::Light(None));
        for cover in self.session.view().uncovered {
            self.act(Action::Cover(cover));
        }
        if self.session.control("exhaust_hose") == Some("on") {
            self.set("exhaust_hose", "off");
        }
        self.act(Action::HandBack {
            complaint: "Air conditioning does not cool.".into(),
            cause: cause.into(),
            correction: correction.into(),
        });
    }
}
