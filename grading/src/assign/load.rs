//! Reading and writing an assignment file.

use std::collections::BTreeSet;

use serde::Deserialize;
use tracebay_core::scenario::MAX_SEED;

use super::{Assignment, FORMAT, MAX_ATTEMPTS, MAX_BYTES};

/// Longest id in characters.
const MAX_ID: usize = 80;
/// Longest name or title in characters.
const MAX_TEXT: usize = 300;

/// Why an assignment file cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AssignmentError {
    /// Larger than any honest one.
    #[error("the file is larger than {MAX_BYTES} bytes, so it is no assignment")]
    TooLarge,
    /// Not text.
    #[error("the file is not UTF-8 text, so it is no assignment")]
    NotText,
    /// Not an assignment at all, or a broken one.
    #[error("this is no assignment file: {0}")]
    NotOne(String),
    /// Made by a newer program.
    #[error(
        "the assignment has format {found}, this program reads format {FORMAT}: it was made by \
         another version of the program, so use that one or ask the instructor for a new file"
    )]
    Format {
        /// Format of the file.
        found: u32,
    },
    /// Something in it makes no sense.
    #[error("{at}: {what}")]
    Wrong {
        /// Field.
        at: String,
        /// What is wrong with it.
        what: String,
    },
}

impl Assignment {
    /// Reads an assignment. Never panics, whatever the bytes.
    ///
    /// # Errors
    /// What is wrong with it, and where.
    pub fn read(bytes: &[u8]) -> Result<Assignment, AssignmentError> {
        if bytes.len() > MAX_BYTES {
            return Err(AssignmentError::TooLarge);
        }
        let text = std::str::from_utf8(bytes).map_err(|_| AssignmentError::NotText)?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        // The format is looked at first: another format may well have other fields.
        #[derive(Deserialize)]
        struct Mark {
            format: u32,
        }
        let not_one = |error: serde_json::Error| AssignmentError::NotOne(error.to_string());
        let mark: Mark = serde_json::from_str(text).map_err(not_one)?;
        if mark.format != FORMAT {
            return Err(AssignmentError::Format { found: mark.format });
        }
        let assignment: Assignment = serde_json::from_str(text).map_err(not_one)?;
        assignment.check()?;
        Ok(assignment)
    }

    /// The assignment as the text of its file.
    pub fn to_text(&self) -> String {
        // Derived types with text keys only: serialisation to a string cannot fail.
        let mut text = serde_json::to_string_pretty(self).unwrap_or_default();
        text.push('\n');
        text
    }

    /// Whether everything in it makes sense. Whether the rubric does is asked with
    /// [`super::Terms::rubric`], whether the scenarios are at hand with [`super::Task::check`].
    ///
    /// # Errors
    /// The first thing that does not.
    pub fn check(&self) -> Result<(), AssignmentError> {
        let terms = &self.terms;
        id("terms.id", &terms.id)?;
        text("terms.title", &terms.title)?;
        for (at, time) in [("terms.opens", &terms.opens), ("terms.due", &terms.due)] {
            if let Some(time) = time
                && !is_utc(time)
            {
                return wrong(at, format!("`{time}` is not YYYY-MM-DDTHH:MM:SSZ"));
            }
        }
        if !(1..=MAX_ATTEMPTS).contains(&terms.attempts) {
            return wrong("terms.attempts", format!("must be 1 to {MAX_ATTEMPTS}"));
        }
        if terms.tasks.is_empty() {
            return wrong("terms.tasks", "there is none".to_owned());
        }
        let mut scenarios = BTreeSet::new();
        for (i, task) in terms.tasks.iter().enumerate() {
            let at = format!("terms.tasks[{i}]");
            if !scenarios.insert(&task.scenario) {
                return wrong(&at, format!("`{}` is there twice", task.scenario));
            }
            let minutes = task.budget_minutes;
            if !(minutes.is_finite() && minutes > 0.0 && minutes <= 6000.0) {
                return wrong(&at, "budget_minutes must be above 0, up to 6000".to_owned());
            }
        }
        let mut ids = BTreeSet::new();
        for (i, learner) in self.learners.iter().enumerate() {
            let at = format!("learners[{i}]");
            learner_id(&at, &learner.id)?;
            text(&at, &learner.name)?;
            if !ids.insert(&learner.id) {
                return wrong(&at, format!("the id `{}` is there twice", learner.id));
            }
            let whole = learner.seeds.len() == terms.tasks.len()
                && learner
                    .seeds
                    .iter()
                    .all(|s| s.len() == terms.attempts as usize);
            if !whole {
                let needs = "needs a seed for each task and each attempt".to_owned();
                return wrong(&at, needs);
            }
            if learner.seeds.iter().flatten().any(|s| *s > MAX_SEED) {
                return wrong(&at, format!("a seed is larger than {MAX_SEED}"));
            }
        }
        Ok(())
    }
}

fn wrong<T>(at: &str, what: String) -> Result<T, AssignmentError> {
    Err(AssignmentError::Wrong {
        at: at.to_owned(),
        what,
    })
}

fn id(at: &str, id: &str) -> Result<(), AssignmentError> {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
    // File names are made of it, and none may be hidden or lead anywhere.
    if id.is_empty() || id.len() > MAX_ID || id.starts_with('.') || !id.chars().all(plain) {
        return wrong(
            at,
            format!("use 1 to {MAX_ID} letters, digits, `-`, `_` and `.`, none of them `.` first"),
        );
    }
    Ok(())
}

/// A learner's id may be anything a school uses, on one line.
fn learner_id(at: &str, id: &str) -> Result<(), AssignmentError> {
    if id.is_empty() || id.trim() != id {
        return wrong(at, "an id is empty or has blanks around it".to_owned());
    }
    text(at, id)
}

fn text(at: &str, text: &str) -> Result<(), AssignmentError> {
    if text.chars().count() > MAX_TEXT || text.chars().any(char::is_control) {
        return wrong(
            at,
            format!("a text is longer than {MAX_TEXT} characters or has control characters"),
        );
    }
    Ok(())
}

/// `YYYY-MM-DDTHH:MM:SSZ`: the one form of RFC 3339 in which text order is time order.
pub(super) fn is_utc(text: &str) -> bool {
    const FORM: &[u8] = b"0000-00-00T00:00:00Z";
    let bytes = text.as_bytes();
    let two = |at: usize| (bytes[at] - b'0') * 10 + (bytes[at + 1] - b'0');
    bytes.len() == FORM.len()
        && bytes.iter().zip(FORM).all(|(b, form)| match form {
            b'0' => b.is_ascii_digit(),
            other => b == other,
        })
        && (1..=12).contains(&two(5))
        && (1..=31).contains(&two(8))
        && two(11) < 24
        && two(14) < 60
        && two(17) <= 60
}
