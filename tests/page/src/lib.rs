//! Sessions of a learner made from a number, and what a replay of them comes to: the same text on
//! every machine, or an attempt made in a page would not be worth grading elsewhere.
//!
//! `compare.mjs` runs this as WebAssembly and as a program of this machine and compares.

use std::sync::Arc;

use sha2::{Digest, Sha256};
use tracebay_core::attempt::{
    HOME_RULES, Recorder, check_header, decode, encode_header, encode_line,
};
use tracebay_core::scenario::Catalogue;
use tracebay_core::session::{Action, Session};
use tracebay_shelf::Data;
use tracebay_tests::{Dice, anything};

/// Things tried in a session.
const TRIED: usize = 40;

/// The shipped cars and cases.
///
/// # Panics
/// A shipped file is not sound.
pub fn catalogue() -> Catalogue {
    let (catalogue, problems) = Data::built_in().catalogue();
    assert!(problems.is_empty(), "{problems:?}");
    catalogue
}

/// The attempt of session `number`, as its file.
///
/// # Panics
/// A shipped case cannot be drawn or begun.
pub fn played(catalogue: &Catalogue, number: u64) -> String {
    let ids: Vec<&String> = catalogue.scenarios.keys().collect();
    let scenario = ids[number as usize % ids.len()];
    let case = catalogue.draw(scenario, number).expect("shipped");
    let mut recorder = Recorder::start(Arc::new(case), HOME_RULES, None, None).expect("solvable");
    let mut text = encode_header(recorder.header());
    let mut dice = Dice(number);
    for _ in 0..TRIED {
        let action = anything(recorder.session(), &mut dice);
        if let Ok((line, _)) = recorder.perform(action, None) {
            text += &encode_line(&line);
        }
    }
    text
}

/// Replays an attempt, which checks its chain, and tells the state it ends in: a hash of all that
/// can be perceived, all that was, and the network with every digit.
///
/// # Errors
/// It is no attempt, or it does not replay.
pub fn replayed(catalogue: &Catalogue, attempt: &str) -> Result<String, String> {
    let decoded = decode(attempt).map_err(|e| format!("{e:?}"))?;
    let header = &decoded.header;
    let case = catalogue
        .draw(&header.scenario, header.seed)
        .map_err(|e| format!("{e:?}"))?;
    check_header(header, &case).map_err(|e| format!("{e:?}"))?;
    let mut recorder = Recorder::resume(Arc::new(case), &decoded).map_err(|e| format!("{e:?}"))?;
    let view = serde_json::to_string(&recorder.view()).map_err(|e| e.to_string())?;
    let session = recorder.session();
    let log = serde_json::to_string(session.log()).map_err(|e| e.to_string())?;
    let told = format!("{view}\n{log}\n{:?}", session.network());
    let digest = Sha256::digest(told.as_bytes());
    Ok(digest.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Lets minutes pass at a car whose engine runs: work for a stop watch. Ticks that passed.
///
/// # Panics
/// The shipped case cannot be drawn or begun.
pub fn minutes_pass(catalogue: &Catalogue, minutes: u32) -> u32 {
    let case = catalogue.draw("no-cold-air", 7).expect("shipped");
    let mut session = Session::new(Arc::new(case)).expect("solvable");
    let _ = session.perform(&Action::Set {
        control: "key".to_owned(),
        to: "start".to_owned(),
    });
    for _ in 0..minutes {
        session.perform(&Action::Wait(600)).expect("possible");
    }
    session.view().ticks as u32
}

#[cfg(target_arch = "wasm32")]
mod page {
    //! What the script calls.

    use std::sync::OnceLock;

    use tracebay_core::scenario::Catalogue;
    use wasm_bindgen::prelude::*;

    fn catalogue() -> &'static Catalogue {
        static READ: OnceLock<Catalogue> = OnceLock::new();
        READ.get_or_init(super::catalogue)
    }

    /// See [`super::played`].
    #[wasm_bindgen]
    pub fn played(number: u32) -> String {
        super::played(catalogue(), u64::from(number))
    }

    /// See [`super::replayed`].
    #[wasm_bindgen]
    pub fn replayed(attempt: &str) -> Result<String, String> {
        super::replayed(catalogue(), attempt)
    }

    /// See [`super::minutes_pass`].
    #[wasm_bindgen]
    pub fn minutes_pass(minutes: u32) -> u32 {
        super::minutes_pass(catalogue(), minutes)
    }
}
