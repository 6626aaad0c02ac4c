//! The only module that touches files, the clock, standard output, the page and the program's end:
//! a computer with files and a browser differ here and nowhere else.

use tracebay_shelf::{ShelfError, Store};

mod kept;
mod shelf;
pub mod sound;

#[cfg(target_arch = "wasm32")]
#[path = "browser/mod.rs"]
mod local;
#[cfg(not(target_arch = "wasm32"))]
#[path = "computer.rs"]
mod local;

pub(crate) use kept::Kept;
pub use shelf::Shelf;
pub(crate) use shelf::shelf_words;

pub use local::{Changes, HANDS_OUT_FILES, IN_A_PAGE};

/// Where attempts and settings are kept.
struct Places {
    attempts: Result<Box<dyn Store + Send + Sync>, ShelfError>,
    settings: Option<local::SettingsPlace>,
    /// Where diagrams are put for a person to find.
    diagrams: Option<local::DiagramsPlace>,
    /// Key of a sentence that a person must know before they begin.
    warning: Option<&'static str>,
}

/// What the page around the program asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum PageAsk {
    /// A file was given to it.
    File {
        /// Its name.
        name: String,
        /// What is in it, or why it cannot be read.
        text: Result<String, String>,
    },
    /// Somebody hears the page: names are to be given to it.
    Listen,
    /// Press what has this number in the tree of names.
    Press(u64),
    /// Write in what has this number.
    Write(u64, String),
}

/// What was asked for at the start, on the command line or in the page's address. The second is
/// what is wrong with it.
pub fn asked_for() -> (crate::cli::Cli, Option<String>) {
    local::asked_for()
}

/// What the page asked for since this was asked last.
pub fn asked_by_page() -> Vec<PageAsk> {
    local::asked_by_page()
}

/// Gives the page the panels' tree of names.
pub fn show_tree(json: &str) {
    local::show_tree(json);
}

/// Has `wake` called whenever the page asks for something.
pub fn listen(wake: Box<dyn Fn()>) {
    local::listen(wake);
}

/// Lets a person choose a file; it comes with [`asked_by_page`].
pub fn ask_for_file() {
    local::ask_for_file();
}

/// Gives a person a text as a file.
pub fn hand_out(name: &str, text: &str) {
    local::hand_out(name, text);
}

/// Says which language the program's words are in from now on.
pub fn speaks(code: &str) {
    local::speaks(code);
}

/// Has a sentence read out to those who cannot see it, where the panels' own tree cannot.
pub fn read_out(sentence: &str) {
    local::read_out(sentence);
}

/// Tells the page which case is open, so that its address leads there again.
pub fn at_case(case: Option<(&str, u64)>) {
    local::at_case(case);
}

/// Tells the page that there is something to see.
pub fn ready() {
    local::ready();
}

/// A seed that nobody chose.
pub fn any_seed() -> u64 {
    local::any_seed()
}

/// Reads a text file that a person named.
pub fn read_text(path: &std::path::Path) -> Result<String, String> {
    local::read_text(path)
}

/// Whether there is a display to open a window on.
pub fn has_display() -> bool {
    local::has_display()
}

/// Ends the program with the sentence `explain` has for a panic's message. Where it has none the
/// panic is reported as usual.
pub fn on_panic(explain: impl Fn(&str) -> Option<String> + Send + Sync + 'static, code: i32) {
    local::on_panic(Box::new(explain), code);
}

/// Ends the program with a sentence on the error output.
pub fn give_up(sentence: &str, code: i32) -> ! {
    local::give_up(sentence, code)
}

/// Says on the error output what files were left out.
pub fn tell(line: &str) {
    local::tell(line);
}

/// Says something on the output.
pub fn say(line: &str) {
    local::say(line);
}

/// The time, `YYYY-MM-DDTHH:MM:SSZ`, where the system tells.
pub fn now() -> Option<String> {
    local::now()
}

/// Milliseconds since the program asked this first, which is when it started.
pub fn since_start_ms() -> Option<u64> {
    local::since_start_ms()
}

/// Processor time that the program has used, seconds, where the system tells.
pub fn cpu_seconds() -> Option<f64> {
    local::cpu_seconds()
}

/// Memory in use now and at most so far, in MB of 1000 000 bytes, where the system tells.
pub fn memory_mb() -> Option<(f64, f64)> {
    local::memory_mb()
}
