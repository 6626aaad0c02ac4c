//! Walking and looking closer as the session and the learner's choice say.

use bevy::prelude::*;
use tracebay_core::vehicle;

use super::Standing;
use super::pick::SceneSeen;
use crate::desk::{Desk, Thing};
use crate::run::paint::Open;
use crate::run::{AtDesk, InForce};
use crate::stage::bays::cabin_face;
use crate::stage::{LookAt, Station, View, Viewer, WalkTo};

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

/// The face of a place in the cabin, unless one holds what is put on the points behind it.
fn face_of(desk: &Desk, thing: &Thing) -> Option<View> {
    let Thing::Place(place) = thing else {
        return None;
    };
    if desk.hand.is_some_and(|tool| !tool.leads().is_empty()) {
        return None;
    }
    cabin_face(place).map(|face| View::of(face.at, face.eye, face.distance))
}

/// Comes closer to what one has turned to, and steps back from it.
pub fn look(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    places: Query<&GlobalTransform>,
    mut last: Local<(Option<String>, bool)>,
    mut looks: MessageWriter<LookAt>,
) {
    let Some(desk) = &at_desk.0 else { return };
    let vehicle = &desk.session().case().vehicle;
    let thing = desk.focus.as_ref().and_then(|id| Thing::find(vehicle, id));
    let face = thing.as_ref().and_then(|thing| face_of(desk, thing));
    let now = (desk.focus.clone(), face.is_some());
    if *last == now {
        return;
    }
    *last = now;
    let Some(thing) = thing else {
        looks.write(LookAt::StepBack);
        return;
    };
    let station = desk.view().station;
    // Relays and fuses are near enough over the box, and all is at hand on the bench.
    let near = station == vehicle::Station::Bench
        || station == vehicle::Station::Box && standing.gazes.in_box(vehicle, &thing);
    let apart = thing
        .station(vehicle)
        .is_some_and(|s| (s == vehicle::Station::Seat) != (station == vehicle::Station::Seat));
    if near || apart {
        looks.write(LookAt::StepBack);
        return;
    }
    let points: Vec<Vec3> = thing
        .points(desk.session())
        .iter()
        .filter_map(|p| standing.points.get(&p.id))
        .filter_map(|e| places.get(*e).ok())
        .map(GlobalTransform::translation)
        .collect();
    match face.or_else(|| standing.gazes.view(vehicle, &thing, &points)) {
        Some(view) => {
            looks.write(LookAt::From(view));
        }
        None => {
            looks.write(LookAt::StepBack);
        }
    }
}

/// Pointer and wheel move the view only over the scene, and fingers only that came down on it.
pub fn listen(
    open: Res<Open>,
    windows: Query<&Window>,
    wants: Res<bevy_egui::input::EguiWantsInput>,
    touches: Res<Touches>,
    mut scene: SceneSeen,
    mut viewers: Query<&mut Viewer>,
) {
    let free =
        !wants.wants_any_pointer_input() && open.scene.is_some() && windows.iter().count() > 0;
    let free = free && touches.iter().all(|t| scene.at(t.start_position()));
    for mut viewer in &mut viewers {
        if viewer.listens != free {
            viewer.listens = free;
        }
    }
}
