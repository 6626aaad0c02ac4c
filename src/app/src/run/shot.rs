//! A picture of the window once it has settled, then the end.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use bevy::prelude::*;
use bevy::render::render_resource::PipelineCache;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured, save_to_disk};
use bevy::render::{Render, RenderApp, RenderSystems};

use crate::bridge::picture::Picture;

/// Frames in a row with no shader waiting to be compiled, and seconds, before the picture: textures
/// arrive, panels find their sizes and the camera its place. Both, since a machine without a GPU
/// makes a frame in seconds and one with a GPU makes hundreds in one.
const SETTLED_FRAMES: u32 = 8;
const SETTLES_S: f32 = 4.0;
/// Longest wait for a scene that goes on moving to come to rest, seconds.
const RESTS_S: f32 = 8.0;

/// Adds the picture.
pub struct ShotPlugin {
    /// Where it goes.
    pub path: PathBuf,
}

/// Shaders that wait to be compiled; counted in the render world, read in the main one.
#[derive(Resource, Clone, Default)]
pub struct Waiting(Arc<AtomicUsize>);

impl Waiting {
    /// How many there were in the last frame.
    pub fn count(&self) -> usize {
        self.0.load(Ordering::Relaxed)
    }

    /// Has both worlds share the count.
    pub fn share(app: &mut App) {
        let waiting = Waiting::default();
        app.insert_resource(waiting.clone());
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            render
                .insert_resource(waiting)
                .add_systems(Render, count.in_set(RenderSystems::Cleanup));
        }
    }
}

fn count(cache: Res<PipelineCache>, waiting: Res<Waiting>) {
    waiting
        .0
        .store(cache.waiting_pipelines().count(), Ordering::Relaxed);
}

#[derive(Resource)]
struct Shot {
    path: PathBuf,
    settled: u32,
    taken: bool,
}

impl Plugin for ShotPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(Shot {
            path: self.path.clone(),
            settled: 0,
            taken: false,
        })
        .add_systems(Update, take);
    }

    fn finish(&self, app: &mut App) {
        if !app.world().contains_resource::<Waiting>() {
            Waiting::share(app);
        }
    }
}

fn take(
    mut shot: ResMut<Shot>,
    waiting: Option<Res<Waiting>>,
    picture: Option<Res<Picture>>,
    time: Res<Time<Real>>,
    mut commands: Commands,
) {
    let busy = waiting.is_none_or(|w| w.count() > 0);
    shot.settled = if busy { 0 } else { shot.settled + 1 };
    let now_s = time.elapsed_secs();
    let rests = picture.is_none_or(|p| p.at_rest()) || now_s >= RESTS_S;
    if !shot.taken && shot.settled >= SETTLED_FRAMES && now_s >= SETTLES_S && rests {
        shot.taken = true;
        commands
            .spawn(Screenshot::primary_window())
            .observe(save_to_disk(shot.path.clone()))
            .observe(
                |_: On<ScreenshotCaptured>, mut exit: MessageWriter<AppExit>| {
                    exit.write(AppExit::Success);
                },
            );
    }
}
