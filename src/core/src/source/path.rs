//! The path of a field inside a file, such as `parts."K3".coil_ohms[2]`.
//!
//! Knows nothing of text positions; [`super::Locator`] joins the two.

use std::fmt;

use super::words::clip;

/// One step of a [`Path`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// A named field of a `( … )` group.
    Field(String),
    /// A key of a `{ … }` map: the text without its quotes, or the source of
    /// any other key.
    Key(String),
    /// A position in a `[ … ]` list or among unnamed values in `( … )`, from 0.
    Index(usize),
}

/// The path from a file's one value down to a field.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Path(pub(super) Vec<Step>);

impl Path {
    /// The file's whole value.
    pub fn root() -> Self {
        Self::default()
    }

    /// Down to a named field.
    #[must_use]
    pub fn field(mut self, name: impl Into<String>) -> Self {
        self.0.push(Step::Field(name.into()));
        self
    }

    /// Down to a map's entry. A number or a name that serves as key is given
    /// the way it prints.
    #[must_use]
    pub fn key(mut self, key: impl fmt::Display) -> Self {
        self.0.push(Step::Key(key.to_string()));
        self
    }

    /// Down to a list's item, counted from 0.
    #[must_use]
    pub fn index(mut self, index: usize) -> Self {
        self.0.push(Step::Index(index));
        self
    }

    /// The steps from the root.
    pub fn steps(&self) -> &[Step] {
        &self.0
    }
}

impl fmt::Display for Path {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, step) in self.0.iter().enumerate() {
            let dot = if i == 0 { "" } else { "." };
            match step {
                Step::Field(name) => write!(f, "{dot}{}", clip(name))?,
                Step::Key(key) => write!(f, "{dot}\"{}\"", clip(key))?,
                Step::Index(index) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}
