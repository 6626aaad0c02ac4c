//! What can be done at a thing, with the session's own answer to each.

use tracebay_core::session::{Action, Item, Refusal, Session, View};
use tracebay_core::tools::ToolKind;
use tracebay_core::vehicle::{Kind, Role, Station, Vehicle};

use super::thing::Thing;

/// What kind of thing is done, for its words and its sign.
#[derive(Copy, Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verb {
    /// Look there.
    Look,
    /// Look closely.
    Inspect,
    /// Listen there.
    Listen,
    /// Feel there.
    Feel,
    /// Point the lamp there.
    Light,
    /// Move the harness about.
    Wiggle,
    /// Wet the place.
    Spray,
    /// Take a cover off.
    Uncover,
    /// Put a cover on.
    Cover,
    /// Pull a relay or fuse.
    Pull,
    /// Put the original back.
    Fit,
    /// Put it back turned half round.
    FitTurned,
    /// Put a spare in.
    FitSpare,
    /// Take a plug off.
    Unplug,
    /// Push a plug on.
    Plug,
    /// Press a plug home.
    Press,
    /// Put a control in a position.
    Set,
    /// Turn the ignition key to a position.
    Turn,
    /// Touch all cavities.
    Sweep,
    /// Put the breakout in.
    Breakout,
    /// Take the breakout out.
    BreakoutOut,
    /// Connect the gauge.
    Gauge,
    /// Take the gauge off.
    GaugeOff,
    /// Hold the thermometer there.
    Thermometer,
}

/// Something that can be done.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// What kind.
    pub verb: Verb,
    /// What it is done to, if the words need it (a cover's name, a control's position).
    pub object: Option<String>,
    /// The action.
    pub action: Action,
    /// Why not now.
    pub refusal: Option<Refusal>,
}

/// All that can be done at `thing` with the tool in hand. What is already so is left out.
pub fn choices(
    session: &Session,
    view: &View,
    hand: Option<ToolKind>,
    thing: &Thing,
) -> Vec<Choice> {
    let vehicle = &*session.case().vehicle;
    let mut list = Vec::new();
    let mut add = |verb, object: Option<&str>, action: Action| {
        let refusal = session.check(&action).err();
        if matches!(
            refusal,
            Some(Refusal::AlreadySo | Refusal::Unknown { .. } | Refusal::NoSuchTool { .. })
        ) {
            return;
        }
        list.push(Choice {
            verb,
            object: object.map(str::to_owned),
            action,
            refusal,
        });
    };
    match thing {
        Thing::Control(id) => {
            let control = vehicle.controls.get(id);
            let is_key = control.is_some_and(|c| c.role == Role::Key);
            let verb = if is_key { Verb::Turn } else { Verb::Set };
            for to in control.map_or(&[][..], |c| c.positions.as_slice()) {
                if view.controls.get(id) != Some(to) {
                    let action = Action::Set {
                        control: id.clone(),
                        to: to.clone(),
                    };
                    add(verb, Some(to), action);
                }
            }
        }
        Thing::Part(id) => part(vehicle, view, hand, id, &mut add),
        Thing::Connector(id) => {
            if view.unplugged.contains(id) {
                add(Verb::Plug, None, Action::Plug(id.clone()));
                add(Verb::Inspect, None, Action::Inspect(id.clone()));
            } else {
                add(Verb::Unplug, None, Action::Unplug(id.clone()));
                add(Verb::Press, None, Action::Plug(id.clone()));
            }
            add(Verb::Wiggle, None, Action::Wiggle(id.clone()));
        }
        Thing::Box(_) | Thing::Place(_) => {}
    }
    if let Some(place) = thing.place(vehicle) {
        at_place(vehicle, view, hand, place, &mut add);
    }
    list
}

fn part(
    vehicle: &Vehicle,
    view: &View,
    hand: Option<ToolKind>,
    id: &str,
    add: &mut impl FnMut(Verb, Option<&str>, Action),
) {
    let Some(part) = vehicle.parts.get(id) else {
        return;
    };
    let own = || id.to_owned();
    let fit = |item, turned| Action::Fit {
        part: own(),
        item,
        turned,
    };
    let relay = matches!(part.kind, Kind::Relay(_));
    if relay || matches!(part.kind, Kind::Fuse { .. }) {
        if view.pulled.contains(id) {
            add(Verb::Fit, None, fit(Item::Original, false));
            if relay {
                add(Verb::FitTurned, None, fit(Item::Original, true));
            }
            add(Verb::FitSpare, None, fit(Item::Spare, false));
            add(Verb::Inspect, None, Action::Inspect(own()));
        } else {
            add(Verb::Pull, None, Action::Pull(own()));
        }
    }
    if relay {
        if let Some(tool) = hand.filter(|t| t.leads().len() == 2) {
            let socket = own();
            add(Verb::Sweep, None, Action::Sweep { tool, socket });
        }
        if view.breakout.as_deref() == Some(id) {
            add(Verb::BreakoutOut, None, Action::Breakout(None));
        } else if hand == Some(ToolKind::Breakout) {
            add(Verb::Breakout, None, Action::Breakout(Some(own())));
        }
    }
}

fn at_place(
    vehicle: &Vehicle,
    view: &View,
    hand: Option<ToolKind>,
    place: &str,
    add: &mut impl FnMut(Verb, Option<&str>, Action),
) {
    let Some(data) = vehicle.places.get(place) else {
        return;
    };
    let own = || place.to_owned();
    add(Verb::Look, None, Action::Look(own()));
    add(Verb::Listen, None, Action::Listen(own()));
    add(Verb::Feel, None, Action::Feel(own()));
    if let Some(cover) = &data.cover {
        if view.uncovered.contains(cover) {
            add(Verb::Cover, Some(cover), Action::Cover(cover.clone()));
        } else {
            add(Verb::Uncover, Some(cover), Action::Uncover(cover.clone()));
        }
    }
    if hand == Some(ToolKind::Lamp) && view.lamp_at.as_deref() != Some(place) {
        add(Verb::Light, None, Action::Light(Some(own())));
    }
    if hand == Some(ToolKind::Thermometer) {
        add(Verb::Thermometer, None, Action::Thermometer(own()));
    }
    if data.station == Station::Bay || data.station == Station::Bench {
        if view.gauge_on {
            add(Verb::GaugeOff, None, Action::Gauge(false));
        } else if hand == Some(ToolKind::Gauge) {
            add(Verb::Gauge, None, Action::Gauge(true));
        }
    }
    add(Verb::Wiggle, None, Action::Wiggle(own()));
    // Nobody thinks of a spray bottle in the cabin or at the bench.
    if tracebay_core::session::in_the_weather(vehicle, place) {
        add(Verb::Spray, None, Action::Spray(own()));
    }
}
