//! What is heard where one stands, as numbers for the synthesiser: what the session says sounds, and
//! what was just told in lines. Makes no samples and knows no device.
//!
//! A sound that the session does not tell is not made, so an ear learns nothing that a caption or a
//! `listen` could not have told.

use tracebay_core::session::{Action, Observation, Sound, Touch, View};
use tracebay_core::vehicle::{Drives, Kind, Station, Vehicle};
use tracebay_sound::{Event, Running, Source};

use super::{Desk, Line};

/// Both invented cars and the van have as many; their files do not say (invented).
const CYLINDERS: u8 = 4;
/// A starter on a weak battery, of its usual speed (common practice, no source).
const SLOW: f32 = 0.5;
/// A horn is made to be heard: through the bulkhead as well (common practice, no source).
const HORN_NEAR: f32 = 0.75;

/// How near something at one station is to somebody at another: the bulkhead and the bonnet take
/// most of it, between bay and fuse box there is nothing (common practice, no source).
fn near(ear: Station, at: Option<Station>) -> f32 {
    let Some(at) = at else { return 0.7 };
    match (ear, at) {
        _ if ear == at => 1.0,
        (Station::Bay, Station::Box) | (Station::Box, Station::Bay) => 0.85,
        (Station::Bench, _) | (_, Station::Bench) => 0.3,
        _ => 0.4,
    }
}

fn station(vehicle: &Vehicle, place: &str) -> Option<Station> {
    vehicle.places.get(place).map(|p| p.station)
}

/// How hard the motors at a place work that do this.
fn share(vehicle: &Vehicle, view: &View, at: &str, does: Drives) -> f32 {
    let at_work = view.motion.motors.iter().filter(|(id, _)| {
        vehicle.parts.get(*id).is_some_and(|part| {
            part.place == at && matches!(&part.kind, Kind::Motor { drives, .. } if *drives == does)
        })
    });
    at_work.map(|(_, s)| *s as f32).fold(0.0, f32::max)
}

/// What an ear has heard so far of a session.
///
/// Turning the key to start is one action, in which the session lets pass the seconds that the starter
/// turns. Here they are heard: the starter first, then what came after it.
#[derive(Clone, Debug, Default)]
pub struct Ear {
    /// Number of the first line not heard yet.
    line: u64,
    /// Car time when it last listened, ticks.
    ticks: u64,
    /// Seconds the starter is still heard.
    cranks_s: f32,
    /// How near it is.
    near: f32,
    /// What is heard after it.
    later: Vec<(Event, f32)>,
}

/// Of the time that turning the key to start takes, what is not cranking, seconds.
const SWITCH_S: f32 = 0.3;
/// The starter is heard so long at least and at most, seconds: a key is held no longer.
const CRANKS_S: (f32, f32) = (0.3, 4.0);

impl Ear {
    /// Listens again after `seconds`: what runs, what happened meanwhile and how near.
    pub fn hear(&mut self, desk: &Desk, seconds: f32) -> (Running, Vec<(Event, f32)>) {
        let mut events = Vec::new();
        let passed_s = desk.view().ticks.saturating_sub(self.ticks) as f32 / 10.0;
        self.cranks_s = (self.cranks_s - seconds).max(0.0);
        for (_, line) in desk.lines.since(self.line) {
            let (before, cranks, after) = told(desk, line);
            events.extend(before);
            if let Some(near) = cranks {
                self.cranks_s = (passed_s - SWITCH_S).clamp(CRANKS_S.0, CRANKS_S.1);
                self.near = near;
            }
            self.later.extend(after);
        }
        self.line = desk.lines.next();
        self.ticks = desk.view().ticks;
        let mut running = running(desk);
        if self.cranks_s > 0.0 {
            running.engine_rpm = 0.0;
            running.starter = Source {
                share: 1.0,
                near: self.near,
            };
        } else {
            events.append(&mut self.later);
        }
        (running, events)
    }

    /// Lets go by what happens.
    pub fn pass_over(&mut self, desk: &Desk) {
        *self = Ear {
            line: desk.lines.next(),
            ticks: desk.view().ticks,
            ..Ear::default()
        };
    }
}

/// Everything that sounds now.
fn running(desk: &Desk) -> Running {
    let (view, vehicle) = (desk.view(), &desk.session().case().vehicle);
    let mut running = Running {
        cylinders: CYLINDERS,
        ..Running::default()
    };
    for (sound, place) in &view.sounds {
        let near = near(view.station, station(vehicle, place));
        let works = |does| Source {
            share: share(vehicle, view, place, does),
            near,
        };
        let louder = |old: Source, new: Source| {
            if new.share * new.near > old.share * old.near {
                new
            } else {
                old
            }
        };
        match sound {
            Sound::Engine => {
                running.engine_rpm = view.motion.engine_rpm as f32;
                running.engine_near = near;
                let share = if view.motion.clutch_engaged { 1.0 } else { 0.0 };
                running.compressor = Source { share, near };
            }
            Sound::Cranking => running.starter = Source { share: 1.0, near },
            Sound::SlowCranking => running.starter = Source { share: SLOW, near },
            Sound::Blower => running.blower = louder(running.blower, works(Drives::Blower)),
            Sound::Fan => running.fan = louder(running.fan, works(Drives::CoolingFan)),
            Sound::Pump => running.pump = louder(running.pump, works(Drives::FuelPump)),
            Sound::Horn => {
                let near = near.max(HORN_NEAR);
                running.horn = louder(running.horn, Source { share: 1.0, near });
            }
            _ => {}
        }
    }
    running
}

/// What a line tells: what is heard first, how near a starter if it turned during the action, and what
/// is heard after that.
fn told(desk: &Desk, line: &Line) -> (Vec<(Event, f32)>, Option<f32>, Vec<(Event, f32)>) {
    let (mut before, mut cranks, mut after) = (Vec::new(), None, Vec::new());
    let (action, seen) = match line {
        Line::Done(action, seen) => (Some(action), seen.as_slice()),
        Line::Happened(seen) => (None, seen.as_slice()),
        Line::Refused(_) | Line::Told(_) => return (before, cranks, after),
    };
    if let Some(Action::Plug(_) | Action::Unplug(_) | Action::Fit { .. } | Action::Pull(_)) = action
    {
        before.push((Event::PlugClick, 1.0));
    }
    for seen in seen {
        if let Observation::Heard {
            sound: Sound::Cranking,
            place,
        } = seen
            && matches!(action, Some(Action::Set { .. }))
        {
            let at = station(&desk.session().case().vehicle, place);
            cranks = Some(near(desk.view().station, at));
        }
        let list = if cranks.is_some() {
            &mut after
        } else {
            &mut before
        };
        list.extend(event(desk, seen));
    }
    (before, cranks, after)
}

fn event(desk: &Desk, seen: &Observation) -> Option<(Event, f32)> {
    match seen {
        Observation::Heard { sound, place } => {
            let at = station(&desk.session().case().vehicle, place);
            Some((once(*sound)?, near(desk.view().station, at)))
        }
        // In the hand, wherever one stands.
        Observation::Spark { strong: true, .. } => Some((Event::SparkStrong, 1.0)),
        Observation::Spark { strong: false, .. } => Some((Event::SparkSmall, 1.0)),
        Observation::Felt {
            touch: Touch::PlugMoved,
            ..
        } => Some((Event::PlugClick, 1.0)),
        _ => None,
    }
}

/// Sounds that come once; the others last and are in the view.
fn once(sound: Sound) -> Option<Event> {
    Some(match sound {
        Sound::RelayClick => Event::RelayClick,
        Sound::RelayBuzz => Event::RelayBuzz,
        Sound::ClutchIn => Event::ClutchIn,
        Sound::ClutchOut => Event::ClutchOut,
        Sound::StarterClick => Event::StarterClick,
        Sound::EngineStarts => Event::EngineStarts,
        Sound::EngineStops => Event::EngineStops,
        Sound::Hiss => Event::Hiss,
        Sound::Cranking
        | Sound::SlowCranking
        | Sound::Engine
        | Sound::Blower
        | Sound::Fan
        | Sound::Pump
        | Sound::Horn
        | Sound::Silence => return None,
    })
}
