//! Making an assignment from scenarios or a topic and a roster.

use std::collections::hash_map::RandomState;
use std::fs;
use std::hash::{BuildHasher, Hasher};
use std::path::{Path, PathBuf};

use serde_json::json;
use tracebay_core::tools::ToolKind;
use tracebay_grading::assign::{Assignment, Counts, FORMAT, Learner, Sequence, Task, Terms};
use tracebay_words::Words;

use crate::cli::{AssignArgs, RebuildArgs};
use crate::library::Library;
use crate::roster::{Person, Remark, Roster};
use crate::times;

/// Shortest accepted class secret: a short one can be tried out.
const MIN_SECRET: usize = 8;

/// Makes an assignment and prints what was made.
///
/// # Errors
/// What is wrong with what was asked for.
pub fn assign(library: &Library, args: &AssignArgs) -> Result<(), String> {
    let roster = Roster::read(&args.roster)?;
    let (secret, invented) = secret(args.secret.as_deref(), args.secret_file.as_deref())?;
    let terms = terms(library, args)?;
    let assignment = fill(library, &secret, terms, &roster.people, args.same_case)?;
    assignment.check().map_err(|error| error.to_string())?;
    write_new(&args.out, &assignment.to_text())?;
    let mut own = Vec::new();
    if let Some(folder) = &args.own {
        fs::create_dir_all(folder).map_err(|e| crate::library::file_error(folder, &e))?;
        for (index, learner) in assignment.learners.iter().enumerate() {
            let path = folder.join(own_name(index, &learner.id));
            write_new(&path, &assignment.only(index).to_text())?;
            own.push(path);
        }
    }
    report(
        args,
        &assignment,
        &roster.remarks,
        invented.then_some(&*secret),
        &own,
    );
    Ok(())
}

fn report(
    args: &AssignArgs,
    assignment: &Assignment,
    remarks: &[Remark],
    secret: Option<&str>,
    own: &[PathBuf],
) {
    if args.json {
        let told = json!({
            "file": args.out,
            "assignment": assignment.terms.id,
            "rules": assignment.terms.rules(),
            "tasks": assignment.terms.tasks,
            "learners": assignment.learners.len(),
            "own_files": own,
            "secret": secret,
            "roster_remarks": remarks,
        });
        tell!("{told}");
        return;
    }
    tell!(
        "{}: {} learners, {} task(s), {} attempt(s) each",
        args.out.display(),
        assignment.learners.len(),
        assignment.terms.tasks.len(),
        assignment.terms.attempts,
    );
    for remark in remarks {
        tell!("{}:{}: {}", args.roster.display(), remark.line, remark.what);
    }
    if !own.is_empty() {
        tell!("{} files for one learner each", own.len());
    }
    if let Some(secret) = secret {
        tell!("Class secret, made now: {secret}");
        tell!("Keep it: with it and the roster the same seeds can be made again.");
    }
    tell!(
        "Who has the program can try out their seed beforehand and see its fault. For work that \
         must stand up, give the file out in class, or supervise it (see the instructor's guide)."
    );
}

fn terms(library: &Library, args: &AssignArgs) -> Result<Terms, String> {
    let (file, _) = library.rubric(&args.rubric)?;
    let tools = args.tools.as_deref().map(tools).transpose()?;
    let mut scenarios = args.scenario.clone();
    for topic in &args.topic {
        let before = scenarios.len();
        let found = library.catalogue.scenarios.values();
        scenarios.extend(
            found
                .filter(|s| s.topic.as_written() == topic)
                .map(|s| s.id.clone()),
        );
        if scenarios.len() == before {
            let mut topics: Vec<&str> = library
                .catalogue
                .scenarios
                .values()
                .map(|s| s.topic.as_written())
                .collect();
            topics.sort_unstable();
            topics.dedup();
            return Err(format!(
                "no scenario has the topic “{topic}”; there are: {}",
                topics.join("; ")
            ));
        }
    }
    if scenarios.is_empty() {
        let known: Vec<&str> = library
            .catalogue
            .scenarios
            .keys()
            .map(String::as_str)
            .collect();
        return Err(format!(
            "name at least one --scenario ({}) or --topic",
            known.join(", ")
        ));
    }
    let mut tasks = Vec::new();
    for scenario in &scenarios {
        if tasks.iter().any(|task: &Task| task.scenario == *scenario) {
            continue;
        }
        let task = Task::of(
            &library.catalogue,
            scenario,
            tools.as_deref(),
            args.budget_minutes,
        )
        .map_err(|error| error.to_string())?;
        if task.tools.is_empty() {
            return Err(format!(
                "with these tools nothing is left in the roll of `{scenario}`"
            ));
        }
        tasks.push(task);
    }
    let time = |name: &str, text: &Option<String>| match text {
        None => Ok(None),
        Some(text) => times::typed(text).map(Some).ok_or_else(|| {
            format!("--{name} {text}: write 2026-03-01 or 2026-03-01T17:00:00+01:00")
        }),
    };
    Ok(Terms {
        id: args.id.clone(),
        title: args.title.clone().unwrap_or_else(|| args.id.clone()),
        opens: time("opens", &args.opens)?,
        due: time("due", &args.due)?,
        attempts: args.attempts,
        counts: match args.counts.as_str() {
            "best" => Counts::Best,
            "first" => Counts::First,
            "last" => Counts::Last,
            other => return Err(format!("--counts {other}: say best, first or last")),
        },
        hints: args.hints,
        tasks,
        rubric: file.text,
    })
}

fn tools(typed: &str) -> Result<Vec<ToolKind>, String> {
    let words = Words::new("en");
    typed
        .split(',')
        .map(|tool| {
            words.parse::<ToolKind>(tool).ok_or_else(|| {
                let known: Vec<String> = ToolKind::ALL
                    .iter()
                    .map(|tool| words.spelling(*tool))
                    .collect();
                format!(
                    "there is no tool “{}”; there are: {}",
                    tool.trim(),
                    known.join(", ")
                )
            })
        })
        .collect()
}

fn fill(
    library: &Library,
    secret: &str,
    terms: Terms,
    people: &[Person],
    same_case: bool,
) -> Result<Assignment, String> {
    let mut sequence = Sequence::new(
        secret,
        &terms.id,
        &terms.tasks,
        terms.attempts,
        &library.catalogue,
    );
    // One learner's seeds are everybody's: those of nobody in particular.
    let all = if same_case {
        Some(sequence.next("").map_err(|e| e.to_string())?)
    } else {
        None
    };
    let mut learners = Vec::new();
    for person in people {
        learners.push(Learner {
            id: person.id.clone(),
            name: person.name.clone(),
            seeds: match &all {
                Some(seeds) => seeds.clone(),
                None => sequence.next(&person.id).map_err(|e| e.to_string())?,
            },
        });
    }
    Ok(Assignment {
        format: FORMAT,
        terms,
        learners,
    })
}

/// Makes the seeds of an assignment again from the secret and compares them.
///
/// # Errors
/// The file cannot be read, or the seeds differ.
pub fn rebuild(library: &Library, args: &RebuildArgs) -> Result<(), String> {
    let (secret, invented) = secret(args.secret.as_deref(), args.secret_file.as_deref())?;
    if invented {
        return Err("say the class secret with --secret or --secret-file".to_owned());
    }
    let there = read(&args.assignment)?;
    let people: Vec<Person> = there
        .learners
        .iter()
        .map(|l| Person {
            id: l.id.clone(),
            name: l.name.clone(),
        })
        .collect();
    // With one learner there is no telling; both ways give seeds that can be compared.
    let same = there
        .learners
        .windows(2)
        .all(|pair| pair[0].seeds == pair[1].seeds)
        && there.learners.len() > 1;
    let made = fill(library, &secret, there.terms.clone(), &people, same)?;
    let differ: Vec<&str> = there
        .learners
        .iter()
        .zip(&made.learners)
        .filter(|(a, b)| a.seeds != b.seeds)
        .map(|(a, _)| a.id.as_str())
        .collect();
    if args.json {
        tell!(
            "{}",
            json!({ "learners": people.len(), "seeds_differ": differ })
        );
    } else {
        tell!(
            "{} learners, {} with other seeds",
            people.len(),
            differ.len()
        );
        for id in &differ {
            tell!("{id}");
        }
    }
    if differ.is_empty() {
        return Ok(());
    }
    Err(
        "The seeds are not those of this secret, this order of learners and these scenarios."
            .into(),
    )
}

/// Reads an assignment file.
///
/// # Errors
/// It cannot be read or is none.
pub fn read(path: &Path) -> Result<Assignment, String> {
    use std::io::Read;
    let named = path.display();
    let most = tracebay_grading::assign::MAX_BYTES as u64;
    let mut bytes = Vec::new();
    fs::File::open(path)
        .and_then(|file| file.take(most + 1).read_to_end(&mut bytes))
        .map_err(|error| format!("{named}: {error}"))?;
    Assignment::read(&bytes).map_err(|error| format!("{named}: {error}"))
}

/// The secret asked for, or a new one.
fn secret(typed: Option<&str>, file: Option<&Path>) -> Result<(String, bool), String> {
    let told = match (typed, file) {
        (Some(typed), _) => typed.to_owned(),
        (None, Some(path)) => fs::read_to_string(path)
            .map_err(|error| crate::library::file_error(path, &error))?
            .trim()
            .to_owned(),
        (None, None) => {
            // The standard library keys each of these from the system's random numbers.
            let word = || RandomState::new().build_hasher().finish();
            return Ok((format!("{:016x}{:016x}", word(), word()), true));
        }
    };
    if told.chars().count() < MIN_SECRET || told.chars().any(char::is_control) {
        return Err(format!(
            "a class secret is one line of at least {MIN_SECRET} characters"
        ));
    }
    Ok((told, false))
}

/// A file name for a learner's own file that leads nowhere whatever the id is.
fn own_name(index: usize, id: &str) -> String {
    let safe: String = id
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .take(40)
        .collect();
    format!("{:04}-{safe}.assignment.json", index + 1)
}

/// Writes a file that must not be there yet: seeds given out must not be lost by a slip.
fn write_new(path: &Path, text: &str) -> Result<(), String> {
    use std::io::Write;
    let mut file = fs::OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)
        .map_err(|error| match error.kind() {
            std::io::ErrorKind::AlreadyExists => {
                format!("{}: is there already; move it away first", path.display())
            }
            _ => crate::library::file_error(path, &error),
        })?;
    file.write_all(text.as_bytes())
        .map_err(|error| crate::library::file_error(path, &error))
}
