//! The one place where the grader is asked while somebody works: for hints, and for the score and
//! the walk-back once the car is back.

use std::cell::OnceCell;

use serde_json::json;
use tracebay_core::session::Action;
use tracebay_grading::hint::hint as ask;
use tracebay_grading::scorecard::{Scorecard, score};
use tracebay_grading::survey::Survey;
use tracebay_shelf::Shown;

use crate::desk::Desk;
use crate::grading::{self, Terms};
use crate::info;
use crate::reply::Reply;

/// What the grader worked out, kept so that it is worked out once.
#[derive(Default)]
pub struct Kept {
    survey: OnceCell<Survey>,
    card: OnceCell<Scorecard>,
}

fn terms(desk: &Desk) -> Result<Terms, String> {
    if let Some(assigned) = &desk.assigned {
        return grading::terms_of(&desk.data, assigned);
    }
    // What stands in an attempt's header is a name, never a path to be opened.
    let named = &desk.work.recorder().header().rules;
    let known = desk.data.file(&grading::rubric_file(named)).is_some();
    let rubric = if known { named } else { grading::USUAL };
    grading::terms(&desk.words, &desk.data, rubric)
}

fn survey(desk: &Desk) -> Result<&Survey, String> {
    if let Some(survey) = desk.judged.survey.get() {
        return Ok(survey);
    }
    let made = tracebay_shelf::survey(desk.work.session().case()).map_err(|e| e.to_string())?;
    Ok(desk.judged.survey.get_or_init(|| made))
}

fn actions(desk: &Desk) -> Vec<Action> {
    let log = desk.work.session().log().iter();
    log.map(|(action, _)| action.clone()).collect()
}

fn card<'a>(desk: &'a Desk, terms: &Terms) -> Result<&'a Scorecard, String> {
    if let Some(card) = desk.judged.card.get() {
        return Ok(card);
    }
    let made = score(
        desk.work.session().case(),
        survey(desk)?,
        &actions(desk),
        &terms.rubric,
        &terms.rules,
    )
    .map_err(|e| e.to_string())?;
    Ok(desk.judged.card.get_or_init(|| made))
}

fn trouble(desk: &Desk, why: String) -> Vec<Reply> {
    let text = desk.words.get("say-no-score", &[("why", why.into())]);
    vec![Reply::Trouble(text)]
}

/// What each hint costs.
pub fn hint_prices(desk: &Desk) -> Reply {
    let terms = match terms(desk) {
        Ok(terms) => terms,
        Err(why) => return Reply::Trouble(why),
    };
    let words = &desk.words;
    let prices = [1, 2, 3].map(|level| terms.rubric.hints.price(level));
    let lines = prices.iter().enumerate().map(|(i, price)| {
        let args = [
            ("level", (i + 1).to_string().into()),
            ("price", words.number(*price, 0).into()),
        ];
        words.get("score-hint-price", &args)
    });
    Reply::Info("hint-prices", lines.collect(), json!(prices))
}

/// What the grader says to a request for a hint.
pub fn hint(desk: &Desk, shown: &Shown) -> Vec<Reply> {
    let Action::Hint(level) = shown.action else {
        return Vec::new();
    };
    let case = desk.work.session().case();
    let found = survey(desk).and_then(|survey| {
        ask(case, survey, &actions(desk), level).map_err(|error| error.to_string())
    });
    match found {
        Ok(hint) => {
            let line = desk.words.hint(case, &hint);
            vec![Reply::Info("hint", vec![line], json!(hint))]
        }
        Err(why) => trouble(desk, why),
    }
}

/// The attempt again, step by step, once the car was given back.
pub fn walk_back(desk: &Desk) -> Vec<Reply> {
    let words = &desk.words;
    if !desk.work.session().handed_back() {
        let line = words.text("say-walkback-later");
        return vec![info::one("walkback", line)];
    }
    let told = terms(desk).and_then(|terms| {
        let case = desk.work.session().case();
        let card = card(desk, &terms)?;
        let walk = words.walk_back(case, survey(desk)?, card);
        let best = words.best_route(case, survey(desk)?, card);
        let lines = walk
            .iter()
            .flat_map(|step| step.lines(words))
            .chain(best)
            .collect();
        Ok(Reply::Info("walkback", lines, json!(card.judged)))
    });
    match told {
        Ok(reply) => vec![reply],
        Err(why) => trouble(desk, why),
    }
}

/// What there is to say once the car was given back: what had been wrong, whether it was put
/// right, and the score.
pub fn after_handback(desk: &Desk) -> Vec<Reply> {
    let words = &desk.words;
    let session = desk.work.session();
    let case = session.case();
    let vehicle = desk.vehicle();
    let mut lines = Vec::new();
    let mut faults = Vec::new();
    for fault in case.culprit().iter().flat_map(|culprit| &culprit.faults) {
        let failure = fault.what.failure();
        let name = words.name(vehicle, &fault.at);
        // The label alone does not tell two wires or plugs of a kind apart.
        let target = match fault.at.as_str() {
            id if id == "refrigerant" || name.contains(id) => name,
            id => format!("{name} ({id})"),
        };
        let args = [
            ("target", target.into()),
            ("failure", words.failure(vehicle, &fault.at, failure).into()),
        ];
        lines.push(words.get("say-it-was", &args));
        faults.push(json!({ "at": fault.at, "failure": failure }));
    }
    let still_wrong = session.still_wrong();
    lines.push(words.text(if still_wrong == 0 {
        "say-put-right"
    } else {
        "say-still-wrong"
    }));
    let blown = session.blown_in_place();
    for fuse in &blown {
        let args = [("part", words.name(vehicle, fuse).into())];
        lines.push(words.get("say-blown-left", &args));
    }
    let args = [
        ("minutes", words.minutes(session.minutes()).into()),
        ("budget", words.minutes(case.scenario.budget_minutes).into()),
    ];
    lines.push(words.get("say-minutes", &args));
    let data = json!({
        "faults": faults,
        "still_wrong": still_wrong,
        "blown_in_place": blown,
        "minutes": session.minutes(),
    });
    let mut replies = vec![Reply::Info("debrief", lines, data)];
    let told = terms(desk).and_then(|terms| {
        let card = card(desk, &terms)?;
        let mut lines = words.scorecard(case, &terms.rules, card);
        lines.push(words.text("say-walkback-how"));
        Ok(Reply::Info("scorecard", lines, json!(card)))
    });
    match told {
        Ok(reply) => replies.push(reply),
        Err(why) => replies.extend(trouble(desk, why)),
    }
    replies
}
