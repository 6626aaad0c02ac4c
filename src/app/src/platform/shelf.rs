//! The shelf: data files read and checked, and where attempts and settings are kept.

use std::path::PathBuf;
use std::sync::Arc;

use tracebay_core::attempt::{ENGINE_REVISION, HOME_RULES, HeaderCheck, Recorder, check_header};
use tracebay_core::scenario::{Catalogue, Languages, MAX_SEED};
use tracebay_core::source::Problem;
use tracebay_core::vehicle::Station;
use tracebay_diagram::Notes;
use tracebay_diagram::notes::NotesError;
use tracebay_shelf::{Recent, ShelfError, Store, Work};
use tracebay_words::{Value, Words};

use super::{Kept, local};
use crate::assigned::{Assigned, Opened};
use crate::desk::{Book, Desk};
use crate::screens::RecentAttempt;
use crate::settings::{Graphics, Settings};
use crate::text::{Language, Text};

/// Data files read and checked, and where attempts and settings are kept.
pub struct Shelf {
    /// Vehicles and scenarios.
    pub catalogue: Catalogue,
    /// Translations of its texts.
    languages: Languages,
    /// What was wrong with files that were left out.
    pub problems: Vec<Problem>,
    /// The assignment that was opened, if one was.
    pub(crate) assigned: Option<Assigned>,
    /// Key of a sentence that a person must know before they begin.
    pub warning: Option<&'static str>,
    store: Result<Box<dyn Store + Send + Sync>, ShelfError>,
    settings_place: Option<local::SettingsPlace>,
    diagrams_place: Option<local::DiagramsPlace>,
    /// Data folder that an author works in.
    author_folder: Option<PathBuf>,
}

impl Shelf {
    /// Reads the data and finds the save folder. `data` and `save` are folders a person named.
    pub fn open(data: Option<PathBuf>, save: Option<PathBuf>) -> Result<Shelf, ShelfError> {
        let files = local::data(data)?;
        let (catalogue, mut problems) = files.catalogue();
        let (languages, found) = files.languages();
        problems.extend(found);
        let places = local::places(save);
        Ok(Shelf {
            catalogue,
            languages,
            problems,
            assigned: None,
            warning: places.warning,
            store: places.attempts,
            settings_place: places.settings,
            diagrams_place: places.diagrams,
            author_folder: None,
        })
    }

    /// A shelf that keeps nothing, for pictures and tests.
    pub fn in_memory(catalogue: Catalogue) -> Shelf {
        Shelf::with_store(catalogue, Box::new(tracebay_shelf::MemoryStore::default()))
    }

    /// A shelf that keeps attempts in `store`, and no settings.
    pub fn with_store(catalogue: Catalogue, store: Box<dyn Store + Send + Sync>) -> Shelf {
        Shelf {
            catalogue,
            languages: Languages::new(),
            problems: Vec::new(),
            assigned: None,
            warning: None,
            store: Ok(store),
            settings_place: None,
            diagrams_place: None,
            author_folder: None,
        }
    }

    /// Shows all texts in a language (its code) from now on, as far as there are translations. A case
    /// that is open stays in the language it was begun in.
    pub fn speak(&mut self, language: &str) {
        self.catalogue.show_in(self.languages.get(language));
    }

    /// From now on for an author who works in this data folder: no attempt is kept beyond the run.
    pub fn for_author(&mut self, folder: PathBuf) {
        self.store = Ok(Box::new(tracebay_shelf::MemoryStore::default()));
        self.author_folder = Some(folder);
    }

    /// Reads the author's folder anew. What is wrong with files is given back in sentences; while
    /// something is, what was good before stays.
    ///
    /// # Errors
    /// The folder cannot be read; everything stays.
    pub fn read_again(&mut self, words: &Words) -> Result<Vec<String>, String> {
        let files = local::data(self.author_folder.clone()).map_err(|e| shelf_words(words, &e))?;
        let (mut catalogue, mut problems) = files.catalogue();
        let (languages, found) = files.languages();
        if !problems.is_empty() {
            for (id, vehicle) in &self.catalogue.vehicles {
                catalogue
                    .vehicles
                    .entry(id.clone())
                    .or_insert_with(|| vehicle.clone());
            }
            for (id, scenario) in &self.catalogue.scenarios {
                catalogue
                    .scenarios
                    .entry(id.clone())
                    .or_insert_with(|| scenario.clone());
            }
        }
        if found.is_empty() {
            self.languages = languages;
        }
        problems.extend(found);
        self.catalogue = catalogue;
        self.speak(words.language());
        let told = problems.iter().map(ToString::to_string).collect();
        self.problems = problems;
        Ok(told)
    }

    /// The latest attempts, newest first.
    pub fn recent(&self, words: &Words) -> Result<Vec<RecentAttempt>, String> {
        let store = self.store.as_ref().map_err(|e| shelf_words(words, e))?;
        // Where there is no folder to look in, all must be within reach.
        let most = if local::HANDS_OUT_FILES {
            usize::MAX
        } else {
            20
        };
        let list = store.recent(most).map_err(|e| shelf_words(words, &e))?;
        let entries = list.into_iter().map(|r| RecentAttempt {
            title: self
                .catalogue
                .scenarios
                .get(&r.header.scenario)
                .map_or_else(|| r.header.scenario.clone(), |s| s.title.to_string()),
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

    /// Gives a person an attempt as a file.
    pub fn hand_out(&self, words: &Words, name: &str) -> Result<(), String> {
        let store = self.store.as_ref().map_err(|e| shelf_words(words, e))?;
        let text = store.text(name).map_err(|e| shelf_words(words, &e))?;
        local::hand_out(name, &text);
        Ok(())
    }

    /// Lays the notes on the diagram that were kept with an attempt on its desk. The words are something to tell
    /// the person: they could not be read.
    pub fn fetch_notes(&self, text: &Text, desk: &mut Desk) -> Option<String> {
        let name = desk.attempt();
        let store = self.store.as_ref().ok().filter(|_| !name.is_empty())?;
        let words = &text.words;
        let read = match store.beside(&name) {
            Ok(None) => return None,
            Ok(Some(kept)) => {
                let vehicle = &desk.session().case().vehicle;
                Notes::read(&kept, vehicle).map_err(|e| notes_words(words, e))
            }
            Err(error) => Err(shelf_words(words, &error)),
        };
        match read {
            Ok(notes) => {
                desk.notes = notes;
                None
            }
            Err(why) => Some(text.fill("diagram-notes-lost", &[("why", (&why).into())])),
        }
    }

    /// Keeps the notes on the diagram with their attempt. If that fails they stay on the desk, which then says why.
    pub fn keep_notes(&mut self, text: &Text, desk: &mut Desk) {
        let name = desk.attempt();
        desk.notes_changed = false;
        desk.notes_not_kept = if name.is_empty() {
            Some(text.get("diagram-notes-only-here"))
        } else {
            let kept = desk.notes.text();
            let done = self.store(&text.words).and_then(|store| {
                let done = store.keep_beside(&name, &kept);
                done.map_err(|e| shelf_words(&text.words, &e))
            });
            done.err()
        };
    }

    /// Gives a person a diagram as a file; where it is, if that is known here.
    pub fn hand_out_diagram(
        &self,
        words: &Words,
        name: &str,
        svg: &str,
    ) -> Result<Option<String>, String> {
        let place = self.diagrams_place.as_ref();
        let handed = match place {
            Some(place) => local::hand_out_diagram(place, name, svg),
            None => Err(name.to_owned()),
        };
        handed.map_err(|why| words.get("diagram-not-handed-out", &[("why", why.into())]))
    }

    /// Forgets an attempt.
    pub fn forget(&mut self, words: &Words, name: &str) -> Result<(), String> {
        let store = self.store(words)?;
        store.remove(name).map_err(|e| shelf_words(words, &e))
    }

    /// Where one stands first in a case.
    pub fn first_station(&self, scenario: &str) -> Option<Station> {
        let scenario = self.catalogue.scenarios.get(scenario)?;
        let vehicle = self.catalogue.vehicles.get(&scenario.vehicle)?;
        Some(vehicle.first_station())
    }

    /// The latest attempt at this case that was not given back.
    pub fn left_off(&self, scenario: &str, seed: u64) -> Option<String> {
        let kept = self.store.as_ref().ok()?.recent(usize::MAX).ok()?;
        let version = self.catalogue.scenarios.get(scenario)?.version;
        let mine = |r: &Recent| {
            let h = &r.header;
            let of_this = h.scenario == scenario && h.seed == seed && h.rules == HOME_RULES;
            // One that another program made cannot be gone on with.
            let of_now = h.engine_revision == ENGINE_REVISION && h.scenario_version == version;
            !r.handed_back && of_this && of_now
        };
        kept.into_iter().find(mine).map(|r| r.name)
    }

    /// The settings, or the usual ones where there are none or they cannot be read.
    pub fn settings(&self) -> Settings {
        let usual = Settings {
            // Drawn by the processor alone, anything finer takes seconds a frame.
            graphics: if local::has_graphics_card() {
                Settings::default().graphics
            } else {
                Graphics::Low
            },
            language: local::language()
                .and_then(|tag| Language::of_tag(&tag))
                .unwrap_or_default(),
            ..Settings::default()
        };
        let kept = self.settings_place.as_ref().and_then(local::read_settings);
        match kept {
            Some(text) => Settings::read(&text, usual),
            None => usual,
        }
        .tidied()
    }

    /// Keeps the settings. A folder that cannot be written to loses them, and nothing else.
    pub fn keep_settings(&self, settings: &Settings) {
        if let Some(place) = &self.settings_place
            && let Ok(text) = serde_json::to_string_pretty(settings)
        {
            local::keep_settings(place, &text);
        }
    }
}

/// Why notes could not be read, in words.
fn notes_words(words: &Words, error: NotesError) -> String {
    words.text(match error {
        NotesError::TooLarge => "diagram-notes-too-large",
        NotesError::Damaged => "diagram-notes-damaged",
        NotesError::Format(_) => "diagram-notes-newer",
    })
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
