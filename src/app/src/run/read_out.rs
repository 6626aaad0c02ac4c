//! What appears over the car is read out where the panels' own tree of names cannot be: in a page.

use bevy::prelude::*;

use super::{AtDesk, InForce, Spoken};
use crate::desk::is_reading;
use crate::look::Palette;
use crate::panels::{Cx, captions, say};
use crate::platform;

/// Adds the reading out; nothing where the panels' tree is read.
pub struct ReadOutPlugin;

impl Plugin for ReadOutPlugin {
    fn build(&self, app: &mut App) {
        if platform::IN_A_PAGE {
            app.add_systems(Update, read_out);
        }
    }
}

fn read_out(
    at_desk: Res<AtDesk>,
    settings: Res<InForce>,
    spoken: Res<Spoken>,
    mut heard: Local<(String, u64, usize)>,
) {
    let Some(desk) = &at_desk.0 else { return };
    let palette = Palette::workshop();
    let cx = Cx {
        text: &spoken.0,
        look: &palette,
        settings: &settings.0,
        orders: &mut Vec::new(),
    };
    let attempt = desk.attempt();
    // Going on without keeping takes the name away; it is the same attempt.
    if heard.0 != attempt && !attempt.is_empty() {
        *heard = (attempt, 0, desk.log().len());
    }
    for (_, line) in desk.lines.since(heard.1) {
        for (sentence, _) in captions::words(&cx, desk, line) {
            platform::read_out(&sentence);
        }
    }
    heard.1 = desk.lines.next();
    for (_, seen) in desk.log().iter().skip(heard.2) {
        for reading in seen.iter().filter(|o| is_reading(o)) {
            platform::read_out(&say::observation(&cx, desk, reading));
        }
    }
    heard.2 = desk.log().len();
}
