//! What is kept beside an attempt stays as long as the attempt, in a folder and in a storage by key, and never
//! touches the attempt itself.

use tracebay_core::attempt::{ENGINE_REVISION, FORMAT, HOME_RULES, Header, encode_header};
use tracebay_shelf::{
    FolderStore, KeyedStore, KeyedTexts, MAX_BESIDE_BYTES, MemoryStore, ShelfError, Store, Texts,
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

fn kept_changed_and_removed(store: &mut dyn Store) {
    let first = store.create(&header(7)).unwrap().name();
    let second = store.create(&header(8)).unwrap().name();
    assert_eq!(store.beside(&first).unwrap(), None);
    store.keep_beside(&first, "one").unwrap();
    store.keep_beside(&second, "another").unwrap();
    store.keep_beside(&first, "one, changed").unwrap();
    assert_eq!(store.beside(&first).unwrap().unwrap(), "one, changed");
    assert_eq!(store.text(&first).unwrap(), encode_header(&header(7)));
    assert_eq!(store.recent(10).unwrap().len(), 2, "no attempt of its own");
    store.remove(&first).unwrap();
    assert_eq!(store.recent(10).unwrap().len(), 1);
    assert_eq!(store.beside(&second).unwrap().unwrap(), "another");
    // The next one of the same name begins without it.
    let again = store.create(&header(7)).unwrap().name();
    assert_eq!(again, first);
    assert_eq!(store.beside(&again).unwrap(), None);
}

#[test]
fn in_memory() {
    kept_changed_and_removed(&mut MemoryStore::default());
}

#[test]
fn in_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = FolderStore::new(folder.path());
    kept_changed_and_removed(&mut store);
    // Opened again, as after the program has ended.
    let mut store = FolderStore::new(folder.path());
    let name = store.recent(10).unwrap()[0].name.clone();
    store.keep_beside(&name, "kept").unwrap();
    let later = FolderStore::new(folder.path());
    assert_eq!(later.beside(&name).unwrap().unwrap(), "kept");
    let count = || std::fs::read_dir(folder.path()).unwrap().count();
    let before = count();
    store.remove(&name).unwrap();
    assert_eq!(count(), before - 2, "attempt and notes, nothing left over");
}

/// A file of the same name that somebody left is not this attempt's.
#[test]
fn a_new_attempt_does_not_take_over_what_an_old_one_left() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = FolderStore::new(folder.path());
    let name = store.create(&header(7)).unwrap().name();
    store.keep_beside(&name, "old").unwrap();
    std::fs::remove_file(&name).unwrap();
    let again = store.create(&header(7)).unwrap().name();
    assert_eq!(again, name);
    assert_eq!(store.beside(&again).unwrap(), None);
}

#[test]
fn what_is_too_large_or_no_text_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = FolderStore::new(folder.path());
    let name = store.create(&header(7)).unwrap().name();
    let path = name.replace(".jsonl", ".notes.json");
    std::fs::write(&path, vec![b' '; MAX_BESIDE_BYTES as usize + 1]).unwrap();
    let read = store.beside(&name);
    assert!(matches!(read, Err(ShelfError::TooLarge { .. })), "{read:?}");
    std::fs::write(&path, [0xff, 0xfe]).unwrap();
    let read = store.beside(&name);
    assert!(matches!(read, Err(ShelfError::NotText { .. })), "{read:?}");
}

#[test]
fn without_room_what_was_kept_before_stays() {
    let room = Texts::default();
    let mut store = KeyedStore::new(room.clone());
    let name = store.create(&header(7)).unwrap().name();
    store.keep_beside(&name, "before").unwrap();
    room.set_room(Some(0));
    assert!(store.keep_beside(&name, "after").is_err());
    assert_eq!(store.beside(&name).unwrap().unwrap(), "before");
    assert_eq!(store.text(&name).unwrap(), encode_header(&header(7)));
    store.remove(&name).unwrap();
    assert_eq!(room.keys().unwrap(), Vec::<String>::new());
}
