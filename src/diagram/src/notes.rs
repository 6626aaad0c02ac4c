//! A learner's notes on a diagram: what they hold proved good or suspect, and a few words.
//!
//! Notes are the learner's own and do nothing to the car: they are no actions and are judged by nobody.

use serde::{Deserialize, Serialize};
use tracebay_core::vehicle::Vehicle;

use crate::piece::Of;

/// Longest words of a note, letters.
pub const LONGEST: usize = 120;
/// Most notes on one diagram.
pub const MOST: usize = 200;
/// Largest text in which notes are kept, bytes: more than the most notes of the longest words take.
pub const MOST_BYTES: usize = 256 * 1024;
/// Format of the text.
const FORMAT: u32 = 1;

/// What a learner holds of something.
#[derive(Copy, Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mark {
    /// Proved good.
    Good,
    /// Suspect.
    Suspect,
    /// Only words.
    #[default]
    Noted,
}

/// One note.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Note {
    /// What the learner holds of it.
    pub mark: Mark,
    /// In their words; may be empty.
    pub text: String,
}

/// Notes in the order in which they were made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Notes(Vec<(Of, Note)>);

/// Why kept notes could not be read.
#[derive(Copy, Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotesError {
    /// Longer than any honest ones.
    #[error("longer than {MOST_BYTES} bytes")]
    TooLarge,
    /// Not written by this program, or damaged.
    #[error("no notes, or damaged ones")]
    Damaged,
    /// Written by a later version.
    #[error("format {0}")]
    Format(u32),
}

#[derive(Serialize, Deserialize)]
struct Kept {
    format: u32,
    notes: Vec<Entry>,
}

#[derive(Serialize, Deserialize)]
struct Entry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    part: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    wire: Option<String>,
    mark: Mark,
    #[serde(default)]
    text: String,
}

impl Notes {
    /// Nothing noted.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Notes with the numbers by which they go.
    pub fn all(&self) -> impl Iterator<Item = (usize, &Of, &Note)> {
        let numbered = self.0.iter().enumerate();
        numbered.map(|(i, (of, note))| (i + 1, of, note))
    }

    /// The note on something, and its number.
    pub fn find(&self, of: &Of) -> Option<(usize, &Note)> {
        let i = self.0.iter().position(|(noted, _)| noted == of)?;
        Some((i + 1, &self.0[i].1))
    }

    /// Notes something, or with `None` no longer. False, if there are too many already.
    pub fn set(&mut self, of: Of, note: Option<Note>) -> bool {
        let at = self.0.iter().position(|(noted, _)| *noted == of);
        match (at, note) {
            (Some(i), Some(note)) => self.0[i].1 = tidied(note),
            (Some(i), None) => {
                self.0.remove(i);
            }
            (None, Some(note)) => {
                if self.0.len() >= MOST {
                    return false;
                }
                self.0.push((of, tidied(note)));
            }
            (None, None) => {}
        }
        true
    }

    /// As text to keep.
    pub fn text(&self) -> String {
        let entry = |(of, note): &(Of, Note)| {
            let (part, wire) = match of {
                Of::Part(id) => (Some(id.clone()), None),
                Of::Wire(id) => (None, Some(id.clone())),
                // Notes are on parts and wires; `set` is asked for nothing else.
                Of::Terminal(_) => (None, None),
            };
            Entry {
                part,
                wire,
                mark: note.mark,
                text: note.text.clone(),
            }
        };
        let kept = Kept {
            format: FORMAT,
            notes: self.0.iter().map(entry).collect(),
        };
        serde_json::to_string(&kept).unwrap_or_default()
    }

    /// Reads kept text. What the vehicle does not have is left out: it may be another version of the car.
    ///
    /// # Errors
    /// The text is no kept notes.
    pub fn read(text: &str, vehicle: &Vehicle) -> Result<Notes, NotesError> {
        if text.len() > MOST_BYTES {
            return Err(NotesError::TooLarge);
        }
        let kept: Kept = serde_json::from_str(text).map_err(|_| NotesError::Damaged)?;
        if kept.format != FORMAT {
            return Err(NotesError::Format(kept.format));
        }
        let mut notes = Notes::default();
        for entry in kept.notes {
            let of = match (entry.part, entry.wire) {
                (Some(id), None) if vehicle.parts.contains_key(&id) => Of::Part(id),
                (None, Some(id)) if vehicle.wires.contains_key(&id) => Of::Wire(id),
                _ => continue,
            };
            let note = Note {
                mark: entry.mark,
                text: entry.text,
            };
            notes.set(of, Some(note));
        }
        Ok(notes)
    }
}

/// One line of words, no longer than allowed.
fn tidied(note: Note) -> Note {
    let signs = note.text.trim().chars();
    let text = signs.map(|c| if c.is_control() { ' ' } else { c });
    Note {
        text: text.take(LONGEST).collect(),
        ..note
    }
}
