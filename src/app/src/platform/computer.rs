//! A computer with files.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::time::{Instant, SystemTime, UNIX_EPOCH};

use tracebay_core::attempt::Header;
use tracebay_shelf::{Data, FolderStore, ShelfError, now_rfc3339, save_folder};

use super::{PageAsk, Places};
use crate::cli::Cli;

/// Whether the program runs in a page: it then has an address and no end.
pub const IN_A_PAGE: bool = false;
/// Whether attempts must be handed out as files: here they lie in a folder.
pub const HANDS_OUT_FILES: bool = false;

/// Files that are saved.
pub use tracebay_shelf::Changes;

/// File of the settings.
pub type SettingsPlace = PathBuf;
/// Folder of diagrams that were saved as files.
pub type DiagramsPlace = PathBuf;

pub fn asked_for() -> (Cli, Option<String>) {
    (clap::Parser::parse(), None)
}

pub fn data(option: Option<PathBuf>) -> Result<Data, ShelfError> {
    Data::with_folder(tracebay_shelf::data_folder(option).as_deref())
}

pub fn places(option: Option<PathBuf>) -> Places {
    let folder = save_folder(option);
    Places {
        settings: folder.as_ref().ok().map(|f| f.join("settings.json")),
        diagrams: folder.as_ref().ok().map(|f| f.join("diagrams")),
        attempts: folder.map(|folder| Box::new(FolderStore::new(folder)) as _),
        warning: None,
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

fn read(path: &Path) -> Option<String> {
    std::fs::read_to_string(path).ok()
}

pub fn read_settings(place: &SettingsPlace) -> Option<String> {
    read(place)
}

pub fn keep_settings(place: &SettingsPlace, text: &str) {
    if let Some(folder) = place.parent() {
        let _ = std::fs::create_dir_all(folder);
    }
    // Whoever stops the program while it writes has the settings as they were.
    let beside = place.with_extension("part");
    let _ = std::fs::write(&beside, text).and_then(|()| std::fs::rename(&beside, place));
}

/// The system's language, as POSIX has it: the first of these that says anything.
pub fn language() -> Option<String> {
    ["LC_ALL", "LC_MESSAGES", "LANG"]
        .iter()
        .filter_map(|name| std::env::var(name).ok())
        .find(|value| !value.is_empty())
}

/// The panels' own tree of names goes by the system's language.
pub fn speaks(_: &str) {}

/// There is no page.
pub fn asked_by_page() -> Vec<PageAsk> {
    Vec::new()
}

pub fn show_tree(_: &str) {}

pub fn listen(_: Box<dyn Fn()>) {}

pub fn ask_for_file() {}

pub fn hand_out(_: &str, _: &str) {}

/// Saves a diagram under a name that no file has yet; where it is.
pub fn hand_out_diagram(
    place: &DiagramsPlace,
    name: &str,
    text: &str,
) -> Result<Option<String>, String> {
    let fail = |e: std::io::Error| format!("{}: {e}", place.display());
    std::fs::create_dir_all(place).map_err(fail)?;
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, "svg"));
    for number in 1..10_000 {
        let file = if number == 1 {
            name.to_owned()
        } else {
            format!("{stem}-{number}.{ending}")
        };
        let path = place.join(file);
        let new = std::fs::File::options()
            .write(true)
            .create_new(true)
            .open(&path);
        match new {
            Ok(mut file) => {
                let written = file.write_all(text.as_bytes());
                if let Err(e) = written {
                    let _ = std::fs::remove_file(&path);
                    return Err(fail(e));
                }
                return Ok(Some(path.display().to_string()));
            }
            Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => {}
            Err(e) => return Err(fail(e)),
        }
    }
    Err(place.display().to_string())
}

/// What cannot be kept where it belongs is written into the system's folder for passing files, whole with
/// every action: `None` where that fails too.
pub fn hold_unkept(header: &Header, text: &str) -> Option<String> {
    let started = header.started.iter().flat_map(|at| at.chars());
    let started: String = started.filter(char::is_ascii_digit).collect();
    let (scenario, seed, program) = (&header.scenario, header.seed, std::process::id());
    let name = format!("tracebay-{scenario}-{seed}-{started}-{program}.jsonl");
    let path = std::env::temp_dir().join(name);
    // Whoever stops the program while it writes has the file as it was before.
    let beside = path.with_extension("part");
    let written = std::fs::write(&beside, text).and_then(|()| std::fs::rename(&beside, &path));
    written.ok().map(|()| path.display().to_string())
}

/// The panels' own tree of names is read out.
pub fn read_out(_: &str) {}

pub fn at_case(_: Option<(&str, u64)>) {}

pub fn ready() {}

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
