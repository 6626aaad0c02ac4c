//! The data files read and checked: scenarios, vehicles, safety rules, rubrics.

use std::io::ErrorKind;
use std::path::Path;

use tracebay_core::scenario::{Catalogue, SourceFile, Tells};
use tracebay_core::source::Problem;
use tracebay_grading::rubric::Rubric;
use tracebay_grading::safety::Rules;
use tracebay_shelf::{Data, data_folder, read_source};

/// What everything is graded with.
pub struct Library {
    /// Files.
    pub data: Data,
    /// Vehicles and scenarios.
    pub catalogue: Catalogue,
    /// Safety rules.
    pub rules: Rules,
    /// What was wrong with files; they are left out.
    pub problems: Vec<Problem>,
    /// Code of the language that texts are shown in.
    language: String,
}

impl Library {
    /// Reads the built-in data and a folder laid over it; texts are shown as they were written.
    ///
    /// # Errors
    /// As [`Library::open_in`].
    pub fn open(folder: Option<&Path>) -> Result<Library, String> {
        Library::open_in(folder, "en")
    }

    /// Reads the built-in data and a folder laid over it; texts are shown in this language (its code).
    ///
    /// # Errors
    /// The folder cannot be read, or the safety rules are not sound.
    pub fn open_in(folder: Option<&Path>, language: &str) -> Result<Library, String> {
        let folder = data_folder(folder.map(Path::to_owned));
        let data = Data::with_folder(folder.as_deref()).map_err(|e| e.to_string())?;
        let (catalogue, problems) = data.catalogue_in(language);
        let own = Rules::preset();
        let rules = Rules::load(data.file(&own.name).unwrap_or(&own)).map_err(|p| told(&p))?;
        Ok(Library {
            data,
            catalogue,
            rules,
            problems,
            language: language.to_owned(),
        })
    }

    /// Shows what was read from another file in the language of everything here.
    pub fn show(&self, read: &mut impl Tells) {
        let (languages, _) = self.data.languages();
        read.show_in(languages.get(&self.language));
    }

    /// The text of a rubric: one of the data files by its name (`assignment`), or a file.
    ///
    /// # Errors
    /// It cannot be read, or is not sound.
    pub fn rubric(&self, named: &str) -> Result<(SourceFile, Rubric), String> {
        let file = match self.data.file(&format!("grading/rubrics/{named}.ron")) {
            Some(file) => file.clone(),
            None => read_source(Path::new(named)).map_err(|e| {
                let known: Vec<&str> = self
                    .data
                    .rubrics()
                    .filter_map(|f| f.name.rsplit('/').next()?.strip_suffix(".ron"))
                    .filter(|name| *name != "safety")
                    .collect();
                format!(
                    "{e}. Name a rubric ({}) or a rubric file.",
                    known.join(", ")
                )
            })?,
        };
        let rubric = Rubric::load(&file, &self.rules).map_err(|p| told(&p))?;
        Ok((file, rubric))
    }
}

/// Problems as one text.
pub fn told(problems: &[Problem]) -> String {
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    told.join("\n")
}

/// What is wrong with a file or folder, and what to do.
pub fn file_error(path: &Path, error: &std::io::Error) -> String {
    let path = path.display();
    match error.kind() {
        ErrorKind::NotFound => {
            format!("{path}: there is no such file or folder; look at the path again")
        }
        ErrorKind::PermissionDenied => {
            format!(
                "{path}: you may not read or write there; choose another place or ask its owner"
            )
        }
        _ => format!("{path}: {error}"),
    }
}
