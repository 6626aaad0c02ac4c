//! A file dropped on the window is taken for an assignment.
//!
//! Knows nothing of what is in one.

use bevy::prelude::*;
use bevy::window::FileDragAndDrop;

use super::Asked;
use crate::desk::Order;
use crate::platform;

/// Adds the taking of dropped files.
pub struct DroppedPlugin;

impl Plugin for DroppedPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(Update, take);
    }
}

fn take(mut dropped: MessageReader<FileDragAndDrop>, mut asked: ResMut<Asked>) {
    for event in dropped.read() {
        let FileDragAndDrop::DroppedFile { path_buf, .. } = event else {
            continue;
        };
        let name = path_buf
            .file_name()
            .map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        let text = platform::read_text(path_buf);
        asked.0.push(Order::Assignment { name, text });
    }
}
