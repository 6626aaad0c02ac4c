//! A picture of the window once it has settled, then the end.

use std::path::PathBuf;

use bevy::prelude::*;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured, save_to_disk};

/// Frames and seconds before the picture: shaders compile, textures arrive, panels find their sizes
/// and the camera its place. Both, since a machine without a GPU makes a frame in seconds and one
/// with a GPU makes hundreds in one.
const SETTLES_FRAMES: u32 = 10;
const SETTLES_S: f32 = 4.0;

/// Adds the picture.
pub struct ShotPlugin {
    /// Where it goes.
    pub path: PathBuf,
}

#[derive(Resource)]
struct Shot {
    path: PathBuf,
    frames: u32,
    taken: bool,
}

impl Plugin for ShotPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(Shot {
            path: self.path.clone(),
            frames: 0,
            taken: false,
        })
        .add_systems(Update, take);
    }
}

fn take(mut shot: ResMut<Shot>, time: Res<Time<Real>>, mut commands: Commands) {
    shot.frames += 1;
    if !shot.taken && shot.frames >= SETTLES_FRAMES && time.elapsed_secs() >= SETTLES_S {
        shot.taken = true;
        commands
            .spawn(Screenshot::primary_window())
            .observe(save_to_disk(shot.path.clone()))
            .observe(|_: On<ScreenshotCaptured>, mut exit: MessageWriter<AppExit>| {
                exit.write(AppExit::Success);
            });
    }
}
