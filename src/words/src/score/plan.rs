//! Words for the best plan as a tree.

use tracebay_core::scenario::Case;
use tracebay_grading::plan::Names;
use tracebay_grading::survey::{Outcome, Survey};

use crate::Words;

/// Candidates named for one outcome.
const MOST_NAMED: usize = 3;

/// Names of a case's tests, outcomes, groups and states, for [`Names`].
pub struct PlanWords<'a> {
    /// Words.
    pub words: &'a Words,
    /// The case.
    pub case: &'a Case,
    /// Its survey.
    pub survey: &'a Survey,
}

impl PlanWords<'_> {
    fn candidates(&self, of: impl Fn(usize) -> bool) -> String {
        let all = &self.case.scenario.candidates;
        let found: Vec<usize> = (0..all.len()).filter(|i| of(*i)).collect();
        let mut named: Vec<String> = found
            .iter()
            .take(MOST_NAMED)
            .map(|i| self.words.candidate(self.case, &all[*i]))
            .collect();
        if found.len() > MOST_NAMED {
            named.push("…".to_owned());
        }
        named.join("; ")
    }
}

impl Names for PlanWords<'_> {
    fn test(&self, test: usize) -> String {
        let probe = self.survey.problem.tests[test].probe as usize;
        self.words.probe(self.case, &self.survey.probes[probe])
    }

    fn outcome(&self, test: usize, class: u8) -> String {
        let words = self.words;
        match self.survey.shown[test].get(&class) {
            Some(Outcome::Complaint(true)) => words.text("score-plan-complaint-stays"),
            Some(Outcome::Complaint(false)) => words.text("score-plan-complaint-gone"),
            Some(Outcome::Seen(seen)) if !seen.is_empty() => {
                let told: Vec<String> = seen
                    .iter()
                    .map(|seen| words.observation(&self.case.vehicle, seen))
                    .collect();
                // A colon follows.
                told.join(" ").trim_end_matches('.').to_owned()
            }
            _ => words.text("score-plan-nothing"),
        }
    }

    fn group(&self, group: u32) -> String {
        let candidates = self.candidates(|i| self.survey.groups.get(i) == Some(&group));
        self.words
            .get("score-plan-group", &[("candidates", candidates.into())])
    }

    fn state(&self, state: usize) -> String {
        let states = &self.survey.states;
        states
            .get(state)
            .map_or(String::new(), |s| s.label.to_string())
    }
}
