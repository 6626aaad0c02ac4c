//! Attempts as texts under keys: a browser's storage, or a map that lives as long as the program.
//!
//! Knows no browser: whoever has keys and texts brings them as a [`KeyedTexts`].

use tracebay_core::attempt::{Header, decode, encode_header};

use crate::name::file_name;
use crate::store::MAX_BESIDE_BYTES;
use crate::{AttemptLog, Doing, Opened, Recent, ShelfError, Store};

/// In front of an attempt's number and name in its key.
const PREFIX: &str = "tracebay/attempt/";
/// The same in front of what is kept beside it.
const BESIDE: &str = "tracebay/beside/";

/// Texts by key. Copies of it are the same storage.
pub trait KeyedTexts: Clone + Send + Sync + 'static {
    /// The text under a key.
    ///
    /// # Errors
    /// What the storage said, for a person.
    fn get(&self, key: &str) -> Result<Option<String>, String>;

    /// Puts a text under a key, whole or not at all.
    ///
    /// # Errors
    /// What the storage said, for a person.
    fn set(&self, key: &str, text: &str) -> Result<(), String>;

    /// Forgets a key.
    ///
    /// # Errors
    /// What the storage said, for a person.
    fn remove(&self, key: &str) -> Result<(), String>;

    /// All keys.
    ///
    /// # Errors
    /// What the storage said, for a person.
    fn keys(&self) -> Result<Vec<String>, String>;
}

/// Keeps attempts in a storage of texts by key.
///
/// A key holds a number that grows, so that the latest attempt is known without a clock, and the
/// name that the attempt would have as a file.
#[derive(Clone, Debug, Default)]
pub struct KeyedStore<K> {
    storage: K,
}

struct KeyedLog<K> {
    storage: K,
    key: String,
    /// Bytes that this log knows of. More or fewer in the storage come from somebody else.
    known: usize,
}

impl<K: KeyedTexts> KeyedStore<K> {
    /// Keeps attempts in `storage`, beside whatever else is there.
    pub fn new(storage: K) -> KeyedStore<K> {
        KeyedStore { storage }
    }

    /// Keys of attempts, oldest first.
    fn keys(&self) -> Result<Vec<String>, ShelfError> {
        let all = self.storage.keys().map_err(|detail| {
            let doing = Doing::List;
            failed(doing, PREFIX.trim_end_matches('/'), detail)
        })?;
        let mut keys: Vec<String> = all.into_iter().filter(|k| split(k).is_some()).collect();
        keys.sort_by_key(|key| split(key).map(|(number, name)| (number, name.to_owned())));
        Ok(keys)
    }

    fn find(&self, name: &str) -> Result<String, ShelfError> {
        let named = |key: &String| split(key).is_some_and(|(_, n)| n == name);
        self.keys()?
            .into_iter()
            .find(named)
            .ok_or_else(|| ShelfError::NotFound {
                path: name.to_owned(),
            })
    }

    fn text_under(&self, key: &str) -> Result<String, ShelfError> {
        let text = self
            .storage
            .get(key)
            .map_err(|d| failed(Doing::Read, key, d))?;
        text.ok_or_else(|| ShelfError::NotFound {
            path: name_in(key).to_owned(),
        })
    }
}

/// Number and name in an attempt's key; none where it is another thing's key.
fn split(key: &str) -> Option<(u32, &str)> {
    let (number, name) = key.strip_prefix(PREFIX)?.split_once('/')?;
    Some((number.parse().ok()?, name))
}

/// The key of what is kept beside the attempt under this key.
fn key_beside(key: &str) -> String {
    format!("{BESIDE}{}", key.strip_prefix(PREFIX).unwrap_or(key))
}

fn name_in(key: &str) -> &str {
    split(key).map_or(key, |(_, name)| name)
}

fn failed(doing: Doing, key: &str, detail: String) -> ShelfError {
    ShelfError::System {
        doing,
        path: name_in(key).to_owned(),
        detail,
    }
}

impl<K: KeyedTexts> AttemptLog for KeyedLog<K> {
    fn append(&mut self, text: &str) -> Result<(), ShelfError> {
        let read = self.storage.get(&self.key);
        let mut whole = read
            .map_err(|detail| failed(Doing::Write, &self.key, detail))?
            .ok_or_else(|| ShelfError::NotFound {
                path: name_in(&self.key).to_owned(),
            })?;
        if whole.len() != self.known {
            return Err(ShelfError::Elsewhere {
                path: name_in(&self.key).to_owned(),
            });
        }
        whole.push_str(text);
        self.storage
            .set(&self.key, &whole)
            .map_err(|detail| failed(Doing::Write, &self.key, detail))?;
        self.known = whole.len();
        Ok(())
    }

    fn name(&self) -> String {
        name_in(&self.key).to_owned()
    }
}

impl<K: KeyedTexts> Store for KeyedStore<K> {
    fn create(&mut self, header: &Header) -> Result<Box<dyn AttemptLog + Send + Sync>, ShelfError> {
        let keys = self.keys()?;
        let taken = |name: &str| keys.iter().any(|key| name_in(key) == name);
        let name = (1..)
            .map(|number| file_name(header, number))
            .find(|name| !taken(name))
            .unwrap_or_default();
        let last = keys.last().and_then(|key| split(key));
        let number = last.map_or(1, |(number, _)| number.saturating_add(1));
        let key = format!("{PREFIX}{number:08}/{name}");
        let text = encode_header(header);
        self.storage
            .set(&key, &text)
            .map_err(|detail| failed(Doing::Create, &key, detail))?;
        // Of an attempt that was taken away without it: not this one's.
        let _ = self.storage.remove(&key_beside(&key));
        Ok(Box::new(KeyedLog {
            storage: self.storage.clone(),
            key,
            known: text.len(),
        }))
    }

    fn open(&mut self, name: &str) -> Result<Opened, ShelfError> {
        let key = self.find(name)?;
        let mut text = self.text_under(&key)?;
        let decoded = decode(&text).map_err(|error| ShelfError::Attempt {
            path: name.to_owned(),
            error,
        })?;
        if decoded.torn.is_some() || decoded.needs_newline {
            text.truncate(decoded.good_bytes);
            if decoded.needs_newline {
                text.push('\n');
            }
            self.storage
                .set(&key, &text)
                .map_err(|detail| failed(Doing::Write, &key, detail))?;
        }
        let log = KeyedLog {
            storage: self.storage.clone(),
            key,
            known: text.len(),
        };
        Ok(Opened {
            log: Box::new(log),
            decoded,
        })
    }

    fn recent(&self, most: usize) -> Result<Vec<Recent>, ShelfError> {
        let keys = self.keys()?;
        let newest = keys.iter().rev().filter_map(|key| {
            let decoded = decode(self.text_under(key).ok()?).ok()?;
            Some(Recent::of(name_in(key).to_owned(), &decoded))
        });
        Ok(newest.take(most).collect())
    }

    fn text(&self, name: &str) -> Result<String, ShelfError> {
        self.text_under(&self.find(name)?)
    }

    fn beside(&self, name: &str) -> Result<Option<String>, ShelfError> {
        let key = self.find(name)?;
        let text = self.storage.get(&key_beside(&key));
        let text = text.map_err(|detail| failed(Doing::Read, &key, detail))?;
        if let Some(text) = &text
            && text.len() as u64 > MAX_BESIDE_BYTES
        {
            return Err(ShelfError::TooLarge {
                path: name.to_owned(),
                most_bytes: MAX_BESIDE_BYTES,
            });
        }
        Ok(text)
    }

    fn keep_beside(&mut self, name: &str, text: &str) -> Result<(), ShelfError> {
        let key = self.find(name)?;
        self.storage
            .set(&key_beside(&key), text)
            .map_err(|detail| failed(Doing::Write, &key, detail))
    }

    fn remove(&mut self, name: &str) -> Result<(), ShelfError> {
        let key = self.find(name)?;
        self.storage
            .remove(&key_beside(&key))
            .map_err(|detail| failed(Doing::Write, &key, detail))?;
        self.storage
            .remove(&key)
            .map_err(|detail| failed(Doing::Write, &key, detail))
    }
}
