//! Starting a case or going on with one, and the first screen.

use std::sync::Arc;
use std::time::{SystemTime, UNIX_EPOCH};

use serde_json::json;
use tracebay_core::attempt::{HOME_RULES, HeaderCheck, Recorder, check_header};
use tracebay_core::scenario::{Case, MAX_SEED};
use tracebay_grading::assign::{Terms, assignment_of};
use tracebay_shelf::{Data, FolderStore, Store, Work, now_rfc3339, save_folder};
use tracebay_words::Words;

use crate::cli::{Common, How};
use crate::desk::Desk;
use crate::library::{self, Library};
use crate::reply::Reply;
use crate::{errors, info};

/// Seeds drawn for those who name none: few enough to remember and pass on.
const ANY_SEED_BELOW: u64 = 10_000;

/// What to start.
pub struct Wanted {
    /// Scenario.
    pub scenario: String,
    /// Seed, if named.
    pub seed: Option<u64>,
    /// Learner, if named.
    pub name: Option<String>,
    /// Save nothing.
    pub no_save: bool,
}

/// A desk and what to say first.
pub struct Opened {
    /// The desk.
    pub desk: Desk,
    /// The first screen.
    pub first: Vec<Reply>,
}

impl Opened {
    /// Says something before everything else.
    pub fn say_first(&mut self, mut lines: Vec<String>) {
        if let Some(Reply::Info(_, first, _)) = self.first.first_mut() {
            lines.append(first);
            *first = lines;
        }
    }
}

/// Starts a case.
pub fn start(words: Words, common: &Common, wanted: Wanted, how: &How) -> Result<Opened, String> {
    let library = library::open(&words, common)?;
    let seed = wanted.seed.unwrap_or_else(any_seed);
    if seed > MAX_SEED {
        let args = [("most", MAX_SEED.to_string().into())];
        return Err(words.get("say-seed-too-large", &args));
    }
    let case = library
        .catalogue
        .draw(&wanted.scenario, seed)
        .map_err(|error| words.draw_error(&error))?;
    let recorder = Recorder::start(Arc::new(case), HOME_RULES, Some(now_rfc3339()), wanted.name)
        .map_err(|error| error.to_string())?;
    let work = if wanted.no_save {
        Work::unsaved(recorder)
    } else {
        let told = |error| errors::shelf(&words, &error);
        let mut store = FolderStore::new(save_folder(common.save.clone()).map_err(told)?);
        Work::start(recorder, &mut store)
            .map_err(|error| format!("{} {}", told(error), words.text("say-save-options")))?
    };
    begun(words, work, library.data, None, how)
}

/// Sits down at a case that was just begun, under an assignment's terms if there are any.
pub fn begun(
    words: Words,
    work: Work,
    data: Data,
    assigned: Option<Terms>,
    how: &How,
) -> Result<Opened, String> {
    let mut desk = Desk::new(words, work, data);
    desk.assigned = assigned;
    set_units(&mut desk, how)?;
    let words = &desk.words;
    let case = desk.work.session().case();
    let mut lines = info::cautions(words);
    lines.extend(about(words, case));
    lines.push(kept(&desk));
    let station = words.value(desk.work.session().station());
    lines.push(words.get("say-how-on", &[("station", station.into())]));
    let first = vec![Reply::Info("start", lines, about_case(&desk))];
    Ok(Opened { desk, first })
}

/// Goes on with an attempt.
pub fn resume(words: Words, common: &Common, file: &str, how: &How) -> Result<Opened, String> {
    let library = library::open(&words, common)?;
    let told = |error| errors::shelf(&words, &error);
    // A file named by its path needs no save folder.
    let folder = save_folder(common.save.clone()).unwrap_or_default();
    let opened = FolderStore::new(folder).open(file).map_err(told)?;
    let header = &opened.decoded.header;
    if assignment_of(&header.rules).is_some() {
        // Outside its assignment it would have more tools than its rules allow.
        return Err(words.text("say-resume-assigned"));
    }
    let case = library
        .catalogue
        .draw(&header.scenario, header.seed)
        .map_err(|error| words.draw_error(&error))?;
    go_on(words, library, opened, case, None, how)
}

/// Goes on with an attempt that was opened, on its case, under an assignment's terms if there are
/// any.
pub fn go_on(
    words: Words,
    library: Library,
    opened: tracebay_shelf::Opened,
    case: Case,
    assigned: Option<Terms>,
    how: &How,
) -> Result<Opened, String> {
    let header = &opened.decoded.header;
    let check = check_header(header, &case).map_err(|error| words.attempt_error(&error))?;
    let vehicle = case.vehicle.clone();
    let recorder = Recorder::resume(Arc::new(case), &opened.decoded)
        .map_err(|error| words.replay_error(&vehicle, &error))?;
    let torn = opened.decoded.torn.clone();
    let work = Work::resumed(recorder, opened.log);
    let mut desk = Desk::new(words, work, library.data);
    desk.assigned = assigned;
    set_units(&mut desk, how)?;

    let words = &desk.words;
    let session = desk.work.session();
    let mut lines = Vec::new();
    lines.extend(torn.map(|torn| words.torn_line(&torn)));
    if check == HeaderCheck::ContentChanged {
        lines.push(words.text("attempt-content-changed"));
    }
    lines.extend(info::cautions(words));
    lines.extend(about(words, session.case()));
    let args = [
        ("actions", session.log().len().to_string().into()),
        ("minutes", words.minutes(session.minutes()).into()),
    ];
    lines.push(words.get("say-resumed", &args));
    if let Some((action, seen)) = session.log().last() {
        lines.push(words.text("say-last-done"));
        lines.push(words.action(&vehicle, action));
        lines.extend(seen.iter().map(|seen| words.observation(&vehicle, seen)));
    }
    lines.push(kept(&desk));
    if session.handed_back() {
        lines.push(words.text("say-resumed-over"));
    } else {
        let station = words.value(session.station());
        lines.push(words.get("say-how-on", &[("station", station.into())]));
    }
    let mut first = vec![Reply::Info("resume", lines, about_case(&desk))];
    if session.handed_back() {
        first.extend(crate::judge::after_handback(&desk));
    }
    Ok(Opened { desk, first })
}

fn about(words: &Words, case: &Case) -> Vec<String> {
    let args = [
        ("title", case.scenario.title.as_str().into()),
        ("seed", case.seed.to_string().into()),
        ("car", case.vehicle.name.as_str().into()),
    ];
    let mut lines = vec![words.get("say-title", &args)];
    lines.extend(info::complaint(words, case));
    let budget = words.minutes(case.scenario.budget_minutes);
    lines.push(words.get("say-budget", &[("minutes", budget.into())]));
    lines
}

fn kept(desk: &Desk) -> String {
    match desk.work.kept_in() {
        Some(path) => desk.words.get("say-saved-in", &[("path", path.into())]),
        None => desk.words.text("say-not-saved"),
    }
}

fn about_case(desk: &Desk) -> serde_json::Value {
    let session = desk.work.session();
    let case = session.case();
    json!({
        "scenario": case.scenario.id,
        "version": case.scenario.version,
        "seed": case.seed,
        "vehicle": case.vehicle.id,
        "complaint": case.complaint,
        "ambient_c": case.ambient_c,
        "rain": case.rain(),
        "actions": session.log().len(),
        "minutes": session.minutes(),
        "budget_minutes": case.scenario.budget_minutes,
        "handed_back": session.handed_back(),
        "file": desk.work.kept_in(),
    })
}

fn set_units(desk: &mut Desk, how: &How) -> Result<(), String> {
    for unit in how.units.iter().flat_map(|units| units.split(',')) {
        let outcome = desk.run(&format!("units {unit}"));
        if let (true, Some(Reply::Mistake(sentence))) = (outcome.failed, outcome.replies.last()) {
            return Err(sentence.clone());
        }
    }
    Ok(())
}

fn any_seed() -> u64 {
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    now.map_or(1, |now| {
        u64::from(now.subsec_nanos()) / 1000 % ANY_SEED_BELOW + 1
    })
}
