//! Why a network could not be solved, in sentences for people.

use thiserror::Error;

/// Why a network could not be solved.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SolveError {
    /// A value that no real element has, or a connection to something that is not there.
    #[error("“{element}” {problem}. Give it another value.")]
    BadValue {
        /// Name of the element; a tool reads "tool 1", "tool 2" in the order given.
        element: String,
        /// What is wrong, beginning with a verb.
        problem: String,
    },
    /// No operating point was found to the accuracy promised.
    #[error("No operating point was found for the part of the circuit with {}. Look for values that are extreme against their neighbours'.", list(.elements))]
    NoConvergence {
        /// Names of the elements of the island concerned.
        elements: Vec<String>,
    },
    /// Contacts that open because they closed and close because they opened: a relay that buzzes.
    #[error("The circuit never comes to rest; switching on and off without end: {}. Look for a coil fed through a contact that it opens itself, or for a voltage that breaks down whenever the contact closes.", list(.contacts))]
    Unsettled {
        /// Names of the contacts that keep moving.
        contacts: Vec<String>,
    },
}

impl SolveError {
    /// Names of the elements concerned: the one with the bad value, those of the island, or the
    /// contacts that keep moving.
    pub fn elements(&self) -> &[String] {
        match self {
            SolveError::BadValue { element, .. } => std::slice::from_ref(element),
            SolveError::NoConvergence { elements } => elements,
            SolveError::Unsettled { contacts } => contacts,
        }
    }
}

/// At most six names, so that the sentence can be read.
fn list(names: &[String]) -> String {
    const SHOWN: usize = 6;
    let mut text = String::new();
    for (place, name) in names.iter().take(SHOWN).enumerate() {
        if place > 0 {
            text.push_str(", ");
        }
        text.push('“');
        text.push_str(name);
        text.push('”');
    }
    if names.len() > SHOWN {
        text.push_str(&format!(" and {} more", names.len() - SHOWN));
    }
    text
}
