//! The first minutes on the relay bench: what to try, and what of it was done.
//!
//! Reads the log only, so that it is right after a pause or a restart; knows nothing of the fault
//! and says nothing about it.

use tracebay_core::session::{Action, MeterDisplay, Observation};
use tracebay_core::tools::{Dial, Glow, Lead, ToolKind};
use tracebay_core::vehicle::{Role, Station};

use super::Desk;

/// A thing to try.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// Take the test light.
    TakeLight,
    /// Clip it to the supply's negative post.
    Clip,
    /// Touch the positive post: it glows, so it can be relied on.
    Prove,
    /// Main switch on, button pressed.
    Press,
    /// Look at the board.
    Look,
    /// Pull a relay out.
    Pull,
    /// Measure between two of its blades or cavities in ohms.
    Ohms,
}

impl Step {
    /// All, in the order in which they make sense.
    pub const ALL: [Step; 7] = [
        Step::TakeLight,
        Step::Clip,
        Step::Prove,
        Step::Press,
        Step::Look,
        Step::Pull,
        Step::Ohms,
    ];

    /// Key of its sentence.
    pub fn key(self) -> &'static str {
        match self {
            Step::TakeLight => "first-take-light",
            Step::Clip => "first-clip",
            Step::Prove => "first-prove",
            Step::Press => "first-press",
            Step::Look => "first-look",
            Step::Pull => "first-pull",
            Step::Ohms => "first-ohms",
        }
    }

    fn done(self, desk: &Desk) -> bool {
        let log = desk.log();
        let did = |what: &dyn Fn(&Action) -> bool| log.iter().any(|(action, _)| what(action));
        let saw = |what: &dyn Fn(&Observation) -> bool| log.iter().any(|(_, s)| s.iter().any(what));
        match self {
            Step::TakeLight => desk.hand == Some(ToolKind::TestLight) || Step::Clip.done(desk),
            Step::Clip => did(&|action| {
                matches!(
                    action,
                    Action::Put {
                        tool: ToolKind::TestLight,
                        lead: Lead::Clip,
                        ..
                    }
                )
            }),
            Step::Prove => saw(&|seen| {
                matches!(seen, Observation::Light { tool: ToolKind::TestLight, glow, .. }
                    if *glow != Glow::Dark)
            }),
            Step::Press => {
                let vehicle = &desk.session().case().vehicle;
                did(&|action| match action {
                    Action::Set { control, to } => vehicle
                        .controls
                        .get(control)
                        .is_some_and(|c| c.role != Role::Key && c.positions.first() != Some(to)),
                    _ => false,
                })
            }
            Step::Look => did(&|action| matches!(action, Action::Look(_))),
            Step::Pull => did(&|action| matches!(action, Action::Pull(_))),
            Step::Ohms => saw(&|seen| match seen {
                Observation::Meter { display, .. } => matches!(
                    display,
                    MeterDisplay::Value {
                        dial: Dial::Ohms,
                        ..
                    } | MeterDisplay::OverRange { dial: Dial::Ohms }
                ),
                _ => false,
            }),
        }
    }
}

/// The steps and whether each was done; none away from the bench.
pub fn steps(desk: &Desk) -> Option<Vec<(Step, bool)>> {
    let view = desk.view();
    (view.station == Station::Bench && !view.handed_back)
        .then(|| Step::ALL.map(|step| (step, step.done(desk))).to_vec())
}
