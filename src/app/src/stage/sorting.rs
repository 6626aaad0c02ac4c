//! Who makes ready what is to be drawn: the program, not the card.
//!
//! A card can do it by itself in many short steps that wait for each other, which is worth it for a hundred
//! thousand things. For a thousand the waits cost more than the work, most of all where a processor draws. The
//! page knows no other way.

use bevy::app::PluginGroupBuilder;
use bevy::pbr::PbrPlugin;
use bevy::prelude::*;
use bevy::render::batching::gpu_preprocessing::{GpuPreprocessingMode, GpuPreprocessingSupport};
use bevy::render::{RenderApp, RenderStartup, init_gpu_resource};

/// Bevy's plugins with both halves of the making ready given to the program: with one of them alone most of a
/// scene would be made ready by nobody, and not be drawn.
pub fn by_the_program(plugins: PluginGroupBuilder) -> PluginGroupBuilder {
    let surfaces = PbrPlugin {
        use_gpu_instance_buffer_builder: false,
        ..default()
    };
    plugins.set(surfaces).add(SortingPlugin)
}

struct SortingPlugin;

impl Plugin for SortingPlugin {
    fn build(&self, app: &mut App) {
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            let found = init_gpu_resource::<GpuPreprocessingSupport>;
            render.add_systems(RenderStartup, take_from_the_card.after(found));
        }
    }
}

fn take_from_the_card(mut support: ResMut<GpuPreprocessingSupport>) {
    support.max_supported_mode = GpuPreprocessingMode::None;
}
