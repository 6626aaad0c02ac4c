//! Options and subcommands.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// Assign cases to a class, grade what comes back, report, and keep a shop's sign-off sheets.
#[derive(Debug, Parser)]
#[command(name = "tracebay-grade", version, disable_help_subcommand = true)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Sub,
    /// Folder with scenarios, vehicles and rubrics, laid over the built-in ones
    /// (or TRACEBAY_DATA).
    #[arg(long, value_name = "DIR", global = true)]
    pub data: Option<PathBuf>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Sub {
    /// Make an assignment from scenarios or a topic and a roster.
    #[command(after_help = "Examples:
  tracebay-grade assign --id week-3 --scenario no-cold-air --roster class.csv --due 2026-03-01 --out week-3.assignment.json
  tracebay-grade assign --id relays --topic \"A/C clutch circuit\" --roster class.csv --tools light,meter --attempts 2 --own handouts --out relays.assignment.json
The roster is a CSV file with the columns id and name.")]
    Assign(AssignArgs),
    /// Make the seeds of an assignment again from the class secret, and compare.
    #[command(after_help = "Example:
  tracebay-grade rebuild week-3.assignment.json --secret-file secret.txt")]
    Rebuild(RebuildArgs),
    /// Replay and score a folder of attempts, and write the class's reports.
    #[command(after_help = "Examples:
  tracebay-grade grade handed-in --assignment week-3.assignment.json --out report
  tracebay-grade grade handed-in --assignment week-3.assignment.json --rubric shop --no-names --out report
  tracebay-grade grade handed-in --assignment week-3.assignment.json --verify --json
  tracebay-grade grade handed-in --assignment week-3.assignment.json --language es --out informe
The report folder gets report.html, learners/, gradebook.csv, statements.jsonl and report.json.")]
    Grade(GradeArgs),
    /// Show a case whole: the hidden fault, the best plan, every reading. For instructors.
    #[command(after_help = "Example:
  tracebay-grade show no-cold-air --seed 11")]
    Show(ShowArgs),
    /// Make a sheet on which technicians rank attempts blind, without names and points.
    #[command(after_help = "Example:
  tracebay-grade blind handed-in --assignment week-3.assignment.json --task no-cold-air --out blind
The folder gets sheet.html to hand out, rankings.csv to fill in, and key.csv to keep back. Copy the grader's column of the key into the filled-in rankings before asking for the agreement.")]
    Blind(BlindArgs),
    /// Say what to practise next, from one's own record.
    #[command(after_help = "Example:
  tracebay-grade practise ~/.local/share/tracebay/attempts --on 2026-03-01")]
    Practise(PractiseArgs),
    /// Make a person's sign-off sheet from a course and their attempts.
    #[command(
        name = "signoff",
        after_help = "Examples:
  tracebay-grade signoff attempts --course relay-circuits --learner L07 --on 2026-03-01 --out sheet.html
  tracebay-grade signoff attempts --course my-shop.ron --learner L07 --live live.csv --out sheet.html"
    )]
    SignOff(SignOffArgs),
    /// Compute how far blind rankings of attempts agree with each other and with the grader.
    #[command(after_help = "Example:
  tracebay-grade agreement rankings.csv
The file has a column for the attempt, one for the grader's points (grader) and one for each technician: higher is better, equal figures are ties.")]
    Agreement(AgreementArgs),
    /// List one learner's files in a folder, copy them out, or delete them.
    #[command(after_help = "Examples:
  tracebay-grade record attempts --learner L07
  tracebay-grade record attempts --learner L07 --export copies
  tracebay-grade record attempts --learner L07 --delete --yes")]
    Record(RecordArgs),
}

/// Options of `assign`.
#[derive(Debug, Args)]
pub struct AssignArgs {
    /// Short name of letters, digits, dots, dashes and underscores; files and attempts carry it.
    #[arg(long, value_name = "NAME")]
    pub id: String,
    /// Title shown to people.
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// Scenario by its id, as `tracebay-console list` shows it; may be given more than once.
    #[arg(long, value_name = "SCENARIO")]
    pub scenario: Vec<String>,
    /// All scenarios of a topic; may be given more than once.
    #[arg(long, value_name = "TOPIC")]
    pub topic: Vec<String>,
    /// Roster: CSV with id and name.
    #[arg(long, value_name = "FILE")]
    pub roster: PathBuf,
    /// When work may begin: a date or a time with its offset.
    #[arg(long, value_name = "WHEN")]
    pub opens: Option<String>,
    /// When work is due: a date (to its last second, UTC) or a time with its offset.
    #[arg(long, value_name = "WHEN")]
    pub due: Option<String>,
    /// Attempts allowed at each task; each has a case of its own.
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub attempts: u32,
    /// Which attempt counts: best, first or last.
    #[arg(long, value_name = "WHICH", default_value = "best")]
    pub counts: String,
    /// Tools allowed, with commas between: light,meter,lamp. Without it, those of the scenario.
    #[arg(long, value_name = "TOOLS")]
    pub tools: Option<String>,
    /// Give everybody the same case, to look at it together afterwards.
    #[arg(long)]
    pub same_case: bool,
    /// Allow hints, at the rubric's prices.
    #[arg(long)]
    pub hints: bool,
    /// Job minutes a customer would accept. Without it, the scenario's.
    #[arg(long, value_name = "MINUTES")]
    pub budget_minutes: Option<f64>,
    /// Rubric: home, assignment, shop, or a file.
    #[arg(long, value_name = "NAME|FILE", default_value = "assignment")]
    pub rubric: String,
    /// Class secret that the seeds are made from. Without one, a new one is made and printed; keep it.
    #[arg(long, value_name = "TEXT")]
    pub secret: Option<String>,
    /// File that holds the class secret.
    #[arg(long, value_name = "FILE")]
    pub secret_file: Option<PathBuf>,
    /// Assignment file to write; it must not be there yet.
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// Folder for handouts: a file for each learner, with nobody else's row in it.
    #[arg(long, value_name = "DIR")]
    pub own: Option<PathBuf>,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Options of `rebuild`.
#[derive(Debug, Args)]
pub struct RebuildArgs {
    /// Assignment file.
    pub assignment: PathBuf,
    /// Class secret the assignment was made with.
    #[arg(long, value_name = "TEXT")]
    pub secret: Option<String>,
    /// File that holds the class secret.
    #[arg(long, value_name = "FILE")]
    pub secret_file: Option<PathBuf>,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Options of `grade`.
#[derive(Debug, Args)]
pub struct GradeArgs {
    /// Folder with the attempts; any nesting, any names.
    pub folder: PathBuf,
    /// Assignment file, as `assign` wrote it.
    #[arg(long, value_name = "FILE")]
    pub assignment: PathBuf,
    /// Folder for the reports. Without it, only the points are printed.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Grade again under another rubric, shown beside the assignment's own.
    #[arg(long, value_name = "NAME|FILE")]
    pub rubric: Option<String>,
    /// Your corrections: CSV with learner, scenario, points, reason.
    #[arg(long, value_name = "FILE")]
    pub corrections: Option<PathBuf>,
    /// Replay and check only, which is quick; score nothing.
    #[arg(long)]
    pub verify: bool,
    /// Leave names, ids and file names out of the reports.
    #[arg(long)]
    pub no_names: bool,
    /// Language of the pages: en or es. What machines read stays the same.
    #[arg(long, value_name = "CODE", default_value = "en", value_parser = crate::text::language)]
    pub language: String,
    /// Leave the walk-backs out of learners' pages.
    #[arg(long)]
    pub no_walk_back: bool,
    /// Address of your account system, for the statements.
    #[arg(long, value_name = "URL", default_value = "https://tracebay.example")]
    pub home_page: String,
    /// Threads. Without it, one for each core. The reports do not depend on it.
    #[arg(long, value_name = "N", value_parser = at_least_one)]
    pub threads: Option<usize>,
    /// Print the report as one JSON object.
    #[arg(long)]
    pub json: bool,
    /// Tell on the error output how long each stage took.
    #[arg(long)]
    pub time: bool,
    /// Tell no progress.
    #[arg(long)]
    pub quiet: bool,
}

/// Options of `blind`.
#[derive(Debug, Args)]
pub struct BlindArgs {
    /// Folder with the attempts.
    pub folder: PathBuf,
    /// Assignment file.
    #[arg(long, value_name = "FILE")]
    pub assignment: PathBuf,
    /// Which task. Not needed where there is one.
    #[arg(long, value_name = "SCENARIO")]
    pub task: Option<String>,
    /// Most attempts on the sheet, spread over the points they got.
    #[arg(long, value_name = "N", default_value_t = 8)]
    pub most: usize,
    /// Language of the sheet: en or es.
    #[arg(long, value_name = "CODE", default_value = "en", value_parser = crate::text::language)]
    pub language: String,
    /// Folder for the sheet, the rankings and the key.
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Options of `show`.
#[derive(Debug, Args)]
pub struct ShowArgs {
    /// Scenario by its id, as `tracebay-console list` shows it.
    pub scenario: String,
    /// Seed: the number that draws the case; a learner's is in the assignment and in their files.
    #[arg(long, value_name = "N")]
    pub seed: u64,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Options of `practise`.
#[derive(Debug, Args)]
pub struct PractiseArgs {
    /// Folder with one's attempts.
    pub folder: PathBuf,
    /// Course: its name, or a file. Without it, the built-in one.
    #[arg(long, value_name = "NAME|FILE", default_value = "relay-circuits")]
    pub course: String,
    /// Today. Without it, the system's date (UTC).
    #[arg(long, value_name = "DATE")]
    pub on: Option<String>,
    /// Only this learner's attempts.
    #[arg(long, value_name = "ID")]
    pub learner: Option<String>,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Options of `signoff`.
#[derive(Debug, Args)]
pub struct SignOffArgs {
    /// Folder with the person's attempts.
    pub folder: PathBuf,
    /// Course: its name, or a file.
    #[arg(long, value_name = "NAME|FILE", default_value = "relay-circuits")]
    pub course: String,
    /// Whose sheet: the id their attempts carry.
    #[arg(long, value_name = "ID")]
    pub learner: String,
    /// Live tasks seen by a trainer: CSV with learner, skill, date, task, trainer.
    #[arg(long, value_name = "FILE")]
    pub live: Option<PathBuf>,
    /// Date of the sheet. Without it, the system's date (UTC).
    #[arg(long, value_name = "DATE")]
    pub on: Option<String>,
    /// Language of the sheet: en or es.
    #[arg(long, value_name = "CODE", default_value = "en", value_parser = crate::text::language)]
    pub language: String,
    /// Sheet to write (HTML).
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Options of `agreement`.
#[derive(Debug, Args)]
pub struct AgreementArgs {
    /// Rankings: CSV with a column for each rater.
    pub file: PathBuf,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

/// Options of `record`.
#[derive(Debug, Args)]
pub struct RecordArgs {
    /// Folder with attempts.
    pub folder: PathBuf,
    /// Learner's id as the attempts carry it.
    #[arg(long, value_name = "ID")]
    pub learner: String,
    /// Copy the files into this folder.
    #[arg(long, value_name = "DIR")]
    pub export: Option<PathBuf>,
    /// Delete the files. Needs --yes.
    #[arg(long)]
    pub delete: bool,
    /// Yes, delete.
    #[arg(long)]
    pub yes: bool,
    /// Print one JSON object, for other programs.
    #[arg(long)]
    pub json: bool,
}

fn at_least_one(typed: &str) -> Result<usize, String> {
    match typed.parse() {
        Ok(0) | Err(_) => Err("give a whole number from 1".to_owned()),
        Ok(number) => Ok(number),
    }
}
