//! Data files read and checked.

use tracebay_core::scenario::Catalogue;
use tracebay_shelf::{Data, data_folder};
use tracebay_words::Words;

use crate::cli::Common;
use crate::errors;

/// The data files and what was made of them.
pub struct Library {
    /// Files.
    pub data: Data,
    /// Vehicles, scenarios and courses, shown in the words' language.
    pub catalogue: Catalogue,
}

/// Reads the data. Files with mistakes are left out and counted on the error output.
pub fn open(words: &Words, common: &Common) -> Result<Library, String> {
    let (library, wrong) = read(words, common)?;
    if wrong > 0 {
        let count = wrong.to_string();
        eprintln!(
            "{}",
            words.get("say-problem-files", &[("count", count.into())])
        );
    }
    Ok(library)
}

/// Reads the data, and counts the mistakes in files that are left out.
pub fn read(words: &Words, common: &Common) -> Result<(Library, usize), String> {
    let folder = data_folder(common.data.clone());
    let data = Data::with_folder(folder.as_deref()).map_err(|e| errors::shelf(words, &e))?;
    let (catalogue, problems) = data.catalogue_in(words.language());
    Ok((Library { data, catalogue }, problems.len()))
}
