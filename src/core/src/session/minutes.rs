//! Job minutes: what each action costs. They are judged; thinking is free.
//!
//! The standard table is ordinary workshop pace (common practice, no source); a scenario may differ
//! in single entries.

use super::{Action, Item};
use crate::fault::Method;
use crate::scenario::Case;

/// The standard table: key used in scenario files, minutes.
pub const STANDARD: &[(&str, f64)] = &[
    ("go", 0.3),
    ("set", 0.1),
    ("protect", 0.2),
    ("cover", 0.3),
    ("pull", 0.5),
    ("fit", 0.4),
    ("unplug", 0.8),
    ("plug", 0.4),
    ("wiggle", 0.5),
    ("spray", 1.0),
    ("look", 0.3),
    ("inspect", 0.5),
    ("listen", 0.2),
    ("feel", 0.2),
    ("light", 0.2),
    ("put", 0.3),
    ("lift", 0.1),
    ("touch", 0.2),
    ("sweep", 0.5),
    ("dial", 0.1),
    ("renew", 1.0),
    ("breakout", 1.0),
    ("gauge", 2.0),
    ("thermometer", 0.5),
    ("note", 0.0),
    ("hint", 0.0),
    ("call", 0.0),
    ("reseat", 0.5),
    ("mend_terminal", 12.0),
    ("mend_wire", 25.0),
    ("clean_joint", 8.0),
    ("recharge", 45.0),
    ("clean_condenser", 15.0),
    ("explain", 2.0),
    ("handback", 0.0),
];

/// The table's key for an action; none for waiting and for replacing, which are counted otherwise.
pub fn key(action: &Action) -> Option<&'static str> {
    Some(match action {
        Action::Wait(_) => return None,
        Action::Go(_) => "go",
        Action::Set { .. } => "set",
        Action::Protect => "protect",
        Action::Uncover(_) | Action::Cover(_) => "cover",
        Action::Pull(_) => "pull",
        Action::Fit {
            item: Item::Original | Item::Spare,
            ..
        } => "fit",
        Action::Unplug(_) => "unplug",
        Action::Plug(_) => "plug",
        Action::Wiggle(_) => "wiggle",
        Action::Spray(_) => "spray",
        Action::Look(_) => "look",
        Action::Inspect(_) => "inspect",
        Action::Listen(_) => "listen",
        Action::Feel(_) => "feel",
        Action::Light(_) => "light",
        Action::Put { .. } => "put",
        Action::Lift { .. } => "lift",
        Action::Touch { .. } => "touch",
        Action::Sweep { .. } => "sweep",
        Action::Dial(_) => "dial",
        Action::Renew(_) => "renew",
        Action::Breakout(_) => "breakout",
        Action::Gauge(_) => "gauge",
        Action::Thermometer(_) => "thermometer",
        Action::Note(_) => "note",
        Action::Hint(_) => "hint",
        Action::Call { .. } => "call",
        Action::Repair { method, .. } => match method {
            Method::Replace => return None,
            Method::Reseat => "reseat",
            Method::MendTerminal => "mend_terminal",
            Method::MendWire => "mend_wire",
            Method::CleanJoint => "clean_joint",
            Method::Recharge => "recharge",
            Method::CleanCondenser => "clean_condenser",
            Method::Explain => "explain",
        },
        Action::HandBack { .. } => "handback",
    })
}

/// Minutes an action costs in a case, beside the car time it takes.
pub fn minutes(case: &Case, action: &Action) -> f64 {
    if let Action::Wait(ticks) = action {
        return f64::from(*ticks) / 600.0;
    }
    if let Action::Repair {
        target,
        method: Method::Replace,
    } = action
    {
        return case
            .vehicle
            .parts
            .get(target)
            .map_or(20.0, |p| p.replace_minutes);
    }
    let Some(key) = key(action) else { return 0.0 };
    if let Some(minutes) = case.scenario.minutes.get(key) {
        return *minutes;
    }
    STANDARD
        .iter()
        .find(|(k, _)| *k == key)
        .map_or(0.0, |(_, m)| *m)
}
