//! Where a browser keeps nothing: attempts live as long as the page. Its script holds them too, and can still
//! give them to the person when the program has stopped.

use tracebay_shelf::{KeyedTexts, Texts};

use super::page;

/// Texts in memory, each also with the page's script.
#[derive(Clone, Debug, Default)]
pub struct HeldTexts(Texts);

/// Gives a text to the page's script to hold.
pub fn hold(key: &str, text: &str) {
    page::tell("hold", &[("key", key), ("text", text)]);
}

impl KeyedTexts for HeldTexts {
    fn get(&self, key: &str) -> Result<Option<String>, String> {
        self.0.get(key)
    }

    fn set(&self, key: &str, text: &str) -> Result<(), String> {
        self.0.set(key, text)?;
        hold(key, text);
        Ok(())
    }

    fn remove(&self, key: &str) -> Result<(), String> {
        self.0.remove(key)?;
        page::tell("hold", &[("key", key)]);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, String> {
        self.0.keys()
    }
}
