//! Test leads that hang between two points.

use super::curve::{hanging, led_over};
use super::material::{KitAssets, Mat};
use super::solids::tube;
use super::state::{LeadBetween, LeadSlack};
use bevy::camera::visibility::NoFrustumCulling;
use bevy::picking::Pickable;
use bevy::prelude::*;
use bevy::window::RequestRedraw;

/// Radius of a test lead, metres.
const RADIUS: f32 = 0.0024;
/// Height above all that stands in a bay with its lids on, in the bay's frame.
pub const CLEAR: f32 = 0.075;

/// Spawns a lead; change its [`LeadBetween`] to move it.
pub fn spawn_lead(commands: &mut Commands, lead: LeadBetween, slack: f32) -> Entity {
    commands
        .spawn((
            Transform::IDENTITY,
            Visibility::default(),
            lead,
            LeadSlack(slack),
            // A lead must not come between the pointer and the part behind it.
            Pickable::IGNORE,
            NoFrustumCulling,
        ))
        .id()
}

/// Rebuilds leads whose ends moved.
pub fn hang_leads(
    mut commands: Commands,
    mut kit: KitAssets,
    leads: Query<
        (Entity, &LeadBetween, Option<&LeadSlack>, Option<&Mesh3d>),
        Or<(Changed<LeadBetween>, Changed<LeadSlack>)>,
    >,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    for (e, lead, slack, mesh) in &leads {
        let slack = slack.map_or(1.25, |s| s.0);
        let path = match lead.free {
            Some(free) => led_over(lead.a, lead.b, free, CLEAR),
            None => hanging(lead.a, lead.b, slack, 28),
        };
        let geo = tube(&path, RADIUS, 7, true).to_mesh();
        if let Some(m) = mesh {
            if let Some(mut old) = kit.meshes.get_mut(&m.0) {
                *old = geo;
            }
        } else {
            let mesh = kit.meshes.add(geo);
            let material = kit.mat(Mat::Gloss(lead.colour));
            commands
                .entity(e)
                .insert((Mesh3d(mesh), MeshMaterial3d(material)));
        }
        redraw.write(RequestRedraw);
    }
}
