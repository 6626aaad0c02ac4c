//! The page's own storage: texts by key, kept when the page is closed.
//!
//! Web Storage takes a text at once and whole, so that an action outlasts page and program before what
//! it showed is drawn; databases answer later, which would be too late. The browser writes it to disk
//! some seconds later: only a crash of the whole machine in between can lose it.

use tracebay_shelf::KeyedTexts;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DomException, Storage};

/// The storage of this page's origin.
#[derive(Clone, Copy, Debug, Default)]
pub struct PageStorage;

fn storage() -> Result<Storage, String> {
    let window = web_sys::window().ok_or_else(String::new)?;
    let storage = window.local_storage().map_err(|e| said(&e))?;
    storage.ok_or_else(String::new)
}

/// What the browser said.
fn said(error: &JsValue) -> String {
    match error.dyn_ref::<DomException>() {
        Some(error) => error.message(),
        None => format!("{error:?}"),
    }
}

/// Whether nothing can be kept here, which a private window or a setting may forbid.
pub fn forbidden() -> bool {
    const PROBE: &str = "tracebay/probe";
    let tried = PageStorage
        .set(PROBE, "1")
        .and_then(|()| PageStorage.get(PROBE));
    let _ = PageStorage.remove(PROBE);
    // A storage that is full can still be read: what is in it must stay within reach.
    match tried {
        Ok(found) => found.is_none(),
        Err(_) => PageStorage.keys().map_or(true, |keys| keys.is_empty()),
    }
}

impl KeyedTexts for PageStorage {
    fn get(&self, key: &str) -> Result<Option<String>, String> {
        storage()?.get_item(key).map_err(|e| said(&e))
    }

    fn set(&self, key: &str, text: &str) -> Result<(), String> {
        storage()?.set_item(key, text).map_err(|e| said(&e))
    }

    fn remove(&self, key: &str) -> Result<(), String> {
        storage()?.remove_item(key).map_err(|e| said(&e))
    }

    fn keys(&self) -> Result<Vec<String>, String> {
        let storage = storage()?;
        let count = storage.length().map_err(|e| said(&e))?;
        let key = |i| storage.key(i).ok().flatten();
        Ok((0..count).filter_map(key).collect())
    }
}
