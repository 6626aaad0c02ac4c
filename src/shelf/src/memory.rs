//! Attempts kept only as long as the program runs: for those who cannot save and say so.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::{KeyedStore, KeyedTexts};

/// Texts by key, in memory.
#[derive(Clone, Debug, Default)]
pub struct Texts(Arc<Mutex<BTreeMap<String, String>>>);

/// Keeps attempts in memory.
pub type MemoryStore = KeyedStore<Texts>;

impl Texts {
    fn all(&self) -> MutexGuard<'_, BTreeMap<String, String>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl KeyedTexts for Texts {
    fn get(&self, key: &str) -> Result<Option<String>, String> {
        Ok(self.all().get(key).cloned())
    }

    fn set(&self, key: &str, text: &str) -> Result<(), String> {
        self.all().insert(key.to_owned(), text.to_owned());
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), String> {
        self.all().remove(key);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, String> {
        Ok(self.all().keys().cloned().collect())
    }
}
