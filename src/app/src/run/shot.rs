//! A picture of the window once it has settled, then the end.

use std::path::PathBuf;

use bevy::prelude::*;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured, save_to_disk};

/// Frames before the picture: shaders compile, textures arrive, panels find their sizes.
const SETTLES: u32 = 90;

/// Adds the picture.
pub struct ShotPlugin {
    /// Where it goes.
    pub path: PathBuf,
}

#[derive(Resource)]
struct Shot {
    path: PathBuf,
    frames: u32,
}

impl Plugin for ShotPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(Shot {
            path: self.path.clone(),
            frames: 0,
        })
        .add_systems(Update, take);
    }
}

fn take(mut shot: ResMut<Shot>, mut commands: Commands) {
    shot.frames += 1;
    if shot.frames == SETTLES {
        commands
            .spawn(Screenshot::primary_window())
            .observe(save_to_disk(shot.path.clone()))
            .observe(|_: On<ScreenshotCaptured>, mut exit: MessageWriter<AppExit>| {
                exit.write(AppExit::Success);
            });
    }
}
