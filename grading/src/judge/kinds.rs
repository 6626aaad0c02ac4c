//! What kind of step an action is: a test, its preparation, a good habit, a call, a repair.
//!
//! Gives no points and computes no regret; it sorts, by what was done and what was still open.

use tracebay_core::session::Action;
use tracebay_core::tools::{Dial, Lead, ToolKind};

use super::{Judge, Kind};
use crate::survey::{Probe, load_cavities};

impl Judge<'_> {
    pub(super) fn kind(&mut self, action: &Action, open: usize) -> Kind {
        let parked = matches!(action, Action::Put { tool, .. } if self.both_leads_on(*tool));
        // Pressing home a plug that is on asks something; putting one back does not.
        let pressed = matches!(action, Action::Plug(_)) && !self.puts_plug_back;
        let asks = parked
            || pressed
            || matches!(
                action,
                Action::Touch { .. }
                    | Action::Sweep { .. }
                    | Action::Look(_)
                    | Action::Inspect(_)
                    | Action::Listen(_)
                    | Action::Feel(_)
                    | Action::Wiggle(_)
                    | Action::Spray(_)
                    | Action::Thermometer(_)
                    | Action::Gauge(true)
            );
        let invasive = parked
            || matches!(
                action,
                Action::Touch { .. }
                    | Action::Sweep { .. }
                    | Action::Pull(_)
                    | Action::Fit { .. }
                    | Action::Unplug(_)
                    | Action::Plug(_)
                    | Action::Wiggle(_)
                    | Action::Breakout(Some(_))
                    | Action::Gauge(true)
                    | Action::Repair { .. }
            );
        match action {
            Action::Call { .. } => return Kind::Call,
            Action::Repair { .. } => return Kind::Repair,
            Action::Note(_) | Action::Hint(_) | Action::HandBack { .. } | Action::Protect => {
                return Kind::Other;
            }
            _ => {}
        }
        // After a repair everything is re-test and putting back.
        if self.repaired {
            return Kind::Habit;
        }
        // Before anything is opened the complaint is reproduced and the car looked over.
        if !self.invaded && !invasive {
            return Kind::Habit;
        }
        if let Action::Touch { tool, point } = action
            && self.proves(*tool, point)
        {
            return Kind::Habit;
        }
        self.invaded |= invasive;
        if asks && open < 2 && self.settled() {
            // One confirming reading before the call is care, not waste; trying the complaint
            // again by hand, eye and ear is the re-test.
            let senses = matches!(
                action,
                Action::Look(_) | Action::Listen(_) | Action::Feel(_) | Action::Thermometer(_)
            );
            if senses || !self.confirmed {
                self.confirmed |= !senses;
                return Kind::Habit;
            }
        }
        if asks || open > 1 {
            Kind::Test
        } else {
            Kind::Setup
        }
    }

    /// A tool whose leads are all on the car.
    fn both_leads_on(&mut self, tool: ToolKind) -> bool {
        let leads = tool.leads().len();
        leads > 1
            && self
                .worlds
                .own()
                .view()
                .leads
                .get(&tool)
                .is_some_and(|on| on.len() == leads)
    }

    /// A light touched to a battery post while clipped to the other: it is being proved.
    fn proves(&mut self, tool: ToolKind, point: &str) -> bool {
        let battery =
            |p: &str| {
                p.split([':', '.']).next().is_some_and(|part| {
                    self.case.vehicle.parts.get(part).is_some_and(|p| {
                        matches!(p.kind, tracebay_core::vehicle::Kind::Battery { .. })
                    })
                })
            };
        if battery(point) {
            self.proved.push(tool);
            // Proving it again and again is no habit any more, but it is never many minutes.
            return self.proved.iter().filter(|t| **t == tool).count() <= 4;
        }
        false
    }

    /// Nothing is left to prove, or next to nothing.
    pub(super) fn settled(&mut self) -> bool {
        self.belief.most_likely_group().1 >= 0.9
            || self
                .planner
                .expected_minutes(&self.belief, self.state)
                .is_ok_and(|left| left.upper <= 0.0)
    }

    /// The surveyed probe an action is, if it is one of them.
    pub(super) fn probe_of(&mut self, action: &Action) -> Option<Probe> {
        let view = self.worlds.own().view();
        let clip = |tool: ToolKind| -> Option<bool> {
            let point = view.leads.get(&tool)?.get(&Lead::Clip)?;
            Some(point.ends_with(":pos") || point.ends_with(".pos"))
        };
        Some(match action {
            Action::Touch {
                tool: tool @ ToolKind::TestLight,
                point,
            } => Probe::Light {
                to_positive: clip(*tool)?,
                point: point.clone(),
            },
            Action::Sweep {
                tool: tool @ ToolKind::TestLight,
                socket,
            } => Probe::Sweep {
                to_positive: clip(*tool)?,
                socket: socket.clone(),
            },
            Action::Touch {
                tool: tool @ ToolKind::Meter,
                point,
            } if view.dial == Dial::Ohms => {
                let black = view.leads.get(tool)?.get(&Lead::Black)?;
                let ohms = |a: &String, b: &String| Probe::Ohms {
                    a: a.clone(),
                    b: b.clone(),
                };
                // Ohms are the same with the leads changed over.
                let other = ohms(black, point);
                if self.survey.probes.contains(&other) {
                    other
                } else {
                    ohms(point, black)
                }
            }
            Action::Touch {
                tool: ToolKind::Meter,
                point,
            } => Probe::Volts {
                point: point.clone(),
            },
            Action::Put {
                tool: tool @ (ToolKind::FusedJumper | ToolKind::PlainJumper),
                lead,
                point,
            } => {
                let mut ends = view.leads.get(tool).cloned().unwrap_or_default();
                ends.insert(*lead, point.clone());
                let socket = self.case.scenario.socket.clone()?;
                let (feed, load) = load_cavities(&self.case, &socket)?;
                let on = |point: &String| ends.values().any(|end| end == point);
                if !on(&feed) || !on(&load) {
                    return None;
                }
                Probe::Bridge { socket }
            }
            Action::Look(place) => Probe::Look {
                place: place.clone(),
            },
            Action::Feel(place) => Probe::Feel {
                place: place.clone(),
            },
            Action::Inspect(what) => Probe::Inspect { what: what.clone() },
            Action::Put {
                tool: tool @ ToolKind::TestLight,
                point,
                ..
            } => Probe::Light {
                to_positive: clip(*tool)?,
                point: point.clone(),
            },
            Action::Plug(connector) => Probe::Press {
                connector: connector.clone(),
            },
            Action::Gauge(true) => Probe::Gauge,
            _ => return None,
        })
    }
}
