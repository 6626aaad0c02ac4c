//! Fingers on the picture: one turns the view, two move it and come closer.

use std::collections::BTreeSet;

use bevy::input::touch::{Touch, TouchInput};
use bevy::prelude::*;

use super::station::{Places, Viewer};

/// A finger that went farther than this has turned the view and touched nothing.
const STILL_PX: f32 = 12.0;

/// Fingers that turned or moved the view since they came down: lifting them touches nothing.
#[derive(Resource, Default)]
pub struct Gesture(BTreeSet<u64>);

/// Whether a finger that was just lifted had turned or moved the view.
pub fn moved(gesture: &Gesture, touches: &Touches, id: u64) -> bool {
    let far = |touch: &Touch| touch.id() == id && touch.distance().length() > STILL_PX;
    gesture.0.contains(&id) || touches.iter_just_released().any(far)
}

/// Notches of a wheel that bring the view as much closer as two fingers that were `before` apart
/// and are `now` (both in pixels).
fn notches(before: f32, now: f32) -> f32 {
    if before < 1.0 || now < 1.0 {
        return 0.0;
    }
    (now / before).ln() / -(0.88f32.ln())
}

/// Turns, moves and comes closer as fingers do.
pub fn hear_touch(
    touches: Res<Touches>,
    mut events: MessageReader<TouchInput>,
    places: Res<Places>,
    mut gesture: ResMut<Gesture>,
    mut viewers: Query<&mut Viewer>,
) {
    // Between events fingers still tell their last step.
    if events.read().count() == 0 {
        return;
    }
    let lifted = |id: &u64| touches.iter_just_released().any(|t| t.id() == *id);
    gesture
        .0
        .retain(|id| touches.get_pressed(*id).is_some() || lifted(id));
    let together = touches.iter().count() > 1;
    let going = |touch: &&Touch| together || touch.distance().length() > STILL_PX;
    gesture
        .0
        .extend(touches.iter().filter(going).map(Touch::id));
    let mut fingers = touches.iter();
    let (turn, pan, closer) = match (fingers.next(), fingers.next()) {
        (Some(one), None) => (one.delta(), Vec2::ZERO, 0.0),
        (Some(a), Some(b)) => {
            let before = a.previous_position().distance(b.previous_position());
            let now = a.position().distance(b.position());
            (
                Vec2::ZERO,
                (a.delta() + b.delta()) * 0.5,
                notches(before, now),
            )
        }
        _ => return,
    };
    for mut viewer in &mut viewers {
        if viewer.listens {
            viewer.nudge(&places, turn, pan, closer);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fingers_twice_as_far_apart_halve_the_distance() {
        // A notch leaves 0.88 of the distance, as the wheel's does.
        let left = 0.88f32.powf(notches(100.0, 200.0));
        assert!((left - 0.5).abs() < 1e-4, "{left}");
        assert_eq!(notches(0.0, 50.0), 0.0);
    }
}
