//! Files of translations: the languages there are, and a catalogue that is shown in one of them.

use std::collections::BTreeSet;

use tracebay_core::scenario::{Catalogue, Languages, SourceFile, Tells, texts};
use tracebay_core::source::{Problem, parse};
use tracebay_grading::skills;

use crate::Data;

impl Data {
    /// Files of translations.
    pub fn words(&self) -> impl Iterator<Item = &SourceFile> {
        self.directly_in("scenarios/words/")
    }

    /// Reads and checks all translations; those of a folder laid over go before the program's own, whatever
    /// their files are called. What is wrong is left out and told.
    pub fn languages(&self) -> (Languages, Vec<Problem>) {
        let (own, over): (Vec<_>, Vec<_>) = self
            .words()
            .cloned()
            .partition(|file| self.is_built_in(file));
        texts::languages(&[own, over].concat())
    }

    /// As [`Data::catalogue`], with all texts in a language (its code, such as `es`) as far as there are
    /// translations. Wrong files of translations are told too.
    pub fn catalogue_in(&self, language: &str) -> (Catalogue, Vec<Problem>) {
        let (mut catalogue, mut problems) = self.catalogue();
        let (languages, found) = self.languages();
        problems.extend(found);
        if let Some(texts) = languages.get(language) {
            catalogue.show_in(Some(texts));
        }
        (catalogue, problems)
    }

    /// All texts that people are shown, as the files have them: those of the catalogue made of these
    /// files, and those of the skills.
    pub fn written(&self, catalogue: &Catalogue) -> BTreeSet<String> {
        let mut all = catalogue.written();
        // Skills are checked where they are used; what cannot be read has no text to translate.
        let read = |file: &SourceFile| parse::<skills::Course>(&file.name, &file.text).ok();
        let courses = self.skills().filter_map(read);
        courses.for_each(|course| all.extend(course.written()));
        all
    }

    /// Entries of translations that no file has a text for. With a folder laid over, the program's own
    /// translations are left out: it is the folder that says something else, and rightly so.
    pub fn unused_words(&self, written: &BTreeSet<String>) -> Vec<Problem> {
        let laid_over = self.is_laid_over();
        self.words()
            .filter(|file| !laid_over || !self.is_built_in(file))
            .flat_map(|file| texts::unused(file, written))
            .collect()
    }
}
