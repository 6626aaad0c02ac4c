//! The watch: goes along with a session and says, step by step, which rules were broken.
//!
//! Applies the conditions of [`super::file`]; gives no points and changes nothing.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tracebay_core::circuit::SolveError;
use tracebay_core::scenario::Case;
use tracebay_core::session::{
    Action, MeterDisplay, Observation, PointInfo, Refusal, Session, Touch, View,
};
use tracebay_core::tools::ToolKind;
use tracebay_core::vehicle::{Drives, Kind, Role, Vehicle, split_pin};

use super::bridge::{Bench, Hookups};
use super::light::Lights;
use super::wiring::{Walk, Wiring};
use super::zones::{bare_hand_at, guarded, hand_at};
use super::{Condition, EngineIs, PartKind, Rule, Rules, Severity, Zone};

/// Fan speed, as a fraction of rated, from which it counts as turning.
const TURNS: f64 = 0.05;

/// A rule broken by an action.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Breach {
    /// The rule's id.
    pub rule: String,
    /// The rule's own severity; a rubric may set another.
    pub severity: Severity,
    /// Number of the action, from 0, that broke it.
    pub step: usize,
}

/// Goes along with a session.
pub struct Watch {
    rules: Rules,
    case: Arc<Case>,
    points: Vec<PointInfo>,
    wiring: Wiring,
    before: View,
    steps: usize,
    lights: Lights,
    /// Rules that count once and have been broken.
    spent: BTreeSet<usize>,
}

/// One step as the conditions see it.
struct Scene<'a> {
    session: &'a Session,
    before: &'a View,
    after: &'a View,
    action: &'a Action,
    seen: &'a [Observation],
    /// The tools on the car before the action, and during and after it.
    hookups: Hookups<'a>,
}

impl Watch {
    /// A watch from now on: from the start of a session, before its first action, to judge an
    /// attempt.
    pub fn new(rules: &Rules, session: &mut Session) -> Watch {
        let points = session.points().to_vec();
        Watch {
            rules: rules.clone(),
            case: session.case().clone(),
            wiring: Wiring::new(session.case(), &points),
            points,
            before: session.view(),
            steps: 0,
            lights: Lights::default(),
            spent: BTreeSet::new(),
        }
    }

    /// Takes in an action the session has performed and what it showed; the session is as it is
    /// after it. Must be told of every action, in order.
    pub fn step(
        &mut self,
        after: &mut Session,
        action: &Action,
        seen: &[Observation],
    ) -> Vec<Breach> {
        let step = self.steps;
        self.steps += 1;
        let now = after.view();
        self.lights
            .note(step, &self.before, &now, action, seen, &self.wiring);
        let broken = self.broken_by(after, &now, action, seen);
        let mut breaches = Vec::new();
        for (i, earlier) in broken {
            let rule = &self.rules.rules[i];
            if rule.once {
                self.spent.insert(i);
            }
            breaches.push(Breach {
                rule: rule.id.clone(),
                severity: rule.severity,
                step: earlier.unwrap_or(step),
            });
        }
        self.before = now;
        breaches
    }

    /// Rules that an action would break if it were done now, told without doing it: for planning.
    /// Rules that rest on what an action shows are not asked. The session is the one watched, as it
    /// is now.
    pub fn would_break(&self, session: &Session, action: &Action) -> Vec<&Rule> {
        self.broken_by(session, &self.before, action, &[])
            .into_iter()
            .map(|(i, _)| &self.rules.rules[i])
            .collect()
    }

    /// Indices of the rules an action breaks, with the step that did it where that was an earlier
    /// one.
    fn broken_by(
        &self,
        session: &Session,
        after: &View,
        action: &Action,
        seen: &[Observation],
    ) -> Vec<(usize, Option<usize>)> {
        let scene = Scene {
            session,
            before: &self.before,
            after,
            action,
            seen,
            hookups: Bench {
                vehicle: &self.case.vehicle,
                points: &self.points,
                wiring: &self.wiring,
            }
            .hookups(&self.before, action, after),
        };
        (0..self.rules.rules.len())
            .filter(|i| !self.spent.contains(i))
            .filter_map(|i| Some((i, self.broken(&self.rules.rules[i].when, &scene)?)))
            .collect()
    }

    fn vehicle(&self) -> &Vehicle {
        &self.case.vehicle
    }

    /// Whether a condition is met; inside, the step that did it where it was an earlier one.
    fn broken(&self, when: &Condition, s: &Scene<'_>) -> Option<Option<usize>> {
        let vehicle = self.vehicle();
        let safe = |guards: &[super::Guard], view: &View| guarded(guards, vehicle, view);
        let met = match when {
            Condition::HandAt { zone, unless } => !safe(unless, s.before) && self.in_zone(*zone, s),
            Condition::Starts { unless } => self.turns_starter_key(s) && !safe(unless, s.before),
            Condition::EngineRuns { unless } => {
                let unsafe_now = |v: &View| v.engine_running && !safe(unless, v);
                unsafe_now(s.after) && !unsafe_now(s.before)
            }
            Condition::Opens { covers, unless } => {
                matches!(s.action, Action::Uncover(c) if covers.contains(c))
                    && !safe(unless, s.before)
            }
            Condition::LeftOff { covers } => {
                matches!(s.action, Action::HandBack { .. })
                    && covers.iter().any(|c| s.before.uncovered.contains(c))
            }
            Condition::Hose {
                engine,
                connecting,
                unless,
            } => match s.action {
                Action::Gauge(on) => {
                    connecting.is_none_or(|c| c == *on)
                        && engine_is(*engine, s.before)
                        && !safe(unless, s.before)
                }
                _ => false,
            },
            Condition::Bridge {
                links,
                between,
                engine,
                unless,
            } => s.hookups.bridges(links, *between, |car| {
                engine_is(*engine, car) && !safe(unless, car)
            }),
            Condition::LightUnproved { any_lit_proves } => {
                let relies = matches!(s.action, Action::Call { .. } | Action::Repair { .. });
                return relies
                    .then(|| self.lights.unproved(*any_lit_proves))
                    .flatten()
                    .map(Some);
            }
            Condition::OhmsOnLive => {
                // Standing there with a wrong reading before one's eyes is no second mistake.
                shows_nonsense(s.seen)
                    && (moves_meter(s.action) || !shows_nonsense(&s.before.readings))
            }
            Condition::ToolFuseBlows { tools } => s
                .seen
                .iter()
                .any(|o| matches!(o, Observation::ToolFuseBlew { tool } if tools.contains(tool))),
            Condition::SparkAtBattery => s.seen.iter().any(|o| {
                matches!(o, Observation::Spark { point, strong: true }
                    if self.wiring.on_battery(point))
            }),
            Condition::BatteryClampOrder => self.clamps_in_wrong_order(s),
            Condition::UnitPlugLive => self.unit_plug_live(s),
            Condition::Sprays {
                zone,
                kinds,
                engine,
                unless,
            } => match s.action {
                Action::Spray(place) => {
                    engine_is(*engine, s.before)
                        && !safe(unless, s.before)
                        && zone.is_none_or(|zone| self.wets_zone(zone, place, s))
                        && (kinds.is_empty() || kinds.iter().any(|k| self.stands_at(place, *k)))
                }
                _ => false,
            },
            Condition::Repairs { methods, kinds } => match s.action {
                Action::Repair { target, method } => {
                    methods.contains(method)
                        && (kinds.is_empty() || kinds.iter().any(|k| self.is_of(target, *k)))
                }
                _ => false,
            },
        };
        met.then_some(None)
    }

    fn turns_starter_key(&self, s: &Scene<'_>) -> bool {
        matches!(s.action, Action::Set { control, to } if to == "start"
            && self.vehicle().controls.get(control).is_some_and(|c| c.role == Role::Key))
    }

    fn is_of(&self, part: &str, kind: PartKind) -> bool {
        let Some(part) = self.vehicle().parts.get(part) else {
            return false;
        };
        match kind {
            PartKind::Battery => matches!(part.kind, Kind::Battery { .. }),
            PartKind::RefrigerantSensor => matches!(
                part.kind,
                Kind::PressureSensor { .. } | Kind::PressureSwitch { .. }
            ),
            PartKind::ControlUnit => matches!(part.kind, Kind::ControlUnit(_)),
            PartKind::Alternator => matches!(part.kind, Kind::Alternator { .. }),
        }
    }

    /// A part of this kind is at a place.
    fn stands_at(&self, place: &str, kind: PartKind) -> bool {
        let parts = &self.vehicle().parts;
        parts
            .iter()
            .any(|(id, p)| p.place == place && self.is_of(id, kind))
    }

    /// Water goes into a zone. The bottle reaches further than a hand does.
    fn wets_zone(&self, zone: Zone, place: &str, s: &Scene<'_>) -> bool {
        let data = self.vehicle().places.get(place);
        match zone {
            Zone::MovingParts => s.before.engine_running && data.is_some_and(|p| p.moving_parts),
            Zone::Hot => data.is_some_and(|p| p.hot) && too_hot(s.session, place),
            // Nobody's hand is near it.
            Zone::FanAbleToStart => false,
        }
    }

    fn in_zone(&self, zone: Zone, s: &Scene<'_>) -> bool {
        let vehicle = self.vehicle();
        if zone == Zone::Hot {
            let Some(place) = bare_hand_at(s.action, vehicle) else {
                return false;
            };
            return vehicle.places.get(place).is_some_and(|p| p.hot) && too_hot(s.session, place);
        }
        let places = hand_at(s.action, vehicle, &self.points, s.before);
        match zone {
            Zone::MovingParts => {
                s.before.engine_running
                    && places
                        .iter()
                        .any(|p| vehicle.places.get(*p).is_some_and(|p| p.moving_parts))
            }
            Zone::FanAbleToStart => {
                if s.before.engine_running {
                    return false;
                }
                let fans: Vec<&String> = vehicle
                    .parts
                    .iter()
                    .filter(|(_, p)| {
                        matches!(
                            p.kind,
                            Kind::Motor {
                                drives: Drives::CoolingFan,
                                ..
                            }
                        ) && places.contains(p.place.as_str())
                    })
                    .map(|(id, _)| id)
                    .collect();
                if fans.is_empty() {
                    return false;
                }
                let nets = self.wiring.nets(vehicle, s.before, Walk::UnitsMaySwitch);
                fans.iter().any(|fan| {
                    nets.load_runs(fan)
                        || s.before.motion.motors.get(*fan).is_some_and(|w| *w > TURNS)
                })
            }
            Zone::Hot => false,
        }
    }

    fn clamps_in_wrong_order(&self, s: &Scene<'_>) -> bool {
        let clamp = |pin: &str| {
            self.vehicle()
                .connectors
                .iter()
                .find(|(_, c)| {
                    c.pins.iter().any(|p| {
                        split_pin(p).is_some_and(|(part, at)| {
                            at == pin && self.is_of(part, PartKind::Battery)
                        })
                    })
                })
                .map(|(id, _)| id)
        };
        let (Some(positive), Some(negative)) = (clamp("pos"), clamp("neg")) else {
            return false;
        };
        let off = |id: &String| s.before.unplugged.contains(id);
        match s.action {
            Action::Unplug(id) => id == positive && !off(negative),
            Action::Plug(id) => id == negative && off(negative) && off(positive),
            _ => false,
        }
    }

    fn unit_plug_live(&self, s: &Scene<'_>) -> bool {
        let vehicle = self.vehicle();
        let id = match s.action {
            Action::Unplug(id) => id,
            Action::Plug(id) if s.before.unplugged.contains(id) => id,
            _ => return false,
        };
        let Some(connector) = vehicle.connectors.get(id) else {
            return false;
        };
        let nets = self.wiring.nets(vehicle, s.before, Walk::AsIs);
        vehicle.parts.iter().any(|(part, data)| {
            let Kind::ControlUnit(unit) = &data.kind else {
                return false;
            };
            connector
                .pins
                .iter()
                .any(|p| split_pin(p).is_some_and(|(owner, _)| owner == part))
                && nets.supply_arrives(part, unit)
        })
    }
}

fn engine_is(wanted: Option<EngineIs>, view: &View) -> bool {
    wanted.is_none_or(|w| (w == EngineIs::Running) == view.engine_running)
}

/// The meter is on ohms and the number means nothing.
fn shows_nonsense(seen: &[Observation]) -> bool {
    seen.iter().any(|o| {
        matches!(
            o,
            Observation::Meter {
                display: MeterDisplay::Nonsense { .. },
                ..
            }
        )
    })
}

/// The learner did something with the meter.
fn moves_meter(action: &Action) -> bool {
    match action {
        Action::Put { tool, .. } | Action::Touch { tool, .. } | Action::Sweep { tool, .. } => {
            *tool == ToolKind::Meter
        }
        Action::Dial(_) => true,
        _ => false,
    }
}

/// A hand would find the place too hot to hold, tried on a copy.
fn too_hot(session: &Session, place: &str) -> bool {
    let felt = session.clone().perform(&Action::Feel(place.to_owned()));
    felt.is_ok_and(|seen| {
        seen.iter().any(|o| {
            matches!(
                o,
                Observation::Felt {
                    touch: Touch::Hot,
                    ..
                }
            )
        })
    })
}

/// Why an attempt could not be watched.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum WatchError {
    /// The car cannot be computed.
    #[error("{0}")]
    Cannot(#[from] SolveError),
    /// An action that the session refuses.
    #[error("action {n} is not possible at that point of the session")]
    Refused {
        /// Its number, from 0.
        n: usize,
        /// Why.
        why: Refusal,
    },
}

/// Performs actions on a case and says which rules were broken.
///
/// # Errors
/// An action that the session refuses, or a car that cannot be computed.
pub fn watch_all(
    rules: &Rules,
    case: &Arc<Case>,
    actions: &[Action],
) -> Result<Vec<Breach>, WatchError> {
    let mut session = Session::new(case.clone())?;
    let mut watch = Watch::new(rules, &mut session);
    let mut breaches = Vec::new();
    for (n, action) in actions.iter().enumerate() {
        let seen = session
            .perform(action)
            .map_err(|why| WatchError::Refused { n, why })?;
        breaches.extend(watch.step(&mut session, action, &seen));
    }
    Ok(breaches)
}
