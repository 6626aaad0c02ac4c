//! Attempts kept only as long as the program runs: for those who cannot save and say so.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::{KeyedStore, KeyedTexts};

/// Texts by key, in memory. With little room it behaves as a browser's storage does (WHATWG HTML, "Web
/// storage"): a text is put whole or, where there is no room for it, not at all.
#[derive(Clone, Debug, Default)]
pub struct Texts(Arc<Mutex<Kept>>);

#[derive(Debug, Default)]
struct Kept {
    texts: BTreeMap<String, String>,
    /// Longest text that there is room for, bytes; any, if not said.
    room_bytes: Option<usize>,
}

/// Keeps attempts in memory.
pub type MemoryStore = KeyedStore<Texts>;

impl Texts {
    /// Refuses texts longer than this many bytes from now on; nothing is refused with `None`.
    pub fn set_room(&self, bytes: Option<usize>) {
        self.all().room_bytes = bytes;
    }

    fn all(&self) -> MutexGuard<'_, Kept> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl KeyedTexts for Texts {
    fn get(&self, key: &str) -> Result<Option<String>, String> {
        Ok(self.all().texts.get(key).cloned())
    }

    fn set(&self, key: &str, text: &str) -> Result<(), String> {
        let mut all = self.all();
        if all.room_bytes.is_some_and(|most| text.len() > most) {
            return Err("no room".to_owned());
        }
        all.texts.insert(key.to_owned(), text.to_owned());
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), String> {
        self.all().texts.remove(key);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, String> {
        Ok(self.all().texts.keys().cloned().collect())
    }
}
