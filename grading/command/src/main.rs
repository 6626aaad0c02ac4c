//! The command. Everything it does is in the library, where tests reach it.

use std::process::ExitCode;

use clap::Parser;
use tracebay_grade::cli::Cli;

/// Exit code for wrong input, as with the parser of options.
const WRONG_INPUT: u8 = 2;

fn main() -> ExitCode {
    match tracebay_grade::run(&Cli::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => {
            eprintln!("{sentence}");
            ExitCode::from(WRONG_INPUT)
        }
    }
}
