//! A page in a browser: attempts lie in the page's own storage, the command line is its address, and
//! what needs the page's elements is asked of its script by events (see `page`).

use std::path::{Path, PathBuf};

use tracebay_core::attempt::Header;
use tracebay_shelf::{Data, KeyedStore, KeyedTexts, ShelfError};

use super::{PageAsk, Places};
use crate::cli::Cli;

mod held;
mod page;
mod storage;

use held::HeldTexts;
use storage::PageStorage;

/// Whether the program runs in a page: it then has an address and no end.
pub const IN_A_PAGE: bool = true;
/// Whether attempts must be handed out as files: nobody finds them in a browser's storage.
pub const HANDS_OUT_FILES: bool = true;

/// A page has no files that an author could save.
pub struct Changes;

impl Changes {
    /// Nothing to watch.
    pub fn of(_: Vec<std::path::PathBuf>) -> Changes {
        Changes
    }

    /// Nothing ever changed.
    pub fn any(&mut self) -> bool {
        false
    }
}

/// Key of the settings.
const SETTINGS: &str = "tracebay/settings";

/// The settings lie under a key of the page's storage.
pub struct SettingsPlace;
/// Diagrams go where the browser puts what is downloaded.
pub struct DiagramsPlace;

pub fn asked_for() -> (Cli, Option<String>) {
    crate::address::asked_for(&page::address())
}

pub fn data(_: Option<PathBuf>) -> Result<Data, ShelfError> {
    Ok(Data::built_in())
}

pub fn places(_: Option<PathBuf>) -> Places {
    if storage::forbidden() {
        return Places {
            attempts: Ok(Box::new(KeyedStore::new(HeldTexts::default()))),
            settings: None,
            diagrams: Some(DiagramsPlace),
            warning: Some("page-keeps-nothing"),
        };
    }
    Places {
        attempts: Ok(Box::new(KeyedStore::new(PageStorage))),
        settings: Some(SettingsPlace),
        diagrams: Some(DiagramsPlace),
        warning: None,
    }
}

pub fn read_settings(_: &SettingsPlace) -> Option<String> {
    PageStorage.get(SETTINGS).ok().flatten()
}

pub fn keep_settings(_: &SettingsPlace, text: &str) {
    // Without room the settings last as long as the page.
    let _ = PageStorage.set(SETTINGS, text);
}

/// The browser's own language.
pub fn language() -> Option<String> {
    page::marked("language")
}

/// Tells the page which language its words are in, so that they are read out with the right voice.
pub fn speaks(code: &str) {
    page::tell("speaks", &[("language", code)]);
}

/// `2026-01-02T03:04:05.678Z` (ECMA-262, `toISOString`) without the fraction.
pub fn now() -> Option<String> {
    let iso = String::from(js_sys::Date::new_0().to_iso_string());
    iso.split_once('.')
        .map(|(seconds, _)| format!("{seconds}Z"))
}

pub fn since_start_ms() -> Option<u64> {
    Some(page::milliseconds()? as u64)
}

pub fn any_seed() -> u64 {
    // Not for secrets; short ones are easier to tell one another.
    (js_sys::Math::random() * 65_536.0) as u64
}

pub fn asked_by_page() -> Vec<PageAsk> {
    page::asked()
}

pub fn show_tree(json: &str) {
    page::tell("tree", &[("nodes", json)]);
}

pub fn listen(wake: Box<dyn Fn()>) {
    page::listen(wake);
}

pub fn ask_for_file() {
    page::tell("choose-file", &[]);
}

pub fn hand_out(name: &str, text: &str) {
    page::tell("hand-out", &[("name", name), ("text", text)]);
}

/// The browser says itself where it puts the file.
pub fn hand_out_diagram(
    _: &DiagramsPlace,
    name: &str,
    text: &str,
) -> Result<Option<String>, String> {
    hand_out(name, text);
    Ok(None)
}

/// An attempt that goes on without being kept: the page's script holds it, and says so itself.
pub fn hold_unkept(_: &Header, text: &str) -> Option<String> {
    held::hold("tracebay/attempt/unkept/attempt.jsonl", text);
    None
}

pub fn read_out(sentence: &str) {
    page::tell("read-out", &[("sentence", sentence)]);
}

pub fn at_case(case: Option<(&str, u64)>) {
    match case {
        Some((scenario, seed)) => {
            let seed = seed.to_string();
            page::tell("at-case", &[("scenario", scenario), ("seed", &seed)]);
        }
        None => page::tell("at-case", &[]),
    }
}

pub fn ready() {
    page::tell("ready", &[]);
}

pub fn read_text(path: &Path) -> Result<String, String> {
    Err(path.display().to_string())
}

pub fn has_display() -> bool {
    true
}

/// The page's script looks before the program is fetched.
pub fn has_graphics_card() -> bool {
    page::marked("drawn-by").is_none_or(|by| by != "processor")
}

type Explain = Box<dyn Fn(&str) -> Option<String> + Send + Sync>;

pub fn on_panic(explain: Explain, _: i32) {
    std::panic::set_hook(Box::new(move |info| {
        let message = info.to_string();
        page::complain(&message);
        let sentence = explain(&message).unwrap_or_default();
        page::tell("stopped", &[("sentence", &sentence), ("detail", &message)]);
    }));
}

pub fn tell(line: &str) {
    page::complain(line);
}

pub fn say(line: &str) {
    page::complain(line);
}

pub fn cpu_seconds() -> Option<f64> {
    None
}

pub fn memory_mb() -> Option<(f64, f64)> {
    None
}

pub fn give_up(sentence: &str, _: i32) -> ! {
    page::tell("stopped", &[("sentence", sentence), ("detail", "")]);
    wasm_bindgen::throw_str(sentence)
}
