//! Leads as they hang from tools to points, and the tool that touches.

use std::collections::BTreeMap;

use bevy::prelude::*;
use tracebay_core::session::Observation;
use tracebay_core::tools::{Lead, ToolKind};
use tracebay_core::vehicle::Vehicle;

use super::Standing;
use super::gaze::{self, Gazes};
use crate::kit::{LeadBetween, Rgb, spawn_lead};
use crate::run::AtDesk;

/// How far from a point in the cabin the hand is that holds the tool, metres.
const HAND: f32 = 0.32;

/// Leads that hang now.
#[derive(Resource, Default)]
pub struct Hanging(BTreeMap<(ToolKind, Lead), Entity>);

fn colour(lead: Lead) -> Rgb {
    match lead {
        Lead::Red | Lead::A => [170, 34, 30],
        Lead::B => [190, 120, 20],
        Lead::Clip | Lead::Probe | Lead::Black => [26, 26, 28],
    }
}

/// What the stage calls a tool.
pub fn tool_name(tool: ToolKind) -> &'static str {
    match tool {
        ToolKind::TestLight | ToolKind::LedLight => "test_light",
        ToolKind::FusedJumper | ToolKind::PlainJumper => "jumper",
        ToolKind::Meter => "meter",
        ToolKind::Breakout => "breakout",
        ToolKind::Gauge => "gauge",
        ToolKind::Lamp => "lamp",
        ToolKind::Thermometer => "thermometer",
    }
}

/// Hangs a lead for every lead that is on a point, and for the one that touched last.
pub fn hang(
    at_desk: Res<AtDesk>,
    standing: Res<Standing>,
    mut hanging: ResMut<Hanging>,
    places: Query<&GlobalTransform>,
    mut leads: Query<&mut LeadBetween>,
    mut commands: Commands,
) {
    if !at_desk.is_changed() && !standing.is_changed() {
        return;
    }
    let mut wanted: BTreeMap<(ToolKind, Lead), LeadBetween> = BTreeMap::new();
    if let Some(desk) = &at_desk.0 {
        let mut ends: Vec<(ToolKind, Lead, String)> = Vec::new();
        for (tool, on) in &desk.view().leads {
            ends.extend(on.iter().map(|(lead, point)| (*tool, *lead, point.clone())));
        }
        if let Some(tool) = desk.hand
            && let Some(free) = tool.leads().get(1)
            && let Some(point) = desk.shown.last().and_then(point_of)
        {
            ends.push((tool, *free, point));
        }
        for (tool, lead, point) in ends {
            let from = standing.tools.get(tool_name(tool)).map(|p| p.entity);
            let to = standing.points.get(&point).copied();
            let (Some(from), Some(to)) = (from, to) else {
                continue;
            };
            let (Ok(from), Ok(to)) = (places.get(from), places.get(to)) else {
                continue;
            };
            let session = desk.session();
            let vehicle = &session.case().vehicle;
            let place = session.points().iter().find(|p| p.id == point);
            let place = place.map_or("", |p| p.place.as_str());
            let (a, b) = (from.translation() + Vec3::Y * 0.02, to.translation());
            let between = lead_to(&standing.gazes, vehicle, place, a, b, colour(lead));
            wanted.insert((tool, lead), between);
        }
    }
    hanging.0.retain(|key, entity| {
        let keep = wanted.contains_key(key);
        if !keep {
            commands.entity(*entity).despawn();
        }
        keep
    });
    for (key, between) in wanted {
        match hanging.0.get(&key).and_then(|e| leads.get_mut(*e).ok()) {
            Some(mut lead) => {
                lead.set_if_neq(between);
            }
            None => {
                let entity = spawn_lead(&mut commands, between, 1.25);
                hanging.0.insert(key, entity);
            }
        }
    }
}

/// The lead from a tool at `a` to a point at `b`. In the cabin it comes from the learner's hand: the
/// tools lie on the wing.
pub fn lead_to(
    gazes: &Gazes,
    vehicle: &Vehicle,
    place: &str,
    a: Vec3,
    b: Vec3,
    colour: Rgb,
) -> LeadBetween {
    let free = gazes.free_way(vehicle, place);
    if vehicle.on_bench() {
        let free = None;
        return LeadBetween { a, b, free, colour };
    }
    if gaze::in_cabin(vehicle, place) {
        let (a, free) = (b + free * HAND, Some(free));
        return LeadBetween { a, b, free, colour };
    }
    let free = Some(free);
    LeadBetween { a, b, free, colour }
}

fn point_of(seen: &Observation) -> Option<String> {
    match seen {
        Observation::Light { point, .. } | Observation::Meter { point, .. } => Some(point.clone()),
        _ => None,
    }
}
