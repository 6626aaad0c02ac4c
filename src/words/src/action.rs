//! What was done, in words.

use tracebay_core::session::Action;
use tracebay_core::vehicle::Vehicle;

use crate::observation::{capital, yes_no};
use crate::{Value, Words};

impl Words {
    /// A thing done, as it stands in a list of what was done.
    pub fn action(&self, vehicle: &Vehicle, action: &Action) -> String {
        let name = |id: &str| Value::from(self.name(vehicle, id));
        let at = |id: &str| Value::from(self.point(vehicle, id));
        let plain = |text: &str| Value::from(text.to_owned());
        let (key, args): (&str, Vec<(&str, Value)>) = match action {
            Action::Go(station) => ("did-go", vec![("station", self.value(*station).into())]),
            Action::Set { control, to } => (
                "did-set",
                vec![("control", name(control)), ("to", plain(to))],
            ),
            Action::Wait(ticks) => {
                let decimals = if ticks % 10 == 0 { 0 } else { 1 };
                let seconds = self.number(f64::from(*ticks) / 10.0, decimals);
                ("did-wait", vec![("seconds", seconds.into())])
            }
            Action::Protect => ("did-protect", vec![]),
            Action::Uncover(cover) => ("did-uncover", vec![("cover", name(cover))]),
            Action::Cover(cover) => ("did-cover", vec![("cover", name(cover))]),
            Action::Pull(part) => ("did-pull", vec![("part", name(part))]),
            Action::Fit { part, item, turned } => (
                "did-fit",
                vec![
                    ("part", name(part)),
                    ("item", self.value(*item).into()),
                    ("turned", yes_no(*turned)),
                ],
            ),
            Action::Unplug(plug) => ("did-unplug", vec![("plug", name(plug))]),
            Action::Plug(plug) => ("did-plug", vec![("plug", name(plug))]),
            Action::Wiggle(place) => ("did-wiggle", vec![("place", name(place))]),
            Action::Spray(place) => ("did-spray", vec![("place", name(place))]),
            Action::Look(place) => ("did-look", vec![("place", name(place))]),
            Action::Inspect(what) => ("did-inspect", vec![("place", name(what))]),
            Action::Listen(place) => ("did-listen", vec![("place", name(place))]),
            Action::Feel(place) => ("did-feel", vec![("place", name(place))]),
            Action::Light(Some(place)) => ("did-light", vec![("place", name(place))]),
            Action::Light(None) => ("did-light-away", vec![]),
            Action::Put { tool, lead, point } => (
                "did-put",
                vec![
                    ("tool", self.value(*tool).into()),
                    ("lead", self.value(*lead).into()),
                    ("point", at(point)),
                ],
            ),
            Action::Lift { tool, lead } => (
                "did-lift",
                vec![
                    ("tool", self.value(*tool).into()),
                    ("lead", self.value(*lead).into()),
                ],
            ),
            Action::Touch { tool, point } => (
                "did-touch",
                vec![("tool", self.value(*tool).into()), ("point", at(point))],
            ),
            Action::Sweep { tool, socket } => (
                "did-sweep",
                vec![("tool", self.value(*tool).into()), ("part", name(socket))],
            ),
            Action::Dial(dial) => ("did-dial", vec![("dial", self.value(*dial).into())]),
            Action::Renew(tool) => ("did-renew", vec![("tool", self.value(*tool).into())]),
            Action::Breakout(Some(socket)) => ("did-breakout", vec![("part", name(socket))]),
            Action::Breakout(None) => ("did-breakout-out", vec![]),
            Action::Gauge(true) => ("did-gauge-on", vec![]),
            Action::Gauge(false) => ("did-gauge-off", vec![]),
            Action::Thermometer(place) => ("did-thermometer", vec![("place", name(place))]),
            Action::Note(text) => ("did-note", vec![("text", plain(text))]),
            Action::Hint(level) => ("did-hint", vec![("level", level.to_string().into())]),
            Action::Call { target, failure } => (
                "did-call",
                vec![
                    ("target", name(target)),
                    ("failure", self.failure(vehicle, target, *failure).into()),
                ],
            ),
            Action::Repair { target, method } => (
                "did-repair",
                vec![
                    ("target", name(target)),
                    ("method", self.value(*method).into()),
                ],
            ),
            Action::HandBack {
                complaint,
                cause,
                correction,
            } => (
                "did-hand-back",
                vec![
                    ("complaint", plain(complaint)),
                    ("cause", plain(cause)),
                    ("correction", plain(correction)),
                ],
            ),
        };
        capital(&self.get(key, &args))
    }
}
