//! Panels are drawn, and finished pictures handed on, by small shaders of our own.
//!
//! The panels' crate keeps its shader as an asset under a known name; whatever is put there is
//! compiled and used. Ours does per corner what that does per pixel, which halves what a window full
//! of panels costs a machine that draws by its processor. What hands a picture on is named by the
//! pipeline that does it. Knows nothing of what the panels show.

use bevy::core_pipeline::blit::{BlitPipeline, init_blit_pipeline};
use bevy::prelude::*;
use bevy::render::{RenderApp, RenderStartup};
use bevy::shader::Shader;
use bevy_egui::render::EGUI_SHADER_HANDLE;

/// Adds the shader. Comes after the panels' own plugin.
pub struct InkPlugin;

impl Plugin for InkPlugin {
    fn build(&self, app: &mut App) {
        let shader = Shader::from_wgsl(include_str!("ink.wgsl"), "run/ink.wgsl");
        let mut shaders = app.world_mut().resource_mut::<Assets<Shader>>();
        if let Err(error) = shaders.insert(&EGUI_SHADER_HANDLE, shader) {
            warn!("{error}");
        }
        let hand_on = Shader::from_wgsl(include_str!("hand_on.wgsl"), "run/hand_on.wgsl");
        let hand_on = HandOn(shaders.add(hand_on));
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render
                .insert_resource(hand_on)
                .add_systems(RenderStartup, take_over.after(init_blit_pipeline));
        }
    }
}

/// What hands a finished picture on.
#[derive(Resource)]
struct HandOn(Handle<Shader>);

fn take_over(hand_on: Res<HandOn>, mut pipeline: ResMut<BlitPipeline>) {
    pipeline.fragment_shader = hand_on.0.clone();
}
