//! Exact Bayesian belief over hypotheses.
//!
//! Knows hypotheses by number, their priors, their repair groups and likelihoods
//! of what was observed. It must not know what a hypothesis or an observation
//! stands for: nothing of cars, circuits, tools, files or scores.
//!
//! Prior and likelihood are kept apart, not multiplied together and normalised
//! after each step: evidence that only rules out leaves every other weight
//! untouched to the last bit, and the planner can keep what it worked out
//! before.

use std::collections::BTreeMap;

use thiserror::Error;

use crate::plan::problem::{PlanError, Problem, check_weights, index, length, number};

/// Posterior under which a hypothesis no longer counts as possible, unless
/// another floor is set with [`Belief::set_floor`].
pub const DEFAULT_FLOOR: f64 = 1e-4;

/// 2^256: likelihoods are rescaled by this, exactly, before they can underflow.
const SCALE: f64 = (1_u128 << 127) as f64 * (1_u128 << 127) as f64 * 4.0;

/// Why a belief could not be made or updated.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum BeliefError {
    /// A list or number was refused.
    #[error(transparent)]
    Input(#[from] PlanError),
    /// What was observed has likelihood zero under every hypothesis still possible.
    #[error(
        "no hypothesis still possible explains this observation, so it was not taken in; \
         either the observation was sorted into the wrong class or a hypothesis is missing"
    )]
    Unexplained,
}

/// What is believed about the hypotheses after the evidence so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    priors: Vec<f64>,
    groups: Vec<u32>,
    likelihood: Vec<f64>,
    floor: f64,
    start: Vec<bool>,
}

impl Belief {
    /// The belief before any evidence.
    ///
    /// # Errors
    /// Priors that are negative, not numbers or all zero; groups of another length.
    pub fn new(priors: &[f64], groups: &[u32]) -> Result<Self, PlanError> {
        check_weights(priors)?;
        length("groups", groups.len(), priors.len(), "hypothesis")?;
        let mut belief = Self {
            priors: priors.to_vec(),
            groups: groups.to_vec(),
            likelihood: vec![1.0; priors.len()],
            floor: DEFAULT_FLOOR,
            start: Vec::new(),
        };
        belief.mark_start();
        Ok(belief)
    }

    /// The same belief with other repair groups; those it had are kept if the list is not one for
    /// each hypothesis.
    #[must_use]
    pub fn regrouped(&self, groups: &[u32]) -> Self {
        let mut belief = self.clone();
        if groups.len() == belief.groups.len() {
            belief.groups = groups.to_vec();
        }
        belief
    }

    /// The same evidence seen with other priors.
    ///
    /// # Errors
    /// Priors that are negative, not numbers, all zero, or not one for each hypothesis.
    pub fn with_priors(&self, priors: &[f64]) -> Result<Self, PlanError> {
        check_weights(priors)?;
        length("the priors", priors.len(), self.priors.len(), "hypothesis")?;
        let mut belief = self.clone();
        belief.priors = priors.to_vec();
        Ok(belief)
    }

    /// The belief of a problem before any evidence.
    ///
    /// # Errors
    /// As [`Belief::new`].
    pub fn of(problem: &Problem) -> Result<Self, PlanError> {
        Self::new(&problem.priors, &problem.groups)
    }

    /// The belief in which exactly these hypotheses are left, by their priors.
    ///
    /// # Errors
    /// [`BeliefError::Input`] for a number that is no hypothesis,
    /// [`BeliefError::Unexplained`] if all of them have a prior of zero.
    pub fn of_set(problem: &Problem, set: &[usize]) -> Result<Self, BeliefError> {
        let mut belief = Self::of(problem)?;
        let mut keep = vec![0.0; problem.priors.len()];
        for &h in set {
            index(|| "a hypothesis of the set".to_owned(), h, keep.len())?;
            keep[h] = 1.0;
        }
        belief.update(&keep)?;
        Ok(belief)
    }

    /// Sets the posterior under which a hypothesis no longer counts as possible.
    ///
    /// # Errors
    /// Refused unless 0 <= floor < 1.
    pub fn set_floor(&mut self, floor: f64) -> Result<(), PlanError> {
        number(|| "the floor of a belief".to_owned(), floor)?;
        if floor >= 1.0 {
            return Err(PlanError::BadNumber {
                what: "the floor of a belief (below 1)".into(),
                found: floor,
            });
        }
        self.floor = floor;
        Ok(())
    }

    /// Takes the present belief as the one the work began with, so that what was
    /// ruled out before (by the complaint, say) does not count as the learner's
    /// own evidence.
    pub fn mark_start(&mut self) {
        self.start = self.possible_flags();
    }

    /// Whether a hypothesis was possible at [`Belief::mark_start`].
    #[must_use]
    pub fn possible_at_start(&self, hypothesis: usize) -> bool {
        self.start.get(hypothesis).copied().unwrap_or(false)
    }

    /// Takes in an observation by its likelihood under each hypothesis. Only the
    /// ratios matter.
    ///
    /// # Errors
    /// Nothing is changed if the likelihoods are refused or explain nothing.
    pub fn update(&mut self, likelihoods: &[f64]) -> Result<(), BeliefError> {
        length(
            "the likelihoods",
            likelihoods.len(),
            self.priors.len(),
            "hypothesis",
        )?;
        for (h, &l) in likelihoods.iter().enumerate() {
            number(|| format!("the likelihood under hypothesis {h}"), l)?;
        }
        // A common factor carries no information; taking out the largest keeps
        // products of densities from overflowing. For 0-or-1 evidence it is
        // exactly 1 and changes nothing.
        let top = self.live().map(|h| likelihoods[h]).fold(0.0, f64::max);
        if top <= 0.0 {
            return Err(BeliefError::Unexplained);
        }
        let mut next: Vec<f64> = self
            .likelihood
            .iter()
            .zip(likelihoods)
            .map(|(a, b)| a * (b / top))
            .collect();
        loop {
            let most = self.live().map(|h| next[h]).fold(0.0, f64::max);
            if most <= 0.0 {
                return Err(BeliefError::Unexplained);
            }
            if most >= 1.0 / SCALE {
                break;
            }
            for l in &mut next {
                *l *= SCALE;
            }
        }
        let total: f64 = self.priors.iter().zip(&next).map(|(p, l)| p * l).sum();
        if total <= 0.0 {
            return Err(BeliefError::Unexplained);
        }
        self.likelihood = next;
        Ok(())
    }

    /// Takes in that the outcome was of class `seen`, where `outcomes` gives the
    /// class under each hypothesis, with certainty.
    ///
    /// # Errors
    /// As [`Belief::update`].
    pub fn update_class(&mut self, outcomes: &[u8], seen: u8) -> Result<(), BeliefError> {
        self.update_class_with_slip(outcomes, seen, 0.0)
    }

    /// As [`Belief::update_class`], but each hypothesis that predicts another
    /// class keeps the likelihood `slip` (0 to 1), for outcomes that can be
    /// misread.
    ///
    /// # Errors
    /// As [`Belief::update`].
    pub fn update_class_with_slip(
        &mut self,
        outcomes: &[u8],
        seen: u8,
        slip: f64,
    ) -> Result<(), BeliefError> {
        length(
            "the outcomes",
            outcomes.len(),
            self.priors.len(),
            "hypothesis",
        )?;
        let likelihoods: Vec<f64> = outcomes
            .iter()
            .map(|&o| if o == seen { 1.0 } else { slip })
            .collect();
        self.update(&likelihoods)
    }

    /// Number of hypotheses.
    #[must_use]
    pub fn len(&self) -> usize {
        self.priors.len()
    }

    /// Never true: a belief has at least one hypothesis.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.priors.is_empty()
    }

    /// The repair group of each hypothesis.
    #[must_use]
    pub fn groups(&self) -> &[u32] {
        &self.groups
    }

    /// Prior times likelihood of each hypothesis, not normalised.
    #[must_use]
    pub fn weights(&self) -> Vec<f64> {
        self.priors
            .iter()
            .zip(&self.likelihood)
            .map(|(p, l)| p * l)
            .collect()
    }

    /// Posterior probability of each hypothesis.
    #[must_use]
    pub fn posterior(&self) -> Vec<f64> {
        let mut w = self.weights();
        let total: f64 = w.iter().sum();
        for x in &mut w {
            *x /= total;
        }
        w
    }

    /// Posterior probability of each group, in the order of the group numbers.
    #[must_use]
    pub fn posterior_by_group(&self) -> BTreeMap<u32, f64> {
        let mut by_group = BTreeMap::new();
        for (p, &g) in self.posterior().into_iter().zip(&self.groups) {
            *by_group.entry(g).or_insert(0.0) += p;
        }
        by_group
    }

    /// Posterior probability of one group; zero if no hypothesis is in it.
    #[must_use]
    pub fn group_posterior(&self, group: u32) -> f64 {
        self.posterior_by_group()
            .get(&group)
            .copied()
            .unwrap_or(0.0)
    }

    /// The most likely hypothesis and its posterior; the first of equals.
    #[must_use]
    pub fn most_likely(&self) -> (usize, f64) {
        let mut best = (0, -1.0);
        for (h, p) in self.posterior().into_iter().enumerate() {
            if p > best.1 {
                best = (h, p);
            }
        }
        best
    }

    /// The most likely group and its posterior; the lowest number of equals.
    #[must_use]
    pub fn most_likely_group(&self) -> (u32, f64) {
        let mut best = (0, -1.0);
        for (g, p) in self.posterior_by_group() {
            if p > best.1 {
                best = (g, p);
            }
        }
        best
    }

    /// The hypotheses that still count as possible: posterior at or above the
    /// floor. Never empty, since the most likely one always counts.
    #[must_use]
    pub fn possible(&self) -> Vec<usize> {
        let flags = self.possible_flags();
        (0..flags.len()).filter(|&h| flags[h]).collect()
    }

    /// Uncertainty over the hypotheses, in bits.
    #[must_use]
    pub fn entropy_bits(&self) -> f64 {
        entropy_bits(&self.posterior())
    }

    /// Uncertainty over the repair groups, in bits: zero once a call is certain,
    /// even if hypotheses with the same repair are left.
    #[must_use]
    pub fn group_entropy_bits(&self) -> f64 {
        let p: Vec<f64> = self.posterior_by_group().into_values().collect();
        entropy_bits(&p)
    }

    fn live(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.priors.len()).filter(|&h| self.priors[h] * self.likelihood[h] > 0.0)
    }

    fn possible_flags(&self) -> Vec<bool> {
        let posterior = self.posterior();
        let most = self.most_likely().0;
        posterior
            .iter()
            .enumerate()
            .map(|(h, &p)| h == most || (p > 0.0 && p >= self.floor))
            .collect()
    }
}

/// Shannon's entropy in bits of probabilities that sum to one.
#[must_use]
pub fn entropy_bits(probabilities: &[f64]) -> f64 {
    let sum: f64 = probabilities
        .iter()
        .filter(|&&p| p > 0.0)
        .map(|&p| p * libm::log2(p))
        .sum();
    // Rounding can leave -0.0 or a hair below zero for a certainty.
    (-sum).max(0.0) + 0.0
}
