//! Words for the best plan as a tree.

use tracebay_core::scenario::Case;
use tracebay_grading::plan::Names;
use tracebay_grading::survey::Survey;

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
        let outcomes = &self.survey.problem.tests[test].outcomes;
        let like = self.candidates(|i| outcomes.get(i) == Some(&class));
        self.words
            .get("score-plan-outcome", &[("like", like.into())])
    }

    fn group(&self, group: u32) -> String {
        let candidates = self.candidates(|i| self.survey.groups.get(i) == Some(&group));
        self.words
            .get("score-plan-group", &[("candidates", candidates.into())])
    }

    fn state(&self, state: usize) -> String {
        let states = &self.survey.states;
        states.get(state).map_or(String::new(), |s| s.label.clone())
    }
}
