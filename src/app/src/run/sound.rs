//! What is heard follows the session: every frame the speaker is told what runs and what just happened.

use bevy::prelude::*;
use bevy::window::RequestRedraw;

use super::paint::Open;
use super::{AtDesk, Frame, InForce, Shown};
use crate::desk::{Screen, heard};
use crate::platform::sound::{Output, Speaker, ToHear, output};

/// Adds the sound.
pub struct SoundPlugin;

impl Plugin for SoundPlugin {
    fn build(&self, app: &mut App) {
        app.insert_non_send(Speaker::start())
            .add_systems(Update, hear.after(Frame::Time));
    }
}

/// What was heard so far, and the state shown last.
#[derive(Default)]
struct UpTo {
    ear: heard::Ear,
    output: Option<Output>,
}

fn hear(
    at_desk: Res<AtDesk>,
    settings: Res<InForce>,
    time: Res<Time<Real>>,
    shown: Res<State<Shown>>,
    open: Res<Open>,
    mut speaker: NonSendMut<Speaker>,
    mut up_to: Local<UpTo>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let screen = shown.get().0;
    let on = settings.0.sound && settings.0.volume_percent > 0;
    let mut what = ToHear {
        try_out: screen == Screen::Settings && on,
        on,
        ..default()
    };
    if let Some(desk) = &at_desk.0 {
        let at_car = screen == Screen::Work
            && !open.board.menu
            && !desk.paused
            && desk.not_kept.is_none()
            && !desk.view().handed_back;
        if at_car && on {
            (what.running, what.events) = up_to.ear.hear(desk, time.delta_secs());
            // A player is there before the first click.
            what.try_out = true;
            what.volume = settings.0.volume_percent as f32 / 100.0;
        } else {
            // What happened unheard stays so.
            up_to.ear.pass_over(desk);
        }
    }
    let again = speaker.hear(what);
    // The settings say what was found out meanwhile.
    let news = up_to.output.replace(output()) != Some(output());
    let waiting = screen == Screen::Settings && on && output() == Output::Untried;
    if again || news || waiting {
        redraw.write(RequestRedraw);
    }
}
