//! Options and subcommands.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// The whole job in a terminal: find an electrical fault in an invented car.
#[derive(Debug, Parser)]
#[command(name = "tracebay-console", version, disable_help_subcommand = true)]
pub struct Cli {
    /// What to do; without it, the scenarios are listed.
    #[command(subcommand)]
    pub command: Option<Sub>,
    /// Options for everything.
    #[command(flatten)]
    pub common: Common,
}

/// Options for everything.
#[derive(Debug, Args)]
pub struct Common {
    /// Folder with scenarios, vehicles and rubrics, laid over the built-in ones
    /// (or TRACEBAY_DATA).
    #[arg(long, value_name = "DIR", global = true)]
    pub data: Option<PathBuf>,
    /// Folder that attempts are saved in (or TRACEBAY_SAVE).
    #[arg(long, value_name = "DIR", global = true)]
    pub save: Option<PathBuf>,
    /// Language: en or es. Without it, the system's.
    #[arg(long, value_name = "LANG", global = true)]
    pub lang: Option<String>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Sub {
    /// List the scenarios.
    List,
    /// Start a scenario.
    Start {
        /// Scenario, as listed.
        scenario: String,
        /// Number that draws the fault, the weather and the layout. Without it, any.
        #[arg(long, value_name = "N", allow_negative_numbers = true)]
        seed: Option<u64>,
        /// Your name, for the attempt file.
        #[arg(long, value_name = "NAME")]
        name: Option<String>,
        /// Save nothing.
        #[arg(long)]
        no_save: bool,
        /// How the work is done.
        #[command(flatten)]
        how: How,
    },
    /// Work on an assignment your instructor gave you; goes on where you left off.
    Assigned {
        /// Assignment file.
        file: PathBuf,
        /// Your id on the class list. Not needed where the file is for you alone.
        #[arg(long, value_name = "ID")]
        learner: Option<String>,
        /// Which of its tasks. Without it, the tasks are listed where there is more than one.
        #[arg(long, value_name = "SCENARIO")]
        task: Option<String>,
        /// How the work is done.
        #[command(flatten)]
        how: How,
    },
    /// Go on with an attempt; without a file, list the attempts.
    Resume {
        /// Attempt file.
        file: Option<String>,
        /// How the work is done.
        #[command(flatten)]
        how: How,
    },
    /// Replay an attempt file, checking every line, and print its scorecard.
    Score {
        /// Attempt file.
        file: PathBuf,
        /// Rubric: home, assignment, shop, or a file.
        #[arg(long, value_name = "NAME|FILE", default_value = crate::grading::USUAL)]
        rubric: String,
        /// Print the card as one JSON object.
        #[arg(long)]
        json: bool,
    },
    /// For instructors: print the best plan of a case as a tree.
    Plan {
        /// Scenario, as listed.
        scenario: String,
        /// Seed of the case; only weather, layout and tolerances of it count.
        #[arg(long, value_name = "N", default_value_t = 1)]
        seed: u64,
    },
    /// Check vehicle, scenario, course and attempt files; without a file, everything there is.
    /// Scenarios are proved by simulation: for authors, since it tells about the faults.
    Check {
        /// Files to check.
        #[arg(value_name = "FILE")]
        files: Vec<PathBuf>,
        /// Print one JSON object a scenario.
        #[arg(long)]
        json: bool,
        /// Check again whenever a file is saved, until Enter is pressed.
        #[arg(long)]
        watch: bool,
    },
    /// For authors: list the data files, built in and laid over; with a path, print that file.
    Files {
        /// Path, as listed.
        path: Option<String>,
    },
    /// For authors: all fields of a kind of file; without a kind, the kinds there are.
    Fields {
        /// Kind of file, as listed.
        kind: Option<String>,
        /// Print its JSON Schema (draft 2020-12) instead.
        #[arg(long, requires = "kind")]
        schema: bool,
    },
    /// Draw a vehicle's wiring diagram as SVG to the standard output.
    Diagram {
        /// Vehicle id, as in the data files.
        vehicle: String,
        /// Only the circuit of this relay or load; without it, all circuits.
        circuit: Option<String>,
    },
    /// List the courses; with a course, its lessons and their ideas.
    Courses {
        /// Course, as listed.
        course: Option<String>,
    },
}

/// How the work is done.
#[derive(Debug, Args)]
pub struct How {
    /// Take the commands from a file, one a line (- for standard input). Lines with # are comments.
    #[arg(long, value_name = "FILE")]
    pub script: Option<PathBuf>,
    /// Go on after a script line that was not understood.
    #[arg(long)]
    pub keep_going: bool,
    /// Stop the script when something is refused.
    #[arg(long)]
    pub stop_on_refusal: bool,
    /// Print one JSON object an action or answer.
    #[arg(long)]
    pub json: bool,
    /// Read plain lines, without line editing.
    #[arg(long)]
    pub plain: bool,
    /// Units of pressure and temperature, for example kpa,c.
    #[arg(long, value_name = "UNITS")]
    pub units: Option<String>,
}
