//! For authors: files of the data folder that are saved are read anew, and the case on the desk with them,
//! without starting the program again. What was done so far is done again on the new car.
//!
//! Only there with `--authoring`; such a run keeps no attempts. Proves nothing of a scenario: that is the
//! terminal's `check`.

use std::path::PathBuf;

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use tracebay_core::scenario::Tells;

use super::paint::Open;
use super::{Asked, AtDesk, OnShelf, Shown, Spoken};
use crate::bridge::Standing;
use crate::desk::{Desk, Order, Screen};
use crate::platform::Changes;

/// Seconds between two looks at the files.
const LOOKS_S: f32 = 0.3;
/// Mistakes told in the window at a time.
const MOST_TOLD: usize = 4;

/// Adds the noticing of saved files.
pub struct AuthoringPlugin {
    /// Folder that is watched.
    pub folder: PathBuf,
    /// Case that was asked for and could not be opened.
    pub wanted: Option<(String, Option<u64>)>,
}

#[derive(Resource)]
struct Watching {
    changes: Changes,
    rest_s: f32,
    wanted: Option<(String, Option<u64>)>,
}

impl Plugin for AuthoringPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(Watching {
            changes: Changes::of(vec![self.folder.clone()]),
            rest_s: 0.0,
            wanted: self.wanted.clone(),
        })
        .add_systems(PreUpdate, look_again);
    }
}

fn look_again(
    time: Res<Time<Real>>,
    spoken: Res<Spoken>,
    mut watching: ResMut<Watching>,
    mut shelf: ResMut<OnShelf>,
    mut at_desk: ResMut<AtDesk>,
    mut open: ResMut<Open>,
    mut standing: ResMut<Standing>,
    mut asked: ResMut<Asked>,
    mut next: ResMut<NextState<Shown>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    watching.rest_s += time.delta_secs();
    if watching.rest_s < LOOKS_S {
        return;
    }
    watching.rest_s = 0.0;
    if !watching.changes.any() {
        return;
    }
    redraw.write(RequestRedraw);
    open.refresh_recent = true;
    let text = &spoken.0;
    open.trouble = match shelf.0.read_again(&text.words) {
        Ok(problems) => {
            mistakes(&problems).map(|what| text.fill("author-wrong", &[("what", (&what).into())]))
        }
        Err(why) => Some(why),
    };
    if let Some((scenario, seed)) = &watching.wanted
        && at_desk.0.is_none()
        && shelf.0.catalogue.scenarios.contains_key(scenario)
    {
        let (scenario, seed) = (scenario.clone(), *seed);
        watching.wanted = None;
        asked.0.push(Order::Begin { scenario, seed });
        return;
    }
    let Some(old) = &mut at_desk.0 else { return };
    let case = old.session().case().clone();
    let same = |shelf: &OnShelf| {
        let catalogue = &shelf.0.catalogue;
        catalogue
            .scenarios
            .get(&case.scenario.id)
            .is_none_or(|s| *s == case.scenario && s.shown() == case.scenario.shown())
            && catalogue
                .vehicles
                .get(&case.vehicle.id)
                .is_none_or(|v| *v == case.vehicle && v.shown() == case.vehicle.shown())
    };
    if same(&shelf) {
        return;
    }
    old.settle();
    let (kept_as, hand, focus) = (old.attempt(), old.hand, old.focus.clone());
    let done: Vec<_> = old.log().iter().map(|(action, _)| action.clone()).collect();
    let mut book = match shelf
        .0
        .begin(&text.words, &case.scenario.id, Some(case.seed))
    {
        Ok(book) => book,
        Err(why) => {
            open.trouble = Some(why);
            return;
        }
    };
    let again = done
        .iter()
        .take_while(|action| book.perform(action).is_ok())
        .count();
    let _ = shelf.0.forget(&text.words, &kept_as);
    let mut desk = Desk::new(book);
    (desk.hand, desk.focus) = (hand, focus);
    let args = [
        ("done", (again as f64).into()),
        ("of", (done.len() as f64).into()),
    ];
    desk.obey(&Order::Tell(text.fill("author-again", &args)));
    let given_back = desk.view().handed_back;
    at_desk.0 = Some(desk);
    // The scene is put up anew, with the car's new parts.
    standing.case = None;
    next.set(Shown(if given_back {
        Screen::Debrief
    } else {
        Screen::Work
    }));
}

/// What is wrong with files, in the lines of a strip; none if nothing is.
pub fn mistakes(problems: &[String]) -> Option<String> {
    if problems.is_empty() {
        return None;
    }
    let mut lines: Vec<String> = problems.iter().take(MOST_TOLD).cloned().collect();
    if problems.len() > MOST_TOLD {
        lines.push(format!("+ {}", problems.len() - MOST_TOLD));
    }
    Some(lines.join("\n"))
}
