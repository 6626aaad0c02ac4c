//! Helpers for tests that cross crates: the shipped files, cases with a named candidate, and a
//! learner made from a seed.

use std::path::PathBuf;
use std::sync::Arc;

use tracebay_core::scenario::{Case, Catalogue, SourceFile};
use tracebay_core::session::{Action, Item, Session};
use tracebay_core::tools::{Dial, Lead, ToolKind};
use tracebay_core::vehicle::Station;

pub mod spice;

/// The project's top folder.
pub fn top() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn ron_files(folder: &str) -> Vec<SourceFile> {
    let mut paths: Vec<PathBuf> = std::fs::read_dir(top().join(folder))
        .expect("the folder is part of the project")
        .map(|entry| entry.expect("readable").path())
        .filter(|path| path.extension().is_some_and(|e| e == "ron"))
        .collect();
    paths.sort();
    paths
        .into_iter()
        .map(|path| SourceFile {
            name: path.display().to_string(),
            text: std::fs::read_to_string(&path).expect("readable"),
        })
        .collect()
}

/// All shipped vehicles and scenarios. Panics with the problems if a file is not sound.
pub fn catalogue() -> Catalogue {
    let (catalogue, problems) =
        Catalogue::load(&ron_files("scenarios/vehicles"), &ron_files("scenarios"));
    assert!(problems.is_empty(), "{problems:#?}");
    catalogue
}

/// A case of a scenario with the named candidate behind the complaint.
pub fn case(scenario: &str, seed: u64, candidate: &str) -> Case {
    let case = catalogue().draw(scenario, seed).expect("shipped scenario");
    let index = case
        .scenario
        .candidates
        .iter()
        .position(|c| c.id == candidate)
        .unwrap_or_else(|| panic!("{scenario} has no candidate {candidate}"));
    case.with_candidate(index)
}

/// A session on such a case.
pub fn session(scenario: &str, seed: u64, candidate: &str) -> Session {
    Session::new(Arc::new(case(scenario, seed, candidate))).expect("the car can be solved")
}

/// Puts a control in a position, walking there if need be.
pub fn set(session: &mut Session, control: &str, to: &str) {
    let station = session.case().vehicle.controls[control].station;
    let _ = session.perform(&Action::Go(station));
    session
        .perform(&Action::Set {
            control: control.into(),
            to: to.into(),
        })
        .unwrap_or_else(|why| panic!("{control} to {to}: {why:?}"));
}

/// The id of the cavity of a socket that holds a terminal.
pub fn cavity(session: &Session, relay: &str, terminal: &str) -> String {
    let order = &session.case().arrangements[relay];
    let at = order
        .iter()
        .position(|t| t == terminal)
        .expect("terminal of the relay");
    format!("{relay}.{}", (b'a' + at as u8) as char)
}

/// Takes all covers off, standing in the bay.
pub fn open_up(session: &mut Session) {
    let _ = session.perform(&Action::Go(Station::Bay));
    let covers: Vec<String> = session.covers().map(str::to_owned).collect();
    for cover in covers {
        let _ = session.perform(&Action::Uncover(cover));
    }
}

/// A number from a stream that is the same everywhere: the splitmix64 generator (published),
/// written from its description.
pub struct Dice(pub u64);

impl Dice {
    /// A number below `n`.
    pub fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % n as u64) as usize
    }

    /// One of a list.
    pub fn pick<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }
}

/// Anything a learner might do next, sensible or not.
pub fn anything(session: &Session, dice: &mut Dice) -> Action {
    let vehicle = session.case().vehicle.clone();
    let keys = |n: &mut Dice, map: Vec<String>| n.pick(&map).clone();
    let tool = *dice.pick(&[
        ToolKind::TestLight,
        ToolKind::LedLight,
        ToolKind::FusedJumper,
        ToolKind::PlainJumper,
        ToolKind::Meter,
    ]);
    let points: Vec<String> = session
        .points()
        .iter()
        .filter(|p| session.reach(&p.id).is_ok())
        .map(|p| p.id.clone())
        .collect();
    let point = if points.is_empty() {
        "paint".to_owned()
    } else {
        dice.pick(&points).clone()
    };
    let slots: Vec<String> = session.case().slots.keys().cloned().collect();
    let places: Vec<String> = vehicle.places.keys().cloned().collect();
    let plugs: Vec<String> = vehicle.connectors.keys().cloned().collect();
    match dice.below(18) {
        // A board has no plugs.
        9 | 10 if plugs.is_empty() => Action::Wait(1),
        0 => Action::Go(*dice.pick(&[Station::Seat, Station::Bay, Station::Box])),
        1..=3 => {
            let control = keys(dice, vehicle.controls.keys().cloned().collect());
            let to = dice.pick(&vehicle.controls[&control].positions).clone();
            Action::Set { control, to }
        }
        4 => Action::Wait(dice.below(60) as u32),
        5 => {
            let covers: Vec<String> = session.covers().map(str::to_owned).collect();
            if covers.is_empty() {
                return Action::Wait(1);
            }
            Action::Uncover(dice.pick(&covers).clone())
        }
        6 | 7 => Action::Pull(dice.pick(&slots).clone()),
        8 => Action::Fit {
            part: dice.pick(&slots).clone(),
            item: *dice.pick(&[Item::Original, Item::Spare]),
            turned: dice.below(4) == 0,
        },
        9 => Action::Unplug(dice.pick(&plugs).clone()),
        10 => Action::Plug(dice.pick(&plugs).clone()),
        11 => Action::Look(dice.pick(&places).clone()),
        12 => {
            let lead: Lead = *dice.pick(tool.leads());
            Action::Put { tool, lead, point }
        }
        13..=15 => Action::Touch { tool, point },
        16 => Action::Dial(*dice.pick(&[Dial::Volts, Dial::Ohms, Dial::Amps])),
        _ if dice.below(3) == 0 => Action::Spray(dice.pick(&places).clone()),
        _ => Action::Wiggle(dice.pick(&places).clone()),
    }
}
