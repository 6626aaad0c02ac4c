//! Whether an attempt is what it says: whose, under which rules, on which case, replayed line by
//! line. Gives no points.

use std::collections::BTreeMap;
use std::sync::Arc;

use tracebay_core::attempt::{AttemptError, HeaderCheck, ReplayErrorKind, check_header, replay};
use tracebay_core::scenario::{Case, Catalogue};
use tracebay_grading::assign::{Assignment, Slot, assignment_of};
use tracebay_words::Words;

use crate::flags::{Flag, Gravity};
use crate::handed::Handed;
use crate::times;

/// Fewer milliseconds an action, on average over all of an attempt, no hand takes: reading what an
/// action showed takes longer (common practice, no source).
const FASTEST_MS: i64 = 250;
/// Fewest actions for which the average says something.
const MIN_ACTIONS: usize = 10;
/// A year: longer than any assignment runs.
const LONGEST_MS: u64 = 366 * 86_400_000;

/// An attempt that was looked at.
#[derive(Clone, Debug)]
pub struct Checked {
    /// As handed in.
    pub handed: Handed,
    /// It belongs to the assignment: else it is practice, or other work.
    pub assigned: bool,
    /// Whose it is, by the header; none where nobody of the assignment is named.
    pub learner: Option<usize>,
    /// Which task it is.
    pub task: Option<usize>,
    /// Which of the learner's seeds it has.
    pub slot: Option<Slot>,
    /// When it was begun and ended, milliseconds since 1970, where the file says.
    pub times_ms: Option<(i64, i64)>,
}

impl Checked {
    /// No score is given.
    pub fn void(&self) -> bool {
        !self.assigned
            || self
                .handed
                .flags
                .iter()
                .any(|flag| flag.gravity() == Gravity::Void)
    }
}

/// What checking needs to know, worked out once.
pub struct Checker<'a> {
    catalogue: &'a Catalogue,
    assignment: &'a Assignment,
    rules: String,
    slots: BTreeMap<(usize, u64), Vec<Slot>>,
    due_ms: Option<i64>,
    opens_ms: Option<i64>,
}

impl<'a> Checker<'a> {
    /// For one assignment.
    pub fn new(catalogue: &'a Catalogue, assignment: &'a Assignment) -> Checker<'a> {
        let time = |text: &Option<String>| text.as_deref().and_then(times::milliseconds);
        Checker {
            catalogue,
            assignment,
            rules: assignment.terms.rules(),
            slots: assignment.slots(),
            due_ms: time(&assignment.terms.due),
            opens_ms: time(&assignment.terms.opens),
        }
    }

    /// The case of a checked attempt.
    pub fn case(&self, checked: &Checked) -> Option<Arc<Case>> {
        let task = &self.assignment.terms.tasks[checked.task?];
        let case = task.case(self.catalogue, checked.handed.header.seed).ok()?;
        Some(Arc::new(case))
    }

    /// Looks at one attempt.
    pub fn check(&self, words: &Words, handed: Handed) -> Checked {
        let terms = &self.assignment.terms;
        let header = &handed.header;
        let task = terms
            .tasks
            .iter()
            .position(|t| t.scenario == header.scenario);
        let learner = header
            .learner
            .as_deref()
            .and_then(|id| self.assignment.learner(id))
            .map(|(index, _)| index);
        let mut checked = Checked {
            assigned: assignment_of(&header.rules).is_some(),
            learner,
            task,
            slot: None,
            times_ms: None,
            handed,
        };
        if !checked.assigned {
            return checked;
        }
        let mut flags = Vec::new();
        self.belongs(&checked, &mut flags);
        checked.slot = self.slot(&checked, &mut flags);
        if checked
            .handed
            .flags
            .iter()
            .all(|f| f.gravity() != Gravity::Void)
        {
            self.replay(words, &checked, &mut flags);
            checked.times_ms = self.times(words, &checked.handed, &mut flags);
            self.keeps_rules(words, &checked.handed, &mut flags);
        }
        checked.handed.flags.append(&mut flags);
        checked.handed.flags.sort();
        checked
    }

    fn belongs(&self, checked: &Checked, flags: &mut Vec<Flag>) {
        let header = &checked.handed.header;
        if assignment_of(&header.rules) != Some(&self.assignment.terms.id) {
            flags.push(Flag::OtherAssignment {
                rules: header.rules.clone(),
            });
        } else if header.rules != self.rules {
            flags.push(Flag::OtherTerms);
        }
        if checked.learner.is_none() {
            flags.push(Flag::UnknownLearner {
                id: header.learner.clone(),
            });
        }
        if checked.task.is_none() {
            flags.push(Flag::NoTask {
                scenario: header.scenario.clone(),
            });
        }
    }

    fn slot(&self, checked: &Checked, flags: &mut Vec<Flag>) -> Option<Slot> {
        let (learner, task) = (checked.learner?, checked.task?);
        let owners = self.slots.get(&(task, checked.handed.header.seed));
        let owners = owners.map_or(&[] as &[Slot], Vec::as_slice);
        let own = owners.iter().find(|slot| slot.learner == learner).copied();
        if own.is_none() {
            let whose = owners.first().map(|slot| {
                let other = &self.assignment.learners[slot.learner];
                format!("{} ({})", other.name, other.id)
            });
            flags.push(Flag::WrongSeed { whose });
        }
        own
    }

    fn replay(&self, words: &Words, checked: &Checked, flags: &mut Vec<Flag>) {
        let Some(task) = checked.task.map(|task| &self.assignment.terms.tasks[task]) else {
            return;
        };
        let header = &checked.handed.header;
        let case = match task.case(self.catalogue, header.seed) {
            Ok(case) => Arc::new(case),
            Err(error) => {
                let why = error.to_string();
                flags.push(Flag::OtherVersion { why });
                return;
            }
        };
        match check_header(header, &case) {
            Ok(HeaderCheck::Same) => {}
            Ok(HeaderCheck::ContentChanged) => flags.push(Flag::ContentChanged),
            Err(error @ (AttemptError::OtherEngine { .. } | AttemptError::OtherVersion { .. })) => {
                let why = words.attempt_error(&error);
                flags.push(Flag::OtherVersion {
                    why: why.trim_end_matches('.').to_owned(),
                });
                return;
            }
            Err(error) => {
                let why = error.to_string();
                flags.push(Flag::DoesNotReplay { why });
                return;
            }
        }
        match replay(case.clone(), header, &checked.handed.lines) {
            Ok(session) => {
                if !session.handed_back() {
                    flags.push(Flag::NotGivenBack);
                }
            }
            Err(error) => flags.push(match error.kind {
                ReplayErrorKind::ChainDiffers => Flag::Edited { line: error.line },
                _ => {
                    let why = words.replay_error(&case.vehicle, &error);
                    Flag::DoesNotReplay {
                        why: why.trim_end_matches('.').to_owned(),
                    }
                }
            }),
        }
    }

    /// Begin and end, and what is wrong with them.
    fn times(&self, words: &Words, handed: &Handed, flags: &mut Vec<Flag>) -> Option<(i64, i64)> {
        let stamps: Vec<u64> = handed.lines.iter().filter_map(|line| line.at).collect();
        let started = handed
            .header
            .started
            .as_deref()
            .and_then(times::milliseconds);
        let whole = stamps.len() == handed.lines.len();
        let (Some(started), true) = (started, whole) else {
            flags.push(Flag::NoTimes);
            return None;
        };
        let impossible = |why: String| Flag::ImpossibleTimes { why };
        if let Some(back) = stamps.windows(2).position(|pair| pair[1] < pair[0]) {
            let n = (back + 2).to_string();
            flags.push(impossible(
                words.get("report-why-clock-back", &[("n", n.into())]),
            ));
        }
        let last = stamps.iter().copied().max().unwrap_or(0);
        if last > LONGEST_MS {
            flags.push(impossible(words.text("report-why-a-year")));
            return None;
        }
        let span = last as i64;
        let count = stamps.len();
        if count >= MIN_ACTIONS && span < FASTEST_MS * count as i64 {
            let seconds = span as f64 / 1000.0;
            let seconds = words.number(seconds, 1);
            let args = [
                ("count", count.to_string().into()),
                ("seconds", seconds.into()),
            ];
            flags.push(impossible(words.get("report-why-fast", &args)));
        }
        if let Some(opens) = self.opens_ms
            && started < opens
        {
            flags.push(impossible(words.text("report-why-before-opening")));
        }
        let ended = started.saturating_add(span);
        if let Some(due) = self.due_ms
            && ended > due
        {
            flags.push(Flag::Late { by_ms: ended - due });
        }
        Some((started, ended))
    }

    fn keeps_rules(&self, words: &Words, handed: &Handed, flags: &mut Vec<Flag>) {
        let terms = &self.assignment.terms;
        let broken = handed
            .lines
            .iter()
            .find(|line| terms.forbids(&line.action).is_some());
        if let Some(line) = broken {
            flags.push(Flag::AgainstRules {
                n: line.n as usize,
                what: words.text("report-why-hints-off"),
            });
        }
    }
}

/// What only shows when all attempts are seen together: the same file, the same case, the same
/// actions twice, and cases that had been seen before. `all` is in the order of the files.
pub fn compare(all: &mut [Checked]) {
    let mut found: Vec<Vec<Flag>> = vec![Vec::new(); all.len()];
    let mut by_file: BTreeMap<&str, usize> = BTreeMap::new();
    let mut by_doing: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    let mut by_slot: BTreeMap<Slot, Vec<usize>> = BTreeMap::new();
    let mut given_back: BTreeMap<(&str, u64), Vec<usize>> = BTreeMap::new();
    for (i, checked) in all.iter().enumerate() {
        if let Some(first) = by_file.get(checked.handed.sha256.as_str()) {
            found[i].push(Flag::SameFile {
                first: all[*first].handed.file.clone(),
            });
            continue;
        }
        by_file.insert(&checked.handed.sha256, i);
        if checked.handed.given_back() {
            let case = (
                checked.handed.header.scenario.as_str(),
                checked.handed.header.seed,
            );
            given_back.entry(case).or_default().push(i);
        }
        if !checked.assigned {
            continue;
        }
        if let Some(doing) = checked.handed.doing() {
            by_doing.entry(doing).or_default().push(i);
        }
        if let Some(slot) = checked.slot.filter(|_| !checked.void()) {
            by_slot.entry(slot).or_default().push(i);
        }
    }
    for same in by_doing.values().filter(|same| same.len() > 1) {
        for i in same {
            let others = same.iter().filter(|j| *j != i);
            found[*i].push(Flag::SameActions {
                others: others.map(|j| all[*j].handed.file.clone()).collect(),
            });
        }
    }
    for again in by_slot.values_mut() {
        again.sort_by_key(|i| (began(&all[*i]), *i));
        if let Some((first, later)) = again.split_first() {
            for i in later {
                found[*i].push(Flag::Again {
                    first: all[*first].handed.file.clone(),
                });
            }
        }
    }
    for (i, checked) in all.iter().enumerate().filter(|(_, c)| c.assigned) {
        let case = (
            checked.handed.header.scenario.as_str(),
            checked.handed.header.seed,
        );
        let earlier = given_back.get(&case).into_iter().flatten().find(|j| {
            // Where everybody has the same case, others had it before too; what counts is what
            // this learner, or nobody in particular, did.
            let other = &all[**j];
            let own =
                !other.assigned || other.handed.header.learner == checked.handed.header.learner;
            own && **j != i
                && ended(other)
                    .zip(began(checked))
                    .is_some_and(|(a, b)| a <= b)
        });
        if let Some(earlier) = earlier {
            found[i].push(Flag::SeenBefore {
                file: all[*earlier].handed.file.clone(),
            });
        }
    }
    for (checked, mut flags) in all.iter_mut().zip(found) {
        checked.handed.flags.append(&mut flags);
        checked.handed.flags.sort();
    }
}

fn began(checked: &Checked) -> Option<i64> {
    let started = checked.handed.header.started.as_deref();
    started.and_then(times::milliseconds)
}

fn ended(checked: &Checked) -> Option<i64> {
    let last = checked.handed.lines.iter().filter_map(|line| line.at).max();
    began(checked).map(|began| began.saturating_add(last.unwrap_or(0).min(LONGEST_MS) as i64))
}
