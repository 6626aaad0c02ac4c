//! Item analysis: how hard each task was and how well it told learners apart, which tests the class
//! wasted, where calls went wrong, which faults were missed.

use std::collections::BTreeMap;

use serde::Serialize;
use tracebay_grading::plan::PoorCheck;

use crate::classbook::{AttemptResult, LearnerResult, TaskName};
use crate::judging::Scored;

/// Fewest learners for whom a correlation is given at all.
const MIN_FOR_CORRELATION: usize = 5;
/// Most rows of a list.
const MOST_ROWS: usize = 12;

/// Analysis of one task.
#[derive(Clone, Debug, Serialize)]
pub struct Item {
    /// Task, by index.
    pub task: usize,
    /// Learners with an attempt that counts.
    pub learners: usize,
    /// Their mean points.
    pub mean_points: Option<f64>,
    /// Difficulty: the share of them that passed, 0 to 1. A high figure is an easy task.
    pub difficulty: Option<f64>,
    /// Discrimination: correlation of the points here with the mean of the learner's other tasks.
    /// None with one task, or few learners.
    pub discrimination: Option<f64>,
    /// Share that passed among the upper 27 in 100 by all their points, less that among the lower.
    pub upper_lower: Option<f64>,
    /// Mean share of points in each part, in the card's order.
    pub parts: Vec<f64>,
    /// Faults that were behind the complaint.
    pub faults: Vec<FaultRow>,
    /// Tests that told nothing or gave minutes away, by what was done.
    pub wasted: Vec<WastedRow>,
    /// Calls that were wrong, and what it was.
    pub wrong_calls: Vec<CallRow>,
    /// Right calls made before the fault was proven.
    pub called_early: usize,
    /// Mean minutes of tests made after the fault was proven.
    pub after_proof_minutes: f64,
    /// Safety rules broken, most often first.
    pub breaches: Vec<(String, usize)>,
}

/// How a fault was met.
#[derive(Clone, Debug, Serialize)]
pub struct FaultRow {
    /// In words.
    pub fault: String,
    /// Learners who had it.
    pub learners: usize,
    /// Found.
    pub found: usize,
    /// Found and proven.
    pub proven: usize,
    /// Mean points.
    pub mean_points: f64,
}

/// A wasted test.
#[derive(Clone, Debug, Serialize)]
pub struct WastedRow {
    /// What was done.
    pub action: String,
    /// What was poor about it; none where it only gave minutes away.
    pub kind: Option<PoorCheck>,
    /// How often.
    pub times: usize,
    /// By how many learners.
    pub learners: usize,
    /// Minutes given away in all.
    pub minutes: f64,
}

/// A wrong call.
#[derive(Clone, Debug, Serialize)]
pub struct CallRow {
    /// What was called.
    pub called: String,
    /// What it was.
    pub fault: String,
    /// How often.
    pub times: usize,
    /// How likely the call was by what had been seen, on average, 0 to 1.
    pub posterior: f64,
}

/// Analyses every task, over the attempts that count.
pub fn analyse(
    tasks: &[TaskName],
    learners: &[LearnerResult],
    attempts: &[AttemptResult],
) -> Vec<Item> {
    (0..tasks.len())
        .map(|task| item(task, learners, attempts))
        .collect()
}

fn item(task: usize, learners: &[LearnerResult], attempts: &[AttemptResult]) -> Item {
    let counted: Vec<(&LearnerResult, &Scored)> = learners
        .iter()
        .filter_map(|learner| {
            let index = learner.tasks[task].counted?;
            Some((learner, attempts[index].scored.as_ref()?))
        })
        .collect();
    let points: Vec<f64> = counted.iter().map(|(_, s)| s.points).collect();
    let passed = counted.iter().filter(|(_, s)| s.passed).count();
    Item {
        task,
        learners: counted.len(),
        mean_points: mean(&points),
        difficulty: (!counted.is_empty()).then(|| passed as f64 / counted.len() as f64),
        discrimination: discrimination(task, &counted),
        upper_lower: upper_lower(&counted),
        parts: parts(&counted),
        faults: faults(&counted),
        wasted: wasted(&counted),
        wrong_calls: wrong_calls(&counted),
        called_early: counted
            .iter()
            .filter_map(|(_, s)| s.called.as_ref())
            .filter(|call| call.right >= 1.0 && !call.proven)
            .count(),
        after_proof_minutes: {
            let after: Vec<f64> = counted.iter().map(|(_, s)| s.after_proof_minutes).collect();
            mean(&after).unwrap_or(0.0)
        },
        breaches: breaches(&counted),
    }
}

/// Arithmetic mean; none of nothing.
pub fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// Pearson's product-moment correlation; none where one side does not vary.
pub fn correlation(pairs: &[(f64, f64)]) -> Option<f64> {
    let n = pairs.len() as f64;
    if pairs.len() < 2 {
        return None;
    }
    let (mx, my) = pairs
        .iter()
        .fold((0.0, 0.0), |(x, y), pair| (x + pair.0 / n, y + pair.1 / n));
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for (x, y) in pairs {
        xx += (x - mx) * (x - mx);
        yy += (y - my) * (y - my);
        xy += (x - mx) * (y - my);
    }
    if xx <= 1e-12 || yy <= 1e-12 {
        return None;
    }
    Some(xy / (xx.sqrt() * yy.sqrt()))
}

/// Item against the rest, so that a task is not correlated with itself.
fn discrimination(task: usize, counted: &[(&LearnerResult, &Scored)]) -> Option<f64> {
    if counted.len() < MIN_FOR_CORRELATION {
        return None;
    }
    let pairs: Vec<(f64, f64)> = counted
        .iter()
        .filter_map(|(learner, scored)| {
            let rest: Vec<f64> = learner
                .tasks
                .iter()
                .enumerate()
                .filter(|(t, _)| *t != task)
                .map(|(_, result)| result.computed.unwrap_or(0.0))
                .collect();
            Some((scored.points, mean(&rest)?))
        })
        .collect();
    correlation(&pairs)
}

fn upper_lower(counted: &[(&LearnerResult, &Scored)]) -> Option<f64> {
    if counted.len() < MIN_FOR_CORRELATION {
        return None;
    }
    let mut ranked: Vec<&(&LearnerResult, &Scored)> = counted.iter().collect();
    ranked.sort_by(|a, b| {
        b.0.points
            .total_cmp(&a.0.points)
            .then(b.1.points.total_cmp(&a.1.points))
    });
    // 27 in 100 at either end: T. L. Kelley, "The selection of upper and lower groups for the
    // validation of test items", Journal of Educational Psychology 30 (1939), from memory.
    let size = ((counted.len() as f64 * 0.27).round() as usize).max(1);
    let share = |group: &[&(&LearnerResult, &Scored)]| {
        group.iter().filter(|(_, s)| s.passed).count() as f64 / group.len() as f64
    };
    Some(share(&ranked[..size]) - share(&ranked[ranked.len() - size..]))
}

fn parts(counted: &[(&LearnerResult, &Scored)]) -> Vec<f64> {
    let Some((_, first)) = counted.first() else {
        return Vec::new();
    };
    (0..first.parts.len())
        .map(|i| {
            let shares: Vec<f64> = counted
                .iter()
                .filter_map(|(_, s)| s.parts.get(i))
                .filter(|part| part.most > 0.0)
                .map(|part| part.points / part.most)
                .collect();
            mean(&shares).unwrap_or(0.0)
        })
        .collect()
}

fn faults(counted: &[(&LearnerResult, &Scored)]) -> Vec<FaultRow> {
    let mut rows: BTreeMap<&str, Vec<&Scored>> = BTreeMap::new();
    for (_, scored) in counted {
        rows.entry(&scored.fault_text).or_default().push(scored);
    }
    let mut rows: Vec<FaultRow> = rows
        .into_iter()
        .map(|(fault, met)| {
            let calls = || met.iter().filter_map(|s| s.called.as_ref());
            let points: Vec<f64> = met.iter().map(|s| s.points).collect();
            FaultRow {
                fault: fault.to_owned(),
                learners: met.len(),
                found: calls().filter(|call| call.right >= 1.0).count(),
                proven: calls().filter(|call| call.proven).count(),
                mean_points: mean(&points).unwrap_or(0.0),
            }
        })
        .collect();
    rows.sort_by(|a, b| {
        a.mean_points
            .total_cmp(&b.mean_points)
            .then(a.fault.cmp(&b.fault))
    });
    rows
}

fn wasted(counted: &[(&LearnerResult, &Scored)]) -> Vec<WastedRow> {
    // What was done and what was poor about it; the row and whose ids are in it.
    type Rows<'a> = BTreeMap<(&'a str, Option<&'static str>), (WastedRow, Vec<&'a str>)>;
    let mut rows: Rows = BTreeMap::new();
    for (learner, scored) in counted {
        for poor in &scored.poor {
            let kind = poor.kind.map(poor_name);
            let (row, who) = rows.entry((&poor.action, kind)).or_insert_with(|| {
                let row = WastedRow {
                    action: poor.action.clone(),
                    kind: poor.kind,
                    times: 0,
                    learners: 0,
                    minutes: 0.0,
                };
                (row, Vec::new())
            });
            row.times += 1;
            row.minutes += poor.minutes;
            if !who.contains(&learner.id.as_str()) {
                who.push(&learner.id);
                row.learners += 1;
            }
        }
    }
    let mut rows: Vec<WastedRow> = rows.into_values().map(|(row, _)| row).collect();
    rows.sort_by(|a, b| {
        b.minutes
            .total_cmp(&a.minutes)
            .then(b.times.cmp(&a.times))
            .then(a.action.cmp(&b.action))
    });
    rows.truncate(MOST_ROWS);
    rows
}

/// What kind of poor test it was, in a word.
pub fn poor_name(kind: PoorCheck) -> &'static str {
    match kind {
        PoorCheck::Redundant => "redundant",
        PoorCheck::Irrelevant => "irrelevant",
        PoorCheck::Premature => "premature",
    }
}

fn wrong_calls(counted: &[(&LearnerResult, &Scored)]) -> Vec<CallRow> {
    let mut rows: BTreeMap<(&str, &str), (usize, f64)> = BTreeMap::new();
    for (_, scored) in counted {
        if let Some(call) = scored.called.as_ref().filter(|call| call.right < 1.0) {
            let row = rows
                .entry((&call.text, &scored.fault_text))
                .or_insert((0, 0.0));
            row.0 += 1;
            row.1 += call.posterior;
        }
    }
    let mut rows: Vec<CallRow> = rows
        .into_iter()
        .map(|((called, fault), (times, sum))| CallRow {
            called: called.to_owned(),
            fault: fault.to_owned(),
            times,
            posterior: sum / times as f64,
        })
        .collect();
    rows.sort_by(|a, b| b.times.cmp(&a.times).then(a.called.cmp(&b.called)));
    rows
}

fn breaches(counted: &[(&LearnerResult, &Scored)]) -> Vec<(String, usize)> {
    let mut rows: BTreeMap<&str, usize> = BTreeMap::new();
    for breach in counted.iter().flat_map(|(_, s)| &s.breaches) {
        *rows.entry(&breach.says).or_insert(0) += 1;
    }
    let mut rows: Vec<(String, usize)> = rows
        .into_iter()
        .map(|(says, n)| (says.to_owned(), n))
        .collect();
    rows.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy.stats.pearsonr([1, 2, 3, 4, 5], [2, 1, 4, 3, 5]) = 0.8 (SciPy; by hand
    /// also: covariance 8 of variances 10 and 10).
    #[test]
    fn pearson_of_a_known_list() {
        let pairs = [(1.0, 2.0), (2.0, 1.0), (3.0, 4.0), (4.0, 3.0), (5.0, 5.0)];
        assert!((correlation(&pairs).unwrap() - 0.8).abs() < 1e-12);
        assert_eq!(correlation(&[(1.0, 2.0), (1.0, 3.0)]), None);
        assert_eq!(correlation(&[(1.0, 2.0)]), None);
    }
}
