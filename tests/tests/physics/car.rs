//! A car with faults of a test's choosing, and a hand that reads tools on it.

use std::sync::Arc;

use tracebay_core::fault::{Condition, Fault, Wrong};
use tracebay_core::scenario::{Candidate, Case, Step};
use tracebay_core::session::{Action, MeterDisplay, Observation, Session};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::{Station, Vehicle};
use tracebay_tests::{catalogue, open_up};

/// One thing wrong.
pub fn fault(at: &str, what: Wrong) -> Fault {
    Fault {
        at: at.into(),
        what,
        only: None,
    }
}

/// One thing wrong under a condition.
pub fn sometimes(at: &str, what: Wrong, only: Condition) -> Fault {
    Fault {
        only: Some(only),
        ..fault(at, what)
    }
}

/// The case of the car "no cold air" at 25 °C with these faults, on an edited vehicle.
pub fn case(faults: Vec<Fault>, edit: impl FnOnce(&mut Vehicle)) -> Case {
    let catalogue = catalogue();
    let mut scenario = (*catalogue.scenarios["no-cold-air"]).clone();
    let mut vehicle = (*catalogue.vehicles[&scenario.vehicle]).clone();
    edit(&mut vehicle);
    scenario.candidates.push(Candidate {
        id: "under-test".into(),
        prior: 1.0,
        faults,
        also: Vec::new(),
        group: None,
        weather: None,
    });
    scenario.spares = vehicle
        .parts
        .iter()
        .filter(|(_, p)| p.kind.plugs_in())
        .map(|(id, _)| id.clone())
        .collect();
    let last = scenario.candidates.len() - 1;
    let mut case = Case::draw(Arc::new(scenario), Arc::new(vehicle), 1)
        .with_candidate(last)
        .with_sound_tools();
    case.ambient_c = 25.0;
    case
}

/// A session on [`case`].
pub fn edited(faults: Vec<Fault>, edit: impl FnOnce(&mut Vehicle)) -> Session {
    Session::new(Arc::new(case(faults, edit))).expect("an operating point")
}

/// A session on the shipped car with these faults.
pub fn with(faults: Vec<Fault>) -> Session {
    edited(faults, |_| ())
}

/// Does one thing that must be possible.
pub fn act(s: &mut Session, action: Action) -> Vec<Observation> {
    s.perform(&action)
        .unwrap_or_else(|why| panic!("{action:?}: {why:?}"))
}

/// In the bay with all covers off.
pub fn bay(s: &mut Session) {
    open_up(s);
}

/// Puts a lead on a point.
pub fn put(s: &mut Session, tool: ToolKind, lead: Lead, point: &str) -> Vec<Observation> {
    let point = point.into();
    act(s, Action::Put { tool, lead, point })
}

/// Lifts a lead.
pub fn lift(s: &mut Session, tool: ToolKind, lead: Lead) -> Vec<Observation> {
    act(s, Action::Lift { tool, lead })
}

/// What a light shows on a point, its clip being on another.
pub fn glow(s: &mut Session, tool: ToolKind, clip: &str, point: &str) -> Glow {
    let _ = s.perform(&Action::Put {
        tool,
        lead: Lead::Clip,
        point: clip.into(),
    });
    let point = point.into();
    act(s, Action::Touch { tool, point })
        .iter()
        .find_map(|o| match o {
            Observation::Light { glow, .. } => Some(*glow),
            _ => None,
        })
        .expect("a light was touched")
}

/// What the meter shows on a point, black being on another.
pub fn display(s: &mut Session, dial: Dial, black: &str, red: &str) -> MeterDisplay {
    let _ = s.perform(&Action::Dial(dial));
    let tool = ToolKind::Meter;
    let _ = s.perform(&Action::Put {
        tool,
        lead: Lead::Black,
        point: black.into(),
    });
    let point = red.into();
    act(s, Action::Touch { tool, point })
        .into_iter()
        .find_map(|o| match o {
            Observation::Meter { display, .. } => Some(display),
            _ => None,
        })
        .expect("the meter was touched")
}

/// The number the meter shows.
pub fn reads(s: &mut Session, dial: Dial, black: &str, red: &str) -> f64 {
    match display(s, dial, black, red) {
        MeterDisplay::Value { value, .. } => value,
        other => panic!("{black} to {red}: {other:?}"),
    }
}

pub fn set(control: &str, to: &str) -> Step {
    Step::Set(control.into(), to.into())
}

/// Engine running, blower and air conditioning asked for, ten seconds over.
pub fn asking(s: &mut Session) {
    s.drive(&[
        set("exhaust_hose", "on"),
        set("key", "start"),
        Step::Wait(2.0),
        set("blower", "3"),
        set("ac", "on"),
        Step::Wait(10.0),
    ]);
    assert!(s.engine_running(), "the engine starts");
}

pub fn clutch_in(s: &mut Session) -> bool {
    s.view().motion.clutch_engaged
}

/// The same session standing in the bay, whatever was uncovered before.
pub fn go(s: &mut Session, station: Station) {
    let _ = s.perform(&Action::Go(station));
}
