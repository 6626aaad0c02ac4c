//! How the job was begun and left: complaint met before work, the same test after the repair,
//! everything put back.
//!
//! Knows the kinds of complaint, not the scenarios; gives no points and asks nothing about the
//! hidden fault.

mod senses;
#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tracebay_core::fault::Method;
use tracebay_core::scenario::{Case, Shows, Step};
use tracebay_core::session::{Action, Observation, Session, Touch, View};
use tracebay_core::tools::ToolKind;
use tracebay_core::vehicle::{Kind, Role};

use crate::safety::WatchError;
use senses::{Sense, senses};

/// One habit, and the step that earned or lost it.
#[derive(Copy, Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Habit {
    /// It was kept.
    pub kept: bool,
    /// Number of the action, from 0, that earned it or lost it; none where nothing was ever done
    /// about it.
    pub step: Option<usize>,
}

/// How the job was begun and left.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Finish {
    /// The complaint was met, with the car as a driver has it, before the first invasive action.
    pub reproduced_before_work: Habit,
    /// With the car as it was handed back, the complaint was tried again with the same senses.
    pub retested_same_way: Habit,
    /// With the car as it was handed back, the air was felt or measured; none where the complaint
    /// is not about cold air.
    pub checked_at_vent: Option<Habit>,
    /// All relays are in their sockets.
    pub relays_in: Habit,
    /// All fuses are in their slots, none of them blown on the way.
    pub fuses_in: Habit,
    /// All plugs are on.
    pub plugs_on: Habit,
    /// All covers and caps are on.
    pub covers_on: Habit,
    /// No lead, breakout, gauge or lamp was left on the car.
    pub tools_off: Habit,
    /// The key is off.
    pub key_off: Habit,
    /// No spare of the bench was left in the car.
    pub spares_back: Habit,
    /// Slots that still hold a spare of the bench.
    pub spares_left_in: Vec<String>,
    /// Fuses in their slots that blew on the way.
    pub blown_left_in: Vec<String>,
    /// The car was handed back with all three lines of the work order written.
    pub handed_back: Habit,
}

/// Seconds in the complaint's state after which delays are over; complaints that show sooner are
/// written with shorter waits.
const LONG_ENOUGH_S: f64 = 10.0;
/// Waits up to this many seconds only let a load do what it does at once.
const AT_ONCE_S: f64 = 5.0;

/// States of the car that are watched to the end.
const HABITS: usize = 7;

/// Goes along with a session and notes how the job is begun and left.
pub struct FinishWatch {
    case: Arc<Case>,
    before: View,
    steps: usize,
    /// Work has begun: something was opened, moved or bridged.
    invaded: Option<usize>,
    changed: Option<usize>,
    tried_to_start: bool,
    in_state_since: Option<u64>,
    met_before: BTreeMap<Sense, usize>,
    met_after: BTreeMap<Sense, usize>,
    /// What was wet when the complaint was met before the work.
    wet_before: BTreeSet<String>,
    habits: [(bool, Option<usize>); HABITS],
    order: Option<(bool, usize)>,
    blown_left_in: Vec<String>,
}

impl FinishWatch {
    /// From the start of a session, before its first action.
    pub fn new(session: &mut Session) -> FinishWatch {
        let before = session.view();
        let case = session.case().clone();
        let blown = blown(session);
        FinishWatch {
            habits: habits(&case, &before, &blown).map(|kept| (kept, None)),
            case,
            before,
            steps: 0,
            invaded: None,
            changed: None,
            tried_to_start: false,
            in_state_since: None,
            met_before: BTreeMap::new(),
            met_after: BTreeMap::new(),
            wet_before: BTreeSet::new(),
            order: None,
            blown_left_in: blown,
        }
    }

    /// Takes in an action the session has performed and what it showed; the session is as it is
    /// after it.
    pub fn step(&mut self, after: &mut Session, action: &Action, seen: &[Observation]) {
        let step = self.steps;
        self.steps += 1;
        let now = after.view();
        if self.invaded.is_none() && invasive(action) {
            self.invaded = Some(step);
        }
        if changes(action, seen) {
            self.changed = Some(step);
            self.met_after.clear();
            self.in_state_since = None;
            self.tried_to_start = false;
        } else if matches!(action, Action::Repair { .. }) {
            self.changed = Some(step);
        }
        self.note_state(&now, action);
        if self.long_enough(&now) {
            for sense in senses(&self.case, after, action, seen) {
                if self.invaded.is_none() && self.weather_is_met(&now) {
                    self.met_before.entry(sense).or_insert(step);
                    self.wet_before.extend(now.wet.iter().cloned());
                }
                if whole(&now) && self.weather_is_met(&now) && self.wet_again(&now) {
                    self.met_after.entry(sense).or_insert(step);
                }
            }
        }
        let blown = blown(after);
        let kept = habits(&self.case, &now, &blown);
        for (habit, kept) in self.habits.iter_mut().zip(kept) {
            if habit.0 != kept {
                *habit = (kept, Some(step));
            }
        }
        self.blown_left_in = blown;
        if let Action::HandBack {
            complaint,
            cause,
            correction,
        } = action
        {
            let written = [complaint, cause, correction]
                .iter()
                .all(|line| !line.trim().is_empty());
            self.order = Some((written, step));
        }
        self.before = now;
    }

    /// How the job was begun and left, as far as the session went.
    pub fn finish(&self) -> Finish {
        let habit = |i: usize| Habit {
            kept: self.habits[i].0,
            step: self.habits[i].1,
        };
        let air = matches!(self.case.scenario.symptom.shows, Shows::NoColdAir { .. });
        let at_vent = [Sense::AirFelt, Sense::AirMeasured]
            .iter()
            .filter_map(|s| self.met_after.get(s))
            .min();
        let vent = match at_vent.filter(|_| self.changed.is_some()) {
            Some(step) => Habit {
                kept: true,
                step: Some(*step),
            },
            None => Habit {
                kept: false,
                step: self.changed,
            },
        };
        Finish {
            reproduced_before_work: match self.met(&self.met_before) {
                Some(step) => Habit {
                    kept: true,
                    step: Some(step),
                },
                None => Habit {
                    kept: false,
                    step: self.invaded,
                },
            },
            retested_same_way: self.retested(),
            checked_at_vent: air.then_some(vent),
            relays_in: habit(0),
            fuses_in: habit(1),
            plugs_on: habit(2),
            covers_on: habit(3),
            tools_off: habit(4),
            key_off: habit(5),
            spares_back: habit(6),
            spares_left_in: self.before.spares_fitted.iter().cloned().collect(),
            blown_left_in: self.blown_left_in.clone(),
            handed_back: match self.order {
                Some((kept, step)) => Habit {
                    kept,
                    step: Some(step),
                },
                None => Habit {
                    kept: false,
                    step: None,
                },
            },
        }
    }

    /// What is complained of in the rain is met with water on the car.
    fn weather_is_met(&self, now: &View) -> bool {
        !self.case.rain() || !now.wet.is_empty()
    }

    /// Where the complaint was met wet, something of what was wet then is wet again.
    fn wet_again(&self, now: &View) -> bool {
        self.wet_before.is_empty() || !self.wet_before.is_disjoint(&now.wet)
    }

    /// Whether the car is in the state in which the complaint shows, and since when.
    fn note_state(&mut self, now: &View, action: &Action) {
        let vehicle = &self.case.vehicle;
        if let Action::Set { control, to } = action
            && to == "start"
            && vehicle
                .controls
                .get(control)
                .is_some_and(|c| c.role == Role::Key)
        {
            self.tried_to_start = true;
        }
        let mut wanted: BTreeMap<&str, &str> = BTreeMap::new();
        for step in &self.case.scenario.symptom.steps {
            if let Step::Set(control, to) = step {
                wanted.insert(control, to);
            }
        }
        let no_start = matches!(self.case.scenario.symptom.shows, Shows::NoStart);
        let so = wanted.iter().all(|(control, to)| {
            let data = vehicle.controls.get(*control);
            let at = now.controls.get(*control).map(String::as_str);
            match data.map(|c| c.role) {
                Some(Role::Key) if *to == "start" => {
                    now.engine_running || (no_start && self.tried_to_start)
                }
                // Any speed of the blower shows whether air comes and how cold it is.
                Some(Role::Blower) => {
                    let rest = data.and_then(|c| c.positions.first()).map(String::as_str);
                    (at == rest) == (rest == Some(*to))
                }
                _ => at == Some(*to),
            }
        });
        self.in_state_since = so.then(|| self.in_state_since.unwrap_or(now.ticks));
    }

    fn long_enough(&self, now: &View) -> bool {
        let Some(since) = self.in_state_since else {
            return false;
        };
        let last_wait = self
            .case
            .scenario
            .symptom
            .steps
            .iter()
            .rev()
            .find_map(|s| match s {
                Step::Wait(seconds) => Some(*seconds),
                _ => None,
            })
            .unwrap_or(0.0);
        let needed_s = if last_wait <= AT_ONCE_S {
            0.0
        } else {
            last_wait.min(LONG_ENOUGH_S)
        };
        now.ticks.saturating_sub(since) as f64 >= 10.0 * needed_s
    }

    /// The step at which the complaint had been met in full, if it was.
    fn met(&self, met: &BTreeMap<Sense, usize>) -> Option<usize> {
        let at = |s: Sense| met.get(&s).copied();
        match self.case.scenario.symptom.shows {
            Shows::NoColdAir { .. } => {
                let air = [Sense::AirFelt, Sense::AirMeasured]
                    .into_iter()
                    .filter_map(at)
                    .min();
                let both = air.zip(at(Sense::Clutch)).map(|(a, c)| a.max(c));
                // Without air there is nothing to learn from the clutch yet.
                [both, at(Sense::AirMissing)].into_iter().flatten().min()
            }
            Shows::NoStart => at(Sense::Started),
            Shows::Weak { .. } | Shows::Unwanted { .. } => at(Sense::Load),
        }
    }

    fn retested(&self) -> Habit {
        let lost = Habit {
            kept: false,
            step: self.changed,
        };
        let (Some(_), Some(step)) = (self.changed, self.met(&self.met_after)) else {
            return lost;
        };
        // What was felt with the hand is felt again, what was measured is measured again.
        let air = [Sense::AirFelt, Sense::AirMeasured];
        let used: Vec<Sense> = air
            .into_iter()
            .filter(|s| self.met_before.contains_key(s))
            .collect();
        let again = used
            .iter()
            .filter_map(|s| self.met_after.get(s))
            .min()
            .copied();
        match (used.is_empty(), again) {
            (true, _) => Habit {
                kept: true,
                step: Some(step),
            },
            (false, Some(again)) => Habit {
                kept: true,
                step: Some(step.max(again)),
            },
            (false, None) => lost,
        }
    }
}

/// Opens, moves, joins or replaces something: the car is no longer as the customer brought it.
/// Looking, listening, feeling, measuring and taking covers off leave it as it is.
fn invasive(action: &Action) -> bool {
    match action {
        Action::Pull(_)
        | Action::Fit { .. }
        | Action::Unplug(_)
        | Action::Plug(_)
        | Action::Wiggle(_)
        | Action::Breakout(Some(_))
        | Action::Gauge(true)
        | Action::Repair { .. } => true,
        Action::Put { tool, .. } | Action::Touch { tool, .. } | Action::Sweep { tool, .. } => {
            matches!(tool, ToolKind::FusedJumper | ToolKind::PlainJumper)
        }
        _ => false,
    }
}

/// Changes the car so that an earlier re-test no longer speaks for it.
fn changes(action: &Action, seen: &[Observation]) -> bool {
    match action {
        Action::Pull(_) | Action::Fit { .. } | Action::Unplug(_) => true,
        Action::Plug(_) => seen.iter().any(|o| {
            matches!(
                o,
                Observation::Felt {
                    touch: Touch::PlugMoved,
                    ..
                }
            )
        }),
        Action::Repair { method, .. } => *method != Method::Explain,
        _ => false,
    }
}

/// Nothing is out, off or bridged: a try with the car like this speaks for it.
fn whole(view: &View) -> bool {
    let bridged = [ToolKind::FusedJumper, ToolKind::PlainJumper]
        .iter()
        .any(|t| view.leads.get(t).is_some_and(|l| l.len() == 2));
    view.pulled.is_empty() && view.unplugged.is_empty() && !bridged
}

fn blown(session: &Session) -> Vec<String> {
    session
        .blown_in_place()
        .into_iter()
        .map(str::to_owned)
        .collect()
}

/// Which of the habits hold in a state, in the order of [`Finish`].
fn habits(case: &Case, view: &View, blown: &[String]) -> [bool; HABITS] {
    let kind = |id: &String| case.vehicle.parts.get(id).map(|p| &p.kind);
    let relays_out = view
        .pulled
        .iter()
        .any(|id| matches!(kind(id), Some(Kind::Relay(_))));
    let fuses_out = view
        .pulled
        .iter()
        .any(|id| matches!(kind(id), Some(Kind::Fuse { .. })));
    let key_off = case
        .vehicle
        .controls
        .iter()
        .filter(|(_, c)| c.role == Role::Key)
        .all(|(id, _)| view.controls.get(id).is_some_and(|p| p == "off"));
    [
        !relays_out,
        !fuses_out && blown.is_empty(),
        view.unplugged.is_empty(),
        view.uncovered.is_empty(),
        view.leads.is_empty()
            && view.breakout.is_none()
            && !view.gauge_on
            && view.lamp_at.is_none(),
        key_off,
        view.spares_fitted.is_empty(),
    ]
}

/// Performs actions on a case and says how the job was begun and left.
///
/// # Errors
/// An action that the session refuses, or a car that cannot be computed.
pub fn finish(case: &Arc<Case>, actions: &[Action]) -> Result<Finish, WatchError> {
    let mut session = Session::new(case.clone())?;
    let mut watch = FinishWatch::new(&mut session);
    for (n, action) in actions.iter().enumerate() {
        let seen = session
            .perform(action)
            .map_err(|why| WatchError::Refused { n, why })?;
        watch.step(&mut session, action, &seen);
    }
    Ok(watch.finish())
}
