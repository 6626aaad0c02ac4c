//! Shipped cars and short words for actions, for this crate's tests.

use std::sync::Arc;

use tracebay_core::fault::{Failure, Method};
use tracebay_core::scenario::{Case, Catalogue, SourceFile};
use tracebay_core::session::{Action, Item};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;

macro_rules! shipped {
    ($name:literal) => {
        SourceFile {
            name: $name.to_owned(),
            text: include_str!(concat!("../../scenarios/", $name)).to_owned(),
        }
    };
}

/// The shipped car's text.
pub fn car_text() -> SourceFile {
    shipped!("vehicles/ostrel-lindmoor.ron")
}

/// The shipped scenarios on a car.
pub fn catalogue(car: SourceFile) -> Catalogue {
    let scenarios = [
        shipped!("no-cold-air.ron"),
        shipped!("fan-still.ron"),
        shipped!("horn-silent.ron"),
        shipped!("no-start.ron"),
        shipped!("stop-lamps-dark.ron"),
    ];
    let (catalogue, problems) = Catalogue::load(&[car], &scenarios);
    assert!(problems.is_empty(), "{problems:?}");
    catalogue
}

/// A shipped case with nothing wrong.
pub fn sound(scenario: &str) -> Arc<Case> {
    Arc::new(catalogue(car_text()).draw(scenario, 1).unwrap().sound())
}

/// A shipped case with one candidate behind the complaint.
pub fn with(scenario: &str, candidate: &str) -> Arc<Case> {
    let case = catalogue(car_text()).draw(scenario, 1).unwrap();
    let index = case
        .scenario
        .candidates
        .iter()
        .position(|c| c.id == candidate)
        .unwrap();
    Arc::new(case.with_candidate(index))
}

/// The cavity that holds a terminal.
pub fn cavity(case: &Case, part: &str, terminal: &str) -> String {
    let i = case.arrangements[part]
        .iter()
        .position(|t| t == terminal)
        .unwrap();
    format!("{part}.{}", (b'a' + i as u8) as char)
}

pub fn seat() -> Action {
    Action::Go(Station::Seat)
}

pub fn bay() -> Action {
    Action::Go(Station::Bay)
}

pub fn set(control: &str, to: &str) -> Action {
    Action::Set {
        control: control.into(),
        to: to.into(),
    }
}

pub fn wait_s(seconds: u32) -> Action {
    Action::Wait(10 * seconds)
}

pub fn uncover(cover: &str) -> Action {
    Action::Uncover(cover.into())
}

pub fn cover(cover: &str) -> Action {
    Action::Cover(cover.into())
}

pub fn pull(part: &str) -> Action {
    Action::Pull(part.into())
}

pub fn fit(part: &str, item: Item) -> Action {
    Action::Fit {
        part: part.into(),
        item,
        turned: false,
    }
}

pub fn unplug(connector: &str) -> Action {
    Action::Unplug(connector.into())
}

pub fn plug(connector: &str) -> Action {
    Action::Plug(connector.into())
}

pub fn feel(place: &str) -> Action {
    Action::Feel(place.into())
}

pub fn look(place: &str) -> Action {
    Action::Look(place.into())
}

pub fn listen(place: &str) -> Action {
    Action::Listen(place.into())
}

pub fn lamp(place: Option<&str>) -> Action {
    Action::Light(place.map(str::to_owned))
}

/// Puts the lead that stays (clip, end a, black).
pub fn clip(tool: ToolKind, point: &str) -> Action {
    Action::Put {
        tool,
        lead: tool.leads()[0],
        point: point.into(),
    }
}

/// Parks the lead that moves (probe, end b, red).
pub fn park(tool: ToolKind, point: &str) -> Action {
    Action::Put {
        tool,
        lead: tool.leads()[1],
        point: point.into(),
    }
}

pub fn lift(tool: ToolKind, lead: Lead) -> Action {
    Action::Lift { tool, lead }
}

pub fn touch(tool: ToolKind, point: &str) -> Action {
    Action::Touch {
        tool,
        point: point.into(),
    }
}

pub fn sweep(tool: ToolKind, socket: &str) -> Action {
    Action::Sweep {
        tool,
        socket: socket.into(),
    }
}

pub fn dial(dial: Dial) -> Action {
    Action::Dial(dial)
}

pub fn call(target: &str, failure: Failure) -> Action {
    Action::Call {
        target: target.into(),
        failure,
    }
}

pub fn repair(target: &str, method: Method) -> Action {
    Action::Repair {
        target: target.into(),
        method,
    }
}

pub fn hand_back() -> Action {
    Action::HandBack {
        complaint: "does not cool".into(),
        cause: "found".into(),
        correction: "mended".into(),
    }
}

/// Extraction hose on, engine started, in the bay again.
pub fn running() -> Vec<Action> {
    vec![
        bay(),
        set("exhaust_hose", "on"),
        seat(),
        set("key", "start"),
        bay(),
    ]
}

/// Lists of actions one after the other.
pub fn all(lists: impl IntoIterator<Item = Vec<Action>>) -> Vec<Action> {
    lists.into_iter().flatten().collect()
}
