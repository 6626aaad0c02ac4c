//! Attempts kept only as long as the program runs: for those who cannot save and say so.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use tracebay_core::attempt::{Header, decode, encode_header};

use crate::{AttemptLog, Opened, Recent, ShelfError, Store};

type Texts = Arc<Mutex<BTreeMap<u32, String>>>;

/// Keeps attempts in memory.
#[derive(Clone, Debug, Default)]
pub struct MemoryStore {
    texts: Texts,
}

struct MemoryLog {
    texts: Texts,
    number: u32,
}

impl AttemptLog for MemoryLog {
    fn append(&mut self, text: &str) -> Result<(), ShelfError> {
        let mut texts = self.texts.lock().unwrap_or_else(PoisonError::into_inner);
        texts.entry(self.number).or_default().push_str(text);
        Ok(())
    }

    fn name(&self) -> String {
        self.number.to_string()
    }
}

impl Store for MemoryStore {
    fn create(&mut self, header: &Header) -> Result<Box<dyn AttemptLog + Send + Sync>, ShelfError> {
        let mut texts = self.texts.lock().unwrap_or_else(PoisonError::into_inner);
        let number = texts.len() as u32 + 1;
        texts.insert(number, encode_header(header));
        Ok(Box::new(MemoryLog {
            texts: self.texts.clone(),
            number,
        }))
    }

    fn open(&mut self, name: &str) -> Result<Opened, ShelfError> {
        let missing = || ShelfError::NotFound {
            path: name.to_owned(),
        };
        let number: u32 = name.parse().map_err(|_| missing())?;
        let texts = self.texts.lock().unwrap_or_else(PoisonError::into_inner);
        let text = texts.get(&number).ok_or_else(missing)?;
        let decoded = decode(text).map_err(|error| ShelfError::Attempt {
            path: name.to_owned(),
            error,
        })?;
        Ok(Opened {
            log: Box::new(MemoryLog {
                texts: self.texts.clone(),
                number,
            }),
            decoded,
        })
    }

    fn recent(&self, most: usize) -> Result<Vec<Recent>, ShelfError> {
        let texts = self.texts.lock().unwrap_or_else(PoisonError::into_inner);
        let newest = texts.iter().rev().filter_map(|(number, text)| {
            let decoded = decode(text).ok()?;
            Some(Recent::of(number.to_string(), &decoded))
        });
        Ok(newest.take(most).collect())
    }
}
