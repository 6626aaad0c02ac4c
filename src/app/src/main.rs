//! Starts the window, or says in one sentence why it cannot.

use clap::Parser;
use tracebay::cli::Cli;

fn main() {
    tracebay::start::main(Cli::parse());
}
