//! Pointing in the scene: names, highlights, clicks.

use bevy::ecs::system::SystemParam;
use bevy::picking::pointer::PointerId;
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use bevy_egui::{EguiContext, PrimaryEguiContext};
use tracebay_core::tools::ToolKind;

use super::{Standing, casting, fuse_box, leads};
use crate::desk::{Desk, Order, Thing};
use crate::egui;
use crate::kit::{Highlight, PickId, PointShow};
use crate::panels::keyboard;
use crate::run::paint::Open;
use crate::run::{Asked, AtDesk, InForce};
use crate::stage::touch;

/// What the pointer is over.
#[derive(Resource, Default)]
pub struct Pointed(pub Option<(Entity, String)>);

fn owner(
    entity: Entity,
    ids: &Query<&PickId>,
    parents: &Query<&ChildOf>,
) -> Option<(Entity, String)> {
    let mut at = entity;
    loop {
        if let Ok(id) = ids.get(at) {
            return Some((at, id.0.clone()));
        }
        at = parents.get(at).ok()?.parent();
    }
}

/// Where the scene is to be seen: panels lie beside it, and cards over it. They are asked, since a finger
/// that comes down and is lifted between two frames is no pointer of theirs when the scene hears of it.
#[derive(SystemParam)]
pub struct SceneSeen<'w, 's> {
    open: Res<'w, Open>,
    settings: Res<'w, InForce>,
    panels: Query<'w, 's, &'static mut EguiContext, With<PrimaryEguiContext>>,
}

impl SceneSeen<'_, '_> {
    /// Whether it is seen at a place in the window, in pixels.
    pub fn at(&mut self, place: Vec2) -> bool {
        let scale = self.settings.0.text_percent as f32 / 100.0;
        let place = egui::pos2(place.x / scale, place.y / scale);
        let (Some(left), Ok(mut panels)) = (self.open.scene, self.panels.single_mut()) else {
            return false;
        };
        let over = panels.get_mut().layer_id_at(place);
        left.whole.contains(place) && over.is_none_or(|l| l.order == egui::Order::Background)
    }
}

/// The pointer comes over something.
pub fn over(
    event: On<Pointer<Over>>,
    mut scene: SceneSeen,
    ids: Query<&PickId>,
    parents: Query<&ChildOf>,
    mut pointed: ResMut<Pointed>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if !scene.at(event.pointer_location.position) {
        return;
    }
    if let Some(found) = owner(event.entity, &ids, &parents) {
        pointed.0 = Some(found);
        redraw.write(RequestRedraw);
    }
}

/// The pointer leaves it.
pub fn out(
    event: On<Pointer<Out>>,
    ids: Query<&PickId>,
    parents: Query<&ChildOf>,
    mut pointed: ResMut<Pointed>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if owner(event.entity, &ids, &parents) == pointed.0 {
        pointed.0 = None;
        redraw.write(RequestRedraw);
    }
}

/// A click: a tool is taken, a point is used, a thing is turned to.
pub fn click(
    mut event: On<Pointer<Click>>,
    mut scene: SceneSeen,
    ids: Query<&PickId>,
    parents: Query<&ChildOf>,
    standing: Res<Standing>,
    at_desk: Res<AtDesk>,
    touches: Res<Touches>,
    gesture: Res<touch::Gesture>,
    mut asked: ResMut<Asked>,
) {
    if let PointerId::Touch(finger) = event.pointer_id
        && touch::moved(&gesture, &touches, finger)
    {
        return;
    }
    let here = scene.at(event.pointer_location.position);
    if event.button != PointerButton::Primary || !here {
        return;
    }
    let Some((_, id)) = owner(event.entity, &ids, &parents) else {
        return;
    };
    event.propagate(false);
    let Some(desk) = &at_desk.0 else { return };
    asked.0.extend(meant(desk, &standing, &id));
}

/// What somebody who points at this means: a tool to take, a point to use, a thing to turn to. Nothing of the
/// car's trim.
fn meant(desk: &Desk, standing: &Standing, id: &str) -> Option<Order> {
    let session = desk.session();
    if let Some(tool) = id.strip_prefix(casting::TOOL) {
        let name = tool.split('.').next().unwrap_or(tool);
        let tools = &session.case().scenario.tools;
        let found: Option<ToolKind> = tools.iter().copied().find(|t| leads::tool_name(*t) == name);
        return found.map(|tool| Order::Take(Some(tool)));
    }
    if standing.points.contains_key(id) && session.points().iter().any(|p| p.id == id) {
        return Some(Order::UsePoint(id.to_owned()));
    }
    Thing::find(&session.case().vehicle, id).map(|_| Order::Focus(Some(id.to_owned())))
}

/// Points show where the tool in hand can go, where the keyboard is, and where leads are.
pub fn show_points(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    pointed: Res<Pointed>,
    mut shows: Query<&mut PointShow>,
) {
    if !at_desk.is_changed() && !standing.is_changed() && !pointed.is_changed() {
        return;
    }
    let Some(desk) = &at_desk.0 else { return };
    let holds_leads = desk.hand.is_some_and(|t| !t.leads().is_empty());
    let chosen = keyboard::chosen_point(desk);
    let over = pointed.0.as_ref().map(|(_, id)| id.as_str());
    for info in desk.session().points() {
        if !fuse_box::in_scene(info.kind) {
            continue;
        }
        let Some(mut show) = standing
            .points
            .get(&info.id)
            .and_then(|e| shows.get_mut(*e).ok())
        else {
            continue;
        };
        let used = desk
            .view()
            .leads
            .values()
            .any(|leads| leads.values().any(|p| *p == info.id));
        let here = chosen.as_deref() == Some(info.id.as_str()) || over == Some(info.id.as_str());
        let wanted = if used {
            PointShow::Touched
        } else if here {
            PointShow::Hover
        } else if holds_leads && desk.session().reach(&info.id).is_ok() {
            PointShow::Offered
        } else {
            PointShow::Idle
        };
        show.set_if_neq(wanted);
    }
}

/// What is pointed at or turned to is lit up.
pub fn highlight(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    pointed: Res<Pointed>,
    lit: Query<Entity, With<Highlight>>,
    points: Query<&PointShow>,
    mut commands: Commands,
) {
    if !at_desk.is_changed() && !standing.is_changed() && !pointed.is_changed() {
        return;
    }
    let focus = at_desk.0.as_ref().and_then(|d| d.focus.as_ref());
    let mut wanted: Vec<Entity> = Vec::new();
    if let Some((entity, id)) = &pointed.0
        && points.get(*entity).is_err()
        && let Some(desk) = &at_desk.0
        && meant(desk, &standing, id).is_some()
    {
        wanted.push(*entity);
    }
    if let Some(id) = focus {
        let piece = standing.parts.values().find_map(|p| p.pieces.get(id));
        wanted.extend(standing.parts.get(id).map(|p| p.entity).or(piece.copied()));
    }
    for entity in &lit {
        if !wanted.contains(&entity) {
            commands.entity(entity).remove::<Highlight>();
        }
    }
    for entity in wanted {
        if lit.get(entity).is_err()
            && let Ok(mut e) = commands.get_entity(entity)
        {
            e.insert(Highlight);
        }
    }
}
