//! Checks that can only be made once text has become a value.

use std::fmt::Display;
use std::ops::{Bound, RangeBounds};

use super::locate::Locator;
use super::path::Path;
use super::words::{clip, number, suggest};
use super::{Finding, Problem};

/// How many problems of one file are told at once. More would hide the first.
const MOST: usize = 20;

/// Collects what is wrong with a value read from a text, so that an author
/// sees all of it and not one problem a run.
pub struct Check<'a> {
    file: &'a str,
    text: &'a str,
    found: Vec<Finding>,
}

impl<'a> Check<'a> {
    /// A check of the value that `text`, the content of `file`, was read into.
    pub fn new(file: &'a str, text: &'a str) -> Self {
        Self {
            file,
            text,
            found: Vec::new(),
        }
    }

    /// Refuses a number outside `range`, which is in `unit` (`"Ω"`, `"kPa"`;
    /// empty for a plain number). True where the number is accepted.
    pub fn number(
        &mut self,
        path: &Path,
        value: f64,
        range: impl RangeBounds<f64>,
        unit: &str,
    ) -> bool {
        // Bounds alone would let an infinite number through an open range.
        let accepted = value.is_finite() && range.contains(&value);
        if !accepted {
            let unit = if unit.is_empty() {
                String::new()
            } else {
                format!(" {unit}")
            };
            self.refuse(
                path,
                format!("{}{unit} is out of range", number(value)),
                format!("give {}{unit}", bounds(&range)),
            );
        }
        accepted
    }

    /// Refuses a name that is not among those accepted. `what` says what it
    /// should name, such as `"part"`. True where it is one of them.
    pub fn known<'n>(
        &mut self,
        path: &Path,
        name: &str,
        accepted: impl Iterator<Item = &'n str> + Clone,
        what: &str,
    ) -> bool {
        let known = accepted.clone().any(|other| other == name);
        if !known {
            let message = format!("there is no {what} `{}`", clip(name));
            self.refuse(path, message, suggest(name, accepted, what));
        }
        known
    }

    /// Refuses the value at `path`: what is wrong, and what would be accepted
    /// (empty where the message says it all).
    pub fn refuse(&mut self, path: &Path, message: impl Display, help: impl Display) {
        // The place is looked up at the end, once it is known that it is told.
        self.found.push(Finding::new(
            0,
            path.clone(),
            message.to_string(),
            help.to_string(),
        ));
    }

    /// Whether nothing has been refused so far.
    pub fn is_clean(&self) -> bool {
        self.found.is_empty()
    }

    /// All that was refused, in the order of the text; after twenty problems
    /// one more says how many are left.
    pub fn finish(mut self) -> Result<(), Vec<Problem>> {
        if self.found.is_empty() {
            return Ok(());
        }
        let locator = Locator::new(self.text);
        for finding in &mut self.found {
            finding.at = locator.offset(&finding.path).unwrap_or(0);
        }
        // Stable, so that problems at one place keep the order of the checks.
        self.found.sort_by_key(|finding| finding.at);
        let untold = self.found.len().saturating_sub(MOST);
        let rest = self.found.get(MOST).map(|first_untold| {
            let things = if untold == 1 { "problem" } else { "problems" };
            Finding::new(
                first_untold.at,
                Path::root(),
                format!("and {untold} more {things} from here on"),
                "put those above right first; some of these may go with them",
            )
        });
        let told = self.found.into_iter().take(MOST).chain(rest);
        Err(told
            .map(|finding| {
                let position = locator.position(finding.at);
                finding.into_problem(self.file, position)
            })
            .collect())
    }
}

/// A range in words.
fn bounds(range: &impl RangeBounds<f64>) -> String {
    let from = match range.start_bound() {
        Bound::Included(&least) => Some((number(least), true)),
        Bound::Excluded(&least) => Some((number(least), false)),
        Bound::Unbounded => None,
    };
    let to = match range.end_bound() {
        Bound::Included(&most) => Some((number(most), true)),
        Bound::Excluded(&most) => Some((number(most), false)),
        Bound::Unbounded => None,
    };
    match (from, to) {
        (Some((from, true)), Some((to, true))) => format!("{from} to {to}"),
        (Some((from, true)), Some((to, false))) => format!("at least {from} and less than {to}"),
        (Some((from, false)), Some((to, true))) => format!("more than {from} and at most {to}"),
        (Some((from, false)), Some((to, false))) => format!("more than {from} and less than {to}"),
        (Some((from, true)), None) => format!("at least {from}"),
        (Some((from, false)), None) => format!("more than {from}"),
        (None, Some((to, true))) => format!("at most {to}"),
        (None, Some((to, false))) => format!("less than {to}"),
        (None, None) => "a finite number".to_owned(),
    }
}
