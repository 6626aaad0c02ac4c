//! The parts of a frame are done one after another.
//!
//! A frame is some three hundred small parts. Handing each to a thread that is free takes longer than most of
//! them, wakes threads that go back to sleep, and takes the processor from what draws where there is no card.
//! What is long is still shared out, by whoever does it (`stage/openness`), and drawing goes on beside the next
//! frame.

use bevy::app::SubApp;
use bevy::core_pipeline::schedule::{Core2d, Core3d};
use bevy::ecs::schedule::{ScheduleLabel, SingleThreadedExecutor};
use bevy::prelude::*;
use bevy::render::{ExtractSchedule, Render, RenderApp};

/// Adds the order. Comes after Bevy's own plugins.
pub struct TurnsPlugin;

impl Plugin for TurnsPlugin {
    fn build(&self, app: &mut App) {
        let main = app.main_mut();
        in_turn(main, First);
        in_turn(main, PreUpdate);
        in_turn(main, Update);
        in_turn(main, PostUpdate);
        in_turn(main, Last);
        if let Some(render) = app.get_sub_app_mut(RenderApp) {
            in_turn(render, ExtractSchedule);
            in_turn(render, Render);
            in_turn(render, Core3d);
            in_turn(render, Core2d);
        }
    }
}

fn in_turn(app: &mut SubApp, label: impl ScheduleLabel) {
    app.edit_schedule(label, |schedule| {
        schedule.set_executor(SingleThreadedExecutor::new());
    });
}
