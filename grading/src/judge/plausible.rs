//! What a choice gives away where people honestly differ: about what usually fails, and about how
//! long it takes to get at things.
//!
//! A choice that is good under any of these is not poor. Knows planning problems and beliefs,
//! nothing of points.

use serde::{Deserialize, Serialize};
use tracebay_core::session::Action;

use crate::belief::Belief;
use crate::plan::{Choice, Limits, PlanError, Planner, Regret};
use crate::survey::{Probe, Survey};

/// How common each fault is taken to be.
#[derive(Copy, Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub enum Priors {
    /// As the scenario's file says.
    AsWritten,
    /// All alike.
    Even,
    /// The file's, with this share (0 to 1) of all alike mixed in.
    Blend(f64),
}

/// The set under which a choice is looked at: every priors with every factor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Plausible {
    /// Ways of taking what usually fails.
    pub priors: Vec<Priors>,
    /// Factors on the minutes of checks that need something opened, unplugged or lit (1 = as the
    /// file says): one car's connector is at hand, another's is behind the battery.
    pub access_factors: Vec<f64>,
}

impl Default for Plausible {
    fn default() -> Self {
        Self {
            priors: vec![Priors::AsWritten],
            access_factors: vec![1.0],
        }
    }
}

impl Priors {
    fn of(self, written: &[f64]) -> Vec<f64> {
        let even: f64 = written.iter().sum::<f64>() / written.len().max(1) as f64;
        let share = match self {
            Self::AsWritten => 0.0,
            Self::Even => 1.0,
            Self::Blend(share) => share,
        };
        written
            .iter()
            .map(|p| p * (1.0 - share) + even * share)
            .collect()
    }
}

fn needs_access(probe: &Probe) -> bool {
    matches!(
        probe,
        Probe::Look { .. }
            | Probe::Inspect { .. }
            | Probe::Press { .. }
            | Probe::Swap { .. }
            | Probe::Gauge
    )
}

/// One way of seeing it.
struct View {
    priors: Vec<f64>,
    access: f64,
    planner: Option<Planner>,
}

/// The ways of seeing it other than the file's own, each planned for when first asked.
pub(super) struct Views<'a> {
    survey: &'a Survey,
    views: Vec<View>,
}

impl<'a> Views<'a> {
    pub(super) fn new(survey: &'a Survey, set: &Plausible) -> Self {
        let written = &survey.problem.priors;
        let views = set
            .priors
            .iter()
            .flat_map(|p| set.access_factors.iter().map(move |a| (*p, *a)))
            .filter(|(p, a)| (*p, *a) != (Priors::AsWritten, 1.0))
            .map(|(p, access)| View {
                priors: p.of(written),
                access,
                planner: None,
            })
            .collect();
        Self { survey, views }
    }

    /// The least regret of a choice under any of the views. Stops at the first that is no more
    /// than `enough`: what is forgiven anyway need not be known better.
    pub(super) fn least_regret(
        &mut self,
        action: &Action,
        choice: &Choice<'_>,
        belief: &Belief,
        state: usize,
        own: &Regret,
        enough: f64,
    ) -> Result<f64, PlanError> {
        let mut least = own.lower.max(0.0).min(own.estimate.max(0.0));
        let at_hand = !matches!(
            action,
            Action::Look(_)
                | Action::Inspect(_)
                | Action::Unplug(_)
                | Action::Plug(_)
                | Action::Pull(_)
                | Action::Fit { .. }
                | Action::Gauge(_)
        );
        for view in &mut self.views {
            if least <= enough {
                break;
            }
            let planner = match &mut view.planner {
                Some(planner) => planner,
                none => {
                    let mut problem = self.survey.problem.clone();
                    problem.priors.clone_from(&view.priors);
                    for test in &mut problem.tests {
                        if needs_access(&self.survey.probes[test.probe as usize]) {
                            test.minutes *= view.access;
                        }
                    }
                    none.insert(Planner::new(&problem, Limits::for_second_look())?)
                }
            };
            let choice = Choice {
                minutes: choice.minutes * if at_hand { 1.0 } else { view.access },
                ..choice.clone()
            };
            let belief = belief.with_priors(&view.priors)?;
            let regret = planner.regret_of(&choice, &belief, state)?;
            least = least.min(regret.lower.max(0.0).min(regret.estimate.max(0.0)));
        }
        Ok(least)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Arithmetic of the definition: the sum stays, half a blend is half way.
    #[test]
    fn priors_keep_their_sum() {
        let written = [6.0, 1.0, 1.0];
        for p in [Priors::AsWritten, Priors::Even, Priors::Blend(0.5)] {
            let sum: f64 = p.of(&written).iter().sum();
            assert!((sum - 8.0).abs() < 1e-12, "{p:?}");
        }
        let half = Priors::Blend(0.5).of(&written);
        assert!((half[0] - (6.0 + 8.0 / 3.0) / 2.0).abs() < 1e-12);
    }
}
