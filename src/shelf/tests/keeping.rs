//! Keeping attempts on a real disk. What must survive what is common practice for logs: whole
//! lines stay, half lines go, nothing is overwritten.

use std::fs;

use tracebay_core::attempt::{
    ENGINE_REVISION, FORMAT, HOME_RULES, Header, Line, encode_header, encode_line,
};
use tracebay_core::session::Action;
use tracebay_shelf::{
    AttemptFile, AttemptLog, Data, FolderStore, KeyedStore, KeyedTexts, MemoryStore, ShelfError,
    Store, Texts, read_source,
};

fn header(seed: u64) -> Header {
    Header {
        format: FORMAT,
        scenario: "no-cold-air".into(),
        scenario_version: 1,
        scenario_sha256: String::new(),
        seed,
        rules: HOME_RULES.into(),
        engine_revision: ENGINE_REVISION,
        started: Some("2026-01-02T03:04:05Z".into()),
        learner: None,
    }
}

fn line(n: u32) -> String {
    encode_line(&Line {
        n,
        action: Action::Wait(n),
        at: None,
        minutes: f64::from(n),
        chain: "00".into(),
    })
}

#[test]
fn an_attempt_is_made_added_to_and_opened_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = FolderStore::new(folder.path().join("new").join("deep"));
    let mut log = store.create(&header(7)).unwrap();
    log.append(&line(1)).unwrap();
    let name = log.name();
    assert!(
        name.ends_with("no-cold-air-7-20260102-030405.jsonl"),
        "{name}"
    );
    // Still open here: another program must keep out.
    assert!(matches!(store.open(&name), Err(ShelfError::InUse { .. })));
    drop(log);
    let mut opened = store.open(&name).unwrap();
    assert_eq!(opened.decoded.lines.len(), 1);
    opened.log.append(&line(2)).unwrap();
    drop(opened);
    let decoded = AttemptFile::read(name.as_ref()).unwrap();
    assert_eq!(decoded.lines.len(), 2);
    // A bare name is found in the folder.
    let bare = std::path::Path::new(&name)
        .file_name()
        .unwrap()
        .to_str()
        .unwrap();
    assert_eq!(store.open(bare).unwrap().decoded.lines.len(), 2);
}

#[test]
fn a_second_attempt_never_overwrites_the_first() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = FolderStore::new(folder.path());
    let first = store.create(&header(7)).unwrap().name();
    let second = store.create(&header(7)).unwrap().name();
    assert_ne!(first, second);
    assert_eq!(store.recent(10).unwrap().len(), 2);
    assert_eq!(store.recent(1).unwrap().len(), 1);
}

#[test]
fn a_torn_line_is_cut_off_before_more_is_added() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.jsonl");
    let mut file = AttemptFile::create(&path, &header(1)).unwrap();
    file.append(&line(1)).unwrap();
    file.append(&line(2)).unwrap();
    drop(file);
    let whole = fs::read(&path).unwrap();
    for lost in 1..line(2).len() {
        fs::write(&path, &whole[..whole.len() - lost]).unwrap();
        let (mut file, decoded) = AttemptFile::open(&path).unwrap();
        // Losing only the newline loses nothing.
        let kept = if lost == 1 { 2 } else { 1 };
        assert_eq!(decoded.lines.len(), kept);
        assert_eq!(decoded.torn.is_some(), lost != 1 && lost != line(2).len());
        file.append(&line(kept as u32 + 1)).unwrap();
        drop(file);
        let again = AttemptFile::read(&path).unwrap();
        assert_eq!(again.lines.len(), kept + 1);
        assert_eq!(again.torn, None);
    }
}

#[test]
fn what_is_no_attempt_is_refused_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.jsonl");
    for bytes in [&b""[..], b"hello\n", &[0xff; 64]] {
        fs::write(&path, bytes).unwrap();
        assert!(matches!(
            AttemptFile::open(&path),
            Err(ShelfError::Attempt { .. })
        ));
        assert_eq!(fs::read(&path).unwrap(), bytes);
    }
    let store = FolderStore::new(folder.path());
    assert_eq!(store.recent(10).unwrap(), []);
    let missing = folder.path().join("none.jsonl");
    assert!(matches!(
        AttemptFile::open(&missing),
        Err(ShelfError::NotFound { .. })
    ));
    assert!(matches!(
        AttemptFile::open(folder.path()),
        Err(ShelfError::System { .. })
    ));
}

#[test]
fn a_folder_that_cannot_be_made_is_one_error_with_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("taken");
    fs::write(&file, "").unwrap();
    let mut store = FolderStore::new(file.join("below"));
    let Err(error) = store.create(&header(1)) else {
        panic!("a folder inside a file")
    };
    assert_eq!(error.key(), "shelf-cannot-create");
    assert!(
        error
            .args()
            .iter()
            .any(|(_, value)| value.contains("taken"))
    );
}

#[test]
fn memory_keeps_as_long_as_it_lives() {
    let mut store = MemoryStore::default();
    let mut log = store.create(&header(3)).unwrap();
    log.append(&line(1)).unwrap();
    let opened = store.open(&log.name()).unwrap();
    assert_eq!(opened.decoded.lines.len(), 1);
    assert_eq!(store.recent(5).unwrap()[0].actions, 1);
    assert!(store.open("x").is_err());
}

#[test]
fn a_storage_by_key_keeps_order_names_and_what_else_is_in_it() {
    let texts = Texts::default();
    texts.set("somebody/else", "theirs").unwrap();
    let mut store = KeyedStore::new(texts.clone());
    let names: Vec<String> = (0..12)
        .map(|_| store.create(&header(7)).unwrap().name())
        .collect();
    assert_eq!(names[0], "no-cold-air-7-20260102-030405.jsonl");
    assert_eq!(names[11], "no-cold-air-7-20260102-030405-12.jsonl");
    let recent: Vec<String> = store
        .recent(3)
        .unwrap()
        .into_iter()
        .map(|r| r.name)
        .collect();
    assert_eq!(recent, [&*names[11], &*names[10], &*names[9]]);
    // A new page finds them again; the newest stays the newest when another was removed.
    let mut again = KeyedStore::new(texts.clone());
    again.remove(&names[11]).unwrap();
    let last = again.create(&header(8)).unwrap().name();
    assert_eq!(again.recent(1).unwrap()[0].name, last);
    assert!(again.text(&last).unwrap().ends_with('\n'));
    assert!(matches!(
        again.text("none"),
        Err(ShelfError::NotFound { .. })
    ));
    assert_eq!(
        texts.get("somebody/else").unwrap().as_deref(),
        Some("theirs")
    );
}

#[test]
fn where_there_is_no_room_nothing_is_half_kept_and_it_can_be_tried_again() {
    let texts = Texts::default();
    let first = encode_header(&header(7)).len() + line(1).len();
    texts.set_room(Some(first));
    let mut store = KeyedStore::new(texts.clone());
    let mut log = store.create(&header(7)).unwrap();
    log.append(&line(1)).unwrap();
    for _ in 0..2 {
        let full = log.append(&line(2)).unwrap_err();
        assert!(matches!(full, ShelfError::System { .. }), "{full:?}");
    }
    let decoded = store.open(&log.name()).unwrap().decoded;
    assert_eq!((decoded.lines.len(), decoded.torn), (1, None));
    texts.set_room(None);
    log.append(&line(2)).unwrap();
    assert_eq!(store.open(&log.name()).unwrap().decoded.lines.len(), 2);
}

#[test]
fn two_windows_on_one_attempt_do_not_mix_their_lines() {
    let texts = Texts::default();
    let mut here = KeyedStore::new(texts.clone());
    let mut there = KeyedStore::new(texts);
    let mut log = here.create(&header(7)).unwrap();
    let mut other = there.open(&log.name()).unwrap().log;
    other.append(&line(1)).unwrap();
    let refused = log.append(&line(1)).unwrap_err();
    assert!(
        matches!(refused, ShelfError::Elsewhere { .. }),
        "{refused:?}"
    );
    other.append(&line(2)).unwrap();
    assert_eq!(here.recent(1).unwrap()[0].actions, 2);
}

#[test]
fn a_line_torn_in_a_storage_is_cut_off() {
    let texts = Texts::default();
    let mut store = KeyedStore::new(texts.clone());
    let name = store.create(&header(7)).unwrap().name();
    let key = texts.keys().unwrap().remove(0);
    let whole = store.text(&name).unwrap() + &line(1);
    texts.set(&key, &format!("{whole}{{\"n\":2,")).unwrap();
    let mut opened = store.open(&name).unwrap();
    assert!(opened.decoded.torn.is_some());
    opened.log.append(&line(2)).unwrap();
    assert_eq!(store.text(&name).unwrap(), whole + &line(2));
}

#[test]
fn a_folder_lies_over_the_built_in_data() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir_all(folder.path().join("scenarios/vehicles")).unwrap();
    fs::write(folder.path().join("scenarios/mine.ron"), "(mine)").unwrap();
    fs::write(folder.path().join("scenarios/vehicles/car.ron"), "(car)").unwrap();
    fs::write(folder.path().join("scenarios/readme.txt"), "no").unwrap();
    let data = Data::with_folder(Some(folder.path())).unwrap();
    let built_in = Data::built_in();
    assert_eq!(data.scenarios().count(), built_in.scenarios().count() + 1);
    assert_eq!(data.file("scenarios/mine.ron").unwrap().text, "(mine)");
    assert!(data.vehicles().any(|file| file.text == "(car)"));
    assert!(data.file("scenarios/readme.txt").is_none());
    let missing = folder.path().join("none");
    assert!(Data::with_folder(Some(&missing)).is_err());
}

#[test]
fn files_that_are_no_text_or_too_large_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.ron");
    fs::write(&path, [0xff, 0xfe]).unwrap();
    assert_eq!(read_source(&path).unwrap_err().key(), "shelf-not-text");
    fs::write(&path, vec![b'('; 17 << 20]).unwrap();
    assert_eq!(read_source(&path).unwrap_err().key(), "shelf-too-large");
    // A device that never ends must not be read to its end.
    #[cfg(target_os = "linux")]
    assert_eq!(
        read_source("/dev/zero".as_ref()).unwrap_err().key(),
        "shelf-too-large"
    );
}
