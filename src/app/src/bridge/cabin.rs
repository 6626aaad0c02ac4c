//! The driver's place: which piece is which control, and how each stands.

use bevy::prelude::*;
use tracebay_core::scenario::Case;
use tracebay_core::vehicle::{Role, Vehicle};

use super::Standing;
use crate::kit::{Glow, KeyTurn, KitAssets, Needle, PickId, Pressed};
use crate::run::AtDesk;

/// End of the rev counter's scale.
const TACHO_END_RPM: f32 = 8000.0;

/// Control that a piece of the cabin stands for.
fn control(vehicle: &Vehicle, piece: &str) -> Option<String> {
    let by_role = |role: Role| {
        vehicle
            .controls
            .iter()
            .find(|(_, c)| c.role == role)
            .map(|(id, _)| id.clone())
    };
    let by_name = |name: &str| vehicle.controls.contains_key(name).then(|| name.to_owned());
    match piece {
        "key" => by_role(Role::Key),
        "blower" => by_role(Role::Blower),
        "ac.button" => by_role(Role::AirConditioning),
        "gear" => by_role(Role::Gear),
        "park_brake" => by_role(Role::ParkBrake),
        "horn" => by_name("horn"),
        "stalk" => by_name("lights"),
        _ => None,
    }
}

/// Lets pieces be pointed at under the car's own names.
pub fn name_pieces(commands: &mut Commands, case: &Case, kit: &mut KitAssets, standing: &Standing) {
    let Some(cabin) = standing.parts.get("cabin") else {
        return;
    };
    for (piece, entity) in &cabin.pieces {
        if let Some(id) = control(&case.vehicle, piece) {
            commands.entity(*entity).insert(PickId(id));
        }
    }
    if case.vehicle.places.contains_key("vents") {
        for vent in ["vent.2", "vent.3"] {
            if let Some(anchor) = cabin.anchors.get(vent) {
                let id = PickId("vents".into());
                crate::kit::spawn_point(commands, kit, cabin.entity, *anchor, id, 0.03);
            }
        }
    }
}

/// Key, knobs, button, lamps and rev counter.
pub fn follow(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    mut turns: Query<&mut KeyTurn>,
    mut presses: Query<&mut Pressed>,
    mut glows: Query<&mut Glow>,
    mut needles: Query<&mut Needle>,
) {
    if !at_desk.is_changed() && !standing.is_changed() {
        return;
    }
    let Some(desk) = &at_desk.0 else { return };
    let Some(cabin) = standing.parts.get("cabin") else {
        return;
    };
    let view = desk.view();
    let vehicle = &desk.session().case().vehicle;
    for (piece, entity) in &cabin.pieces {
        if let Some(id) = control(vehicle, piece) {
            let at = view.controls.get(&id);
            let positions = &vehicle.controls[&id].positions;
            let step = positions.iter().position(|p| Some(p) == at).unwrap_or(0);
            if let Ok(mut turn) = turns.get_mut(*entity) {
                turn.set_if_neq(KeyTurn(step as f32));
            }
            if let Ok(mut press) = presses.get_mut(*entity) {
                press.set_if_neq(Pressed(step > 0));
            }
            if piece == "ac.button"
                && let Ok(mut glow) = glows.get_mut(*entity)
            {
                let lit = step > 0 && view.dash.awake;
                glow.set_if_neq(Glow(if lit { 1.0 } else { 0.0 }));
            }
        }
        let lamp = |on: bool| Glow(if on { 1.0 } else { 0.0 });
        match piece.as_str() {
            "tacho" => {
                if let Ok(mut needle) = needles.get_mut(*entity) {
                    needle.set_if_neq(Needle(view.dash.rpm as f32 / TACHO_END_RPM));
                }
            }
            "warn.charge" => {
                if let Ok(mut glow) = glows.get_mut(*entity) {
                    glow.set_if_neq(lamp(view.dash.charge_lamp));
                }
            }
            "warn.oil" => {
                if let Ok(mut glow) = glows.get_mut(*entity) {
                    glow.set_if_neq(lamp(view.dash.awake && !view.engine_running));
                }
            }
            _ => {}
        }
    }
}
