//! Finished pictures are handed on to where they go by a small shader of our own: pixel by pixel, where
//! Bevy's looks up places between them.
//!
//! Right only where a picture is as large as its goal, as all are here. Knows nothing of what they show.

use bevy::core_pipeline::blit::{BlitPipeline, init_blit_pipeline};
use bevy::prelude::*;
use bevy::render::{RenderApp, RenderStartup};
use bevy::shader::Shader;

/// Adds the shader. Comes after Bevy's own plugins.
pub struct HandOnPlugin;

impl Plugin for HandOnPlugin {
    fn build(&self, app: &mut App) {
        let shader = Shader::from_wgsl(include_str!("hand_on.wgsl"), "run/hand_on.wgsl");
        let mut shaders = app.world_mut().resource_mut::<Assets<Shader>>();
        let hand_on = HandOn(shaders.add(shader));
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render
                .insert_resource(hand_on)
                .add_systems(RenderStartup, take_over.after(init_blit_pipeline));
        }
    }
}

#[derive(Resource)]
struct HandOn(Handle<Shader>);

fn take_over(hand_on: Res<HandOn>, mut pipeline: ResMut<BlitPipeline>) {
    pipeline.fragment_shader = hand_on.0.clone();
}
