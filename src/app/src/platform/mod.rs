//! The only module that touches files, the clock, standard output and the program's end, so that
//! a browser build has one place to differ in.

use std::path::PathBuf;
use std::sync::Arc;

use tracebay_core::attempt::{HOME_RULES, HeaderCheck, Recorder, check_header};
use tracebay_core::scenario::{Catalogue, MAX_SEED};
use tracebay_core::session::{Action, Observation, Session};
use tracebay_core::source::Problem;
use tracebay_grading::assign::Terms;
use tracebay_shelf::{Data, Recent, ShelfError, Shown, Store, Work, WorkError};
use tracebay_words::{Value, Words};

use crate::assigned::{Assigned, Opened};
use crate::desk::{Book, Trouble};
use crate::screens::RecentAttempt;
use crate::settings::{Graphics, Settings};

/// Data files read and checked, and where attempts and settings are kept.
pub struct Shelf {
    /// Vehicles and scenarios.
    pub catalogue: Catalogue,
    /// What was wrong with files that were left out.
    pub problems: Vec<Problem>,
    /// The assignment that was opened, if one was.
    pub(crate) assigned: Option<Assigned>,
    store: Result<Box<dyn Store + Send + Sync>, ShelfError>,
    settings_file: Option<PathBuf>,
}

impl Shelf {
    /// Reads the data and finds the save folder. `data` and `save` are folders a person named.
    pub fn open(data: Option<PathBuf>, save: Option<PathBuf>) -> Result<Shelf, ShelfError> {
        let files = local::data(data)?;
        let (catalogue, problems) = files.catalogue();
        let (store, settings_file) = local::store(save);
        Ok(Shelf {
            catalogue,
            problems,
            assigned: None,
            store,
            settings_file,
        })
    }

    /// A shelf that keeps nothing, for pictures and tests.
    pub fn in_memory(catalogue: Catalogue) -> Shelf {
        Shelf {
            catalogue,
            problems: Vec::new(),
            assigned: None,
            store: Ok(Box::new(tracebay_shelf::MemoryStore::default())),
            settings_file: None,
        }
    }

    /// The latest attempts, newest first.
    pub fn recent(&self, words: &Words) -> Result<Vec<RecentAttempt>, String> {
        let store = self.store.as_ref().map_err(|e| shelf_words(words, e))?;
        let list = store.recent(20).map_err(|e| shelf_words(words, &e))?;
        let entries = list.into_iter().map(|r| RecentAttempt {
            title: self
                .catalogue
                .scenarios
                .get(&r.header.scenario)
                .map_or_else(|| r.header.scenario.clone(), |s| s.title.clone()),
            name: r.name,
            scenario: r.header.scenario,
            seed: r.header.seed,
            actions: r.actions,
            minutes: r.minutes,
            done: r.handed_back,
        });
        Ok(entries.collect())
    }

    /// Begins a case and its attempt. Without a seed one is drawn.
    pub fn begin(
        &mut self,
        words: &Words,
        scenario: &str,
        seed: Option<u64>,
    ) -> Result<Box<dyn Book>, String> {
        let seed = seed.unwrap_or_else(local::any_seed).min(MAX_SEED);
        let case = self
            .catalogue
            .draw(scenario, seed)
            .map_err(|e| words.draw_error(&e))?;
        let recorder = Recorder::start(Arc::new(case), HOME_RULES, local::now(), None)
            .map_err(|e| e.to_string())?;
        let work = Work::start(recorder, self.store(words)?).map_err(|e| shelf_words(words, &e))?;
        Ok(Kept::boxed(work, words, None))
    }

    /// Where attempts are kept.
    pub(crate) fn store(&mut self, words: &Words) -> Result<&mut dyn Store, String> {
        match &mut self.store {
            Ok(store) => Ok(&mut **store),
            Err(error) => Err(shelf_words(words, error)),
        }
    }

    /// All attempts, newest first.
    pub(crate) fn all_kept(&self, words: &Words) -> Result<Vec<Recent>, String> {
        let store = self.store.as_ref().map_err(|e| shelf_words(words, e))?;
        store.recent(usize::MAX).map_err(|e| shelf_words(words, &e))
    }

    /// Goes on with an attempt. The words, if any, are something to tell the person.
    pub fn resume(&mut self, words: &Words, name: &str) -> Result<Opened, String> {
        let opened = self
            .store(words)?
            .open(name)
            .map_err(|e| shelf_words(words, &e))?;
        let header = &opened.decoded.header;
        let terms = self.terms_of(words, header)?;
        let case = match &terms {
            Some((_, task)) => task
                .case(&self.catalogue, header.seed)
                .map_err(|e| e.to_string())?,
            None => self
                .catalogue
                .draw(&header.scenario, header.seed)
                .map_err(|e| words.draw_error(&e))?,
        };
        let check = check_header(header, &case).map_err(|e| words.attempt_error(&e))?;
        let vehicle = case.vehicle.clone();
        let recorder = Recorder::resume(Arc::new(case), &opened.decoded)
            .map_err(|e| words.replay_error(&vehicle, &e))?;
        let mut told = Vec::new();
        told.extend(opened.decoded.torn.as_ref().map(|t| words.torn_line(t)));
        if check == HeaderCheck::ContentChanged {
            told.push(words.text("attempt-content-changed"));
        }
        let work = Work::resumed(recorder, opened.log);
        let terms = terms.map(|(terms, _)| terms);
        Ok((Kept::boxed(work, words, terms), told))
    }

    /// The settings, or the usual ones where there are none or they cannot be read.
    pub fn settings(&self) -> Settings {
        self.settings_file
            .as_ref()
            .and_then(|path| local::read(path))
            .and_then(|text| serde_json::from_str::<Settings>(&text).ok())
            .unwrap_or_else(|| Settings {
                // Drawn by the processor alone, anything finer takes seconds a frame.
                graphics: if local::has_graphics_card() {
                    Settings::default().graphics
                } else {
                    Graphics::Low
                },
                ..Settings::default()
            })
            .tidied()
    }

    /// Keeps the settings. A folder that cannot be written to loses them, and nothing else.
    pub fn keep_settings(&self, settings: &Settings) {
        if let Some(path) = &self.settings_file
            && let Ok(text) = serde_json::to_string_pretty(settings)
        {
            local::write(path, &text);
        }
    }
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

/// What went wrong on the shelf, in words.
pub(crate) fn shelf_words(words: &Words, error: &ShelfError) -> String {
    let mut args: Vec<(&str, Value<'_>)> = error
        .args()
        .into_iter()
        .map(|(key, value)| (key, value.into()))
        .collect();
    if let ShelfError::Attempt { error, .. } = error {
        args.push(("why", words.attempt_error(error).into()));
    }
    words.get(error.key(), &args)
}

/// An attempt that is kept action by action.
pub(crate) struct Kept {
    work: Work,
    words: Words,
    /// Terms of the assignment this is work for.
    terms: Option<Terms>,
}

impl Kept {
    /// A book on an attempt, under an assignment's terms if it is work for one.
    pub(crate) fn boxed(work: Work, words: &Words, terms: Option<Terms>) -> Box<dyn Book> {
        // The book says why something was not kept in the language it was opened in.
        let words = Words::new(words.language());
        Box::new(Kept { work, words, terms })
    }

    fn answer(&self, done: Result<Shown, WorkError>) -> Result<Vec<Observation>, Trouble> {
        match done {
            Ok(shown) => Ok(shown.observations),
            Err(WorkError::Refused(refusal)) => Err(Trouble::Refused(refusal)),
            Err(WorkError::NotKept(error)) => {
                Err(Trouble::NotKept(shelf_words(&self.words, &error)))
            }
        }
    }
}

impl Book for Kept {
    fn perform(&mut self, action: &Action) -> Result<Vec<Observation>, Trouble> {
        if let Some(refusal) = self.terms.as_ref().and_then(|terms| terms.forbids(action)) {
            return Err(Trouble::Refused(refusal));
        }
        let done = self.work.perform(action.clone(), local::since_start_ms());
        self.answer(done)
    }

    fn terms(&self) -> Option<&Terms> {
        self.terms.as_ref()
    }

    fn session(&self) -> &Session {
        self.work.session()
    }

    fn name(&self) -> String {
        self.work.kept_in().unwrap_or_default()
    }

    fn retry(&mut self) -> Result<Vec<Observation>, Trouble> {
        match self.work.retry() {
            Some(done) => self.answer(done),
            None => Ok(Vec::new()),
        }
    }

    fn go_on_unkept(&mut self) -> Vec<Observation> {
        self.work
            .go_on_unsaved()
            .map(|shown| shown.observations)
            .unwrap_or_default()
    }
}

#[cfg(not(target_arch = "wasm32"))]
mod local {
    //! A computer with files.

    use std::path::{Path, PathBuf};
    use std::sync::OnceLock;
    use std::time::{Instant, SystemTime, UNIX_EPOCH};

    use tracebay_shelf::{FolderStore, now_rfc3339, save_folder};

    use super::{Data, ShelfError, Store};

    type Stores = (
        Result<Box<dyn Store + Send + Sync>, ShelfError>,
        Option<PathBuf>,
    );

    pub fn data(option: Option<PathBuf>) -> Result<Data, ShelfError> {
        Data::with_folder(tracebay_shelf::data_folder(option).as_deref())
    }

    pub fn store(option: Option<PathBuf>) -> Stores {
        match save_folder(option) {
            Ok(folder) => {
                let settings = folder.join("settings.json");
                (Ok(Box::new(FolderStore::new(folder))), Some(settings))
            }
            Err(error) => (Err(error), None),
        }
    }

    pub fn now() -> Option<String> {
        Some(now_rfc3339())
    }

    pub fn since_start_ms() -> Option<u64> {
        static START: OnceLock<Instant> = OnceLock::new();
        Some(START.get_or_init(Instant::now).elapsed().as_millis() as u64)
    }

    pub fn any_seed() -> u64 {
        // Not for secrets: any number that differs from run to run. Short ones are easier to
        // tell one another.
        let t = SystemTime::now().duration_since(UNIX_EPOCH);
        let nanos = t.map_or(1, |d| d.as_nanos() as u64);
        nanos.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 48
    }

    pub fn read(path: &Path) -> Option<String> {
        std::fs::read_to_string(path).ok()
    }

    pub fn write(path: &Path, text: &str) {
        if let Some(folder) = path.parent() {
            let _ = std::fs::create_dir_all(folder);
        }
        let _ = std::fs::write(path, text);
    }

    pub fn read_text(path: &Path) -> Result<String, String> {
        let meta = std::fs::metadata(path).map_err(|e| e.to_string())?;
        // A whole class's assignment is the largest file that is opened.
        if meta.len() > tracebay_grading::assign::MAX_BYTES as u64 {
            return Err("larger than 16 MiB".to_owned());
        }
        std::fs::read_to_string(path).map_err(|e| e.to_string())
    }

    pub fn has_display() -> bool {
        // Elsewhere the system always has one to ask.
        let set = |name| std::env::var_os(name).is_some_and(|v| !v.is_empty());
        !cfg!(target_os = "linux") || set("DISPLAY")
    }

    /// Whether something else than the processor can draw. Where that cannot be told it is taken
    /// to be so.
    pub fn has_graphics_card() -> bool {
        if !cfg!(target_os = "linux") {
            return true;
        }
        let render_node = std::fs::read_dir("/dev/dri").is_ok_and(|mut nodes| {
            nodes.any(|n| n.is_ok_and(|n| n.file_name().to_string_lossy().starts_with("renderD")))
        });
        render_node
            || ["/dev/nvidia0", "/dev/dxg"]
                .iter()
                .any(|p| std::path::Path::new(p).exists())
    }

    type Explain = Box<dyn Fn(&str) -> Option<String> + Send + Sync>;

    pub fn on_panic(explain: Explain, code: i32) {
        let usual = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |info| {
            let payload = info.payload();
            let message = payload
                .downcast_ref::<String>()
                .map(String::as_str)
                .or_else(|| payload.downcast_ref::<&str>().copied())
                .unwrap_or_default();
            match explain(message) {
                Some(sentence) => give_up(&sentence, code),
                None => usual(info),
            }
        }));
    }

    pub fn tell(line: &str) {
        eprintln!("{line}");
    }

    pub fn say(line: &str) {
        println!("{line}");
    }

    /// proc(5): fields 14 and 15 of `stat`, counted from the name in brackets, are user and system
    /// time in clock ticks, which Linux gives in hundredths of a second.
    pub fn cpu_seconds() -> Option<f64> {
        let stat = read(Path::new("/proc/self/stat"))?;
        let mut fields = stat.rsplit_once(')')?.1.split_whitespace().skip(11);
        let mut ticks = || fields.next()?.parse::<f64>().ok();
        Some((ticks()? + ticks()?) / 100.0)
    }

    /// proc(5): `VmRSS` and `VmHWM` of `status`, in units of 1024 bytes.
    pub fn memory_mb() -> Option<(f64, f64)> {
        let status = read(Path::new("/proc/self/status"))?;
        let of = |name: &str| {
            let line = status.lines().find_map(|l| l.strip_prefix(name))?;
            let kib = line.trim().strip_suffix("kB")?.trim().parse::<f64>().ok()?;
            Some(kib * 1.024e-3)
        };
        Some((of("VmRSS:")?, of("VmHWM:")?))
    }

    pub fn give_up(sentence: &str, code: i32) -> ! {
        eprintln!("{sentence}");
        std::process::exit(code)
    }
}

#[cfg(target_arch = "wasm32")]
mod local {
    //! A browser: attempts live as long as the page.

    use std::path::{Path, PathBuf};

    use super::{Data, ShelfError, Store};

    type Stores = (
        Result<Box<dyn Store + Send + Sync>, ShelfError>,
        Option<PathBuf>,
    );

    pub fn data(_: Option<PathBuf>) -> Result<Data, ShelfError> {
        Ok(Data::built_in())
    }

    pub fn store(_: Option<PathBuf>) -> Stores {
        (Ok(Box::new(tracebay_shelf::MemoryStore::default())), None)
    }

    pub fn now() -> Option<String> {
        None
    }

    pub fn since_start_ms() -> Option<u64> {
        None
    }

    pub fn any_seed() -> u64 {
        // Bevy's clock works in browsers where the standard library's does not.
        let now = bevy::platform::time::Instant::now();
        let mut hash = 0xcbf2_9ce4_8422_2325u64;
        for byte in format!("{now:?}").bytes() {
            hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        hash >> 48
    }

    pub fn read(_: &Path) -> Option<String> {
        None
    }

    pub fn write(_: &Path, _: &str) {}

    pub fn read_text(_: &Path) -> Result<String, String> {
        Err(String::new())
    }

    pub fn has_display() -> bool {
        true
    }

    pub fn has_graphics_card() -> bool {
        true
    }

    pub fn on_panic(_: Box<dyn Fn(&str) -> Option<String> + Send + Sync>, _: i32) {}

    pub fn tell(line: &str) {
        bevy::log::warn!("{line}");
    }

    pub fn say(line: &str) {
        bevy::log::warn!("{line}");
    }

    pub fn cpu_seconds() -> Option<f64> {
        None
    }

    pub fn memory_mb() -> Option<(f64, f64)> {
        None
    }

    pub fn give_up(sentence: &str, _: i32) -> ! {
        panic!("{sentence}")
    }
}
