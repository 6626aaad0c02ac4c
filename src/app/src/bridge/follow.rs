//! Makes what stands in the bay look as the session's view says: belts, plates, caps, and the
//! readings on the tools.

use bevy::prelude::*;
use tracebay_core::session::Observation;
use tracebay_core::tools::ToolKind;

use super::Standing;
use super::evidence::{Evidence, feeds};
use crate::kit::instruments::{LOW_SIDE_END_KPA, PEGGED};
use crate::kit::{CapOn, ClutchPlate, Display, Glow, KeyTurn, Needle, Pressed, Seated, SpinRpm};
use crate::panels::hand;
use crate::run::AtDesk;

/// Full speed of a cooling fan, turns per minute, for the picture (common practice, no source).
const FAN_RPM: f32 = 2400.0;

/// Engine, clutch, fans, caps, plugs.
pub fn car(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    mut things: Query<(
        Option<&mut SpinRpm>,
        Option<&mut ClutchPlate>,
        Option<&mut CapOn>,
        Option<&mut Seated>,
        Option<&mut Glow>,
    )>,
    mut knobs: Query<(Option<&mut KeyTurn>, Option<&mut Pressed>)>,
) {
    if !at_desk.is_changed() && !standing.is_changed() {
        return;
    }
    let Some(desk) = &at_desk.0 else { return };
    let view = desk.view();
    let vehicle = &desk.session().case().vehicle;
    let evidence = Evidence::of(vehicle, desk.log());
    for (id, part) in &standing.parts {
        let Ok((spin, plate, cap, seated, glow)) = things.get_mut(part.entity) else {
            continue;
        };
        let engine = view.motion.engine_rpm as f32;
        if let Some(mut spin) = spin {
            let rpm = match view.motion.motors.get(id) {
                Some(share) => *share as f32 * FAN_RPM,
                None => engine,
            };
            spin.set_if_neq(SpinRpm(rpm));
        }
        if let Some(mut plate) = plate {
            plate.set_if_neq(ClutchPlate {
                engaged: view.motion.clutch_engaged,
            });
        }
        if let Some(mut cap) = cap {
            let cover = vehicle.places.get(id).and_then(|p| p.cover.as_ref());
            cap.set_if_neq(CapOn(!cover.is_some_and(|c| view.uncovered.contains(c))));
        }
        if let Some(mut glow) = glow
            && let Some(light) = view.motion.lamps.get(id)
        {
            glow.set_if_neq(Glow(*light as f32));
        }
        if let Some(control) = vehicle.controls.get(id)
            && let Some(knob) = part.pieces.get("knob")
            && let Ok((turn, press)) = knobs.get_mut(*knob)
        {
            let at = view.controls.get(id);
            let step = control.positions.iter().position(|p| Some(p) == at);
            let step = step.unwrap_or(0);
            if let Some(mut turn) = turn {
                turn.set_if_neq(KeyTurn(step as f32));
            }
            if let Some(mut press) = press {
                press.set_if_neq(Pressed(step > 0));
            }
        }
        if let Some(mut seated) = seated {
            let mut plugs = vehicle.connectors.keys();
            let off = plugs.any(|plug| {
                let its_own = plug == id || feeds(vehicle, plug, id);
                its_own && (view.unplugged.contains(plug) || evidence.loose.contains(plug))
            });
            seated.set_if_neq(Seated(!off));
        }
    }
}

/// Bulb, display and needle.
pub fn tools(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    mut glows: Query<&mut Glow>,
    mut displays: Query<&mut Display>,
    mut needles: Query<&mut Needle>,
) {
    if !at_desk.is_changed() && !standing.is_changed() {
        return;
    }
    let Some(desk) = &at_desk.0 else { return };
    let entity = |name: &str| standing.tools.get(name).map(|p| p.entity);
    if let Some(mut glow) = entity("test_light").and_then(|e| glows.get_mut(e).ok()) {
        let percent = hand::current(desk, ToolKind::TestLight)
            .into_iter()
            .find_map(|o| match o {
                Observation::Light { percent, .. } => Some(*percent),
                _ => None,
            });
        glow.set_if_neq(Glow(f32::from(percent.unwrap_or(0)) / 100.0));
    }
    if let Some(mut display) = entity("meter").and_then(|e| displays.get_mut(e).ok()) {
        let text = hand::current(desk, ToolKind::Meter)
            .into_iter()
            .find_map(|o| match o {
                Observation::Meter { display, .. } => {
                    let (figures, unit) = hand::meter_text(display);
                    Some(format!("{figures} {unit}"))
                }
                _ => None,
            })
            .unwrap_or_default();
        display.set_if_neq(Display(text));
    }
    if let Some(mut needle) = entity("gauge").and_then(|e| needles.get_mut(e).ok()) {
        let kpa = hand::current(desk, ToolKind::Gauge)
            .into_iter()
            .find_map(|o| match o {
                Observation::Gauge { kpa } => Some(*kpa),
                _ => None,
            });
        needle.set_if_neq(Needle(
            (kpa.unwrap_or(0.0) as f32 / LOW_SIDE_END_KPA).min(PEGGED),
        ));
    }
    if let Some(mut glow) = entity("lamp").and_then(|e| glows.get_mut(e).ok()) {
        let on = desk.view().lamp_at.is_some();
        glow.set_if_neq(Glow(if on { 1.0 } else { 0.0 }));
    }
}
