//! The class's page: overview, what needs a look, item analysis.

use maud::{Markup, html};
use tracebay_grading::assign::Counts;
use tracebay_words::Words;

use super::{
    flag_sign, gravity_sign, invented, or_dash, page, page_name, part_name, percent, plots,
    poor_name, say, tenths,
};
use crate::classbook::{AttemptResult, Classbook};
use crate::flags::{Flag, Gravity};
use crate::items::{Item, mean};

/// The class's page. Learners' pages lie in the folder `learners` beside it.
pub fn class_page(words: &Words, book: &Classbook) -> String {
    let t = |key| words.text(key);
    let version = book.rubric.version.to_string();
    let body = html! {
        h1 { (book.title) }
        p class="under" {
            (say(words, "report-class-under", &[
                ("assignment", &book.assignment), ("rubric", &words.rubric_title(&book.rubric.title)),
                ("id", &book.rubric.id), ("version", &version),
            ]))
            @if let Some(due) = &book.due { " · " (say(words, "report-class-due", &[("due", due)])) }
        }
        nav class="screen" {
            a href="#class" { (t("report-nav-class")) } a href="#look" { (t("report-nav-look")) }
            a href="side-by-side.html" { (t("report-nav-side")) }
            a href="#tasks" { (t("report-nav-tasks")) } a href="#files" { (t("report-nav-files")) }
            a href="#how" { (t("report-nav-how")) }
        }
        (figures(words, book))
        (class_table(words, book))
        (to_look_at(words, book))
        @for item in &book.items { (item_section(words, book, item)) }
        (files(words, book))
        (how(words, book))
    };
    page(
        words,
        &say(words, "report-class-title", &[("title", &book.title)]),
        &body,
    )
}

fn figures(words: &Words, book: &Classbook) -> Markup {
    let t = |key| words.text(key);
    let all: Vec<f64> = book.learners.iter().map(|l| l.points).collect();
    let handed_in = book
        .learners
        .iter()
        .filter(|l| l.tasks.iter().any(|t| !t.missing))
        .count();
    let passed_all = book
        .learners
        .iter()
        .filter(|l| l.passed == l.tasks.len())
        .count();
    let looked = book
        .attempts
        .iter()
        .filter(|a| a.assigned && a.gravity().is_some_and(|g| g >= Gravity::Look))
        .count();
    html! {
        div class="figures" {
            div { b { (book.learners.len()) } span { (t("report-figure-learners")) } }
            div { b { (handed_in) } span { (t("report-figure-handed-in")) } }
            div { b { (passed_all) } span { (t("report-figure-passed-all")) } }
            div { b { (or_dash(words, mean(&all), 1)) } span { (t("report-figure-mean")) } }
            div { b { (looked) } span { (t("report-figure-look")) } }
        }
        (plots::histogram(words, &all, book.rubric.pass_mark))
    }
}

fn class_table(words: &Words, book: &Classbook) -> Markup {
    let t = |key| words.text(key);
    html! {
        h2 id="class" { (t("report-nav-class")) }
        table {
            thead { tr {
                th { (t("report-column-learner")) } th { (t("report-column-id")) }
                @for task in &book.tasks { th class="n" { (task.title) } }
                th class="n" { (t("report-column-mean")) } th { (t("report-column-flags")) }
            } }
            tbody {
                @for (i, learner) in book.learners.iter().enumerate() {
                    tr {
                        td { a href={ "learners/" (page_name(i)) } { (learner.name) } }
                        td class="id" { (learner.id) }
                        @for task in &learner.tasks {
                            td class="n" {
                                @match task.points {
                                    None => span class="fail" { (t("report-missing")) },
                                    Some(p) => {
                                        span class=(if task.passed { "ok" } else { "fail" }) {
                                            (tenths(words, p)) @if task.passed { " ✓" } @else { " ✕" }
                                        }
                                        @if task.correction.is_some() {
                                            @let computed = or_dash(words, task.computed, 1);
                                            " " span class="soft" { (say(words, "report-computed", &[("points", &computed)])) }
                                        }
                                    }
                                }
                            }
                        }
                        td class="n" { (tenths(words, learner.points)) }
                        td { @for flag in flags_of(book, i) { (flag_sign(words, flag)) } }
                    }
                }
            }
        }
    }
}

/// The different flags of a learner's attempts.
fn flags_of(book: &Classbook, learner: usize) -> Vec<&Flag> {
    let mut flags: Vec<&Flag> = Vec::new();
    let own = book
        .attempts
        .iter()
        .filter(|a| a.learner == Some(learner) && a.assigned);
    for flag in own.flat_map(|a| &a.flags) {
        if !flags.iter().any(|f| f.name() == flag.name()) {
            flags.push(flag);
        }
    }
    flags
}

fn missing_work(words: &Words, book: &Classbook) -> Vec<String> {
    book.learners
        .iter()
        .flat_map(|l| {
            l.tasks
                .iter()
                .zip(&book.tasks)
                .filter(|(t, _)| t.missing)
                .map(|(t, task)| {
                    let key = if t.attempts.is_empty() {
                        "report-missing-row"
                    } else {
                        "report-missing-but-handed-in"
                    };
                    let args = [
                        ("name", l.name.as_str()),
                        ("id", l.id.as_str()),
                        ("task", task.title.as_str()),
                    ];
                    say(words, key, &args)
                })
        })
        .collect()
}

fn to_look_at(words: &Words, book: &Classbook) -> Markup {
    let t = |key| words.text(key);
    let mut rows: Vec<&AttemptResult> = book
        .attempts
        .iter()
        .filter(|a| a.assigned && a.gravity().is_some_and(|g| g >= Gravity::Look))
        .collect();
    rows.sort_by_key(|a| std::cmp::Reverse(a.gravity()));
    let missing = missing_work(words, book);
    let count = missing.len().to_string();
    html! {
        h2 id="look" { (t("report-nav-look")) }
        @if rows.is_empty() && missing.is_empty() { p { (t("report-nothing")) } }
        @if !rows.is_empty() {
            table {
                thead { tr {
                    th { "" } th { (t("report-column-whose")) } th { (t("report-column-task")) }
                    th { (t("report-column-what")) } th { (t("report-column-file")) }
                } }
                tbody { @for a in rows { (look_row(words, book, a)) } }
            }
            p class="soft" { (t("report-gravity")) }
        }
        @if !missing.is_empty() {
            h3 { (say(words, "report-missing-work", &[("count", &count)])) }
            ul class="said" { @for text in &missing { li { (text) } } }
        }
        @if !book.stray_corrections.is_empty() {
            h3 { (t("report-stray")) }
            ul class="said" { @for text in &book.stray_corrections { li { (text) } } }
        }
    }
}

fn look_row(words: &Words, book: &Classbook, a: &AttemptResult) -> Markup {
    let who = match a.learner {
        Some(l) => book.learners[l].name.clone(),
        None => a
            .learner_id
            .clone()
            .unwrap_or_else(|| words.text("report-nobody-named")),
    };
    let sign = a.gravity().map_or("", |g| gravity_sign(g).1);
    html! {
        tr {
            td { (sign) }
            td { (who) }
            td { (a.scenario) }
            td {
                @for f in a.flags.iter().filter(|f| f.gravity() >= Gravity::Look) {
                    (f.sentence(words)) " "
                }
            }
            td class="file" { (a.file) }
        }
    }
}

fn item_section(words: &Words, book: &Classbook, item: &Item) -> Markup {
    let t = |key| words.text(key);
    let task = &book.tasks[item.task];
    let names: Vec<String> = book
        .attempts
        .iter()
        .find_map(|a| a.scored.as_ref())
        .map(|s| s.parts.iter().map(|p| part_name(words, p.part)).collect())
        .unwrap_or_default();
    let parts: Vec<(&str, f64)> = names
        .iter()
        .map(String::as_str)
        .zip(item.parts.iter().copied())
        .collect();
    let version = task.version.to_string();
    html! {
        section class="page" {
            h2 id=(if item.task == 0 { "tasks" } else { "" }) { (task.title) }
            p class="under" {
                (say(words, "report-task-under", &[
                    ("scenario", &task.scenario), ("version", &version), ("topic", &task.topic),
                ]))
            }
            @if item.learners == 0 {
                p { (t("report-task-nobody")) }
            } @else {
                div class="figures" {
                    div { b { (item.learners) } span { (t("report-figure-learners")) } }
                    div { b { (or_dash(words, item.mean_points, 1)) } span { (t("report-figure-mean-points")) } }
                    div { b { (item.difficulty.map_or("–".to_owned(), |d| percent(words, d))) } span { (t("report-figure-difficulty")) } }
                    div { b { (or_dash(words, item.discrimination, 2)) } span { (t("report-figure-discrimination")) } }
                    div { b { (or_dash(words, item.upper_lower, 2)) } span { (t("report-figure-upper-lower")) } }
                }
                (plots::shares(words, &parts, &t("report-shares")))
                (faults(words, item))
                (wasted(words, item))
                (beliefs(words, item))
                @if !item.breaches.is_empty() {
                    h3 { (t("report-safety-broken")) }
                    table {
                        thead { tr { th { (t("report-column-rule")) } th class="n" { (t("report-column-times")) } } }
                        tbody { @for (says, n) in &item.breaches { tr { td { (says) } td class="n" { (n) } } } }
                    }
                }
            }
        }
    }
}

fn faults(words: &Words, item: &Item) -> Markup {
    let t = |key| words.text(key);
    html! {
        h3 { (t("report-faults")) }
        table {
            thead { tr {
                th { (t("report-column-it-was")) } th class="n" { (t("report-column-learners")) }
                th class="n" { (t("report-column-found")) } th class="n" { (t("report-column-proven")) }
                th class="n" { (t("report-column-missed")) } th class="n" { (t("report-column-mean-points")) }
            } }
            tbody { @for row in &item.faults {
                tr {
                    td { (row.fault) } td class="n" { (row.learners) } td class="n" { (row.found) }
                    td class="n" { (row.proven) } td class="n" { (row.learners - row.found) }
                    td class="n" { (tenths(words, row.mean_points)) }
                }
            } }
        }
    }
}

fn wasted(words: &Words, item: &Item) -> Markup {
    let t = |key| words.text(key);
    html! {
        h3 { (t("report-wasted")) }
        @if item.wasted.is_empty() { p { (t("report-none")) } }
        @else {
            table {
                thead { tr {
                    th { (t("report-column-done")) } th { (t("report-column-poor")) }
                    th class="n" { (t("report-column-times")) } th class="n" { (t("report-column-learners")) }
                    th class="n" { (t("report-column-given-away")) }
                } }
                tbody { @for row in &item.wasted {
                    tr {
                        td { (row.action) } td { (poor_name(words, row.kind)) }
                        td class="n" { (row.times) } td class="n" { (row.learners) }
                        td class="n" { (tenths(words, row.minutes)) }
                    }
                } }
            }
        }
    }
}

fn beliefs(words: &Words, item: &Item) -> Markup {
    let t = |key| words.text(key);
    let early = item.called_early.to_string();
    let after = tenths(words, item.after_proof_minutes);
    html! {
        h3 { (t("report-beliefs")) }
        p { (say(words, "report-called-early", &[("count", &early), ("minutes", &after)])) }
        @if !item.wrong_calls.is_empty() {
            table {
                thead { tr {
                    th { (t("report-column-called")) } th { (t("report-column-it-was")) }
                    th class="n" { (t("report-column-times")) } th class="n" { (t("report-column-likely")) }
                } }
                tbody { @for row in &item.wrong_calls {
                    tr {
                        td { (row.called) } td { (row.fault) } td class="n" { (row.times) }
                        td class="n" { (percent(words, row.posterior)) }
                    }
                } }
            }
            p class="soft" { (t("report-likely-note")) }
        }
    }
}

fn files(words: &Words, book: &Classbook) -> Markup {
    let t = |key| words.text(key);
    let practice = book.attempts.iter().filter(|a| !a.assigned).count();
    let count = |n: usize| n.to_string();
    html! {
        section class="page" {
            h2 id="files" { (t("report-nav-files")) }
            p {
                (say(words, "report-files", &[
                    ("attempts", &count(book.attempts.len())), ("practice", &count(practice)),
                    ("others", &count(book.files.len())),
                ]))
            }
            @if !book.files.is_empty() {
                table {
                    thead { tr { th { (t("report-column-file")) } th { (t("report-column-what")) } } }
                    tbody { @for row in &book.files { tr { td class="file" { (row.file) } td { (row.what) } } } }
                }
            }
        }
    }
}

fn how(words: &Words, book: &Classbook) -> Markup {
    let t = |key| words.text(key);
    let counts = match book.counts {
        Counts::Best => "report-how-counts-best",
        Counts::First => "report-how-counts-first",
        Counts::Last => "report-how-counts-last",
    };
    let mark = tenths(words, book.rubric.pass_mark);
    html! {
        h2 id="how" { (t("report-nav-how")) }
        p { (t("report-how-replayed")) }
        p { (say(words, counts, &[("mark", &mark)])) }
        p { (t("report-how-items")) }
        p { (t("report-how-flags")) }
        (invented(words, book))
    }
}
