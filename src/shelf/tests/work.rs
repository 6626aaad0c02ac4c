//! Real sessions kept, cut, edited and gone on with.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use tracebay_core::attempt::{
    HOME_RULES, Header, HeaderCheck, Recorder, ReplayErrorKind, check_header, decode,
    encode_header, encode_line, replay,
};
use tracebay_core::scenario::Case;
use tracebay_core::session::{Action, Refusal};
use tracebay_core::vehicle::Station;
use tracebay_shelf::{
    AttemptLog, Data, Doing, FolderStore, Opened, Recent, ShelfError, Store, Work, WorkClock,
    WorkError,
};

fn case() -> Arc<Case> {
    let (catalogue, problems) = Data::built_in().catalogue();
    assert_eq!(problems, []);
    Arc::new(catalogue.draw("no-cold-air", 7).unwrap())
}

fn recorder() -> Recorder {
    Recorder::start(case(), HOME_RULES, None, Some("Ana".into())).unwrap()
}

fn actions() -> Vec<Action> {
    let set = |control: &str, to: &str| Action::Set {
        control: control.into(),
        to: to.into(),
    };
    vec![
        set("key", "start"),
        set("blower", "3"),
        set("ac", "on"),
        Action::Wait(100),
        Action::Go(Station::Bay),
        Action::Protect,
        Action::Look("front_panel".into()),
    ]
}

/// A store whose disk is full while `full` says so.
#[derive(Clone, Default)]
struct Disk {
    full: Arc<AtomicBool>,
    text: Arc<Mutex<String>>,
}

impl AttemptLog for Disk {
    fn append(&mut self, text: &str) -> Result<(), ShelfError> {
        if self.full.load(Ordering::Relaxed) {
            return Err(ShelfError::System {
                doing: Doing::Write,
                path: "disk".into(),
                detail: "full".into(),
            });
        }
        self.text.lock().unwrap().push_str(text);
        Ok(())
    }

    fn name(&self) -> String {
        "disk".into()
    }
}

impl Store for Disk {
    fn create(&mut self, header: &Header) -> Result<Box<dyn AttemptLog + Send + Sync>, ShelfError> {
        self.append(&encode_header(header))?;
        Ok(Box::new(self.clone()))
    }

    fn open(&mut self, _: &str) -> Result<Opened, ShelfError> {
        Err(ShelfError::NoHome)
    }

    fn recent(&self, _: usize) -> Result<Vec<Recent>, ShelfError> {
        Ok(Vec::new())
    }

    fn text(&self, _: &str) -> Result<String, ShelfError> {
        Err(ShelfError::NoHome)
    }

    fn beside(&self, _: &str) -> Result<Option<String>, ShelfError> {
        Err(ShelfError::NoHome)
    }

    fn keep_beside(&mut self, _: &str, _: &str) -> Result<(), ShelfError> {
        Err(ShelfError::NoHome)
    }

    fn remove(&mut self, _: &str) -> Result<(), ShelfError> {
        Err(ShelfError::NoHome)
    }
}

#[test]
fn what_cannot_be_kept_is_not_shown_and_not_lost() {
    let mut disk = Disk::default();
    let mut work = Work::start(recorder(), &mut disk).unwrap();
    work.perform(Action::Wait(10), None).unwrap();
    disk.full.store(true, Ordering::Relaxed);
    let not_kept = |done| matches!(done, Err(WorkError::NotKept(_)));
    assert!(not_kept(work.perform(Action::Wait(20), None)));
    // Nothing else is done until that is settled.
    assert!(not_kept(work.perform(Action::Wait(30), None)));
    assert!(not_kept(work.retry().unwrap()));
    disk.full.store(false, Ordering::Relaxed);
    assert_eq!(work.retry().unwrap().unwrap().action, Action::Wait(20));
    assert_eq!(work.retry(), None);
    work.perform(Action::Wait(40), None).unwrap();
    let decoded = decode(disk.text.lock().unwrap().as_str()).unwrap();
    let kept: Vec<_> = decoded.lines.iter().map(|l| l.action.clone()).collect();
    assert_eq!(kept, [Action::Wait(10), Action::Wait(20), Action::Wait(40)]);

    // Or the person goes on without keeping.
    disk.full.store(true, Ordering::Relaxed);
    assert!(not_kept(work.perform(Action::Wait(50), None)));
    assert_eq!(work.go_on_unsaved().unwrap().action, Action::Wait(50));
    assert_eq!(work.kept_in(), None);
    work.perform(Action::Wait(60), None).unwrap();
    assert_eq!(work.session().log().len(), 5);
}

#[test]
fn what_is_refused_leaves_no_line() {
    let mut disk = Disk::default();
    let mut work = Work::start(recorder(), &mut disk).unwrap();
    let before = disk.text.lock().unwrap().clone();
    let refused = work.perform(Action::Pull("K3".into()), None);
    assert!(matches!(
        refused,
        Err(WorkError::Refused(
            Refusal::GoFirst { .. } | Refusal::CoverOn { .. }
        ))
    ));
    assert_eq!(*disk.text.lock().unwrap(), before);
}

#[test]
fn a_kept_session_goes_on_as_if_it_had_never_stopped() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = FolderStore::new(folder.path());
    let mut whole = Work::unsaved(recorder());
    for action in actions() {
        whole.perform(action, None).unwrap();
    }
    for stop in 0..actions().len() {
        let mut work = Work::start(recorder(), &mut store).unwrap();
        let name = work.kept_in().unwrap();
        for action in &actions()[..stop] {
            work.perform(action.clone(), None).unwrap();
        }
        drop(work);
        let opened = store.open(&name).unwrap();
        let resumed = Recorder::resume(case(), &opened.decoded).unwrap();
        let mut work = Work::resumed(resumed, opened.log);
        for action in &actions()[stop..] {
            work.perform(action.clone(), None).unwrap();
        }
        assert_eq!(work.session().log(), whole.session().log());
        assert_eq!(work.view(), whole.view());
        drop(work);
        let decoded = tracebay_shelf::AttemptFile::read(name.as_ref()).unwrap();
        assert_eq!(decoded.lines, whole.recorder().lines());
    }
}

#[test]
fn replay_finds_the_edited_line() {
    let mut recorder = recorder();
    for action in actions() {
        recorder.perform(action, None).unwrap();
    }
    let header = recorder.header().clone();
    assert_eq!(check_header(&header, &case()), Ok(HeaderCheck::Same));
    let lines = recorder.lines().to_vec();
    assert!(replay(case(), &header, &lines).is_ok());
    let text: String = lines.iter().map(encode_line).collect();
    assert_eq!(decode(encode_header(&header) + &text).unwrap().lines, lines);

    let mut longer = lines.clone();
    longer[3].action = Action::Wait(101);
    let error = replay(case(), &header, &longer).err().unwrap();
    assert_eq!((error.line, error.n), (5, 4));
    assert_eq!(error.kind, ReplayErrorKind::ChainDiffers);

    let mut impossible = lines.clone();
    impossible[2].action = Action::Pull("K3".into());
    let error = replay(case(), &header, &impossible).err().unwrap();
    assert_eq!(error.line, 4);
    assert!(matches!(error.kind, ReplayErrorKind::Refused(_)));

    // The first line's chain covers the header.
    let mut renamed = header.clone();
    renamed.learner = Some("Eva".into());
    assert_eq!(replay(case(), &renamed, &lines).err().unwrap().line, 2);

    let mut other = header.clone();
    other.scenario_sha256 = "0".repeat(64);
    assert_eq!(
        check_header(&other, &case()),
        Ok(HeaderCheck::ContentChanged)
    );
}

/// Time worked only grows, however often the program was closed in between.
#[test]
fn time_goes_on_where_it_was_left_off() {
    let mut recorder = recorder();
    let clock = WorkClock::new(&Work::unsaved(recorder.clone()), 40_000);
    assert_eq!([40_000, 41_500].map(|now| clock.at_ms(now)), [0, 1_500]);
    recorder.perform(Action::Protect, Some(3_600_000)).unwrap();
    // The next program's clock begins anew.
    let clock = WorkClock::new(&Work::unsaved(recorder), 20);
    assert_eq!(
        [20, 520].map(|now| clock.at_ms(now)),
        [3_600_000, 3_600_500]
    );
}
