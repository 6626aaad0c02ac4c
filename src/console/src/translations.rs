//! Whether files of translations are good: what stands in them, what no file says, what is missing.

use std::collections::BTreeSet;

use tracebay_core::scenario::{Languages, SourceFile, Texts, texts};
use tracebay_core::source::{Check, Path, Problem};
use tracebay_words::{LANGUAGES, Words};

use crate::library::Library;

/// What is wrong with the translations there are, and how many texts each language lacks, in a line each.
/// Which entries are left over is only asked where all `other` files could be read: one that could not has
/// texts that nobody knows of.
pub fn all(words: &Words, library: &Library, other: bool) -> (Vec<Problem>, Vec<String>) {
    let (languages, mut problems) = library.data.languages();
    let written = library.data.written(&library.catalogue);
    problems.extend(library.data.words().filter_map(unspoken));
    if other {
        problems.extend(library.data.unused_words(&written));
    }
    let lacks = |texts| lacking(words, texts, &written);
    (problems, languages.values().map(lacks).collect())
}

/// Checks one file. Says what it lacks, as entries to be filled in; what the language's other files have is
/// not asked for.
pub fn one(words: &Words, library: &Library, file: &SourceFile) -> Result<String, Vec<Problem>> {
    let read = texts::texts(file)?;
    let written = library.data.written(&library.catalogue);
    let mut problems: Vec<Problem> = unspoken(file).into_iter().collect();
    problems.extend(texts::unused(file, &written));
    if !problems.is_empty() {
        return Err(problems);
    }
    let args = [
        ("path", file.name.as_str().into()),
        ("texts", read.texts.len().to_string().into()),
        ("language", read.language.as_str().into()),
    ];
    let mut told = vec![words.get("say-check-texts", &args)];
    let all = with_others(library.data.languages().0, read);
    told.push(lacking(words, &all, &written));
    let missing = all.missing(&written);
    told.extend(missing.iter().map(|text| format!("{text:?}: \"\",")));
    Ok(told.join("\n"))
}

/// A file's texts over those that its language has otherwise.
fn with_others(mut others: Languages, read: Texts) -> Texts {
    let mut all = others.remove(&read.language).unwrap_or_default();
    all.language.clone_from(&read.language);
    all.texts.extend(read.texts);
    all
}

fn lacking(words: &Words, texts: &Texts, written: &BTreeSet<String>) -> String {
    let args = [
        ("language", texts.language.as_str().into()),
        ("missing", texts.missing(written).len().to_string().into()),
        ("all", written.len().to_string().into()),
    ];
    words.get("say-check-lacking", &args)
}

/// A language that the program itself does not speak: nobody could ever choose it.
fn unspoken(file: &SourceFile) -> Option<Problem> {
    let read = texts::texts(file).ok()?;
    if LANGUAGES.iter().any(|(code, _)| *code == read.language) {
        return None;
    }
    let known: Vec<&str> = LANGUAGES.iter().map(|(code, _)| *code).collect();
    let mut check = Check::new(&file.name, &file.text);
    check.refuse(
        &Path::root().field("language"),
        format!("nobody can choose the language `{}`", read.language),
        format!(
            "the program's own sentences are there in {}",
            known.join(" and ")
        ),
    );
    check.finish().err()?.into_iter().next()
}
