//! The file of translations: what a person writes in `scenarios/words/*.ron`.
//!
//! Texts are found by the English text itself, so that one entry serves every file that says the same, and
//! a text that was changed is shown as it is rather than in an old translation. Which texts there are to
//! translate is told by [`super::Tells`].

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::SourceFile;
use crate::source::{Check, Path, Problem, nearest, parse};

/// The file format this program reads.
pub const FORMAT: u32 = 1;
/// Characters of a text that are compared to find the one that was meant: what two sentences begin with
/// tells them apart, and the comparison takes no longer ones.
const COMPARED: usize = 60;

/// Texts of vehicle, scenario, course and skill files in another language, as written in
/// `scenarios/words/*.ron`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Texts {
    /// File format version; this program reads 1.
    #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
    pub format: u32,
    /// Code of the language that the texts are in, such as `es`.
    pub language: String,
    /// What is shown, by the text as the English file has it, letter by letter.
    pub texts: BTreeMap<String, String>,
}

/// Translations by the code of their language.
pub type Languages = BTreeMap<String, Texts>;

impl Texts {
    /// What is shown instead of a text, if there is a translation.
    pub fn get(&self, written: &str) -> Option<&str> {
        self.texts.get(written).map(String::as_str)
    }

    /// Those of these texts that are not translated.
    pub fn missing<'a>(&self, written: &'a BTreeSet<String>) -> Vec<&'a str> {
        let all = written.iter().map(String::as_str);
        all.filter(|text| !self.texts.contains_key(*text)).collect()
    }
}

/// Reads and checks one file of translations.
///
/// # Errors
/// Everything that is wrong with it by itself.
pub fn texts(file: &SourceFile) -> Result<Texts, Vec<Problem>> {
    let texts: Texts = parse(&file.name, &file.text).map_err(|p| vec![p])?;
    let mut check = Check::new(&file.name, &file.text);
    if texts.format != FORMAT {
        check.refuse(
            &Path::root().field("format"),
            format!("format {} is not known to this version", texts.format),
            format!("this version reads format {FORMAT}"),
        );
    }
    let code = &texts.language;
    if !(2..=8).contains(&code.len()) || !code.bytes().all(|b| b.is_ascii_lowercase()) {
        check.refuse(
            &Path::root().field("language"),
            format!("`{code}` is no code of a language"),
            "give two or three small letters, such as `es` (ISO 639)",
        );
    }
    for (written, shown) in &texts.texts {
        if shown.trim().is_empty() && !written.trim().is_empty() {
            check.refuse(
                &entry(written),
                "an empty translation",
                "write what is shown, or leave the entry out: the English text is shown then",
            );
        }
    }
    check.finish()?;
    Ok(texts)
}

/// Reads all files of translations; several of one language are laid together, the later over the
/// earlier. What is wrong is left out and told.
pub fn languages(files: &[SourceFile]) -> (Languages, Vec<Problem>) {
    let (mut all, mut problems) = (Languages::new(), Vec::new());
    for file in files {
        match texts(file) {
            Ok(read) => {
                let of = all.entry(read.language.clone()).or_insert_with(|| Texts {
                    format: FORMAT,
                    language: read.language.clone(),
                    texts: BTreeMap::new(),
                });
                of.texts.extend(read.texts);
            }
            Err(found) => problems.extend(found),
        }
    }
    (all, problems)
}

/// Entries of a file whose English text is none of those that `written` holds: told with the text that was
/// probably meant. A file that cannot be read is left to [`texts`].
pub fn unused(file: &SourceFile, written: &BTreeSet<String>) -> Vec<Problem> {
    let Ok(texts) = parse::<Texts>(&file.name, &file.text) else {
        return Vec::new();
    };
    // A text that is translated already was not meant by another entry.
    let untold = texts.missing(written);
    let beginnings: BTreeMap<String, &str> =
        untold.iter().map(|text| (beginning(text), *text)).collect();
    let mut check = Check::new(&file.name, &file.text);
    for key in texts.texts.keys().filter(|key| !written.contains(*key)) {
        let meant = nearest(&beginning(key), beginnings.keys().map(String::as_str));
        let help = match meant.map(|beginning| beginnings[beginning]) {
            Some(text) => format!("did you mean {text:?}?"),
            None => "write the text as the English file has it, or take the entry out".to_owned(),
        };
        check.refuse(&entry(key), "no file says this", help);
    }
    check.finish().err().into_iter().flatten().collect()
}

/// Where an entry stands in its file.
fn entry(written: &str) -> Path {
    Path::root().field("texts").key(written)
}

fn beginning(text: &str) -> String {
    text.chars().take(COMPARED).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(texts: &str) -> SourceFile {
        SourceFile {
            name: "es.ron".to_owned(),
            text: format!("Texts(format: 1, language: \"es\", texts: {{\n{texts}\n}})"),
        }
    }

    #[test]
    fn an_entry_that_no_file_has_is_told_with_the_nearest_text() {
        let long =
            "The horn said nothing when I pressed it at a lorry that backed into me on Monday.";
        let written: BTreeSet<String> = ["Silent horn", "Battery", long].map(str::to_owned).into();
        let read = file(&format!(
            "\"Silent hron\": \"Bocina muda\",\n\"Battery\": \"Batería\",\n\"{}\": \"…\",\n\"Nothing like it\": \"…\",",
            long.replace("Monday", "Tuesday")
        ));
        let told = unused(&read, &written);
        let at: Vec<_> = told.iter().map(|p| (p.line, p.column)).collect();
        assert_eq!(at.len(), 3, "{told:?}");
        assert_eq!(at.iter().map(|a| a.0).collect::<Vec<_>>(), [2, 4, 5]);
        assert!(told[0].help.contains("\"Silent horn\""), "{}", told[0]);
        assert!(told[1].help.contains("Monday"), "{}", told[1]);
        assert!(told[2].help.contains("take the entry out"), "{}", told[2]);
    }

    #[test]
    fn what_is_wrong_is_told_with_its_place() {
        let told = texts(&file("\"Battery\": \" \",")).unwrap_err();
        assert_eq!((told[0].line, told.len()), (2, 1), "{told:?}");
        let twice = texts(&file("\"Battery\": \"a\",\n\"Battery\": \"b\",")).unwrap_err();
        assert_eq!(twice[0].line, 3, "{twice:?}");
        let wrong = SourceFile {
            name: "x.ron".to_owned(),
            text: "Texts(format: 2, language: \"Español\", texts: {})".to_owned(),
        };
        assert_eq!(texts(&wrong).unwrap_err().len(), 2);
    }

    #[test]
    fn several_files_of_a_language_are_laid_together() {
        let files = [file("\"a\": \"1\", \"b\": \"1\""), file("\"b\": \"2\"")];
        let (all, problems) = languages(&files);
        assert!(problems.is_empty(), "{problems:?}");
        assert_eq!(all["es"].get("a"), Some("1"));
        assert_eq!(all["es"].get("b"), Some("2"));
        assert_eq!(all["es"].get("c"), None);
    }
}
