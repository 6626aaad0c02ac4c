//! Lines in, answers out, until there is nothing more to do.

use std::process::ExitCode;

use tracebay_core::session::Action;
use tracebay_shelf::read_source;

use crate::cli::How;
use crate::desk::{Desk, Outcome};
use crate::input::{Completions, Input};
use crate::opening::Opened;
use crate::reply::{Out, Reply};
use crate::{WRONG_INPUT, errors};

/// Works until the person leaves or the script ends.
pub fn work(opened: Opened, how: &How) -> Result<ExitCode, String> {
    let Opened { mut desk, first } = opened;
    let mut out = Out::new(how.json);
    for reply in &first {
        answer(&desk, &mut out, reply);
    }
    match &how.script {
        Some(path) if path.as_os_str() != "-" => {
            let file = read_source(path).map_err(|error| errors::shelf(&desk.words, &error))?;
            let mut lines = file.text.lines();
            script(&mut desk, &mut out, how, || lines.next().map(str::to_owned))
        }
        Some(_) => {
            let mut input = Input::Plain { prompt: false };
            script(&mut desk, &mut out, how, || {
                input.line("", Completions::default())
            })
        }
        None => {
            person(&mut desk, &mut out, how);
            Ok(ExitCode::SUCCESS)
        }
    }
}

fn script(
    desk: &mut Desk,
    out: &mut Out,
    how: &How,
    mut next: impl FnMut() -> Option<String>,
) -> Result<ExitCode, String> {
    let mut number = 0;
    let mut failed = false;
    while let Some(line) = next() {
        number += 1;
        if !line.trim().is_empty() {
            // The command stands above its answer, so that what comes out can be read alone.
            out.say(&format!("> {}", line.trim()));
        }
        let mut outcome = desk.run(&line);
        if outcome.ask_handback {
            // Nobody is there to be asked.
            outcome.failed = true;
            let mistake = crate::command::Mistake::Usage(crate::command::Verb::Handback);
            outcome.replies.push(Reply::Mistake(desk.mistake(&mistake)));
        }
        for reply in &outcome.replies {
            answer(desk, out, reply);
        }
        if outcome.failed {
            failed = true;
            eprintln!("{}", stopped(desk, number, &outcome));
            if !how.keep_going {
                break;
            }
        }
        if outcome.refused && how.stop_on_refusal {
            let args = [("line", number.to_string().into())];
            eprintln!("{}", desk.words.get("say-script-refused", &args));
            failed = true;
            break;
        }
        if outcome.leave || out.closed() {
            break;
        }
    }
    Ok(if failed {
        ExitCode::from(WRONG_INPUT)
    } else {
        ExitCode::SUCCESS
    })
}

fn stopped(desk: &Desk, number: u32, outcome: &Outcome) -> String {
    let why = outcome.replies.iter().find_map(|reply| match reply {
        Reply::Mistake(text) | Reply::Trouble(text) => Some(text.clone()),
        _ => None,
    });
    let args = [
        ("line", number.to_string().into()),
        ("why", why.unwrap_or_default().into()),
    ];
    desk.words.get("say-script-stopped", &args)
}

fn person(desk: &mut Desk, out: &mut Out, how: &How) {
    let mut input = Input::new(how.plain || how.json);
    while let Some(line) = input.line(&desk.prompt(), desk.completions()) {
        let mut outcome = desk.run(&line);
        if outcome.ask_handback {
            match ask_handback(desk, &mut input) {
                Some(action) => outcome = desk.perform(action),
                None => break,
            }
        }
        for reply in &outcome.replies {
            answer(desk, out, reply);
        }
        if outcome.leave || out.closed() {
            break;
        }
    }
    let words = &desk.words;
    match desk.work.kept_in() {
        Some(_) if desk.work.session().handed_back() => {}
        Some(path) => out.say(&words.get("say-goodbye", &[("path", path.into())])),
        None => out.say(&words.text("say-goodbye-unsaved")),
    }
}

fn ask_handback(desk: &Desk, input: &mut Input) -> Option<Action> {
    let mut ask = |key: &str| {
        let prompt = format!("{} ", desk.words.text(key));
        input.line(&prompt, Completions::default())
    };
    Some(Action::HandBack {
        complaint: ask("say-ask-complaint")?,
        cause: ask("say-ask-cause")?,
        correction: ask("say-ask-correction")?,
    })
}

fn answer(desk: &Desk, out: &mut Out, reply: &Reply) {
    out.reply(&desk.words, desk.vehicle(), reply);
}
