//! Puts a shader of our own in the place of bevy_egui's: the same picture with less work.

use bevy::prelude::*;
use bevy::shader::Shader;
use bevy_egui::render::EGUI_SHADER_HANDLE;

/// Adds it; to be added after bevy_egui.
pub struct InkPlugin;

impl Plugin for InkPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(PreStartup, ink);
    }
}

fn ink(mut shaders: ResMut<Assets<Shader>>) {
    let source = include_str!("../look/panels.wgsl");
    let shader = Shader::from_wgsl(source, "tracebay/look/panels.wgsl");
    if let Err(error) = shaders.insert(EGUI_SHADER_HANDLE.id(), shader) {
        warn!("{error}");
    }
}
