//! A scripted learner: works through a file of keys, presses and pictures by the same ways in
//! that a person has (window events; the names that assistive technology uses), then ends the
//! program. For tests of the whole app and for pictures.
//!
//! One JSON object a line, in order:
//! `{"key":"E"}`, `{"press":"Go to the car"}`, `{"write":"text"}`, `{"point":[640,360]}`,
//! `{"expect":"bright"}`, `{"wait":1.5}` (seconds), `{"shot":"file.png"}`.
//! A name is met by a widget that has it. `*` at an end stands for anything, so that `*cold*` is
//! met by any name that holds the word.

use std::path::PathBuf;

use bevy::ecs::message::Messages;
use bevy::input::ButtonState;
use bevy::input::keyboard::{Key as LogicalKey, KeyCode, KeyboardInput};
use bevy::input::mouse::{MouseButton, MouseButtonInput};
use bevy::prelude::*;
use bevy::render::view::screenshot::{Screenshot, ScreenshotCaptured, save_to_disk};
use bevy::window::{CursorMoved, PrimaryWindow};
use bevy_egui::{EguiContext, EguiInput, EguiOutput, EguiPreUpdateSet, PrimaryEguiContext};
use serde::Deserialize;

use crate::egui::{self, accesskit};
use crate::platform;

/// One step of a script.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Step {
    /// Press and release a key: a letter, a digit, or a name such as `Tab`.
    Key(String),
    /// Press the widget of this name.
    Press(String),
    /// Write into the field that has the focus.
    Write(String),
    /// Click in the window, pixels from the upper left.
    Point([f32; 2]),
    /// Wait until something of this name is shown.
    Expect(String),
    /// Let seconds pass.
    Wait(f32),
    /// Save a picture.
    Shot(PathBuf),
}

/// Reads a script.
pub fn read(text: &str) -> Result<Vec<Step>, String> {
    let lines = text.lines().enumerate();
    lines
        .filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'))
        .map(|(i, line)| serde_json::from_str(line).map_err(|e| format!("line {}: {e}", i + 1)))
        .collect()
}

/// How long a name is waited for, seconds.
const PATIENCE_S: f32 = 60.0;
/// Frames between two steps, so that what one did is drawn before the next.
const BREATH: u32 = 3;

/// Adds the scripted learner.
pub struct PlayPlugin {
    /// What to do.
    pub steps: Vec<Step>,
}

#[derive(Resource)]
struct Play {
    steps: Vec<Step>,
    at: usize,
    frames: u32,
    waited_s: f32,
    picture: bool,
    release: Option<KeyboardInput>,
}

impl Plugin for PlayPlugin {
    fn build(&self, app: &mut App) {
        app.insert_resource(Play {
            steps: self.steps.clone(),
            at: 0,
            frames: 0,
            waited_s: 0.0,
            picture: false,
            release: None,
        })
        .add_systems(First, keys_and_pointer)
        .add_systems(
            PreUpdate,
            names
                .after(EguiPreUpdateSet::ProcessInput)
                .before(EguiPreUpdateSet::BeginPass),
        )
        .add_systems(Last, next);
    }
}

impl Play {
    fn now(&self) -> Option<&Step> {
        (self.frames >= BREATH && !self.picture)
            .then(|| self.steps.get(self.at))
            .flatten()
    }

    fn done(&mut self) {
        self.at += 1;
        self.frames = 0;
        self.waited_s = 0.0;
    }
}

/// Window events are written where the window writes them.
fn keys_and_pointer(
    mut play: ResMut<Play>,
    windows: Query<Entity, With<PrimaryWindow>>,
    mut keys: ResMut<Messages<KeyboardInput>>,
    mut moves: ResMut<Messages<CursorMoved>>,
    mut buttons: ResMut<Messages<MouseButtonInput>>,
) {
    if let Some(release) = play.release.take() {
        keys.write(release);
    }
    let Ok(window) = windows.single() else { return };
    match play.now().cloned() {
        Some(Step::Key(name)) => {
            let Some((key_code, logical_key)) = key_of(&name) else {
                fail(&play, &format!("there is no key {name}"));
            };
            let text = match &logical_key {
                LogicalKey::Character(s) => Some(s.clone()),
                _ => None,
            };
            let press = KeyboardInput {
                key_code,
                logical_key,
                state: ButtonState::Pressed,
                text,
                repeat: false,
                window,
            };
            play.release = Some(KeyboardInput {
                state: ButtonState::Released,
                ..press.clone()
            });
            keys.write(press);
            play.done();
        }
        Some(Step::Point([x, y])) => {
            moves.write(CursorMoved {
                window,
                position: Vec2::new(x, y),
                delta: None,
            });
            for state in [ButtonState::Pressed, ButtonState::Released] {
                buttons.write(MouseButtonInput {
                    button: MouseButton::Left,
                    state,
                    window,
                });
            }
            play.done();
        }
        _ => {}
    }
}

fn key_of(name: &str) -> Option<(KeyCode, LogicalKey)> {
    let named = |code, key| Some((code, key));
    match name {
        "Tab" => return named(KeyCode::Tab, LogicalKey::Tab),
        "Enter" => return named(KeyCode::Enter, LogicalKey::Enter),
        "Space" => return named(KeyCode::Space, LogicalKey::Space),
        "Escape" => return named(KeyCode::Escape, LogicalKey::Escape),
        "Up" => return named(KeyCode::ArrowUp, LogicalKey::ArrowUp),
        "Down" => return named(KeyCode::ArrowDown, LogicalKey::ArrowDown),
        "Left" => return named(KeyCode::ArrowLeft, LogicalKey::ArrowLeft),
        "Right" => return named(KeyCode::ArrowRight, LogicalKey::ArrowRight),
        _ => {}
    }
    let mut letters = name.chars();
    let (c, None) = (letters.next()?, letters.next()) else {
        return None;
    };
    const LETTERS: [KeyCode; 26] = [
        KeyCode::KeyA,
        KeyCode::KeyB,
        KeyCode::KeyC,
        KeyCode::KeyD,
        KeyCode::KeyE,
        KeyCode::KeyF,
        KeyCode::KeyG,
        KeyCode::KeyH,
        KeyCode::KeyI,
        KeyCode::KeyJ,
        KeyCode::KeyK,
        KeyCode::KeyL,
        KeyCode::KeyM,
        KeyCode::KeyN,
        KeyCode::KeyO,
        KeyCode::KeyP,
        KeyCode::KeyQ,
        KeyCode::KeyR,
        KeyCode::KeyS,
        KeyCode::KeyT,
        KeyCode::KeyU,
        KeyCode::KeyV,
        KeyCode::KeyW,
        KeyCode::KeyX,
        KeyCode::KeyY,
        KeyCode::KeyZ,
    ];
    const DIGITS: [KeyCode; 10] = [
        KeyCode::Digit0,
        KeyCode::Digit1,
        KeyCode::Digit2,
        KeyCode::Digit3,
        KeyCode::Digit4,
        KeyCode::Digit5,
        KeyCode::Digit6,
        KeyCode::Digit7,
        KeyCode::Digit8,
        KeyCode::Digit9,
    ];
    let lower = c.to_ascii_lowercase();
    let code = match lower {
        'a'..='z' => LETTERS[(lower as u8 - b'a') as usize],
        '0'..='9' => DIGITS[(lower as u8 - b'0') as usize],
        '/' => KeyCode::Slash,
        '+' => KeyCode::NumpadAdd,
        '-' => KeyCode::NumpadSubtract,
        _ => return None,
    };
    Some((
        code,
        LogicalKey::Character(lower.to_string().as_str().into()),
    ))
}

/// Presses and expectations go by the names that assistive technology is given.
fn names(
    mut play: ResMut<Play>,
    mut contexts: Query<(&mut EguiContext, &mut EguiInput, &EguiOutput), With<PrimaryEguiContext>>,
) {
    let Ok((mut context, mut input, output)) = contexts.single_mut() else {
        return;
    };
    context.get_mut().enable_accesskit();
    let find = |wanted: &str, pressed: bool| -> Option<accesskit::NodeId> {
        let update = output.platform_output.accesskit_update.as_ref()?;
        let pattern = Pattern::of(wanted);
        update.nodes.iter().find_map(|(id, node)| {
            let by_another = || {
                let (_, label) = update
                    .nodes
                    .iter()
                    .find(|(id, _)| node.labelled_by().contains(id))?;
                label.label().or_else(|| label.value())
            };
            // A field is called what stands beside it; what is written in it is no name.
            let name = node.label().or_else(by_another).or_else(|| node.value())?;
            // A label may bear the name of the button beside it.
            let fits = !pressed
                || node.supports_action(accesskit::Action::Click)
                || node.supports_action(accesskit::Action::Focus);
            (fits && pattern.met_by(name)).then_some(*id)
        })
    };
    match play.now().cloned() {
        Some(Step::Press(name)) => {
            if let Some(target_node) = find(&name, true) {
                for action in [accesskit::Action::Focus, accesskit::Action::Click] {
                    let request = accesskit::ActionRequest {
                        action,
                        target_tree: accesskit::TreeId::ROOT,
                        target_node,
                        data: None,
                    };
                    input
                        .events
                        .push(egui::Event::AccessKitActionRequest(request));
                }
                play.done();
            } else {
                lose_patience(&play, &name);
            }
        }
        Some(Step::Expect(name)) => {
            if find(&name, false).is_some() {
                play.done();
            } else {
                lose_patience(&play, &name);
            }
        }
        Some(Step::Write(text)) => {
            input.events.push(egui::Event::Text(text));
            play.done();
        }
        _ => {}
    }
}

/// A name with anything at either end.
struct Pattern<'a> {
    core: &'a str,
    before: bool,
    after: bool,
}

impl<'a> Pattern<'a> {
    fn of(wanted: &'a str) -> Pattern<'a> {
        let after = wanted.strip_suffix('*');
        let rest = after.unwrap_or(wanted);
        let before = rest.strip_prefix('*');
        Pattern {
            core: before.unwrap_or(rest),
            before: before.is_some(),
            after: after.is_some(),
        }
    }

    fn met_by(&self, name: &str) -> bool {
        match (self.before, self.after) {
            (false, false) => name == self.core,
            (false, true) => name.starts_with(self.core),
            (true, false) => name.ends_with(self.core),
            (true, true) => name.contains(self.core),
        }
    }
}

fn lose_patience(play: &Play, name: &str) {
    if play.waited_s > PATIENCE_S {
        fail(play, &format!("nothing called \"{name}\" came up"));
    }
}

fn fail(play: &Play, why: &str) -> ! {
    platform::give_up(&format!("script, step {}: {why}", play.at + 1), 4)
}

fn next(
    mut play: ResMut<Play>,
    time: Res<Time<Real>>,
    mut commands: Commands,
    mut exit: MessageWriter<AppExit>,
) {
    play.frames += 1;
    play.waited_s += time.delta_secs();
    match play.now().cloned() {
        Some(Step::Wait(seconds)) if play.waited_s >= seconds => play.done(),
        Some(Step::Shot(path)) => {
            play.picture = true;
            commands
                .spawn(Screenshot::primary_window())
                .observe(save_to_disk(path))
                .observe(|_: On<ScreenshotCaptured>, mut play: ResMut<Play>| {
                    play.picture = false;
                    play.done();
                });
        }
        None if play.at >= play.steps.len() && play.frames > BREATH => {
            exit.write(AppExit::Success);
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scripts_are_read_or_refused_with_their_line() {
        let steps = read("# a comment\n{\"key\":\"E\"}\n\n{\"wait\":0.5}\n").unwrap();
        assert_eq!(steps, [Step::Key("E".into()), Step::Wait(0.5)]);
        let why = read("{\"key\":\"E\"}\n{\"jump\":1}").unwrap_err();
        assert!(why.starts_with("line 2"), "{why}");
    }

    #[test]
    fn names_are_met_as_their_stars_say() {
        let met = |wanted: &str, name: &str| Pattern::of(wanted).met_by(name);
        assert!(met("Look", "Look") && !met("Look", "Look closely"));
        assert!(met("Look*", "Look closely") && !met("Look*", "A Look"));
        assert!(met("*cold*", "air, cold, comes"));
        assert!(met("*end", "the end") && !met("*end", "ending"));
    }

    #[test]
    fn every_usual_key_can_be_pressed_by_name() {
        let keys = crate::desk::keys::Keys::default();
        for act in crate::desk::keys::KeyAct::ALL {
            let key = keys.key(act);
            let name = if key == egui::Key::Slash {
                "/"
            } else {
                key.name()
            };
            assert!(key_of(name).is_some(), "{name}");
        }
    }
}
