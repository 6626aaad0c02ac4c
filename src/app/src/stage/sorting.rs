//! Who makes ready what is to be drawn: the program, not the card.
//!
//! A card can do it by itself in many short steps that wait for each other, which is worth it for a hundred
//! thousand things. For a thousand the waits cost more than the work, most of all where a processor draws. The
//! page knows no other way.

use bevy::pbr::PbrPlugin;
use bevy::prelude::*;
use bevy::render::batching::gpu_preprocessing::{GpuPreprocessingMode, GpuPreprocessingSupport};
use bevy::render::{RenderApp, RenderStartup, init_gpu_resource};

/// Takes the making ready from the card; goes with [`surfaces`], or half of it would be done by nobody.
pub struct SortingPlugin;

impl Plugin for SortingPlugin {
    fn build(&self, app: &mut App) {
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            let found = init_gpu_resource::<GpuPreprocessingSupport>;
            render.add_systems(RenderStartup, by_the_program.after(found));
        }
    }
}

/// How surfaces are drawn where [`SortingPlugin`] is in force.
pub fn surfaces() -> PbrPlugin {
    PbrPlugin {
        use_gpu_instance_buffer_builder: false,
        ..default()
    }
}

fn by_the_program(mut support: ResMut<GpuPreprocessingSupport>) {
    support.max_supported_mode = GpuPreprocessingMode::None;
}
