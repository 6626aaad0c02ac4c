//! A text that people are shown, which may be shown in another language than it was written in.
//!
//! Knows no language and no translation: whoever lays one over a file's texts says what is shown.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::ops::Deref;
use std::sync::Arc;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A text as its file has it, and what is shown instead, if anything is.
///
/// Reading it as `&str`, printing it and cloning it give what is shown. Comparing, ordering, hashing and
/// serializing it go by the file's own text: what an attempt, a hash or a kept survey depends on must be
/// the same whatever language somebody reads.
#[derive(Clone, Default)]
pub struct Told {
    written: Arc<str>,
    shown: Option<Arc<str>>,
}

impl Told {
    /// What is shown.
    pub fn as_str(&self) -> &str {
        self.shown.as_deref().unwrap_or(&self.written)
    }

    /// The text as its file has it.
    pub fn as_written(&self) -> &str {
        &self.written
    }

    /// Shows this text from now on, or again the file's own.
    pub fn show(&mut self, shown: Option<&str>) {
        self.shown = shown.map(Arc::from);
    }
}

impl Deref for Told {
    type Target = str;

    fn deref(&self) -> &str {
        self.as_str()
    }
}

impl AsRef<str> for Told {
    fn as_ref(&self) -> &str {
        self.as_str()
    }
}

impl fmt::Display for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Not `write_str`: widths and alignments count for it as they do for a string.
        fmt::Display::fmt(self.as_str(), f)
    }
}

impl fmt::Debug for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_written(), f)
    }
}

impl From<&str> for Told {
    fn from(written: &str) -> Told {
        Told {
            written: Arc::from(written),
            shown: None,
        }
    }
}

impl From<String> for Told {
    fn from(written: String) -> Told {
        Told::from(written.as_str())
    }
}

impl PartialEq for Told {
    fn eq(&self, other: &Told) -> bool {
        self.written == other.written
    }
}

impl Eq for Told {}

impl PartialOrd for Told {
    fn partial_cmp(&self, other: &Told) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Told {
    fn cmp(&self, other: &Told) -> Ordering {
        self.written.cmp(&other.written)
    }
}

impl Hash for Told {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.written.hash(state);
    }
}

impl Serialize for Told {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.written)
    }
}

impl<'de> Deserialize<'de> for Told {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Told, D::Error> {
        String::deserialize(deserializer).map(Told::from)
    }
}

/// In a schema it is a text like any other.
#[cfg(feature = "schema")]
impl schemars::JsonSchema for Told {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        <String as schemars::JsonSchema>::schema_name()
    }

    fn schema_id() -> std::borrow::Cow<'static, str> {
        <String as schemars::JsonSchema>::schema_id()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        <String as schemars::JsonSchema>::json_schema(generator)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_shown_otherwise_and_stays_what_it_was() {
        let written = Told::from("Battery");
        let mut told = written.clone();
        told.show(Some("Batería"));
        assert_eq!((&*told, told.as_written()), ("Batería", "Battery"));
        assert_eq!(format!("{told:>9}"), "  Batería");
        assert_eq!(told, written);
        let json = serde_json::to_string(&told).unwrap();
        assert_eq!(json, "\"Battery\"");
        let back: Told = serde_json::from_str(&json).unwrap();
        assert_eq!(back.as_str(), "Battery");
        told.show(None);
        assert_eq!(told.as_str(), "Battery");
    }
}
