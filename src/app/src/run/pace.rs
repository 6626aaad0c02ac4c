//! How often a frame is made. Nothing moves, nothing is drawn: the program then costs next to
//! nothing.

use std::time::Duration;

use bevy::prelude::*;
use bevy::winit::{UpdateMode, WinitSettings};

use super::paint::Open;
use super::{AtDesk, Shown};
use crate::desk::Screen;
use crate::panels::captions::STAYS_S;

/// Frames while the car does something by itself.
const LIVELY: Duration = Duration::from_millis(50);
/// A look now and then while lines are still shown, so that they go.
const LINES: Duration = Duration::from_millis(500);
/// Otherwise. Input wakes the program at once.
const STILL: Duration = Duration::from_secs(60);
/// The same while the program is being measured, so that it ends.
const MEASURED: Duration = Duration::from_secs(10);

/// Adds the pacing. `steady` makes frames all the time, for pictures and scripts.
pub struct PacePlugin {
    /// Frames all the time.
    pub steady: bool,
    /// Frames all the time, but for the stretch that is to be measured at rest.
    pub measured: bool,
    /// A look now and then, since files may be saved.
    pub watching: bool,
}

/// Frames are made all the time.
#[derive(Resource)]
pub struct Steady(pub bool);

/// How long nothing happens by itself at most.
#[derive(Resource)]
struct Longest(Duration);

impl Plugin for PacePlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(Steady(self.steady || self.measured))
            .insert_resource(Longest(match (self.measured, self.watching) {
                (true, _) => MEASURED,
                (false, true) => LINES,
                (false, false) => STILL,
            }))
            .insert_resource(WinitSettings::continuous())
            .add_systems(Last, pace);
    }
}

fn pace(
    steady: Res<Steady>,
    longest: Res<Longest>,
    at_desk: Res<AtDesk>,
    shown: Res<State<Shown>>,
    open: Res<Open>,
    time: Res<Time<Real>>,
    mut winit: ResMut<WinitSettings>,
) {
    // The first second compiles shaders and loads fonts.
    let starting = time.elapsed_secs() < 1.0;
    let mode = if steady.0 || starting {
        UpdateMode::Continuous
    } else {
        let at_car = shown.get().0 == Screen::Work && !open.board.menu;
        let wait = match &at_desk.0 {
            Some(desk) if at_car && desk.lively() => LIVELY,
            Some(desk) if at_car && desk.lines.latest(STAYS_S + 1.0).is_some() => LINES,
            _ => longest.0,
        };
        UpdateMode::reactive_low_power(wait)
    };
    if winit.focused_mode != mode || winit.unfocused_mode != mode {
        winit.focused_mode = mode;
        winit.unfocused_mode = mode;
    }
}
