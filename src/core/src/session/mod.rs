//! A case being worked on: [`Session::perform`] is the only way to change it.
//!
//! A session is a pure function of its case and the actions performed: the same bits on every
//! platform. It knows nothing of scores, pictures, files or clocks.

pub mod action;
mod car;
mod climate;
mod engine;
mod hands;
mod may;
pub mod minutes;
pub mod observation;
mod points;
mod probe;
pub mod refusal;
mod senses;
mod symptom;
mod unit;
pub mod view;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

pub use action::{Action, Item};
pub use car::in_the_weather;
pub use observation::{Dash, Finding, MeterDisplay, Observation, Sound, Touch};
pub use refusal::Refusal;
pub(crate) use senses::place_in;
pub use view::{BladeSize, Motion, PointInfo, PointKind, View};

use crate::circuit::{Network, SolveError};
use crate::fault::{Failure, Method};
use crate::scenario::Case;
use crate::tools::{Dial, Lead, ToolKind};
use crate::vehicle::Station;
use car::Car;
use points::Points;
use probe::ToolState;

/// Longest wait in one action, ticks: two hours.
pub const MAX_WAIT_TICKS: u32 = 72_000;
/// Longest note or work-order line, characters.
pub const MAX_TEXT: usize = 2_000;
/// Share of its rated speed below which friction holds a motor (our judgement, no source): leakage
/// through the insulation must not turn a fan.
const MOTOR_HELD_BELOW: f64 = 0.01;

/// An action with what it showed.
pub type Record = (Action, Vec<Observation>);

/// Why an action was not done, and what that left of the session.
#[derive(Debug)]
enum Spoilt {
    /// Refused before anything was done.
    AsItWas(Refusal),
    /// Failed half way.
    Changed(Refusal),
}

impl Spoilt {
    fn refusal(self) -> Refusal {
        match self {
            Spoilt::AsItWas(refusal) | Spoilt::Changed(refusal) => refusal,
        }
    }
}

/// A case being worked on.
#[derive(Clone)]
pub struct Session {
    case: Arc<Case>,
    car: Car,
    points: Arc<Points>,
    station: Station,
    protected: bool,
    uncovered: BTreeSet<String>,
    lamp_at: Option<String>,
    gauge_on: bool,
    tools: BTreeMap<ToolKind, ToolState>,
    dial: Dial,
    calls: Vec<(String, Failure)>,
    repairs: Vec<(String, Method)>,
    handed_back: bool,
    /// Minutes of actions; waiting is counted in ticks, so that split waits add up the same.
    acted_minutes: f64,
    waited_ticks: u64,
    log: Vec<Record>,
    /// Something was done to the car that is not in the log.
    driven: bool,
}

impl Session {
    /// The car as the customer left it.
    ///
    /// # Errors
    /// The car's circuits have no operating point; the check of files finds such vehicles.
    pub fn new(case: Arc<Case>) -> Result<Session, SolveError> {
        Session::open(case, None)
    }

    /// As [`Session::new`], but sooner, where a session on the same car with another fault is at hand:
    /// what does not depend on the fault is taken from it. Gives the same session to the last bit.
    ///
    /// # Errors
    /// As [`Session::new`].
    pub fn beside(other: &Session, case: Arc<Case>) -> Result<Session, SolveError> {
        let same_car = Arc::ptr_eq(&case.vehicle, &other.case.vehicle)
            && case.arrangements == other.case.arrangements;
        Session::open(case, same_car.then_some(other))
    }

    fn open(case: Arc<Case>, like: Option<&Session>) -> Result<Session, SolveError> {
        Ok(Session {
            car: Car::new(case.clone(), like.map(|other| &other.car))?,
            points: match like {
                Some(other) => other.points.clone(),
                None => Arc::new(Points::new(&case)),
            },
            station: case.vehicle.first_station(),
            protected: false,
            uncovered: BTreeSet::new(),
            lamp_at: None,
            gauge_on: false,
            tools: BTreeMap::from([(
                ToolKind::TestLight,
                ToolState {
                    dead: case.dead_bulb,
                    ..ToolState::default()
                },
            )]),
            dial: Dial::Off,
            calls: Vec::new(),
            repairs: Vec::new(),
            handed_back: false,
            case,
            acted_minutes: 0.0,
            waited_ticks: 0,
            log: Vec::new(),
            driven: false,
        })
    }

    /// The same session, nothing done in it yet, with sound tools in the roll.
    #[must_use]
    pub fn with_sound_tools(&self) -> Session {
        let mut session = self.clone();
        if self.case.dead_bulb {
            let case = Arc::new(self.case.with_sound_tools());
            session.case = case.clone();
            session.car.case = case;
            for tool in session.tools.values_mut() {
                tool.dead = false;
            }
        }
        session
    }

    /// The case.
    pub fn case(&self) -> &Arc<Case> {
        &self.case
    }

    /// Does one thing and says what the learner perceives. A refused action changes nothing.
    ///
    /// # Errors
    /// Why it cannot be done now.
    pub fn perform(&mut self, action: &Action) -> Result<Vec<Observation>, Refusal> {
        // What is not in the log cannot be done again, so a copy is kept.
        let kept = (self.driven && hands::can_fail(action)).then(|| self.clone());
        let done = self.perform_on_copy(action);
        if let Err(Spoilt::Changed(_)) = &done {
            *self = kept.unwrap_or_else(|| self.done_again());
        }
        done.map_err(Spoilt::refusal)
    }

    /// As [`Session::perform`] for a copy that is thrown away if the action fails: it need not be left
    /// as it was.
    ///
    /// # Errors
    /// As [`Session::perform`].
    pub fn try_out(&mut self, action: &Action) -> Result<Vec<Observation>, Refusal> {
        self.perform_on_copy(action).map_err(Spoilt::refusal)
    }

    fn perform_on_copy(&mut self, action: &Action) -> Result<Vec<Observation>, Spoilt> {
        self.check(action).map_err(Spoilt::AsItWas)?;
        let seen = self.carry_out(action).map_err(Spoilt::Changed)?;
        match action {
            Action::Wait(ticks) => self.waited_ticks += u64::from(*ticks),
            _ => self.acted_minutes += minutes::minutes(&self.case, action),
        }
        self.log.push((action.clone(), seen.clone()));
        Ok(seen)
    }

    /// A new session in which all of this one's log was done. A session is a function of its case and
    /// its actions, so that it is this one before what failed; that hardly ever happens, and a copy kept
    /// at every action would cost more than the actions do.
    fn done_again(&self) -> Session {
        let mut again = Session::new(self.case.clone()).expect("it began so before");
        for (action, _) in &self.log {
            again
                .perform_on_copy(action)
                .expect("what was done once can be done again");
        }
        again
    }

    /// What can be perceived now without doing anything.
    pub fn view(&mut self) -> View {
        let readings = self.readings();
        let mut leads: BTreeMap<ToolKind, BTreeMap<Lead, String>> = BTreeMap::new();
        for (tool, state) in &self.tools {
            if !state.leads.is_empty() {
                leads.insert(*tool, state.leads.clone());
            }
        }
        let car = &self.car;
        let slots = &car.hw.slots;
        View {
            station: self.station,
            minutes: self.minutes(),
            ticks: car.ticks,
            controls: car.hw.controls.clone(),
            dash: senses::dash(car),
            engine_running: car.engine.running(),
            protected: self.protected,
            uncovered: self.uncovered.clone(),
            pulled: slots
                .iter()
                .filter(|(_, s)| s.out)
                .map(|(p, _)| p.clone())
                .collect(),
            spares_fitted: slots
                .iter()
                .filter(|(_, s)| s.spare && !s.out)
                .map(|(p, _)| p.clone())
                .collect(),
            unplugged: car.hw.unplugged.clone(),
            lamp_at: self.lamp_at.clone(),
            leads,
            dial: self.dial,
            breakout: car.hw.breakout.clone(),
            gauge_on: self.gauge_on,
            blown_tools: self
                .tools
                .iter()
                .filter(|(_, s)| s.blown)
                .map(|(t, _)| *t)
                .collect(),
            readings,
            sounds: senses::sounds(car),
            motion: Motion {
                engine_rpm: car.engine.rpm,
                clutch_engaged: car.climate.as_ref().is_some_and(|c| c.engaged),
                motors: car
                    .loads
                    .iter()
                    .filter(|l| l.drives.is_some())
                    .map(|l| {
                        let share = car.working(l);
                        let held = share < MOTOR_HELD_BELOW;
                        (l.part.clone(), if held { 0.0 } else { share })
                    })
                    .collect(),
                lamps: car
                    .loads
                    .iter()
                    .filter(|l| l.drives.is_none())
                    .map(|l| (l.part.clone(), car.working(l)))
                    .collect(),
            },
            calls: self.calls.clone(),
            repairs: self.repairs.clone(),
            handed_back: self.handed_back,
            wet: car.wet_places().map(str::to_owned).collect(),
        }
    }

    /// All points of the car, reachable now or not, in a fixed order.
    pub fn points(&self) -> &[PointInfo] {
        &self.points.infos
    }

    /// Whether a point can be touched now.
    ///
    /// # Errors
    /// What is in the way.
    pub fn reach(&self, point: &str) -> Result<(), Refusal> {
        self.reach_from(self.station, point)
    }

    /// Whether a point could be touched from a station, with the car as it is now.
    ///
    /// # Errors
    /// What is in the way.
    pub fn reach_from(&self, station: Station, point: &str) -> Result<(), Refusal> {
        let index = self.points.find(point)?;
        self.points.reach(
            index,
            &self.case.vehicle,
            &self.car.hw,
            station,
            &self.uncovered,
        )
    }

    /// What is known of a point; none where there is no such point.
    pub fn point(&self, point: &str) -> Option<&PointInfo> {
        let index = self.points.find(point).ok()?;
        self.points.infos.get(index)
    }

    /// Actions done so far with what they showed.
    pub fn log(&self) -> &[Record] {
        &self.log
    }

    /// Job minutes so far.
    pub fn minutes(&self) -> f64 {
        self.acted_minutes + self.waited_ticks as f64 / 600.0
    }

    /// Position of a control.
    pub fn control(&self, id: &str) -> Option<&str> {
        self.car.hw.controls.get(id).map(String::as_str)
    }

    /// Where the learner stands.
    pub fn station(&self) -> Station {
        self.station
    }

    /// The engine runs under its own power.
    pub fn engine_running(&self) -> bool {
        self.car.engine.running()
    }

    /// The car has been handed back.
    pub fn handed_back(&self) -> bool {
        self.handed_back
    }

    /// Faults of the case that are still there, and outputs destroyed on the way. For the grader.
    pub fn still_wrong(&self) -> usize {
        self.car.hw.faults.iter().filter(|f| !f.mended).count() + self.car.hw.dead_outputs.len()
    }

    /// Outputs of a control unit destroyed on the way. For the grader.
    pub fn dead_outputs(&self, part: &str) -> usize {
        self.car
            .hw
            .dead_outputs
            .iter()
            .filter(|(p, _)| p == part)
            .count()
    }

    /// Fuses of the car that have blown during the session and stand in their slots. For the grader.
    pub fn blown_in_place(&self) -> Vec<&str> {
        self.car
            .hw
            .slots
            .iter()
            .filter(|(_, s)| s.blown() && !s.out)
            .map(|(p, _)| p.as_str())
            .collect()
    }

    /// What the tools put between nodes of the network now, for references and tests.
    pub fn attached(&self) -> &[crate::circuit::Attachment] {
        &self.car.tools
    }

    /// The operating point the car stands at, for references and tests.
    pub fn solution(&self) -> &crate::circuit::Solution {
        &self.car.solution
    }

    /// The network as it is now, for references and tests.
    pub fn network(&self) -> &Network {
        self.car.network()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{Catalogue, SourceFile};

    /// A failed action goes back by doing everything again: that must be the session it was.
    #[test]
    fn a_session_done_again_is_the_same_session() {
        let file = |name: &str, text: &str| SourceFile {
            name: name.to_owned(),
            text: text.to_owned(),
        };
        let vehicle = include_str!("../../../../scenarios/vehicles/ostrel-lindmoor.ron");
        let scenario = include_str!("../../../../scenarios/no-cold-air.ron");
        let (catalogue, problems) =
            Catalogue::load(&[file("vehicle", vehicle)], &[file("scenario", scenario)]);
        assert!(problems.is_empty(), "{problems:?}");
        let case = Arc::new(catalogue.draw("no-cold-air", 11).unwrap());
        let mut session = Session::new(case).unwrap();
        let set = |control: &str, to: &str| Action::Set {
            control: control.to_owned(),
            to: to.to_owned(),
        };
        let done = [
            Action::Go(Station::Bay),
            set("exhaust_hose", "on"),
            Action::Go(Station::Seat),
            set("key", "start"),
            set("blower", "3"),
            Action::Wait(95),
            Action::Go(Station::Bay),
            Action::Put {
                tool: ToolKind::TestLight,
                lead: Lead::Clip,
                point: "bat:neg".to_owned(),
            },
            Action::Touch {
                tool: ToolKind::TestLight,
                point: "bat:pos".to_owned(),
            },
        ];
        for action in &done {
            session.perform(action).unwrap();
        }
        let mut again = session.done_again();
        assert_eq!(again.log(), session.log());
        assert_eq!(again.solution(), session.solution());
        assert_eq!(again.minutes().to_bits(), session.minutes().to_bits());
        for action in [Action::Wait(200), set("ac", "on"), Action::Wait(300)] {
            assert_eq!(again.perform(&action), session.perform(&action));
        }
        assert_eq!(again.solution(), session.solution());
    }
}
