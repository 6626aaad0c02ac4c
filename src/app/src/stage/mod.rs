//! The stage: stations and the walk between them, light, the workshop, and bays
//! built from data.
//!
//! # For the caller
//!
//! Add [`StagePlugin`] (it adds [`crate::kit::KitPlugin`]). Then spawn a bay with [`spawn_bay`],
//! the workshop with [`workshop::spawn_workshop`], lamps with [`light::spawn_lamps`] and a
//! camera with [`light::spawn_viewer`]; or all at once with [`set_the_stage`].
//! Send [`WalkTo`] and [`LookAt`] messages to move. Set [`light::Detail`] for the graphics level.

pub mod bays;
pub mod demo;
pub mod demo_box;
pub mod layout;
pub mod light;
pub mod openness;
pub mod places;
pub mod shadows;
pub mod sorting;
pub mod station;
pub mod surface;
pub mod surroundings;
pub mod touch;
pub mod unseen;
pub mod workshop;

pub use layout::{BESIDE, Bay, BayLayout, Placed, PlacedBox, Spot, Stand, Stands, spawn_bay};
pub use light::Detail;
pub use openness::{NoOpenness, WorkOutOpenness};
pub use station::{LookAt, Place, Places, Station, View, Viewer, WalkTo};
pub use workshop::BENCH;

use crate::kit::{KitAssets, KitPlugin};
use bevy::camera::visibility::VisibilitySystems;
use bevy::prelude::*;
use bevy::transform::TransformSystems;

/// Adds stations, light and everything of the kit.
pub struct StagePlugin;

impl Plugin for StagePlugin {
    fn build(&self, app: &mut App) {
        app.add_plugins((KitPlugin, shadows::ShadowsPlugin))
            .init_resource::<Detail>()
            .init_resource::<Places>()
            .init_resource::<touch::Gesture>()
            .insert_resource(ClearColor(Color::srgb(0.05, 0.052, 0.055)))
            .add_message::<WalkTo>()
            .add_message::<LookAt>()
            .add_systems(
                Update,
                (
                    station::hear_requests,
                    station::hear_pointer,
                    touch::hear_touch,
                    station::walk,
                    light::shine,
                    light::sign_of_lamps,
                    light::apply_detail,
                    surface::lay_on,
                )
                    .chain(),
            )
            .init_resource::<surface::Surfaces>()
            .add_systems(Startup, light::sort_lamps_on_cpu)
            .add_systems(
                PostUpdate,
                openness::work_out_openness.after(TransformSystems::Propagate),
            )
            .add_systems(
                PostUpdate,
                (
                    unseen::mark.after(VisibilitySystems::CalculateBounds),
                    unseen::leave_out,
                )
                    .chain()
                    .after(TransformSystems::Propagate)
                    .before(VisibilitySystems::VisibilityPropagate),
            );
    }
}

/// Spawns workshop, lamps, camera and a bay; inserts [`Bay`] as a resource.
pub fn set_the_stage(
    commands: &mut Commands,
    kit: &mut KitAssets,
    layout: &BayLayout,
    station: Station,
) -> Bay {
    let places = Places::for_layout(layout);
    workshop::spawn_workshop(commands, kit);
    light::spawn_lamps(commands);
    light::spawn_viewer(commands, &mut kit.images, &places, station);
    let bay = spawn_bay(commands, kit, layout, Transform::IDENTITY);
    commands.insert_resource(places);
    commands.insert_resource(bay.clone());
    bay
}
