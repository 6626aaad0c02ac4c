//! Leads as they hang from tools to points, and the tool that touches.

use std::collections::BTreeMap;

use bevy::prelude::*;
use tracebay_core::session::Observation;
use tracebay_core::tools::{Lead, ToolKind};

use super::Standing;
use crate::kit::{LeadBetween, Rgb, spawn_lead};
use crate::run::AtDesk;

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
            let between = LeadBetween {
                a: from.translation() + Vec3::Y * 0.02,
                b: to.translation(),
                colour: colour(lead),
            };
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

fn point_of(seen: &Observation) -> Option<String> {
    match seen {
        Observation::Light { point, .. } | Observation::Meter { point, .. } => Some(point.clone()),
        _ => None,
    }
}
