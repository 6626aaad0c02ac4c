//! Walking and looking closer as the session and the learner's choice say.

use bevy::prelude::*;
use tracebay_core::vehicle;

use super::Standing;
use crate::run::paint::Open;
use crate::run::{AtDesk, InForce};
use crate::stage::{LookAt, Station, Viewer, WalkTo};

/// The stage's name of a station.
pub fn station(s: vehicle::Station) -> Station {
    match s {
        vehicle::Station::Seat => Station::Seat,
        vehicle::Station::Bay => Station::Bay,
        vehicle::Station::Box => Station::Box,
        vehicle::Station::Bench => Station::Bench,
    }
}

/// Goes where the session says one stands.
pub fn walk(
    at_desk: Res<AtDesk>,
    settings: Res<InForce>,
    mut viewers: Query<&mut Viewer>,
    mut walks: MessageWriter<WalkTo>,
) {
    let Some(desk) = &at_desk.0 else { return };
    let wanted = station(desk.view().station);
    for mut viewer in &mut viewers {
        let seconds = if settings.0.calm { 0.0 } else { 0.9 };
        if viewer.walk_seconds != seconds {
            viewer.walk_seconds = seconds;
        }
        if viewer.station != wanted {
            walks.write(WalkTo(wanted));
        }
    }
}

/// Comes closer to what one has turned to, and steps back from it.
pub fn look(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    places: Query<&GlobalTransform>,
    mut last: Local<Option<String>>,
    mut looks: MessageWriter<LookAt>,
) {
    let Some(desk) = &at_desk.0 else { return };
    if *last == desk.focus {
        return;
    }
    last.clone_from(&desk.focus);
    let Some(id) = &desk.focus else {
        looks.write(LookAt::StepBack);
        return;
    };
    // Relays and fuses are near enough over the box; the seat's controls are at hand.
    if desk.view().station != vehicle::Station::Bay {
        return;
    }
    if let Some(part) = standing.parts.get(id)
        && let Ok(place) = places.get(part.entity)
    {
        looks.write(LookAt::Closely {
            target: place.translation(),
            distance: 0.55,
            from: None,
        });
    }
}

/// Pointer and wheel move the view only over the scene.
pub fn listen(
    open: Res<Open>,
    windows: Query<&Window>,
    wants: Res<bevy_egui::input::EguiWantsInput>,
    mut viewers: Query<&mut Viewer>,
) {
    let free =
        !wants.wants_any_pointer_input() && open.scene.is_some() && windows.iter().count() > 0;
    for mut viewer in &mut viewers {
        if viewer.listens != free {
            viewer.listens = free;
        }
    }
}
