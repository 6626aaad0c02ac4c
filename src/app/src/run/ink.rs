//! Panels are drawn by a small shader of our own.
//!
//! The panels' crate keeps its shader as an asset under a known name; whatever is put there is
//! compiled and used. Ours does per corner what that does per pixel, which halves what a window full
//! of panels costs a machine that draws by its processor. Knows nothing of what the panels show.

use bevy::prelude::*;
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
    }
}
