//! Each rule broken once, and a near miss that breaks none, on the shipped car.
//!
//! What is right and wrong here is what workshops teach (common practice, no source), unless a test
//! names something else.

mod bridges;
mod files;
mod hands;
mod nets;
mod readings;

use std::sync::Arc;

use tracebay_core::scenario::Case;
use tracebay_core::session::Action;

use super::{Breach, Rules, watch_all};

/// The shipped rules.
fn rules() -> Rules {
    Rules::load(&Rules::preset()).unwrap_or_else(|problems| panic!("{}", problems[0]))
}

fn breaches(case: &Arc<Case>, actions: &[Action]) -> Vec<Breach> {
    watch_all(&rules(), case, actions).unwrap_or_else(|e| panic!("{e}: {e:?}"))
}

/// Ids of the rules broken, in order.
fn broken(case: &Arc<Case>, actions: &[Action]) -> Vec<String> {
    breaches(case, actions)
        .into_iter()
        .map(|b| b.rule)
        .collect()
}

/// The steps at which a rule was broken.
fn steps(case: &Arc<Case>, actions: &[Action], rule: &str) -> Vec<usize> {
    assert!(rules().rule(rule).is_some(), "no rule {rule}");
    breaches(case, actions)
        .into_iter()
        .filter(|b| b.rule == rule)
        .map(|b| b.step)
        .collect()
}

/// Broken exactly at the last action.
fn assert_broken(case: &Arc<Case>, actions: &[Action], rule: &str) {
    assert_eq!(steps(case, actions, rule), [actions.len() - 1], "{rule}");
}

fn assert_kept(case: &Arc<Case>, actions: &[Action], rule: &str) {
    assert_eq!(steps(case, actions, rule), [0usize; 0], "{rule}");
}
