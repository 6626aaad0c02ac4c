//! The instructor's and the shop's command: assign, grade, report, sign off.
//!
//! Reads and writes files and prints; what an attempt is worth is computed in
//! [`tracebay_grading`]. Scores written in files are ignored, everything is replayed. Grading is a
//! pure function of the files, the assignment and the program: nothing asks for the time, and the
//! reports do not depend on the number of threads.
#![warn(missing_docs)]

pub mod assigning;
pub mod checking;
pub mod classbook;
pub mod cli;
pub mod corrections;
pub mod flags;
pub mod folder;
pub mod gradebook;
pub mod grading;
pub mod handed;
pub mod html;
pub mod items;
pub mod judging;
pub mod library;
pub mod parallel;
pub mod roster;
pub mod statements;
pub mod times;

use cli::{Cli, Sub};
use library::Library;

/// Does what the command line says.
///
/// # Errors
/// One sentence for a person: what is wrong and what to do.
pub fn run(cli: &Cli) -> Result<(), String> {
    let library = Library::open(cli.data.as_deref())?;
    for problem in &library.problems {
        eprintln!("{problem}");
    }
    match &cli.command {
        Sub::Assign(args) => assigning::assign(&library, args),
        Sub::Rebuild(args) => assigning::rebuild(&library, args),
        Sub::Grade(args) => grading::command(&library, args),
        _ => Err("not there yet".to_owned()),
    }
}
