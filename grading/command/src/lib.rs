//! The instructor's and the shop's command: assign, grade, report, sign off.
//!
//! Reads and writes files and prints; what an attempt is worth is computed in
//! [`tracebay_grading`]. Scores written in files are ignored, everything is replayed. Grading is a
//! pure function of the files, the assignment and the program: nothing asks for the time, and the
//! reports do not depend on the number of threads.
#![warn(missing_docs)]

/// Prints a line. Where nobody reads on (`| head`), the program ends quietly.
macro_rules! tell {
    ($($text:tt)*) => { $crate::text::tell(&format!($($text)*)) };
}

pub mod agreement;
pub mod assigning;
pub mod blind;
pub mod checking;
pub mod classbook;
pub mod cli;
pub mod corrections;
pub mod course;
pub mod evidence;
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
pub mod practise;
pub mod record;
pub mod roster;
pub mod show;
pub mod signoff;
pub mod statements;
pub mod text;
pub mod times;

use cli::{Cli, Sub};
use library::Library;

/// Does what the command line says.
///
/// # Errors
/// One sentence for a person: what is wrong and what to do.
pub fn run(cli: &Cli) -> Result<(), String> {
    // Pages follow their language; what is printed or made otherwise is as it was written.
    let language = match &cli.command {
        Sub::Grade(args) => &args.language,
        Sub::Blind(args) => &args.language,
        Sub::SignOff(args) => &args.language,
        _ => "en",
    };
    let library = Library::open_in(cli.data.as_deref(), language)?;
    for problem in &library.problems {
        eprintln!("{problem}");
    }
    match &cli.command {
        Sub::Assign(args) => assigning::assign(&library, args),
        Sub::Rebuild(args) => assigning::rebuild(&library, args),
        Sub::Grade(args) => grading::command(&library, args),
        Sub::Blind(args) => blind::command(&library, args),
        Sub::Show(args) => show::command(&library, args),
        Sub::Practise(args) => practise::command(&library, args),
        Sub::SignOff(args) => signoff::command(&library, args),
        Sub::Agreement(args) => agreement::command(args),
        Sub::Record(args) => record::command(args),
    }
}
