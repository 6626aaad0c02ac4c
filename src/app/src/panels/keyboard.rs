//! Keys that work anywhere at the car, unless one is writing.

use tracebay_core::session::Action;
use tracebay_core::vehicle::Station;

use super::{Cx, points};
use crate::desk::keys::KeyAct;
use crate::desk::{Desk, Order};
use crate::egui::{Event, Key, Ui};

/// What keys opened or moved, beside the orders they gave.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Pressed {
    /// Tool roll asked for.
    pub roll: bool,
    /// Finder asked for.
    pub find: bool,
    /// Job sheet asked for.
    pub sheet: bool,
    /// Wiring diagram asked for.
    pub diagram: bool,
    /// Escape: one step back.
    pub back: bool,
    /// Step among the points of the thing.
    pub point: i32,
}

/// Reads the keys of this pass.
pub fn read(ui: &Ui, cx: &mut Cx<'_>, desk: &Desk) -> Pressed {
    let mut pressed = Pressed::default();
    if ui.ctx().text_edit_focused() {
        return pressed;
    }
    let keys: Vec<Key> = ui.input(|i| {
        i.events
            .iter()
            .filter_map(|e| match e {
                Event::Key {
                    key,
                    pressed: true,
                    modifiers,
                    ..
                } if !modifiers.command && !modifiers.alt => Some(*key),
                _ => None,
            })
            .collect()
    });
    for key in keys {
        if key == Key::Escape {
            pressed.back = true;
            continue;
        }
        match cx.settings.keys.act(key) {
            Some(act) => one(cx, desk, act, &mut pressed),
            None => continue,
        }
    }
    pressed
}

fn one(cx: &mut Cx<'_>, desk: &Desk, act: KeyAct, pressed: &mut Pressed) {
    let go = |station| Order::Do(Action::Go(station));
    match act {
        KeyAct::GoSeat => cx.order(go(Station::Seat)),
        KeyAct::GoBay => cx.order(go(Station::Bay)),
        KeyAct::GoBox => cx.order(go(Station::Box)),
        KeyAct::GoBench => cx.order(go(Station::Bench)),
        KeyAct::Tools => pressed.roll = true,
        KeyAct::LayBack => cx.order(Order::Take(None)),
        KeyAct::Next => cx.order(Order::FocusStep(1)),
        KeyAct::Previous => cx.order(Order::FocusStep(-1)),
        KeyAct::Find => pressed.find = true,
        KeyAct::Sheet => pressed.sheet = true,
        KeyAct::Diagram => pressed.diagram = true,
        KeyAct::Pause => cx.order(Order::Pause(!desk.paused)),
        KeyAct::PointNext => pressed.point = 1,
        KeyAct::PointPrevious => pressed.point = -1,
        KeyAct::Touch | KeyAct::FirstLead | KeyAct::SecondLead => at_point(cx, desk, act),
    }
}

/// The point the keyboard is on.
pub fn chosen_point(desk: &Desk) -> Option<String> {
    let thing = desk.thing()?;
    let list = points::shown(desk, &thing);
    let last = list.len().checked_sub(1)?;
    Some(list[desk.point.min(last)].id.clone())
}

fn at_point(cx: &mut Cx<'_>, desk: &Desk, act: KeyAct) {
    let Some(point) = chosen_point(desk) else {
        let sentence = cx.t("tell-turn-first");
        return cx.order(Order::Tell(sentence));
    };
    let Some(tool) = desk.hand else {
        let sentence = cx.t("tell-tool-first");
        return cx.order(Order::Tell(sentence));
    };
    let [first, second] = tool.leads() else {
        let sentence = cx.t("tell-no-leads");
        return cx.order(Order::Tell(sentence));
    };
    let action = match act {
        KeyAct::Touch => Action::Touch { tool, point },
        KeyAct::FirstLead => Action::Put {
            tool,
            lead: *first,
            point,
        },
        _ => Action::Put {
            tool,
            lead: *second,
            point,
        },
    };
    cx.order(Order::Do(action));
}
