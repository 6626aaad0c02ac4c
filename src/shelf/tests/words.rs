//! Texts shown in another language: what is shown, and that nothing else depends on it. The translations
//! are invented: every text of every file with a mark before it.

use std::fs;
use std::sync::Arc;

use tracebay_core::attempt::{
    HOME_RULES, HeaderCheck, Recorder, check_header, content_sha256, replay,
};
use tracebay_core::scenario::{Catalogue, Texts};
use tracebay_core::session::Action;
use tracebay_core::vehicle::Station;
use tracebay_grading::survey::{Survey, kept_name};
use tracebay_shelf::Data;

const MARK: &str = "ñ ";

/// Every text there is, marked.
fn marked(data: &Data, catalogue: &Catalogue) -> Texts {
    let marked = |text: String| (text.clone(), format!("{MARK}{text}"));
    Texts {
        format: 1,
        language: "es".into(),
        texts: data.written(catalogue).into_iter().map(marked).collect(),
    }
}

/// The built-in catalogue, as it was written and with every text translated.
fn both() -> (Catalogue, Catalogue) {
    let data = Data::built_in();
    let (written, problems) = data.catalogue();
    assert_eq!(problems, []);
    let mut shown = written.clone();
    shown.show_in(Some(&marked(&data, &written)));
    (written, shown)
}

#[test]
fn hashes_cases_and_surveys_names_do_not_depend_on_the_language() {
    let (written, shown) = both();
    for (id, scenario) in &written.scenarios {
        let other = &shown.scenarios[id];
        let (car, other_car) = (
            &written.vehicles[&scenario.vehicle],
            &shown.vehicles[&scenario.vehicle],
        );
        assert_eq!(
            content_sha256(scenario, car),
            content_sha256(other, other_car),
            "{id}"
        );
        for seed in 1..4 {
            let (a, b) = (
                written.draw(id, seed).unwrap(),
                shown.draw(id, seed).unwrap(),
            );
            assert_eq!(kept_name(&a), kept_name(&b), "{id} {seed}");
            assert_eq!(a.complaint, b.complaint, "{id} {seed}");
            assert_eq!(a.reveal(), b.reveal(), "{id} {seed}");
            assert_eq!(a.slots, b.slots, "{id} {seed}");
            assert_eq!(
                b.complaint.as_str(),
                format!("{MARK}{}", a.complaint.as_written())
            );
        }
    }
    for (id, course) in &shown.courses {
        assert!(course.title.starts_with(MARK), "{id}");
        let lessons = &course.lessons;
        let all = |l: &tracebay_core::scenario::Lesson| {
            [&l.title, &l.idea, &l.task].map(|t| t.starts_with(MARK))
        };
        assert!(lessons.iter().flat_map(all).all(|marked| marked), "{id}");
    }
}

#[test]
fn an_attempt_made_in_one_language_replays_in_the_other() {
    let (written, shown) = both();
    let case = |catalogue: &Catalogue| Arc::new(catalogue.draw("no-cold-air", 7).unwrap());
    let mut recorder = Recorder::start(case(&written), HOME_RULES, None, None).unwrap();
    let set = |control: &str, to: &str| Action::Set {
        control: control.into(),
        to: to.into(),
    };
    for action in [
        set("key", "start"),
        set("ac", "on"),
        Action::Wait(100),
        Action::Go(Station::Bay),
        Action::Protect,
        Action::Look("front_panel".into()),
    ] {
        recorder.perform(action, None).unwrap();
    }
    let checked = check_header(recorder.header(), &case(&shown)).unwrap();
    assert_eq!(checked, HeaderCheck::Same);
    let again = replay(case(&shown), recorder.header(), recorder.lines()).unwrap();
    assert_eq!(again.log(), recorder.session().log());
}

#[test]
fn a_survey_kept_in_one_language_is_shown_in_the_other() {
    let (written, shown) = both();
    let case = |catalogue: &Catalogue| catalogue.draw("bench-relay", 1).unwrap();
    let mut kept = Vec::new();
    let other = case(&shown);
    let made = Survey::of_kept(&other, |_| None, |_, bytes| kept = bytes.to_vec()).unwrap();
    assert!(made.states[0].label.starts_with(MARK));
    assert!(!String::from_utf8(kept.clone()).unwrap().contains(MARK));
    let read = Survey::of_kept(&case(&written), |_| Some(kept.clone()), |_, _| ()).unwrap();
    assert_eq!(
        read.states[0].label.as_str(),
        read.states[0].label.as_written()
    );
    let read = Survey::of_kept(&other, |_| Some(kept), |_, _| ()).unwrap();
    assert!(read.states[0].label.starts_with(MARK));
}

#[test]
fn what_has_no_translation_is_shown_as_written_and_english_comes_back() {
    let (mut catalogue, _) = Data::built_in().catalogue();
    let texts = Texts {
        format: 1,
        language: "es".into(),
        texts: [("Silent horn".into(), "Bocina muda".into())].into(),
    };
    let titles = |catalogue: &Catalogue| {
        ["horn-silent", "no-cold-air"].map(|id| catalogue.scenarios[id].title.to_string())
    };
    let before = titles(&catalogue);
    // A case that is open keeps the text it was drawn with.
    let open = catalogue.draw("horn-silent", 1).unwrap();
    catalogue.show_in(Some(&texts));
    assert_eq!(titles(&catalogue), ["Bocina muda", "No cold air"]);
    assert_eq!(open.scenario.title.as_str(), "Silent horn");
    catalogue.show_in(None);
    assert_eq!(titles(&catalogue), before);
}

#[test]
fn a_folder_adds_translations_and_is_told_what_no_file_says() {
    let folder = tempfile::tempdir().unwrap();
    let words = folder.path().join("scenarios/words");
    fs::create_dir_all(&words).unwrap();
    let text = "Texts(format: 1, language: \"es\", texts: {\n\"Silent horn\": \"Muda\",\n\"Silent hron\": \"Muda\",\n})";
    fs::write(words.join("es-mine.ron"), text).unwrap();
    let data = Data::with_folder(Some(folder.path())).unwrap();
    // Files of words are no scenarios.
    assert_eq!(
        data.scenarios().count(),
        Data::built_in().scenarios().count()
    );
    let (catalogue, problems) = data.catalogue_in("es");
    assert_eq!(problems, []);
    assert_eq!(catalogue.scenarios["horn-silent"].title.as_str(), "Muda");
    let unused = data.unused_words(&data.written(&catalogue));
    assert_eq!(unused.len(), 1, "{unused:?}");
    assert_eq!(unused[0].line, 3);
    fs::write(words.join("es-mine.ron"), "Texts(format: 1,").unwrap();
    let data = Data::with_folder(Some(folder.path())).unwrap();
    let (catalogue, problems) = data.catalogue_in("es");
    assert_eq!(problems.len(), 1, "{problems:?}");
    assert!(problems[0].file.ends_with("es-mine.ron"));
    assert!(catalogue.scenarios.contains_key("horn-silent"));
}
