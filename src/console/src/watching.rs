//! Checking again whenever a file is saved, until Enter is pressed.
//!
//! Only the loop around [`crate::checking`]; knows nothing of what is checked.

use std::io::BufRead;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::mpsc;
use std::time::Duration;

use tracebay_shelf::{Changes, data_folder};
use tracebay_words::Words;

use crate::checking;
use crate::cli::Common;

/// How often the files are looked at.
const LOOKS: Duration = Duration::from_millis(300);

/// Checks, and checks again whenever one of the files, or one in the data folder, is saved. Ends with Enter or
/// with the end of the input; the exit code is that of the last check.
pub fn check(
    words: &Words,
    common: &Common,
    files: &[PathBuf],
    json: bool,
) -> Result<ExitCode, String> {
    let mut watched = files.to_vec();
    watched.extend(data_folder(common.data.clone()));
    if watched.is_empty() {
        return Err(words.text("say-watch-nothing"));
    }
    let (stop, stopped) = mpsc::channel();
    std::thread::spawn(move || {
        let mut line = String::new();
        let _ = std::io::stdin().lock().read_line(&mut line);
        let _ = stop.send(());
    });
    // From before the first check, so that nothing saved meanwhile is missed.
    let mut changes = Changes::of(watched);
    loop {
        // A folder that is gone for a moment is no reason to stop watching.
        let code = checking::check(words, common, files, json).unwrap_or_else(|wrong| {
            eprintln!("{wrong}");
            ExitCode::from(crate::WRONG_INPUT)
        });
        eprintln!("{}", words.text("say-watch-waiting"));
        loop {
            match stopped.recv_timeout(LOOKS) {
                Err(mpsc::RecvTimeoutError::Timeout) => {}
                _ => return Ok(code),
            }
            if changes.any() {
                break;
            }
        }
        eprintln!("{}", words.text("say-watch-again"));
    }
}
