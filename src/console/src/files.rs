//! The data files, built in and laid over, for authors who have the program and not its sources.
//!
//! Lists them or prints one as it is; reads no meaning into them.

use std::process::ExitCode;

use tracebay_core::source::nearest;
use tracebay_shelf::{Data, data_folder};
use tracebay_words::Words;

use crate::cli::Common;
use crate::errors;

/// Prints the paths of all data files, or the text of one.
pub fn print(words: &Words, common: &Common, path: Option<&str>) -> Result<ExitCode, String> {
    let folder = data_folder(common.data.clone());
    let data = Data::with_folder(folder.as_deref()).map_err(|e| errors::shelf(words, &e))?;
    let Some(path) = path else {
        data.paths().for_each(|path| println!("{path}"));
        return Ok(ExitCode::SUCCESS);
    };
    match data.file(path) {
        Some(file) => {
            print!("{}", file.text);
            Ok(ExitCode::SUCCESS)
        }
        None => {
            let near = nearest(path, data.paths()).unwrap_or("scenarios/no-cold-air.ron");
            Err(words.get(
                "say-files-unknown",
                &[("path", path.into()), ("nearest", near.into())],
            ))
        }
    }
}
